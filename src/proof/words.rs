//! A witness in words.

use super::witness::{Answer, Rest, Witness};
use crate::rulebook::words::cells_in_words;
use crate::units::System;

/// What a survey must say to show something, one fact a line.
pub fn in_words(witness: &Witness, system: System) -> String {
    let mut lines = vec!["a survey that shows it:".to_owned()];
    lines.extend(conditions(witness, system).into_iter().map(|line| format!("  {line}")));
    if let Some(counted) = &witness.count {
        let facts = if counted.facts.len() == 1 { "fact" } else { "facts" };
        lines.push(format!("  {}, told apart by {} {facts}", counted.count, counted.facts.len()));
    }
    if witness.leans_on_worked_facts() {
        lines.push("  what is worked out was taken as free: this survey may not be reachable".to_owned());
    }
    lines.join("\n")
}

/// The same without its count: what the facts say that matter, and what of the others.
pub fn conditions(witness: &Witness, system: System) -> Vec<String> {
    let answers = witness.answers.iter().flat_map(|answer| of_answer(answer, system));
    answers.chain([rest(witness)]).collect()
}

/// What may be said of the facts that the witness does not name.
fn rest(witness: &Witness) -> String {
    let facts = if witness.free == 1 { "other fact" } else { "other facts" };
    match witness.rest {
        Rest::Anything => format!("any answer to the {} {facts}", witness.free),
        Rest::Unanswered => format!("no answer to the {} {facts}", witness.free),
    }
}

fn of_answer(answer: &Answer, system: System) -> Vec<String> {
    let Answer { fact, cells, rows, worked } = answer;
    let worked = if *worked { " (worked out)" } else { "" };
    match rows {
        None => {
            let cells = cells.first().copied().unwrap_or_default();
            vec![format!("{}: {}{worked}", fact.name, cells_in_words(fact, cells, system))]
        }
        Some(rows) => {
            let said =
                rows.iter().zip(cells).filter(|(_, cells)| !fact.cells.any_answer().is_within(**cells));
            said.map(|(option, cells)| {
                format!("{} with {option}: {}{worked}", fact.name, cells_in_words(fact, *cells, system))
            })
            .collect()
        }
    }
}
