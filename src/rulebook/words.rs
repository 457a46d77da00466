//! Names and cells back into words: what they mean to a reader.

use num_rational::BigRational;

use crate::rulebook::book::{Fact, Kind};
use crate::rulebook::cells::CellSet;
use crate::units::{Quantity, System, print};

/// Words of names that are not written as names are: one a line, as a name has them and as they print.
const SPELLED: &str = include_str!("spelled.txt");

/// A name as plain words: `wash-pressure` is wash pressure, `rinse-ph` rinse pH.
pub fn spoken(name: &str) -> String {
    let mut spoken = name.replace('-', " ");
    for (plain, spelled) in SPELLED.lines().filter_map(|line| line.split_once(" | ")) {
        if spoken.contains(plain) {
            spoken = format!(" {spoken} ").replace(&format!(" {plain} "), &format!(" {spelled} "));
            spoken = spoken.trim().to_owned();
        }
    }
    spoken
}

/// A set of cells as words, those of a list as the survey writes them: `yes`, `lime-render or silicate`, `over 5 %`,
/// `does not arise`.
pub fn cells_in_words(fact: &Fact, cells: CellSet, system: System) -> String {
    in_words(fact, cells, system, ToOwned::to_owned)
}

/// A set of cells as plain words for a reader who does not write surveys.
pub fn cells_spoken(fact: &Fact, cells: CellSet, system: System) -> String {
    in_words(fact, cells, system, spoken)
}

fn in_words(fact: &Fact, cells: CellSet, system: System, of_list: fn(&str) -> String) -> String {
    let mut parts = match &fact.kind {
        Kind::YesNo => listed(["yes", "no"].into_iter().map(ToOwned::to_owned), cells),
        Kind::OneOf(words) => listed(words.iter().map(|word| of_list(word)), cells),
        Kind::Number { .. } | Kind::Measure { .. } => stretches(fact, cells, system),
        Kind::Text => vec!["answered".to_owned()],
    };
    if fact.cells.absent().meets(cells) {
        parts.push("does not arise".to_owned());
    }
    parts.join(" or ")
}

fn listed(words: impl Iterator<Item = String>, cells: CellSet) -> Vec<String> {
    words.enumerate().filter(|(cell, _)| cells.contains(*cell)).map(|(_, word)| word).collect()
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
