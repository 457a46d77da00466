//! What each zone makes of a clause: values, reservations, and which zones are alike.

use super::clauses::{Setter, prints_test, value_name};
use super::mistake::DocumentMistake;
use super::note::Note;
use super::parameter::Instead;
use super::wording::fields;
use crate::diagnostic::Diagnostic;
use crate::inference::outcome::{ClauseDuty, Mark};
use crate::rulebook::book::{ClauseId, Owner, SlotId, TestKind};
use crate::rulebook::clause::{Clause, Parameter, ParameterKind, Reader};

/// A clause with the parameters that its words for one reader print.
#[derive(Debug)]
pub(super) struct Wanted<'c> {
    pub(super) id: ClauseId,
    pub(super) clause: &'c Clause,
    pub(super) parameters: Vec<&'c Parameter>,
}

impl<'c> Wanted<'c> {
    pub(super) fn of(reader: Reader, id: ClauseId, clause: &'c Clause) -> Self {
        let wording = clause.wording.get(&reader).map(|wording| wording.text.as_str());
        let tests = clause.test.iter().filter(|_| prints_test(reader)).flat_map(fields);
        let texts: Vec<&str> = wording.into_iter().chain(tests.map(|(_, words)| words)).collect();
        let printed = |parameter: &&Parameter| {
            let name = value_name(&parameter.name);
            texts.iter().any(|text| mentions(text, &name))
        };
        Self { id, clause, parameters: clause.parameters.iter().filter(printed).collect() }
    }

    /// The slots whose choice is printed.
    fn slots(&self) -> Vec<SlotId> {
        let slots = self.parameters.iter().filter_map(|parameter| match parameter.kind {
            ParameterKind::Chosen(slot) | ParameterKind::Column(slot, _) => Some(slot),
            ParameterKind::Limit(_) | ParameterKind::Fact(_) => None,
        });
        let mut slots: Vec<_> = slots.collect();
        slots.sort();
        slots.dedup();
        slots
    }
}

/// Whether a template's text holds a name as a word of its own.
fn mentions(text: &str, name: &str) -> bool {
    let part_of_name = |sign: char| sign.is_alphanumeric() || sign == '_';
    text.match_indices(name).any(|(at, _)| {
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        let after = text.get(at + name.len()..).and_then(|after| after.chars().next());
        !before.is_some_and(part_of_name) && !after.is_some_and(part_of_name)
    })
}

/// What one zone, or one option of it, makes of a clause.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Entry {
    zone: usize,
    values: Vec<String>,
    notes: Vec<Note>,
}

/// Entries that are alike.
#[derive(Debug)]
pub(super) struct Alike {
    pub(super) zones: Vec<usize>,
    pub(super) values: Vec<String>,
    pub(super) notes: Vec<Note>,
}

/// Puts equal entries together, in the order in which they are met.
pub(super) fn alike(entries: Vec<Entry>) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for entry in entries {
        match groups.iter_mut().find(|group| group.values == entry.values && group.notes == entry.notes) {
            Some(group) => group.zones.push(entry.zone),
            None => {
                groups.push(Alike { zones: vec![entry.zone], values: entry.values, notes: entry.notes });
            }
        }
    }
    groups
}

impl<'a> Setter<'a> {
    /// The entries of every zone that requires a clause.
    pub(super) fn entries(self, wanted: &Wanted<'_>) -> Result<Vec<Entry>, Vec<Diagnostic>> {
        let duties: Vec<(usize, &ClauseDuty)> = self.duties(wanted.id).collect();
        let mut entries = Vec::new();
        for (zone, duty) in &duties {
            for (mark, instead) in self.readings(wanted, &duty.mark) {
                let values = self.values(wanted, *zone, instead).map_err(|mistake| vec![*mistake])?;
                let notes = self.notes(wanted, *zone, duty, &mark, instead);
                entries.push(Entry { zone: *zone, values, notes });
            }
        }
        if wanted.clause.owner == Owner::Job {
            self.share_notes(&duties, wanted.clause, &mut entries);
        }
        Ok(entries)
    }

