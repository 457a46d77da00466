//! YAML that was read already: catalogues and the front matter of clauses. The books that a firm's changes make one by one
//! are made of the same files, which need not be read again for each.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::clauses::ReadFront;
use super::files;
use crate::diagnostic::{Diagnostic, Source};
use crate::yaml::{self, Node};

/// A catalogue as a tree, and what stands against it.
type Tree = (Option<Node>, Vec<Diagnostic>);

/// Files with what they hold, by their names.
#[derive(Debug, Default)]
pub(in crate::rulebook) struct Shelf {
    catalogues: BTreeMap<String, (Arc<Source>, Tree)>,
    fronts: BTreeMap<String, (Arc<Source>, Arc<Option<ReadFront>>)>,
}

impl Shelf {
    /// Reads the catalogues and clauses among these files.
    pub(in crate::rulebook) fn of(files: &[Arc<Source>]) -> Self {
        let files = files::sort(files);
        let named = |file: &Arc<Source>| (file.name.clone(), Arc::clone(file));
        let catalogues = files.catalogues.par_iter().map(|file| {
            let (name, kept) = named(file);
            (name, (kept, yaml::read(file)))
        });
        let fronts = files.clauses.par_iter().map(|file| {
            let (name, kept) = named(file);
            (name, (kept, Arc::new(ReadFront::of(file))))
        });
        Self { catalogues: catalogues.collect(), fronts: fronts.collect() }
    }

    /// A catalogue as a tree.
    pub(super) fn tree(&self, file: &Arc<Source>) -> Tree {
        let known = self.catalogues.get(&file.name).filter(|(known, _)| Arc::ptr_eq(known, file));
        known.map_or_else(|| yaml::read(file), |(_, tree)| tree.clone())
    }

    /// The front matter of a clause.
    pub(super) fn front(&self, file: &Arc<Source>) -> Arc<Option<ReadFront>> {
        let known = self.fronts.get(&file.name).filter(|(known, _)| Arc::ptr_eq(known, file));
        known.map_or_else(|| Arc::new(ReadFront::of(file)), |(_, front)| Arc::clone(front))
    }
}
