//! A book laid out once, and questions put to it: first to thrown surveys, then to the solver.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::circuit::{Bit, Circuit};
use super::compile::{Bench, Decided, Ground, compile};
use super::count::Laid;
use super::goal::{self, Goal};
use super::sample::{Batch, LANES};
use super::sheet::{Dice, Openness, Sheet};
use super::solve::{Solver, Verdict};
use super::space::{Space, Told};
use crate::inference::Plan;
use crate::inference::decide::{Case, Eyes, Reading, decide};
use crate::rulebook::book::Book;
use crate::wall::Reach;

/// How many batches of 64 surveys are thrown before the solver is asked.
const BATCHES: u64 = 12;

/// With fewer open questions than this, asking the solver is quicker than reading a batch of neighbours.
const WORTH_A_BATCH: usize = 12;

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

/// For each bit, a survey in which it is so: first among thrown ones, then by the solver; what it finds often shows other
/// things as well, in its neighbours at least.
pub(crate) fn ask(laid: Laid<'_>, bits: &[Bit], budget: &mut u64) -> Vec<Verdict> {
    let mut asker = Asker::new(laid, *budget);
    let found = asker.ask(bits);
    *budget = asker.left();
    found
}

/// Puts questions, and keeps what was learnt from one list of them to the next.
#[derive(Debug)]
pub(crate) struct Asker<'a> {
    laid: Laid<'a>,
    solver: Solver<'a>,
}

impl<'a> Asker<'a> {
    /// With so many dead ends to spend.
    pub(crate) fn new((circuit, space): Laid<'a>, budget: u64) -> Self {
        Self { laid: (circuit, space), solver: Solver::new(circuit, space, budget) }
    }

    /// How many dead ends are left.
    pub(crate) fn left(&self) -> u64 {
        self.solver.left()
    }

    /// For each bit, a survey in which it is so. The solver is asked first what lies nearest to what surveys say: what
    /// never happens there is known when it is asked of what follows from it.
    pub(crate) fn ask(&mut self, bits: &[Bit]) -> Vec<Verdict> {
        let (circuit, space) = self.laid;
        let mut found: Vec<Option<Verdict>> =
            bits.iter().map(|bit| (*bit == Bit::FALSE).then_some(Verdict::Never)).collect();
        let mut dice = Dice::new(1);
        for round in 0..BATCHES {
            if found.iter().all(Option::is_some) {
                break;
            }
            let openness = if round % 2 == 0 { Openness::Complete } else { Openness::Mixed };
            look_in(&Batch::thrown(circuit, space, &mut dice, openness), space, bits, &mut found);
        }
        let mut order: Vec<(usize, usize)> =
            bits.iter().enumerate().map(|(at, bit)| (circuit.height(*bit), at)).collect();
        order.sort_unstable();
        for at in order.into_iter().map(|(_, at)| at) {
            let (Some(None), Some(bit)) = (found.get(at), bits.get(at)) else { continue };
            let verdict = self.solver.ask(*bit);
            let open = found.iter().filter(|found| found.is_none()).count();
            if let Verdict::Found(sheet) = &verdict
                && open > WORTH_A_BATCH
            {
                look_in(&Batch::near(circuit, space, &mut dice, sheet), space, bits, &mut found);
            }
            if let Some(place) = found.get_mut(at) {
                *place = Some(verdict);
            }
        }
        found.into_iter().map(|verdict| verdict.unwrap_or(Verdict::NotSettled)).collect()
    }
}

/// Settles what some survey of a batch shows.
fn look_in(batch: &Batch, space: &Space, bits: &[Bit], found: &mut [Option<Verdict>]) {
    let mut sheets: BTreeMap<usize, Arc<Sheet>> = BTreeMap::new();
    for (bit, found) in bits.iter().zip(found).filter(|(_, found)| found.is_none()) {
        let lane = batch.where_so(*bit).trailing_zeros() as usize;
        if lane < LANES {
            let sheet = sheets.entry(lane).or_insert_with(|| Arc::new(batch.sheet(space, lane)));
            *found = Some(Verdict::Found(Arc::clone(sheet)));
        }
    }
}
