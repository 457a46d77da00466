//! Checks, once everything is decided, that each release releases something that stands.

use super::mistake::SurveyMistake;
use super::model::{Release, Released, Survey};
use super::record::name_of;
use crate::diagnostic::Diagnostic;
use crate::rulebook::book::Book;

/// Mistakes in the releases of a survey. `stands` says whether what is released stands in the zone of an index
/// (whether or not a release covers it).
pub fn check_releases(
    survey: &Survey,
    book: &Book,
    stands: &dyn Fn(usize, &Released) -> bool,
) -> Vec<Diagnostic> {
    survey.releases.iter().flat_map(|release| check(survey, book, release, stands)).collect()
}

fn check(
    survey: &Survey,
    book: &Book,
    release: &Release,
    stands: &dyn Fn(usize, &Released) -> bool,
) -> Vec<Diagnostic> {
    let kind = match release.what {
        Released::Stop(_) => "stop",
        Released::HoldPoint(_) => "hold point",
    };
    let idle = release.zones.iter().filter(|zone| !stands(**zone, &release.what));
    idle.filter_map(|zone| survey.zones.get(*zone))
        .map(|zone| {
            let name = name_of(book, &release.what);
            let mistake = SurveyMistake::NothingStands { kind, name, code: zone.code.clone() };
            Diagnostic::error(&mistake, release.place.clone())
        })
        .collect()
}
