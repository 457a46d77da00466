//! What a question looks for in a survey, said once and read twice: as gates over every survey, and as values in one
//! survey that the evaluator reads, so that each witness is checked by code that shares nothing with the proof.

use std::sync::Arc;

use super::circuit::Bit;
use super::compile::Bench;
use super::tri::Tri;
use crate::inference::Truth;
use crate::inference::decide::Eyes;
use crate::inference::limits::strict_end;
use crate::rulebook::book::{
    Book, Bound, ClauseId, Condition, EffectKind, FindingId, LimitValue, OptionId, Picks, QuantityId, RuleId,
    SlotId,
};
use crate::units::Quantity;

/// Something that a survey decides.
#[derive(Clone, Debug)]
pub(crate) enum Sight<'b> {
    /// A condition holds.
    Condition(&'b Condition),
    /// A finding holds.
    Finding(FindingId),
    /// At least one of these rules applies.
    Rules(Vec<RuleId>),
    /// An option is refused.
    Refused(SlotId, OptionId),
    /// A slot that arises has every option refused.
    NothingLeft(SlotId),
    /// A slot that arises has preferences that run in a circle.
    Circle(SlotId),
    /// A stop stands: a rule's, or one for a slot that gets nothing.
    Stopped,
    /// A clause is required.
    Clause(ClauseId),
    /// A limit at least as strict as this figure stands; rules left out of account come last.
    Limited(QuantityId, Bound, &'b Quantity, Option<RuleId>),
    /// An option of a slot is chosen.
    Chosen(SlotId, OptionId),
}

/// What the truth must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Want {
    /// Certainly so.
    Yes,
    /// Certainly not so.
    No,
    /// Not known.
    Unknown,
    /// Not certainly false: a duty is shown.
    Shown,
}

impl Want {
    fn of(self, truth: Truth) -> bool {
        match self {
            Self::Yes => truth == Truth::Yes,
            Self::No => truth == Truth::No,
            Self::Unknown => truth == Truth::Unknown,
            Self::Shown => truth != Truth::No,
        }
    }
}

/// What is looked for: all of these in one survey.
pub(crate) type Goal<'b> = Vec<(Sight<'b>, Want)>;

/// A goal as a wire.
pub(crate) fn laid(bench: &mut Bench<'_>, goal: &Goal<'_>) -> Bit {
    let mut all = Bit::TRUE;
    for (sight, want) in goal {
        let truth = laid_sight(bench, sight);
        let bit = match want {
            Want::Yes => truth.yes,
            Want::No => truth.no,
            Want::Unknown => bench.circuit.and(!truth.yes, !truth.no),
            Want::Shown => !truth.no,
        };
        all = bench.circuit.and(all, bit);
    }
    all
}

/// Whether the evaluator finds a goal reached in a survey that it has read.
pub(crate) fn reached(book: &Book, eyes: Eyes<'_>, goal: &Goal<'_>) -> bool {
    goal.iter().all(|(sight, want)| want.of(seen(book, eyes, sight)))
}

pub(crate) fn laid_sight(bench: &mut Bench<'_>, sight: &Sight<'_>) -> Tri {
    match sight {
        Sight::Condition(condition) => bench.holds(condition),
        Sight::Finding(finding) => bench.finding(*finding),
        Sight::Rules(rules) => {
            let truths: Vec<Tri> = rules.iter().map(|rule| bench.rule(*rule)).collect();
            bench.circuit.some(truths)
        }
        Sight::Refused(slot, option) => bench.slot(*slot).refused.get(option.0).copied().unwrap_or(Tri::NO),
        Sight::NothingLeft(slot) => {
            let wires = bench.slot(*slot).clone();
            let all = bench.circuit.every(wires.refused.iter().copied());
            bench.circuit.both(wires.arises(), all)
        }
        Sight::Circle(slot) => {
            let wires = bench.slot(*slot).clone();
            bench.circuit.both(wires.arises(), wires.circular())
        }
        Sight::Stopped => {
            let parts: Vec<Tri> = stops(bench.book).iter().map(|part| laid_sight(bench, part)).collect();
            bench.circuit.some(parts)
        }
        Sight::Clause(clause) => {
            let effects = Arc::clone(&bench.made.effects);
            let truths: Vec<Tri> = effects.requiring(*clause).iter().map(|rule| bench.rule(*rule)).collect();
            bench.circuit.some(truths)
        }
        Sight::Limited(quantity, bound, figure, without) => {
            let effects = Arc::clone(&bench.made.effects);
            let mut any = Tri::NO;
            for end in effects.limiting(*quantity, *bound, figure).filter(|end| *without != Some(end.rule)) {
                let applies = bench.rule(end.rule);
                let here = match end.chosen {
                    None => applies,
                    Some((slot, option)) => {
                        let chosen = bench.slot(slot).chosen.get(option.0).copied().unwrap_or(Tri::NO);
                        bench.circuit.both(applies, chosen)
                    }
                };
                any = bench.circuit.either(any, here);
            }
            any
        }
        Sight::Chosen(slot, option) => bench.slot(*slot).chosen.get(option.0).copied().unwrap_or(Tri::NO),
    }
}

