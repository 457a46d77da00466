//! How the dew-point column of a file agrees with its temperature and humidity. Below freezing some files hold frost
//! points and some dew points; only the figures tell.

use super::year::{Hour, Joined, Year};
use crate::physics::dewpoint::dew_point;
use crate::physics::saturation::Saturation;

/// How far a worked dew point is from the column, over some hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// How many hours were compared.
    pub hours: usize,
    /// The worst error, in K.
    pub most: f64,
    /// The mean of the errors without their signs, in K.
    pub mean_error: f64,
    /// The mean of the errors with their signs, in K: above zero where the worked one is the warmer.
    pub bias: f64,
}

/// Which hours are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Selection {
    /// All that have the three values.
    All,
    /// Those more than six hours from the turn of a month.
    AwayFromJoins,
    /// Of those, the ones with air and dew point at or above freezing.
    AboveFreezing,
    /// Of those, the ones with a dew point below freezing.
    BelowFreezing,
}

/// What the column holds below freezing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Convention {
    /// Frost points, over ice.
    FrostPoints,
    /// Dew points, over supercooled water.
    DewPoints,
    /// Neither is clearly nearer.
    Undecided,
}

/// How many hours on either side of a join are left out. Source, from memory: the manual of the TMY3 data.
const SMOOTHED: usize = 6;

/// Fewer hours than this say nothing about the convention.
const FEWEST: usize = 100;

impl Year {
    /// Compares the dew-point column with a formula. `None` where no hour is left to compare.
    pub fn fit(&self, formula: Saturation, selection: Selection) -> Option<Fit> {
        let near = self.near_turns();
        let mut fit = Fit { hours: 0, most: 0.0, mean_error: 0.0, bias: 0.0 };
        for (hour, near) in self.hours.iter().zip(near) {
            let Some(error) = error(hour, formula).filter(|_| selected(hour, near, selection)) else {
                continue;
            };
            fit.hours += 1;
            fit.most = fit.most.max(error.abs());
            fit.mean_error += error.abs();
            fit.bias += error;
        }
        let count = u32::try_from(fit.hours).ok().filter(|count| *count > 0).map(f64::from)?;
        Some(Fit { mean_error: fit.mean_error / count, bias: fit.bias / count, ..fit })
    }

    /// What the column holds below freezing, with its fit as frost points and as dew points. `None` without a column, or
    /// with too few hours of frost to tell.
    pub fn convention(&self) -> Option<(Convention, Fit, Fit)> {
        let frost = self.fit(Saturation::Iso13788, Selection::BelowFreezing)?;
        let dew = self.fit(Saturation::Magnus, Selection::BelowFreezing)?;
        let clearly = |one: f64, other: f64| one < 0.8 * other;
        let convention = match (frost.mean_error, dew.mean_error) {
            (frost, dew) if clearly(frost, dew) => Convention::FrostPoints,
            (frost, dew) if clearly(dew, frost) => Convention::DewPoints,
            _ => Convention::Undecided,
        };
        (frost.hours >= FEWEST).then_some((convention, frost, dew))
    }

    /// Whether each hour is one of the six before or after the turn of a month, the turn of the year included. In a year
    /// whose months follow each other none is.
    fn near_turns(&self) -> Vec<bool> {
        let count = self.hours.len();
        let mut near = vec![false; count];
        if self.joined == Joined::No {
            return near;
        }
        let turns = self.hours.iter().enumerate().filter(|(_, hour)| hour.stamp.starts_month());
        for (turn, _) in turns {
            for place in (turn + count).saturating_sub(SMOOTHED)..turn + count + SMOOTHED {
                if let Some(cell) = near.get_mut(place % count) {
                    *cell = true;
                }
            }
        }
        near
    }
}

fn error(hour: &Hour, formula: Saturation) -> Option<f64> {
    Some(dew_point(hour.celsius?, hour.humidity?, formula)?.celsius() - hour.dew_point?)
}

fn selected(hour: &Hour, near: bool, selection: Selection) -> bool {
    let freezes = |value: Option<f64>| value.is_some_and(|value| value < 0.0);
    match selection {
        Selection::All => true,
        Selection::AwayFromJoins => !near,
        Selection::AboveFreezing => !near && !freezes(hour.celsius) && !freezes(hour.dew_point),
        Selection::BelowFreezing => !near && freezes(hour.dew_point),
    }
}
