//! Hours in which work can be done. A missing value is never taken for a good one.

use super::year::{Hour, RainRecord, Year};

/// What an hour must keep to. Ends are included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// The coldest and the warmest air, in °C.
    pub celsius: (f64, f64),
    /// The most relative humidity, in per cent.
    pub humidity: f64,
    /// How far the air must be above its dew point, in K.
    pub above_dew_point: f64,
    /// The strongest wind, in m/s; `None` where it does not matter.
    pub wind: Option<f64>,
}

impl Window {
    /// Whether an hour keeps to it.
    pub fn holds(&self, hour: &Hour) -> bool {
        let within = |value: Option<f64>, low: f64, high: f64| {
            value.is_some_and(|value| low <= value && value <= high)
        };
        within(hour.celsius, self.celsius.0, self.celsius.1)
            && within(hour.humidity, 0.0, self.humidity)
            && within(hour.above_dew_point(), self.above_dew_point, f64::INFINITY)
            && self.wind.is_none_or(|most| within(hour.wind, 0.0, most))
    }
}

/// A day of hours.
const DAY: usize = 24;

impl Year {
    /// How many hours keep to a window.
    pub fn hours_within(&self, window: &Window) -> usize {
        self.hours.iter().filter(|hour| window.holds(hour)).count()
    }

    /// How many hours work can start in: they keep to the window, and for 24 hours, this one included, the air stays at
    /// or above a temperature in °C. The first and the last day of the file have no day before or after and are left
    /// out.
    pub fn starts(&self, window: &Window, least: f64) -> usize {
        self.starting(window, least).count()
    }

    /// Of those, how many have no rain in the 24 hours before, nor in the 24 from this one on. `None` where the file
    /// does not hold its rain well enough; an hour without a depth is not taken for a dry one.
    pub fn dry_starts(&self, window: &Window, least: f64) -> Option<usize> {
        let dry = |hours: &[Hour]| hours.iter().all(|hour| hour.rain.is_some_and(|depth| depth <= 0.0));
        let starts = self.starting(window, least);
        self.answers_rain().then(|| starts.filter(|(before, after)| dry(before) && dry(after)).count())
    }

    /// The day before and the day from each hour that work can start in.
    fn starting(&self, window: &Window, least: f64) -> impl Iterator<Item = (&[Hour], &[Hour])> {
        let two_days = self.hours.windows(2 * DAY).filter_map(|hours| hours.split_at_checked(DAY));
        two_days.filter(move |(_, after)| {
            let warm = after.iter().all(|hour| hour.celsius.is_some_and(|t| t >= least));
            warm && after.first().is_some_and(|hour| window.holds(hour))
        })
    }

    /// Whether questions on rain can be answered.
    pub(super) fn answers_rain(&self) -> bool {
        matches!(self.rain_record(), RainRecord::Kept { .. })
    }
}
