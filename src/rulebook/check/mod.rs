//! From trees to the book: names found, kinds and units checked, conditions turned into cells, decisions put in
//! order. In: the files of a rulebook. Out: a [`Book`], or what stands against it, all of it in one run. Reads no
//! file and knows no survey.

mod catalogues;
mod clauses;
mod conditions;
mod declared;
mod desk;
mod digest;
mod effects;
mod facts;
mod figures;
mod files;
mod formulae;
mod gather;
mod grounds;
mod house;
mod kinds;
mod mistake_catalogue;
mod mistake_clause;
mod mistake_ground;
mod mistake_kind;
mod mistake_name;
mod mistake_order;
mod mistake_shape;
mod places;
mod reads;
mod rules;
mod shelf;
mod sorting;
mod submittal;
mod table;
mod waivers;
mod whose;
mod wording;

use std::sync::Arc;

use desk::Desk;
pub(super) use desk::Purpose;
use gather::Statements;
use mistake_order::BookRemark;
use mistake_shape::ShapeMistake;
use rayon::prelude::*;

use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::book::{Book, EffectKind};
use crate::rulebook::layering::TableChange;
use crate::rulebook::syntax::{self, ast::File};

pub(super) use files::stem;
pub(super) use shelf::Shelf;

/// Reads a rulebook: `*.rule`, `*.yaml` (catalogues, called as their files) and `clauses/**/*.md`. Neither the order of
/// the files nor that of the statements matters. No book comes of files with an error; remarks leave it whole.
pub fn read(files: &[Arc<Source>]) -> (Option<Book>, Vec<Diagnostic>) {
    // Collected in the order of the files, whichever is read first.
    let parsed: Vec<(File, Vec<Diagnostic>)> =
        rule_files(files).par_iter().map(|file| syntax::parse(file)).collect();
    let (trees, mistakes): (Vec<File>, Vec<Vec<Diagnostic>>) = parsed.into_iter().unzip();
    let shelf = (Purpose::ToKeep, Arc::default());
    read_trees(&trees, files, shelf, Vec::new(), mistakes.concat())
}

/// The rule files among the files of a book, in the order of their names.
pub(super) fn rule_files(files: &[Arc<Source>]) -> Vec<&Arc<Source>> {
    files::sort(files).rules
}

/// The clauses among the files of a book, in the order of their names.
pub(super) fn clause_files(files: &[Arc<Source>]) -> Vec<&Arc<Source>> {
    files::sort(files).clauses
}

/// Makes a book of rule files that were read, and of the catalogues and clauses among the files; `changes` are made in
/// the catalogues, and `found` is what was found before. Files on the shelf are not read again.
pub(super) fn read_trees(
    trees: &[File],
    files: &[Arc<Source>],
    (purpose, shelf): (Purpose, Arc<Shelf>),
    changes: Vec<TableChange>,
    mut found: Vec<Diagnostic>,
) -> (Option<Book>, Vec<Diagnostic>) {
    let files = files::sort(files);
    let statements = gather::gather(trees, &mut found);
    let mut desk = Desk::new(found);
    (desk.changes, desk.purpose, desk.shelf) = (changes, purpose, shelf);
    if statements.houses.is_empty() {
        desk.head(&statements, &files);
        desk.fill(&statements, &files);
        if purpose == Purpose::ToKeep {
            desk.digests(trees);
        }
    } else {
        desk.house_alone(&statements);
    }
    finish(desk)
}

/// Checks the form of a firm's changes to a book.
pub(super) fn house_form(own: &[File], below: &Book) -> Vec<Diagnostic> {
    let statements = gather::gather(own, &mut Vec::new());
    let mut desk = Desk::new(Vec::new());
    desk.house_over(&statements, below);
    desk.found
}

fn finish(desk: Desk) -> (Option<Book>, Vec<Diagnostic>) {
    let mut found = desk.found;
    found.sort_by(|one, other| (&one.place, &one.code).cmp(&(&other.place, &other.code)));
    let book = if found.iter().any(Diagnostic::is_error) { None } else { Some(desk.book) };
    (book, found)
}

impl Desk {
    /// The name and edition.
    fn head(&mut self, statements: &Statements<'_>, files: &files::Files<'_>) {
        let mut heads = statements.heads.iter();
        if let Some(head) = heads.next() {
            self.book.title.clone_from(&head.said.title.value);
            self.book.edition.clone_from(&head.said.edition.value);
            for second in heads {
                let mistake = Diagnostic::error(&ShapeMistake::TwoHeads, second.place());
                self.note(mistake.and(head.place(), "named here"));
            }
        } else {
            let place = files.rules.first().map(|file| Place::new(file, 0, 0));
            self.note(Diagnostic::error(&ShapeMistake::NoHead, place));
        }
        self.nothing_below(statements);
    }

    /// Declarations first, then conditions twice: once to see where each fact is cut, once against its cells.
    fn fill(&mut self, statements: &Statements<'_>, files: &files::Files<'_>) {
        self.sources(&statements.sources);
        self.stages(&statements.stages);
        let written = self.catalogue_names(&files.catalogues);
        self.quantities(&statements.quantities);
        self.catalogue_cells(written);
        self.slots(&statements.slots);
        self.facts(&statements.facts, &statements.worked);
        self.told_with(&statements.facts);
        self.formulae(&statements.worked);
        self.names.findings =
            desk::Index::of(statements.findings.iter().map(|finding| finding.said.name.value.as_str()));
        self.clauses(&files.clauses);
        self.decide(statements);
        self.settle_cells();
        self.decide(statements);
        self.hold_points();
        self.never_required();
        self.order();
    }

    /// Compiles everything with a condition.
    fn decide(&mut self, statements: &Statements<'_>) {
        self.questions(&statements.facts);
        self.slot_conditions(&statements.slots);
        self.findings(&statements.findings);
        self.rules(&statements.rules);
        self.promises(&statements.promises);
        self.waivers(&statements.waivers);
    }

    /// Says which clauses no rule requires.
    fn never_required(&mut self) {
        let required: std::collections::BTreeSet<usize> = self
            .book
            .rules
            .iter()
            .flat_map(|rule| &rule.effects)
            .filter_map(|effect| match &effect.kind {
                EffectKind::Require(clause) => Some(clause.0),
                _ => None,
            })
            .collect();
        for (at, clause) in self.book.clauses.iter().enumerate() {
            if !required.contains(&at) {
                let remark = BookRemark::NeverRequired { name: clause.name.clone() };
                self.found.push(Diagnostic::remark(&remark, clause.place.clone()));
            }
        }
    }
}
