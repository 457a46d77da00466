//! The rules that a counterexample turns on, each with what it does there.

use std::collections::BTreeSet;

use super::goal::{requiring, stopping};
use super::question::About;
use crate::diagnostic::Place;
use crate::inference::Truth;
use crate::inference::outcome::Decisions;
use crate::rulebook::book::{Book, Claim, Condition, EffectKind, RuleId, SlotId, TestKind};

/// More would hide what matters.
const MOST: usize = 6;

/// The rules concerned, with a word on each.
pub(crate) fn involved(book: &Book, about: About, made: &Decisions) -> Vec<(Place, String)> {
    match about {
        About::Broken(promise) | About::Unsure(promise) => of_promise(book, promise, made),
        About::NothingLeft(slot) => {
            of_slot(book, slot, made, |kind| matches!(kind, EffectKind::Refuse { .. }))
        }
        About::Ring(slot) => of_slot(book, slot, made, |kind| matches!(kind, EffectKind::Prefer { .. })),
        About::Clash(_, floor, ceiling) => [floor, ceiling]
            .iter()
            .filter_map(|(rule, effect)| {
                let effect = book.rules.get(rule.0)?.effects.get(*effect)?;
                Some((effect.place.clone(), "holds here".to_owned()))
            })
            .collect(),
        About::Applies(_) | About::Matters(_) | About::Required(_) | About::Holds(_) | About::Fails(_) => {
            Vec::new()
        }
    }
}

fn of_promise(book: &Book, promise: usize, made: &Decisions) -> Vec<(Place, String)> {
    let Some(promise) = book.promises.get(promise) else { return Vec::new() };
    match &promise.claim {
        Claim::Required(clause) | Claim::Barred(clause) => silent(book, made, &requiring(book, *clause)),
        Claim::Stopped => silent(book, made, &stopping(book)),
        Claim::OptionRefused(slot, _) => {
            of_slot(book, *slot, made, |kind| matches!(kind, EffectKind::Refuse { .. }))
        }
        Claim::Limited(quantity, ..) => {
            let rules: Vec<RuleId> = (0..book.rules.len()).map(RuleId).collect();
            let limits = |rule: &RuleId| {
                let limits = |kind: &EffectKind| matches!(kind, EffectKind::Limit { quantity: of, .. } if of == quantity);
                book.rules
                    .get(rule.0)
                    .is_some_and(|rule| rule.effects.iter().any(|effect| limits(&effect.kind)))
            };
            silent(book, made, &rules.into_iter().filter(limits).collect::<Vec<_>>())
        }
        Claim::Never(condition) => slots_of(condition)
            .into_iter()
            .flat_map(|slot| {
                let bears =
                    |kind: &EffectKind| matches!(kind, EffectKind::Refuse { .. } | EffectKind::Prefer { .. });
                of_slot(book, slot, made, bears)
            })
            .take(MOST)
            .collect(),
    }
}

fn slots_of(condition: &Condition) -> BTreeSet<SlotId> {
    let slot = |kind: &TestKind| match kind {
        TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => Some(*slot),
        _ => None,
    };
    condition.tests().iter().filter_map(|test| slot(&test.kind)).collect()
}

/// Rules that bear on a slot and apply.
fn of_slot(
    book: &Book,
    slot: SlotId,
    made: &Decisions,
    bears: impl Fn(&EffectKind) -> bool,
) -> Vec<(Place, String)> {
    let mut found = Vec::new();
    for (rule, truth) in book.rules.iter().zip(&made.rules).filter(|(_, truth)| truth.is_shown()) {
        let here = rule.effects.iter().find(|effect| {
            let own = matches!(&effect.kind, EffectKind::Refuse { slot: of, .. } | EffectKind::Prefer { slot: of, .. } if *of == slot);
            own && bears(&effect.kind)
        });
        found.extend(here.map(|effect| (effect.place.clone(), word(*truth).to_owned())));
    }
    found.truncate(MOST);
    found
}

/// Rules that would keep a promise, and what they do here.
fn silent(book: &Book, made: &Decisions, rules: &[RuleId]) -> Vec<(Place, String)> {
    let told = rules.iter().filter_map(|rule| {
        let truth = made.rules.get(rule.0)?;
        Some((book.rules.get(rule.0)?.place.clone(), word(*truth).to_owned()))
    });
    told.take(MOST).collect()
}

fn word(truth: Truth) -> &'static str {
    match truth {
        Truth::Yes => "applies here",
        Truth::Unknown => "may apply here",
        Truth::No => "does not apply here",
    }
}
