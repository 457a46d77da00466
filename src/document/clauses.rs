//! Clauses set in words for one reader: zones with equal values and reservations form a group, and each clause prints
//! once, however many groups there are.

use serde::Serialize;
use tera::Context;

use super::engine::Engine;
use super::mistake::DocumentMistake;
use super::note::Note;
use super::parameter::Instead;
use super::stops::Stops;
use super::view::{Extent, View};
use super::wording::fields;
use crate::diagnostic::Diagnostic;
use crate::inference::outcome::{ClauseDuty, Mark};
use crate::inference::plan::tests_of;
use crate::rulebook::book::{ClauseId, Owner, SlotId, TestKind};
use crate::rulebook::clause::{Clause, ParameterKind, Reader};

/// A clause as templates see it. Texts are Markdown.
#[derive(Debug, Serialize)]
pub(super) struct Printed {
    pub(super) name: String,
    pub(super) subject: String,
    /// The words, filled.
    pub(super) text: String,
    /// Whether it is the job's: then zones are named only where values differ.
    pub(super) of_job: bool,
    #[serde(flatten)]
    pub(super) extent: Extent,
    /// Reservations, where there is one group.
    pub(super) notes: Vec<Note>,
    /// The columns in which the groups differ.
    pub(super) heads: Vec<String>,
    /// Whether some group has a reservation.
    pub(super) reserved: bool,
    /// Whether the groups need a table: their values differ, or their reservations are too long for a bracket.
    pub(super) tabled: bool,
    /// The groups; one at least.
    pub(super) groups: Vec<Group>,
    pub(super) test: Option<Test>,
    #[serde(skip)]
    pub(super) clause: ClauseId,
}

/// Zones that a clause holds for alike.
#[derive(Debug, Serialize)]
pub(super) struct Group {
    #[serde(flatten)]
    extent: Extent,
    /// Values of the columns in which the groups differ.
    values: Vec<String>,
    notes: Vec<Note>,
}

/// How a clause is proved.
#[derive(Debug, Serialize)]
pub(super) struct Test {
    method: String,
    frequency: String,
    accept: String,
    by: String,
    form: String,
    on_failure: String,
}

/// The name of a wording among the templates.
pub(super) fn template_name(reader: Reader, clause: &Clause) -> String {
    let reader = match reader {
        Reader::Section => "section",
        Reader::Crew => "crew",
        Reader::Owner => "owner",
        Reader::Form => "form",
    };
    format!("{reader}/{}.md", clause.name)
}

/// The name of a field of a test record among the templates.
pub(super) fn test_name(field: &str, clause: &Clause) -> String {
    format!("test/{field}/{}.md", clause.name)
}

/// A value's name in a template.
pub(super) fn value_name(parameter: &str) -> String {
    parameter.replace(['-', '.'], "_")
}

/// Sets clauses for one reader.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setter<'a> {
    pub(super) view: View<'a>,
    pub(super) stops: &'a Stops,
    pub(super) engine: &'a Engine,
    pub(super) reader: Reader,
}

/// What one zone, or one option of it, makes of a clause.
#[derive(Debug, PartialEq, Eq)]
struct Entry {
    zone: usize,
    values: Vec<String>,
    notes: Vec<Note>,
}

/// Entries that are alike.
struct Alike {
    zones: Vec<usize>,
    values: Vec<String>,
    notes: Vec<Note>,
}

impl<'a> Setter<'a> {
    /// A clause with the zones that require it, in words.
    pub(super) fn set(self, id: ClauseId) -> Result<Printed, Vec<Diagnostic>> {
        let Some(clause) = self.view.book.clauses.get(id.0) else { return Err(Vec::new()) };
        let duties: Vec<(usize, &ClauseDuty)> = self.duties(id).collect();
        let mut mistakes = Vec::new();
        let mut entries = Vec::new();
        for (zone, duty) in &duties {
            entries.extend(self.entries(clause, *zone, duty, &mut mistakes));
        }
        if !mistakes.is_empty() {
            mistakes.truncate(1);
            return Err(mistakes);
        }
        if clause.owner == Owner::Job {
            self.share_notes(&duties, clause, &mut entries);
        }
        self.print(id, clause, &alike(entries)).map_err(|mistake| vec![*mistake])
    }

