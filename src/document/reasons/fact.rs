//! Facts as they were known: value, how known, and what was set aside.

use serde::Serialize;

use crate::document::view::{Extent, View};
use crate::document::words::from_kebab;
use crate::inference::truth::Truth;
use crate::rulebook::book::{FactId, Kind, Origin, Owner};
use crate::survey::Reading;
use crate::wall::facts::{FactAnswer, Given};

/// A fact in zones that answer alike.
#[derive(Debug, Serialize)]
pub(super) struct FactRow {
    fact: String,
    of_job: bool,
    worked: bool,
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

/// Every fact that was answered or worked out.
pub(super) fn facts(view: View<'_>) -> Vec<FactRow> {
    let facts = view.book.facts.iter().enumerate();
    facts.flat_map(|(index, fact)| rows(view, FactId(index), &fact.origin, fact.owner)).collect()
}

/// The facts that nobody answered and on which nothing turns.
pub(super) fn idle(view: View<'_>) -> Vec<String> {
    let open = |fact: FactId| view.outcome.questions.iter().any(|question| question.fact == fact);
    let unanswered = |fact: FactId| {
        view.zones()
            .all(|zone| view.answer(zone, fact).is_some_and(|answer| answer.given == Given::Unanswered))
    };
    let asked =
        view.book.facts.iter().enumerate().filter(|(_, fact)| matches!(fact.origin, Origin::Asked(_)));
    let text = |kind: &Kind| *kind == Kind::Text;
    asked
        .filter(|(_, fact)| !text(&fact.kind))
        .map(|(index, _)| FactId(index))
        .filter(|fact| unanswered(*fact) && !open(*fact))
        .map(|fact| view.fact_words(fact))
        .collect()
}

fn rows(view: View<'_>, id: FactId, origin: &Origin, owner: Owner) -> Vec<FactRow> {
    let mut found: Vec<(Vec<usize>, &FactAnswer, Vec<String>)> = Vec::new();
    for zone in view.zones() {
        let Some(answer) = view.answer(zone, id) else { continue };
        let given = matches!(answer.given, Given::Cells(_)) || answer.set_aside.is_some();
        if !given || answer.shown.is_empty() && answer.set_aside.is_none() {
            continue;
        }
        let readings = readings(view, zone, id, owner);
        match found.iter_mut().find(|(_, known, said)| *known == answer && *said == readings) {
            Some((zones, _, _)) => zones.push(zone),
            None => found.push((vec![zone], answer, readings)),
        }
    }
    found
        .into_iter()
        .map(|(zones, answer, readings)| FactRow {
            fact: view.fact_words(id),
            of_job: owner == Owner::Job,
            worked: matches!(origin, Origin::Worked { .. }),
            extent: Extent::of(view, &zones),
            value: answer.shown.clone(),
            known: answer.known.iter().map(|known| from_kebab(known.word())).collect(),
            readings,
            set_aside: answer.set_aside.clone(),
            working: answer.working.clone(),
        })
        .collect()
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

/// Limits in zones that hold them alike.
#[derive(Debug, Serialize)]
pub(super) struct LimitRow {
    quantity: String,
    measured: Option<String>,
    #[serde(flatten)]
    extent: Extent,
    limit: String,
    rule: String,
    certain: bool,
    /// The looser limits that stand behind it, each with its rule.
    behind: Vec<String>,
}

/// Every limit with the rule that binds.
pub(super) fn limits(view: View<'_>) -> Vec<LimitRow> {
    let mut found: Vec<(Vec<usize>, LimitRow)> = Vec::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for limit in &outcome.limits {
            let Some(row) = limit_row(view, limit) else { continue };
            let alike = found.iter_mut().find(|(_, known)| {
                (&known.quantity, &known.limit, &known.rule, known.certain, &known.behind)
                    == (&row.quantity, &row.limit, &row.rule, row.certain, &row.behind)
            });
            match alike {
                Some((zones, _)) => zones.push(zone),
                None => found.push((vec![zone], row)),
            }
        }
    }
    found.sort_by(|(_, a), (_, b)| (&a.quantity, &a.limit).cmp(&(&b.quantity, &b.limit)));
    found.into_iter().map(|(zones, row)| LimitRow { extent: Extent::of(view, &zones), ..row }).collect()
}

fn limit_row(view: View<'_>, limit: &crate::inference::outcome::LimitOutcome) -> Option<LimitRow> {
    let (binding, behind) = limit.entries.split_first()?;
    let said = |entry: &crate::inference::outcome::LimitEntry| {
        let option = entry.option.and_then(|option| option_of(view, entry, option));
        let option = option.map(|option| format!(", {option}")).unwrap_or_default();
        format!("{} ({}{option})", view.bound_words(limit.bound, entry), view.rule_name(entry.cause.rule))
    };
    let mut behind: Vec<String> = behind.iter().map(said).collect();
    behind.dedup();
    Some(LimitRow {
        quantity: view.quantity_words(limit.quantity),
        measured: view.book.quantities.get(limit.quantity.0).and_then(|quantity| quantity.measured.clone()),
        extent: Extent::default(),
        limit: view.bound_words(limit.bound, binding),
        rule: view.rule_name(binding.cause.rule),
        certain: binding.cause.truth == Truth::Yes,
        behind,
    })
}

fn option_of(
    view: View<'_>,
    entry: &crate::inference::outcome::LimitEntry,
    option: crate::rulebook::book::OptionId,
) -> Option<String> {
    use crate::rulebook::book::{EffectKind, LimitValue};
    match view.effect(entry.cause.rule, entry.cause.effect)? {
        EffectKind::Limit { value: LimitValue::Column { slot, .. }, .. } => {
            Some(view.option_title(*slot, option))
        }
        _ => None,
    }
}
