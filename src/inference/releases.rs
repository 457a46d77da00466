//! Releases are checked against what was decided: nothing can be released that does not stand.

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use crate::diagnostic::Diagnostic;
use crate::inference::decide::effect_of;
use crate::inference::outcome::{Outcome, StopCause, ZoneOutcome};
use crate::rulebook::book::{Book, EffectKind, RuleId};
use crate::survey::{Released, Survey};

/// What can be wrong with a release.
#[derive(Debug, Error, MietteDiagnostic)]
enum ReleaseMistake {
    #[error("no stop `{stop}` stands in zone `{zone}`, so it cannot be released there")]
    #[diagnostic(
        code(IN001),
        help(
            "take the zone out of this release, or look at the answers that the stop reads: `perpend why SURVEY {stop}`"
        )
    )]
    NoStop { stop: String, zone: String },
    #[error("no hold point `{name}` stands in zone `{zone}`, so it cannot be released there")]
    #[diagnostic(code(IN002), help("take the zone out of this release"))]
    NoHoldPoint { name: String, zone: String },
}

/// Every release of something that does not stand in a zone it names.
pub fn check_releases(survey: &Survey, book: &Book, outcome: &Outcome) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for release in &survey.releases {
        for index in &release.zones {
            let (Some(zone), Some(decided)) = (survey.zones.get(*index), outcome.zones.get(*index)) else {
                continue;
            };
            let mistake = match &release.what {
                Released::Stop(rule) if !stop_stands(decided, *rule) => ReleaseMistake::NoStop {
                    stop: book.rules.get(rule.0).map(|rule| rule.name.clone()).unwrap_or_default(),
                    zone: zone.code.clone(),
                },
                Released::HoldPoint(name) if !hold_point_stands(book, decided, name) => {
                    ReleaseMistake::NoHoldPoint { name: name.clone(), zone: zone.code.clone() }
                }
                Released::Stop(_) | Released::HoldPoint(_) => continue,
            };
            found.push(Diagnostic::error(&mistake, release.place.clone()));
        }
    }
    found
}

fn stop_stands(zone: &ZoneOutcome, rule: RuleId) -> bool {
    zone.stops.iter().any(|stop| matches!(&stop.cause, StopCause::Rule(cause) if cause.rule == rule))
}

fn hold_point_stands(book: &Book, zone: &ZoneOutcome, name: &str) -> bool {
    zone.hold_points.iter().any(|duty| {
        matches!(effect_of(book, duty.cause.rule, duty.cause.effect), Some(EffectKind::HoldPoint { name: own, .. }) if own == name)
    })
}
