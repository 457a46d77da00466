//! Answers to questions that do not arise: they count, and are remarked on.

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use crate::diagnostic::Diagnostic;
use crate::inference::decide::{Case, Eyes};
use crate::inference::outcome::Outcome;
use crate::inference::truth::Truth;
use crate::rulebook::book::{Book, FactId, Origin};
use crate::survey::Survey;
use crate::wall::facts::ZoneFacts;

#[derive(Debug, Error, MietteDiagnostic)]
enum IdleRemark {
    #[error("`{fact}` is answered in zone `{zone}`, where the question does not arise")]
    #[diagnostic(
        code(IN001),
        help(
            "the answer counts all the same; take it out, or correct what says that the question does not arise"
        )
    )]
    Idle { fact: String, zone: String },
}

/// A remark for each answer of a zone to a question whose guard certainly does not hold there.
pub fn idle_answers(book: &Book, survey: &Survey, facts: &[ZoneFacts], outcome: &Outcome) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for ((zone, facts), decided) in survey.zones.iter().zip(facts).zip(&outcome.zones) {
        let eyes = Eyes { case: Case::new(facts, &[]), decisions: &decided.decisions };
        for (fact, answer) in &zone.answers {
            if arises(book, eyes, *fact) == Truth::No {
                let fact = book.facts.get(fact.0).map(|fact| fact.name.clone()).unwrap_or_default();
                let remark = IdleRemark::Idle { fact, zone: zone.code.clone() };
                found.push(Diagnostic::remark(&remark, answer.place.clone()));
            }
        }
    }
    found
}

/// Whether a question arises where things stand as decided.
pub fn arises(book: &Book, eyes: Eyes<'_>, fact: FactId) -> Truth {
    match book.facts.get(fact.0).map(|fact| &fact.origin) {
        Some(Origin::Asked(question)) => {
            question.only_where.as_ref().map_or(Truth::Yes, |guard| eyes.holds(guard))
        }
        _ => Truth::Yes,
    }
}
