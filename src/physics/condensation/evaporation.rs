//! How much of the condensate a summer can take away.

use super::AIR;
use super::found::Condensate;

/// From where condensate is reckoned to dry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DriesFrom {
    /// Both ways from the outermost plane.
    OuterPlane,
    /// Both ways from the middle of all that condenses.
    Centre,
    /// Outward from the outermost plane and inward from the innermost.
    BothEdges,
}

impl DriesFrom {
    /// What DIN 4108-3 asks: from the plane, of two planes from both, of a zone from its middle. From memory. Where
    /// more than two condense, from the middle, which is the more cautious.
    pub fn usual(found: &[Condensate]) -> Self {
        match found {
            [one, two] if !one.is_zone() && !two.is_zone() => Self::BothEdges,
            _ => Self::Centre,
        }
    }

    /// The equivalent air layers, in m, outside of the places from which it dries outward and inward. `None` where
    /// nothing condenses.
    pub fn places(self, found: &[Condensate]) -> Option<(f64, f64)> {
        let (outer, inner) = (found.first()?.outer, found.last()?.inner);
        let middle = f64::midpoint(outer, inner);
        Some(match self {
            Self::OuterPlane => (outer, outer),
            Self::Centre => (middle, middle),
            Self::BothEdges => (outer, inner),
        })
    }
}

/// A wet plane in summer, and the air it dries into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Pressure at the plane, in Pa.
    pub pressure: f64,
    /// Pressure outside, in Pa.
    pub outside: f64,
    /// Pressure inside, in Pa.
    pub inside: f64,
    /// How long, in s.
    pub seconds: f64,
}

/// What dries off, in kg/m².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporated {
    /// To the outside.
    pub outward: f64,
    /// To the inside.
    pub inward: f64,
}

impl Evaporated {
    /// Both ways together, in kg/m².
    pub fn whole(&self) -> f64 {
        self.outward + self.inward
    }
}

/// `Mev = δ0 t [(pc - pi) / (ST - Si) + (pc - pe) / So]`, in kg/m²: dries outward from behind `So` and inward from behind
/// `Si`, in a wall of `ST`, all in m. `None` where a place is not within the wall. Source: DIN 4108-3, ISO 13788.
///
/// ```
/// # use perpend::physics::condensation::{Plane, evaporated};
/// // Published check G14: wall A36 with a coat of 0.9 m dries 1071.4 g/m², 207.4 of it inward, within 0.2.
/// let summer = Plane { pressure: 1700.0, outside: 1200.0, inside: 1200.0, seconds: 7_776_000.0 };
/// let dried = evaporated(summer, (0.9, 0.9), 4.65).unwrap();
/// assert!((dried.whole() * 1000.0 - 1071.4).abs() < 0.2);
/// assert!((dried.inward * 1000.0 - 207.4).abs() < 0.2);
/// ```
pub fn evaporated(plane: Plane, (outer, inner): (f64, f64), whole: f64) -> Option<Evaporated> {
    let within = outer > 0.0 && inner >= outer && whole > inner;
    let dries = |difference: f64, sd: f64| AIR * difference / sd * plane.seconds;
    within
        .then(|| Evaporated {
            outward: dries(plane.pressure - plane.outside, outer),
            inward: dries(plane.pressure - plane.inside, whole - inner),
        })
        .filter(|dried| dried.whole().is_finite())
}
