//! The values of the inspection and test plan: hold points and tests in the order of the work, checks, papers to hand in,
//! and room for non-conformances. A test whose places are counted has a form with room for each place; tests of one kind
//! that are made shift by shift or product by product share a sheet. Its tests are those of the section, taken from the
//! same values.

use serde::Serialize;

use super::data::Site;
use super::form::{Field, cut, with_room};
use crate::diagnostic::Diagnostic;
use crate::document::clauses::{PaperAsked, Printed, Setter, Test};
use crate::document::note::Note;
use crate::document::numbering::Places;
use crate::document::section::{HoldPoint, SectionContext, clauses, number_in};
use crate::document::templates::Templates;
use crate::document::view::{Extent, View};
use crate::document::words::upper_first;
use crate::rulebook::clause::{Clause, Reader};
use crate::rulebook::words::spoken;

/// Room to write in, as templates mark it.
const ROOM: &str = "<blank mm=22>";
/// More rows than these are a book of their own: the form says how many places there are, and more go on a copy.
const MOST_ROWS: usize = 120;
/// With so many figures or fewer at a place, two places stand side by side.
const FEW_FIELDS: usize = 2;

/// The plan, but for the numbers of the section.
#[derive(Debug)]
pub(in crate::document) struct PlanContext {
    holds: Vec<HoldPoint>,
    tests: Vec<Tested>,
    checks: Vec<Printed>,
    submittals: Vec<Printed>,
    non_conformances: usize,
    occasions: usize,
}

/// A test with its form.
#[derive(Debug)]
struct Tested {
    clause: Printed,
    test: Test,
    /// The stage in which it falls, by its place in the order of the work.
    stage: usize,
    hold: Option<String>,
    witnessed: bool,
    /// Place of its kind of form among those listed.
    rank: usize,
    title: String,
    instrument: Option<String>,
    parts: Vec<Part>,
}

/// What the plan prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct Numbered {
    rows: Vec<Row>,
    holds: Vec<HoldPoint>,
    kinds: Vec<KindOfForm>,
    /// How often the tests of a sheet can be written down on it.
    occasions: Vec<usize>,
    checks: Vec<Check>,
    submittals: Vec<Submittal>,
    non_conformances: Vec<usize>,
}

/// A row of the plan: a hold point or a test.
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
enum Row {
    Hold {
        hold: usize,
    },
    Test {
        /// Where the section asks for it.
        number: Option<String>,
        subject: String,
        #[serde(flatten)]
        extent: Extent,
        of_job: bool,
        test: Box<Test>,
        /// The hold point that waits for it.
        hold: Option<String>,
        witnessed: bool,
    },
}

/// The tests of one kind: those that share a sheet, and those with a form of their own.
#[derive(Debug, Serialize)]
struct KindOfForm {
    title: String,
    instrument: Option<String>,
    sheet: Vec<Form>,
    forms: Vec<Form>,
}

/// A test to fill in by hand.
#[derive(Debug, Serialize)]
struct Form {
    number: Option<String>,
    subject: String,
    test: Test,
    hold: Option<String>,
    parts: Vec<Part>,
}

/// A form's table for zones with equal limits.
#[derive(Debug, Serialize)]
struct Part {
    #[serde(flatten)]
    extent: Extent,
    of_job: bool,
    notes: Vec<Note>,
    /// What must hold.
    statement: String,
    accept: String,
    fields: Vec<Field>,
    /// Places with a line for each, as many beside each other as find room; none where they are not counted.
    rows: Vec<Vec<FormRow>>,
    /// How many places in each zone, where they are counted.
    counts: Vec<Count>,
}

#[derive(Debug, Serialize)]
struct FormRow {
    /// Counted through all zones of the part.
    number: usize,
    zone: String,
}

#[derive(Debug, Serialize)]
struct Count {
    zone: String,
    places: usize,
    /// Whether the area is known from which they are counted.
    measured: bool,
}

