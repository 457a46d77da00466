//! The hour that a line speaks of, named by its end.

use std::fmt;

/// Days of each month of a leap year.
const DAYS: [u8; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Hours of a leap year; the 29th of February may be left out as a whole.
const SLOTS: u16 = 8784;

/// The slots of the 29th of February.
const LEAP_DAY: std::ops::Range<u16> = (31 + 28) * 24..(31 + 29) * 24;

/// An hour of a year, named by its end: 01:00 to 24:00.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    /// The year; files made up of typical months bring several.
    pub year: u16,
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
    /// 1 to 24.
    pub hour: u8,
}

/// From one hour to the next one written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// It follows.
    Next,
    /// So many hours are left out.
    Gap(u16),
    /// The same hour again.
    Twice,
    /// It lies before.
    Back,
}

impl Stamp {
    /// An hour that exists; the 29th of February does in any year, since typical years mix them.
    pub(super) fn new(year: u16, month: u8, day: u8, hour: u8) -> Option<Self> {
        let days = DAYS.get(usize::from(month.checked_sub(1)?))?;
        ((1..=*days).contains(&day) && (1..=24).contains(&hour)).then_some(Self { year, month, day, hour })
    }

    /// The hour before the first of a day is the last of the day before.
    pub(super) fn midnight_before(year: u16, month: u8, day: u8) -> Option<Self> {
        Self::new(year, month, day, 1)?;
        if day > 1 {
            return Self::new(year, month, day - 1, 24);
        }
        match month {
            1 => Self::new(year.checked_sub(1)?, 12, 31, 24),
            3 if !is_leap(year) => Self::new(year, 2, 28, 24),
            _ => Self::new(year, month - 1, *DAYS.get(usize::from(month.checked_sub(2)?))?, 24),
        }
    }

    /// Its place in a leap year, from 0.
    pub(super) fn slot(self) -> u16 {
        let before: u16 = DAYS.iter().take(usize::from(self.month) - 1).map(|days| u16::from(*days)).sum();
        (before + u16::from(self.day) - 1) * 24 + u16::from(self.hour) - 1
    }

    /// How the next hour follows on this one, whatever the years.
    pub(super) fn step_to(self, next: Self) -> Step {
        let passed = (next.slot() + SLOTS - self.slot()) % SLOTS;
        let over_leap_day =
            self.slot() < LEAP_DAY.start && (next.slot() >= LEAP_DAY.end || next.slot() < self.slot());
        let missing = if over_leap_day { passed.saturating_sub(24) } else { passed };
        match passed {
            0 => Step::Twice,
            passed if passed > SLOTS / 2 => Step::Back,
            _ if missing <= 1 => Step::Next,
            _ => Step::Gap(missing - 1),
        }
    }

    /// Whether it is the first hour of a month.
    pub(super) fn starts_month(self) -> bool {
        self.day == 1 && self.hour == 1
    }

    /// Whether it is the last hour of a month; that of February may be the 28th or the 29th.
    pub(super) fn ends_month(self) -> bool {
        let last = DAYS.get(usize::from(self.month) - 1).is_some_and(|days| self.day == *days);
        self.hour == 24 && (last || (self.month == 2 && self.day == 28))
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { year, month, day, hour } = self;
        write!(out, "{year}-{month:02}-{day:02} {hour:02}:00")
    }
}

/// How many hours a month has, with or without the 29th of February.
pub(super) fn hours_of(month: u8, leap: bool) -> usize {
    let days = DAYS.get(usize::from(month).saturating_sub(1)).copied().unwrap_or(0);
    let days = if month == 2 && !leap { 28 } else { days };
    usize::from(days) * 24
}

fn is_leap(year: u16) -> bool {
    (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400)
}
