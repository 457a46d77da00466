//! The words of an explanation.

mod paragraphs;

use std::fmt::Write as _;

use indexmap::IndexMap;

use super::target::Target;
use crate::cli::load::Decided;
use crate::inference::outcome::{Cause, LimitOutcome, SlotOutcome};
use crate::inference::{Ready, Truth};
use crate::rulebook::book::{Bound, EffectKind, OptionId, Picks, QuantityId, RuleId, SlotId};
use crate::rulebook::book::{ClauseId, FactId, FindingId};
use crate::units::print;
use paragraphs::{Teller, standing};

/// The whole answer, zone by zone.
pub(super) fn overview(decided: &Decided, zones: &[usize]) -> String {
    let ready = Ready::of(&decided.book);
    let mut text = String::new();
    for index in zones {
        let Some(teller) = Teller::new(decided, &ready, *index) else { continue };
        let _ = writeln!(text, "{}", teller.heading());
        text.push_str(&zone(&teller));
        text.push('\n');
    }
    text.push_str(&questions(decided, zones));
    text
}

/// Each target in each zone; zones with the same explanation share it.
pub(super) fn explained(decided: &Decided, targets: &[Target], zones: &[usize]) -> String {
    let ready = Ready::of(&decided.book);
    let mut text = String::new();
    for target in targets {
        let mut by_words: IndexMap<String, Vec<String>> = IndexMap::new();
        for index in zones {
            if let Target::Zone(other) = target
                && other != index
            {
                continue;
            }
            if let Some(teller) = Teller::new(decided, &ready, *index) {
                by_words.entry(explanation(&teller, *target)).or_default().push(teller.zone.code.clone());
            }
        }
        for (words, codes) in by_words {
            let _ = writeln!(text, "{} in {}: {words}", title(decided, *target), codes.join(", "));
        }
    }
    text
}

fn title(decided: &Decided, target: Target) -> String {
    let book = &decided.book;
    let name = match target {
        Target::Option(slot, option) => {
            let declared = book.slots.get(slot.0);
            let catalogue = declared.and_then(|slot| book.catalogues.get(slot.catalogue.0));
            let row = catalogue.and_then(|catalogue| catalogue.options.get(option.0));
            row.zip(declared).map(|(row, slot)| format!("{} ({})", row.title, slot.name))
        }
        Target::Slot(slot) => book.slots.get(slot.0).map(|it| it.name.clone()),
        Target::Clause(clause) => book.clauses.get(clause.0).map(|it| format!("clause {}", it.name)),
        Target::Rule(rule) => book.rules.get(rule.0).map(|it| format!("rule {}", it.name)),
        Target::Limit(quantity) => book.quantities.get(quantity.0).map(|it| format!("limit on {}", it.name)),
        Target::Finding(finding) => book.findings.get(finding.0).map(|it| format!("finding {}", it.name)),
        Target::Fact(fact) => book.facts.get(fact.0).map(|it| it.name.clone()),
        Target::Zone(_) => Some("everything decided".to_owned()),
    };
    name.unwrap_or_default()
}

fn explanation(teller: &Teller<'_>, target: Target) -> String {
    match target {
        Target::Option(slot, option) => option_words(teller, slot, option),
        Target::Slot(slot) => slot_words(teller, slot),
        Target::Clause(clause) => clause_words(teller, clause),
        Target::Rule(rule) => rule_words(teller, rule),
        Target::Limit(quantity) => limit_words(teller, quantity),
        Target::Finding(finding) => finding_words(teller, finding),
        Target::Fact(fact) => fact_words(teller, fact),
        Target::Zone(_) => format!("\n{}", zone(teller)),
    }
}

fn option_words(teller: &Teller<'_>, slot: SlotId, option: OptionId) -> String {
    let Some(outcome) = teller.slot(slot) else { return String::new() };
    let Some(own) = outcome.options.get(option.0) else { return String::new() };
    let mut text = format!("{}\n", standing(outcome, option));
    for cause in &own.refused_by {
        text.push_str(&teller.refusal(slot, option, cause));
    }
    if own.refused != Truth::Yes {
        for (better, truth) in &own.beaten_by {
            let sure = if *truth == Truth::Yes { "is preferred" } else { "may be preferred" };
            let left = outcome.options.get(better.0).is_some_and(|better| better.refused.is_settled());
            let left = if left { "" } else { ", if it is not refused" };
            let _ = writeln!(text, "  {} {sure} to it{left}", teller.option_title(slot, *better));
        }
    }
    text.push_str(&teller.changes_of_option(slot, option));
    text
}

fn slot_words(teller: &Teller<'_>, slot: SlotId) -> String {
    let Some(outcome) = teller.slot(slot) else { return String::new() };
    let mut text = format!("{}\n", teller.choice(outcome));
    for option in 0..outcome.options.len() {
        let option = OptionId(option);
        let _ = writeln!(text, "  {}: {}", teller.option_title(slot, option), standing(outcome, option));
    }
    text
}

fn clause_words(teller: &Teller<'_>, clause: ClauseId) -> String {
    let Some(duty) = teller.outcome.clauses.iter().find(|duty| duty.clause == clause) else {
        return "not required\n".to_owned();
    };
    let mut text = format!("required, {}\n", teller.mark(&duty.mark));
    for cause in &duty.causes {
        text.push_str(&teller.rule(cause.rule));
    }
    text
}

