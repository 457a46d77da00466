//! Two books, held against each other over every survey: what each decides is laid out in one circuit over one space, and
//! whatever can come out otherwise is shown by a survey.

use std::collections::{BTreeMap, BTreeSet};

use super::circuit::{Bit, Circuit};
use super::compile::{Bench, Decided, compile};
use super::count::{count, laws};
use super::goal::{Sight, laid_sight, seen};
use super::item::{Item, figures, items};
use super::prover::{ask, ground};
use super::sheet::Sheet;
use super::solve::Verdict;
use super::space::{Space, Told};
use super::tri::Tri;
use super::witness::{Rest, Witness, of_sheet, reduced};
use crate::inference::decide::{Case, Eyes, Reading, decide};
use crate::inference::outcome::Decisions;
use crate::inference::{Plan, Truth};
use crate::rulebook::book::Book;
use crate::wall::Reach;
use crate::wall::facts::ZoneFacts;

/// One of the two books.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// The book.
    pub book: &'a Book,
    /// What its worked facts can come to, as far as its tables tell.
    pub reach: &'a [Reach],
}

/// Statements that differ, by kind and name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Statements {
    /// In the new book alone.
    pub added: Vec<String>,
    /// In the old book alone.
    pub removed: Vec<String>,
    /// In both, and not the same.
    pub changed: Vec<String>,
}

/// How something changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Some survey has it in the old book, and in the new one not, or less surely.
    Lost,
    /// Some survey has it in the new book, and in the old one not, or less surely.
    Gained,
}

/// What became of one question.
#[derive(Clone, Debug)]
pub enum Shown {
    /// This survey shows it.
    By(Box<Witness>),
    /// A survey shows it; enough of them are told already.
    Also,
    /// The budget ran out.
    NotSettled,
    /// The survey that was found shows nothing of the sort: a mistake of the prover.
    NotReplayed,
}

/// Something that can come out otherwise.
#[derive(Clone, Debug)]
pub struct Change {
    /// What.
    pub item: Item,
    /// How.
    pub way: Way,
    /// A survey that shows it.
    pub shown: Shown,
}

impl Change {
    /// Whether the new book is the weaker: it loses a duty.
    pub fn weakens(&self) -> bool {
        self.way == Way::Lost && self.item.is_duty() && matches!(self.shown, Shown::By(_) | Shown::Also)
    }
}

/// Two books, compared.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Statements that differ.
    pub statements: Statements,
    /// What can come out otherwise.
    pub changes: Vec<Change>,
    /// How many things are proved to come out the same for every survey.
    pub unchanged: usize,
}

/// Statements that differ, by their digests.
pub fn statements(old: &Book, new: &Book) -> Statements {
    let (before, after) = (&old.statement_digests, &new.statement_digests);
    let only = |here: &BTreeMap<String, String>, there: &BTreeMap<String, String>| {
        here.keys().filter(|name| !there.contains_key(*name)).cloned().collect()
    };
    let changed =
        before.iter().filter(|(name, digest)| after.get(*name).is_some_and(|other| other != *digest));
    Statements {
        added: only(after, before),
        removed: only(before, after),
        changed: changed.map(|(name, _)| name.clone()).collect(),
    }
}

/// Compares two books over every survey; so many changes are told with a survey that was cut down and counted.
pub fn compare(old: Side<'_>, new: Side<'_>, dead_ends: u64, witnesses: usize) -> Comparison {
    let plans = [Plan::of(old.book), Plan::of(new.book)];
    let all: Vec<_> = figures(old.book).into_iter().chain(figures(new.book)).collect();
    let sights = [items(old.book, &all), items(new.book, &all)];
    let mut pair = Pair::laid([old, new], &plans);
    let names: BTreeSet<&Item> = sights.iter().flat_map(BTreeMap::keys).collect();
    let mut questions: Vec<Question> = Vec::new();
    for item in &names {
        let before = pair.look(0, sights.first().and_then(|sights| sights.get(*item)));
        let after = pair.look(1, sights.get(1).and_then(|sights| sights.get(*item)));
        for (way, one, other) in [(Way::Lost, before, after), (Way::Gained, after, before)] {
            let certain = pair.circuit.and(one.yes, other.no);
            questions.push(Question { item: (*item).clone(), way, certain, bit: pair.surer(one, other) });
        }
    }
    let laws = pair.laws();
    let verdicts = pair.ask(&questions, dead_ends);
    let mut changes: Vec<Change> = Vec::new();
    // Many changes are found in the same survey.
    let mut known: Vec<(Sheet, Vec<Read>)> = Vec::new();
    for (question, (verdict, rest)) in questions.into_iter().zip(verdicts) {
        let Question { item, way, certain, bit } = question;
        let bit = if rest == Rest::Anything { certain } else { bit };
        let shown = match verdict {
            Verdict::Never => continue,
            Verdict::NotSettled => Shown::NotSettled,
            Verdict::Found(sheet) if changes.len() < witnesses => {
                pair.shown(&sights, &item, way, (&sheet, bit, &laws), rest)
            }
            Verdict::Found(sheet) => {
                if !known.iter().any(|(other, _)| *other == sheet) {
                    known.push((sheet.clone(), pair.read(&sheet)));
                }
                let read = known.iter().find(|(other, _)| *other == sheet).map(|(_, read)| read);
                let shows = read.is_some_and(|read| pair.shows(&sights, &item, way, read));
                if shows { Shown::Also } else { Shown::NotReplayed }
            }
        };
        changes.push(Change { item, way, shown });
    }
    let changed: BTreeSet<&Item> = changes.iter().map(|change| &change.item).collect();
    let unchanged = names.len() - changed.len();
    Comparison { statements: statements(old.book, new.book), changes, unchanged }
}

