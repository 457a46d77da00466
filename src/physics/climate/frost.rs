//! How often the air freezes and thaws. The definitions in use give counts that differ by five times, so each is named;
//! all are of the air, and wet brick needs more.

use std::collections::BTreeMap;

use super::year::Year;

/// Days counted by the warmest and the coldest of their hours; a day with a missing hour is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DayCounts {
    /// Coldest hour below 0 °C, warmest at or above. Source, published: documentation of a climate model.
    pub freeze_thaw: usize,
    /// Coldest hour below 0 °C.
    pub frost: usize,
    /// Warmest hour below 0 °C.
    pub ice: usize,
    /// Days left out.
    pub left_out: usize,
}

/// The two marks of a cycle, in °C: it is frozen at or below the lower and thawed at or above the upper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    freezes: f64,
    thaws: f64,
}

impl Cycle {
    /// Two marks, the lower first.
    pub fn new(freezes: f64, thaws: f64) -> Option<Self> {
        (freezes < thaws).then_some(Self { freezes, thaws })
    }
}

impl Year {
    /// Days of frost and thaw.
    pub fn days(&self) -> DayCounts {
        let mut days: BTreeMap<(u8, u8), Option<(f64, f64)>> = BTreeMap::new();
        for hour in &self.hours {
            let day = days.entry((hour.stamp.month, hour.stamp.day));
            let day = day.or_insert(Some((f64::INFINITY, f64::NEG_INFINITY)));
            *day = day.zip(hour.celsius).map(|((least, most), t)| (least.min(t), most.max(t)));
        }
        let mut counts = DayCounts::default();
        for day in days.values() {
            match day {
                None => counts.left_out += 1,
                Some((least, most)) => {
                    counts.freeze_thaw += usize::from(*least < 0.0 && *most >= 0.0);
                    counts.frost += usize::from(*least < 0.0);
                    counts.ice += usize::from(*most < 0.0);
                }
            }
        }
        counts
    }

    /// How often the air falls through 0 °C: an hour above, the next at or below. Missing hours are stepped over.
    pub fn falls_through_freezing(&self) -> usize {
        let temperatures: Vec<f64> = self.hours.iter().filter_map(|hour| hour.celsius).collect();
        temperatures
            .windows(2)
            .filter(|pair| matches!(pair, [before, now] if *before > 0.0 && *now <= 0.0))
            .count()
    }

    /// How often the air freezes and thaws again between two marks. Missing hours are stepped over.
    pub fn cycles(&self, cycle: Cycle) -> usize {
        let mut frozen = false;
        let mut count = 0;
        for t in self.hours.iter().filter_map(|hour| hour.celsius) {
            if t <= cycle.freezes {
                frozen = true;
            } else if t >= cycle.thaws {
                count += usize::from(frozen);
                frozen = false;
            }
        }
        count
    }
}
