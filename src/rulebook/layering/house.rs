//! What a firm's book changes, change by change, and the book as it would be without one of them.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::clause::reworded;
use super::{apply, take_heads};
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::book::{Book, Citation, SourceId};
use crate::rulebook::check::{self, Purpose, Shelf};
use crate::rulebook::syntax::ast::{
    Added, Body, Change, Conditioned, File, GroundLines, ItemKind, Statement,
};
use crate::rulebook::syntax::print::canonical;

/// A firm's book: what it stands on and what it changes.
#[derive(Clone, Debug)]
pub struct House {
    /// The book below.
    pub below: Book,
    /// The changes, in the order of the firm's files.
    pub changes: Vec<HouseChange>,
    layers: Layers,
}

/// One change that a firm's book makes.
#[derive(Clone, Debug)]
pub struct HouseChange {
    /// Of which sort.
    pub kind: ChangeKind,
    /// The change in one line of the rule language; for what is added, its kind and name.
    pub words: String,
    /// Why; nothing for declarations, which need no reason.
    pub because: Option<String>,
    /// Per what; sources of the firm's book as read.
    pub per: Vec<Citation>,
    /// Where it is stated.
    pub place: Place,
    /// What it changes in the book below.
    pub concerns: Option<Place>,
    part: Part,
}

/// The sorts of change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChangeKind {
    /// A limit, a cell or a condition of the book below is another one.
    Amended,
    /// A clause of the book below says something in other words.
    Reworded,
    /// A row of a catalogue, which the book below does not have.
    Added,
    /// A rule of the book below does not hold.
    Withdrawn,
    /// A rule, which the book below does not have.
    Rule,
    /// Anything else that the book below does not have: a fact, a column, a clause, a promise.
    Declared,
}

impl ChangeKind {
    /// Whether it can make something come out otherwise; a declaration does so only through a rule that reads it.
    pub fn decides(self) -> bool {
        !matches!(self, Self::Declared | Self::Reworded)
    }
}

/// A part of the firm's files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    /// A statement: which rule file, and which of its items.
    Statement(usize, usize),
    /// A whole file, a clause or catalogue.
    File(usize),
}

/// The two books as trees, and the files of both.
#[derive(Clone, Debug)]
pub(super) struct Layers {
    pub(super) below: Vec<File>,
    pub(super) own: Vec<File>,
    pub(super) below_files: Vec<Arc<Source>>,
    pub(super) own_files: Vec<Arc<Source>>,
    /// The files as they were read.
    pub(super) shelf: Arc<Shelf>,
}

impl House {
    /// The changes of a firm's book that was read.
    pub(super) fn of(layers: Layers, below: Book, whole: &Book) -> Self {
        let files = layers.own.iter().enumerate();
        let statements = files.flat_map(|(file, tree)| {
            let items = tree.items.iter().enumerate();
            items.filter_map(move |(item, said)| match &said.kind {
                ItemKind::Statement(statement) => Some((Part::Statement(file, item), tree, statement)),
                ItemKind::Broken(_) | ItemKind::Comment(_) => None,
            })
        });
        let mut changes: Vec<HouseChange> = statements
            .filter_map(|(part, tree, statement)| change(part, &tree.source, statement, &below, whole))
            .collect();
        let files = layers.own_files.iter().enumerate();
        changes.extend(files.filter_map(|(file, source)| added_file(file, source)));
        Self { below, changes, layers }
    }

    /// The firm's book without one of its changes, and without what cannot stand without it; nothing if that is no
    /// book.
    pub fn without(&self, change: usize) -> Option<Book> {
        self.leaving_out(BTreeSet::from([self.changes.get(change)?.part]))
    }

    /// The book below with one change alone, and with what the firm declares; nothing if that is no book.
    pub fn only(&self, change: usize) -> Option<Book> {
        let others = self.changes.iter().enumerate();
        let others = others.filter(|(number, other)| *number != change && other.kind.decides());
        self.leaving_out(others.map(|(_, other)| other.part).collect())
    }

    fn leaving_out(&self, mut left_out: BTreeSet<Part>) -> Option<Book> {
        loop {
            let layers = self.layers.without(&left_out);
            let (book, found) = layers.whole(Purpose::ToCompare, Vec::new());
            if book.is_some() {
                return book;
            }
            let errors = found.iter().filter(|found| found.is_error());
            let places = errors.filter_map(|error| error.place.as_ref());
            let more: BTreeSet<Part> = places.filter_map(|place| self.part_at(place)).collect();
            if more.is_subset(&left_out) {
                return None;
            }
            left_out.extend(more);
        }
    }

    /// The firm's change that a place lies in.
    fn part_at(&self, place: &Place) -> Option<Part> {
        let holds = |of: &Place| {
            Arc::ptr_eq(&of.source, &place.source) && of.start <= place.start && place.start < of.end
        };
        self.changes.iter().find(|change| holds(&change.place)).map(|change| change.part)
    }
}

impl Layers {
    /// The book that the two make together, and what stands against it.
    pub(super) fn whole(
        &self,
        purpose: Purpose,
        mut found: Vec<Diagnostic>,
    ) -> (Option<Book>, Vec<Diagnostic>) {
        let (mut trees, mut own) = (self.below.clone(), self.own.clone());
        let changes = apply::changes(&mut trees, &own, &mut found);
        let mut files = reworded(&self.below_files, &own, &mut found);
        take_heads(&mut trees, &mut own);
        trees.extend(own);
        files.extend(self.own_files.iter().cloned());
        check::read_trees(&trees, &files, (purpose, Arc::clone(&self.shelf)), changes, found)
    }

