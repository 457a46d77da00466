//! The values of the reasons record: every decision with its rule, reason, source and figures.

mod choice;
mod fact;
mod ground;
mod margin;

use std::collections::BTreeSet;

use indexmap::IndexMap;
use serde::Serialize;

use super::numbering::Places;
use super::section::{Source, required, sources};
use super::view::{Extent, View};
use super::words::from_kebab;
use crate::inference::outcome::{Cause, ClauseDuty, Mark, StopCause};
use crate::inference::truth::Truth;
use crate::rulebook::book::{Bound, ClauseId, SourceId};
use crate::rulebook::clause::Reader;
use choice::{Driver, OptionTable};
use fact::{FactRow, LimitRow};
use ground::RuleShown;
use margin::{Margin, Turn};

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

/// A printed clause with why it is there.
#[derive(Debug, Serialize)]
struct ClauseRow {
    /// Its number in the section, such as `3.2 B`.
    number: Option<String>,
    name: String,
    subject: String,
    #[serde(flatten)]
    extent: Extent,
    of_job: bool,
    certain: bool,
    rules: Vec<RuleShown>,
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
    pub(super) fn of(view: View<'_>, section: &Places) -> Self {
        Self {
            drivers: choice::drivers(view, ON_FIRST_PAGE),
            margins: margin::margins(view, ON_FIRST_PAGE + 2),
            facts: fact::facts(view),
            idle: fact::idle(view),
            options: choice::option_tables(view),
            limits: fact::limits(view),
            clauses: clause_rows(view, section),
            conflicts: conflicts(view),
            turns: margin::turns(view),
            added: added(view),
            sources: sources(view, sources_used(view)),
            releases: view.survey.releases.iter().map(|release| self::release(view, release)).collect(),
        }
    }
}

fn duties(view: View<'_>, id: ClauseId) -> Vec<(usize, &ClauseDuty)> {
    let zones = view.outcome.zones.iter().enumerate();
    zones
        .flat_map(|(zone, outcome)| outcome.clauses.iter().map(move |duty| (zone, duty)))
        .filter(|(_, duty)| duty.clause == id)
        .collect()
}

/// Clauses with words for the section or the owner, in the order of the section.
fn clause_rows(view: View<'_>, section: &Places) -> Vec<ClauseRow> {
    let printed = |id: &ClauseId| {
        view.book.clauses.get(id.0).is_some_and(|clause| {
            [Reader::Section, Reader::Owner].iter().any(|reader| clause.wording.contains_key(reader))
        })
    };
    let mut rows: Vec<_> = required(view)
        .into_iter()
        .filter(printed)
        .filter_map(|id| {
            let row = clause_row(view, section, id)?;
            let place = section.find(&row.name).map(|(_, standing)| standing.order);
            Some((place.unwrap_or(usize::MAX), row))
        })
        .collect();
    rows.sort_by(|(a, one), (b, other)| (a, &one.name).cmp(&(b, &other.name)));
    rows.into_iter().map(|(_, row)| row).collect()
}

fn clause_row(view: View<'_>, section: &Places, id: ClauseId) -> Option<ClauseRow> {
    let clause = view.book.clauses.get(id.0)?;
    let duties = duties(view, id);
    let zones: Vec<usize> = duties.iter().map(|(zone, _)| *zone).collect();
    let causes = duties.iter().flat_map(|(_, duty)| &duty.causes);
    let standing = section.find(&clause.name).map(|(_, standing)| standing);
    Some(ClauseRow {
        number: standing.and_then(|at| Some(format!("{} {}", at.article.as_ref()?, at.paragraph.as_ref()?))),
        name: clause.name.clone(),
        subject: clause.subject.clone(),
        extent: Extent::of(view, &zones),
        of_job: clause.owner == crate::rulebook::book::Owner::Job,
        certain: duties.iter().any(|(_, duty)| duty.truth == Truth::Yes),
        rules: view.rules_shown(causes),
    })
}

fn conflicts(view: View<'_>) -> Vec<Conflict> {
    let mut found = Vec::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for clash in &outcome.clashes {
            let (floor, ceiling) = (&clash.floor, &clash.ceiling);
            let said = |bound, entry| view.bound_words(bound, entry);
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
            Released::HoldPoint(name) => from_kebab(name),
        },
        zones: view.codes(&release.zones),
        role: release.role.clone(),
        date: release.date.clone(),
        paper: release.paper.clone(),
    }
}
