//! DIN 4108-3: one winter and one summer, in both editions.

use super::evaporation::{Evaporated, Plane};
use super::found::Condensate;
use super::section::Slicing;
use super::wall::{Air, Surfaces, Wall};
use super::winter::Winter;
use crate::physics::classes::Edition;

/// What part of a building it is; the sun warms a roof more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// A wall.
    Wall,
    /// A roof.
    Roof,
}

/// The climate of an edition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Outside in winter.
    pub outside: Air,
    /// Inside in winter.
    pub inside: Air,
    /// How long winter lasts, in s.
    pub winter: f64,
    /// Vapour pressure on both sides in summer, in Pa.
    pub summer_pressure: f64,
    /// How long summer lasts, in s.
    pub summer: f64,
    /// The resistances of the air at the faces.
    pub surfaces: Surfaces,
    edition: Edition,
}

impl Block {
    /// The climate of an edition. 2001, from memory: -10 °C and 80 % against 20 °C and 50 % for 1440 h, then 12 °C and
    /// 70 % on both sides for 2160 h. 2018, second-hand: -5 °C and 80 % against 20 °C and 50 % for 90 days, then
    /// 1200 Pa on both sides for 90 days. `None` never comes: the figures lie within all ranges.
    ///
    /// ```
    /// # use perpend::physics::classes::Edition;
    /// # use perpend::physics::condensation::Block;
    /// // Published check G08: 321 Pa against 1168 Pa in the winter of 2018, within 0.5 Pa.
    /// let block = Block::of(Edition::Of2018).unwrap();
    /// assert!((block.outside.pressure() - 321.0).abs() < 0.5);
    /// assert!((block.inside.pressure() - 1168.0).abs() < 0.5);
    /// ```
    pub fn of(edition: Edition) -> Option<Self> {
        let summer = 2160.0 * 3600.0;
        let inside = Air::new(20.0, 50.0)?;
        Some(match edition {
            Edition::Of2001 => Self {
                outside: Air::new(-10.0, 80.0)?,
                inside,
                winter: 1440.0 * 3600.0,
                summer_pressure: Air::new(12.0, 70.0)?.pressure(),
                summer,
                surfaces: Surfaces::ORDINARY,
                edition,
            },
            Edition::Of2018 => Self {
                outside: Air::new(-5.0, 80.0)?,
                inside,
                winter: 90.0 * 86_400.0,
                summer_pressure: 1200.0,
                summer,
                surfaces: Surfaces::SHELTERED,
                edition,
            },
        })
    }

    /// The pressure at a wet plane in summer, in Pa. 2018, from memory: 1700 in walls and 2000 in roofs. 2001: saturation
    /// at 12 °C in walls; its roofs need their own temperatures and are not answered. (Its own table prints 1403 Pa, a
    /// pascal more than the formula of ISO 13788, which is used throughout.)
    ///
    /// ```
    /// # use perpend::physics::classes::Edition;
    /// # use perpend::physics::condensation::{Block, Part};
    /// // Published check G09.
    /// let block = Block::of(Edition::Of2018).unwrap();
    /// assert_eq!((block.plane_pressure(Part::Wall), block.plane_pressure(Part::Roof)), (Some(1700.0), Some(2000.0)));
    /// ```
    pub fn plane_pressure(&self, part: Part) -> Option<f64> {
        match (self.edition, part) {
            (Edition::Of2018, Part::Wall) => Some(1700.0),
            (Edition::Of2018, Part::Roof) => Some(2000.0),
            (Edition::Of2001, Part::Wall) => Air::new(12.0, 100.0).map(|air| air.pressure()),
            (Edition::Of2001, Part::Roof) => None,
        }
    }

    /// The summer of a wet plane in a part.
    pub fn plane(&self, part: Part) -> Option<Plane> {
        let (outside, inside) = (self.summer_pressure, self.summer_pressure);
        Some(Plane { pressure: self.plane_pressure(part)?, outside, inside, seconds: self.summer })
    }
}

/// What a wall does in the climate of an edition, in steady state.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// Where vapour condenses.
    pub condensates: Vec<Condensate>,
    /// What condenses in winter, in kg/m².
    pub condensed: f64,
    /// What can dry off in summer; `None` where nothing condenses.
    pub evaporated: Option<Evaporated>,
    /// The most that may condense, in kg/m².
    pub limit: f64,
}

/// A way in which the sum comes out badly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shortfall {
    /// More condenses than the limit.
    OverLimit,
    /// More condenses than can dry off.
    DoesNotDry,
}

/// The most condensate, in kg/m². Source, published: a paper of an energy agency on DIN 4108-3.
pub(super) const LIMIT: f64 = 1.0;

/// The most where a plane borders on a layer that draws in no water, as a film coat does. From memory: DIN 4108-3.
pub(super) const LIMIT_AT_FILM: f64 = 0.5;

impl Assessment {
    /// The ways in which the sum comes out badly. That there are none allows nothing: see
    /// [`CAVEAT`](super::CAVEAT).
    pub fn shortfalls(&self) -> Vec<Shortfall> {
        let dries = self.evaporated.map_or(0.0, |dried| dried.whole());
        let over = (self.condensed > self.limit).then_some(Shortfall::OverLimit);
        let stays = (self.condensed > dries).then_some(Shortfall::DoesNotDry);
        over.into_iter().chain(stays).collect()
    }

    /// How much more condenses here than in another wall, such as the same one bare, in kg/m².
    pub fn increment_over(&self, other: &Self) -> f64 {
        self.condensed - other.condensed
    }
}

/// Assesses a wall in the climate of an edition. Source: DIN 4108-3, the limits as stated beside them.
///
/// ```
/// # use perpend::physics::classes::Edition;
/// # use perpend::physics::condensation::{Capillarity, Layer, Slicing, Wall, assess};
/// // Published check G13: wall A36 with a coat of 0.9 m collects 77.06 g/m² in the winter of 2018, within 0.05.
/// let brick = Layer::of_material(0.36, 0.81, 10.0, Capillarity::Absorbs).unwrap();
/// let plaster = Layer::of_material(0.015, 0.70, 10.0, Capillarity::Absorbs).unwrap();
/// let wall = Wall::new(vec![Layer::film(0.9).unwrap(), brick, plaster]).unwrap();
/// let assessed = assess(&wall, Edition::Of2018, Slicing::Interfaces).unwrap();
/// assert!((assessed.condensed * 1000.0 - 77.06).abs() < 0.05);
/// ```
pub fn assess(wall: &Wall, edition: Edition, slicing: Slicing) -> Option<Assessment> {
    Winter::of(wall, edition, slicing)?.assess()
}