/// A check that is no test.
#[derive(Debug, Serialize)]
struct Check {
    number: Option<String>,
    subject: String,
    #[serde(flatten)]
    extent: Extent,
    of_job: bool,
    /// With room to write in.
    text: String,
}

/// A paper to hand in.
#[derive(Debug, Serialize)]
struct Submittal {
    number: Option<String>,
    subject: String,
    #[serde(flatten)]
    asked: PaperAsked,
}

impl PlanContext {
    /// All that does not depend on how the section is numbered.
    pub(in crate::document) fn before_numbering(
        section: Setter<'_>,
        form: Setter<'_>,
        templates: &Templates,
    ) -> Result<Self, Vec<Diagnostic>> {
        let SectionContext { parts, hold_points, .. } = SectionContext::of(section, templates)?;
        let site = &templates.site;
        let desk = Desk { form, site };
        let (mut tests, mut submittals, mut mistakes) = (Vec::new(), Vec::new(), Vec::new());
        let mut reached = 0;
        for article in parts.into_iter().flat_map(|part| part.articles) {
            for clause in article.clauses {
                reached = stage(section.view, &clause).map_or(reached, |stage| stage.max(reached));
                match clause.test.clone() {
                    Some(test) => match desk.tested(clause, test, reached) {
                        Ok(tested) => tests.extend(tested),
                        Err(found) => mistakes.extend(found),
                    },
                    None if clause.submit.is_some() => submittals.push(clause),
                    None => {}
                }
            }
        }
        let checks = clauses(form, &mut mistakes, |clause| clause.test.is_none());
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        let (non_conformances, occasions) = (site.non_conformances, site.occasions);
        Ok(Self { tests, checks, submittals, non_conformances, occasions, holds: hold_points })
    }

    /// The plan with the numbers of the section.
    pub(in crate::document) fn numbered(self, section: &Places) -> Numbered {
        let number = |clause: &Printed| number_in(section, &clause.name);
        let mut checks = self.checks;
        checks.sort_by_key(|clause| section.find(&clause.name).map_or(usize::MAX, |(_, at)| at.order));
        Numbered {
            rows: rows(&self.holds, &self.tests, section),
            kinds: kinds(self.tests, section),
            occasions: (1..=self.occasions).collect(),
            checks: checks
                .into_iter()
                .map(|clause| Check {
                    number: number(&clause),
                    subject: clause.subject,
                    extent: clause.extent,
                    of_job: clause.of_job,
                    text: with_room(&clause.text, ROOM),
                })
                .collect(),
            submittals: self
                .submittals
                .into_iter()
                .filter_map(|clause| {
                    let number = number(&clause);
                    Some(Submittal { number, subject: clause.subject, asked: clause.submit? })
                })
                .collect(),
            non_conformances: (1..=self.non_conformances).collect(),
            holds: self.holds,
        }
    }
}

/// The stage of a clause, by its place in the order of the work.
fn stage(view: View<'_>, clause: &Printed) -> Option<usize> {
    Some(view.book.clauses.get(clause.clause.0)?.stage?.0)
}

