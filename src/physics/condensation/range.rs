//! Condensation of a wall whose figures are known only between two ends. Thickness moves both the temperature and the
//! air layer of its layer, so that the rate rises and falls along it: ends alone would not hold what lies between.
//!
//! The taut string is not drawn for this. Its steepest start inside and its gentlest end outside give the same sum:
//! `g = δ0 (max_k (pi - pk) / (ST - Sk) - min_k (pk - pe) / Sk)`, over the stations between the faces and the other end.

use std::num::NonZeroU16;

use super::AIR;
use super::wall::{Air, Surfaces};
use crate::physics::bounds::Bounds;
use crate::physics::saturation::Saturation;

/// A layer whose figures are known only between two ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RangedLayer {
    /// In m; of a film, its equivalent air layer.
    thickness: Bounds,
    /// In W/(m·K); of a film, none.
    conductivity: Option<Bounds>,
    mu: Bounds,
}

impl RangedLayer {
    /// A layer of a thickness in m, a conductivity in W/(m·K) and a µ, with the ranges of
    /// [`Layer::of_material`](super::Layer::of_material).
    pub fn of_material(thickness: Bounds, conductivity: Bounds, mu: Bounds) -> Option<Self> {
        let sound = thickness.low() > 0.0 && conductivity.low() > 0.0 && mu.low() >= 1.0;
        let held = thickness.high() / conductivity.low() <= 1000.0
            && mu.high() * thickness.high() <= 1e5
            && mu.low() * thickness.low() >= 1e-6;
        (sound && held).then_some(Self { thickness, conductivity: Some(conductivity), mu })
    }

    /// A film of an equivalent air layer in m, from 1e-6 to 100 000, without thermal resistance.
    pub fn film(sd: Bounds) -> Option<Self> {
        let sound = sd.low() >= 1e-6 && sd.high() <= 1e5;
        sound.then_some(Self { thickness: sd, conductivity: None, mu: Bounds::exactly(1.0)? })
    }

    fn sd(&self) -> Bounds {
        if self.conductivity.is_none() { self.thickness } else { self.mu * self.thickness }
    }

    fn resistance(&self) -> Option<Bounds> {
        self.conductivity
            .map_or_else(|| Bounds::exactly(0.0), |conductivity| self.thickness.over(conductivity))
    }

    /// How uncertain it is: the widest of its ranges against its lower end.
    fn spread(&self) -> f64 {
        let of = |bounds: Bounds| bounds.width() / bounds.low();
        of(self.thickness).max(of(self.mu)).max(self.conductivity.map_or(0.0, of))
    }

    /// Two layers that hold this one between them, its widest range halved.
    fn halves(&self) -> (Self, Self) {
        let of = |bounds: Bounds| bounds.width() / bounds.low();
        let (mut one, mut other) = (*self, *self);
        let conductivity = self.conductivity.map_or(0.0, of);
        if of(self.thickness) >= of(self.mu).max(conductivity) {
            (one.thickness, other.thickness) = self.thickness.halves();
        } else if of(self.mu) >= conductivity {
            (one.mu, other.mu) = self.mu.halves();
        } else if let Some((low, high)) = self.conductivity.map(Bounds::halves) {
            (one.conductivity, other.conductivity) = (Some(low), Some(high));
        }
        (one, other)
    }
}

/// The rate in kg/(m²·s) at which vapour condenses within a wall of ranged layers, from outside to inside, between two
/// airs, every layer with a thermal resistance cut into so many parts. The ranges are halved until `pieces` of them
/// were looked at, and all that any piece allows is held: more pieces, narrower bounds, and never too narrow. `None`
/// for no layer.
///
/// ```
/// # use perpend::physics::Bounds;
/// # use perpend::physics::condensation::{Air, RangedLayer, Surfaces, rate_between};
/// # use std::num::NonZeroU16;
/// // Published check G13 within its range: wall A36 with a coat of 0.5 to 3 m holds the 77.06 g/m² of 0.9 m.
/// let exactly = |value| Bounds::exactly(value).unwrap();
/// let brick = RangedLayer::of_material(exactly(0.36), exactly(0.81), exactly(10.0)).unwrap();
/// let plaster = RangedLayer::of_material(exactly(0.015), exactly(0.70), exactly(10.0)).unwrap();
/// let coat = RangedLayer::film(Bounds::between(0.5, 3.0).unwrap()).unwrap();
/// let airs = (Air::new(-5.0, 80.0).unwrap(), Air::new(20.0, 50.0).unwrap());
/// let rate = rate_between(&[coat, brick, plaster], Surfaces::SHELTERED, airs, NonZeroU16::MIN, 64).unwrap();
/// assert!(rate.holds(77.06 / 1000.0 / 7_776_000.0));
/// ```
pub fn rate_between(
    layers: &[RangedLayer],
    surfaces: Surfaces,
    airs: (Air, Air),
    parts: NonZeroU16,
    pieces: usize,
) -> Option<Bounds> {
    let mut open = vec![layers.to_vec()];
    while open.len() < pieces {
        let Some((widest, place)) = widest(&open) else { break };
        let piece = open.swap_remove(widest);
        open.extend(split(&piece, place));
    }
    let rates = open.iter().map(|piece| rate(piece, surfaces, airs, parts));
    rates.reduce(|one, other| Some(one?.with(other?)))?
}

