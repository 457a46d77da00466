//! The figures of the set, drawn from what was decided and worked out: which zones share one, and their data.

mod weather;

use std::collections::BTreeMap;

use super::view::View;
use crate::drawing::Drawing;
use crate::inference::outcome::LimitEntry;
use crate::rulebook::book::{Bound, QuantityId};

/// Every figure of the set, by its name.
#[derive(Debug, Default)]
pub(super) struct Figures {
    drawings: BTreeMap<String, Drawing>,
    /// Dew-point grids, one for zones with equal limits.
    pub(super) weather: Vec<String>,
}

impl Figures {
    pub(super) fn of(view: View<'_>) -> Self {
        let mut figures = Self::default();
        figures.weather = figures.add(weather::grids(view));
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

/// The limit that binds a quantity in a zone from one side.
fn limit<'a>(view: View<'a>, zone: usize, quantity: &str, bound: Bound) -> Option<&'a LimitEntry> {
    let id = view.book.quantities.iter().position(|known| known.name == quantity).map(QuantityId)?;
    let limits = &view.zone(zone)?.limits;
    limits.iter().find(|limit| limit.quantity == id && limit.bound == bound)?.binding()
}
