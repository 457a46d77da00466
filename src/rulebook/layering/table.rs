//! What a firm changes in a catalogue, made as the catalogue is read: rows, then columns, then cells.

use std::sync::Arc;

use super::cell::{CellChange, child, missing, value_node};
use super::mistake::LayeringMistake;
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::syntax::ast::{Added, CellWords, Span};
use crate::rulebook::syntax::kind_in_words;
use crate::rulebook::syntax::print_words::end;
use crate::yaml::{Key, Node, Value};

/// A change to a catalogue.
#[derive(Clone, Debug)]
pub(in crate::rulebook) enum TableChange {
    /// A new row or column.
    Add(Addition),
    /// Another value in a cell.
    Cell(CellChange),
}

/// A new row or column, where it is stated and what it cites.
#[derive(Clone, Debug)]
pub(in crate::rulebook) struct Addition {
    pub(super) source: Arc<Source>,
    pub(super) added: Added,
    /// The firm's sources, as written in a catalogue.
    pub(super) per: String,
}

impl TableChange {
    /// Whether it concerns a catalogue.
    pub(in crate::rulebook) fn concerns(&self, catalogue: &str) -> bool {
        match self {
            Self::Add(addition) => addition.added.named().2.value == catalogue,
            Self::Cell(cell) => cell.concerns(catalogue),
        }
    }

    /// Says that there is no such catalogue.
    pub(in crate::rulebook) fn no_catalogue<'n>(&self, known: impl Iterator<Item = &'n str>) -> Diagnostic {
        match self {
            Self::Add(addition) => {
                let (_, _, catalogue) = addition.added.named();
                missing("catalogue", &(catalogue.value.clone(), addition.place(catalogue.span)), known)
            }
            Self::Cell(cell) => cell.no_catalogue(known),
        }
    }

    /// Makes the change in a catalogue that was read; what does not fit is told.
    pub(in crate::rulebook) fn make(&self, catalogue: &mut Node) -> Vec<Diagnostic> {
        match self {
            Self::Add(addition) => addition.make(catalogue),
            Self::Cell(cell) => cell.make(catalogue).err().map(|told| *told).into_iter().collect(),
        }
    }
}

impl Addition {
    fn place(&self, span: Span) -> Place {
        span.place(&self.source)
    }

    fn key(&self, name: &str, span: Span) -> Key {
        Key { name: name.to_owned(), place: self.place(span) }
    }

    fn text(&self, text: &str, span: Span) -> Node {
        Node { place: self.place(span), value: Value::Text(text.to_owned()) }
    }

    fn record(&self, pairs: Vec<(Key, Node)>, span: Span) -> Node {
        Node { place: self.place(span), value: Value::Map(pairs) }
    }

    /// A cell with the firm's source.
    fn cell(&self, cell: &CellWords) -> Node {
        let span = cell.value.span;
        let value = value_node(&cell.value.value, &self.place(span));
        let per = (self.key("per", span), self.text(&self.per, span));
        self.record(vec![(self.key("value", span), value), per], span)
    }

    fn make(&self, catalogue: &mut Node) -> Vec<Diagnostic> {
        let (what, name, _) = self.added.named();
        let list = if what == "row" { "options" } else { "columns" };
        // A catalogue of another shape is told of as it is read.
        let Some(Value::Map(pairs)) = child(catalogue, list).map(|node| &mut node.value) else {
            return Vec::new();
        };
        if let Some((key, _)) = pairs.iter().find(|(key, _)| key.name == name.value) {
            return vec![self.there_already(&key.place)];
        }
        pairs.push((self.key(&name.value, name.span), self.entry()));
        match &self.added {
            Added::Row { .. } => Vec::new(),
            Added::Column { cells, .. } => self.fill(catalogue, cells),
        }
    }

    fn there_already(&self, place: &Place) -> Diagnostic {
        let (what, name, catalogue) = self.added.named();
        let mistake = LayeringMistake::ThereAlready {
            catalogue: catalogue.value.clone(),
            what,
            name: name.value.clone(),
        };
        Diagnostic::error(&mistake, self.place(name.span)).and(place.clone(), "it stands here")
    }

    /// The row, or the head of the column.
    fn entry(&self) -> Node {
        let (_, name, _) = self.added.named();
        let mut pairs = Vec::new();
        let mut text = |key: &str, text: &str, span: Span| {
            pairs.push((self.key(key, span), self.text(text, span)));
        };
        match &self.added {
            Added::Row { title, cells, .. } => {
                text("title", &title.value, title.span);
                pairs.extend(
                    cells.iter().map(|cell| (self.key(&cell.name.value, cell.name.span), self.cell(cell))),
                );
            }
            Added::Column { title, kind, worst, .. } => {
                text("title", &title.value, title.span);
                text("kind", &kind_in_words(&kind.value), kind.span);
                if let Some(worst) = worst {
                    text("worst", end(*worst), kind.span);
                }
                text("per", &self.per, name.span);
            }
        }
        self.record(pairs, name.span)
    }

    /// Puts the cells of a new column into their rows; each row has one.
    fn fill(&self, catalogue: &mut Node, cells: &[CellWords]) -> Vec<Diagnostic> {
        let (_, name, _) = self.added.named();
        let Some(Value::Map(rows)) = child(catalogue, "options").map(|node| &mut node.value) else {
            return Vec::new();
        };
        let mut told = Vec::new();
        for cell in cells {
            let known: Vec<String> = rows.iter().map(|(key, _)| key.name.clone()).collect();
            match rows.iter_mut().find(|(key, _)| key.name == cell.name.value) {
                Some((_, Node { value: Value::Map(pairs), .. })) => {
                    pairs.push((self.key(&name.value, cell.name.span), self.cell(cell)));
                }
                Some(_) => {}
                None => {
                    let named = (cell.name.value.clone(), self.place(cell.name.span));
                    told.push(missing("row", &named, known.iter().map(String::as_str)));
                }
            }
        }
        for (key, row) in rows.iter_mut().filter(|(_, row)| row.get(&name.value).is_none()) {
            let Value::Map(pairs) = &mut row.value else { continue };
            let mistake = LayeringMistake::NoCellFor { column: name.value.clone(), row: key.name.clone() };
            told.push(Diagnostic::error(&mistake, self.place(name.span)).and(key.place.clone(), "the row"));
            // Told once is enough.
            pairs.push((self.key(&name.value, name.span), self.text("none", name.span)));
        }
        told
    }
}
