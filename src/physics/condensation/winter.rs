//! A wall in the climate of an edition of DIN 4108-3, with films before it or without.

use super::block::{Assessment, Block, LIMIT, LIMIT_AT_FILM, Part};
use super::evaporation::{DriesFrom, evaporated};
use super::found::condensates;
use super::held::Held;
use super::profile::Surface;
use super::section::{Section, Slicing};
use super::wall::{Capillarity, Layer, Wall};
use crate::physics::classes::Edition;

/// A wall in the winter of an edition, ready to be reckoned with films of any air layer on its outer face.
#[derive(Debug, Clone, PartialEq)]
pub struct Winter {
    block: Block,
    wall: Wall,
    slicing: Slicing,
    held: Held,
}

impl Winter {
    /// A wall without a film.
    pub fn of(wall: &Wall, edition: Edition, slicing: Slicing) -> Option<Self> {
        let block = Block::of(edition)?;
        let section = Section::cut(wall, block.surfaces, slicing);
        let held = Held::of(&section, &block.outside, &block.inside);
        Some(Self { block, wall: wall.clone(), slicing, held })
    }

    /// The same wall behind a film that holds no heat, of an equivalent air layer in m, from 1e-6 to 100 000.
    ///
    /// ```
    /// # use perpend::physics::classes::Edition;
    /// # use perpend::physics::condensation::{Capillarity, Layer, Slicing, Wall, Winter, assess};
    /// // Derived: a film set before the reckoned wall is the film of a wall that has it from the first.
    /// let brick = Layer::of_material(0.36, 0.81, 10.0, Capillarity::Absorbs).unwrap();
    /// let (bare, film) = (Wall::new(vec![brick]).unwrap(), Layer::film(3.0).unwrap());
    /// let winter = Winter::of(&bare, Edition::Of2018, Slicing::Thick).unwrap();
    /// let behind = winter.behind_film(3.0, Capillarity::Repels).unwrap().assess();
    /// assert_eq!(behind, assess(&bare.with_coat(film).unwrap(), Edition::Of2018, Slicing::Thick));
    /// ```
    #[must_use]
    pub fn behind_film(&self, sd: f64, capillarity: Capillarity) -> Option<Self> {
        let wall = self.wall.with_coat(Layer::new(0.0, sd, capillarity)?)?;
        Some(Self { block: self.block, wall, slicing: self.slicing, held: self.held.behind_film(sd) })
    }

    /// Whether the air of the room condenses on the inner face itself.
    pub fn inner_face(&self) -> Surface {
        self.held.inside
    }

    /// What condenses and what dries.
    pub fn assess(&self) -> Option<Assessment> {
        if self.held.is_straight() {
            return Some(Assessment {
                condensates: Vec::new(),
                condensed: 0.0,
                evaporated: None,
                limit: LIMIT,
            });
        }
        let section = Section::cut(&self.wall, self.block.surfaces, self.slicing);
        let found = condensates(&section, &self.held.condensing(|_| false));
        let condensed = self.block.winter * found.iter().map(|one| one.rate).sum::<f64>();
        let places = DriesFrom::usual(&found).places(&found);
        let plane = self.block.plane(Part::Wall)?;
        let evaporated = places.and_then(|places| evaporated(plane, places, section.sd()));
        let at_film = found.iter().any(|one| one.capillarity == Capillarity::Repels);
        let limit = if at_film { LIMIT_AT_FILM } else { LIMIT };
        Some(Assessment { condensates: found, condensed, evaporated, limit })
    }
}
