//! Options: which was chosen, which were refused by what, and what would turn the choice.

use std::collections::BTreeMap;

use serde::Serialize;

use super::ground::grounds;
use crate::document::view::{Extent, View};
use crate::inference::explain::Explainer;
use crate::inference::outcome::{Cause, OptionOutcome, SlotOutcome};
use crate::inference::truth::Truth;
use crate::rulebook::book::{EffectKind, OptionId, Picks, Refused, SlotId};

/// The options of a slot in zones that treat them alike.
#[derive(Debug, Serialize)]
pub(super) struct OptionTable {
    slot: String,
    #[serde(flatten)]
    extent: Extent,
    options: Vec<OptionRow>,
}

/// One option.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct OptionRow {
    title: String,
    /// `chosen`, `for-now`, `possible`, `refused`, `beaten` or `passed-over`.
    result: &'static str,
    refusals: Vec<Refusal>,
    /// Options preferred to it that are still possible.
    beaten_by: Vec<String>,
}

/// A rule that refuses an option.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct Refusal {
    rule: String,
    certain: bool,
    /// What was compared, with figures; empty where the rule names the option.
    figures: String,
    /// The tests of its condition with their answers.
    grounds: Vec<String>,
}

/// Every slot's options, zones alike put together.
pub(super) fn option_tables(view: View<'_>) -> Vec<OptionTable> {
    (0..view.book.slots.len()).flat_map(|slot| tables_of(view, SlotId(slot))).collect()
}

fn tables_of(view: View<'_>, slot: SlotId) -> Vec<OptionTable> {
    let mut found: Vec<(Vec<usize>, Vec<OptionRow>)> = Vec::new();
    for zone in view.zones() {
        let Some(outcome) = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No)
        else {
            continue;
        };
        let rows = rows(view, zone, outcome);
        match found.iter_mut().find(|(_, known)| *known == rows) {
            Some((zones, _)) => zones.push(zone),
            None => found.push((vec![zone], rows)),
        }
    }
    found
        .into_iter()
        .map(|(zones, options)| OptionTable {
            slot: view.slot_words(slot),
            extent: Extent::of(view, &zones),
            options,
        })
        .collect()
}

fn rows(view: View<'_>, zone: usize, outcome: &SlotOutcome) -> Vec<OptionRow> {
    let Some(explainer) = view.explainer(zone) else { return Vec::new() };
    let in_order = view.slot(outcome.slot).is_some_and(|slot| slot.picks == Picks::InOrder);
    outcome
        .options
        .iter()
        .enumerate()
        .map(|(index, option)| {
            let id = OptionId(index);
            let picked = if in_order { outcome.sequence.contains(&id) } else { outcome.pick == Some(id) };
            OptionRow {
                title: view.option_title(outcome.slot, id),
                result: result(option, picked),
                refusals: option
                    .refused_by
                    .iter()
                    .map(|cause| refusal(view, &explainer, outcome.slot, id, cause))
                    .collect(),
                beaten_by: beaten_by(view, outcome, option),
            }
        })
        .collect()
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

fn refusal(
    view: View<'_>,
    explainer: &Explainer<'_>,
    slot: SlotId,
    option: OptionId,
    cause: &Cause,
) -> Refusal {
    let figures = match view.effect(cause.rule, cause.effect) {
        Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) => {
            let seen = explainer.compared(slot, whose, option);
            let against = seen.against.map(|against| format!("; {against}")).unwrap_or_default();
            format!("{}: {}{against}", seen.words, seen.figure)
        }
        _ => String::new(),
    };
    let rule = view.book.rules.get(cause.rule.0);
    Refusal {
        rule: view.rule_name(cause.rule),
        certain: cause.truth == Truth::Yes,
        figures,
        grounds: rule.map(|rule| grounds(explainer, &rule.when)).unwrap_or_default(),
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
    /// Zones in which it told.
    #[serde(flatten)]
    extent: Extent,
    refusals: usize,
}

/// The facts behind most refusals of the slots of one option, most telling first.
pub(super) fn drivers(view: View<'_>, most: usize) -> Vec<Driver> {
    let mut told: BTreeMap<(String, String), (Vec<usize>, usize)> = BTreeMap::new();
    for zone in view.zones() {
        for (fact, value) in view.zone(zone).map(|_| telling(view, zone)).unwrap_or_default() {
            let entry = told.entry((fact, value)).or_default();
            if entry.0.last() != Some(&zone) {
                entry.0.push(zone);
            }
            entry.1 += 1;
        }
    }
    let mut found: Vec<_> = told.into_iter().collect();
    found.sort_by(|(a_key, a), (b_key, b)| (b.1, a_key).cmp(&(a.1, b_key)));
    found.truncate(most);
    found
        .into_iter()
        .map(|((fact, value), (zones, refusals))| Driver {
            fact,
            value,
            extent: Extent::of(view, &zones),
            refusals,
        })
        .collect()
}

/// Facts with their answers, once for each refusal that rests on them.
fn telling(view: View<'_>, zone: usize) -> Vec<(String, String)> {
    use crate::inference::plan::{facts_of, facts_of_whose};
    let mut found = Vec::new();
    let Some(outcome) = view.zone(zone) else { return found };
    let picks_one =
        |outcome: &&SlotOutcome| view.slot(outcome.slot).is_some_and(|slot| slot.picks == Picks::One);
    for slot in outcome.slots.iter().filter(picks_one).filter(|slot| slot.arises != Truth::No) {
        for cause in slot
            .options
            .iter()
            .flat_map(|option| &option.refused_by)
            .filter(|cause| cause.truth == Truth::Yes)
        {
            let Some(rule) = view.book.rules.get(cause.rule.0) else { continue };
            let mut facts = facts_of(&rule.when);
            facts.extend(super::ground::facts_of_findings(view, &rule.when));
            if let Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) =
                view.effect(cause.rule, cause.effect)
            {
                facts.extend(facts_of_whose(whose));
            }
            let answers = facts.into_iter().filter_map(|fact| {
                let answer = view.answer(zone, fact)?;
                (!answer.shown.is_empty()).then(|| (view.fact_words(fact), answer.shown.clone()))
            });
            found.extend(answers);
        }
    }
    found
}