/// The piece with the widest range of all, and the layer that has it; `None` if nothing is uncertain.
fn widest(open: &[Vec<RangedLayer>]) -> Option<(usize, usize)> {
    let spreads = open.iter().enumerate().flat_map(|(piece, layers)| {
        layers.iter().enumerate().map(move |(place, layer)| (layer.spread(), piece, place))
    });
    let most = spreads.reduce(|most, next| if next.0 > most.0 { next } else { most })?;
    (most.0 > 1e-12).then_some((most.1, most.2))
}

fn split(piece: &[RangedLayer], place: usize) -> Vec<Vec<RangedLayer>> {
    let Some((one, other)) = piece.get(place).map(RangedLayer::halves) else { return Vec::new() };
    let with = |half: RangedLayer| {
        let layers = piece.iter().enumerate();
        layers.map(|(at, layer)| if at == place { half } else { *layer }).collect()
    };
    vec![with(one), with(other)]
}

/// A station: what lies outside and inside of it, air layer and thermal resistance.
struct Around {
    sd: (Bounds, Bounds),
    resistance: (Bounds, Bounds),
}

fn rate(
    layers: &[RangedLayer],
    surfaces: Surfaces,
    (outside, inside): (Air, Air),
    parts: NonZeroU16,
) -> Option<Bounds> {
    let stations = stations(layers, surfaces, parts)?;
    let zero = Bounds::exactly(0.0)?;
    let saturation: Vec<Bounds> =
        stations.iter().map(|station| saturation(station, &outside, &inside)).collect::<Option<_>>()?;
    let whole = stations.first()?.sd.1;
    let (pe, pi) = (Bounds::exactly(outside.pressure())?, Bounds::exactly(inside.pressure())?);
    let straight = (pi - pe).over(whole)?;
    let (mut steepest, mut gentlest) = (straight, straight);
    let between = stations.len().saturating_sub(2);
    for (station, pressure) in stations.iter().zip(&saturation).skip(1).take(between) {
        steepest = steepest.larger((pi - *pressure).over(station.sd.1)?);
        gentlest = gentlest.smaller((*pressure - pe).over(station.sd.0)?);
    }
    // The string is convex: what goes in is never less than what goes out.
    Some((Bounds::exactly(AIR)? * (steepest - gentlest)).larger(zero))
}

/// The faces of the wall, the faces of its layers and the cuts within them, from outside to inside.
fn stations(layers: &[RangedLayer], surfaces: Surfaces, parts: NonZeroU16) -> Option<Vec<Around>> {
    let mut cut: Vec<(Bounds, Bounds)> = Vec::new();
    for layer in layers {
        let count = if layer.conductivity.is_some() { parts.get() } else { 1 };
        let part = Bounds::exactly(1.0)?.over(Bounds::exactly(f64::from(count))?)?;
        let piece = (layer.sd() * part, layer.resistance()? * part);
        cut.extend(std::iter::repeat_n(piece, usize::from(count)));
    }
    let outside = sums(surfaces.outside(), cut.iter())?;
    let mut inside = sums(surfaces.inside(), cut.iter().rev())?;
    inside.reverse();
    let around = outside
        .into_iter()
        .zip(inside)
        .map(|(outside, inside)| Around { sd: (outside.0, inside.0), resistance: (outside.1, inside.1) });
    Some(around.collect())
}

/// Air layer and thermal resistance before each piece, and after the last; the resistance from that of a face on.
fn sums<'a>(face: f64, pieces: impl Iterator<Item = &'a (Bounds, Bounds)>) -> Option<Vec<(Bounds, Bounds)>> {
    let mut sum = (Bounds::exactly(0.0)?, Bounds::exactly(face)?);
    let mut sums = vec![sum];
    for piece in pieces {
        sum = (sum.0 + piece.0, sum.1 + piece.1);
        sums.push(sum);
    }
    Some(sums)
}

fn saturation(station: &Around, outside: &Air, inside: &Air) -> Option<Bounds> {
    let (before, behind) = station.resistance;
    let one = Bounds::exactly(1.0)?;
    // The share of the resistance that lies outside, written so that each bound comes in once.
    let share = one.over(one + behind.over(before)?)?;
    let step = Bounds::exactly(inside.celsius())? - Bounds::exactly(outside.celsius())?;
    let celsius = Bounds::exactly(outside.celsius())? + step * share;
    celsius.rising(|t| Saturation::Iso13788.pressure(t))
}
