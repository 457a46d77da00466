//! The values of the reasons record: every decision with its rule, reason, source and figures.

mod choice;
mod fact;
mod ground;
mod limit;
mod margin;
mod turn;

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;
use serde::Serialize;

use super::numbering::Places;
use super::section::{Source, number_in, required, sources};
use super::view::{Extent, View};
use crate::inference::outcome::{Cause, ClauseDuty, Mark, StopCause};
use crate::inference::truth::Truth;
use crate::rulebook::book::{Bound, ClauseId, RuleId, SourceId};
use crate::rulebook::clause::{Clause, Reader};
use crate::rulebook::words::spoken;
use choice::{Driver, OptionTable};
use fact::FactRow;
use ground::RuleShown;
pub(super) use ground::{Cited, facts_that_hold};
use limit::LimitRow;
use margin::Margin;
use turn::Turn;

/// How many facts, margins and the like stand on the first page.
const ON_FIRST_PAGE: usize = 5;

/// What the reasons record prints besides what all documents share.
#[derive(Debug, Serialize)]
pub(super) struct ReasonsContext {
    drivers: Vec<Driver>,
    margins: Vec<Margin>,
    facts: Vec<FactRow>,
    idle: Vec<String>,
    options: Vec<OptionTable>,
    limits: Vec<LimitRow>,
    clauses: Vec<ClauseRow>,
    conflicts: Vec<Conflict>,
    turns: Vec<Turn>,
    added: Vec<Added>,
    sources: Vec<Source>,
    releases: Vec<Release>,
}

/// A printed clause.
#[derive(Debug, Serialize)]
struct ClauseName {
    /// Its number in the section, such as `3.2 B`.
    number: Option<String>,
    name: String,
}

/// A rule with the clauses that it requires in the same zones.
#[derive(Debug, Serialize)]
struct ClauseRow {
    #[serde(flatten)]
    rule: RuleShown,
    #[serde(flatten)]
    extent: Extent,
    certain: bool,
    clauses: Vec<ClauseName>,
}

/// Two rules at odds.
#[derive(Debug, Serialize)]
struct Conflict {
    /// `clash` (a floor over a ceiling) or `circle` (preferences).
    kind: &'static str,
    what: String,
    zones: Vec<String>,
    rules: Vec<String>,
    certain: bool,
}

/// What another option would bring.
#[derive(Debug, Serialize)]
struct Added {
    option: String,
    zones: Vec<String>,
    clauses: Vec<String>,
}

/// A release on file.
#[derive(Debug, Serialize)]
struct Release {
    what: String,
    zones: Vec<String>,
    role: String,
    date: String,
    paper: String,
}

impl ReasonsContext {
    /// All that does not depend on how the section is numbered.
    pub(super) fn before_numbering(view: View<'_>) -> Self {
        Self {
            drivers: choice::drivers(view, ON_FIRST_PAGE),
            margins: margin::margins(view, ON_FIRST_PAGE + 2),
            facts: fact::facts(view),
            idle: fact::idle(view),
            options: choice::option_tables(view),
            limits: limit::limits(view),
            clauses: Vec::new(),
            conflicts: conflicts(view),
            turns: turn::turns(view),
            added: added(view),
            sources: sources(view, sources_used(view)),
            releases: view.survey.releases.iter().map(|release| self::release(view, release)).collect(),
        }
    }

    /// The whole, its clauses numbered as the section prints them.
    pub(super) fn numbered(self, view: View<'_>, section: &Places) -> Self {
        Self { clauses: clause_rows(view, section), ..self }
    }
}

fn duties(view: View<'_>, id: ClauseId) -> Vec<(usize, &ClauseDuty)> {
    let zones = view.outcome.zones.iter().enumerate();
    zones
        .flat_map(|(zone, outcome)| outcome.clauses.iter().map(move |duty| (zone, duty)))
        .filter(|(_, duty)| duty.clause == id)
        .collect()
}

/// Every rule that requires a printed clause, in the order of the section; its clauses stand together where they hold
/// for the same zones.
fn clause_rows(view: View<'_>, section: &Places) -> Vec<ClauseRow> {
    let printed = |clause: &Clause| {
        [Reader::Section, Reader::Owner].iter().any(|reader| clause.wording.contains_key(reader))
    };
    let shown = required(view).into_iter().filter_map(|id| Some((id, view.book.clauses.get(id.0)?)));
    let mut clauses: Vec<_> = shown
        .filter(|(_, clause)| printed(clause))
        .map(|(id, clause)| (section.find(&clause.name).map(|(_, at)| at.order), id, clause))
        .collect();
    clauses.sort_by_key(|(order, _, clause)| (order.unwrap_or(usize::MAX), &clause.name));
    let mut rows: IndexMap<(RuleId, Vec<usize>, bool), Vec<ClauseName>> = IndexMap::new();
    for (_, id, clause) in clauses {
        for (rule, (zones, truth)) in causes(view, id) {
            let row = rows.entry((rule, zones, truth == Truth::Yes)).or_default();
            row.push(clause_name(section, clause));
        }
    }
    let row = |((rule, zones, certain), clauses): ((RuleId, Vec<usize>, bool), _)| {
        let extent = Extent::of(view, &zones);
        Some(ClauseRow { rule: view.rule_shown(rule)?, extent, certain, clauses })
    };
    rows.into_iter().filter_map(row).collect()
}

