//! What the crew keeps off: zones that stay bare, areas left out, and what stands beside the work.

use num_traits::Signed;
use serde::Serialize;

use super::coat::{Chosen, chosen};
use super::data::Site;
use crate::document::view::View;
use crate::survey::AdjoiningKind;
use crate::units::print;

/// The keep-off card.
#[derive(Debug, Serialize)]
pub(super) struct KeepOff {
    /// Zones that get no coat, by code and name.
    bare: Vec<(String, String)>,
    /// Areas left out inside zones that are coated, by code and area.
    left_out: Vec<(String, String)>,
    /// Things beside the work, with the zones that they are beside.
    beside: Vec<(String, Vec<String>)>,
}

impl KeepOff {
    pub(super) fn of(view: View<'_>, site: &Site) -> Self {
        let mut card = Self { bare: Vec::new(), left_out: Vec::new(), beside: Vec::new() };
        for (at, zone) in view.survey.zones.iter().enumerate() {
            if matches!(chosen(view, site, at), Some(Chosen::Bare(..))) {
                card.bare.push((zone.code.clone(), zone.name.clone()));
                continue;
            }
            if let Some(area) = zone.not_coated.as_ref().filter(|area| area.value().is_positive()) {
                card.left_out.push((zone.code.clone(), print(area, view.system())));
            }
            for thing in things(view, site, at) {
                match card.beside.iter_mut().find(|(known, _)| *known == thing) {
                    Some((_, zones)) => zones.push(zone.code.clone()),
                    None => card.beside.push((thing, vec![zone.code.clone()])),
                }
            }
        }
        card
    }
}

/// The things beside a zone, and the bare zones beside it by their codes.
pub(super) fn things(view: View<'_>, site: &Site, zone: usize) -> Vec<String> {
    let adjoins = view.survey.zones.get(zone).and_then(|zone| zone.adjoins.as_deref()).unwrap_or_default();
    let neighbours = view.book.catalogue_named("neighbours");
    let named = adjoins.iter().filter_map(|adjoining| match adjoining.kind {
        AdjoiningKind::Zone(other) => {
            matches!(chosen(view, site, other), Some(Chosen::Bare(..))).then(|| view.code(other))
        }
        AdjoiningKind::Thing(option) => Some(neighbours?.options.get(option.0)?.title.clone()),
    });
    named.collect()
}
