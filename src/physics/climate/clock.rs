//! The time of a line, in the ways that files write it.

use super::cell::Cell;
use super::stamp::Stamp;

/// How the time of a line is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Clock {
    /// Month first, and the time in a cell of its own, at the end of the hour.
    Tmy3,
    /// The end of the hour.
    Ending,
    /// The start of the hour.
    Beginning,
}

impl Clock {
    /// A time as it is written.
    pub(super) fn example(self) -> &'static str {
        match self {
            Self::Tmy3 => "01/31/1988,24:00",
            Self::Ending => "2021-01-31 24:00",
            Self::Beginning => "2021-01-31 23:00",
        }
    }
}

/// The hour of a line; `None` where it cannot be read.
pub(super) fn stamp(cells: &[Cell<'_>], clock: Clock) -> Option<Stamp> {
    match (clock, cells) {
        (Clock::Tmy3, [date, time, ..]) => {
            let (year, month, day) = american(date.text)?;
            Stamp::new(year, month, day, full_hour(time.text)?)
        }
        (Clock::Ending | Clock::Beginning, [time, ..]) => plain(time.text, clock),
        (_, []) | (Clock::Tmy3, [_]) => None,
    }
}

/// `01/31/1988`.
fn american(date: &str) -> Option<(u16, u8, u8)> {
    let mut parts = date.split('/');
    let (month, day, year) = (parts.next()?, parts.next()?, parts.next()?);
    Some((year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)).filter(|_| parts.next().is_none())
}

/// `05:00`, or `05:00:00`: an hour from 0 to 24, in full.
fn full_hour(time: &str) -> Option<u8> {
    let (hour, rest) = time.split_once(':')?;
    hour.parse().ok().filter(|hour| *hour <= 24 && matches!(rest, "00" | "00:00"))
}

/// `2021-01-31 05:00`, at the end or the start of the hour.
fn plain(text: &str, clock: Clock) -> Option<Stamp> {
    let (date, time) = text.split_once([' ', 'T'])?;
    let mut parts = date.split('-');
    let year: u16 = parts.next()?.parse().ok()?;
    let month: u8 = parts.next()?.parse().ok()?;
    let day: u8 = parts.next()?.parse().ok()?;
    let hour = full_hour(time).filter(|_| parts.next().is_none())?;
    match (clock, hour) {
        (Clock::Beginning, 24) => None,
        (Clock::Beginning, hour) => Stamp::new(year, month, day, hour + 1),
        (_, 0) => Stamp::midnight_before(year, month, day),
        (_, hour) => Stamp::new(year, month, day, hour),
    }
}
