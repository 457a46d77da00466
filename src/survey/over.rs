//! The same survey, read by another book: answers and records find their facts and rules by name.

use super::answer::Answers;
use super::model::{Departed, Job, Release, Released, Survey, Zone};
use crate::rulebook::book::{Book, FactId, RuleId};

impl Survey {
    /// The survey as another book takes it. What the other book does not ask or does not say is left out. The rows of
    /// `materials`, `neighbours` and `old-coats` keep their places: a firm changes their cells and not their order.
    #[must_use]
    pub fn over(&self, book: &Book, other: &Book) -> Self {
        let job = Job { answers: answers(&self.job.answers, book, other), ..self.job.clone() };
        let zones = self.zones.iter();
        let zones =
            zones.map(|zone| Zone { answers: answers(&zone.answers, book, other), ..zone.clone() }).collect();
        let departures = self.departures.iter().filter_map(|departed| {
            Some(Departed { from: rule(departed.from, book, other)?, ..departed.clone() })
        });
        let releases = self.releases.iter().filter_map(|release| {
            let what = match &release.what {
                Released::Stop(stop) => Released::Stop(rule(*stop, book, other)?),
                Released::HoldPoint(name) => Released::HoldPoint(name.clone()),
            };
            Some(Release { what, ..release.clone() })
        });
        Self {
            job,
            zones,
            elevations: self.elevations.clone(),
            departures: departures.collect(),
            releases: releases.collect(),
            source: std::sync::Arc::clone(&self.source),
        }
    }
}

fn answers(answers: &Answers, book: &Book, other: &Book) -> Answers {
    let known = answers.iter().filter_map(|(fact, answer)| {
        let fact = book.facts.get(fact.0)?;
        let same = |known: &crate::rulebook::book::Fact| {
            known.name == fact.name && known.owner == fact.owner && known.kind == fact.kind
        };
        Some((FactId(other.facts.iter().position(same)?), answer.clone()))
    });
    known.collect()
}

fn rule(rule: RuleId, book: &Book, other: &Book) -> Option<RuleId> {
    let name = &book.rules.get(rule.0)?.name;
    other.rules.iter().position(|known| known.name == *name).map(RuleId)
}