/// Whether something can come out otherwise.
struct Question {
    item: Item,
    way: Way,
    /// One book has it certainly, the other certainly not: that stays so whatever is answered besides.
    certain: Bit,
    /// One book has it more surely than the other.
    bit: Bit,
}

/// A survey, decided by one book.
struct Read {
    facts: ZoneFacts,
    decisions: Decisions,
}

/// Two books laid out over one space.
struct Pair<'a> {
    sides: [Side<'a>; 2],
    plans: &'a [Plan; 2],
    circuit: Circuit,
    space: Space,
    made: Vec<Decided>,
}

impl<'a> Pair<'a> {
    fn laid(sides: [Side<'a>; 2], plans: &'a [Plan; 2]) -> Self {
        let mut circuit = Circuit::new();
        let told = sides.map(|side| Told { book: side.book, reach: side.reach });
        let space = Space::of(&told, &mut circuit);
        let both = sides.iter().zip(plans).enumerate();
        let made = both
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

    /// For each question a survey, first one that shows it for certain; then one that shows it while something is open.
    fn ask(&self, questions: &[Question], dead_ends: u64) -> Vec<(Verdict, Rest)> {
        let mut left = dead_ends;
        let mut put = |bits: Vec<Bit>| ask((&self.circuit, &self.space), &bits, &mut left);
        let certain = put(questions.iter().map(|question| question.certain).collect());
        let open = questions.iter().zip(&certain);
        let open =
            open.map(|(question, found)| if *found == Verdict::Never { question.bit } else { Bit::FALSE });
        let open = put(open.collect());
        let both = certain.into_iter().zip(open);
        both.map(|(certain, open)| match certain {
            Verdict::Never => (open, Rest::Unanswered),
            found => (found, Rest::Anything),
        })
        .collect()
    }

    fn look(&mut self, number: usize, sight: Option<&Sight<'_>>) -> Tri {
        let found = sight.and_then(|sight| self.at(number, |bench| laid_sight(bench, sight)));
        found.unwrap_or(Tri::NO)
    }

    /// One truth is surer than another.
    fn surer(&mut self, one: Tri, other: Tri) -> Bit {
        let yes = self.circuit.and(one.yes, !other.yes);
        let shown = self.circuit.and(one.shown(), other.no);
        self.circuit.or(yes, shown)
    }

    /// Which questions arise, by fact of the space; where the books differ the new one has the word.
    fn laws(&mut self) -> Vec<Option<Bit>> {
        let mut found = vec![None; self.space.facts.len()];
        for (number, side) in self.sides.into_iter().enumerate() {
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

    /// A survey as the evaluator decides it by either book.
    fn read(&self, sheet: &Sheet) -> Vec<Read> {
        let both = self.sides.iter().zip(self.plans).enumerate();
        both.map(|(number, (side, plan))| {
            let facts = sheet.facts(&self.space, number);
            let decisions = decide(side.book, plan, Case::new(&facts, &[]), Reading::Open);
            Read { facts, decisions }
        })
        .collect()
    }

    /// Whether the evaluator finds that an item comes out otherwise in this way.
    fn shows(&self, sights: &[BTreeMap<Item, Sight<'_>>], item: &Item, way: Way, read: &[Read]) -> bool {
        let both = self.sides.iter().zip(sights).zip(read);
        let truths = both.map(|((side, sights), read)| {
            let case = Case::new(&read.facts, &[]);
            let eyes = Eyes { case, decisions: &read.decisions };
            sights.get(item).map_or(Truth::No, |sight| seen(side.book, eyes, sight))
        });
        match (truths.collect::<Vec<_>>().as_slice(), way) {
            ([before, after], Way::Lost) => after < before,
            ([before, after], Way::Gained) => before < after,
            _ => false,
        }
    }

    fn shown(
        &self,
        sights: &[BTreeMap<Item, Sight<'_>>],
        item: &Item,
        way: Way,
        (sheet, bit, laws): (&Sheet, Bit, &[Option<Bit>]),
        rest: Rest,
    ) -> Shown {
        let sheet = reduced(&self.circuit, &self.space, bit, sheet);
        let mut read = self.read(&sheet);
        if !self.shows(sights, item, way, &read) {
            return Shown::NotReplayed;
        }
        let Some(new) = read.pop() else { return Shown::NotReplayed };
        let books = self.sides.map(|side| side.book);
        let witness = of_sheet(&self.space, &sheet, &books, new.decisions, rest);
        let counted = (rest == Rest::Anything).then(|| count((&self.circuit, &self.space), laws, bit));
        Shown::By(Box::new(Witness { count: counted, ..witness }))
    }
}
