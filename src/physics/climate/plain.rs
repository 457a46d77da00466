//! The plain layout: lines of notes after `#`, one line of headings with units, one line an hour.

use super::cell::{Cell, Line};
use super::clock::Clock;
use super::columns::{Column, Columns, What};
use super::mistake::ClimateMistake;
use crate::diagnostic::{Diagnostic, nearest};

/// The two ways to head the column of times.
const TIMES: [(&str, Clock); 2] =
    [("time (hour ending)", Clock::Ending), ("time (hour beginning)", Clock::Beginning)];

/// Whether a line is one of headings: the first starts with the word for time.
pub(super) fn is_heading(line: Line<'_>) -> bool {
    line.cells().next().is_some_and(|cell| cell.text.starts_with("time"))
}

/// Reads the headings; every mistake in them goes to `found`.
pub(super) fn columns(line: Line<'_>, found: &mut Vec<Diagnostic>) -> Option<Columns> {
    let before = found.len();
    let mut cells = line.cells();
    let time = cells.next()?;
    let clock = TIMES.iter().find(|(name, _)| *name == time.text).map(|(_, clock)| *clock);
    if clock.is_none() {
        let mend = format!("head the times `{}` or `{}`", "time (hour ending)", "time (hour beginning)");
        found.push(Diagnostic::error(&ClimateMistake::Heading { heading: time.shown(), mend }, time.place()));
    }
    let mut read: Vec<Column> = Vec::new();
    for (place, cell) in cells.enumerate() {
        match column(&cell, place + 1, &read) {
            Ok(column) => read.push(column),
            Err(mistake) => found.push(Diagnostic::error(&mistake, cell.place())),
        }
    }
    let clean = found.len() == before;
    let count = line.cells().count();
    clean.then_some(Columns { clock: clock?, count, read })
}

fn column(cell: &Cell<'_>, place: usize, before: &[Column]) -> Result<Column, ClimateMistake> {
    let (name, unit) = cell.text.split_once('(').unwrap_or((cell.text, ""));
    let what = What::ALL.into_iter().find(|what| what.name() == name.trim());
    let what = what.filter(|what| !before.iter().any(|column| column.what == *what));
    let Some(what) = what else {
        let names = What::ALL.into_iter().map(What::name);
        let mend = match nearest(name.trim(), names).filter(|near| *near != name.trim()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("use each of {} once", listed()),
        };
        return Err(ClimateMistake::Heading { heading: cell.shown(), mend });
    };
    let unit = unit.trim_end().strip_suffix(')').unwrap_or("").trim();
    let column = if unit.is_empty() { None } else { Column::in_unit(what, place, unit) };
    column.ok_or_else(|| ClimateMistake::Unit {
        heading: cell.shown(),
        wanted: what.dimension().phrase(),
        example: what.heading(),
    })
}

fn listed() -> String {
    What::ALL.map(|what| format!("`{}`", what.name())).join(", ")
}
