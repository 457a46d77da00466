//! Two books, held against each other over every survey: what each decides is laid out in one circuit over one space, and
//! whatever can come out otherwise is shown by a survey.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::beside::{Beside, Read, Side, Twofold};
use super::circuit::Bit;
use super::count::count;
use super::goal::Sight;
use super::item::{Item, figures, items};
use super::sheet::Sheet;
use super::solve::Verdict;
use super::witness::{Rest, Witness, of_sheet, reduced};
use crate::inference::{Plan, Truth};
use crate::rulebook::book::Book;

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
    let sides = [old, new];
    let mut pair = Beside::laid(&sides, &plans);
    let names: BTreeSet<&Item> = sights.iter().flat_map(BTreeMap::keys).collect();
    let mut questions: Vec<(Item, Way)> = Vec::new();
    let mut wanted: Vec<Twofold> = Vec::new();
    for item in &names {
        let before = pair.look(0, sights.first().and_then(|sights| sights.get(*item)));
        let after = pair.look(1, sights.get(1).and_then(|sights| sights.get(*item)));
        for (way, one, other) in [(Way::Lost, before, after), (Way::Gained, after, before)] {
            let certain = pair.circuit.and(one.yes, other.no);
            questions.push(((*item).clone(), way));
            wanted.push(Twofold { certain, open: pair.surer(one, other) });
        }
    }
    let laws = pair.laws();
    let verdicts = pair.ask(&wanted, &mut dead_ends.clone());
    let (mut changes, mut told): (Vec<Change>, usize) = (Vec::new(), 0);
    // Many changes are found in the same survey.
    let mut known: Vec<(Arc<Sheet>, Vec<Read>)> = Vec::new();
    for (((item, way), twofold), (verdict, rest)) in questions.into_iter().zip(wanted).zip(verdicts) {
        let bit = if rest == Rest::Anything { twofold.certain } else { twofold.open };
        let shown = match verdict {
            Verdict::Never => continue,
            Verdict::NotSettled => Shown::NotSettled,
            Verdict::Found(sheet) if told < witnesses => {
                told += 1;
                shown(&pair, &sights, (&item, way), (&sheet, bit, &laws), rest)
            }
            Verdict::Found(sheet) => {
                if !known.iter().any(|(other, _)| *other == sheet) {
                    known.push((sheet.clone(), pair.read(&sheet)));
                }
                let read = known.iter().find(|(other, _)| *other == sheet).map(|(_, read)| read);
                let shows = read.is_some_and(|read| shows(&pair, &sights, (&item, way), read));
                if shows { Shown::Also } else { Shown::NotReplayed }
            }
        };
        changes.push(Change { item, way, shown });
    }
    let changed: BTreeSet<&Item> = changes.iter().map(|change| &change.item).collect();
    let unchanged = names.len() - changed.len();
    Comparison { statements: statements(old.book, new.book), changes, unchanged }
}

/// What each of two books can decide, with where to look for it.
type Sights<'b> = [BTreeMap<Item, Sight<'b>>; 2];

/// Whether the evaluator finds that an item comes out otherwise in this way.
fn shows(pair: &Beside<'_>, sights: &Sights<'_>, (item, way): (&Item, Way), read: &[Read]) -> bool {
    let [old, new] = sights;
    let truths: [Truth; 2] = [pair.seen(0, read, old.get(item)), pair.seen(1, read, new.get(item))];
    let [before, after] = truths;
    match way {
        Way::Lost => after < before,
        Way::Gained => before < after,
    }
}

fn shown(
    pair: &Beside<'_>,
    sights: &Sights<'_>,
    (item, way): (&Item, Way),
    (sheet, bit, laws): (&Sheet, Bit, &[Option<Bit>]),
    rest: Rest,
) -> Shown {
    let sheet = reduced(&pair.circuit, &pair.space, bit, sheet);
    let mut read = pair.read(&sheet);
    if !shows(pair, sights, (item, way), &read) {
        return Shown::NotReplayed;
    }
    let Some(new) = read.pop() else { return Shown::NotReplayed };
    let books: Vec<&Book> = pair.sides.iter().map(|side| side.book).collect();
    let witness = of_sheet(&pair.space, &sheet, &books, new.decisions, rest);
    let counted = (rest == Rest::Anything).then(|| count((&pair.circuit, &pair.space), laws, bit));
    Shown::By(Box::new(Witness { count: counted, ..witness }))
}
