//! Where the book is made: what is resolved so far, the names, and what is wrong.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use num_rational::BigRational;

use super::digest::Reprint;
use super::shelf::Shelf;
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::book::{Book, Catalogue, FactId, SlotId};
use crate::rulebook::cells::{CellSet, Comparison};
use crate::rulebook::layering::TableChange;

/// Names and the place of each in its list.
#[derive(Debug, Default)]
pub(super) struct Index(BTreeMap<String, usize>);

impl Index {
    pub(super) fn of<'n>(names: impl IntoIterator<Item = &'n str>) -> Self {
        Self(names.into_iter().enumerate().map(|(at, name)| (name.to_owned(), at)).collect())
    }

    pub(super) fn get(&self, name: &str) -> Option<usize> {
        self.0.get(name).copied()
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

/// The names of a book.
#[derive(Debug, Default)]
pub(super) struct Names {
    pub(super) sources: Index,
    pub(super) stages: Index,
    pub(super) catalogues: Index,
    pub(super) quantities: Index,
    pub(super) facts: Index,
    pub(super) findings: Index,
    pub(super) slots: Index,
    pub(super) clauses: Index,
}

/// Conditions are compiled twice: first to gather where each fact is cut, then against its cells.
#[derive(Debug)]
pub(super) enum Pass {
    /// Cuts, fact by fact.
    Gather(Vec<BTreeSet<BigRational>>),
    /// Facts have their cells.
    Settle,
}

/// What a book is read for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::rulebook) enum Purpose {
    /// To be used and printed from: with its digests, every word of its clauses looked at.
    #[default]
    ToKeep,
    /// To see what it decides, and nothing else, of files that were read to be kept before.
    ToCompare,
}

/// The book in the making.
#[derive(Debug)]
pub(super) struct Desk {
    pub(super) book: Book,
    pub(super) names: Names,
    pub(super) pass: Pass,
    /// The catalogues once more, to be read while the book is written to.
    pub(super) tables: Vec<Arc<Catalogue>>,
    /// What it is read for.
    pub(super) purpose: Purpose,
    /// Files that were read before.
    pub(super) shelf: Arc<Shelf>,
    /// Changes to make in the catalogues.
    pub(super) changes: Vec<TableChange>,
    /// The canonical reprint of what has been read.
    pub(super) reprint: Reprint,
    pub(super) found: Vec<Diagnostic>,
}

impl Desk {
    pub(super) fn new(found: Vec<Diagnostic>) -> Self {
        let pass = Pass::Gather(Vec::new());
        let (book, names, reprint) = (Book::default(), Names::default(), Reprint::new());
        let (purpose, shelf) = (Purpose::ToKeep, Arc::default());
        let (tables, changes) = (Vec::new(), Vec::new());
        Self { book, names, pass, tables, purpose, shelf, changes, reprint, found }
    }

    /// The catalogue of a slot.
    pub(super) fn table(&self, slot: SlotId) -> Option<Arc<Catalogue>> {
        self.tables.get(self.book.slots.get(slot.0)?.catalogue.0).map(Arc::clone)
    }

    /// Notes an error. The second pass finds the mistakes of the first again and keeps silent.
    pub(super) fn error(&mut self, mistake: &impl miette::Diagnostic, place: Place) {
        self.note(Diagnostic::error(mistake, place));
    }

    /// Notes a remark.
    pub(super) fn remark(&mut self, remark: &impl miette::Diagnostic, place: Place) {
        self.note(Diagnostic::remark(remark, place));
    }

    /// Notes a diagnostic.
    pub(super) fn note(&mut self, diagnostic: Diagnostic) {
        if matches!(self.pass, Pass::Gather(_)) {
            self.found.push(diagnostic);
        }
    }

    /// The cells of a measured fact in which a comparison holds; in the first pass it only notes the cut.
    pub(super) fn cells(&mut self, fact: FactId, comparison: Comparison, number: &BigRational) -> CellSet {
        match &mut self.pass {
            Pass::Gather(cuts) => {
                if let Some(cuts) = cuts.get_mut(fact.0) {
                    cuts.insert(number.clone());
                }
                CellSet::EMPTY
            }
            Pass::Settle => match self.book.facts.get(fact.0) {
                Some(fact) => fact.cells.where_holds(comparison, number),
                None => CellSet::EMPTY,
            },
        }
    }
}
