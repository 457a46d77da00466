//! One survey that was made, decided by two books: what comes out otherwise.

use std::collections::{BTreeMap, BTreeSet};

use super::goal::{Sight, seen};
use super::item::{Item, figures, items};
use crate::inference::decide::{Case, Eyes, Reading, decide};
use crate::inference::{Plan, Truth};
use crate::rulebook::book::Book;
use crate::wall::facts::ZoneFacts;

/// Something that one zone of a survey has otherwise by the new book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turn {
    /// What.
    pub item: Item,
    /// By the old book.
    pub before: Truth,
    /// By the new book.
    pub after: Truth,
}

/// What one zone has otherwise by the new book; its facts as each book takes them.
pub fn turns(old: (&Book, &ZoneFacts), new: (&Book, &ZoneFacts)) -> Vec<Turn> {
    let all: Vec<_> = figures(old.0).into_iter().chain(figures(new.0)).collect();
    let (before, after) = (truths(old, &items(old.0, &all)), truths(new, &items(new.0, &all)));
    let names: BTreeSet<&Item> = before.keys().chain(after.keys()).collect();
    let of = |truths: &BTreeMap<Item, Truth>, item: &Item| truths.get(item).copied().unwrap_or(Truth::No);
    let turns = names.into_iter().map(|item| Turn {
        item: item.clone(),
        before: of(&before, item),
        after: of(&after, item),
    });
    turns.filter(|turn| turn.before != turn.after).collect()
}

fn truths((book, facts): (&Book, &ZoneFacts), items: &BTreeMap<Item, Sight<'_>>) -> BTreeMap<Item, Truth> {
    let case = Case::new(facts, &[]);
    let decisions = decide(book, &Plan::of(book), case, Reading::Open);
    let eyes = Eyes { case, decisions: &decisions };
    items.iter().map(|(item, sight)| (item.clone(), seen(book, eyes, sight))).collect()
}
