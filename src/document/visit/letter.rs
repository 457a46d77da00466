//! The values of the letter of findings: what was seen, what cannot be said yet and why, what happens next. It says
//! nothing of what is not known, and promises nothing.

use serde::Serialize;

use super::asked::{is_open, question};
use super::plain::Plain;
use super::programme::open;
use crate::document::section::{Caution, cautions};
use crate::document::view::{Extent, View};
use crate::inference::outcome::{Mark, StopCause};
use crate::rulebook::book::{Audience, Fact, FactId, Kind, Owner};
use crate::survey::AnswerValue;

/// What the letter prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct LetterContext {
    cautions: Vec<Caution>,
    seen: Vec<Point>,
    unknown: Vec<Unsaid>,
    /// Open questions that are not told.
    more: usize,
    stops: Vec<Point>,
    next: Vec<Point>,
}

/// A sentence with the stretches that it holds for.
#[derive(Debug, Serialize)]
struct Point {
    say: String,
    #[serde(flatten)]
    extent: Extent,
    /// Whether it is the job's.
    of_job: bool,
}

/// What cannot be said yet.
#[derive(Debug, Serialize)]
struct Unsaid {
    why: String,
    #[serde(flatten)]
    point: Point,
}

impl LetterContext {
    pub(in crate::document) fn of(view: View<'_>, plain: &Plain) -> Self {
        let open = unknown(view, plain);
        let more = open.len().saturating_sub(plain.most);
        let told: Vec<_> = open.into_iter().take(plain.most).collect();
        let mut next: Vec<Point> = Vec::new();
        for (unsaid, then) in &told {
            if !next.iter().any(|known| known.say == *then) {
                let extent = unsaid.point.extent.clone();
                next.push(Point { say: then.clone(), extent, of_job: unsaid.point.of_job });
            }
        }
        let mut stops = stopped(view, plain);
        stops.truncate(plain.most);
        let mut seen = seen(view, plain);
        seen.truncate(plain.most);
        Self {
            cautions: cautions(view, &[Audience::Owner], |_| true),
            seen,
            unknown: told.into_iter().map(|(unsaid, _)| unsaid).collect(),
            more,
            stops,
            next,
        }
    }
}

fn named(view: View<'_>, name: &str) -> Option<FactId> {
    view.book.facts.iter().position(|fact| fact.name == name).map(FactId)
}

fn of_job(view: View<'_>, fact: FactId) -> bool {
    view.book.facts.get(fact.0).is_some_and(|fact| fact.owner == Owner::Job)
}

/// Answers that count and that `visit.yaml` has words for.
fn seen(view: View<'_>, plain: &Plain) -> Vec<Point> {
    let point = |said: &super::plain::Seen| {
        let id = named(view, &said.fact)?;
        let fact = view.book.facts.get(id.0)?;
        let zones: Vec<usize> = view.zones().filter(|zone| says(view, *zone, (id, fact), &said.is)).collect();
        let extent = Extent::of(view, &zones);
        (!zones.is_empty()).then(|| Point { say: said.say.clone(), extent, of_job: of_job(view, id) })
    };
    plain.seen.iter().filter_map(point).collect()
}

/// Whether a zone answers a question with this word and no other.
fn says(view: View<'_>, zone: usize, (id, fact): (FactId, &Fact), word: &str) -> bool {
    if is_open(view, zone, id) {
        return false;
    }
    let answers = match fact.owner {
        Owner::Job => Some(&view.survey.job.answers),
        Owner::Zone => view.survey.zones.get(zone).map(|zone| &zone.answers),
    };
    let readings = answers.and_then(|answers| answers.get(&id)).map_or(&[][..], |answer| &answer.readings);
    let is_it = |value: &AnswerValue| match (value, &fact.kind) {
        (AnswerValue::YesNo(yes), Kind::YesNo) => *yes == (word == "yes"),
        (AnswerValue::Words(said), Kind::OneOf(words)) => {
            said.iter().all(|at| words.get(*at).is_some_and(|known| known == word))
        }
        _ => false,
    };
    !readings.is_empty() && readings.iter().all(|reading| is_it(&reading.value))
}

/// Open questions with words of their own, those that settle most first, each with what happens next.
fn unknown(view: View<'_>, plain: &Plain) -> Vec<(Unsaid, String)> {
    let mut ranked: Vec<_> = open(view).into_iter().collect();
    ranked.sort_by_key(|(_, open)| std::cmp::Reverse(open.most));
    let told = ranked.into_iter().filter_map(|(id, open)| {
        let fact = view.book.facts.get(id.0).filter(|fact| question(fact).is_some())?;
        let words = plain.open.iter().find(|words| words.fact == fact.name)?;
        let extent = Extent::of(view, &open.zones);
        let point = Point { say: words.say.clone(), extent, of_job: of_job(view, id) };
        Some((Unsaid { why: words.why.clone(), point }, words.next.clone()))
    });
    told.collect()
}

/// Stops that stand whatever is still to be found, with words of their own.
fn stopped(view: View<'_>, plain: &Plain) -> Vec<Point> {
    let stands = |zone: usize, rule: &str| {
        let stops = view.zone(zone).map_or(&[][..], |outcome| &outcome.stops);
        stops.iter().any(|stop| match &stop.cause {
            StopCause::Rule(cause) => {
                stop.mark == Mark::Certain && stop.released.is_none() && view.rule_name(cause.rule) == rule
            }
            _ => false,
        })
    };
    let point = |said: &super::plain::Stopped| {
        let zones: Vec<usize> = view.zones().filter(|zone| stands(*zone, &said.rule)).collect();
        let extent = Extent::of(view, &zones);
        (!zones.is_empty()).then(|| Point { say: said.say.clone(), extent, of_job: false })
    };
    plain.stops.iter().filter_map(point).collect()
}
