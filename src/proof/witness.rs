//! A survey that shows something, cut down to what matters: answers are dropped and widened for as long as it is
//! shown; then the evaluator, which shares nothing with the gates, must find it too.

use super::circuit::{Bit, Circuit};
use super::count::Counted;
use super::goal::Goal;
use super::prover::Prover;
use super::sample::Lens;
use super::sheet::{Said, Sheet};
use super::space::{Shape, Source, Space, SpaceFact};
use crate::inference::decide::{Case, Reading, decide};
use crate::inference::outcome::Decisions;
use crate::rulebook::book::{Book, Condition, Fact, IfUnsure, Kind, Origin, TestKind};
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
    /// The fact, cut as finely as the books concerned cut it.
    pub fact: Fact,
    /// The cells: one set, or one an option of the slot it is worked for.
    pub cells: Vec<CellSet>,
    /// The options, where each has its own.
    pub rows: Option<Vec<String>>,
    /// Whether the wall calculation supplies it: then nobody knows whether it can come out so.
    pub worked: bool,
}

/// What holds of the facts that a witness does not name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rest {
    /// Any answer does.
    Anything,
    /// They must stay unanswered: it shows while they are open, or the book asks whether something is known.
    Unanswered,
}

impl Witness {
    /// Whether it leans on a worked fact.
    pub fn leans_on_worked_facts(&self) -> bool {
        self.answers.iter().any(|answer| answer.worked)
    }
}

/// A sheet cut down for as long as the bit stays so. What the bit does not read goes first.
pub(crate) fn reduced(circuit: &Circuit, space: &Space, bit: Bit, sheet: &Sheet) -> Sheet {
    let mut lens = Lens::on(circuit, space, bit);
    let read = lens.facts();
    let said =
        sheet.said.iter().zip(&read).map(|(said, read)| if *read { said.clone() } else { Said::Nothing });
    let mut sheet = Sheet { said: said.collect() };
    // Asked facts are kept longest: an answer that somebody can give says more than a worked value.
    for source in [Source::Worked, Source::Asked] {
        for (index, fact) in space.facts.iter().enumerate().filter(|(_, fact)| fact.source == source) {
            if sheet.said.get(index) == Some(&Said::Nothing) {
                continue;
            }
            let bare = sheet.with(index, Said::Nothing);
            if lens.is_so(&bare) {
                sheet = bare;
            } else {
                sheet = widened(sheet, &mut lens, index, fact);
            }
        }
    }
    sheet
}

/// A witness of what a question looks for; `None` if the evaluator does not find in the survey what the gates do, which is
/// a mistake of the prover.
pub(crate) fn of_goals(
    prover: &Prover<'_>,
    (sheet, bit): (&Sheet, Bit),
    goals: &[Goal<'_>],
    rest: Rest,
) -> Option<Witness> {
    let sheet = reduced(&prover.circuit, &prover.space, bit, sheet);
    if !goals.iter().any(|goal| prover.replays(&sheet, goal)) {
        return None;
    }
    let facts = sheet.facts(&prover.space, 0);
    let decisions = decide(prover.book, prover.plan, Case::new(&facts, &[]), Reading::Open);
    Some(of_sheet(&prover.space, &sheet, &[prover.book], decisions, rest))
}

/// A sheet as a witness. `rest` says whether what it shows stays so whatever is answered besides, in a book that does
/// not ask whether something is known.
pub(crate) fn of_sheet(
    space: &Space,
    sheet: &Sheet,
    books: &[&Book],
    decisions: Decisions,
    rest: Rest,
) -> Witness {
    let said = space.facts.iter().zip(&sheet.said);
    let answers: Vec<Answer> = said.filter_map(|(fact, said)| answer(fact, said, books)).collect();
    let free = space.facts.len() - answers.len();
    let rest = if books.iter().any(|book| turns_on_answers(book)) { Rest::Unanswered } else { rest };
    Witness { count: None, free, rest, answers, decisions }
}

fn answer(fact: &SpaceFact, said: &Said, books: &[&Book]) -> Option<Answer> {
    let Said::Cells(cells) = said else { return None };
    let worked = fact.source == Source::Worked;
    let declared = books.get(fact.declared.0)?.facts.get(fact.declared.1.0)?;
    // The book that is printed from cuts the fact as finely as the space does.
    let mut printed = declared.clone();
    printed.cells = fact.cells.clone();
    if let (Kind::OneOf(own), Some(words)) = (&mut printed.kind, &fact.words) {
        own.clone_from(words);
    }
    Some(Answer {
        fact: printed,
        cells: cells.clone(),
        rows: fact.by_option.then(|| fact.rows.clone()),
        worked,
    })
}

/// Adds to an answer every cell that changes nothing.
fn widened(sheet: Sheet, lens: &mut Lens<'_>, index: usize, fact: &SpaceFact) -> Sheet {
    let mut sheet = sheet;
    for row in 0..fact.told.len() {
        for cell in order(fact, &sheet, index, row) {
            let Some(Said::Cells(rows)) = sheet.said.get(index) else { continue };
            let mut rows = rows.clone();
            let Some(cells) = rows.get_mut(row) else { continue };
            let wider = cells.or(CellSet::one(cell));
            let fits = fact.shape != Shape::Stretch || is_stretch(wider);
            *cells = wider;
            let wider = sheet.with(index, Said::Cells(rows));
            if fits && lens.is_so(&wider) {
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

/// Whether a book turns on there being an answer: by `is known`, `is unknown` or `if unsure leave out`.
fn turns_on_answers(book: &Book) -> bool {
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
    leaves_out || guards.chain(slots).chain(findings).chain(rules).any(known)
}
