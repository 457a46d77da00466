//! Promises held against the survey at hand. A proof speaks of every survey; a professional's departure sets rules aside
//! in one, so what is written is checked as well.

use super::goal;
use super::mistake::ProofMistake;
use super::question;
use crate::diagnostic::Diagnostic;
use crate::inference::Outcome;
use crate::inference::decide::{Case, Eyes};
use crate::rulebook::book::{Book, Promise};
use crate::survey::Survey;
use crate::wall::facts::ZoneFacts;

/// Each promise that is broken in some zone: an error, or a remark where a departure is on file for every such zone.
pub fn broken_here(book: &Book, survey: &Survey, facts: &[ZoneFacts], outcome: &Outcome) -> Vec<Diagnostic> {
    book.promises.iter().filter_map(|promise| one(book, promise, survey, facts, outcome)).collect()
}

fn one(
    book: &Book,
    promise: &Promise,
    survey: &Survey,
    facts: &[ZoneFacts],
    outcome: &Outcome,
) -> Option<Diagnostic> {
    let goal = question::broken(promise);
    let zones = facts.iter().zip(&outcome.zones).enumerate();
    let broken: Vec<usize> = zones
        .filter(|(_, (facts, zone))| {
            let eyes = Eyes { case: Case::new(facts, &[]), decisions: &zone.decisions };
            goal::reached(book, eyes, &goal)
        })
        .map(|(zone, _)| zone)
        .collect();
    if broken.is_empty() {
        return None;
    }
    let codes = broken.iter().filter_map(|zone| survey.zones.get(*zone)).map(|zone| zone.code.as_str());
    let zones = codes.collect::<Vec<_>>().join("`, `");
    let departed = |zone: &usize| survey.departures.iter().any(|departure| departure.zones.contains(zone));
    let (name, place) = (promise.name.clone(), promise.place.clone());
    Some(if broken.iter().all(departed) {
        Diagnostic::remark(&ProofMistake::DepartedFrom { name, zones }, place)
    } else {
        Diagnostic::error(&ProofMistake::BrokenHere { name, zones }, place)
    })
}
