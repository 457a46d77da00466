//! The set: the papers asked for, from one outcome. Papers are set and made side by side; those that cite the section
//! wait for its numbers and for nothing else.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use tera::Context;

use super::block::Document;
use super::clauses::{PLACES, SUBMIT, template_name, test_name, value_name};
use super::engine::Engine;
use super::figures::Figures;
use super::house::{self, HouseShown};
use super::job::JobContext;
use super::numbering::Places;
use super::papers::{Desk, Listed, PAPERS, SECTION, Values, Waiting, Wanted, context};
use super::press::{Press, Printed};
use super::register::{Issue, Listing};
use super::revised::Sums;
use super::section::required;
use super::stops::Stops;
use super::templates::Templates;
use super::view::View;
use super::wording;
use crate::diagnostic::{Diagnostic, Place};
use crate::inference::Outcome;
use crate::proof::Against;
use crate::rulebook::book::Book;
use crate::rulebook::clause::{Clause, Reader};
use crate::survey::Survey;
use crate::units::System;
use crate::wall::facts::ZoneFacts;

/// What papers say of the program that wrote them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProgramInfo {
    /// Its version.
    pub version: String,
    /// SHA-256 over the program's version and every template, 64 hex digits.
    pub template_digest: String,
}

/// What papers are made from.
#[derive(Debug, Clone, Copy)]
pub struct Basis<'a> {
    /// The book.
    pub book: &'a Book,
    /// The survey.
    pub survey: &'a Survey,
    /// What is known of each zone.
    pub facts: &'a [ZoneFacts],
    /// What was decided.
    pub outcome: &'a Outcome,
    /// Labels, titles and short words.
    pub templates: &'a Templates,
    /// The program.
    pub program: &'a ProgramInfo,
    /// The issue before this one, if a record of it was found: what changed since bears a mark.
    pub before: Option<&'a Issue>,
}

/// Papers that were written.
#[derive(Debug, Clone)]
pub struct Written {
    /// The papers asked for, in their order.
    pub documents: Vec<Document>,
    /// What its authors should know and nobody need wait for.
    pub remarks: Vec<Diagnostic>,
    /// A firm's book held against the trade's for this job.
    pub against: Option<Against>,
    /// Sums of what numbered papers print, by paper, for the issue that comes after.
    pub printed: BTreeMap<String, Sums>,
}

/// Writes papers.
pub fn set(basis: Basis<'_>, wanted: &Wanted) -> Result<Written, Vec<Diagnostic>> {
    set_and_make(basis, wanted, |_| (), |_| Listing::default()).map(|(written, _)| written)
}

/// Writes papers, and makes something of each as soon as it stands, while others are written. What was made comes in
/// the order of the papers. The last of them, the register, is written from a listing of what was made of the others.
pub fn set_and_make<T: Send>(
    basis: Basis<'_>,
    wanted: &Wanted,
    make: impl Fn(&Document) -> T + Sync,
    list: impl FnOnce(&[T]) -> Listing,
) -> Result<(Written, Vec<T>), Vec<Diagnostic>> {
    let Basis { book, survey, facts, outcome, templates, program, before } = basis;
    let view = View { book, survey, facts, outcome, words: &templates.words };
    let shown = required(view).into_iter().filter_map(|id| book.clauses.get(id.0));
    let clauses: Vec<&Clause> = shown.collect();
    // of a firm's book every clause is looked at, also those that this job does not need
    let checked: Vec<&Clause> =
        if book.house.is_some() { book.clauses.iter().collect() } else { clauses.clone() };
    let papers = with_what_they_cite(wanted);
    let listed = || papers.iter().map(|(paper, _)| *paper);
    let readers: BTreeSet<Reader> = listed().filter_map(|paper| paper.reader).collect();
    let (mistakes, engine) = rayon::join(
        || {
            checked
                .par_iter()
                .flat_map_iter(|clause| wording::check(book, templates, clause))
                .collect::<Vec<_>>()
        },
        || engine(templates, &clauses, &readers, view.system()),
    );
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let engine = engine?;
    let stops = Stops::of(view);
    let desk = Desk { view, stops: &stops, engine: &engine, templates };
    let kinds = listed().flat_map(|paper| paper.figures).copied().collect();
    let ((figures, against), (job, drafts)) = rayon::join(
        || rayon::join(|| Figures::of(desk, &kinds), || house::against(view)),
        || (context(&JobContext::of(view, &stops, program)), drafts(desk, &papers)),
    );
    let mut job = job?;
    job.insert("house", &against.as_ref().and_then(|against| HouseShown::of(view, against)));
    let press = Press { view, templates, engine: &engine, job: &job, figures: &figures, before };
    let (mut written, mut made) = finished(press, drafts?, &make)?;
    let listing = list(&made);
    for (paper, values) in
        papers.iter().filter_map(|(paper, _)| paper.values.last().map(|values| (paper, values)))
    {
        let values = values(desk, &written.documents, listing.clone())?;
        let printed = press.print(paper, values)?;
        made.push(make(&printed.document));
        written.documents.push(printed.document);
        written.remarks.extend(printed.remarks);
    }
    Ok((Written { against, ..written }, made))
}

