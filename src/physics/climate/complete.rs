//! Whether the hours of a file are one whole year, in order, with enough in every month.

use super::columns::What;
use super::mistake::ClimateMistake;
use super::months::MONTHS;
use super::read::Lined;
use super::stamp::{Step, hours_of};
use super::year::Hour;
use crate::diagnostic::Diagnostic;

/// Checks order and gaps, then months, then blanks; each only if the one before was clean, since one gap would be told
/// three times.
pub(super) fn check(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    let checks = [order, months_there, months_whole, nothing_twice, enough_values];
    for check in checks {
        let before = found.len();
        check(hours, found);
        if found.len() > before {
            return;
        }
    }
}

fn order(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    for pair in hours.windows(2) {
        let [(before, _), (after, line)] = pair else { continue };
        let (from, to) = (before.stamp, after.stamp);
        let (before, after) = (from.to_string(), to.to_string());
        let mistake = match from.step_to(to) {
            Step::Next => continue,
            // Whole months that are missing are told as such.
            Step::Gap(_) if from.ends_month() && to.starts_month() => continue,
            Step::Gap(1) => ClimateMistake::Gap { hours: "1 hour is".to_owned(), before, after },
            Step::Gap(count) => ClimateMistake::Gap { hours: format!("{count} hours are"), before, after },
            Step::Twice | Step::Back => ClimateMistake::Order { before, after },
        };
        found.push(Diagnostic::error(&mistake, line.place()));
    }
}

/// The hours of a month, from 1.
fn of(hours: &[Lined<'_>], month: u8) -> impl Iterator<Item = Hour> {
    hours.iter().map(|(hour, _)| *hour).filter(move |hour| hour.stamp.month == month)
}

fn numbered() -> impl Iterator<Item = (u8, &'static str)> {
    (1..=12).zip(MONTHS)
}

fn months_there(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    let missing: Vec<_> =
        numbered().filter(|(month, _)| of(hours, *month).next().is_none()).map(|(_, name)| name).collect();
    if !missing.is_empty() {
        let place = hours.last().map(|(_, line)| line.place());
        found.push(Diagnostic::error(&ClimateMistake::MonthsMissing { months: missing.join(", ") }, place));
    }
}

fn months_whole(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    for (month, name) in numbered() {
        let count = of(hours, month).count();
        let wanted = hours_of(month, count > hours_of(month, false));
        if count < wanted {
            let mistake = ClimateMistake::MonthShort { month: name, found: count, wanted };
            let last = hours.iter().rfind(|(hour, _)| hour.stamp.month == month);
            found.push(Diagnostic::error(&mistake, last.map(|(_, line)| line.place())));
        }
    }
}

fn nothing_twice(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    let mut seen = std::collections::BTreeSet::new();
    if let Some((hour, line)) = hours.iter().find(|(hour, _)| !seen.insert(hour.stamp.slot())) {
        let mistake = ClimateMistake::TooLong { hour: hour.stamp.to_string() };
        found.push(Diagnostic::error(&mistake, line.place()));
    }
}

fn enough_values(hours: &[Lined<'_>], found: &mut Vec<Diagnostic>) {
    for (month, name) in numbered() {
        let count = of(hours, month).count();
        for what in [What::Temperature, What::Humidity] {
            let missing = of(hours, month).filter(|hour| what.of(hour).is_none()).count();
            if missing * 10 > count {
                let mistake =
                    ClimateMistake::TooThin { column: what.name(), missing, hours: count, month: name };
                let first = hours.iter().find(|(hour, _)| hour.stamp.month == month);
                found.push(Diagnostic::error(&mistake, first.map(|(_, line)| line.place())));
            }
        }
    }
}
