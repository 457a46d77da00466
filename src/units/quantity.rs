//! A quantity: an exact value of one kind, together with the way it was written.

use std::cmp::Ordering;
use std::fmt;
use std::sync::Arc;

use num_rational::BigRational;

use super::dimension::Dimension;
use super::figure::Figure;
use super::mistake::UnitMistake;
use super::reading;
use super::unit::Unit;

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
        reading::read(&text, dimension).map(|read| {
            Self::new(read.unit.to_base(&read.figure.value), read.figure, read.unit, read.written)
        })
    }

    fn new(value: BigRational, figure: Figure, unit: &'static Unit, written: String) -> Self {
        Self(Arc::new(Parts { value, figure, unit, written }))
    }

    /// A worked value, in the base of its kind. It prints in the unit that says it exactly in the fewest digits
    /// (2 068 427.19… Pa as 300 psi); failing that, rounded to three digits, in the largest usual unit that leaves
    /// one or more.
    pub fn from_base(value: BigRational, dimension: Dimension) -> Self {
        let unit = Unit::usual(&value, dimension);
        Self::worked(value, unit)
    }

    /// A worked value, in the base of its kind, that prints in a named unit.
    pub fn from_base_in(value: BigRational, dimension: Dimension, unit: &str) -> Result<Self, UnitMistake> {
        Ok(Self::worked(value, reading::find_unit(unit, unit, dimension)?))
    }

    fn worked(value: BigRational, unit: &'static Unit) -> Self {
        let figure = Figure::worked(unit.reading(&value));
        let written = format!("{} {}", figure.text, unit.after(&figure.text)).trim_end().to_owned();
        Self::new(value, figure, unit, written)
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
