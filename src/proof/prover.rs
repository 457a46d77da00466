//! A book laid out once, and questions put to it: first to thrown surveys, then to the solver.

use super::circuit::{Bit, Circuit};
use super::compile::{Bench, Decided, Ground, compile};
use super::count::Laid;
use super::goal::{self, Goal};
use super::sample::Batch;
use super::sheet::{Dice, Openness, Sheet};
use super::solve::{Solver, Verdict};
use super::space::{Space, Told};
use crate::inference::Plan;
use crate::inference::decide::{Case, Eyes, Reading, decide};
use crate::rulebook::book::Book;
use crate::wall::Reach;

/// How many batches of 64 surveys are thrown before the solver is asked.
const BATCHES: u64 = 12;

/// A book as gates.
#[derive(Debug)]
pub(crate) struct Prover<'b> {
    pub(crate) book: &'b Book,
    pub(crate) plan: &'b Plan,
    pub(crate) circuit: Circuit,
    pub(crate) space: Space,
    pub(crate) made: Decided,
}

impl<'b> Prover<'b> {
    /// Lays out a book.
    pub(crate) fn of(book: &'b Book, plan: &'b Plan, reach: &[Reach]) -> Self {
        let mut circuit = Circuit::new();
        let space = Space::of(&[Told { book, reach }], &mut circuit);
        let made = compile(book, plan, ground(&space, 0), &mut circuit);
        Self { book, plan, circuit, space, made }
    }

    /// More gates over those that are laid.
    pub(crate) fn more<T>(&mut self, lay: impl FnOnce(&mut Bench<'_>) -> T) -> T {
        let made = std::mem::take(&mut self.made);
        let ground = ground(&self.space, 0);
        let mut bench = Bench::reopened(self.book, self.plan, ground, &mut self.circuit, made);
        let laid = lay(&mut bench);
        self.made = bench.made;
        laid
    }

    /// Whether the evaluator finds a goal reached in a survey.
    pub(crate) fn replays(&self, sheet: &Sheet, goal: &Goal<'_>) -> bool {
        let facts = sheet.facts(&self.space, 0);
        let case = Case::new(&facts, &[]);
        let decisions = decide(self.book, self.plan, case, Reading::Open);
        goal::reached(self.book, Eyes { case, decisions: &decisions }, goal)
    }
}

/// What one book's gates stand on.
pub(crate) fn ground(space: &Space, book: usize) -> Ground<'_> {
    Ground { facts: &space.facts, views: space.views.get(book).map_or(&[][..], Vec::as_slice) }
}

/// For each bit, a survey in which it is so.
pub(crate) fn ask((circuit, space): Laid<'_>, bits: &[Bit], budget: &mut u64) -> Vec<Verdict> {
    let open = |bit: &Bit| *bit != Bit::FALSE;
    let mut found: Vec<Option<Sheet>> = vec![None; bits.len()];
    let mut dice = Dice::new(1);
    for round in 0..BATCHES {
        if bits.iter().zip(&found).all(|(bit, found)| found.is_some() || !open(bit)) {
            break;
        }
        let openness = if round % 2 == 0 { Openness::Complete } else { Openness::Mixed };
        let batch = Batch::thrown(circuit, space, &mut dice, openness);
        for (bit, found) in bits.iter().zip(&mut found).filter(|(_, found)| found.is_none()) {
            *found = batch.witness(*bit).cloned();
        }
    }
    let mut solver = Solver::new(circuit, space, *budget);
    let verdicts = bits.iter().zip(found).map(|(bit, found)| match found {
        Some(sheet) => Verdict::Found(sheet),
        None => solver.ask(*bit),
    });
    let verdicts = verdicts.collect();
    *budget = solver.left();
    verdicts
}
