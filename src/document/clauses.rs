//! Clauses set in words for one reader: zones with equal values and reservations form a group, and each clause prints
//! once, however many groups there are. The owner reads one sentence a group and no table; a form stands once for each
//! group; the crew reads each value with its zones behind it.

use serde::Serialize;
use tera::Context;

use super::engine::Engine;
use super::entries::{Alike, Wanted, alike};
use super::figure::printed;
use super::note::Note;
use super::stops::Stops;
use super::unconfirmed::{self, Unconfirmed};
use super::view::{Extent, View};
use super::wording::{ACCEPT, fields};
use crate::diagnostic::Diagnostic;
use crate::rulebook::book::{ClauseId, Owner, QuantityId};
use crate::rulebook::clause::{Clause, Parameter, ParameterKind, Purpose, Reader, Submittal};

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
    /// The paper that it asks for.
    pub(super) submit: Option<PaperAsked>,
    /// What it rests on that is to be confirmed.
    pub(super) unconfirmed: Vec<Unconfirmed>,
    #[serde(skip)]
    pub(super) clause: ClauseId,
}

/// Zones that a clause holds for alike.
#[derive(Debug, Serialize)]
pub(super) struct Group {
    #[serde(flatten)]
    pub(super) extent: Extent,
    /// Values of the columns in which the groups differ.
    values: Vec<String>,
    pub(super) notes: Vec<Note>,
}

/// How a clause is proved.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Test {
    pub(super) method: String,
    pub(super) frequency: String,
    /// What passes, each zone's value written out: an inspector reads it apart from the clause.
    pub(super) accept: String,
    /// The same beside the clause, whose table holds the values.
    pub(super) accept_beside: String,
    pub(super) by: String,
    pub(super) form: String,
    pub(super) on_failure: String,
    /// The number of the hold point that is released on its form; the section knows.
    pub(super) before: Option<String>,
}

/// A paper to hand in.
#[derive(Debug, Clone, Serialize)]
pub(super) struct PaperAsked {
    /// `review` or `record`, in the words of the papers.
    pub(super) purpose: String,
    /// When it is due.
    pub(super) due: String,
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

/// The name by which the words of a test print at how many places it is made.
pub(super) const PLACES: &str = "places";

/// The name by which words print when a paper is handed in and what for.
pub(super) const SUBMIT: &str = "submit";

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
    /// Quantities whose limits stand beside the words: where zones differ the words point there.
    pub(super) beside: &'a [QuantityId],
}

