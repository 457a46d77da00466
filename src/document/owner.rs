//! The values of the owner's sheet: cautions, lists, and the record of what stands on the wall.

use serde::Serialize;

use super::choice::arising;
use super::clauses::{Printed, Setter};
use super::section::{Caution, cautions, clauses};
use super::templates::Templates;
use super::view::{Extent, View};
use crate::diagnostic::Diagnostic;
use crate::inference::truth::Truth;
use crate::rulebook::book::{Audience, OptionId, SlotId};

/// What the owner's sheet prints besides what all documents share.
#[derive(Debug, Serialize)]
pub(super) struct OwnerContext {
    cautions: Vec<Caution>,
    lists: Vec<ListShown>,
    applied: Vec<Applied>,
}

/// What stands on the wall in zones that picked alike.
#[derive(Debug, Serialize)]
struct Applied {
    slot: String,
    #[serde(flatten)]
    extent: Extent,
    pick: String,
    certain: bool,
}

/// A list with its clauses.
#[derive(Debug, Serialize)]
struct ListShown {
    name: String,
    title: String,
    clauses: Vec<Printed>,
}

impl OwnerContext {
    pub(super) fn of(setter: Setter<'_>, templates: &Templates) -> Result<Self, Vec<Diagnostic>> {
        let mut mistakes = Vec::new();
        let lists = templates
            .lists
            .iter()
            .map(|list| ListShown {
                name: list.name.clone(),
                title: list.title.clone(),
                clauses: clauses(setter, &mut mistakes, |clause| {
                    clause.care.as_deref() == Some(list.name.as_str())
                }),
            })
            .collect();
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        let applied = arising(setter.view).into_iter().flat_map(|slot| applied(setter.view, slot)).collect();
        Ok(Self { cautions: cautions(setter.view, &[Audience::Owner], |_| true), lists, applied })
    }
}

fn applied(view: View<'_>, slot: SlotId) -> Vec<Applied> {
    let mut found: Vec<((OptionId, bool), Vec<usize>)> = Vec::new();
    for zone in view.zones() {
        let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No);
        let Some(pick) = outcome.and_then(|outcome| outcome.pick) else { continue };
        let key = (pick, !view.is_open(zone, slot));
        match found.iter_mut().find(|(known, _)| *known == key) {
            Some((_, zones)) => zones.push(zone),
            None => found.push((key, vec![zone])),
        }
    }
    found
        .into_iter()
        .map(|((pick, certain), zones)| Applied {
            slot: view.slot_words(slot),
            extent: Extent::of(view, &zones),
            pick: view.option_title(slot, pick),
            certain,
        })
        .collect()
}
