//! A wall cut into stations: the points at which its temperature and its vapour pressure are looked at.

use std::num::NonZeroU16;

use super::wall::{Capillarity, Layer, Surfaces, Wall};

/// A layer of more thermal resistance than this, in m²K/W, hides the sag of the saturation pressure between its faces.
/// Source, from memory: ISO 13788.
const THICK: f64 = 0.25;

/// How layers are divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slicing {
    /// Not at all: only the faces of layers are looked at.
    Interfaces,
    /// Each layer above 0.25 m²K/W into the fewest equal parts that are not, as ISO 13788 asks.
    Thick,
    /// Each layer above 0.25 m²K/W into so many equal parts.
    ThickInto(NonZeroU16),
    /// Every layer with a thermal resistance into so many equal parts.
    EveryInto(NonZeroU16),
}

impl Slicing {
    /// How many parts a layer is cut into.
    fn parts(self, layer: &Layer) -> u16 {
        let thick = layer.resistance() > THICK;
        match self {
            Self::Thick if thick => fewest_parts(layer.resistance()),
            Self::ThickInto(parts) if thick => parts.get(),
            Self::EveryInto(parts) if layer.resistance() > 0.0 => parts.get(),
            _ => 1,
        }
    }
}

/// The fewest equal parts of at most 0.25 m²K/W each; layers end at 1000 m²K/W.
fn fewest_parts(resistance: f64) -> u16 {
    (1..=4000_u16).find(|parts| resistance <= THICK * f64::from(*parts)).unwrap_or(4000)
}

/// What lies between a station and the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece {
    /// The whole of a layer, or nothing at the outer face.
    Whole,
    /// A part of a layer that was divided.
    Slice,
}

/// One station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Station {
    /// The equivalent air layer outside of it, in m.
    pub(super) sd: f64,
    /// The share of the thermal resistance that lies outside of it, from 0 to 1.
    pub(super) share: f64,
    /// What lies between it and the station before.
    pub(super) piece: Piece,
    /// Whether both its sides draw in condensate.
    pub(super) capillarity: Capillarity,
    /// The layers on its outer and its inner side, counted from outside; the same one within a divided layer.
    pub(super) layers: (usize, usize),
}

/// A wall cut into stations, the first on its outer and the last on its inner face.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    stations: Vec<Station>,
}

impl Section {
    /// Cuts a wall.
    pub fn cut(wall: &Wall, surfaces: Surfaces, slicing: Slicing) -> Self {
        let within: f64 = wall.layers().iter().map(Layer::resistance).sum();
        let whole = surfaces.outside() + within + surfaces.inside();
        let mut stations = vec![Station {
            sd: 0.0,
            share: surfaces.outside() / whole,
            piece: Piece::Whole,
            capillarity: Capillarity::Absorbs,
            layers: (0, 0),
        }];
        let (mut sd, mut resistance) = (0.0, surfaces.outside());
        for (place, layer) in wall.layers().iter().enumerate() {
            let parts = slicing.parts(layer);
            for part in 1..=parts {
                let done = f64::from(part) / f64::from(parts);
                let inner = if part == parts { place + 1 } else { place };
                stations.push(Station {
                    sd: sd + layer.sd() * done,
                    share: (resistance + layer.resistance() * done) / whole,
                    piece: if parts > 1 { Piece::Slice } else { Piece::Whole },
                    capillarity: both(layer, wall.layers().get(inner)),
                    layers: (place, inner),
                });
            }
            sd += layer.sd();
            resistance += layer.resistance();
        }
        Self { stations }
    }

    /// The equivalent air layer of the whole wall, in m.
    pub fn sd(&self) -> f64 {
        self.stations.last().map_or(0.0, |station| station.sd)
    }

    pub(super) fn stations(&self) -> &[Station] {
        &self.stations
    }
}

fn both(outer: &Layer, inner: Option<&Layer>) -> Capillarity {
    let inner = inner.map_or(Capillarity::Absorbs, Layer::capillarity);
    if outer.capillarity() == Capillarity::Absorbs { inner } else { Capillarity::Repels }
}
