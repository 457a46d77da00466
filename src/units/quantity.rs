//! A quantity: an exact value of one kind, together with the way it was written.

use std::cmp::Ordering;
use std::fmt;
use std::sync::{Arc, OnceLock};

use num_rational::BigRational;

use super::dimension::Dimension;
use super::figure::Figure;
use super::mistake::UnitMistake;
use super::reading;
use super::unit::Unit;

/// An exact value of one kind and how it was written. Equality is that of the writing too: 1 m is not equal to
/// 1000 mm; use [`Quantity::compare`] or [`Quantity::value`] to compare what they say.
#[derive(Clone)]
pub struct Quantity(Arc<Parts>);

struct Parts {
    value: BigRational,
    dimension: Dimension,
    /// How it is written; for a worked value found out when it is first asked for, since most are never printed.
    shown: OnceLock<Shown>,
}

struct Shown {
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
            let value = read.unit.to_base(&read.figure.value);
            let shown = Shown { figure: read.figure, unit: read.unit, written: read.written };
            Self(Arc::new(Parts { value, dimension, shown: OnceLock::from(shown) }))
        })
    }

    /// A number with a unit that says what kind of figure it is, or a bare number. A temperature is a reading and never
    /// a difference.
    fn of_any_kind(written: &str) -> Result<Self, UnitMistake> {
        let kinds = Dimension::all().filter(|kind| *kind != Dimension::TemperatureStep);
        let mut first = None;
        for kind in kinds {
            match Self::parse(written, kind) {
                Ok(quantity) => return Ok(quantity),
                Err(mistake) => first = first.or(Some(mistake)),
            }
        }
        first.map_or_else(|| Self::parse(written, Dimension::Number), Err)
    }

    /// Reads a figure of any kind, `300 mm`, or both its ends, `2 to 5 mm`, of which the lower may leave out the unit.
    ///
    /// # Errors
    ///
    /// What does not fit any kind, as the first kind puts it.
    pub fn ends_of_any_kind(written: &str) -> Result<(Self, Option<Self>), UnitMistake> {
        let Some((low, high)) = written.split_once(" to ") else {
            return Ok((Self::of_any_kind(written)?, None));
        };
        let unit = high.split_once(' ').map_or("", |(_, unit)| unit);
        let high = Self::of_any_kind(high)?;
        let low = if low.contains(' ') { low.to_owned() } else { format!("{low} {unit}") };
        Ok((Self::parse(&low, high.dimension())?, Some(high)))
    }

    /// A worked value, in the base of its kind. It prints in the unit that says it exactly in the fewest digits
    /// (2 068 427.19… Pa as 300 psi); failing that, rounded to three digits, in the largest usual unit that leaves
    /// one or more.
    pub fn from_base(value: BigRational, dimension: Dimension) -> Self {
        Self(Arc::new(Parts { value, dimension, shown: OnceLock::new() }))
    }

    /// A worked value, in the base of its kind, that prints in a named unit.
    pub fn from_base_in(value: BigRational, dimension: Dimension, unit: &str) -> Result<Self, UnitMistake> {
        let shown = Shown::worked(&value, reading::find_unit(unit, unit, dimension)?);
        Ok(Self(Arc::new(Parts { value, dimension, shown: OnceLock::from(shown) })))
    }

    /// The kind.
    pub fn dimension(&self) -> Dimension {
        self.0.dimension
    }

    /// The exact value in the base of the kind (see [`Dimension`]).
    pub fn value(&self) -> &BigRational {
        &self.0.value
    }

    /// As it was written, with single spaces; a worked value as it is shown, rounded.
    pub fn written(&self) -> &str {
        &self.shown().written
    }

    /// The number as written, in [`Quantity::unit`].
    pub(super) fn figure(&self) -> &Figure {
        &self.shown().figure
    }

    /// The unit it was written in.
    pub(super) fn unit(&self) -> &'static Unit {
        self.shown().unit
    }

    fn shown(&self) -> &Shown {
        let Parts { value, dimension, shown } = &*self.0;
        shown.get_or_init(|| Shown::worked(value, Unit::usual(value, *dimension)))
    }

    /// Which of two quantities of one kind is the greater, exactly; `None` if their kinds differ.
    pub fn compare(&self, other: &Self) -> Option<Ordering> {
        (self.dimension() == other.dimension()).then(|| self.0.value.cmp(&other.0.value))
    }
}

impl Shown {
    fn worked(value: &BigRational, unit: &'static Unit) -> Self {
        let figure = Figure::worked(unit.reading(value));
        let written = format!("{} {}", figure.text, unit.after(&figure.text)).trim_end().to_owned();
        Self { figure, unit, written }
    }
}

impl PartialEq for Quantity {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
            || self.0.dimension == other.0.dimension
                && self.0.value == other.0.value
                && self.written() == other.written()
    }
}

impl Eq for Quantity {}

impl fmt::Debug for Quantity {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} ({})", self.written(), self.dimension().name())
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.written())
    }
}
