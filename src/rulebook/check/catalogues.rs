//! Catalogues: the file as a whole, its rows and its columns.

use std::sync::Arc;

use rayon::prelude::*;

use super::desk::{Desk, Index, Purpose};
use super::digest;
use super::files::stem;
use super::mistake_catalogue::CatalogueMistake;
use super::mistake_name::{listed, meant};
use super::table::Table;
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::book::{Catalogue, CatalogueOption, Citation, Column, End, Kind};
use crate::rulebook::layering::TableChange;
use crate::rulebook::syntax;
use crate::yaml::{self, Key, Node};

/// A catalogue as read: its rows are named, its cells are still to come.
pub(super) struct Written {
    columns: Vec<(Key, Node)>,
    options: Vec<(Key, Node)>,
}

/// A column, and the one it is worked out from.
pub(super) struct Head {
    pub(super) column: Column,
    pub(super) worked_from: Option<(String, Place)>,
}

impl Desk {
    /// Reads the files and the names of their rows.
    pub(super) fn catalogue_names(&mut self, files: &[&Arc<Source>]) -> Vec<Written> {
        let mut written: Vec<(String, Place, Written)> = Vec::new();
        let shelf = Arc::clone(&self.shelf);
        let read: Vec<_> = files.par_iter().map(|file| shelf.tree(file)).collect();
        for (file, (node, mistakes)) in files.iter().zip(read) {
            self.found.extend(mistakes);
            let Some(mut node) = node else { continue };
            let name = stem(&file.name).to_owned();
            if written.iter().any(|(taken, ..)| *taken == name) {
                self.error(&CatalogueMistake::Twice { name }, Place::new(file, 0, 0));
                continue;
            }
            self.change_cells(&name, &mut node);
            if self.purpose == Purpose::ToKeep {
                self.reprint.insert(format!("catalogue {name}"), digest::tree(&node));
            }
            let place = node.place.clone();
            if let Some(parts) = self.parts(node) {
                written.push((name, place, parts));
            }
        }
        written.sort_by(|one, other| one.0.cmp(&other.0));
        self.names.catalogues = Index::of(written.iter().map(|(name, ..)| name.as_str()));
        for change in std::mem::take(&mut self.changes) {
            self.note(change.no_catalogue(self.names.catalogues.names()));
        }
        let mut rest = Vec::new();
        for (name, place, parts) in written {
            let options = parts.options.iter().map(|(key, node)| self.row(key, node)).collect();
            self.book.catalogues.push(Catalogue { name, columns: Vec::new(), options, place });
            rest.push(parts);
        }
        rest
    }

    /// Makes the firm's changes in a catalogue; those of catalogues that are not there are left over.
    fn change_cells(&mut self, name: &str, node: &mut Node) {
        let changes = std::mem::take(&mut self.changes);
        let (here, rest) = changes.into_iter().partition(|change| change.concerns(name));
        self.changes = rest;
        let here: Vec<TableChange> = here;
        for change in here {
            self.found.extend(change.make(node));
        }
    }