    fn duties(self, id: ClauseId) -> impl Iterator<Item = (usize, &'a ClauseDuty)> {
        let zones = self.view.outcome.zones.iter().enumerate();
        zones.flat_map(move |(zone, outcome)| {
            outcome.clauses.iter().filter(move |duty| duty.clause == id).map(move |duty| (zone, duty))
        })
    }

    fn entries(
        self,
        clause: &Clause,
        zone: usize,
        duty: &ClauseDuty,
        mistakes: &mut Vec<Diagnostic>,
    ) -> Vec<Entry> {
        let mut entries = Vec::new();
        for (mark, instead) in Self::readings(clause, &duty.mark) {
            let mut values = Vec::new();
            for parameter in &clause.parameters {
                match self.view.value(zone, parameter, instead) {
                    Some(value) => values.push(value),
                    None => mistakes.push(Diagnostic::error(
                        &DocumentMistake::NoLimit {
                            clause: clause.name.clone(),
                            parameter: parameter.name.clone(),
                            zone: self.view.code(zone),
                        },
                        parameter.place.clone(),
                    )),
                }
            }
            let notes = self.notes(clause, zone, duty, &mark, instead);
            entries.push(Entry { zone, values, notes });
        }
        entries
    }

    /// A duty that other options would bring is read once for each option whose values it prints.
    fn readings(clause: &Clause, mark: &Mark) -> Vec<(Mark, Instead)> {
        let printed = slots_of(clause);
        match mark {
            Mark::IfChosen(options) if options.iter().any(|(slot, _)| printed.contains(slot)) => {
                options.iter().map(|option| (Mark::IfChosen(vec![*option]), Some(*option))).collect()
            }
            Mark::IfChosen(options) => vec![(mark.clone(), options.first().copied())],
            _ => vec![(mark.clone(), None)],
        }
    }

    fn notes(
        self,
        clause: &Clause,
        zone: usize,
        duty: &ClauseDuty,
        mark: &Mark,
        instead: Instead,
    ) -> Vec<Note> {
        let mut notes: Vec<Note> = self.view.held(zone, clause.stage, self.stops).into_iter().collect();
        let printed = slots_of(clause).into_iter().filter(|slot| self.view.is_open(zone, *slot));
        let mut open: Vec<SlotId> = printed.collect();
        match mark {
            Mark::Provisional => {
                open.extend(self.slots_read(duty).into_iter().filter(|slot| self.view.is_open(zone, *slot)));
                open.sort();
                open.dedup();
                let note = if open.is_empty() { self.view.note(zone, mark) } else { None };
                notes.extend(note);
            }
            _ => notes.extend(self.view.note(zone, mark)),
        }
        if !open.is_empty() && instead.is_none() {
            notes.push(self.view.provisional(zone, &open));
        }
        for parameter in &clause.parameters {
            if let ParameterKind::Limit(quantity) = parameter.kind {
                notes.extend(self.view.limit_notes(zone, quantity, instead));
            }
        }
        notes.dedup();
        notes
    }

    /// The slots that the rules behind a duty look at.
    fn slots_read(self, duty: &ClauseDuty) -> Vec<SlotId> {
        let rules = duty.causes.iter().filter_map(|cause| self.view.book.rules.get(cause.rule.0));
        rules
            .flat_map(|rule| tests_of(&rule.when))
            .filter_map(|test| match &test.kind {
                TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => Some(*slot),
                _ => None,
            })
            .collect()
    }

    /// A clause of the job carries the reservations of the zone that is surest of it.
    fn share_notes(self, duties: &[(usize, &ClauseDuty)], clause: &Clause, entries: &mut [Entry]) {
        let surest = duties.iter().min_by(|(a_zone, a), (b_zone, b)| {
            let held = |zone| self.view.held(zone, clause.stage, self.stops).is_some();
            (&a.mark, held(*a_zone), a_zone).cmp(&(&b.mark, held(*b_zone), b_zone))
        });
        let notes = surest.and_then(|(zone, _)| entries.iter().find(|entry| entry.zone == *zone));
        let notes = notes.map(|entry| entry.notes.clone()).unwrap_or_default();
        for entry in entries {
            entry.notes.clone_from(&notes);
        }
    }

