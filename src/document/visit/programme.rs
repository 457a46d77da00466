//! The values of the programme of tests and removal trials: what is open and only a test settles, the one that settles most
//! first, with places, who, and what hangs on it.

use indexmap::IndexMap;
use serde::Serialize;

use super::asked::{arises, is_open, question};
use crate::document::how::How;
use crate::document::stops::Stops;
use crate::document::view::View;
use crate::inference::Truth;
use crate::inference::outcome::{Mark, OpenQuestion};
use crate::rulebook::book::{FactId, Kind, Owner};

/// What the programme prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct ProgrammeContext {
    tests: Vec<Test>,
    /// Open questions that are settled by looking or asking; they stand on the survey sheet.
    looked_at: usize,
}

/// A test or trial.
#[derive(Debug, Serialize)]
struct Test {
    key: String,
    ask: String,
    how: How,
    methods: Vec<String>,
    good_for: Option<u32>,
    zones: Vec<Places>,
    /// Whether it holds for the job and not for a zone.
    of_job: bool,
    /// What waits for it, in words.
    settles: Vec<String>,
    /// Decisions that an answer settles at most.
    most: usize,
}

/// The number of places in a zone.
#[derive(Debug, Serialize)]
struct Places {
    zone: String,
    places: u32,
}

impl ProgrammeContext {
    pub(in crate::document) fn of(view: View<'_>, stops: &Stops) -> Self {
        let wanted = open(view);
        let mut tests: Vec<Test> = Vec::new();
        let mut looked_at = 0;
        for (fact, open) in wanted {
            let how = How::of(view, fact);
            if how.is_test() {
                tests.extend(test(view, stops, fact, how, &open));
            } else {
                looked_at += 1;
            }
        }
        tests.sort_by_key(|test| std::cmp::Reverse(test.most));
        Self { tests, looked_at }
    }
}

/// What is open of a question: where, what it settles at most, and the worked facts that wait for it.
#[derive(Debug, Default)]
pub(super) struct Open {
    pub(super) zones: Vec<usize>,
    pub(super) most: usize,
    /// The question itself and what is worked out from its answer.
    pub(super) read_as: Vec<FactId>,
}

/// Every question that is open and matters, its own rank and that of what is worked out from it together.
pub(super) fn open(view: View<'_>) -> IndexMap<FactId, Open> {
    let mut found: IndexMap<FactId, Open> = IndexMap::new();
    for waiting in &view.outcome.questions {
        for fact in behind(view, waiting) {
            let zones = waiting.zones.iter().copied();
            let zones: Vec<usize> = zones
                .filter(|zone| is_open(view, *zone, fact) && arises(view, *zone, fact) != Truth::No)
                .collect();
            if zones.is_empty() {
                continue;
            }
            let entry = found.entry(fact).or_default();
            entry.zones.extend(zones);
            entry.zones.sort_unstable();
            entry.zones.dedup();
            entry.most += waiting.settles_at_most;
            entry.read_as.push(waiting.fact);
        }
    }
    found
}

/// The questions behind an open fact: itself, or those whose answers it is worked out from.
fn behind(view: View<'_>, waiting: &OpenQuestion) -> Vec<FactId> {
    let Some(fact) = view.book.facts.get(waiting.fact.0) else { return Vec::new() };
    if question(fact).is_some() {
        return vec![waiting.fact];
    }
    let answers = waiting.zones.iter().filter_map(|zone| view.answer(*zone, waiting.fact));
    let mut found: Vec<FactId> = answers
        .flat_map(|answer| &answer.missing)
        .filter_map(|missing| {
            let name = missing.split('`').nth(1).unwrap_or(missing);
            view.book.facts.iter().position(|fact| fact.name == name && fact.kind != Kind::Text)
        })
        .map(FactId)
        .filter(|fact| view.book.facts.get(fact.0).and_then(question).is_some())
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

fn test(view: View<'_>, stops: &Stops, id: FactId, how: How, open: &Open) -> Option<Test> {
    let fact = view.book.facts.get(id.0)?;
    let question = question(fact)?;
    let places = |zone: &usize| Places { zone: view.code(*zone), places: how.places(view, *zone).max(1) };
    Some(Test {
        key: fact.name.clone(),
        ask: question.ask.clone(),
        methods: question.methods.clone(),
        good_for: question.good_for_days,
        zones: open.zones.iter().map(places).collect(),
        of_job: fact.owner == Owner::Job,
        settles: settles(view, stops, open),
        most: open.most,
        how,
    })
}

/// What waits for an answer: choices by name, stops in their words.
fn settles(view: View<'_>, stops: &Stops, open: &Open) -> Vec<String> {
    let waits = |facts: &[FactId]| facts.iter().any(|fact| open.read_as.contains(fact));
    let mut found: Vec<String> = Vec::new();
    for zone in view.zones() {
        let Some(outcome) = view.zone(zone) else { continue };
        let slots = outcome.slots.iter().filter(|slot| slot.arises != Truth::No && waits(&slot.open));
        found.extend(slots.map(|slot| view.slot_words(slot.slot)));
    }
    found.sort();
    found.dedup();
    let stopped = stops.stated(view, |zone, duty| {
        open.zones.contains(&zone) && matches!(&duty.mark, Mark::SafeSide(facts) if waits(facts))
    });
    found.extend(stopped.iter().map(|what| format!("“{what}”")));
    found
}
