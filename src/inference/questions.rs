//! Open questions, ranked by what an answer would settle.

use std::collections::{BTreeMap, BTreeSet};

use crate::inference::decide::Case;
use crate::inference::flat::{Flat, Slate};
use crate::inference::outcome::OpenQuestion;
use crate::inference::truth::Truth;
use crate::inference::zone::Zone;
use crate::rulebook::book::{FactId, SlotId};
use crate::rulebook::cells::CellSet;

/// The questions that are open in these zones and matter there, the one that would settle most first.
pub(crate) fn ranked(flat: &Flat, zones: &[Zone<'_>]) -> Vec<OpenQuestion> {
    let (mut base, mut slate) = (flat.slate(), flat.slate());
    let mut by_fact: BTreeMap<FactId, OpenQuestion> = BTreeMap::new();
    for (index, zone) in zones.iter().enumerate() {
        let open = open_facts(zone);
        if open.is_empty() {
            continue;
        }
        flat.read(zone.case, &mut base);
        for fact in open {
            let (least, most) = settled_by(zone, fact, flat, &base, &mut slate);
            let question = by_fact.entry(fact).or_insert_with(|| OpenQuestion {
                fact,
                zones: Vec::new(),
                settles_at_most: 0,
                settles_at_least: 0,
            });
            question.zones.push(index);
            question.settles_at_most += most;
            question.settles_at_least += least;
        }
    }
    let mut questions: Vec<OpenQuestion> = by_fact.into_values().collect();
    questions.sort_by_key(|question| {
        (
            std::cmp::Reverse(question.settles_at_most),
            std::cmp::Reverse(question.settles_at_least),
            question.fact,
        )
    });
    questions
}

/// Every fact that leaves a rule or a slot of the zone open.
fn open_facts(zone: &Zone<'_>) -> BTreeSet<FactId> {
    let mut found = BTreeSet::new();
    for (rule, truth) in zone.open.rules.iter().enumerate() {
        if *truth == Truth::Unknown {
            found.extend(zone.open_facts_of(crate::rulebook::book::RuleId(rule)));
        }
    }
    for (slot, chosen) in zone.open.chosen.iter().enumerate() {
        if chosen.contains(&Truth::Unknown) {
            found.extend(zone.open_in_slot(SlotId(slot)));
        }
    }
    found
}

/// How many open things the least and the most telling answer would settle.
fn settled_by(zone: &Zone<'_>, fact: FactId, flat: &Flat, base: &Slate, slate: &mut Slate) -> (usize, usize) {
    let before = base.unsettled(flat);
    let cone = flat.cone(fact);
    let possible = zone.open.facts.get(fact.0).copied().unwrap_or(CellSet::EMPTY);
    let after = possible.iter().map(|cell| {
        let case = Case { supposed: Some((fact, CellSet::one(cell))), ..zone.case };
        flat.suppose(&cone, case, base, slate);
        before.saturating_sub(slate.unsettled(flat))
    });
    after
        .fold(None, |range: Option<(usize, usize)>, settled| {
            Some(range.map_or((settled, settled), |(least, most)| (least.min(settled), most.max(settled))))
        })
        .unwrap_or((0, 0))
}
