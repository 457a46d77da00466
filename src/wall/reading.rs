//! Over the readings of a measured fact: the highest, the lowest, the mean.

use num_rational::BigRational;

use super::asked;
use super::found::{Bounds, Found, Worked};
use super::site::Site;
use super::words;
use crate::rulebook::book::{FactId, Kind, Origin, Owner};
use crate::survey::{AnswerValue, Span};
use crate::units::Dimension;

/// Which of the readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Which {
    /// `highest-`
    Highest,
    /// `lowest-`
    Lowest,
    /// `mean-`
    Mean,
}

/// The prefixes of the names.
pub(super) const PREFIXES: [(&str, Which); 3] =
    [("highest-", Which::Highest), ("lowest-", Which::Lowest), ("mean-", Which::Mean)];

/// The highest, lowest or mean of the readings that count.
pub(super) fn of(site: &Site<'_>, which: Which, id: FactId) -> Worked {
    let Some(fact) = site.book.facts.get(id.0) else { return Worked::open(Vec::new()) };
    let missing = || Worked::open(vec![format!("`{}`", fact.name)]);
    let answers = match fact.owner {
        Owner::Job => &site.survey.job.answers,
        Owner::Zone => &site.zone.answers,
    };
    let (Origin::Asked(question), Some(answer)) = (&fact.origin, answers.get(&id)) else { return missing() };
    let counted = asked::counted(site, question, answer);
    let spans: Vec<&Span> = counted
        .iter()
        .filter_map(|reading| match &reading.value {
            AnswerValue::Range(span) => Some(span),
            _ => None,
        })
        .collect();
    let Some(bounds) = over(which, &spans) else { return missing() };
    let dimension = match &fact.kind {
        Kind::Measure { dimension, .. } => *dimension,
        _ => Dimension::Number,
    };
    let shown = words::bounds(&bounds, dimension, site.system());
    let all: Vec<String> = spans.iter().map(|span| span.print(site.system())).collect();
    let working = match which {
        _ if all.len() == 1 => "the only reading that counts".to_owned(),
        Which::Highest => format!("the highest of {}", all.join(", ")),
        Which::Lowest => format!("the lowest of {}", all.join(", ")),
        Which::Mean => format!("the mean of {}", all.join(", ")),
    };
    Worked::settled(Found::Bounds(bounds), shown, working)
}

fn over(which: Which, spans: &[&Span]) -> Option<Bounds> {
    let lows = || spans.iter().map(|span| span.low.value().clone());
    let highs = || spans.iter().map(|span| span.high.value().clone());
    let count = BigRational::from_integer(spans.len().into());
    Some(match which {
        Which::Highest => Bounds::between(lows().max()?, highs().max()?),
        Which::Lowest => Bounds::between(lows().min()?, highs().min()?),
        Which::Mean => {
            let low = lows().reduce(|sum, low| sum + low)?;
            let high = highs().reduce(|sum, high| sum + high)?;
            Bounds::between(low / &count, high / &count)
        }
    })
}
