//! The means of each month, as a monthly balance takes them.

use super::year::{Hour, Year};
use crate::physics::condensation::{Air, Month};

/// The months by name, in order.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// One month of a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthMean {
    /// 1 to 12.
    pub month: u8,
    /// How many hours it has.
    pub hours: usize,
    /// Mean temperature of the air, in °C.
    pub celsius: f64,
    /// Mean vapour pressure, in Pa: the mean of the pressures of its hours, not the pressure of its means.
    pub pressure: f64,
    /// Mean relative humidity, in per cent.
    pub humidity: f64,
    /// All its rain, in mm, where the year holds its rain well enough.
    pub rain: Option<f64>,
}

impl Year {
    /// The twelve months, January first. `None` where a month has no hour with temperature and humidity, which a year
    /// that was read never has.
    pub fn months(&self) -> Option<Vec<MonthMean>> {
        (1..=12).map(|month| self.month(month)).collect()
    }

    fn month(&self, month: u8) -> Option<MonthMean> {
        let hours: Vec<&Hour> = self.hours.iter().filter(|hour| hour.stamp.month == month).collect();
        let mean = |value: fn(&Hour) -> Option<f64>| mean(hours.iter().filter_map(|hour| value(hour)));
        let rain = self.answers_rain().then(|| hours.iter().filter_map(|hour| hour.rain).sum());
        Some(MonthMean {
            month,
            hours: hours.len(),
            celsius: mean(|hour| hour.celsius)?,
            pressure: mean(Hour::pressure)?,
            humidity: mean(|hour| hour.humidity)?,
            rain,
        })
    }

    /// The months of a balance, January first, with the air inside worked from that outside. The mean pressure is cut to
    /// saturation at the mean temperature, which fog and thaw can pass.
    pub fn balance_months(&self, inside: impl Fn(&Air) -> Option<Air>) -> Option<Vec<Month>> {
        let month = |mean: MonthMean| {
            let outside = Air::at_most_saturated(mean.celsius, mean.pressure)?;
            let hours = u32::try_from(mean.hours).ok().map(f64::from)?;
            Some(Month { outside, inside: inside(&outside)?, seconds: hours * 3600.0 })
        };
        self.months()?.into_iter().map(month).collect()
    }
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (count, sum) = values.fold((0_u32, 0.0), |(count, sum), value| (count + 1, sum + value));
    (count > 0).then(|| sum / f64::from(count))
}
