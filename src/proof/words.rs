//! A witness in words.

use super::witness::{Answer, Rest, Witness};
use crate::rulebook::book::{Book, Fact, Origin};
use crate::rulebook::words::cells_in_words;
use crate::units::System;

/// What a survey must say to show something, one fact a line.
pub(crate) fn in_words(book: &Book, witness: &Witness, system: System) -> String {
    let mut lines = vec!["a survey that shows it:".to_owned()];
    lines.extend(witness.answers.iter().flat_map(|answer| of_answer(book, answer, system)));
    lines.push(format!("  {}", rest(witness)));
    if let Some(count) = &witness.count {
        let facts = count.facts.len();
        lines.push(format!("  {}, told apart by {facts} facts", count.count));
    }
    if witness.leans_on_worked_facts() {
        lines.push("  what is worked out was taken as free: this survey may not be reachable".to_owned());
    }
    lines.join("\n")
}

/// What may be said of the facts that the witness does not name.
fn rest(witness: &Witness) -> String {
    let facts = if witness.free == 1 { "other fact" } else { "other facts" };
    match witness.rest {
        Rest::Anything => format!("any answer to the {} {facts}", witness.free),
        Rest::Unanswered => format!("no answer to the {} {facts}", witness.free),
    }
}

fn of_answer(book: &Book, answer: &Answer, system: System) -> Vec<String> {
    let Some(fact) = book.facts.get(answer.fact.0) else { return Vec::new() };
    let worked = if answer.worked { " (worked out)" } else { "" };
    if !answer.by_option {
        let cells = answer.cells.first().copied().unwrap_or_default();
        return vec![format!("  {}: {}{worked}", fact.name, cells_in_words(fact, cells, system))];
    }
    let rows = answer.cells.iter().enumerate().filter(|(_, cells)| **cells != fact.cells.any_answer());
    rows.map(|(option, cells)| {
        let option = option_name(book, fact, option);
        format!("  {} with {option}: {}{worked}", fact.name, cells_in_words(fact, *cells, system))
    })
    .collect()
}

fn option_name(book: &Book, fact: &Fact, option: usize) -> String {
    let slot = match fact.origin {
        Origin::Worked { per_option_of: Some(slot), .. } => book.slots.get(slot.0),
        _ => None,
    };
    let catalogue = slot.and_then(|slot| book.catalogues.get(slot.catalogue.0));
    catalogue
        .and_then(|catalogue| catalogue.options.get(option))
        .map(|option| option.name.clone())
        .unwrap_or_default()
}
