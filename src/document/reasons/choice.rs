//! Options: which was chosen, which were refused by what, and what would turn the choice.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::ground::{facts_read, grounds};
use crate::document::view::{Extent, View};
use crate::inference::outcome::{OptionOutcome, SlotOutcome};
use crate::inference::truth::Truth;
use crate::rulebook::book::{EffectKind, FactId, OptionId, Picks, Refused, RuleId, SlotId};

/// The options of a slot: a grid of results, and below it the rules that refuse.
#[derive(Debug, Serialize)]
pub(super) struct OptionTable {
    slot: String,
    /// The zones, those with equal results together.
    columns: Vec<Extent>,
    rows: Vec<OptionRow>,
    refusals: Vec<Refusal>,
}

/// One option, with a cell for each column.
#[derive(Debug, Serialize)]
struct OptionRow {
    title: String,
    cells: Vec<OptionCell>,
}

/// What became of an option.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct OptionCell {
    /// `chosen`, `for-now`, `possible`, `refused`, `beaten` or `passed-over`.
    result: &'static str,
    /// Numbers of the refusals.
    refusals: Vec<usize>,
    /// Numbers of refusals that are not certain.
    unsure: Vec<usize>,
    /// Options preferred to it that are still possible.
    beaten_by: Vec<String>,
}

/// A rule that refuses options.
#[derive(Debug, Serialize)]
struct Refusal {
    number: usize,
    rule: String,
    #[serde(flatten)]
    extent: Extent,
    /// The tests of its condition with their answers.
    grounds: String,
    /// What is compared, such as `total-sd over 0.14 m`; empty where the rule names options.
    words: String,
    /// The figure of each option.
    figures: Vec<String>,
    /// What the figures are compared with, where that is a fact.
    against: String,
}

/// Every slot's options.
pub(super) fn option_tables(view: View<'_>) -> Vec<OptionTable> {
    let slots = (0..view.book.slots.len()).map(SlotId);
    slots.filter_map(|slot| table(view, slot)).collect()
}

fn table(view: View<'_>, slot: SlotId) -> Option<OptionTable> {
    let arising: Vec<(usize, &SlotOutcome)> = view
        .zones()
        .filter_map(|zone| Some((zone, view.slot_outcome(zone, slot)?)))
        .filter(|(_, outcome)| outcome.arises != Truth::No)
        .collect();
    let count = arising.iter().map(|(_, outcome)| outcome.options.len()).max()?;
    let effects = refusing(&arising);
    let mut columns: Vec<(Vec<usize>, Vec<OptionCell>)> = Vec::new();
    for (zone, outcome) in &arising {
        let cells: Vec<_> =
            (0..count).map(|option| cell(view, outcome, OptionId(option), &effects)).collect();
        match columns.iter_mut().find(|(_, known)| *known == cells) {
            Some((zones, _)) => zones.push(*zone),
            None => columns.push((vec![*zone], cells)),
        }
    }
    let row = |option: usize| OptionRow {
        title: view.option_title(slot, OptionId(option)),
        cells: columns.iter().filter_map(|(_, cells)| cells.get(option).cloned()).collect(),
    };
    Some(OptionTable {
        slot: view.slot_words(slot),
        rows: (0..count).map(row).collect(),
        columns: columns.iter().map(|(zones, _)| Extent::of(view, zones)).collect(),
        refusals: effects
            .iter()
            .enumerate()
            .map(|(index, effect)| refusal(view, slot, index + 1, *effect, &arising))
            .collect(),
    })
}

/// Every effect that refuses some option in some zone, in the order of the book.
fn refusing(arising: &[(usize, &SlotOutcome)]) -> Vec<(RuleId, usize)> {
    let causes =
        arising.iter().flat_map(|(_, outcome)| &outcome.options).flat_map(|option| &option.refused_by);
    let effects: BTreeSet<_> = causes.map(|cause| (cause.rule, cause.effect)).collect();
    effects.into_iter().collect()
}

fn cell(view: View<'_>, outcome: &SlotOutcome, id: OptionId, effects: &[(RuleId, usize)]) -> OptionCell {
    let Some(option) = outcome.options.get(id.0) else {
        return OptionCell {
            result: "passed-over",
            refusals: Vec::new(),
            unsure: Vec::new(),
            beaten_by: Vec::new(),
        };
    };
    let in_order = view.slot(outcome.slot).is_some_and(|slot| slot.picks == Picks::InOrder);
    let picked = if in_order { outcome.sequence.contains(&id) } else { outcome.pick == Some(id) };
    let numbers = |certain: bool| {
        let causes = option.refused_by.iter().filter(|cause| (cause.truth == Truth::Yes) == certain);
        let places =
            causes.filter_map(|cause| effects.iter().position(|one| *one == (cause.rule, cause.effect)));
        places.map(|place| place + 1).collect()
    };
    OptionCell {
        result: result(option, picked),
        refusals: numbers(true),
        unsure: numbers(false),
        beaten_by: if option.refused == Truth::Yes { Vec::new() } else { beaten_by(view, outcome, option) },
    }
}

