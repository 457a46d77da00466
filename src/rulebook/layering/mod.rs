//! A firm's book laid over the trade's. In: the files of both. Out: one book, in which every change carries the firm's
//! own reason and source, and what does not fit. The book below is never changed in its files, and nothing of it is
//! overridden unseen: a change quotes the old value.
//!
//! A changed limit leaves its rule and stands in a rule of the firm's own, `RULE-QUANTITY`, under the same condition; a
//! narrowed or widened condition reads a finding of the firm's own, `RULE-only-where` or `RULE-also-where`. Rows and columns are
//! added to catalogues, and words changed in clauses, as those files are read.

mod apply;
mod cell;
mod clause;
mod house;
mod mistake;
mod table;

use std::sync::Arc;

use rayon::prelude::*;

use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::book::Book;
use crate::rulebook::check::{self, Purpose, Shelf};
use crate::rulebook::syntax::ast::{Body, File, HouseHead, ItemKind, RulebookHead};
use crate::rulebook::syntax::parse;

use house::Layers;
pub use house::{ChangeKind, House, HouseChange};
use mistake::LayeringMistake;
pub(super) use table::TableChange;

/// Whether these files are a firm's book, to be read over another with [`read_over`].
pub fn is_house(files: &[Arc<Source>]) -> bool {
    files.iter().any(|file| file.text.lines().any(|line| line.starts_with("house rulebook ")))
}

/// Reads a firm's book over the book below.
pub fn read_over(below: &[Arc<Source>], house: &[Arc<Source>]) -> (Option<Book>, Vec<Diagnostic>) {
    let (trees, mut found) = parsed(below);
    let shelf = Arc::new(Shelf::of(&[below, house].concat()));
    let kept = (Purpose::ToKeep, Arc::clone(&shelf));
    let (book, of_book) = check::read_trees(&trees, below, kept, Vec::new(), found.clone());
    let Some(book) = book else { return (None, of_book) };
    let (own, mistakes) = parsed(house);
    found.extend(mistakes);
    found.extend(check::house_form(&own, &book));
    let Some((source, named)) = head(&own) else {
        let place = house.first().map(|file| Place::new(file, 0, 0));
        found.push(Diagnostic::error(&LayeringMistake::NoHead, place));
        return (None, found);
    };
    found.extend(fits(&book, source, named));
    let layers = Layers { below: trees, own, below_files: below.to_vec(), own_files: house.to_vec(), shelf };
    let (whole, found) = layers.whole(Purpose::ToKeep, found);
    let whole = whole.map(|mut whole| {
        whole.house = Some(Arc::new(House::of(layers, book, &whole)));
        whole
    });
    (whole, found)
}

fn parsed(files: &[Arc<Source>]) -> (Vec<File>, Vec<Diagnostic>) {
    let parsed: Vec<(File, Vec<Diagnostic>)> =
        check::rule_files(files).par_iter().map(|file| parse(file)).collect();
    let (trees, mistakes): (Vec<File>, Vec<Vec<Diagnostic>>) = parsed.into_iter().unzip();
    (trees, mistakes.concat())
}

fn head(own: &[File]) -> Option<(&Arc<Source>, &HouseHead)> {
    own.iter().find_map(|file| {
        file.statements().find_map(|statement| match &statement.body {
            Body::House(head) => Some((&file.source, head)),
            _ => None,
        })
    })
}

/// Whether the book below is the one that the firm's book was written over.
fn fits(book: &Book, source: &Arc<Source>, head: &HouseHead) -> Option<Diagnostic> {
    let named = |title: &str, edition: &str| format!("{title}, edition {edition}");
    if (&head.over.value, &head.over_edition.value) != (&book.title, &book.edition) {
        let mistake = LayeringMistake::OtherBook {
            wanted: named(&head.over.value, &head.over_edition.value),
            below: named(&book.title, &book.edition),
        };
        return Some(Diagnostic::error(&mistake, head.over.span.place(source)));
    }
    if book.digest.starts_with(&head.digest.value.to_ascii_lowercase()) {
        return None;
    }
    let mistake = LayeringMistake::Changed { digest: book.digest.chars().take(12).collect() };
    Some(Diagnostic::error(&mistake, head.digest.span.place(source)))
}

/// The firm's name and edition become those of the whole; its changes have been made and go.
fn take_heads(below: &mut [File], own: &mut [File]) {
    for file in below {
        file.items.retain(|item| !is(&item.kind, |body| matches!(body, Body::Rulebook(_))));
    }
    for file in own {
        file.items.retain(|item| {
            !is(&item.kind, |body| matches!(body, Body::Amend(_) | Body::Add(_) | Body::Withdraw(_)))
        });
        for item in &mut file.items {
            if let ItemKind::Statement(statement) = &mut item.kind
                && let Body::House(head) = &statement.body
            {
                let head = RulebookHead { title: head.title.clone(), edition: head.edition.clone() };
                statement.body = Body::Rulebook(head);
            }
        }
    }
}

fn is(kind: &ItemKind, wanted: impl Fn(&Body) -> bool) -> bool {
    matches!(kind, ItemKind::Statement(statement) if wanted(&statement.body))
}
