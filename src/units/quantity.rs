//! A quantity: an exact value of one kind, together with the way it was written.

use std::cmp::Ordering;
use std::fmt;
use std::sync::Arc;

use num_rational::BigRational;

use super::dimension::Dimension;
use super::figure::Figure;
use super::mistake::UnitMistake;
use super::unit::Unit;
use crate::diagnostic::nearest;

/// How many telling digits a worked value shows.
const WORKED_DIGITS: i32 = 3;

/// An exact value of one kind and how it was written. Equality is that of the writing too: 1 m is not equal to
/// 1000 mm; use [`Quantity::compare`] or [`Quantity::value`] to compare what they say.
#[derive(Clone, PartialEq, Eq)]
pub struct Quantity(Arc<Parts>);

#[derive(PartialEq, Eq)]
struct Parts {
    value: BigRational,
    figure: Figure,
    unit: &'static Unit,
    written: String,
}

impl Quantity {
    /// Reads a number and a unit: `300 psi`, `0.14 m`, `1/4 in`, `-5 °C`, `2.0e-10 kg/(m s Pa)`.
    ///
    /// ```
    /// use perpend::units::{Dimension, Quantity};
    /// let inch = Quantity::parse("1 in.", Dimension::Length)?;
    /// let metric = Quantity::parse("25.4 mm", Dimension::Length)?;
    /// assert_eq!(inch.value(), metric.value());
    /// # Ok::<(), perpend::units::UnitMistake>(())
    /// ```
    pub fn parse(text: &str, dimension: Dimension) -> Result<Self, UnitMistake> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            return Err(UnitMistake::Empty { wanted: dimension.phrase(), example: example(dimension) });
        }
        let (number, name) = split(&text);
        let figure = read_figure(number, name, &text, dimension)?;
        let unit = find_unit(name, &text, dimension)?;
        let written = format!("{} {name}", figure.text).trim_end().to_owned();
        Ok(Self(Arc::new(Parts { value: unit.to_base(&figure.value), figure, unit, written })))
    }

    /// A worked value, in the base of its kind; it prints with three telling digits, in the largest of the usual
    /// units that leaves one or more.
    pub fn from_base(value: BigRational, dimension: Dimension) -> Self {
        let unit = Unit::usual(&value, dimension);
        Self::worked(value, unit)
    }

    /// A worked value that prints in a named unit, such as an equivalent air layer in `m`.
    pub fn from_base_in(value: BigRational, dimension: Dimension, unit: &str) -> Result<Self, UnitMistake> {
        Ok(Self::worked(value, find_unit(unit, unit, dimension)?))
    }

    fn worked(value: BigRational, unit: &'static Unit) -> Self {
        let figure = Figure::worked(unit.reading(&value), WORKED_DIGITS);
        let written = format!("{} {}", figure.text, unit.symbol()).trim_end().to_owned();
        Self(Arc::new(Parts { value, figure, unit, written }))
    }

    /// The kind.
    pub fn dimension(&self) -> Dimension {
        self.0.unit.dimension
    }

    /// The exact value in the base of the kind (see [`Dimension`]).
    pub fn value(&self) -> &BigRational {
        &self.0.value
    }

    /// As it was written, with single spaces; a worked value as it is shown, rounded.
    pub fn written(&self) -> &str {
        &self.0.written
    }

    /// The number as written, in [`Quantity::unit`].
    pub(super) fn figure(&self) -> &Figure {
        &self.0.figure
    }

    /// The unit it was written in.
    pub(super) fn unit(&self) -> &'static Unit {
        self.0.unit
    }

    /// Which of two quantities of one kind is the greater, exactly; `None` if their kinds differ.
    pub fn compare(&self, other: &Self) -> Option<Ordering> {
        (self.dimension() == other.dimension()).then(|| self.0.value.cmp(&other.0.value))
    }
}

impl fmt::Debug for Quantity {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} ({})", self.0.written, self.dimension().name())
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0.written)
    }
}

/// Cuts a text where the number ends and the unit begins.
fn split(text: &str) -> (&str, &str) {
    let of_number = |c: char| c.is_ascii_digit() || " .,/+-\u{2212}\u{2013}".contains(c);
    let end = text.find(|c| !of_number(c)).unwrap_or(text.len());
    let (number, name) = text.split_at_checked(end).unwrap_or((text, ""));
    let power = name.strip_prefix(['e', 'E']).map(|rest| rest.trim_start_matches(['+', '-']));
    if power.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit())) && !number.ends_with(' ') {
        let signed = name.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
        let tail = name.get(signed..).unwrap_or("").trim_start_matches(|c: char| c.is_ascii_digit());
        return text
            .split_at_checked(text.len() - tail.len())
            .map_or((text, ""), |(n, u)| (n.trim(), u.trim()));
    }
    (number.trim(), name.trim())
}

fn read_figure(number: &str, name: &str, text: &str, kind: Dimension) -> Result<Figure, UnitMistake> {
    if number.contains(',') {
        let written = text.to_owned();
        let thousands = text.replace(',', "");
        return Err(UnitMistake::Comma { written, thousands, decimals: text.replace(',', ".") });
    }
    if let Some(figure) = Figure::read(number) {
        return Ok(figure);
    }
    let written = text.to_owned();
    let ends = number.rsplit_once(['-', '\u{2013}']).map(|(low, high)| (low.trim(), high.trim()));
    match ends {
        Some((low, high)) if Figure::read(low).is_some() && Figure::read(high).is_some() => {
            let end = |figure: &str| format!("{figure} {name}").trim_end().to_owned();
            Err(UnitMistake::Range { written, low: end(low), high: end(high) })
        }
        _ => Err(UnitMistake::NotANumber { written, example: example(kind) }),
    }
}

fn find_unit(name: &str, text: &str, dimension: Dimension) -> Result<&'static Unit, UnitMistake> {
    if let Some(unit) = Unit::find(dimension, name) {
        return Ok(unit);
    }
    let wanted = dimension.phrase();
    let mend = || mend(name, dimension);
    if name.is_empty() {
        return Err(UnitMistake::MissingUnit { written: text.to_owned(), wanted, units: units(dimension) });
    }
    Err(match Unit::find_any(name) {
        Some(other) => {
            let found = other.dimension.name().replace('-', " ");
            UnitMistake::OtherKind { unit: name.to_owned(), found, wanted, mend: mend() }
        }
        None => UnitMistake::UnknownUnit { unit: name.to_owned(), wanted, mend: mend() },
    })
}

/// What to write instead: the nearest unit of the kind, or a list of them.
fn mend(name: &str, dimension: Dimension) -> String {
    if dimension == Dimension::Number {
        return "write the number alone".to_owned();
    }
    let known = || Unit::of(dimension).map(Unit::symbol);
    let same_letters = known().find(|unit| unit.eq_ignore_ascii_case(name));
    match same_letters.or_else(|| nearest(name, known())) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("use one of {}", units(dimension)),
    }
}

fn units(dimension: Dimension) -> String {
    Unit::of(dimension).map(|unit| format!("`{}`", unit.symbol())).collect::<Vec<_>>().join(", ")
}

fn example(dimension: Dimension) -> String {
    let unit = Unit::of(dimension).find(|unit| unit.for_worked).map_or("", Unit::symbol);
    format!("12 {unit}").trim_end().to_owned()
}