    /// A duty that other options would bring is read once for each option whose values it prints. Owner and crew are
    /// told of what is to stand on the wall, not of what else could.
    fn readings(self, wanted: &Wanted<'_>, mark: &Mark) -> Vec<(Mark, Instead)> {
        let printed = wanted.slots();
        match mark {
            Mark::IfChosen(_) if self.is_told_little() => Vec::new(),
            Mark::IfChosen(options) if options.iter().any(|(slot, _)| printed.contains(slot)) => {
                options.iter().map(|option| (Mark::IfChosen(vec![*option]), Some(*option))).collect()
            }
            Mark::IfChosen(options) => vec![(mark.clone(), options.first().copied())],
            _ => vec![(mark.clone(), None)],
        }
    }

    /// Whether the reader reads no reservations.
    fn is_told_little(self) -> bool {
        matches!(self.reader, Reader::Owner | Reader::Crew)
    }

    fn duties(self, id: ClauseId) -> impl Iterator<Item = (usize, &'a ClauseDuty)> {
        let zones = self.view.outcome.zones.iter().enumerate();
        zones.flat_map(move |(zone, outcome)| {
            outcome.clauses.iter().filter(move |duty| duty.clause == id).map(move |duty| (zone, duty))
        })
    }

    fn values(
        self,
        wanted: &Wanted<'_>,
        zone: usize,
        instead: Instead,
    ) -> Result<Vec<String>, Box<Diagnostic>> {
        let value = |parameter: &&Parameter| {
            self.view.value(zone, parameter, instead).ok_or_else(|| {
                let mistake = DocumentMistake::NoLimit {
                    clause: wanted.clause.name.clone(),
                    parameter: parameter.name.clone(),
                    zone: self.view.code(zone),
                };
                Box::new(Diagnostic::error(&mistake, parameter.place.clone()))
            })
        };
        wanted.parameters.iter().map(value).collect()
    }

    fn notes(
        self,
        wanted: &Wanted<'_>,
        zone: usize,
        duty: &ClauseDuty,
        mark: &Mark,
        instead: Instead,
    ) -> Vec<Note> {
        // what is open stands once on these sheets, in a strip of its own
        if self.is_told_little() {
            return Vec::new();
        }
        // a form is filled in when the work is done: by then only the choice can still differ
        if self.reader == Reader::Form {
            let chosen = self.view.note(zone, mark);
            return chosen.into_iter().filter(|note| matches!(note, Note::IfChosen { .. })).collect();
        }
        let mut notes: Vec<Note> =
            self.view.held(zone, wanted.clause.stage, self.stops).into_iter().collect();
        let mut open = wanted.slots();
        if *mark == Mark::Provisional {
            open.extend(self.slots_read(duty));
            open.sort();
            open.dedup();
        }
        open.retain(|slot| self.view.is_open(zone, *slot));
        if *mark != Mark::Provisional || open.is_empty() {
            notes.extend(self.view.note(zone, mark));
        }
        if !open.is_empty() && instead.is_none() {
            notes.push(self.view.provisional(zone, &open));
        }
        for parameter in &wanted.parameters {
            if let ParameterKind::Limit(quantity) = parameter.kind {
                let found = self.view.limit_notes(zone, quantity, instead);
                let adds = |note: &Note| !notes.iter().any(|known| known.says_more_than(note));
                let more: Vec<Note> = found.into_iter().filter(adds).collect();
                notes.extend(more);
            }
        }
        notes.dedup();
        notes
    }

    /// The slots that the rules behind a duty look at.
    fn slots_read(self, duty: &ClauseDuty) -> Vec<SlotId> {
        let rules = duty.causes.iter().filter_map(|cause| self.view.book.rules.get(cause.rule.0));
        rules
            .flat_map(|rule| rule.when.tests())
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
}