/// Why a paper is set: to be written, or for others that cite it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Purpose {
    Written,
    Cited,
}

/// The papers asked for, and the section before them where one of them cites it.
fn with_what_they_cite(wanted: &Wanted) -> Vec<(&'static Listed, Purpose)> {
    let asked: Vec<&Listed> = wanted.papers().collect();
    let cites = wanted.cites_section();
    let is_asked = |name: &str| asked.iter().any(|paper| paper.name == name);
    let cited = PAPERS.iter().filter(|paper| cites && paper.name == SECTION && !is_asked(SECTION));
    let cited: Vec<_> = cited.map(|paper| (paper, Purpose::Cited)).collect();
    cited.into_iter().chain(asked.into_iter().map(|paper| (paper, Purpose::Written))).collect()
}

/// A paper on its way.
struct Draft<'a> {
    paper: &'static Listed,
    purpose: Purpose,
    state: State<'a>,
}

/// How far a paper is.
enum State<'a> {
    Ready(Context),
    Waiting(Waiting<'a>),
    Printed(Box<Printed>),
}

/// The values of every paper but those that come last, as far as they do not wait for the section.
fn drafts<'a>(
    desk: Desk<'a>,
    papers: &[(&'static Listed, Purpose)],
) -> Result<Vec<Draft<'a>>, Vec<Diagnostic>> {
    let draft = |(paper, purpose): &(&'static Listed, Purpose)| {
        let state = match paper.values {
            Values::AtOnce(values) => State::Ready(values(desk)?),
            Values::CitingSection(values) => State::Waiting(values(desk)),
            Values::Last(_) => return Ok(None),
        };
        Ok(Some(Draft { paper, purpose: *purpose, state }))
    };
    let drafts = whole(papers.par_iter().map(draft).collect())?;
    Ok(drafts.into_iter().flatten().collect())
}

/// Prints what is ready, then what waits for the section's numbers, and makes something of each paper to be written.
fn finished<T: Send>(
    press: Press<'_>,
    drafts: Vec<Draft<'_>>,
    make: &(impl Fn(&Document) -> T + Sync),
) -> Result<(Written, Vec<T>), Vec<Diagnostic>> {
    let drafts = whole(drafts.into_par_iter().map(|draft| draft.printed_if_ready(press)).collect())?;
    let places = drafts.iter().find_map(Draft::section).map(Places::of).unwrap_or_default();
    let to_write = drafts.into_par_iter().filter(|draft| draft.purpose == Purpose::Written);
    let done = to_write.map(|draft| {
        let printed = draft.printed(press, &places)?;
        let made = make(&printed.document);
        Ok((printed, made))
    });
    let (documents, remarks, printed) = (Vec::new(), Vec::new(), BTreeMap::new());
    let mut written = Written { documents, remarks, against: None, printed };
    let mut all = Vec::new();
    for (printed, made) in whole(done.collect())? {
        written.printed.extend(printed.sums.map(|sums| (printed.document.name.clone(), sums)));
        written.documents.push(printed.document);
        written.remarks.extend(printed.remarks);
        all.push(made);
    }
    Ok((written, all))
}

