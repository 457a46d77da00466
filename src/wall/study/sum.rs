//! Sums of condensation: each way to reckon, on one wall, and on every corner of a ranged one with a coat on.

use super::corner::{Corner, Ends, Side};
use crate::physics::classes::Edition;
use crate::physics::condensation::{
    Assessment, Capillarity, Month, Section, Slicing, Surface, Surfaces, Wall, Winter, Yearly,
};

/// A way to reckon, with all that it needs.
#[derive(Debug, Clone, Copy)]
pub(in crate::wall) enum Way<'a> {
    /// One winter and one summer of DIN 4108-3.
    Block(Edition),
    /// ISO 13788, month by month.
    Year(&'a [Month]),
}

/// What one sum finds on one wall, in kg/m².
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::wall) struct Mass {
    /// In the winter, or the most at the end of a month.
    pub(in crate::wall) condensed: f64,
    /// What does not dry off within the year.
    pub(in crate::wall) left: f64,
    /// In planes that border on what draws in no water; of a year it is not told.
    pub(in crate::wall) at_film: f64,
    /// The most that may condense, where the way names it.
    pub(in crate::wall) limit: Option<f64>,
}

/// A wall ready to be reckoned one way, with coats on it or without.
#[derive(Debug, Clone)]
enum Ready {
    Winter(Winter),
    Year(Yearly),
}

impl Ready {
    fn of(wall: &Wall, way: Way<'_>, slicing: Slicing) -> Option<Self> {
        Some(match way {
            Way::Block(edition) => Self::Winter(Winter::of(wall, edition, slicing)?),
            Way::Year(months) => {
                Self::Year(Yearly::of(&Section::cut(wall, Surfaces::SHELTERED, slicing), months))
            }
        })
    }

    fn behind(&self, sd: f64, capillarity: Capillarity) -> Option<Self> {
        Some(match self {
            Self::Winter(winter) => Self::Winter(winter.behind_film(sd, capillarity)?),
            Self::Year(year) => Self::Year(year.behind_film(sd)?),
        })
    }

    fn mass(&self) -> Option<Mass> {
        match self {
            Self::Winter(winter) => block(&winter.assess()?),
            Self::Year(wall) => year(wall),
        }
    }

    /// Whether the room's own air condenses on the inner face: then the sum speaks of the room and its heating, and a
    /// coat outside, which holds no heat, changes nothing of it.
    fn inner_face(&self) -> Surface {
        match self {
            Self::Winter(winter) => winter.inner_face(),
            Self::Year(year) => year.inner_face(),
        }
    }
}

fn year(wall: &Yearly) -> Option<Mass> {
    let year = wall.balance();
    let condensed = year.peak().map_or(0.0, |peak| peak.condensate);
    sound(Mass { condensed, left: year.left(), at_film: 0.0, limit: None })
}

fn block(assessed: &Assessment) -> Option<Mass> {
    let dries = match (&assessed.evaporated, assessed.condensed > 0.0) {
        (Some(dried), _) => dried.whole(),
        (None, false) => 0.0,
        (None, true) => return None,
    };
    let all: f64 = assessed.condensates.iter().map(|one| one.rate).sum();
    let films = assessed.condensates.iter().filter(|one| one.capillarity == Capillarity::Repels);
    let share = if all > 0.0 { films.map(|one| one.rate).sum::<f64>() / all } else { 0.0 };
    sound(Mass {
        condensed: assessed.condensed,
        left: (assessed.condensed - dries).max(0.0),
        at_film: assessed.condensed * share,
        limit: Some(assessed.limit),
    })
}

/// A sum of this kind is no finer than a gram.
fn sound(mass: Mass) -> Option<Mass> {
    let grams = |kilograms: f64| (kilograms * 1000.0).round() / 1000.0;
    let rounded = Mass {
        condensed: grams(mass.condensed),
        left: grams(mass.left),
        at_film: grams(mass.at_film),
        limit: mass.limit,
    };
    [rounded.condensed, rounded.left, rounded.at_film].iter().all(|mass| mass.is_finite()).then_some(rounded)
}

/// A coat to be put on: its equivalent air layer in m, and whether it draws in water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::wall) struct Coat {
    pub(in crate::wall) sd: Ends,
    pub(in crate::wall) capillarity: Capillarity,
}

/// What one corner makes of a coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::wall) struct Coated {
    pub(in crate::wall) spread: Side,
    pub(in crate::wall) doubt: usize,
    /// Without the coat.
    pub(in crate::wall) bare: Mass,
    /// With it.
    pub(in crate::wall) with: Mass,
}

impl Coated {
    /// What the coat adds, in kg/m².
    pub(in crate::wall) fn increment(&self) -> f64 {
        (self.with.condensed - self.bare.condensed).max(0.0)
    }
}

/// The corners that a way can speak of, each with what condenses in it without a coat.
#[derive(Debug, Clone)]
pub(in crate::wall) struct Bare<'c> {
    pub(in crate::wall) corners: Vec<BareCorner<'c>>,
    /// How many were left out, for their inner face is wet by itself.
    pub(in crate::wall) left_out: usize,
}

/// One of them.
#[derive(Debug, Clone)]
pub(in crate::wall) struct BareCorner<'c> {
    pub(in crate::wall) corner: &'c Corner,
    pub(in crate::wall) mass: Mass,
    ready: Ready,
}

/// Reckons the walls of all corners once, before any coat.
pub(in crate::wall) fn bare<'c>(corners: &'c [Corner], way: Way<'_>, slicing: Slicing) -> Option<Bare<'c>> {
    let mut found = Bare { corners: Vec::new(), left_out: 0 };
    for corner in corners {
        let ready = Ready::of(&corner.wall, way, slicing)?;
        match ready.inner_face() {
            Surface::Wet => found.left_out += 1,
            Surface::Dry => found.corners.push(BareCorner { corner, mass: ready.mass()?, ready }),
        }
    }
    Some(found)
}

impl Bare<'_> {
    /// Every corner with a coat on: at its tight end where the spread is adverse, at its open end where it is benign.
    pub(in crate::wall) fn coated(&self, coat: Coat) -> Option<Vec<Coated>> {
        let each = self.corners.iter().map(|bare| {
            let Corner { spread, doubt, .. } = bare.corner;
            let sd = if *spread == Side::Adverse { coat.sd.1 } else { coat.sd.0 };
            let with = bare.ready.behind(sd, coat.capillarity)?.mass()?;
            Some(Coated { spread: *spread, doubt: *doubt, bare: bare.mass, with })
        });
        each.collect()
    }
}
