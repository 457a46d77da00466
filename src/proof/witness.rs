//! A survey that shows something, cut down to what matters: answers are dropped and widened for as long as the evaluator
//! still finds what is shown.

use super::count::Counted;
use super::goal::Goal;
use super::prover::Prover;
use super::sheet::{Said, Sheet};
use super::space::{Shape, Source, SpaceFact};
use crate::inference::decide::{Case, Reading, decide};
use crate::inference::outcome::Decisions;
use crate::rulebook::book::{Book, Condition, FactId, IfUnsure, Origin, TestKind};
use crate::rulebook::cells::CellSet;

/// A survey that shows something.
#[derive(Clone, Debug)]
pub struct Witness {
    /// What it must say; whatever it says of other facts changes nothing.
    pub answers: Vec<Answer>,
    /// How many other facts there are.
    pub free: usize,
    /// Whether the other facts may be answered anyhow; otherwise they must be left unanswered.
    pub rest: Rest,
    /// In how many kinds of survey it is so; `None` where only an open answer shows it.
    pub count: Option<Counted>,
    /// What the book decides there.
    pub decisions: Decisions,
}

/// One answer that a witness stands on.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The fact.
    pub fact: FactId,
    /// The cells: one set, or one an option of the slot it is worked for.
    pub cells: Vec<CellSet>,
    /// Whether each option has its own.
    pub by_option: bool,
    /// Whether the wall calculation supplies it: then nobody knows whether it can come out so.
    pub worked: bool,
}

/// What holds of the facts that a witness does not name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rest {
    /// Any answer does.
    Anything,
    /// The book asks whether something is known, so they must stay unanswered.
    Unanswered,
}

impl Witness {
    /// Whether it leans on a worked fact.
    pub fn leans_on_worked_facts(&self) -> bool {
        self.answers.iter().any(|answer| answer.worked)
    }
}

/// The survey cut down; `None` if the evaluator does not find in it what the gates do, which is a mistake of the prover.
pub(crate) fn reduced(prover: &Prover<'_>, sheet: &Sheet, goal: &Goal<'_>) -> Option<Witness> {
    if !prover.replays(sheet, goal) {
        return None;
    }
    let mut sheet = sheet.clone();
    // Asked facts are kept longest: an answer that somebody can give says more than a worked value.
    for source in [Source::Worked, Source::Asked] {
        for (index, fact) in prover.space.facts.iter().enumerate().filter(|(_, fact)| fact.source == source) {
            let bare = sheet.with(index, Said::Nothing);
            if prover.replays(&bare, goal) {
                sheet = bare;
            } else {
                sheet = widened(prover, sheet, goal, index, fact);
            }
        }
    }
    let facts = sheet.facts(&prover.space, 0);
    let decisions = decide(prover.book, prover.plan, Case::new(&facts, &[]), Reading::Open);
    let answers: Vec<Answer> = prover.space.facts.iter().zip(&sheet.said).filter_map(answer).collect();
    let free = prover.space.facts.len() - answers.len();
    Some(Witness { count: None, free, rest: rest(prover.book), answers, decisions })
}

fn answer((fact, said): (&SpaceFact, &Said)) -> Option<Answer> {
    let Said::Cells(cells) = said else { return None };
    let worked = fact.source == Source::Worked;
    Some(Answer { fact: fact.declared.1, cells: cells.clone(), by_option: fact.by_option, worked })
}

/// Adds to an answer every cell that changes nothing.
fn widened(prover: &Prover<'_>, sheet: Sheet, goal: &Goal<'_>, index: usize, fact: &SpaceFact) -> Sheet {
    let mut sheet = sheet;
    for row in 0..fact.rows {
        for cell in order(fact, &sheet, index, row) {
            let Some(Said::Cells(rows)) = sheet.said.get(index) else { continue };
            let mut rows = rows.clone();
            let Some(cells) = rows.get_mut(row) else { continue };
            let wider = cells.or(CellSet::one(cell));
            let fits = fact.shape != Shape::Stretch || is_stretch(wider);
            *cells = wider;
            let wider = sheet.with(index, Said::Cells(rows));
            if fits && prover.replays(&wider, goal) {
                sheet = wider;
            }
        }
    }
    sheet
}

/// The cells to try, those nearest to the answer first.
fn order(fact: &SpaceFact, sheet: &Sheet, index: usize, row: usize) -> Vec<usize> {
    let Some(Said::Cells(rows)) = sheet.said.get(index) else { return Vec::new() };
    let own = rows.get(row).copied().unwrap_or_default();
    let absent = fact.cells.absent();
    if fact.shape == Shape::Single || own.meets(absent) {
        return Vec::new();
    }
    let allowed = fact.allowed.get(row).copied().unwrap_or_default();
    let mut cells: Vec<usize> = allowed.without(absent).without(own).iter().collect();
    let distance = |cell: &usize| own.iter().map(|mine| mine.abs_diff(*cell)).min();
    cells.sort_by_key(distance);
    cells
}

fn is_stretch(cells: CellSet) -> bool {
    let first = cells.iter().next().unwrap_or(0);
    cells.iter().enumerate().all(|(at, cell)| cell == first + at)
}

/// Whether answers may be added freely: only `is known`, `is unknown` and `if unsure leave out` turn on them.
fn rest(book: &Book) -> Rest {
    let guards = book.facts.iter().filter_map(|fact| match &fact.origin {
        Origin::Asked(question) => question.only_where.as_ref(),
        Origin::Worked { .. } => None,
    });
    let slots = book.slots.iter().filter_map(|slot| slot.only_where.as_ref());
    let findings = book.findings.iter().map(|finding| &finding.when);
    let rules = book.rules.iter().map(|rule| &rule.when);
    let known = |condition: &Condition| {
        condition.tests().iter().any(|test| matches!(test.kind, TestKind::Known(_) | TestKind::Unknown(_)))
    };
    let leaves_out = book.rules.iter().any(|rule| rule.if_unsure != IfUnsure::Apply);
    if leaves_out || guards.chain(slots).chain(findings).chain(rules).any(known) {
        Rest::Unanswered
    } else {
        Rest::Anything
    }
}
