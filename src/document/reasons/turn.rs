//! What would turn a choice: for each option picked, every fact that would turn it alone.

use rayon::prelude::*;
use serde::Serialize;

use crate::document::view::{Extent, View};
use crate::inference::Ready;
use crate::inference::change::{changes, facts_behind_slot};
use crate::inference::decide::Case;
use crate::inference::truth::Truth;
use crate::rulebook::book::{FactId, OptionId, Picks, SlotId};
use crate::rulebook::words::cells_spoken;

/// What would turn the choice in the zones that picked alike.
#[derive(Debug, Serialize)]
pub(super) struct Turn {
    slot: String,
    pick: String,
    #[serde(flatten)]
    extent: Extent,
    facts: Vec<TurningFact>,
}

#[derive(Debug, Serialize)]
struct TurningFact {
    fact: String,
    /// The zones it holds for, where not all of the table's; else empty.
    zones: Vec<String>,
    /// As it stands.
    now: String,
    /// The answers that would do it.
    answers: String,
    /// `certain`, `open` or `out`: what the option would then be.
    then: &'static str,
}

/// One fact that would turn one zone's choice.
struct Turning {
    zone: usize,
    fact: FactId,
    now: String,
    answers: String,
    then: &'static str,
}

/// For each choice of one option: every fact that would turn it alone.
pub(super) fn turns(view: View<'_>) -> Vec<Turn> {
    let ready = Ready::of(view.book);
    let slots = view.book.slots.iter().enumerate().filter(|(_, slot)| slot.picks == Picks::One);
    slots.flat_map(|(index, _)| turns_of(view, &ready, SlotId(index))).collect()
}

fn turns_of(view: View<'_>, ready: &Ready<'_>, slot: SlotId) -> Vec<Turn> {
    let facts = facts_behind_slot(view.book, &ready.plan, slot);
    let by_zone: Vec<(usize, OptionId, Vec<Turning>)> = view
        .zones()
        .into_par_iter()
        .filter_map(|zone| {
            let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No)?;
            let pick = outcome.pick?;
            let case = Case::new(view.facts.get(zone)?, &[]);
            let found = changes(ready, case, &facts, |slate| slate.chosen(slot, pick));
            let turning = found.iter().filter_map(|change| {
                Some(Turning {
                    zone,
                    fact: change.fact,
                    now: view.shown(zone, change.fact),
                    answers: cells_spoken(view.book.facts.get(change.fact.0)?, change.cells, view.system()),
                    then: match change.truth {
                        Truth::Yes => "certain",
                        Truth::Unknown => "open",
                        Truth::No => "out",
                    },
                })
            });
            Some((zone, pick, turning.collect()))
        })
        .collect();
    let mut picked: Vec<(OptionId, Vec<usize>, Vec<Turning>)> = Vec::new();
    for (zone, pick, turning) in by_zone {
        match picked.iter_mut().find(|(known, _, _)| *known == pick) {
            Some((_, zones, all)) => {
                zones.push(zone);
                all.extend(turning);
            }
            None => picked.push((pick, vec![zone], turning)),
        }
    }
    let shown = |(pick, zones, turning): (OptionId, Vec<usize>, Vec<Turning>)| Turn {
        slot: view.slot_words(slot),
        pick: view.option_title(slot, pick),
        extent: Extent::of(view, &zones),
        facts: merged(view, &zones, turning),
    };
    picked.into_iter().map(shown).collect()
}

/// The same turn in several zones stands once.
fn merged(view: View<'_>, zones: &[usize], turning: Vec<Turning>) -> Vec<TurningFact> {
    let mut found: Vec<Vec<Turning>> = Vec::new();
    for turn in turning {
        let alike = found.iter_mut().find(|group| {
            group.first().is_some_and(|known| {
                (known.fact, &known.answers, known.then) == (turn.fact, &turn.answers, turn.then)
            })
        });
        match alike {
            Some(group) => group.push(turn),
            None => found.push(vec![turn]),
        }
    }
    found.sort_by_key(|group| group.first().map(|turn| turn.fact));
    let shown = |group: &Vec<Turning>| {
        let first = group.first()?;
        let own: Vec<usize> = group.iter().map(|turn| turn.zone).collect();
        let now: Vec<_> = group.iter().map(|turn| (turn.zone, turn.now.clone())).collect();
        Some(TurningFact {
            fact: view.fact_words(first.fact),
            zones: if own == zones { Vec::new() } else { view.codes(&own) },
            now: view.by_zone(&now),
            answers: first.answers.clone(),
            then: first.then,
        })
    };
    found.iter().filter_map(shown).collect()
}
