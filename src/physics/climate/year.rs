//! The hours of a year as they were read.

use super::stamp::Stamp;
use crate::physics::dewpoint::{DewPoint, dew_point};
use crate::physics::saturation::Saturation;

/// One hour. What is missing in the file is missing here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// When it ends.
    pub stamp: Stamp,
    /// Temperature of the air, in °C.
    pub celsius: Option<f64>,
    /// Relative humidity, in per cent.
    pub humidity: Option<f64>,
    /// Dew point or frost point as the file states it, in °C.
    pub dew_point: Option<f64>,
    /// Speed of the wind, in m/s.
    pub wind: Option<f64>,
    /// Depth of rain, in mm.
    pub rain: Option<f64>,
}

impl Hour {
    /// How far the air is from its dew point, in K: by the file's own column, or else worked by ISO 13788.
    pub fn above_dew_point(&self) -> Option<f64> {
        let celsius = self.celsius?;
        let worked = || dew_point(celsius, self.humidity?, Saturation::Iso13788).map(DewPoint::celsius);
        Some(celsius - self.dew_point.or_else(worked)?)
    }

    /// The vapour pressure in Pa, by ISO 13788.
    pub fn pressure(&self) -> Option<f64> {
        Some(Saturation::Iso13788.pressure(self.celsius?)? * self.humidity? / 100.0)
    }
}

/// Whether the months come from different years, set end to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joined {
    /// They follow each other as they were.
    No,
    /// They are typical months of several years: at every join, temperature was smoothed over hours in which humidity
    /// was not.
    Yes,
}

/// How well a file holds its rain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RainRecord {
    /// It has no rain at all.
    Absent,
    /// So many hours are missing, more than one in ten: no rule on rain can be answered.
    TooThin {
        /// Hours without a depth.
        missing: usize,
    },
    /// It is whole, or lacks no more than one hour in ten.
    Kept {
        /// Hours without a depth.
        missing: usize,
    },
}

/// A year, whole and in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// The station, or the name of the file.
    pub name: String,
    /// What stands above the columns.
    pub notes: Vec<String>,
    /// Whether its months come from different years.
    pub joined: Joined,
    /// The hours, in the order of the file.
    pub hours: Vec<Hour>,
}

impl Year {
    /// How well it holds its rain.
    pub fn rain_record(&self) -> RainRecord {
        let missing = self.hours.iter().filter(|hour| hour.rain.is_none()).count();
        match missing {
            missing if missing == self.hours.len() => RainRecord::Absent,
            missing if missing * 10 > self.hours.len() => RainRecord::TooThin { missing },
            missing => RainRecord::Kept { missing },
        }
    }
}
