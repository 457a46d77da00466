//! What stands in a zone, so that a release of something that does not can be told from one that does.

use crate::inference::decide::effect_of;
use crate::inference::outcome::{Outcome, StopCause, ZoneOutcome};
use crate::rulebook::book::{Book, EffectKind, RuleId};
use crate::survey::Released;

impl Outcome {
    /// Whether what a release names stands in the zone of this index.
    pub fn stands(&self, book: &Book, zone: usize, what: &Released) -> bool {
        self.zones.get(zone).is_some_and(|zone| match what {
            Released::Stop(rule) => stop_stands(zone, *rule),
            Released::HoldPoint(name) => hold_point_stands(book, zone, name),
        })
    }
}

fn stop_stands(zone: &ZoneOutcome, rule: RuleId) -> bool {
    zone.stops.iter().any(|stop| matches!(&stop.cause, StopCause::Rule(cause) if cause.rule == rule))
}

fn hold_point_stands(book: &Book, zone: &ZoneOutcome, name: &str) -> bool {
    let named = |kind: &EffectKind| matches!(kind, EffectKind::HoldPoint { name: own, .. } if own == name);
    zone.hold_points.iter().any(|duty| effect_of(book, duty.cause.rule, duty.cause.effect).is_some_and(named))
}
