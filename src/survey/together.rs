//! Answers that mean nothing without others: a pressure without the flow and the distance, as the book declares.

use super::mistake::SurveyMistake;
use super::model::{Job, Zone};
use super::reader::Reader;
use crate::rulebook::book::{FactId, Origin, ToldWith};

/// Checks that nothing is told alone that the book wants told with more.
pub(super) fn check(reader: &mut Reader<'_>, job: Option<&Job>, zones: &[Zone]) {
    let of_job = job.map(|job| &job.answers);
    for answers in of_job.into_iter().chain(zones.iter().map(|zone| &zone.answers)) {
        for (id, answer) in answers {
            let Some((name, told_with)) = told_with(reader, *id) else { continue };
            let given = |fact: &FactId| {
                answers.contains_key(fact) || of_job.is_some_and(|of_job| of_job.contains_key(fact))
            };
            let missing = told_with.facts.iter().filter(|fact| !given(fact));
            let missing: Vec<&str> = missing
                .filter_map(|fact| reader.book.facts.get(fact.0))
                .map(|fact| fact.name.as_str())
                .collect();
            if missing.is_empty() {
                continue;
            }
            let because = told_with.because.trim_end_matches('.').to_owned();
            let lacks = missing.join("` and `");
            let mistake = SurveyMistake::ToldAlone { fact: name.to_owned(), lacks, because };
            reader.mistake(&mistake, &answer.place);
        }
    }
}

/// The name of a question, and what its answer means nothing without.
fn told_with<'b>(reader: &Reader<'b>, fact: FactId) -> Option<(&'b str, &'b ToldWith)> {
    let fact = reader.book.facts.get(fact.0)?;
    match &fact.origin {
        Origin::Asked(question) => Some((&fact.name, question.told_with.as_deref()?)),
        Origin::Worked { .. } => None,
    }
}