    fn without(&self, left_out: &BTreeSet<Part>) -> Self {
        let mut layers = self.clone();
        for (file, tree) in layers.own.iter_mut().enumerate() {
            let mut item = 0..;
            tree.items.retain(|_| {
                let here = item.next().unwrap_or_default();
                !left_out.contains(&Part::Statement(file, here))
            });
        }
        let mut file = 0..;
        layers.own_files.retain(|_| !left_out.contains(&Part::File(file.next().unwrap_or_default())));
        layers
    }
}

fn change(
    part: Part,
    source: &Arc<Source>,
    statement: &Statement,
    below: &Book,
    whole: &Book,
) -> Option<HouseChange> {
    let kind = match &statement.body {
        Body::Rulebook(_) | Body::House(_) | Body::Source(_) => return None,
        Body::Amend(said) => match said.change.value {
            Change::Clause { .. } => ChangeKind::Reworded,
            _ => ChangeKind::Amended,
        },
        Body::Add(said) => match said.added.value {
            Added::Row { .. } => ChangeKind::Added,
            Added::Column { .. } => ChangeKind::Declared,
        },
        Body::Withdraw(_) => ChangeKind::Withdrawn,
        Body::Rule(_) => ChangeKind::Rule,
        _ => ChangeKind::Declared,
    };
    let (because, per) = match ground(&statement.body) {
        Some(ground) => (ground.because.as_ref().map(|said| said.value.value.clone()), cited(ground, whole)),
        None => (None, Vec::new()),
    };
    let words = canonical(&statement.body).lines().next().unwrap_or_default().to_owned();
    let words = match (kind, &statement.body) {
        (ChangeKind::Declared, Body::Add(_)) => words,
        (ChangeKind::Declared, _) => words.split([' ', ',']).take(2).collect::<Vec<_>>().join(" "),
        _ => words,
    };
    let place = statement.span.place(source);
    let concerns = concerns(&statement.body, below);
    Some(HouseChange { kind, words, because, per, place, concerns, part })
}

/// A clause or catalogue of the firm's own.
fn added_file(file: usize, source: &Arc<Source>) -> Option<HouseChange> {
    let kind = match source.name.rsplit_once('.')?.1 {
        "md" => "clause",
        "yaml" => "catalogue",
        _ => return None,
    };
    Some(HouseChange {
        kind: ChangeKind::Declared,
        words: format!("{kind} {}", check::stem(&source.name)),
        because: None,
        per: Vec::new(),
        place: Place::new(source, 0, source.text.len()),
        concerns: None,
        part: Part::File(file),
    })
}

fn ground(body: &Body) -> Option<&GroundLines> {
    match body {
        Body::Amend(said) => Some(&said.ground),
        Body::Add(said) => Some(&said.ground),
        Body::Withdraw(said) => Some(&said.ground),
        Body::Rule(said) => Some(&said.ground),
        Body::Finding(said) => Some(&said.ground),
        Body::Promise(said) => Some(&said.ground),
        Body::Waive(said) => Some(&said.ground),
        _ => None,
    }
}

fn cited(ground: &GroundLines, whole: &Book) -> Vec<Citation> {
    let cited = ground.per.iter().flat_map(|per| &per.value);
    let known = cited.filter_map(|words| {
        let source = whole.sources.iter().position(|source| source.name == words.source.value)?;
        let detail = words.detail.as_ref().map(|detail| detail.value.clone());
        Some(Citation { source: SourceId(source), detail })
    });
    known.collect()
}

/// What a change changes in the book below.
fn concerns(body: &Body, below: &Book) -> Option<Place> {
    let rule = |name: &str| below.rules.iter().find(|rule| rule.name == name).map(|rule| rule.place.clone());
    match body {
        Body::Withdraw(said) => rule(&said.rule.value),
        Body::Amend(said) => match &said.change.value {
            Change::Limit { rule: name, .. }
            | Change::Narrow { of: Conditioned::Rule, name, .. }
            | Change::Widen { of: Conditioned::Rule, name, .. } => rule(&name.value),
            Change::Narrow { name, .. } | Change::Widen { name, .. } => {
                let finding = below.findings.iter().find(|finding| finding.name == name.value);
                finding.map(|finding| finding.place.clone())
            }
            Change::Clause { clause, .. } => {
                let clause = below.clauses.iter().find(|known| known.name == clause.value);
                clause.map(|clause| clause.place.clone())
            }
            Change::Cell { catalogue, option, .. } => {
                let catalogue = below.catalogues.iter().find(|known| known.name == catalogue.value)?;
                let row = catalogue.options.iter().find(|row| row.name == option.value);
                row.map(|row| row.place.clone())
            }
        },
        Body::Add(said) => {
            let (_, _, catalogue) = said.added.value.named();
            let catalogue = below.catalogues.iter().find(|known| known.name == catalogue.value);
            catalogue.map(|catalogue| catalogue.place.clone())
        }
        _ => None,
    }
}
