//! Sums of condensation: each way to reckon, on one wall, and on every corner of a ranged one with a coat on.

use super::corner::{Corner, Ends, Side};
use crate::physics::classes::Edition;
use crate::physics::condensation::{
    Assessment, Block, Capillarity, Layer, Month, Section, Slicing, Surface, Surfaces, Wall, Yearly, assess,
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

/// Reckons one wall.
pub(in crate::wall) fn reckon(wall: &Wall, way: Way<'_>, slicing: Slicing) -> Option<Mass> {
    match way {
        Way::Block(edition) => block(&assess(wall, edition, slicing)?),
        Way::Year(months) => year(&yearly(wall, months, slicing)),
    }
}

fn yearly(wall: &Wall, months: &[Month], slicing: Slicing) -> Yearly {
    Yearly::of(&Section::cut(wall, Surfaces::SHELTERED, slicing), months)
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

/// Whether the room's own air condenses on the inner face of a wall: then the sum speaks of the room and its heating, and
/// a coat outside, which holds no heat, changes nothing of it.
pub(in crate::wall) fn inner_face(wall: &Wall, way: Way<'_>) -> Option<Surface> {
    let face = |surfaces, outside, inside| {
        Section::cut(wall, surfaces, Slicing::Interfaces).between(outside, inside).inside
    };
    match way {
        Way::Block(edition) => {
            let block = Block::of(edition)?;
            Some(face(block.surfaces, &block.outside, &block.inside))
        }
        Way::Year(months) => {
            let mut faces =
                months.iter().map(|month| face(Surfaces::SHELTERED, &month.outside, &month.inside));
            Some(faces.find(|face| *face == Surface::Wet).unwrap_or(Surface::Dry))
        }
    }
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
    /// Its months, where it is reckoned by months.
    yearly: Option<Yearly>,
}

/// Reckons the walls of all corners once, before any coat.
pub(in crate::wall) fn bare<'c>(corners: &'c [Corner], way: Way<'_>, slicing: Slicing) -> Option<Bare<'c>> {
    let mut found = Bare { corners: Vec::new(), left_out: 0 };
    for corner in corners {
        match inner_face(&corner.wall, way)? {
            Surface::Wet => found.left_out += 1,
            Surface::Dry => found.corners.push(bare_corner(corner, way, slicing)?),
        }
    }
    Some(found)
}

fn bare_corner<'c>(corner: &'c Corner, way: Way<'_>, slicing: Slicing) -> Option<BareCorner<'c>> {
    let yearly = match way {
        Way::Block(_) => None,
        Way::Year(months) => Some(yearly(&corner.wall, months, slicing)),
    };
    let mass = match &yearly {
        Some(yearly) => year(yearly),
        None => reckon(&corner.wall, way, slicing),
    };
    Some(BareCorner { corner, mass: mass?, yearly })
}

impl BareCorner<'_> {
    fn behind(&self, sd: f64, capillarity: Capillarity, (way, slicing): (Way<'_>, Slicing)) -> Option<Mass> {
        if let Some(yearly) = &self.yearly {
            return year(&yearly.behind_film(sd)?);
        }
        let coated = self.corner.wall.with_coat(Layer::new(0.0, sd, capillarity)?)?;
        reckon(&coated, way, slicing)
    }
}

impl Bare<'_> {
    /// Every corner with a coat on: at its tight end where the spread is adverse, at its open end where it is benign.
    pub(in crate::wall) fn coated(
        &self,
        coat: Coat,
        (way, slicing): (Way<'_>, Slicing),
    ) -> Option<Vec<Coated>> {
        let each = self.corners.iter().map(|bare| {
            let Corner { spread, doubt, .. } = bare.corner;
            let sd = if *spread == Side::Adverse { coat.sd.1 } else { coat.sd.0 };
            let with = bare.behind(sd, coat.capillarity, (way, slicing))?;
            Some(Coated { spread: *spread, doubt: *doubt, bare: bare.mass, with })
        });
        each.collect()
    }
}