pub(crate) fn seen(book: &Book, eyes: Eyes<'_>, sight: &Sight<'_>) -> Truth {
    let made = eyes.decisions;
    let rule = |rule: &RuleId| made.rules.get(rule.0).copied().unwrap_or(Truth::No);
    let arises = |slot: &SlotId| made.arises.get(slot.0).copied().unwrap_or(Truth::No);
    let of_option = |table: &[Vec<Truth>], slot: &SlotId, option: &OptionId| {
        table.get(slot.0).and_then(|row| row.get(option.0)).copied().unwrap_or(Truth::No)
    };
    match sight {
        Sight::Condition(condition) => eyes.holds(condition),
        Sight::Finding(finding) => made.findings.get(finding.0).copied().unwrap_or(Truth::No),
        Sight::Rules(rules) => rules.iter().map(rule).fold(Truth::No, Truth::or),
        Sight::Refused(slot, option) => of_option(&made.refused, slot, option),
        Sight::NothingLeft(slot) => {
            let refused = made.refused.get(slot.0).map_or(&[][..], Vec::as_slice);
            refused.iter().copied().fold(arises(slot), Truth::and)
        }
        Sight::Circle(slot) => arises(slot).and(made.circular.get(slot.0).copied().unwrap_or(Truth::No)),
        Sight::Stopped => stops(book).iter().map(|part| seen(book, eyes, part)).fold(Truth::No, Truth::or),
        Sight::Clause(clause) => requiring(book, *clause).iter().map(rule).fold(Truth::No, Truth::or),
        Sight::Limited(quantity, bound, figure, without) => {
            limiting(book, *quantity, *bound, figure, *without)
                .iter()
                .map(|(from, chosen)| match chosen {
                    None => rule(from),
                    Some((slot, option)) => rule(from).and(of_option(&made.chosen, slot, option)),
                })
                .fold(Truth::No, Truth::or)
        }
        Sight::Chosen(slot, option) => of_option(&made.chosen, slot, option),
    }
}

/// What brings a stop: rules, and slots that get nothing.
fn stops(book: &Book) -> Vec<Sight<'static>> {
    let mut parts = vec![Sight::Rules(stopping(book))];
    for (slot, declared) in book.slots.iter().enumerate().filter(|(_, slot)| slot.picks == Picks::One) {
        if book.catalogues.get(declared.catalogue.0).is_some() {
            parts.extend([Sight::NothingLeft(SlotId(slot)), Sight::Circle(SlotId(slot))]);
        }
    }
    parts
}

/// The rules that stop.
pub(crate) fn stopping(book: &Book) -> Vec<RuleId> {
    having(book, |kind| matches!(kind, EffectKind::Stop { .. }))
}

/// The rules that require a clause.
pub(crate) fn requiring(book: &Book, clause: ClauseId) -> Vec<RuleId> {
    having(book, |kind| matches!(kind, EffectKind::Require(other) if *other == clause))
}

/// The rules with such an effect.
pub(crate) fn having(book: &Book, wanted: impl Fn(&EffectKind) -> bool) -> Vec<RuleId> {
    let rules = book.rules.iter().enumerate();
    rules
        .filter(|(_, rule)| rule.effects.iter().any(|effect| wanted(&effect.kind)))
        .map(|(rule, _)| RuleId(rule))
        .collect()
}

/// The limits at least as strict as a figure: the rule, and the option whose column it is. Limits that are a fact's
/// value are left out: what they come to is not known here.
pub(crate) fn limiting(
    book: &Book,
    quantity: QuantityId,
    bound: Bound,
    figure: &Quantity,
    without: Option<RuleId>,
) -> Vec<(RuleId, Option<(SlotId, OptionId)>)> {
    let mut found = Vec::new();
    for (rule, declared) in book.rules.iter().enumerate().filter(|(rule, _)| without != Some(RuleId(*rule))) {
        for effect in &declared.effects {
            let EffectKind::Limit { quantity: of, bound: side, value } = &effect.kind else { continue };
            if *of != quantity || *side != bound {
                continue;
            }
            let figures = figures(book, value, bound).into_iter();
            let strict = figures.filter(|(own, _)| bound.comparison().holds(own.value(), figure.value()));
            found.extend(strict.map(|(_, chosen)| (RuleId(rule), chosen)));
        }
    }
    found
}

/// The figures that a limit can come to, each with the option that brings it.
pub(crate) fn figures(
    book: &Book,
    value: &LimitValue,
    bound: Bound,
) -> Vec<(Quantity, Option<(SlotId, OptionId)>)> {
    match value {
        LimitValue::Literal(figure) => vec![(figure.clone(), None)],
        LimitValue::Fact(_) => Vec::new(),
        LimitValue::Column { slot, column } => {
            let catalogue = book.slots.get(slot.0).and_then(|slot| book.catalogues.get(slot.catalogue.0));
            let Some(catalogue) = catalogue else { return Vec::new() };
            let options = (0..catalogue.options.len()).map(OptionId);
            options
                .filter_map(|option| {
                    let figure = strict_end(&catalogue.cell(option, *column)?.value, bound)?;
                    Some((figure, Some((*slot, option))))
                })
                .collect()
        }
    }
}
