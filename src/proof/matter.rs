//! Whether a rule matters: whether some survey turns out otherwise when it is dropped. Each of its effects is held
//! against what the other rules do without it.

use std::sync::Arc;

use super::circuit::Bit;
use super::compile::{Bench, refusal};
use super::effects::Effects;
use super::goal::{Sight, figures, laid_sight};
use super::tri::Tri;
use crate::rulebook::book::{Bound, EffectKind, LimitValue, OptionId, QuantityId, RuleId, SlotId};

/// For each rule: some survey loses something with it.
pub(crate) fn all(bench: &mut Bench<'_>) -> Vec<Bit> {
    let effects = Arc::clone(&bench.made.effects);
    let slots = (0..bench.book.slots.len()).map(|slot| Refusals::of(bench, SlotId(slot))).collect::<Vec<_>>();
    (0..bench.book.rules.len()).map(|rule| matters(bench, &effects, &slots, RuleId(rule))).collect()
}

fn matters(bench: &mut Bench<'_>, effects: &Effects, slots: &[Refusals], rule: RuleId) -> Bit {
    let book = bench.book;
    let own = bench.rule(rule);
    let mut any = Bit::FALSE;
    let mut seen: Vec<SlotId> = Vec::new();
    for effect in book.rules.get(rule.0).map_or(&[][..], |rule| &rule.effects) {
        let lost = match &effect.kind {
            EffectKind::Require(clause) => beside(bench, rule, own, effects.requiring(*clause)),
            EffectKind::HoldPoint { name, .. } => beside(bench, rule, own, effects.holding(name)),
            // Its words are its own.
            EffectKind::Stop { .. } | EffectKind::Caution { .. } => own.shown(),
            EffectKind::Limit { quantity, bound, value: LimitValue::Fact(fact) } => {
                beside(bench, rule, own, effects.limiting_by(*quantity, *bound, *fact))
            }
            EffectKind::Limit { quantity, bound, value } => {
                limit(bench, rule, own, (*quantity, *bound), value)
            }
            EffectKind::Refuse { slot, .. } | EffectKind::Prefer { slot, .. } => {
                let first = !seen.contains(slot);
                seen.push(*slot);
                match slots.get(slot.0).filter(|_| first) {
                    Some(refusals) => choice(bench, rule, *slot, refusals),
                    None => Bit::FALSE,
                }
            }
        };
        any = bench.circuit.or(any, lost);
    }
    any
}

/// The rule says more certainly what the others say.
fn beside(bench: &mut Bench<'_>, rule: RuleId, own: Tri, all: &[RuleId]) -> Bit {
    let others: Vec<RuleId> = all.iter().copied().filter(|other| *other != rule).collect();
    let others = laid_sight(bench, &Sight::Rules(others));
    surer(bench, own, others)
}

/// One truth is surer than another.
fn surer(bench: &mut Bench<'_>, one: Tri, other: Tri) -> Bit {
    let yes = bench.circuit.and(one.yes, !other.yes);
    let shown = bench.circuit.and(one.shown(), other.no);
    bench.circuit.or(yes, shown)
}

/// No other rule bounds as strictly.
fn limit(
    bench: &mut Bench<'_>,
    rule: RuleId,
    own: Tri,
    (quantity, bound): (QuantityId, Bound),
    value: &LimitValue,
) -> Bit {
    let mut any = Bit::FALSE;
    for (figure, chosen) in figures(bench.book, value, bound) {
        let here = match chosen {
            None => own,
            Some((slot, option)) => {
                let chosen = bench.slot(slot).chosen.get(option.0).copied().unwrap_or(Tri::NO);
                bench.circuit.both(own, chosen)
            }
        };
        let others = laid_sight(bench, &Sight::Limited(quantity, bound, &figure, Some(rule)));
        let lost = surer(bench, here, others);
        any = bench.circuit.or(any, lost);
    }
    any
}

/// Who refuses what in one slot: for each rule by option what it refuses, and what those before and after it refuse.
#[derive(Debug, Default)]
struct Refusals {
    rules: Vec<RuleId>,
    own: Vec<Vec<Tri>>,
    before: Vec<Vec<Tri>>,
    after: Vec<Vec<Tri>>,
}

impl Refusals {
    fn of(bench: &mut Bench<'_>, slot: SlotId) -> Self {
        let count = bench.slot(slot).refused.len();
        let mut found = Self::default();
        for (rule, effect) in bench.refusals_of(slot) {
            if found.rules.last() != Some(&rule) {
                found.rules.push(rule);
                found.own.push(vec![Tri::NO; count]);
            }
            let (Some(own), Some(which)) = (found.own.last_mut(), refusal(bench.book, rule, effect)) else {
                continue;
            };
            let applies = bench.rule(rule);
            for (option, own) in own.iter_mut().enumerate() {
                let ruled_out = bench.ruled_out(which, OptionId(option));
                let here = bench.circuit.both(applies, ruled_out);
                *own = bench.circuit.either(*own, here);
            }
        }
        found.before = running(bench, count, found.own.iter());
        found.after = running(bench, count, found.own.iter().rev());
        found.after.reverse();
        found
    }

    /// Some option is refused less surely without the rule, and by option what the others refuse.
    fn without(&self, bench: &mut Bench<'_>, rule: RuleId) -> Option<(Bit, Vec<Tri>)> {
        let at = self.rules.iter().position(|other| *other == rule)?;
        let (own, before, after) = (self.own.get(at)?, self.before.get(at)?, self.after.get(at)?);
        let (mut any, mut without) = (Bit::FALSE, Vec::new());
        for ((own, before), after) in own.iter().zip(before).zip(after) {
            let others = bench.circuit.either(*before, *after);
            without.push(others);
            let lost = surer(bench, *own, others);
            any = bench.circuit.or(any, lost);
        }
        Some((any, without))
    }
}

/// For each rule, what those before it in this order refuse, by option.
fn running<'t>(
    bench: &mut Bench<'_>,
    count: usize,
    own: impl Iterator<Item = &'t Vec<Tri>>,
) -> Vec<Vec<Tri>> {
    let mut so_far = vec![Tri::NO; count];
    let mut found = Vec::new();
    for own in own {
        found.push(so_far.clone());
        for (so_far, own) in so_far.iter_mut().zip(own) {
            *so_far = bench.circuit.either(*so_far, *own);
        }
    }
    found
}

/// An option is refused less surely, or the slot comes out otherwise. What is chosen turns on refusals and preferences
/// alone: where a rule states no preference, its refusals say it all.
fn choice(bench: &mut Bench<'_>, rule: RuleId, slot: SlotId, refusals: &Refusals) -> Bit {
    let without = refusals.without(bench, rule);
    let mut any = without.as_ref().map_or(Bit::FALSE, |(any, _)| *any);
    let prefers = |kind: &EffectKind| matches!(kind, EffectKind::Prefer { slot: of, .. } if *of == slot);
    let declared = bench.book.rules.get(rule.0);
    if !declared.is_some_and(|rule| rule.effects.iter().any(|effect| prefers(&effect.kind))) {
        return any;
    }
    let with = bench.slot(slot);
    let refused = without.map_or_else(|| with.refused.clone(), |(_, refused)| refused);
    let Some(without) = bench.settled_without(slot, rule, refused) else { return any };
    let circular = bench.circuit.unlike(with.circular(), without.circular());
    any = bench.circuit.or(any, circular);
    for (one, other) in with.chosen.iter().zip(&without.chosen) {
        let unlike = bench.circuit.unlike(*one, *other);
        any = bench.circuit.or(any, unlike);
    }
    any
}
