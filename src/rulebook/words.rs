//! Cells back into words: what a set of cells of a fact means to a reader.

use num_rational::BigRational;

use crate::rulebook::book::{Fact, Kind};
use crate::rulebook::cells::CellSet;
use crate::units::{Quantity, System, print};

/// A set of cells as words: `yes`, `limewash or silicate`, `over 5 %`, `does not arise`.
pub fn cells_in_words(fact: &Fact, cells: CellSet, system: System) -> String {
    let mut parts = match &fact.kind {
        Kind::YesNo => listed(&["yes".to_owned(), "no".to_owned()], cells),
        Kind::OneOf(words) => listed(words, cells),
        Kind::Number { .. } | Kind::Measure { .. } => stretches(fact, cells, system),
        Kind::Text => vec!["answered".to_owned()],
    };
    if fact.cells.absent().meets(cells) {
        parts.push("does not arise".to_owned());
    }
    parts.join(" or ")
}

fn listed(words: &[String], cells: CellSet) -> Vec<String> {
    words.iter().enumerate().filter(|(cell, _)| cells.contains(*cell)).map(|(_, word)| word.clone()).collect()
}

/// Runs of neighbouring cells, each in words.
fn stretches(fact: &Fact, cells: CellSet, system: System) -> Vec<String> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for cell in cells.iter().filter(|cell| *cell < fact.cells.answered) {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == cell => *last = cell,
            _ => runs.push((cell, cell)),
        }
    }
    runs.into_iter().map(|(first, last)| stretch(fact, first, last, system)).collect()
}

/// Even cells lie between cuts, odd cells are the cuts themselves.
fn stretch(fact: &Fact, first: usize, last: usize, system: System) -> String {
    let cut = |index: usize| fact.cells.cuts.get(index).map(|number| figure(&fact.kind, number, system));
    let low = match first {
        0 => None,
        _ if first % 2 == 1 => cut(first / 2).map(|figure| (figure, true)),
        _ => cut(first / 2 - 1).map(|figure| (figure, false)),
    };
    let high = match last {
        _ if last + 1 >= fact.cells.answered => None,
        _ if last % 2 == 1 => cut(last / 2).map(|figure| (figure, true)),
        _ => cut(last / 2).map(|figure| (figure, false)),
    };
    match (low, high) {
        (None, None) => "any figure".to_owned(),
        (Some((figure, true)), None) => format!("at least {figure}"),
        (Some((figure, false)), None) => format!("over {figure}"),
        (None, Some((figure, true))) => format!("at most {figure}"),
        (None, Some((figure, false))) => format!("under {figure}"),
        (Some((low, true)), Some((high, true))) if low == high => low,
        (Some((low, from)), Some((high, to))) => {
            let from = if from { "from" } else { "over" };
            let to = if to { "to at most" } else { "to under" };
            format!("{from} {low} {to} {high}")
        }
    }
}

fn figure(kind: &Kind, number: &BigRational, system: System) -> String {
    match kind {
        Kind::Measure { dimension, .. } => print(&Quantity::from_base(number.clone(), *dimension), system),
        _ => number.to_string(),
    }
}
