//! Whether a rule matters: whether some survey turns out otherwise when it is dropped. Each of its effects is held
//! against what the other rules do without it.

use super::circuit::Bit;
use super::compile::Bench;
use super::goal::{Sight, figures, having, laid_sight};
use super::tri::Tri;
use crate::rulebook::book::{Bound, EffectKind, LimitValue, QuantityId, RuleId, SlotId};

/// Some survey loses something with the rule.
pub(crate) fn matters(bench: &mut Bench<'_>, rule: RuleId) -> Bit {
    let book = bench.book;
    let own = bench.rule(rule);
    let mut any = Bit::FALSE;
    let mut slots: Vec<SlotId> = Vec::new();
    for effect in book.rules.get(rule.0).map_or(&[][..], |rule| &rule.effects) {
        let lost = match &effect.kind {
            EffectKind::Require(clause) => {
                let others =
                    having(book, |kind| matches!(kind, EffectKind::Require(other) if other == clause));
                beside(bench, rule, own, &others)
            }
            EffectKind::HoldPoint { name, .. } => {
                let same = |kind: &EffectKind| matches!(kind, EffectKind::HoldPoint { name: other, .. } if other == name);
                let others = having(book, same);
                beside(bench, rule, own, &others)
            }
            // Its words are its own.
            EffectKind::Stop { .. } | EffectKind::Caution { .. } => own.shown(),
            EffectKind::Limit { quantity, bound, value } => {
                limit(bench, rule, own, (*quantity, *bound), value)
            }
            EffectKind::Refuse { slot, .. } | EffectKind::Prefer { slot, .. } => {
                let first = !slots.contains(slot);
                slots.push(*slot);
                if first { choice(bench, rule, *slot) } else { Bit::FALSE }
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
    if let LimitValue::Fact(fact) = value {
        let same = |kind: &EffectKind| {
            matches!(kind, EffectKind::Limit { quantity: of, bound: side, value: LimitValue::Fact(other) }
                if *of == quantity && *side == bound && other == fact)
        };
        let others = having(bench.book, same);
        return beside(bench, rule, own, &others);
    }
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

/// The slot comes out otherwise, or an option is refused less surely.
fn choice(bench: &mut Bench<'_>, rule: RuleId, slot: SlotId) -> Bit {
    let with = bench.slot(slot);
    let Some(without) = bench.settled_without(slot, rule) else { return Bit::FALSE };
    let pairs = with.refused.iter().zip(&without.refused).chain(with.chosen.iter().zip(&without.chosen));
    let mut any = bench.circuit.unlike(with.circular(), without.circular());
    for (one, other) in pairs {
        let unlike = bench.circuit.unlike(*one, *other);
        any = bench.circuit.or(any, unlike);
    }
    any
}