/// Tests and hold points in the order of the work; a hold point before the tests of its stage.
fn rows(holds: &[HoldPoint], tests: &[Tested], section: &Places) -> Vec<Row> {
    let holds = holds.iter().enumerate().map(|(at, hold)| ((hold.stage.0, 0, at), Row::Hold { hold: at }));
    let tests = tests.iter().enumerate().map(|(at, tested)| {
        let clause = &tested.clause;
        let row = Row::Test {
            number: number_in(section, &clause.name),
            subject: clause.subject.clone(),
            extent: clause.extent.clone(),
            of_job: clause.of_job,
            hold: tested.hold.clone(),
            witnessed: tested.witnessed,
            test: Box::new(tested.test.clone()),
        };
        ((tested.stage, 1, at), row)
    });
    let mut rows: Vec<_> = holds.chain(tests).collect();
    rows.sort_by_key(|(key, _)| *key);
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Kinds of form in the order in which they are listed, the tests of each in the order of the section.
fn kinds(mut tests: Vec<Tested>, section: &Places) -> Vec<KindOfForm> {
    tests.sort_by_key(|tested| tested.rank);
    let mut kinds: Vec<KindOfForm> = Vec::new();
    for Tested { clause, test, hold, title, instrument, parts, .. } in tests {
        let number = number_in(section, &clause.name);
        let form = Form { number, subject: clause.subject, test, hold, parts };
        let is_counted = form.parts.iter().any(|part| !part.counts.is_empty());
        if kinds.last().is_none_or(|last| last.title != title) {
            kinds.push(KindOfForm { title, instrument, sheet: Vec::new(), forms: Vec::new() });
        }
        let Some(kind) = kinds.last_mut() else { continue };
        if is_counted { kind.forms.push(form) } else { kind.sheet.push(form) }
    }
    kinds
}

#[derive(Clone, Copy)]
struct Desk<'a> {
    form: Setter<'a>,
    site: &'a Site,
}

impl Desk<'_> {
    /// A test of the section with its form.
    fn tested(self, clause: Printed, test: Test, stage: usize) -> Result<Option<Tested>, Vec<Diagnostic>> {
        let written = self.form.view.book.clauses.get(clause.clause.0);
        let Some((written, record)) = written.and_then(|written| Some((written, written.test.as_ref()?)))
        else {
            return Ok(None);
        };
        let groups = if written.wording.contains_key(&Reader::Form) {
            self.form.set(clause.clause)?
        } else {
            Vec::new()
        };
        let parts = match groups.as_slice() {
            [] => vec![self.part(written, &clause, "")],
            groups => groups.iter().map(|group| self.part(written, group, &group.text)).collect(),
        };
        let rank = self.site.forms.iter().position(|form| form.name == record.form);
        let known = rank.and_then(|rank| self.site.forms.get(rank));
        Ok(Some(Tested {
            stage,
            hold: test.before.clone(),
            witnessed: !test.by.contains(self.site.own_side.as_str()),
            rank: rank.unwrap_or(usize::MAX),
            title: known.map_or_else(|| upper_first(&spoken(&record.form)), |form| form.title.clone()),
            instrument: known.and_then(|form| form.instrument.clone()),
            test,
            parts,
            clause,
        }))
    }

    fn part(self, clause: &Clause, group: &Printed, words: &str) -> Part {
        let view = self.form.view;
        let cut = cut(words, view.words.of("result"));
        let places = clause.test.as_ref().and_then(|test| test.places.as_ref());
        let zones = view.zones().filter(|zone| group.extent.zones.contains(&view.code(*zone)));
        let counts: Vec<Count> = places.map_or_else(Vec::new, |places| {
            let count = |zone: usize| Count {
                zone: view.code(zone),
                places: view.count(zone, places),
                measured: places.per.is_none() || view.net_area(zone).is_some(),
            };
            zones.map(count).collect()
        });
        let zones = counts.iter().flat_map(|count| std::iter::repeat_n(&count.zone, count.places));
        let places =
            zones.take(MOST_ROWS).zip(1..).map(|(zone, number)| FormRow { number, zone: zone.clone() });
        let rows = side_by_side(places, if cut.fields.len() <= FEW_FIELDS { 2 } else { 1 });
        Part {
            extent: group.extent.clone(),
            of_job: group.of_job,
            notes: group.notes.clone(),
            statement: cut.statement,
            accept: group.test.as_ref().map(|test| test.accept.clone()).unwrap_or_default(),
            fields: cut.fields,
            rows,
            counts,
        }
    }
}

/// Places in rows of so many.
fn side_by_side(places: impl Iterator<Item = FormRow>, beside: usize) -> Vec<Vec<FormRow>> {
    let mut rows: Vec<Vec<FormRow>> = Vec::new();
    for place in places {
        match rows.last_mut() {
            Some(last) if last.len() < beside => last.push(place),
            _ => rows.push(vec![place]),
        }
    }
    rows
}
