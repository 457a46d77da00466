//! The rows of a worked fact that each option of a slot has its own of. Two books share a row only where they have the
//! same figure for the option: what is worked out from another figure comes out otherwise.

use super::space::Told;
use crate::rulebook::book::{Book, CellValue, Fact, OptionId, Origin, SlotId};

/// What each row of a fact is called; a fact without options has one.
pub(crate) fn of(books: &[Told<'_>], number: usize, fact: &Fact) -> Vec<String> {
    let Origin::Worked { per_option_of: Some(slot), .. } = fact.origin else { return vec![String::new()] };
    let Some(book) = books.get(number).map(|told| told.book) else { return Vec::new() };
    figures(book, slot)
        .into_iter()
        .map(|(name, figure)| {
            let differs = |told: &Told<'_>| {
                let other = told.book.facts.iter().find(|other| other.name == fact.name);
                let slot = other.and_then(|other| match other.origin {
                    Origin::Worked { per_option_of, .. } => per_option_of,
                    Origin::Asked(_) => None,
                });
                let others = slot.map(|slot| figures(told.book, slot)).unwrap_or_default();
                others.iter().any(|(other, own)| *other == name && *own != figure)
            };
            if books.iter().any(differs) { format!("{name}, in book {number}") } else { name }
        })
        .collect()
}

/// Each option's name and air layer.
fn figures(book: &Book, slot: SlotId) -> Vec<(String, Option<CellValue>)> {
    let catalogue = book.slots.get(slot.0).and_then(|slot| book.catalogues.get(slot.catalogue.0));
    let Some(catalogue) = catalogue else { return Vec::new() };
    let column = catalogue.column("sd");
    let options = catalogue.options.iter().enumerate();
    options
        .map(|(option, declared)| {
            let cell = column.and_then(|column| catalogue.cell(OptionId(option), column));
            (declared.name.clone(), cell.map(|cell| cell.value.clone()))
        })
        .collect()
}