    fn parts(&mut self, node: Node) -> Option<Written> {
        let top = node.place.clone();
        let mut pairs = self.record(node)?;
        self.unknown_keys(&pairs, &["columns", "options"]);
        let mut part = |name: &'static str| {
            let at = pairs.iter().position(|(key, _)| key.name == name)?;
            Some(pairs.swap_remove(at).1)
        };
        let (columns, options) = (part("columns"), part("options"));
        let (Some(columns), Some(options)) = (columns, options) else {
            self.error(&CatalogueMistake::Shape { what: "nothing", wanted: "`columns:` or `options:`" }, top);
            return None;
        };
        Some(Written { columns: self.record(columns)?, options: self.record(options)? })
    }

    /// The pairs of a record.
    fn record(&mut self, node: Node) -> Option<Vec<(Key, Node)>> {
        let what = node.what();
        let yaml::Value::Map(pairs) = node.value else {
            self.error(&CatalogueMistake::Shape { what, wanted: "a record" }, node.place);
            return None;
        };
        Some(pairs)
    }

    fn unknown_keys(&mut self, pairs: &[(Key, Node)], known: &[&str]) {
        for (key, _) in pairs.iter().filter(|(key, _)| !known.contains(&key.name.as_str())) {
            let help = meant(&key.name, known.iter().copied(), || listed(known.iter().copied()));
            self.error(&CatalogueMistake::UnknownKey { name: key.name.clone(), help }, key.place.clone());
        }
    }

    fn row(&mut self, key: &Key, node: &Node) -> CatalogueOption {
        self.name_well(key);
        let title = node.get("title").and_then(Node::as_text).unwrap_or_default().to_owned();
        if title.is_empty() {
            let help = "add `title:`, the words printed for it";
            let mistake = CatalogueMistake::Missing { of: key.name.clone(), part: "title", help };
            self.error(&mistake, key.place.clone());
        }
        CatalogueOption { name: key.name.clone(), title, cells: Vec::new(), place: key.place.clone() }
    }

    fn name_well(&mut self, key: &Key) {
        let part = |part: &str| !part.is_empty() && part.chars().all(|sign| sign.is_ascii_alphanumeric());
        let well =
            key.name.starts_with(|first: char| first.is_ascii_alphabetic()) && key.name.split('-').all(part);
        if !well {
            self.error(&CatalogueMistake::NotAName { name: key.name.clone() }, key.place.clone());
        }
    }

    /// Reads columns and cells.
    pub(super) fn catalogue_cells(&mut self, written: Vec<Written>) {
        for (at, parts) in written.into_iter().enumerate() {
            let heads: Vec<Head> =
                parts.columns.iter().filter_map(|(key, node)| self.column_head(key, node)).collect();
            let Some(name) = self.book.catalogues.get(at).map(|catalogue| catalogue.name.clone()) else {
                continue;
            };
            let table = Table { name: &name, columns: &parts.columns, heads: &heads };
            let mut rows = Vec::new();
            for (key, node) in &parts.options {
                rows.push(self.cells_of(&table, key, node));
            }
            let Some(catalogue) = self.book.catalogues.get_mut(at) else { continue };
            for (option, cells) in catalogue.options.iter_mut().zip(rows) {
                option.cells = cells;
            }
            catalogue.columns = heads.into_iter().map(|head| head.column).collect();
        }
        self.tables = self.book.catalogues.iter().cloned().map(Arc::new).collect();
    }

    fn column_head(&mut self, key: &Key, node: &Node) -> Option<Head> {
        self.name_well(key);
        let Some(pairs) = node.as_map() else {
            let mistake = CatalogueMistake::Shape { what: node.what(), wanted: "a record" };
            self.error(&mistake, node.place.clone());
            return None;
        };
        self.unknown_keys(pairs, &["title", "kind", "worst", "per", "worked-from"]);
        let title = self.column_text(key, node, "title", "add `title:`, the words printed over it");
        let kind = self.column_text(key, node, "kind", "add `kind:`, such as `length` or `yes or no`");
        let kind = kind.and_then(|(kind, place)| self.column_kind(&kind, &place));
        let worst = node.get("worst").and_then(|worst| self.worst(worst));
        let per = node.get("per").map(|per| self.cited(per)).unwrap_or_default();
        let worked_from =
            node.get("worked-from").and_then(|from| Some((from.as_text()?.to_owned(), from.place.clone())));
        let column = Column {
            name: key.name.clone(),
            title: title?.0,
            kind: kind?,
            worst,
            per,
            place: key.place.clone(),
        };
        Some(Head { column, worked_from })
    }

    fn column_text(
        &mut self,
        key: &Key,
        node: &Node,
        part: &'static str,
        help: &'static str,
    ) -> Option<(String, Place)> {
        let found = node.get(part).and_then(|text| Some((text.as_text()?.to_owned(), text.place.clone())));
        if found.is_none() {
            let mistake = CatalogueMistake::Missing { of: key.name.clone(), part, help };
            self.error(&mistake, key.place.clone());
        }
        found
    }

    fn column_kind(&mut self, text: &str, place: &Place) -> Option<Kind> {
        match syntax::kind(text, place) {
            Ok(kind) => self.kind(&kind.value, &|_| place.clone()),
            Err(mistake) => {
                self.note(*mistake);
                None
            }
        }
    }

    fn worst(&mut self, node: &Node) -> Option<End> {
        match node.as_text() {
            Some("high") => Some(End::High),
            Some("low") => Some(End::Low),
            other => {
                let written = other.unwrap_or(node.what()).to_owned();
                self.error(&CatalogueMistake::Worst { written }, node.place.clone());
                None
            }
        }
    }

    /// Reads the sources of a column, cell or clause.
    pub(super) fn cited(&mut self, node: &Node) -> Vec<Citation> {
        let Some(text) = node.as_text() else {
            let mistake = CatalogueMistake::Shape { what: node.what(), wanted: "a source" };
            self.note(Diagnostic::error(&mistake, node.place.clone()));
            return Vec::new();
        };
        match syntax::citations(text, &node.place) {
            Ok(cited) => cited.iter().filter_map(|cited| self.citation(cited, node.place.clone())).collect(),
            Err(mistake) => {
                self.note(*mistake);
                Vec::new()
            }
        }
    }
}
