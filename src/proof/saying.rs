//! An answer as a survey says it: values that lie in the cells wanted.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use crate::rulebook::book::{Fact, Kind, Origin, Proof};
use crate::rulebook::cells::CellSet;
use crate::units::{Dimension, Quantity, unit_names};

/// The day on which surveys are dated; readings are taken on it.
pub(crate) const DAY: &str = "2027-01-01";

/// More places than this no figure of a book asks for.
const MOST_PLACES: u32 = 24;

/// The answer to a question: a bare value where any counts, otherwise a reading that does, or several; nothing for what
/// is worked out.
pub(crate) fn answer(fact: &Fact, cells: CellSet) -> Option<String> {
    let Origin::Asked(question) = &fact.origin else { return None };
    let any_counts =
        question.methods.is_empty() && question.good_for_days.is_none() && question.proof != Proof::Tested;
    let record = |value: &String| {
        let method = question.methods.first().map(|method| format!(", method: {method}")).unwrap_or_default();
        format!("{{value: {value}{method}, date: {DAY}, known: measured}}")
    };
    Some(match values(fact, cells)?.as_slice() {
        [one] if any_counts => one.clone(),
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

/// A figure with its unit that lies in a cell.
fn figure(fact: &Fact, cell: usize) -> Option<String> {
    let number = inside(fact, cell)?;
    let dimension = match &fact.kind {
        Kind::Measure { dimension, .. } => *dimension,
        _ => Dimension::Number,
    };
    let lies = |text: &String| {
        Quantity::parse(text, dimension).is_ok_and(|read| fact.cells.cell_of(read.value()) == cell)
    };
    let in_base = || Some(format!("{} {}", decimal(&number)?, base_unit(dimension)?).trim_end().to_owned());
    let short = Quantity::from_base(number.clone(), dimension).written().to_owned();
    Some(short).filter(lies).or_else(|| in_base().filter(lies))
}

/// A number that lies in a cell of a measured fact and within its range, in base units; one with few digits.
pub(crate) fn inside(fact: &Fact, cell: usize) -> Option<BigRational> {
    let (from, to) = match &fact.kind {
        Kind::Number { from, to } | Kind::Measure { from, to, .. } => (from.as_ref(), to.as_ref()),
        _ => return None,
    };
    let cut = |index: usize| fact.cells.cuts.get(index);
    if cell % 2 == 1 {
        return cut(cell / 2).cloned();
    }
    let low = cell.checked_sub(2).and_then(|cell| cut(cell / 2));
    let (above, below) = (low.max(from), least(cut(cell / 2), to));
    let two = || BigRational::from_integer(2.into());
    let one = BigRational::one;
    let number = match (above, below) {
        (Some(above), Some(below)) if above < below => between(above, below),
        (Some(above), Some(_)) => above.clone(),
        (None, Some(below)) if below.is_positive() => below / two(),
        (None, Some(below)) => below - one(),
        (Some(above), None) if above.is_positive() => above * two(),
        (Some(above), None) => above + one(),
        (None, None) => one(),
    };
    (fact.cells.cell_of(&number) == cell).then_some(number)
}

/// The lesser of two ends, where there are any.
fn least<'n>(one: Option<&'n BigRational>, other: Option<&'n BigRational>) -> Option<&'n BigRational> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (one, other) => one.or(other),
    }
}

/// The number with the fewest decimal places between two others: years are whole.
fn between(low: &BigRational, high: &BigRational) -> BigRational {
    let places = (0..MOST_PLACES).map(|places| BigRational::from_integer(BigInt::from(10).pow(places)));
    let number = |scale: BigRational| ((low * &scale).floor() + BigRational::one()) / scale;
    let found = places.map(number).find(|number| number < high);
    found.unwrap_or_else(|| (low + high) / BigRational::from_integer(2.into()))
}

/// A number in digits, where so many say it exactly.
pub(crate) fn decimal(number: &BigRational) -> Option<String> {
    let scaled = |places: u32| number * BigRational::from_integer(BigInt::from(10).pow(places));
    let places = (0..MOST_PLACES).find(|places| scaled(*places).is_integer())?;
    let digits = scaled(places).abs().to_integer().to_string();
    let places = usize::try_from(places).ok()?;
    let digits = format!("{digits:0>width$}", width = places + 1);
    let (whole, rest) = digits.split_at_checked(digits.len() - places)?;
    let sign = if number.is_negative() { "-" } else { "" };
    let point = if rest.is_empty() { "" } else { "." };
    Some(format!("{sign}{whole}{point}{rest}"))
}

/// The unit in which the base of a kind is counted.
fn base_unit(dimension: Dimension) -> Option<&'static str> {
    if dimension == Dimension::Number {
        return Some("");
    }
    let is_base = |name: &&str| {
        let at = |figure: &str| Quantity::parse(&format!("{figure} {name}"), dimension).ok();
        at("1").is_some_and(|read| read.value().is_one())
            && at("0").is_some_and(|read| read.value().is_zero())
    };
    unit_names(dimension).find(is_base)
}
