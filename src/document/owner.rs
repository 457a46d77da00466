//! The values of the owner's sheet: cautions, lists, and the record of what stands on the wall.

use serde::Serialize;

use super::clauses::{Printed, Setter};
use super::section::{Caution, cautions, clauses};
use super::templates::Templates;
use crate::diagnostic::Diagnostic;
use crate::rulebook::book::Audience;

/// What the owner's sheet prints besides what all documents share.
#[derive(Debug, Serialize)]
pub(super) struct OwnerContext {
    cautions: Vec<Caution>,
    lists: Vec<ListShown>,
}

/// A list with its clauses.
#[derive(Debug, Serialize)]
struct ListShown {
    name: String,
    title: String,
    clauses: Vec<Printed>,
}

impl OwnerContext {
    pub(super) fn of(setter: Setter<'_>, templates: &Templates) -> Result<Self, Vec<Diagnostic>> {
        let mut mistakes = Vec::new();
        let lists = templates
            .lists
            .iter()
            .map(|list| ListShown {
                name: list.name.clone(),
                title: list.title.clone(),
                clauses: clauses(setter, &mut mistakes, |clause| {
                    clause.care.as_deref() == Some(list.name.as_str())
                }),
            })
            .collect();
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        Ok(Self { cautions: cautions(setter.view, &[Audience::Owner, Audience::Public]), lists })
    }
}
