//! What a clause rests on that was only remembered: nothing remembered prints as law until somebody has looked it up.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::view::View;
use crate::inference::outcome::{LimitOutcome, ZoneOutcome};
use crate::rulebook::book::{Certainty, Citation, ClauseId, Rule, RuleId, SourceId};
use crate::rulebook::clause::{Clause, ParameterKind};

/// Sources that are to be looked up before the clause is relied on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Unconfirmed {
    /// By when; `None` where no day is set.
    by: Option<String>,
    /// Their designations.
    sources: Vec<String>,
}

/// The remembered sources of a clause, by day: those it cites, and those of each rule that requires it or sets a limit that
/// it prints, on memory alone.
pub(super) fn of(view: View<'_>, id: ClauseId, clause: &Clause) -> Vec<Unconfirmed> {
    let mut by_day: BTreeMap<Option<String>, BTreeSet<String>> = BTreeMap::new();
    for source in remembered(view, id, clause).into_iter().filter_map(|id| view.book.sources.get(id.0)) {
        by_day.entry(source.again_by.clone()).or_default().insert(designation(&source.title));
    }
    let days = by_day.into_iter();
    days.map(|(by, sources)| Unconfirmed { by, sources: sources.into_iter().collect() }).collect()
}

/// The sources that a clause names as remembered.
pub(super) fn remembered(view: View<'_>, id: ClauseId, clause: &Clause) -> BTreeSet<SourceId> {
    let rules: BTreeSet<RuleId> =
        view.outcome.zones.iter().flat_map(|zone| behind(zone, id, clause)).collect();
    let rules = rules.into_iter().filter_map(|rule| view.book.rules.get(rule.0));
    let on_memory = rules.filter(|rule| !confirmed(view, rule)).flat_map(|rule| &rule.ground.per);
    let cited = clause.cites.iter().chain(on_memory);
    let is_remembered = |citation: &&Citation| {
        view.source(citation).is_some_and(|source| source.certainty == Certainty::FromMemory)
    };
    cited.filter(is_remembered).map(|citation| citation.source).collect()
}

/// The rules that require a clause in a zone, and those whose limits it prints there.
fn behind(zone: &ZoneOutcome, id: ClauseId, clause: &Clause) -> BTreeSet<RuleId> {
    let duties: Vec<_> = zone.clauses.iter().filter(|duty| duty.clause == id).collect();
    let mut rules: BTreeSet<RuleId> =
        duties.iter().flat_map(|duty| &duty.causes).map(|cause| cause.rule).collect();
    let printed = |limit: &&LimitOutcome| {
        clause.parameters.iter().any(|own| own.kind == ParameterKind::Limit(limit.quantity))
    };
    if !duties.is_empty() {
        let limits = zone.limits.iter().filter(printed);
        rules.extend(limits.filter_map(|limit| limit.binding()).map(|entry| entry.cause.rule));
    }
    rules
}

/// What a title says before its first comma: `ISO 7783` of "ISO 7783, cup method".
fn designation(title: &str) -> String {
    title.split(',').next().unwrap_or(title).to_owned()
}

/// Whether a source of the rule was read, told by another or worked out.
fn confirmed(view: View<'_>, rule: &Rule) -> bool {
    rule.ground.per.iter().filter_map(|citation| view.source(citation)).any(|source| {
        matches!(source.certainty, Certainty::Read | Certainty::SecondHand | Certainty::Derived)
    })
}
