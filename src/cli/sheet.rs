//! A witness as a survey file that `perpend why` reads: the answers that it stands on, and nothing else. What is worked
//! out cannot be answered and stands in a comment; what is worked out from one line of a survey stands as that line.

use std::fmt::Write as _;

use num_rational::BigRational;

use crate::proof::{Answer, Rest, Witness, in_words};
use crate::rulebook::book::{Fact, Kind, Origin, Owner};
use crate::rulebook::cells::CellSet;
use crate::units::{Dimension, Quantity, System, unit_names};

/// The day on which the survey is dated; readings are taken on it.
const DAY: &str = "2027-01-01";

/// The survey as text.
pub(super) fn written(title: &str, witness: &Witness) -> String {
    let mut text = format!("# {title}\n#\n");
    for line in in_words(witness, System::UsFirst).lines() {
        let _ = writeln!(text, "# {line}");
    }
    let _ =
        write!(text, "survey: 1\njob:\n  code: W-1\n  name: A survey that shows it\n  issue-date: {DAY}\n");
    text.push_str(&answers(witness, Owner::Job, "  "));
    text.push_str("zones:\n  - code: A\n    name: A\n");
    text.push_str(&answers(witness, Owner::Zone, "    "));
    for line in witness.answers.iter().filter_map(stated) {
        let _ = writeln!(text, "    {line}");
    }
    if witness.rest == Rest::Anything {
        text.push_str("    # any other answer may be added\n");
    }
    text
}

fn answers(witness: &Witness, owner: Owner, indent: &str) -> String {
    let own = witness.answers.iter().filter(|answer| !answer.worked && answer.fact.owner == owner);
    own.filter_map(|answer| Some(format!("{indent}{}: {}\n", answer.fact.name, value(answer)?))).collect()
}

/// The line of a zone that a worked fact is read off.
fn stated(answer: &Answer) -> Option<String> {
    let Kind::OneOf(words) = &answer.fact.kind else { return None };
    let word = words.get(answer.cells.first()?.iter().next()?)?;
    match (answer.fact.name.as_str(), word.as_str()) {
        ("old-coating", "none") => Some("coats: []".to_owned()),
        ("old-coating", family) => Some(format!("coats: [{{family: {family}, layers: 1, kept: no}}]")),
        ("substrate", material) => Some(format!("wall: [{{material: {material}, thickness: 100 mm}}]")),
        _ => None,
    }
}

/// The answer as a value, or as a reading where only some readings count.
fn value(answer: &Answer) -> Option<String> {
    let cells = answer.cells.first().copied()?;
    let Origin::Asked(question) = &answer.fact.origin else { return None };
    let values = values(&answer.fact, cells)?;
    let record = |value: &String| {
        let method = question.methods.first().map(|method| format!(", method: {method}")).unwrap_or_default();
        format!("{{value: {value}{method}, date: {DAY}, known: measured}}")
    };
    Some(match values.as_slice() {
        [one] => record(one),
        several => format!("[{}]", several.iter().map(record).collect::<Vec<_>>().join(", ")),
    })
}

/// Values that lie in the cells and together touch each of them.
fn values(fact: &Fact, cells: CellSet) -> Option<Vec<String>> {
    let (first, last) = (cells.iter().next()?, cells.iter().last()?);
    Some(match &fact.kind {
        Kind::YesNo => cells.iter().map(|cell| if cell == 0 { "yes" } else { "no" }.to_owned()).collect(),
        Kind::OneOf(words) => cells.iter().filter_map(|cell| words.get(cell).cloned()).collect(),
        Kind::Text => vec!["any words".to_owned()],
        Kind::Number { .. } | Kind::Measure { .. } if first == last => vec![figure(fact, first)?],
        Kind::Number { .. } | Kind::Measure { .. } => vec![figure(fact, first)?, figure(fact, last)?],
    })
}

/// A figure that lies in a cell of a measured fact.
fn figure(fact: &Fact, cell: usize) -> Option<String> {
    let (from, to) = match &fact.kind {
        Kind::Number { from, to } | Kind::Measure { from, to, .. } => (from.clone(), to.clone()),
        _ => return None,
    };
    let cut = |index: usize| fact.cells.cuts.get(index).cloned();
    let one = || BigRational::from_integer(1.into());
    let number = if cell % 2 == 1 {
        cut(cell / 2)?
    } else {
        let low = if cell == 0 { None } else { cut(cell / 2 - 1) };
        match (low, cut(cell / 2)) {
            (Some(low), Some(high)) => between(&low, &high),
            (None, Some(high)) => from.unwrap_or(high - one()),
            (Some(low), None) => to.unwrap_or(low + one()),
            (None, None) => from.or(to).unwrap_or_else(one),
        }
    };
    Some(match &fact.kind {
        Kind::Measure { dimension, .. } => format!("{number} {}", base_unit(*dimension)?),
        _ => number.to_string(),
    })
}

/// A number between two others, a whole one where there is one: years are whole.
fn between(low: &BigRational, high: &BigRational) -> BigRational {
    let middle = (low + high) / BigRational::from_integer(2.into());
    let whole = middle.floor();
    if whole > *low { whole } else { middle }
}

/// The unit in which the base of a kind is counted.
fn base_unit(dimension: Dimension) -> Option<&'static str> {
    let one = BigRational::from_integer(1.into());
    let is_base =
        |name: &&str| Quantity::parse(&format!("1 {name}"), dimension).is_ok_and(|read| *read.value() == one);
    unit_names(dimension).find(is_base)
}
