//! The layout of TMY3 files: a line on the station, a line of headings, 8760 lines of hours named by their end. The
//! columns are found by their headings, of which there are 68, or 71 in files revised in 2015.
//!
//! Source, read from files: rain is headed in mm and stored in tenths of it; -9900 stands for what is missing.

use super::cell::Line;
use super::clock::Clock;
use super::columns::{Column, Columns, Missing, What};

/// The heading of the first column.
const FIRST: &str = "Date (MM/DD/YYYY)";

/// What is read, by its heading, and what its numbers are multiplied by.
const HEADINGS: [(&str, What, f64); 5] = [
    ("Dry-bulb (C)", What::Temperature, 1.0),
    ("RHum (%)", What::Humidity, 1.0),
    ("Dew-point (C)", What::DewPoint, 1.0),
    ("Wspd (m/s)", What::Wind, 1.0),
    ("Lprecip depth (mm)", What::Rain, 0.1),
];

/// Whether a line is the headings of such a file.
pub(super) fn is_heading(line: Line<'_>) -> bool {
    line.cells().next().is_some_and(|cell| cell.text == FIRST)
}

/// The columns that are read.
pub(super) fn columns(line: Line<'_>) -> Columns {
    let known = |text: &str| HEADINGS.iter().find(|(heading, ..)| *heading == text);
    let read = line.cells().enumerate().filter_map(|(place, cell)| {
        let (_, what, factor) = known(cell.text)?;
        Some(Column { what: *what, place, zero: 0.0, factor: *factor, missing: Missing::BelowAll })
    });
    Columns { clock: Clock::Tmy3, count: line.cells().count(), read: read.collect() }
}

/// The name of the station, from the line on it: number, name, state, and more.
pub(super) fn station(line: Line<'_>) -> String {
    let name = line.cells().skip(1).take(2).map(|cell| cell.text).filter(|text| !text.is_empty());
    name.collect::<Vec<_>>().join(", ")
}