/// The rules that require a clause, each with its zones and the surest truth among them.
fn causes(view: View<'_>, id: ClauseId) -> BTreeMap<RuleId, (Vec<usize>, Truth)> {
    let mut found: BTreeMap<RuleId, (Vec<usize>, Truth)> = BTreeMap::new();
    for (zone, duty) in duties(view, id) {
        for cause in &duty.causes {
            let (zones, truth) = found.entry(cause.rule).or_insert_with(|| (Vec::new(), Truth::No));
            if zones.last() != Some(&zone) {
                zones.push(zone);
            }
            *truth = truth.or(cause.truth);
        }
    }
    found
}

fn clause_name(section: &Places, clause: &Clause) -> ClauseName {
    ClauseName { number: number_in(section, &clause.name), name: clause.name.clone() }
}

fn conflicts(view: View<'_>) -> Vec<Conflict> {
    let mut found = Vec::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for clash in &outcome.clashes {
            let (floor, ceiling) = (&clash.floor, &clash.ceiling);
            let said = |bound, entry| view.bound_words(zone, bound, entry);
            found.push(Conflict {
                kind: "clash",
                what: format!(
                    "{}: {}, {}",
                    view.quantity_words(clash.quantity),
                    said(Bound::AtLeast, floor),
                    said(Bound::AtMost, ceiling)
                ),
                zones: vec![view.code(zone)],
                rules: [floor, ceiling].map(|entry| view.rule_name(entry.cause.rule)).to_vec(),
                certain: clash.is_certain(),
            });
        }
        for stop in &outcome.stops {
            if let StopCause::Circle(slot, truth, rules) = &stop.cause {
                found.push(Conflict {
                    kind: "circle",
                    what: view.slot_words(*slot),
                    zones: vec![view.code(zone)],
                    rules: rules.iter().map(|rule| view.rule_name(*rule)).collect(),
                    certain: *truth == Truth::Yes,
                });
            }
        }
    }
    found
}

/// The clauses that each other option would bring.
fn added(view: View<'_>) -> Vec<Added> {
    let mut found: IndexMap<String, (Vec<usize>, Vec<String>)> = IndexMap::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for duty in &outcome.clauses {
            let Mark::IfChosen(options) = &duty.mark else { continue };
            let Some(clause) = view.book.clauses.get(duty.clause.0) else { continue };
            for (slot, option) in options {
                let (zones, clauses) = found.entry(view.option_title(*slot, *option)).or_default();
                if !zones.contains(&zone) {
                    zones.push(zone);
                }
                if !clauses.contains(&clause.subject) {
                    clauses.push(clause.subject.clone());
                }
            }
        }
    }
    let shown = |(option, (zones, clauses)): (String, (Vec<usize>, _))| Added {
        option,
        zones: view.codes(&zones),
        clauses,
    };
    found.into_iter().map(shown).collect()
}

/// Every source behind something that is printed.
fn sources_used(view: View<'_>) -> BTreeSet<SourceId> {
    let mut used = BTreeSet::new();
    for outcome in &view.outcome.zones {
        let clauses = outcome.clauses.iter().flat_map(|duty| &duty.causes);
        let limits = outcome.limits.iter().flat_map(|limit| &limit.entries).map(|entry| &entry.cause);
        let refusals =
            outcome.slots.iter().flat_map(|slot| &slot.options).flat_map(|option| &option.refused_by);
        let duties = outcome.hold_points.iter().chain(&outcome.cautions).map(|duty| &duty.cause);
        let stops = outcome.stops.iter().filter_map(|stop| match &stop.cause {
            StopCause::Rule(cause) => Some(cause),
            _ => None,
        });
        let causes: Vec<&Cause> = clauses.chain(limits).chain(refusals).chain(duties).chain(stops).collect();
        let rules = causes.iter().filter_map(|cause| view.book.rules.get(cause.rule.0));
        used.extend(rules.flat_map(|rule| &rule.ground.per).map(|citation| citation.source));
        let cited = outcome.clauses.iter().filter_map(|duty| view.book.clauses.get(duty.clause.0));
        used.extend(cited.flat_map(|clause| &clause.cites).map(|citation| citation.source));
    }
    used
}

fn release(view: View<'_>, release: &crate::survey::Release) -> Release {
    use crate::survey::Released;
    Release {
        what: match &release.what {
            Released::Stop(rule) => view.rule_name(*rule),
            Released::HoldPoint(name) => spoken(name),
        },
        zones: view.codes(&release.zones),
        role: release.role.clone(),
        date: release.date.clone(),
        paper: release.paper.clone(),
    }
}
