//! From which coat on something happens, found by halving.

use super::block::{Assessment, Part};
use super::evaporation::{DriesFrom, evaporated};
use super::section::{Section, Slicing};
use super::wall::{Layer, Wall};
use crate::physics::classes::Edition;
use crate::physics::condensation::{Block, assess};

/// From where on a condition holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Onset {
    /// It holds everywhere that was looked at.
    Always,
    /// From this value on.
    At(f64),
    /// It holds nowhere that was looked at.
    Never,
}

/// The value between two others from which on a condition holds, to a part in a million million of the span; the
/// condition must hold on once it holds. `None` if it has no answer.
///
/// ```
/// # use perpend::physics::condensation::{Onset, first_where};
/// // By hand: x² passes 2 at its root.
/// let Some(Onset::At(root)) = first_where((0.0, 2.0), |x| Some(x * x > 2.0)) else { unreachable!() };
/// assert!((root - 2.0_f64.sqrt()).abs() < 1e-9);
/// ```
pub fn first_where((mut low, mut high): (f64, f64), holds: impl Fn(f64) -> Option<bool>) -> Option<Onset> {
    if holds(low)? {
        return Some(Onset::Always);
    }
    if !holds(high)? {
        return Some(Onset::Never);
    }
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        *(if holds(middle)? { &mut high } else { &mut low }) = middle;
    }
    Some(Onset::At(high))
}

/// The thinnest and the tightest film that is looked at, as an equivalent air layer in m.
const FILMS: (f64, f64) = (1e-6, 1500.0);

/// From which equivalent air layer of a film coat on, in m, vapour condenses in the winter of an edition.
/// [`Onset::Always`] where the wall does so without a coat.
///
/// ```
/// # use perpend::physics::classes::Edition;
/// # use perpend::physics::condensation::{
/// #     Capillarity, Layer, Onset, Slicing, Wall, first_coat_that_condenses,
/// # };
/// # use std::num::NonZeroU16;
/// // Published check G35: wall A36 starts to condense at 0.560 m, within 0.003 (winter of 2018, brick in 200 slices).
/// let brick = Layer::of_material(0.36, 0.81, 10.0, Capillarity::Absorbs).unwrap();
/// let plaster = Layer::of_material(0.015, 0.70, 10.0, Capillarity::Absorbs).unwrap();
/// let wall = Wall::new(vec![brick, plaster]).unwrap();
/// let slices = Slicing::ThickInto(NonZeroU16::new(200).unwrap());
/// let onset = first_coat_that_condenses(&wall, Edition::Of2018, slices);
/// assert!(matches!(onset, Some(Onset::At(sd)) if (sd - 0.560).abs() < 0.003));
/// ```
pub fn first_coat_that_condenses(wall: &Wall, edition: Edition, slicing: Slicing) -> Option<Onset> {
    if assess(wall, edition, slicing)?.condensed > 0.0 {
        return Some(Onset::Always);
    }
    first_where(FILMS, |sd| Some(coated(wall, sd, edition, slicing)?.condensed > 0.0))
}

/// From which equivalent air layer of a film coat on, in m, more condenses in the winter of an edition than its summer
/// can dry, reckoned in one way throughout.
///
/// ```
/// # use perpend::physics::classes::Edition;
/// # use perpend::physics::condensation::{
/// #     Capillarity, DriesFrom, Layer, Onset, Slicing, Wall, first_coat_that_never_dries,
/// # };
/// // Published check G39: 10.74 m for wall A36 in the climate of 2018, within 0.02.
/// let brick = Layer::of_material(0.36, 0.81, 10.0, Capillarity::Absorbs).unwrap();
/// let plaster = Layer::of_material(0.015, 0.70, 10.0, Capillarity::Absorbs).unwrap();
/// let wall = Wall::new(vec![brick, plaster]).unwrap();
/// let onset =
///     first_coat_that_never_dries(&wall, Edition::Of2018, Slicing::Interfaces, DriesFrom::BothEdges);
/// assert!(matches!(onset, Some(Onset::At(sd)) if (sd - 10.74).abs() < 0.02));
/// ```
pub fn first_coat_that_never_dries(
    wall: &Wall,
    edition: Edition,
    slicing: Slicing,
    drying: DriesFrom,
) -> Option<Onset> {
    let block = Block::of(edition)?;
    let plane = block.plane(Part::Wall)?;
    first_where(FILMS, |sd| {
        let coat = wall.with_coat(Layer::film(sd)?)?;
        let assessed = assess(&coat, edition, slicing)?;
        let whole = Section::cut(&coat, block.surfaces, slicing).sd();
        let places = drying.places(&assessed.condensates);
        let dries = places.and_then(|places| evaporated(plane, places, whole));
        Some(assessed.condensed > dries.map_or(0.0, |dried| dried.whole()))
    })
}

fn coated(wall: &Wall, sd: f64, edition: Edition, slicing: Slicing) -> Option<Assessment> {
    assess(&wall.with_coat(Layer::film(sd)?)?, edition, slicing)
}