    fn print(self, id: ClauseId, clause: &Clause, groups: &[Alike]) -> Result<Printed, Box<Diagnostic>> {
        let differing: Vec<usize> = (0..clause.parameters.len())
            .filter(|index| {
                let mut values = groups.iter().map(|group| group.values.get(*index));
                let first = values.next();
                values.any(|value| Some(value) != first)
            })
            .collect();
        let context = self.context(clause, groups, &differing);
        let (engine, view) = (self.engine, self.view);
        let zones: Vec<usize> =
            view.zones().filter(|zone| groups.iter().any(|group| group.zones.contains(zone))).collect();
        let heads =
            differing.iter().filter_map(|index| clause.parameters.get(*index)).map(|one| view.head(one));
        let shown = groups.iter().map(|group| Group {
            extent: Extent::of(view, &group.zones),
            values: differing.iter().filter_map(|index| group.values.get(*index).cloned()).collect(),
            notes: group.notes.clone(),
        });
        Ok(Printed {
            name: clause.name.clone(),
            subject: clause.subject.clone(),
            text: engine.fill(&template_name(self.reader, clause), &context)?.trim().to_owned(),
            of_job: clause.owner == Owner::Job,
            extent: Extent::of(view, &zones),
            notes: match groups {
                [only] => only.notes.clone(),
                _ => Vec::new(),
            },
            heads: heads.collect(),
            tabled: !differing.is_empty()
                || groups.len() > 1 && groups.iter().any(|group| needs_room(&group.notes)),
            reserved: groups.iter().any(|group| !group.notes.is_empty()),
            groups: shown.collect(),
            test: self.test(clause, &context)?,
            clause: id,
        })
    }

    fn context(self, clause: &Clause, groups: &[Alike], differing: &[usize]) -> Context {
        let mut context = Context::new();
        for (index, parameter) in clause.parameters.iter().enumerate() {
            let value = if differing.contains(&index) {
                self.view.words.of("in-the-table")
            } else {
                groups.first().and_then(|group| group.values.get(index)).map_or("", String::as_str)
            };
            context.insert(value_name(&parameter.name), value);
        }
        context
    }

    fn test(self, clause: &Clause, context: &Context) -> Result<Option<Test>, Box<Diagnostic>> {
        let Some(test) = &clause.test else { return Ok(None) };
        let mut filled = Vec::new();
        for (field, words) in fields(test) {
            let name = test_name(field, clause);
            filled.push(if self.engine.has(&name) {
                self.engine.fill(&name, context)?
            } else {
                words.to_owned()
            });
        }
        let mut filled = filled.into_iter();
        let mut next = || filled.next().unwrap_or_default();
        Ok(Some(Test {
            method: next(),
            frequency: next(),
            accept: next(),
            by: next(),
            form: next(),
            on_failure: next(),
        }))
    }
}

/// Whether reservations are too long for a bracket behind the zones.
fn needs_room(notes: &[Note]) -> bool {
    notes.len() > 1 || notes.iter().any(|note| matches!(note, Note::Limit { .. }))
}

/// The slots whose choice a clause prints.
fn slots_of(clause: &Clause) -> Vec<SlotId> {
    let slots = clause.parameters.iter().filter_map(|parameter| match parameter.kind {
        ParameterKind::Chosen(slot) | ParameterKind::Column(slot, _) => Some(slot),
        ParameterKind::Limit(_) | ParameterKind::Fact(_) => None,
    });
    let mut slots: Vec<_> = slots.collect();
    slots.sort();
    slots.dedup();
    slots
}

fn alike(entries: Vec<Entry>) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for entry in entries {
        match groups.iter_mut().find(|group| group.values == entry.values && group.notes == entry.notes) {
            Some(group) => group.zones.push(entry.zone),
            None => groups.push(Alike { zones: vec![entry.zone], values: entry.values, notes: entry.notes }),
        }
    }
    groups
}
