//! The columns of a file: where each quantity stands, in what unit, and what it may be.

use num_traits::ToPrimitive;

use super::cell::Cell;
use super::clock::Clock;
use super::mistake::ClimateMistake;
use super::year::Hour;
use crate::units::{Dimension, Quantity};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    Temperature,
    Humidity,
    DewPoint,
    Wind,
    Rain,
}

impl What {
    pub(super) const ALL: [Self; 5] =
        [Self::Temperature, Self::Humidity, Self::DewPoint, Self::Wind, Self::Rain];

    /// The heading without its unit.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::Humidity => "humidity",
            Self::DewPoint => "dew point",
            Self::Wind => "wind",
            Self::Rain => "rain",
        }
    }

    /// Its value in an hour.
    pub(super) fn of(self, hour: &Hour) -> Option<f64> {
        match self {
            Self::Temperature => hour.celsius,
            Self::Humidity => hour.humidity,
            Self::DewPoint => hour.dew_point,
            Self::Wind => hour.wind,
            Self::Rain => hour.rain,
        }
    }

    /// A heading of the plain layout.
    pub(super) fn heading(self) -> &'static str {
        match self {
            Self::Temperature => "temperature (°C)",
            Self::Humidity => "humidity (%)",
            Self::DewPoint => "dew point (°C)",
            Self::Wind => "wind (m/s)",
            Self::Rain => "rain (mm)",
        }
    }

    pub(super) fn dimension(self) -> Dimension {
        match self {
            Self::Temperature | Self::DewPoint => Dimension::Temperature,
            Self::Humidity => Dimension::Percent,
            Self::Wind => Dimension::Speed,
            Self::Rain => Dimension::Length,
        }
    }

    /// The unit that hours are kept in, and how many of it are in the base of the kind.
    fn kept_in(self) -> (&'static str, f64) {
        match self {
            Self::Temperature | Self::DewPoint => ("°C", 1.0),
            Self::Humidity => ("%", 1.0),
            Self::Wind => ("m/s", 1.0),
            Self::Rain => ("mm", 1000.0),
        }
    }

    /// The least and the most that can be, in the unit that hours are kept in. Near the ground no weather station has
    /// gone beyond; the lines are ours.
    fn range(self) -> (f64, f64) {
        match self {
            Self::Temperature => (-60.0, 60.0),
            Self::DewPoint => (-90.0, 60.0),
            Self::Humidity => (0.0, 100.0),
            Self::Wind => (0.0, 120.0),
            Self::Rain => (0.0, 400.0),
        }
    }
}

/// Which numbers stand for a missing value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Missing {
    /// None: a missing value is a blank cell.
    Blank,
    /// A blank cell, and -9900 and all below.
    BelowAll,
}

/// A column: `kept = zero + factor × written`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Column {
    pub(super) what: What,
    pub(super) place: usize,
    pub(super) zero: f64,
    pub(super) factor: f64,
    pub(super) missing: Missing,
}

impl Column {
    /// A column whose numbers are in a unit by name; `None` if it is not one of the right kind.
    pub(super) fn in_unit(what: What, place: usize, unit: &str) -> Option<Self> {
        let (_, scale) = what.kept_in();
        let read = |figure: &str| {
            let quantity = Quantity::parse(&format!("{figure} {unit}"), what.dimension()).ok()?;
            quantity.value().to_f64().map(|value| value * scale)
        };
        let zero = read("0")?;
        // A hundred, so that what is read is rounded once and not for every value.
        let factor = (read("100")? - zero) / 100.0;
        Some(Self { what, place, zero, factor, missing: Missing::Blank })
    }

    /// The value of a cell, `None` where it is missing.
    pub(super) fn value(&self, cell: &Cell<'_>) -> Result<Option<f64>, ClimateMistake> {
        if cell.text.is_empty() {
            return Ok(None);
        }
        let column = self.what.name();
        let number = cell.text.parse::<f64>().ok().filter(|number| number.is_finite());
        let number = number.ok_or_else(|| ClimateMistake::Number { written: cell.shown(), column })?;
        if self.missing == Missing::BelowAll && number <= -9900.0 {
            return Ok(None);
        }
        let value = self.zero + self.factor * number;
        let (low, high) = self.what.range();
        let (unit, _) = self.what.kept_in();
        let end = |end: f64| format!("{end} {unit}");
        (low..=high).contains(&value).then_some(Some(value)).ok_or_else(|| ClimateMistake::Range {
            written: cell.shown(),
            column,
            low: end(low),
            high: end(high),
        })
    }
}

/// All columns of a file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Columns {
    pub(super) clock: Clock,
    /// How many there are, those included that are not read.
    pub(super) count: usize,
    pub(super) read: Vec<Column>,
}
