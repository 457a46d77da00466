//! What has to be assumed of a file that is sound.

use std::collections::BTreeSet;

use super::clock::Clock;
use super::columns::{Columns, What};
use super::convention::Convention;
use super::mistake::ClimateMistake;
use super::year::{Joined, RainRecord, Year};
use crate::diagnostic::Diagnostic;

/// Adds one remark for each assumption.
pub(super) fn add(year: &Year, columns: &Columns, found: &mut Vec<Diagnostic>) {
    let assumed = blanks(year, columns).chain(rain(year, columns)).chain(joins(year)).chain(points(year));
    found.extend(assumed.map(|mistake| Diagnostic::remark(&mistake, None)));
}

fn blanks(year: &Year, columns: &Columns) -> impl Iterator<Item = ClimateMistake> {
    let thin_rain = matches!(year.rain_record(), RainRecord::Absent | RainRecord::TooThin { .. });
    let read = columns.read.iter().map(|column| column.what);
    let told = read.filter(move |what| *what != What::Rain || !thin_rain);
    told.filter_map(move |what| {
        let missing = year.hours.iter().filter(|hour| what.of(hour).is_none()).count();
        let hours = if missing == 1 { "1 hour".to_owned() } else { format!("{missing} hours") };
        (missing > 0).then_some(ClimateMistake::FewMissing { column: what.name(), hours })
    })
}

fn rain(year: &Year, columns: &Columns) -> impl Iterator<Item = ClimateMistake> {
    let has_column = columns.read.iter().any(|column| column.what == What::Rain);
    let hours = year.hours.len();
    let thin = match year.rain_record() {
        RainRecord::TooThin { missing } => Some(missing),
        RainRecord::Absent if has_column => Some(hours),
        RainRecord::Absent | RainRecord::Kept { .. } => None,
    };
    let tenths = (columns.clock == Clock::Tmy3 && has_column).then_some(ClimateMistake::Tenths);
    thin.map(|missing| ClimateMistake::RainThin { missing, hours }).into_iter().chain(tenths)
}

fn joins(year: &Year) -> impl Iterator<Item = ClimateMistake> {
    let years: BTreeSet<u16> = year.hours.iter().map(|hour| hour.stamp.year).collect();
    (year.joined == Joined::Yes).then_some(ClimateMistake::Joined { years: years.len() }).into_iter()
}

fn points(year: &Year) -> impl Iterator<Item = ClimateMistake> {
    year.convention()
        .map(|(convention, frost, dew)| {
            let held = match convention {
                Convention::FrostPoints => "frost points",
                Convention::DewPoints => "dew points",
                Convention::Undecided => "one or the other",
            };
            let kelvin = |error: f64| format!("{error:.2}");
            ClimateMistake::Convention {
                held,
                frost: kelvin(frost.mean_error),
                dew: kelvin(dew.mean_error),
                hours: frost.hours,
            }
        })
        .into_iter()
}
