//! Questions that settle nothing: whatever is answered, the book decides the same.

use std::collections::BTreeSet;

use super::circuit::Bit;
use super::prover::Prover;
use super::report::Standing;
use super::ripple::Ripple;
use super::sample::Batch;
use super::sheet::{Dice, Openness};
use super::solve::{Solver, Verdict};
use crate::rulebook::book::{Book, EffectKind, FactId, Kind, LimitValue, Origin};
use crate::rulebook::clause::ParameterKind;

/// How many batches of 64 surveys are changed in one answer before the solver is asked.
const BATCHES: usize = 8;

/// The asked facts that only the rules can put to use: no clause prints them, no limit is their value, and nothing is
/// worked out from them.
pub(crate) fn asked(book: &Book, read_elsewhere: &[FactId]) -> Vec<FactId> {
    let mut used: BTreeSet<FactId> = read_elsewhere.iter().copied().collect();
    for parameter in book.clauses.iter().flat_map(|clause| &clause.parameters) {
        if let ParameterKind::Fact(fact) = parameter.kind {
            used.insert(fact);
        }
    }
    for effect in book.rules.iter().flat_map(|rule| &rule.effects) {
        if let EffectKind::Limit { value: LimitValue::Fact(fact), .. } = &effect.kind {
            used.insert(*fact);
        }
    }
    let is_asked = |index: &usize| {
        book.facts
            .get(*index)
            .is_some_and(|fact| matches!(fact.origin, Origin::Asked(_)) && fact.kind != Kind::Text)
    };
    (0..book.facts.len()).filter(is_asked).map(FactId).filter(|fact| !used.contains(fact)).collect()
}

/// Those of the facts that settle nothing, or of which that is not settled.
pub(crate) fn idle(prover: &mut Prover<'_>, facts: &[FactId], budget: &mut u64) -> Vec<(FactId, Standing)> {
    let outcome = outcome(prover);
    let open = unseen(prover, &outcome, facts);
    let bits: Vec<Bit> = open.iter().map(|fact| differs(prover, &outcome, *fact)).collect();
    let mut solver = Solver::new(&prover.circuit, &prover.space, *budget);
    let verdicts: Vec<Verdict> = bits.iter().map(|bit| solver.ask(*bit)).collect();
    *budget = solver.left();
    let said = |verdict: Verdict| match verdict {
        Verdict::Never => Some(Standing::NoSurvey),
        Verdict::NotSettled => Some(Standing::NotSettled),
        Verdict::Found(_) => None,
    };
    open.into_iter().zip(verdicts).filter_map(|(fact, verdict)| Some((fact, said(verdict)?))).collect()
}

/// Those of the facts of which no thrown survey, changed in that answer alone, turns out otherwise.
fn unseen(prover: &Prover<'_>, outcome: &[Bit], facts: &[FactId]) -> Vec<FactId> {
    let mut open = facts.to_vec();
    let mut dice = Dice::new(2);
    let mut ripple = Ripple::on(&prover.circuit, outcome);
    for round in 0..BATCHES {
        if open.is_empty() {
            break;
        }
        let openness = if round % 2 == 0 { Openness::Complete } else { Openness::Mixed };
        let batch = Batch::thrown(&prover.circuit, &prover.space, &mut dice, openness);
        ripple.start(&batch);
        open.retain(|fact| {
            let declared = at(prover, *fact).and_then(|index| prover.space.facts.get(index));
            !declared.is_some_and(|fact| ripple.is_seen(&batch, fact, &mut dice, openness))
        });
    }
    open
}

/// Everything that prints: rules, refusals and choices.
fn outcome(prover: &Prover<'_>) -> Vec<Bit> {
    let slots = prover.made.slots.iter();
    let slots = slots.flat_map(|slot| {
        slot.refused
            .iter()
            .chain(&slot.chosen)
            .copied()
            .chain([slot.circular(), slot.filled()])
            .collect::<Vec<_>>()
    });
    let rules = prover.made.rules.iter().copied().chain(slots);
    rules.flat_map(|truth| [truth.yes, truth.no]).collect()
}

fn at(prover: &Prover<'_>, fact: FactId) -> Option<usize> {
    prover.space.views.first()?.get(fact.0).map(|view| view.fact)
}

/// Some decision differs between two surveys that are alike but for one answer.
fn differs(prover: &mut Prover<'_>, outcome: &[Bit], fact: FactId) -> Bit {
    let Some(index) = at(prover, fact) else { return Bit::FALSE };
    let Some(twin) = prover.space.twin(index, &mut prover.circuit) else { return Bit::FALSE };
    let Some(own) = prover.space.facts.get(index) else { return Bit::FALSE };
    let wires = |fact: &super::space::SpaceFact| {
        fact.told
            .iter()
            .flatten()
            .copied()
            .chain([fact.given])
            .filter(|bit| !bit.is_constant())
            .collect::<Vec<_>>()
    };
    let with: Vec<(Bit, Bit)> = wires(own).into_iter().zip(wires(&twin)).collect();
    let other = prover.circuit.replaced(outcome, &with);
    let mut any = Bit::FALSE;
    for (one, other) in outcome.iter().zip(&other) {
        let unlike = prover.circuit.differ(*one, *other);
        any = prover.circuit.or(any, unlike);
    }
    let lawful = twin.lawful;
    prover.circuit.and(any, lawful)
}
