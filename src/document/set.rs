//! The set: section, owner's sheet and reasons record from one outcome.

use std::collections::BTreeMap;

use serde::Serialize;
use tera::Context;

use super::block::{Document, Paper, Style};
use super::clauses::{Setter, template_name, test_name, value_name};
use super::engine::Engine;
use super::figures::{FigureNames, Figures};
use super::head;
use super::job::JobContext;
use super::mistake::DocumentMistake;
use super::numbering::{Length, Places, Standing, drop_empty, number, refer};
use super::owner::OwnerContext;
use super::reading::{self, Obstacle};
use super::reasons::ReasonsContext;
use super::section::{SectionContext, required};
use super::stops::Stops;
use super::templates::Templates;
use super::view::View;
use super::wording;
use crate::diagnostic::{Diagnostic, Place};
use crate::inference::Outcome;
use crate::rulebook::book::Book;
use crate::rulebook::clause::{Clause, Reader};
use crate::survey::{SheetSize, Survey};
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

/// A set that was written.
#[derive(Debug, Clone)]
pub struct Written {
    /// The papers: section, owner's sheet, reasons record.
    pub documents: Vec<Document>,
    /// What its authors should know and nobody need wait for.
    pub remarks: Vec<Diagnostic>,
}

/// The file names of the papers, in the order written.
const NAMES: [(&str, &str); 3] =
    [("section", "section.md"), ("owner-sheet", "owner-sheet.md"), ("reasons", "reasons.md")];

/// The names of the papers, in the order written.
pub fn names() -> impl Iterator<Item = &'static str> {
    NAMES.iter().map(|(name, _)| *name)
}

/// Writes the set.
pub fn set(
    book: &Book,
    survey: &Survey,
    facts: &[ZoneFacts],
    outcome: &Outcome,
    templates: &Templates,
    program: &ProgramInfo,
) -> Result<Written, Vec<Diagnostic>> {
    set_and_make(book, survey, facts, outcome, templates, program, |_| ()).map(|(written, _)| written)
}

/// Writes the set, and makes something of each paper as soon as it stands, while the next is written. What was made
/// comes in the order of the papers.
pub fn set_and_make<T: Send>(
    book: &Book,
    survey: &Survey,
    facts: &[ZoneFacts],
    outcome: &Outcome,
    templates: &Templates,
    program: &ProgramInfo,
    make: impl Fn(&Document) -> T + Sync,
) -> Result<(Written, Vec<T>), Vec<Diagnostic>> {
    let view = View { book, survey, facts, outcome, words: &templates.words };
    let shown = required(view).into_iter().filter_map(|id| book.clauses.get(id.0));
    let clauses: Vec<&Clause> = shown.collect();
    let mistakes: Vec<_> =
        clauses.iter().flat_map(|clause| wording::check(book, templates, clause)).collect();
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let engine = engine(templates, &clauses, &[Reader::Section, Reader::Owner], view.system())?;
    let stops = Stops::of(view);
    let job = JobContext::of(view, &stops, program);
    let setter = |reader| Setter { view, stops: &stops, engine: &engine, reader };
    let (figures, ((section, owner), reasons)) = rayon::join(
        || Figures::of(view),
        || {
            let section = || SectionContext::of(setter(Reader::Section), templates);
            let owner = || OwnerContext::of(setter(Reader::Owner), templates);
            rayon::join(|| (section(), owner()), || ReasonsContext::before_numbering(view))
        },
    );
    let press = Press { view, templates, engine: &engine, job: &job, figures: &figures };
    let (section, owner) = (section?, owner?);
    let (section, owner) = rayon::join(|| press.print(0, &section), || press.print(1, &owner));
    let (section, owner) = (section?, owner?);
    let places = Places::of(&section.document.blocks);
    let ((first, second), last) = rayon::join(
        || (make(&section.document), make(&owner.document)),
        || {
            let reasons = press.print(2, &reasons.numbered(view, &places))?;
            let made = make(&reasons.document);
            Ok::<_, Vec<Diagnostic>>((reasons, made))
        },
    );
    let (reasons, third) = last?;
    let mut written = Written { documents: Vec::new(), remarks: Vec::new() };
    for printed in [section, owner, reasons] {
        written.documents.push(printed.document);
        written.remarks.extend(printed.remarks);
    }
    Ok((written, vec![first, second, third]))
}

/// Every mistake in the wordings of a book, those of clauses that no job needs today among them.
pub fn check(book: &Book, templates: &Templates) -> Vec<Diagnostic> {
    let clauses: Vec<&Clause> = book.clauses.iter().collect();
    let mut mistakes: Vec<_> =
        clauses.iter().flat_map(|clause| wording::check(book, templates, clause)).collect();
    let readers = [Reader::Section, Reader::Crew, Reader::Owner, Reader::Form];
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
    readers: &[Reader],
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

/// Fills the template of a paper and sets it.
#[derive(Clone, Copy)]
struct Press<'a> {
    view: View<'a>,
    templates: &'a Templates,
    engine: &'a Engine,
    job: &'a JobContext,
    figures: &'a Figures,
}

