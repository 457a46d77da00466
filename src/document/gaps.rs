//! What the book has no answer for: everything refused, preferences in a circle, limits that contradict each other, and an
//! `other` that no condition names where another word would bring a rule of law. Papers say it as an open matter, with who
//! settles it.

use std::cell::LazyCell;

use serde::Serialize;

use super::view::{Extent, View};
use crate::inference::Plan;
use crate::inference::decide::{Case, Reading, decide};
use crate::inference::outcome::{Decisions, Mark, StopCause};
use crate::inference::truth::Truth;
use crate::rulebook::book::{Fact, FactId, Kind, Law, Owner, TestKind};
use crate::rulebook::cells::CellSet;
use crate::rulebook::words::spoken;
use crate::survey::AnswerValue;

/// The word of a question that stands for all that its book does not name.
const OTHER: &str = "other";

/// A matter that the book does not settle.
#[derive(Debug, Serialize)]
pub(super) struct Gap {
    /// `refused`, `circle`, `clash`, `law`.
    kind: &'static str,
    what: String,
    #[serde(flatten)]
    extent: Extent,
}

/// Every gap that is certain.
pub(super) fn gaps(view: View<'_>) -> Vec<Gap> {
    let mut found: Vec<(&'static str, String, Vec<usize>)> = Vec::new();
    let plan = LazyCell::new(|| Plan::of(view.book));
    for zone in view.zones() {
        let lawless = lawless(view, || &plan, zone);
        for (kind, what) in contradictions(view, zone).into_iter().chain(lawless) {
            match found.iter_mut().find(|(known, same, _)| (*known, same.as_str()) == (kind, what.as_str())) {
                Some((_, _, zones)) => zones.push(zone),
                None => found.push((kind, what, vec![zone])),
            }
        }
    }
    let gap = |(kind, what, zones): (_, _, Vec<usize>)| Gap { kind, what, extent: Extent::of(view, &zones) };
    found.into_iter().map(gap).collect()
}

/// Where the book speaks against itself, or leaves nothing.
fn contradictions(view: View<'_>, zone: usize) -> Vec<(&'static str, String)> {
    let stops = view.zone(zone).map_or(&[][..], |outcome| &outcome.stops);
    let certain = stops.iter().filter(|stop| stop.mark == Mark::Certain && stop.released.is_none());
    let words = certain.filter_map(|stop| match &stop.cause {
        StopCause::Rule(_) => None,
        StopCause::NothingLeft(slot, _) => Some(("refused", view.slot_words(*slot))),
        StopCause::Circle(slot, _, _) => Some(("circle", view.slot_words(*slot))),
        StopCause::Clash(quantity) => {
            let quantity = view.book.quantities.get(quantity.0)?;
            Some(("clash", spoken(&quantity.name)))
        }
    });
    words.collect()
}

/// Questions answered `other` where another word would bring a rule of law that this one does not.
fn lawless<'p>(view: View<'_>, plan: impl Fn() -> &'p Plan, zone: usize) -> Vec<(&'static str, String)> {
    let facts = view.book.facts.iter().enumerate().map(|(index, fact)| (FactId(index), fact));
    let others = facts.filter_map(|(id, fact)| Some((id, fact, other_of(view, zone, id, fact)?)));
    let others = others.filter(|(id, _, _)| !names_other(view, *id));
    let turns = others.filter(|(id, fact, other)| {
        let now = view.zone(zone).map(|outcome| &outcome.decisions);
        let words = if let Kind::OneOf(words) = &fact.kind { words.len() } else { 0 };
        let differs = |word: usize| {
            let supposed = Some((*id, CellSet::one(word)));
            let case = view.facts.get(zone).map(|facts| Case { supposed, ..Case::new(facts, &[]) });
            let then = case.map(|case| decide(view.book, plan(), case, Reading::Open));
            now.zip(then.as_ref()).is_some_and(|(now, then)| brings_law(view, now, then))
        };
        (0..words).filter(|word| word != other).any(differs)
    });
    turns.map(|(_, fact, _)| ("law", spoken(&fact.name))).collect()
}

/// The place of the word `other`, where a zone answers with it and nothing else.
fn other_of(view: View<'_>, zone: usize, id: FactId, fact: &Fact) -> Option<usize> {
    let Kind::OneOf(words) = &fact.kind else { return None };
    let other = words.iter().position(|word| word == OTHER)?;
    let answers = match fact.owner {
        Owner::Job => &view.survey.job.answers,
        Owner::Zone => &view.survey.zones.get(zone)?.answers,
    };
    let said = &answers.get(&id)?.readings;
    said.iter().all(|reading| reading.value == AnswerValue::Words(vec![other])).then_some(other)
}

/// Whether some condition of the book names the word, and so says what follows from it.
fn names_other(view: View<'_>, id: FactId) -> bool {
    let tests = view.book.rules.iter().flat_map(|rule| rule.when.tests());
    let mut own = tests.filter(|test| matches!(test.kind, TestKind::Fact { fact, .. } if fact == id));
    own.any(|test| test.words.split([' ', ',']).any(|word| word == OTHER))
}

/// Whether a rule of law that is silent now would speak then.
fn brings_law(view: View<'_>, now: &Decisions, then: &Decisions) -> bool {
    let rules = view.book.rules.iter().zip(now.rules.iter().zip(&then.rules));
    let is_law = |rule: &crate::rulebook::book::Rule| {
        let mut sources = rule.ground.per.iter().filter_map(|citation| view.source(citation));
        sources.any(|source| source.law == Law::Binding)
    };
    let mut turned = rules.filter(|(_, (now, then))| **now == Truth::No && **then != Truth::No);
    turned.any(|(rule, _)| is_law(rule))
}
