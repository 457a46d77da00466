//! The values of the inspection and test plan: hold points and tests in the order of the work, one form a test with a
//! row for each place, checks, papers to hand in, and room for non-conformances. Its tests are those of the section,
//! taken from the same values.

use serde::Serialize;

use super::data::Site;
use super::form::{Field, cut, with_room};
use crate::diagnostic::Diagnostic;
use crate::document::clauses::{Printed, Setter, Test};
use crate::document::note::Note;
use crate::document::numbering::Places;
use crate::document::section::{HoldPoint, SectionContext, clauses, number_in};
use crate::document::templates::Templates;
use crate::document::view::{Extent, View};
use crate::document::words::{from_kebab, upper_first};
use crate::rulebook::clause::{Clause, Reader};

/// Room to write in, as templates mark it.
const ROOM: &str = "<blank mm=22>";
/// More rows than these are a book of their own: the form says how many places there are, and more go on a copy.
const MOST_ROWS: usize = 120;

/// Fewer rows than these are no form.
const FEWEST_ROWS: usize = 2;

/// The plan, but for the numbers of the section.
#[derive(Debug)]
pub(in crate::document) struct PlanContext {
    holds: Vec<HoldPoint>,
    tests: Vec<Tested>,
    checks: Vec<Printed>,
    submittals: Vec<Printed>,
    non_conformances: usize,
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
    forms: Vec<Form>,
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

/// A form to fill in by hand.
#[derive(Debug, Serialize)]
struct Form {
    title: String,
    instrument: Option<String>,
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
    rows: Vec<FormRow>,
    /// How many places in each zone, where they are counted.
    counts: Vec<Count>,
}

#[derive(Debug, Serialize)]
struct FormRow {
    /// Empty on a row that is not counted.
    zone: String,
    place: Option<usize>,
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
        let desk = Desk { form, site, holds: &hold_points };
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
                    None if article.name == site.submittals => submittals.push(clause),
                    None => {}
                }
            }
        }
        let checks = clauses(form, &mut mistakes, |clause| clause.test.is_none());
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        let non_conformances = site.non_conformances;
        Ok(Self { tests, checks, submittals, non_conformances, holds: hold_points })
    }

    /// The plan with the numbers of the section.
    pub(in crate::document) fn numbered(self, section: &Places) -> Numbered {
        let number = |clause: &Printed| number_in(section, &clause.name);
        let mut checks = self.checks;
        checks.sort_by_key(|clause| section.find(&clause.name).map_or(usize::MAX, |(_, at)| at.order));
        Numbered {
            rows: rows(&self.holds, &self.tests, section),
            forms: forms(self.tests, section),
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
                .map(|clause| Submittal { number: number(&clause), subject: clause.subject })
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

/// One form a test: kinds in the order in which they are listed, each in the order of the section.
fn forms(mut tests: Vec<Tested>, section: &Places) -> Vec<Form> {
    tests.sort_by_key(|tested| tested.rank);
    let form = |tested: Tested| Form {
        number: number_in(section, &tested.clause.name),
        subject: tested.clause.subject,
        title: tested.title,
        instrument: tested.instrument,
        test: tested.test,
        hold: tested.hold,
        parts: tested.parts,
    };
    tests.into_iter().map(form).collect()
}

#[derive(Clone, Copy)]
struct Desk<'a> {
    form: Setter<'a>,
    site: &'a Site,
    holds: &'a [HoldPoint],
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
        let blank = self.site.blank_rows.div_ceil(groups.len().max(1)).max(FEWEST_ROWS);
        let parts = match groups.as_slice() {
            [] => vec![self.part(written, &clause, "", blank)],
            groups => groups.iter().map(|group| self.part(written, group, &group.text, blank)).collect(),
        };
        let rank = self.site.forms.iter().position(|form| form.name == record.form);
        let known = rank.and_then(|rank| self.site.forms.get(rank));
        Ok(Some(Tested {
            stage,
            hold: self.hold(&record.form, stage),
            witnessed: !test.by.contains(self.site.own_side.as_str()),
            rank: rank.unwrap_or(usize::MAX),
            title: known.map_or_else(|| upper_first(&from_kebab(&record.form)), |form| form.title.clone()),
            instrument: known.and_then(|form| form.instrument.clone()),
            test,
            parts,
            clause,
        }))
    }

    /// The first hold point after a stage that is released on this kind of form.
    fn hold(self, form: &str, stage: usize) -> Option<String> {
        let form = from_kebab(form);
        let after = |hold: &&HoldPoint| hold.stage.0 > stage && hold.form.as_ref() == Some(&form);
        self.holds.iter().find(after).map(|hold| hold.number.clone())
    }

    fn part(self, clause: &Clause, group: &Printed, words: &str, blank: usize) -> Part {
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
        let counted = counts.iter().flat_map(|count| {
            (1..=count.places).map(|place| FormRow { zone: count.zone.clone(), place: Some(place) })
        });
        let blank = (0..blank).map(|_| FormRow { zone: String::new(), place: None });
        Part {
            extent: group.extent.clone(),
            of_job: group.of_job,
            notes: group.notes.clone(),
            statement: cut.statement,
            accept: group.test.as_ref().map(|test| test.accept.clone()).unwrap_or_default(),
            fields: cut.fields,
            rows: if counts.is_empty() { blank.collect() } else { counted.take(MOST_ROWS).collect() },
            counts,
        }
    }
}