struct Printed {
    document: Document,
    remarks: Vec<Diagnostic>,
}

#[derive(Serialize)]
struct Both<'a, T> {
    #[serde(flatten)]
    job: &'a JobContext,
    #[serde(flatten)]
    own: &'a T,
    figures: &'a FigureNames,
}

impl Press<'_> {
    fn print(self, which: usize, own: &impl Serialize) -> Result<Printed, Vec<Diagnostic>> {
        let Some((name, template)) = NAMES.get(which) else { return Err(Vec::new()) };
        let Some(source) = self.templates.text(template) else { return Err(Vec::new()) };
        let whole = Place::new(source, 0, source.text.len());
        let at_whole = |mistake: &DocumentMistake| vec![Diagnostic::error(mistake, whole.clone())];
        let context = Context::from_serialize(&Both { job: self.job, own, figures: &self.figures.names })
            .map_err(|error| at_whole(&DocumentMistake::Template { words: error.to_string() }))?;
        let filled = self.engine.fill(template, &context).map_err(|mistake| vec![*mistake])?;
        let (head, body) = head::split(&filled).map_err(|mistake| at_whole(&mistake))?;
        let (blocks, obstacles) = reading::read(body, self.figures);
        if !obstacles.is_empty() {
            return Err(obstacles.iter().map(|obstacle| spoiled(obstacle, &whole)).collect());
        }
        let mut blocks = drop_empty(blocks);
        number(&mut blocks, head.numbers, &head.part_word);
        let remarks = self.refer(&mut blocks, head.numbers == super::numbering::Numbers::Parts);
        let job = &self.view.survey.job;
        let document = Document {
            name: (*name).to_owned(),
            title: head.title,
            subtitle: head.subtitle,
            standing: head.standing,
            language: head.language,
            date: job.issue_date.clone(),
            style: Style {
                paper: match job.profile.sheet {
                    SheetSize::Letter => Paper::Letter,
                    SheetSize::A4 => Paper::A4,
                },
                voice: head.voice,
            },
            furniture: head.furniture,
            blocks,
        };
        Ok(Printed { document, remarks })
    }

    /// Turns references into numbers and titles; those to what is not printed keep their words and draw a remark.
    fn refer(self, blocks: &mut [super::block::Block], numbered: bool) -> Vec<Diagnostic> {
        let words = &self.templates.words;
        let subjects: BTreeMap<&str, &str> = self
            .view
            .book
            .clauses
            .iter()
            .map(|clause| (clause.name.as_str(), clause.subject.as_str()))
            .collect();
        let word = |target: &str, standing: &Standing, length: Length| {
            let article = standing.article.as_ref()?;
            if length == Length::Short {
                let (paragraph, subject) = standing.paragraph.as_ref().zip(subjects.get(target))?;
                return Some(format!("{article} {paragraph} {subject}"));
            }
            let number = format!("{} {article}", words.of("article"));
            match (&standing.paragraph, subjects.get(target)) {
                (Some(paragraph), Some(subject)) => {
                    Some(format!("{number}, {} {paragraph}, {subject}", words.of("paragraph")))
                }
                (None, None) => Some(format!("{number}, {}", standing.title)),
                _ => None,
            }
        };
        let mut missing = Vec::new();
        refer(blocks, &word, &mut |block, target| missing.push((block.to_owned(), target.to_owned())));
        let missing = if numbered { missing } else { Vec::new() };
        missing.iter().filter_map(|(block, target)| self.not_printed(block, target)).collect()
    }

    fn not_printed(self, block: &str, target: &str) -> Option<Diagnostic> {
        let name = block.rsplit_once('.').map_or(block, |(name, _)| name);
        let clause = self.view.book.clauses.iter().find(|clause| clause.name == name)?;
        let wording = clause.wording.get(&Reader::Section)?;
        let written = format!("(#{target})");
        let at = wording.text.find(&written).map(|start| start..start + written.len());
        let place = at.map_or_else(
            || wording.place.clone(),
            |range| super::engine::within(&wording.place, &wording.text, range),
        );
        let mistake = DocumentMistake::NotPrinted { clause: name.to_owned(), target: target.to_owned() };
        Some(Diagnostic::remark(&mistake, place))
    }
}

/// A template of a paper that made something unfit to be set.
fn spoiled(obstacle: &Obstacle, whole: &Place) -> Diagnostic {
    let (mistake, written) = match obstacle {
        Obstacle::Html(written) => (DocumentMistake::RawHtml { written: written.clone() }, written),
        Obstacle::Other(written) => (DocumentMistake::CannotSet { written: written.clone() }, written),
        Obstacle::TooDeep(written) => (DocumentMistake::TooDeep, written),
    };
    let at = whole.text().find(written.as_str());
    let place = at.map_or_else(
        || whole.clone(),
        |start| Place::new(&whole.source, whole.start + start, whole.start + start + written.len()),
    );
    Diagnostic::error(&mistake, place)
}