fn rule_words(teller: &Teller<'_>, rule: RuleId) -> String {
    let truth = teller.outcome.decisions.rules.get(rule.0).copied().unwrap_or(Truth::No);
    let applies = match truth {
        Truth::No => "does not apply".to_owned(),
        Truth::Yes => "applies".to_owned(),
        Truth::Unknown => {
            format!("may apply; until these are known it does, on the safe side: {}", teller.open_facts(rule))
        }
    };
    format!("{applies}\n{}{}", teller.rule(rule), teller.changes_of_rule(rule))
}

fn limit_words(teller: &Teller<'_>, quantity: QuantityId) -> String {
    let limits = teller.outcome.limits.iter().filter(|limit| limit.quantity == quantity);
    let mut text: String = limits.map(|limit| one_limit(teller, limit)).collect();
    if text.is_empty() {
        "no limit\n".clone_into(&mut text);
    }
    text
}

fn one_limit(teller: &Teller<'_>, limit: &LimitOutcome) -> String {
    let bound = bound_words(limit.bound);
    let mut text = String::new();
    for (index, entry) in limit.entries.iter().enumerate() {
        let rank = if index == 0 { "binding" } else { "behind it" };
        let figure = print(&entry.value, teller.system());
        let _ = writeln!(text, "{bound} {figure} ({rank}, {})", teller.mark(&entry.mark));
        text.push_str(&teller.rule(entry.cause.rule));
    }
    text
}

fn bound_words(bound: Bound) -> &'static str {
    match bound {
        Bound::AtMost => "not more than",
        Bound::AtLeast => "not less than",
    }
}

fn finding_words(teller: &Teller<'_>, finding: FindingId) -> String {
    let Some(declared) = teller.decided.book.findings.get(finding.0) else { return String::new() };
    let truth = teller.outcome.decisions.findings.get(finding.0).copied().unwrap_or(Truth::Unknown);
    format!("{}\n{}", truth.word(), teller.ground(&declared.ground, &declared.when))
}

fn fact_words(teller: &Teller<'_>, fact: FactId) -> String {
    let answer = teller.explainer.answer(fact);
    let mut text = if answer.is_empty() { "not answered\n".to_owned() } else { format!("{answer}\n") };
    if let Some(known) = teller.facts.of(fact) {
        if let Some(working) = &known.working {
            let _ = writeln!(text, "  worked out   {working}");
        }
        for missing in &known.missing {
            let _ = writeln!(text, "  missing      {missing}");
        }
        for by_option in &known.shown_by_option {
            let _ = writeln!(text, "  by option    {by_option}");
        }
    }
    let rules: Vec<&str> = teller.rules_reading(fact);
    if !rules.is_empty() {
        let _ = writeln!(text, "  read by      {}", rules.join(", "));
    }
    text
}

/// Everything of a zone in a few lines.
fn zone(teller: &Teller<'_>) -> String {
    let mut text = String::new();
    for outcome in teller.outcome.slots.iter().filter(|slot| slot.arises.is_shown()) {
        let name =
            teller.decided.book.slots.get(outcome.slot.0).map(|slot| slot.name.as_str()).unwrap_or_default();
        let _ = writeln!(text, "  {name}: {}", teller.choice(outcome));
    }
    for stop in &teller.outcome.stops {
        let _ = writeln!(text, "  stop: {}", teller.stop(stop));
    }
    for limit in &teller.outcome.limits {
        if let Some(entry) = limit.binding() {
            let quantity = teller.decided.book.quantities.get(limit.quantity.0);
            let quantity = quantity.map(|quantity| quantity.name.as_str()).unwrap_or_default();
            let figure = print(&entry.value, teller.system());
            let rule = teller.rule_name(entry.cause.rule);
            let _ = writeln!(text, "  {quantity}: {} {figure}, by {rule}", bound_words(limit.bound));
        }
    }
    let clauses = teller.outcome.clauses.len();
    let _ = writeln!(text, "  {clauses} clauses, {} hold points", teller.outcome.hold_points.len());
    text
}

fn questions(decided: &Decided, zones: &[usize]) -> String {
    let mut text = String::new();
    for question in &decided.outcome.questions {
        let open: Vec<&str> = question
            .zones
            .iter()
            .filter(|zone| zones.contains(zone))
            .filter_map(|zone| decided.survey.zones.get(*zone))
            .map(|zone| zone.code.as_str())
            .collect();
        let Some(fact) = decided.book.facts.get(question.fact.0) else { continue };
        if open.is_empty() {
            continue;
        }
        if text.is_empty() {
            text.push_str("open questions, the one that would settle most first\n");
        }
        let _ = writeln!(
            text,
            "  {} ({}): an answer settles {} to {} open matters",
            fact.name,
            open.join(", "),
            question.settles_at_least,
            question.settles_at_most
        );
    }
    text
}

/// Whether the cause is a refusal, and of what.
fn refused_by(decided: &Decided, cause: &Cause) -> Option<crate::rulebook::book::Refused> {
    match &decided.book.rules.get(cause.rule.0)?.effects.get(cause.effect)?.kind {
        EffectKind::Refuse { which, .. } => Some(which.clone()),
        _ => None,
    }
}

/// Whether a slot takes one option.
fn picks_one(decided: &Decided, outcome: &SlotOutcome) -> bool {
    decided.book.slots.get(outcome.slot.0).is_some_and(|slot| slot.picks == Picks::One)
}
