//! Which file is what, by its name.

use std::sync::Arc;

use crate::diagnostic::Source;

/// The files of a book, each sort in the order of its names.
#[derive(Default)]
pub(super) struct Files<'a> {
    /// `*.rule`
    pub(super) rules: Vec<&'a Arc<Source>>,
    /// `*.yaml`, catalogues
    pub(super) catalogues: Vec<&'a Arc<Source>>,
    /// `clauses/**/*.md`
    pub(super) clauses: Vec<&'a Arc<Source>>,
}

/// The file of waivers for papers, which says nothing of walls.
const WAIVERS: &str = "proofreading";

/// Sorts files by their names. Anything else that lies in the folder is left alone.
pub(super) fn sort(files: &[Arc<Source>]) -> Files<'_> {
    let mut sorted: Vec<&Arc<Source>> = files.iter().collect();
    sorted.sort();
    let mut found = Files::default();
    for file in sorted {
        match ending(&file.name) {
            "rule" => found.rules.push(file),
            "yaml" if stem(&file.name) != WAIVERS => found.catalogues.push(file),
            "md" if in_clauses(&file.name) => found.clauses.push(file),
            _ => {}
        }
    }
    found
}

fn ending(name: &str) -> &str {
    name.rsplit_once('.').map_or("", |(_, ending)| ending)
}

fn in_clauses(name: &str) -> bool {
    let mut folders = name.split('/').rev().skip(1);
    folders.any(|folder| folder == "clauses")
}

/// The last part of a file's name, without its ending.
pub(in crate::rulebook) fn stem(name: &str) -> &str {
    let last = name.rsplit('/').next().unwrap_or(name);
    last.rsplit_once('.').map_or(last, |(stem, _)| stem)
}