impl Draft<'_> {
    fn printed_if_ready(self, press: Press<'_>) -> Result<Self, Vec<Diagnostic>> {
        let state = match self.state {
            State::Ready(values) => State::Printed(Box::new(press.print(self.paper, values)?)),
            other => other,
        };
        Ok(Self { state, ..self })
    }

    fn printed(self, press: Press<'_>, section: &Places) -> Result<Printed, Vec<Diagnostic>> {
        match self.state {
            State::Printed(printed) => Ok(*printed),
            State::Ready(values) => press.print(self.paper, values),
            State::Waiting(values) => press.print(self.paper, values(section)?),
        }
    }

    /// The blocks of the section, once it is printed.
    fn section(&self) -> Option<&[super::block::Block]> {
        match &self.state {
            State::Printed(printed) if self.paper.name == SECTION => Some(&printed.document.blocks),
            _ => None,
        }
    }
}

/// All of it, or every mistake in any of it, each once.
fn whole<T>(found: Vec<Result<T, Vec<Diagnostic>>>) -> Result<Vec<T>, Vec<Diagnostic>> {
    let mut taken = Vec::new();
    let mut mistakes: Vec<Diagnostic> = Vec::new();
    for one in found {
        match one {
            Ok(one) => taken.push(one),
            Err(more) => {
                for mistake in more {
                    if !mistakes.contains(&mistake) {
                        mistakes.push(mistake);
                    }
                }
            }
        }
    }
    if mistakes.is_empty() { Ok(taken) } else { Err(mistakes) }
}

/// Every mistake in the wordings of a book, those of clauses that no job needs today among them.
pub fn check(book: &Book, templates: &Templates) -> Vec<Diagnostic> {
    let clauses: Vec<&Clause> = book.clauses.iter().collect();
    let mut mistakes: Vec<_> =
        clauses.iter().flat_map(|clause| wording::check(book, templates, clause)).collect();
    let readers = BTreeSet::from([Reader::Section, Reader::Crew, Reader::Owner, Reader::Form]);
    let engine = match engine(templates, &clauses, &readers, System::SiFirst) {
        Ok(engine) => engine,
        Err(found) => {
            mistakes.extend(found);
            return mistakes;
        }
    };
    for clause in clauses {
        let mut context = Context::new();
        for parameter in &clause.parameters {
            context.insert(value_name(&parameter.name), parameter.name.as_str());
        }
        for figure in &clause.figures {
            context.insert(value_name(&figure.name), figure.name.as_str());
        }
        if clause.test.as_ref().is_some_and(|test| test.places.is_some()) {
            context.insert(PLACES, PLACES);
        }
        if clause.submit.is_some() {
            context.insert(SUBMIT, SUBMIT);
        }
        let wordings = clause.wording.keys().map(|reader| template_name(*reader, clause));
        let tests = clause.test.iter().flat_map(wording::fields).map(|(field, _)| test_name(field, clause));
        let names = wordings.chain(tests).filter(|name| engine.has(name));
        mistakes.extend(names.filter_map(|name| engine.fill(&name, &context).err()).map(|mistake| *mistake));
    }
    mistakes
}

/// The engine with the documents' templates and the wordings of these clauses for these readers.
fn engine(
    templates: &Templates,
    clauses: &[&Clause],
    readers: &BTreeSet<Reader>,
    system: System,
) -> Result<Engine, Vec<Diagnostic>> {
    let whole = |source: &std::sync::Arc<crate::diagnostic::Source>| Place::new(source, 0, source.text.len());
    let mut texts: Vec<(String, String, Place)> = templates
        .texts
        .iter()
        .map(|source| (super::templates::stem(source).to_owned(), source.text.clone(), whole(source)))
        .collect();
    for clause in clauses {
        for reader in readers {
            if let Some(wording) = clause.wording.get(reader) {
                texts.push((template_name(*reader, clause), wording.text.clone(), wording.place.clone()));
            }
        }
        for (field, words) in clause.test.iter().flat_map(wording::fields) {
            if words.contains("{{") || words.contains("{%") {
                texts.push((test_name(field, clause), words.to_owned(), clause.place.clone()));
            }
        }
    }
    Engine::new(texts, system)
}
