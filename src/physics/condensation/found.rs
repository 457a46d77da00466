//! Where vapour condenses: planes between layers, and zones within a divided layer.

use super::section::{Piece, Section};
use super::wall::Capillarity;

/// A plane or a zone in which vapour condenses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condensate {
    /// The equivalent air layer outside of its outer edge, in m.
    pub outer: f64,
    /// The same of its inner edge; equal to the outer one for a plane.
    pub inner: f64,
    /// What condenses in it, in kg/(m²·s).
    pub rate: f64,
    /// Whether all that borders on it draws in water.
    pub capillarity: Capillarity,
    /// The stations of its edges, counted from the outer face.
    pub stations: (usize, usize),
    /// The layer on its outer side and the layer on its inner side, counted from outside; the same one within a layer.
    pub layers: (usize, usize),
}

impl Condensate {
    /// Whether it has a breadth: then water stands all through it, and not at one plane.
    pub fn is_zone(&self) -> bool {
        self.stations.0 < self.stations.1
    }

    /// The equivalent air layer outside of its middle, in m.
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.outer, self.inner)
    }
}

/// Joins neighbouring stations that condense and have only a slice of one layer between them.
pub(super) fn condensates(section: &Section, rates: &[f64]) -> Vec<Condensate> {
    let mut found: Vec<Condensate> = Vec::new();
    for (place, (station, rate)) in section.stations().iter().zip(rates).enumerate() {
        if *rate <= 0.0 {
            continue;
        }
        let zone =
            found.last_mut().filter(|zone| zone.stations.1 + 1 == place && station.piece == Piece::Slice);
        if let Some(zone) = zone {
            zone.inner = station.sd;
            zone.rate += rate;
            zone.stations.1 = place;
            zone.layers.1 = station.layers.1;
            zone.capillarity = either(zone.capillarity, station.capillarity);
            continue;
        }
        found.push(Condensate {
            outer: station.sd,
            inner: station.sd,
            rate: *rate,
            capillarity: station.capillarity,
            stations: (place, place),
            layers: station.layers,
        });
    }
    found
}

fn either(one: Capillarity, other: Capillarity) -> Capillarity {
    if one == Capillarity::Repels { one } else { other }
}