fn refusal(
    view: View<'_>,
    slot: SlotId,
    number: usize,
    effect: (RuleId, usize),
    arising: &[(usize, &SlotOutcome)],
) -> Refusal {
    let refuses =
        |option: &OptionOutcome| option.refused_by.iter().any(|cause| (cause.rule, cause.effect) == effect);
    let zones: Vec<usize> = arising
        .iter()
        .filter(|(_, outcome)| outcome.options.iter().any(refuses))
        .map(|(zone, _)| *zone)
        .collect();
    let rule = view.book.rules.get(effect.0.0);
    let grounds_in = |zone: &usize| {
        let explainer = view.explainer(*zone)?;
        Some((*zone, grounds(&explainer, &rule?.when).join("; ")))
    };
    let whose = match view.effect(effect.0, effect.1) {
        Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) => Some(whose),
        _ => None,
    };
    let compared =
        |zone: usize, option: usize| Some(view.explainer(zone)?.compared(slot, whose?, OptionId(option)));
    let figure = |option: usize| {
        let said: Vec<_> = arising
            .iter()
            .filter(|(_, outcome)| outcome.options.get(option).is_some_and(refuses))
            .filter_map(|(zone, _)| Some((*zone, compared(*zone, option)?.figure)))
            .collect();
        (!said.is_empty())
            .then(|| format!("{} {}", view.option_title(slot, OptionId(option)), view.by_zone(&said)))
    };
    let count = arising.iter().map(|(_, outcome)| outcome.options.len()).max().unwrap_or(0);
    let against: Vec<_> =
        zones.iter().filter_map(|zone| Some((*zone, compared(*zone, 0)?.against?))).collect();
    Refusal {
        number,
        rule: view.rule_name(effect.0),
        grounds: view.by_zone(&zones.iter().filter_map(grounds_in).collect::<Vec<_>>()),
        words: whose.map(|whose| whose.words.clone()).unwrap_or_default(),
        figures: (0..count).filter_map(figure).collect(),
        against: view.by_zone(&against),
        extent: Extent::of(view, &zones),
    }
}

fn result(option: &OptionOutcome, picked: bool) -> &'static str {
    match (option.refused, option.chosen) {
        (_, Truth::Yes) => "chosen",
        (_, Truth::Unknown) if picked => "for-now",
        (_, Truth::Unknown) => "possible",
        (Truth::Yes, Truth::No) => "refused",
        (_, Truth::No) if !option.beaten_by.is_empty() => "beaten",
        (_, Truth::No) => "passed-over",
    }
}

/// The options preferred to one that may themselves be chosen.
fn beaten_by(view: View<'_>, outcome: &SlotOutcome, option: &OptionOutcome) -> Vec<String> {
    let may_be_chosen =
        |better: &OptionId| outcome.options.get(better.0).is_some_and(|better| better.chosen != Truth::No);
    let better = option.beaten_by.iter().map(|(better, _)| *better).filter(may_be_chosen);
    better.map(|better| view.option_title(outcome.slot, better)).collect()
}

/// A fact that decided, with how many options it told on.
#[derive(Debug, Serialize)]
pub(super) struct Driver {
    fact: String,
    value: String,
    refusals: usize,
}

/// The facts behind most refusals of the slots of one option, most telling first.
pub(super) fn drivers(view: View<'_>, most: usize) -> Vec<Driver> {
    let mut told: BTreeMap<FactId, (Vec<usize>, usize)> = BTreeMap::new();
    for zone in view.zones() {
        for fact in telling(view, zone) {
            let (zones, count) = told.entry(fact).or_default();
            if zones.last() != Some(&zone) {
                zones.push(zone);
            }
            *count += 1;
        }
    }
    let mut found: Vec<_> = told.into_iter().collect();
    found.sort_by(|(a_fact, (_, a)), (b_fact, (_, b))| (b, a_fact).cmp(&(a, b_fact)));
    found.truncate(most);
    let shown = |zone: usize, fact| view.answer(zone, fact).map(|answer| answer.shown.clone());
    found
        .into_iter()
        .map(|(fact, (zones, refusals))| {
            let said: Vec<_> =
                zones.iter().map(|zone| (*zone, shown(*zone, fact).unwrap_or_default())).collect();
            Driver { fact: view.fact_words(fact), value: view.by_zone(&said), refusals }
        })
        .collect()
}

/// Answered facts, once for each refusal that rests on them.
fn telling(view: View<'_>, zone: usize) -> Vec<FactId> {
    let Some(outcome) = view.zone(zone) else { return Vec::new() };
    let picks_one =
        |outcome: &&SlotOutcome| view.slot(outcome.slot).is_some_and(|slot| slot.picks == Picks::One);
    let answered = |fact: &FactId| view.answer(zone, *fact).is_some_and(|answer| !answer.shown.is_empty());
    let slots = outcome.slots.iter().filter(picks_one).filter(|slot| slot.arises != Truth::No);
    let causes = slots.flat_map(|slot| &slot.options).flat_map(|option| &option.refused_by);
    causes
        .filter(|cause| cause.truth == Truth::Yes)
        .filter_map(|cause| view.book.rules.get(cause.rule.0))
        .flat_map(|rule| facts_read(view, rule))
        .filter(answered)
        .collect()
}
