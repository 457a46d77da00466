//! The gates, the evaluator and its flat form against each other: all read the same thrown surveys, and whatever they
//! disagree on is told. The tests do this on random books; a wrong gate would make every proof worthless.

use super::circuit::Bit;
use super::prover::Prover;
use super::sample::{Batch, LANES};
use super::sheet::{Dice, Openness, Sheet};
use super::tri::Tri;
use crate::inference::decide::{Case, Reading, decide};
use crate::inference::outcome::Decisions;
use crate::inference::{Flat, Ready, Slate, Truth};
use crate::rulebook::book::Book;

/// Throws so many times 64 surveys and reads each both ways. One line for each decision on which the two disagree.
pub fn disagreements(book: &Book, batches: u64, seed: u64) -> Vec<String> {
    let Ready { plan, flat, .. } = Ready::of(book);
    let prover = Prover::of(book, &plan, &[]);
    let mut slate = flat.slate();
    let mut dice = Dice::new(seed);
    let mut told = Vec::new();
    for round in 0..batches {
        let openness = if round % 2 == 0 { Openness::Mixed } else { Openness::Complete };
        let batch = Batch::thrown(&prover.circuit, &prover.space, &mut dice, openness);
        for lane in 0..LANES {
            let sheet = batch.sheet(&prover.space, lane);
            told.extend(flatly(&prover, &flat, &mut slate, &sheet));
            told.extend(compared(&prover, &batch, lane, &sheet));
        }
    }
    told
}

fn compared(prover: &Prover<'_>, batch: &Batch, lane: usize, sheet: &Sheet) -> Vec<String> {
    let facts = sheet.facts(&prover.space, 0);
    let made = decide(prover.book, prover.plan, Case::new(&facts, &[]), Reading::Open);
    let so = |bit: Bit| batch.where_so(bit) & (1 << lane) != 0;
    let truth = |tri: Tri| match (so(tri.yes), so(tri.no)) {
        (true, false) => Some(Truth::Yes),
        (false, true) => Some(Truth::No),
        (false, false) => Some(Truth::Unknown),
        (true, true) => None,
    };
    let mut told = Vec::new();
    for (what, tri, by_value) in pairs(prover, &made) {
        let by_gate = truth(tri);
        if by_gate != Some(by_value) {
            told.push(format!("{what}: gates say {by_gate:?}, the evaluator {by_value:?}"));
        }
    }
    told.extend(cells(prover, &made, so));
    let lawful = prover.space.facts.iter().filter(|fact| !so(fact.lawful));
    told.extend(lawful.map(|fact| format!("{}: thrown as no survey can say it", fact.name)));
    told
}

/// What the flat form decides otherwise than the evaluator.
fn flatly(prover: &Prover<'_>, flat: &Flat, slate: &mut Slate, sheet: &Sheet) -> Vec<String> {
    let facts = sheet.facts(&prover.space, 0);
    let case = Case::new(&facts, &[]);
    flat.read(case, slate);
    slate.unlike(flat, &decide(prover.book, prover.plan, case, Reading::Open))
}

/// Every decision as gates and as the evaluator has it.
fn pairs(prover: &Prover<'_>, made: &Decisions) -> Vec<(String, Tri, Truth)> {
    let (book, gates) = (prover.book, &prover.made);
    let mut all = Vec::new();
    let findings = gates.findings.iter().zip(&made.findings).zip(&book.findings);
    all.extend(findings.map(|((tri, truth), finding)| (finding.name.clone(), *tri, *truth)));
    let rules = gates.rules.iter().zip(&made.rules).zip(&book.rules);
    all.extend(rules.map(|((tri, truth), rule)| (rule.name.clone(), *tri, *truth)));
    for (index, wires) in gates.slots.iter().enumerate() {
        let one = |table: &[Truth]| table.get(index).copied().unwrap_or(Truth::No);
        all.push((format!("slot {index} arises"), wires.arises(), one(&made.arises)));
        all.push((format!("slot {index} filled"), wires.filled(), one(&made.filled)));
        all.push((format!("slot {index} circular"), wires.circular(), one(&made.circular)));
        let row = |table: &[Vec<Truth>]| table.get(index).cloned().unwrap_or_default();
        for (option, (tri, truth)) in wires.refused.iter().zip(row(&made.refused)).enumerate() {
            all.push((format!("slot {index} option {option} refused"), *tri, truth));
        }
        for (option, (tri, truth)) in wires.chosen.iter().zip(row(&made.chosen)).enumerate() {
            all.push((format!("slot {index} option {option} chosen"), *tri, truth));
        }
    }
    all
}

fn cells(prover: &Prover<'_>, made: &Decisions, so: impl Fn(Bit) -> bool) -> Vec<String> {
    let mut told = Vec::new();
    for ((fact, wires), cells) in prover.book.facts.iter().zip(&prover.made.possible).zip(&made.facts) {
        for (cell, wire) in wires.iter().enumerate() {
            if so(*wire) != cells.contains(cell) {
                told.push(format!("{} cell {cell}: possible by one reading alone", fact.name));
            }
        }
    }
    told
}
