//! The figures of the set, drawn from what was decided and worked out: which zones share one, and their data.

mod wall;
mod weather;

use std::collections::BTreeMap;

use serde::Serialize;

use super::view::View;
use crate::drawing::Drawing;
use crate::inference::outcome::LimitEntry;
use crate::rulebook::book::{Bound, QuantityId};
use crate::units::System;
use crate::wall::study::{Conditions, ZoneStudy, conditions, study};
use wall::Walls;

/// The figures of zones in numbers, before anything is decided, with every coat of the book.
pub fn wall_figures(zones: &[&ZoneStudy], conditions: &Conditions, system: System) -> Vec<Drawing> {
    zones.iter().flat_map(|study| wall::numbers::all(study, conditions, system)).collect()
}

/// Every figure of the set.
#[derive(Debug, Default)]
pub(super) struct Figures {
    drawings: BTreeMap<String, Drawing>,
    /// Their names by kind.
    pub(super) names: FigureNames,
}

/// The names of figures as templates see them, in the order of their zones.
#[derive(Debug, Clone, Default, Serialize)]
pub(super) struct FigureNames {
    /// Dew-point grids.
    dew_point: Vec<String>,
    /// Vapour ladders.
    ladder: Vec<String>,
    /// Condensation profiles.
    condensation: Vec<String>,
    /// Drying curves.
    drying: Vec<String>,
}

impl Figures {
    pub(super) fn of(view: View<'_>) -> Self {
        let mut figures = Self::default();
        let walls = Walls {
            view,
            zones: study(view.survey, view.book),
            conditions: conditions(view.survey, view.book),
        };
        figures.names = FigureNames {
            dew_point: figures.add(weather::grids(view)),
            ladder: figures.add(walls.ladders()),
            condensation: figures.add(walls.profiles()),
            drying: figures.add(walls.dryings()),
        };
        figures
    }

    fn add(&mut self, drawings: Vec<Drawing>) -> Vec<String> {
        let names = drawings.iter().map(|drawing| drawing.id.clone()).collect();
        self.drawings.extend(drawings.into_iter().map(|drawing| (drawing.id.clone(), drawing)));
        names
    }

    /// The figure of a name.
    pub(super) fn named(&self, name: &str) -> Option<&Drawing> {
        self.drawings.get(name)
    }
}

/// One figure for zones whose data are equal, in the order of the zones.
fn drawn<T: PartialEq>(
    view: View<'_>,
    kind: &str,
    data: impl Fn(usize) -> Option<T>,
    make: impl Fn(&T, String, Option<String>) -> Option<Drawing>,
) -> Vec<Drawing> {
    let groups = grouped(view, data).into_iter();
    let drawings = groups.enumerate().filter_map(|(place, (zones, data))| {
        make(&data, format!("{kind}-{}", place + 1), zones_words(view, &zones))
    });
    drawings.collect()
}

/// Zones whose data are equal, each group with its data, in the order of the zones.
fn grouped<T: PartialEq>(view: View<'_>, data: impl Fn(usize) -> Option<T>) -> Vec<(Vec<usize>, T)> {
    let mut groups: Vec<(Vec<usize>, T)> = Vec::new();
    for zone in view.zones() {
        let Some(own) = data(zone) else { continue };
        match groups.iter_mut().find(|(_, known)| *known == own) {
            Some((zones, _)) => zones.push(zone),
            None => groups.push((vec![zone], own)),
        }
    }
    groups
}

/// `zone Q1`, `zones Q1 and Q2`; `None` for all zones.
fn zones_words(view: View<'_>, zones: &[usize]) -> Option<String> {
    let codes = view.words.listed(&view.codes(zones), "and");
    match zones {
        all if all.len() == view.zones().len() => None,
        [_] => Some(format!("zone {codes}")),
        _ => Some(format!("zones {codes}")),
    }
}

/// The limits on a quantity in a zone from one side, strictest first.
fn limits<'a>(view: View<'a>, zone: usize, quantity: &str, bound: Bound) -> Option<&'a [LimitEntry]> {
    let id = view.book.quantities.iter().position(|known| known.name == quantity).map(QuantityId)?;
    let limits = &view.zone(zone)?.limits;
    let found = limits.iter().find(|limit| limit.quantity == id && limit.bound == bound)?;
    Some(&found.entries)
}
