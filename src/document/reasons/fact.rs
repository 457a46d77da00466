//! Facts as they were known: value, how known, and what was set aside.

use std::collections::BTreeSet;

use serde::Serialize;

use super::ground::facts_read;
use crate::document::view::{Extent, View};
use crate::inference;
use crate::inference::decide::{Case, Eyes};
use crate::inference::truth::Truth;
use crate::rulebook::book::{Fact, FactId, Kind, Origin, Owner};
use crate::rulebook::words::spoken;
use crate::survey::Reading;
use crate::wall::facts::{FactAnswer, Given};

/// A fact with its answers.
#[derive(Debug, Serialize)]
pub(super) struct FactRow {
    fact: String,
    answers: Vec<AnswerShown>,
}

/// An answer in zones that answer alike.
#[derive(Debug, Serialize)]
struct AnswerShown {
    #[serde(flatten)]
    extent: Extent,
    value: String,
    /// How it is known, in words.
    known: Vec<String>,
    /// Method, place and date of each reading, as far as they were said.
    readings: Vec<String>,
    set_aside: Option<String>,
    working: Option<String>,
}

/// Every fact that was answered, and every worked one that a rule which speaks here reads.
pub(super) fn facts(view: View<'_>) -> Vec<FactRow> {
    let used = used(view);
    let wanted =
        |index: usize, origin: &Origin| matches!(origin, Origin::Asked(_)) || used.contains(&FactId(index));
    let facts = view.book.facts.iter().enumerate().filter(|(index, fact)| wanted(*index, &fact.origin));
    facts.filter_map(|(index, fact)| row(view, FactId(index), fact)).collect()
}

/// The facts that the rules read which are not silent in every zone.
fn used(view: View<'_>) -> BTreeSet<FactId> {
    let speaks = |index: usize| {
        let mut truths = view.outcome.zones.iter().filter_map(|zone| zone.decisions.rules.get(index));
        truths.any(|truth| *truth != Truth::No)
    };
    let rules = view.book.rules.iter().enumerate().filter(|(index, _)| speaks(*index));
    rules.flat_map(|(_, rule)| facts_read(view, rule)).collect()
}

/// The facts that somewhere could be answered and nobody did, and on which nothing turns.
pub(super) fn idle(view: View<'_>) -> Vec<String> {
    let open = |fact: FactId| view.outcome.questions.iter().any(|question| question.fact == fact);
    let unanswered = |fact: FactId| {
        view.zones()
            .all(|zone| view.answer(zone, fact).is_some_and(|answer| answer.given == Given::Unanswered))
    };
    let arises = |fact: FactId| {
        let zones = view.facts.iter().zip(&view.outcome.zones);
        let mut eyes =
            zones.map(|(facts, zone)| Eyes { case: Case::new(facts, &[]), decisions: &zone.decisions });
        eyes.any(|eyes| inference::arises(view.book, eyes, fact) != Truth::No)
    };
    let asked =
        view.book.facts.iter().enumerate().filter(|(_, fact)| matches!(fact.origin, Origin::Asked(_)));
    let text = |kind: &Kind| *kind == Kind::Text;
    asked
        .filter(|(_, fact)| !text(&fact.kind))
        .map(|(index, _)| FactId(index))
        .filter(|fact| unanswered(*fact) && !open(*fact) && arises(*fact))
        .map(|fact| view.fact_words(fact))
        .collect()
}

fn row(view: View<'_>, id: FactId, fact: &Fact) -> Option<FactRow> {
    let mut found: Vec<(Vec<usize>, &FactAnswer, Vec<String>)> = Vec::new();
    for zone in view.zones() {
        let Some(answer) = view.answer(zone, id) else { continue };
        let given = matches!(answer.given, Given::Cells(_)) && !answer.shown.is_empty();
        if !given && answer.set_aside.is_none() {
            continue;
        }
        let readings = readings(view, zone, id, fact.owner);
        match found.iter_mut().find(|(_, known, said)| *known == answer && *said == readings) {
            Some((zones, _, _)) => zones.push(zone),
            None => found.push((vec![zone], answer, readings)),
        }
    }
    let shown = found.into_iter().map(|(zones, answer, readings)| AnswerShown {
        extent: Extent::of(view, &zones),
        value: answer.shown.clone(),
        known: answer.known.iter().map(|known| spoken(known.word())).collect(),
        readings,
        set_aside: answer.set_aside.clone(),
        working: answer.working.clone(),
    });
    let answers: Vec<_> = shown.collect();
    (!answers.is_empty()).then(|| FactRow { fact: view.fact_words(id), answers })
}

fn readings(view: View<'_>, zone: usize, fact: FactId, owner: Owner) -> Vec<String> {
    let answers = match owner {
        Owner::Job => Some(&view.survey.job.answers),
        Owner::Zone => view.survey.zones.get(zone).map(|zone| &zone.answers),
    };
    let answer = answers.and_then(|answers| answers.get(&fact));
    let readings = answer.map_or(&[][..], |answer| &answer.readings);
    readings.iter().map(said).filter(|said| !said.is_empty()).collect()
}

fn said(reading: &Reading) -> String {
    let parts = [&reading.method, &reading.location, &reading.depth, &reading.date, &reading.by];
    parts.into_iter().flatten().map(String::as_str).collect::<Vec<_>>().join(", ")
}
