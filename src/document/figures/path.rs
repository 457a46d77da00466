//! The path of a decision (R1): for each group of zones, how its coating was chosen and what the choice brings.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::{grouped, zones_words};
use crate::document::papers::Desk;
use crate::document::reasons::facts_that_hold;
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{PathBox, RulePath, Sure, rule_path};
use crate::inference::outcome::{Mark, SlotOutcome};
use crate::inference::truth::Truth;
use crate::rulebook::book::{EffectKind, FactId, Origin, RuleId, SlotId, TestKind};

/// No more paths are drawn: the tables hold the rest, and the last figure says how many they are.
const MOST: usize = 6;

/// A rule that speaks on the choice.
struct Speaks {
    rule: RuleId,
    /// How many options it refuses.
    refuses: usize,
    /// How many options that are left it puts the chosen one before.
    prefers: usize,
    certain: bool,
    facts: BTreeSet<FactId>,
}

/// The paths of the coating, for zones where it is to be chosen.
pub(super) fn paths(desk: Desk<'_>) -> Vec<Drawing> {
    let view = desk.view;
    let named = view.book.slots.iter().position(|slot| slot.name == desk.templates.site.coat.slot);
    let Some(slot) = named.map(SlotId) else { return Vec::new() };
    let groups = (1..).zip(grouped(view, |zone| path(view, zone, slot)));
    let mut groups: Vec<_> = groups.filter(|(_, (_, path)): &(u32, _)| !path.rules.is_empty()).collect();
    let rest = groups.split_off(groups.len().min(MOST));
    let undrawn = (rest.len(), rest.iter().map(|(_, (zones, _))| zones.len()).sum());
    let last = groups.len();
    let drawn = (1..).zip(groups).filter_map(|(place, (number, (zones, path)))| {
        rule_path(&RulePath {
            id: format!("rule-path-{number}"),
            zones: zones_words(view, &zones),
            undrawn: if place == last { undrawn } else { (0, 0) },
            ..path
        })
    });
    drawn.collect()
}

fn path(view: View<'_>, zone: usize, slot: SlotId) -> Option<RulePath> {
    let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No)?;
    let rules = speaking(view, zone, outcome);
    let facts = facts(&rules);
    let reads = rules.iter().enumerate().flat_map(|(rule, speaks)| {
        let read = facts.iter().enumerate().filter(|(_, fact)| speaks.facts.contains(fact));
        read.map(move |(fact, _)| (fact, rule))
    });
    let refused = outcome.options.iter().filter(|option| option.refused == Truth::Yes).count();
    Some(RulePath {
        id: String::new(),
        zones: None,
        reads: reads.collect(),
        facts: facts.iter().map(|fact| fact_box(view, zone, *fact)).collect(),
        rules: rules.iter().map(|rule| rule_box(view, rule)).collect(),
        choice: choice(view, zone, outcome),
        refused: (refused, outcome.options.len()),
        follows: follows(view, zone, slot),
        undrawn: (0, 0),
    })
}

/// The rules that refuse options, those that refuse most first, then those that prefer the chosen one to what is left.
fn speaking(view: View<'_>, zone: usize, outcome: &SlotOutcome) -> Vec<Speaks> {
    let mut found: Vec<Speaks> = Vec::new();
    for cause in outcome.options.iter().flat_map(|option| &option.refused_by) {
        let certain = cause.truth == Truth::Yes;
        match found.iter_mut().find(|known| known.rule == cause.rule) {
            Some(known) => {
                known.refuses += 1;
                known.certain |= certain;
            }
            None => found.extend(speaks(view, zone, cause.rule, (1, 0), certain)),
        }
    }
    found.sort_by_key(|rule| (!rule.certain, Reverse(rule.refuses)));
    for (at, rule) in view.book.rules.iter().enumerate() {
        let truth =
            view.zone(zone).and_then(|zone| zone.decisions.rules.get(at)).copied().unwrap_or(Truth::No);
        let pairs = rule.effects.iter().filter_map(|effect| match &effect.kind {
            EffectKind::Prefer { slot, pairs } if *slot == outcome.slot => Some(pairs),
            _ => None,
        });
        let is_left =
            |option: usize| outcome.options.get(option).is_some_and(|one| one.refused != Truth::Yes);
        let over =
            pairs.flatten().filter(|(better, worse)| outcome.pick == Some(*better) && is_left(worse.0));
        let prefers = over.count();
        if truth != Truth::No && prefers > 0 {
            found.extend(speaks(view, zone, RuleId(at), (0, prefers), truth == Truth::Yes));
        }
    }
    found
}

