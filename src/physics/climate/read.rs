//! Reads a file: its layout, its lines, and whether they make a year.

use std::sync::Arc;

use super::cell::{Cell, Line};
use super::clock::{self, Clock};
use super::columns::{Columns, What};
use super::complete;
use super::mistake::ClimateMistake;
use super::remarks;
use super::year::{Hour, Joined, Year};
use super::{plain, tmy3};
use crate::diagnostic::{Diagnostic, Source};

/// The most lines with mistakes that are shown one by one.
const MOST_SHOWN: usize = 20;

/// Reads a year of hourly weather. The year is there if, and only if, no diagnostic is an error; remarks state what had
/// to be assumed.
pub fn read(source: &Arc<Source>) -> (Option<Year>, Vec<Diagnostic>) {
    let mut found = Vec::new();
    let year = year(source, &mut found);
    let sound = !found.iter().any(Diagnostic::is_error);
    (year.filter(|_| sound), found)
}

fn year(source: &Arc<Source>, found: &mut Vec<Diagnostic>) -> Option<Year> {
    let mut lines = Line::all(source).peekable();
    let mut above: Vec<Line<'_>> = Vec::new();
    // The headings of a TMY3 file stand in its second line; notes may stand above those of a plain one.
    while let Some(line) = lines.next_if(|line| line.text.starts_with('#')) {
        above.push(line);
    }
    let station = lines.next_if(|line| !plain::is_heading(*line) && !tmy3::is_heading(*line));
    let heading = lines.next();
    let columns = match heading {
        Some(line) if tmy3::is_heading(line) => Some(tmy3::columns(line)),
        Some(line) if plain::is_heading(line) && station.is_none() => plain::columns(line, found),
        _ => {
            let place = station.or(heading).map(Line::place);
            found.push(Diagnostic::error(&ClimateMistake::NoLayout, place));
            None
        }
    };
    let columns = columns?;
    needed(&columns, heading, found);
    let hours = hours(lines, &columns, found);
    if found.iter().any(Diagnostic::is_error) {
        return None;
    }
    let from = (columns.clock == Clock::Tmy3).then_some(station).flatten();
    let name = from.map(tmy3::station).filter(|name| !name.is_empty()).unwrap_or_else(|| source.name.clone());
    let notes = above.iter().map(|line| line.text.trim_start_matches('#').trim().to_owned()).collect();
    complete::check(&hours, found);
    let joined = if joined(&hours) { Joined::Yes } else { Joined::No };
    let year = Year { name, notes, joined, hours: hours.into_iter().map(|(hour, _)| hour).collect() };
    if !found.iter().any(Diagnostic::is_error) {
        remarks::add(&year, &columns, found);
    }
    Some(year)
}

/// Temperature and humidity must be there; everything else may be.
fn needed(columns: &Columns, heading: Option<Line<'_>>, found: &mut Vec<Diagnostic>) {
    for what in [What::Temperature, What::Humidity] {
        if !columns.read.iter().any(|column| column.what == what) {
            let mistake = ClimateMistake::NoColumn { column: what.name(), example: what.heading() };
            found.push(Diagnostic::error(&mistake, heading.map(Line::place)));
        }
    }
}

/// The hours, each with its line; the mistakes of the first lines that have any are shown, the others counted.
pub(super) type Lined<'a> = (Hour, Line<'a>);

fn hours<'a>(
    lines: impl Iterator<Item = Line<'a>>,
    columns: &Columns,
    found: &mut Vec<Diagnostic>,
) -> Vec<Lined<'a>> {
    let mut hours = Vec::new();
    let mut spoilt = 0;
    for line in lines.filter(|line| !line.text.starts_with('#')) {
        match hour(line, columns) {
            Ok(hour) => hours.push((hour, line)),
            Err(mistakes) => {
                spoilt += 1;
                if spoilt <= MOST_SHOWN {
                    found.extend(mistakes);
                }
            }
        }
    }
    if spoilt > MOST_SHOWN {
        found.push(Diagnostic::error(&ClimateMistake::MoreLines { count: spoilt - MOST_SHOWN }, None));
    }
    hours
}

fn hour(line: Line<'_>, columns: &Columns) -> Result<Hour, Vec<Diagnostic>> {
    let cells: Vec<Cell<'_>> = line.cells().collect();
    if cells.len() != columns.count {
        let mistake = ClimateMistake::Cells { found: cells.len(), wanted: columns.count };
        return Err(vec![Diagnostic::error(&mistake, line.place())]);
    }
    let mut mistakes = Vec::new();
    let stamp = clock::stamp(&cells, columns.clock);
    if let (None, Some(cell)) = (stamp, cells.first()) {
        let mistake = ClimateMistake::Time { written: cell.shown(), example: columns.clock.example() };
        mistakes.push(Diagnostic::error(&mistake, cell.place()));
    }
    let mut values = [None; What::ALL.len()];
    for column in &columns.read {
        let Some(cell) = cells.get(column.place) else { continue };
        let kept = What::ALL.iter().zip(&mut values).find(|(what, _)| **what == column.what);
        match (column.value(cell), kept) {
            (Ok(value), Some((_, kept))) => *kept = value,
            (Ok(_), None) => {}
            (Err(mistake), _) => mistakes.push(Diagnostic::error(&mistake, cell.place())),
        }
    }
    let [celsius, humidity, dew_point, wind, rain] = values;
    match stamp {
        Some(stamp) if mistakes.is_empty() => Ok(Hour { stamp, celsius, humidity, dew_point, wind, rain }),
        _ => Err(mistakes),
    }
}

/// Whether a month follows one of a year that does not lead up to it.
fn joined(hours: &[Lined<'_>]) -> bool {
    hours.windows(2).any(|pair| {
        let [(before, _), (after, _)] = pair else { return false };
        let turns = before.stamp.month == 12 && after.stamp.month == 1;
        after.stamp.year != before.stamp.year + u16::from(turns)
    })
}
