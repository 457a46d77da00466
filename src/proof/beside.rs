//! Several books laid out in one circuit over one space, so that one survey can be read by all of them. The first is
//! the old one, the second the new one; more may stand beside them.

use super::circuit::{Bit, Circuit};
use super::compile::{Bench, Decided, compile};
use super::count::laws;
use super::goal::{Sight, laid_sight, seen};
use super::prover::{Asker, ground};
use super::sheet::Sheet;
use super::solve::Verdict;
use super::space::{Space, Told};
use super::tri::Tri;
use super::witness::Rest;
use crate::inference::decide::{Case, Eyes, Reading, decide};
use crate::inference::outcome::Decisions;
use crate::inference::{Plan, Truth};
use crate::rulebook::book::Book;
use crate::wall::Reach;
use crate::wall::facts::ZoneFacts;

/// One of the books.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// The book.
    pub book: &'a Book,
    /// What its worked facts can come to, as far as its tables tell.
    pub reach: &'a [Reach],
}

/// Something to look for: in one survey all answers that it stands on may be certain, or some of them open.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Twofold {
    /// It is so whatever is answered besides.
    pub(crate) certain: Bit,
    /// It is so, perhaps only while something is open.
    pub(crate) open: Bit,
}

/// A survey, decided by one book.
#[derive(Debug)]
pub(crate) struct Read {
    pub(crate) facts: ZoneFacts,
    pub(crate) decisions: Decisions,
}

/// Books laid out over one space.
#[derive(Debug)]
pub(crate) struct Beside<'a> {
    pub(crate) sides: &'a [Side<'a>],
    pub(crate) plans: &'a [Plan],
    pub(crate) circuit: Circuit,
    pub(crate) space: Space,
    pub(crate) made: Vec<Decided>,
}

impl<'a> Beside<'a> {
    pub(crate) fn laid(sides: &'a [Side<'a>], plans: &'a [Plan]) -> Self {
        let mut circuit = Circuit::new();
        let told: Vec<Told<'_>> =
            sides.iter().map(|side| Told { book: side.book, reach: side.reach }).collect();
        let space = Space::of(&told, &mut circuit);
        let all = sides.iter().zip(plans).enumerate();
        let made = all
            .map(|(number, (side, plan))| compile(side.book, plan, ground(&space, number), &mut circuit))
            .collect();
        Self { sides, plans, circuit, space, made }
    }

    /// Works at one book's bench.
    fn at<T>(&mut self, number: usize, work: impl FnOnce(&mut Bench<'_>) -> T) -> Option<T> {
        let (side, plan) = (self.sides.get(number)?, self.plans.get(number)?);
        let place = self.made.get_mut(number)?;
        let made = std::mem::take(place);
        let mut bench =
            Bench::reopened(side.book, plan, ground(&self.space, number), &mut self.circuit, made);
        let done = work(&mut bench);
        *place = bench.made;
        Some(done)
    }

    /// What one book decides of something, over every survey.
    pub(crate) fn look(&mut self, number: usize, sight: Option<&Sight<'_>>) -> Tri {
        let found = sight.and_then(|sight| self.at(number, |bench| laid_sight(bench, sight)));
        found.unwrap_or(Tri::NO)
    }

    /// One truth is surer than another.
    pub(crate) fn surer(&mut self, one: Tri, other: Tri) -> Bit {
        let yes = self.circuit.and(one.yes, !other.yes);
        let shown = self.circuit.and(one.shown(), other.no);
        self.circuit.or(yes, shown)
    }

    /// Which questions arise, by fact of the space; where the old book and the new differ the new one has the word.
    pub(crate) fn laws(&mut self) -> Vec<Option<Bit>> {
        let mut found = vec![None; self.space.facts.len()];
        for (number, side) in self.sides.iter().enumerate().take(2) {
            let own = self.at(number, |bench| laws(bench, side.book)).unwrap_or_default();
            let views = self.space.views.get(number).map_or(&[][..], Vec::as_slice);
            for (view, law) in views.iter().zip(own) {
                if let Some(place) = found.get_mut(view.fact) {
                    *place = law;
                }
            }
        }
        found
    }

    /// For each thing a survey: one that shows it for certain, or else one that shows it while something is open. It never
    /// shows if it does neither.
    pub(crate) fn ask(&self, wanted: &[Twofold], left: &mut u64) -> Vec<(Verdict, Rest)> {
        let mut asker = Asker::new((&self.circuit, &self.space), *left);
        let certain: Vec<Bit> = wanted.iter().map(|wanted| wanted.certain).collect();
        let certain = asker.ask(&certain);
        let open = wanted.iter().zip(&certain);
        let open = open
            .map(|(wanted, found)| if matches!(found, Verdict::Found(_)) { Bit::FALSE } else { wanted.open });
        let open = asker.ask(&open.collect::<Vec<Bit>>());
        *left = asker.left();
        let both = certain.into_iter().zip(open);
        both.map(|(certain, open)| match (certain, open) {
            (found @ Verdict::Found(_), _) => (found, Rest::Anything),
            (Verdict::NotSettled, Verdict::Never) => (Verdict::NotSettled, Rest::Anything),
            (_, open) => (open, Rest::Unanswered),
        })
        .collect()
    }

    /// A survey as the evaluator decides it by each book.
    pub(crate) fn read(&self, sheet: &Sheet) -> Vec<Read> {
        let all = self.sides.iter().zip(self.plans).enumerate();
        all.map(|(number, (side, plan))| {
            let facts = sheet.facts(&self.space, number);
            let decisions = decide(side.book, plan, Case::new(&facts, &[]), Reading::Open);
            Read { facts, decisions }
        })
        .collect()
    }

    /// What the evaluator finds of something in a survey that it read.
    pub(crate) fn seen(&self, number: usize, read: &[Read], sight: Option<&Sight<'_>>) -> Truth {
        let found = self.sides.get(number).zip(read.get(number)).zip(sight);
        found.map_or(Truth::No, |((side, read), sight)| {
            let case = Case::new(&read.facts, &[]);
            seen(side.book, Eyes { case, decisions: &read.decisions }, sight)
        })
    }
}