fn speaks(
    view: View<'_>,
    zone: usize,
    rule: RuleId,
    (refuses, prefers): (usize, usize),
    certain: bool,
) -> Option<Speaks> {
    let facts = facts_that_hold(view, zone, view.book.rules.get(rule.0)?);
    Some(Speaks { rule, refuses, prefers, certain, facts })
}

/// Facts, those that most rules read first.
fn facts(rules: &[Speaks]) -> Vec<FactId> {
    let all: BTreeSet<FactId> = rules.iter().flat_map(|rule| &rule.facts).copied().collect();
    let mut facts: Vec<FactId> = all.into_iter().collect();
    facts.sort_by_key(|fact| Reverse(rules.iter().filter(|rule| rule.facts.contains(fact)).count()));
    facts
}

fn sure(certain: bool) -> Sure {
    if certain { Sure::Yes } else { Sure::No }
}

fn fact_box(view: View<'_>, zone: usize, fact: FactId) -> PathBox {
    let origin = view.book.facts.get(fact.0).map(|fact| &fact.origin);
    if let Some(Origin::Worked { per_option_of: Some(_), .. }) = origin {
        let (title, detail) = (view.fact_words(fact), "a figure for each option".to_owned());
        return PathBox { title, detail, sure: Sure::Yes };
    }
    let answered = view.answer(zone, fact).is_some_and(|answer| !answer.shown.is_empty());
    PathBox { title: view.fact_words(fact), detail: view.shown(zone, fact), sure: sure(answered) }
}

fn rule_box(view: View<'_>, speaks: &Speaks) -> PathBox {
    let options = |count: usize| if count == 1 { "1 option".to_owned() } else { format!("{count} options") };
    let detail = match (speaks.refuses, speaks.certain) {
        (0, true) => format!("puts it before {}", options(speaks.prefers)),
        (0, false) => format!("may put it before {}", options(speaks.prefers)),
        (refuses, true) => format!("refuses {}", options(refuses)),
        (refuses, false) => format!("may refuse {}", options(refuses)),
    };
    PathBox { title: view.rule_name(speaks.rule), detail, sure: sure(speaks.certain) }
}

fn choice(view: View<'_>, zone: usize, outcome: &SlotOutcome) -> PathBox {
    let Some(pick) = outcome.pick else {
        return PathBox { title: "nothing is left".to_owned(), detail: String::new(), sure: Sure::Yes };
    };
    let open = view.is_open(zone, outcome.slot);
    let detail = if open { "for now" } else { "certain" };
    PathBox { title: view.option_title(outcome.slot, pick), detail: detail.to_owned(), sure: sure(!open) }
}

/// The clauses that rules require because of what is chosen.
fn follows(view: View<'_>, zone: usize, slot: SlotId) -> Vec<PathBox> {
    let asks = |rule: &RuleId| {
        let tests = view.book.rules.get(rule.0).map(|rule| rule.when.tests()).unwrap_or_default();
        tests.iter().any(|test| match &test.kind {
            TestKind::Chosen { slot: own, .. } | TestKind::ChosenWhose { slot: own, .. } => *own == slot,
            _ => false,
        })
    };
    let duties = view.zone(zone).map_or(&[][..], |zone| &zone.clauses);
    let own = duties.iter().filter(|duty| !matches!(duty.mark, Mark::IfChosen(..)));
    let boxes = own.filter_map(|duty| {
        let cause = duty.causes.iter().find(|cause| asks(&cause.rule))?;
        let clause = view.book.clauses.get(duty.clause.0)?;
        Some(PathBox {
            title: clause.subject.clone(),
            detail: view.rule_name(cause.rule),
            sure: sure(duty.truth == Truth::Yes),
        })
    });
    boxes.collect()
}