impl Setter<'_> {
    /// A clause with the zones that require it, in words; for the owner and on forms once for each group.
    pub(super) fn set(self, id: ClauseId) -> Result<Vec<Printed>, Vec<Diagnostic>> {
        let Some(clause) = self.view.book.clauses.get(id.0) else { return Ok(Vec::new()) };
        let wanted = Wanted::of(self.reader, id, clause);
        let groups = alike(self.entries(&wanted)?);
        if groups.is_empty() {
            return Ok(Vec::new());
        }
        let print = |groups: &[Alike]| self.print(&wanted, groups).map_err(|mistake| vec![*mistake]);
        if matches!(self.reader, Reader::Owner | Reader::Form) && groups.len() > 1 {
            return groups.chunks(1).map(print).collect();
        }
        Ok(vec![print(&groups)?])
    }

    fn print(self, wanted: &Wanted<'_>, groups: &[Alike]) -> Result<Printed, Box<Diagnostic>> {
        let (engine, view, clause) = (self.engine, self.view, wanted.clause);
        let differing: Vec<usize> =
            (0..wanted.parameters.len()).filter(|index| differs(groups, *index)).collect();
        let context = self.context(wanted, groups, &differing);
        let zones: Vec<usize> =
            view.zones().filter(|zone| groups.iter().any(|group| group.zones.contains(zone))).collect();
        let heads = differing.iter().filter_map(|index| wanted.parameters.get(*index));
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
            heads: heads.map(|parameter| view.head(parameter)).collect(),
            tabled: !differing.is_empty()
                || groups.len() > 1 && groups.iter().any(|group| needs_room(&group.notes)),
            reserved: groups.iter().any(|group| !group.notes.is_empty()),
            groups: shown.collect(),
            test: if prints_test(self.reader) { self.test(wanted, groups, context)? } else { None },
            submit: clause.submit.as_ref().map(|submit| PaperAsked::of(view, submit)),
            unconfirmed: unconfirmed::of(view, wanted.id, clause),
            clause: wanted.id,
        })
    }

    fn context(self, wanted: &Wanted<'_>, groups: &[Alike], differing: &[usize]) -> Context {
        let view = self.view;
        let mut context = Context::new();
        for (index, parameter) in wanted.parameters.iter().enumerate() {
            let own = groups.first().and_then(|group| group.values.get(index));
            let value = match own {
                Some(value) if !differing.contains(&index) => value.clone(),
                _ if self.is_beside(parameter) => view.words.of("in-the-figures").to_owned(),
                _ if self.reader == Reader::Crew => self.each(groups, index),
                _ => view.in_table(parameter),
            };
            context.insert(value_name(&parameter.name), &value);
        }
        self.typed(wanted.clause, &mut context);
        if let Some(submit) = &wanted.clause.submit {
            context.insert(SUBMIT, &PaperAsked::of(view, submit).in_words(view));
        }
        context
    }

    /// The figures of a clause's own.
    fn typed(self, clause: &Clause, context: &mut Context) {
        for figure in &clause.figures {
            context.insert(value_name(&figure.name), &printed(&figure.value, self.view.system()));
        }
    }

    fn is_beside(self, parameter: &Parameter) -> bool {
        matches!(parameter.kind, ParameterKind::Limit(quantity) if self.beside.contains(&quantity))
    }

    /// A value with the zones that have it, where they differ.
    fn each(self, groups: &[Alike], index: usize) -> String {
        let valued = groups.iter().filter_map(|group| Some((group, group.values.get(index)?)));
        let said: Vec<(usize, String)> =
            valued.flat_map(|(group, value)| group.zones.iter().map(|zone| (*zone, value.clone()))).collect();
        self.view.by_zone(&said)
    }

    /// The test record; the clause prints its values from `own`.
    fn test(
        self,
        wanted: &Wanted<'_>,
        groups: &[Alike],
        mut own: Context,
    ) -> Result<Option<Test>, Box<Diagnostic>> {
        let clause = wanted.clause;
        let Some(test) = &clause.test else { return Ok(None) };
        let mut apart = Context::new();
        for (index, parameter) in wanted.parameters.iter().enumerate() {
            apart.insert(value_name(&parameter.name), &self.each(groups, index));
        }
        self.typed(clause, &mut apart);
        if let Some(places) = &test.places {
            let places = self.view.places(places);
            apart.insert(PLACES, &places);
            own.insert(PLACES, &places);
        }
        let fill = |field: &str, words: &str, context: &Context| {
            let name = test_name(field, clause);
            if self.engine.has(&name) { self.engine.fill(&name, context) } else { Ok(words.to_owned()) }
        };
        let mut filled = Vec::new();
        for (field, words) in fields(test) {
            filled.push(fill(field, words, &apart)?);
        }
        let mut filled = filled.into_iter();
        let mut next = || filled.next().unwrap_or_default();
        Ok(Some(Test {
            method: next(),
            frequency: next(),
            accept: next(),
            accept_beside: fill(ACCEPT, &test.accept, &own)?,
            by: next(),
            form: next(),
            on_failure: next(),
            before: None,
        }))
    }
}

impl PaperAsked {
    fn of(view: View<'_>, submit: &Submittal) -> Self {
        let purpose = match submit.purpose {
            Purpose::Review => "review",
            Purpose::Record => "record",
        };
        Self { purpose: view.words.of(purpose).to_owned(), due: submit.due.clone() }
    }

    /// As a sentence of the section begins.
    fn in_words(&self, view: View<'_>) -> String {
        view.words.of("submit").replace("{purpose}", &self.purpose).replace("{due}", &self.due)
    }
}

/// Whether a reader reads how a clause is proved.
pub(super) fn prints_test(reader: Reader) -> bool {
    matches!(reader, Reader::Section | Reader::Form)
}

/// Whether groups differ in a value.
fn differs(groups: &[Alike], index: usize) -> bool {
    let mut values = groups.iter().map(|group| group.values.get(index));
    let first = values.next();
    values.any(|value| Some(value) != first)
}

/// Whether reservations are too long for a bracket behind the zones.
fn needs_room(notes: &[Note]) -> bool {
    notes.len() > 1 || notes.iter().any(|note| matches!(note, Note::Limit { certain: Some(_), .. }))
}
