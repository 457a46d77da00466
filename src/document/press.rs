//! The press: values into a template, the filled template into a paper with numbers and references.

use std::collections::BTreeMap;

use tera::Context;

use super::block::{Document, Paper, Style};
use super::engine::Engine;
use super::figures::Figures;
use super::head;
use super::mistake::DocumentMistake;
use super::numbering::{Length, Numbers, Standing, drop_empty, number, refer};
use super::papers::Listed;
use super::reading::{self, Obstacle};
use super::register::Issue;
use super::revised::{Since, Sums, sums};
use super::templates::Templates;
use super::view::View;
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::clause::Reader;
use crate::survey::SheetSize;

/// Fills the template of a paper and sets it.
#[derive(Clone, Copy)]
pub(super) struct Press<'a> {
    pub(super) view: View<'a>,
    pub(super) templates: &'a Templates,
    pub(super) engine: &'a Engine,
    /// What all papers share.
    pub(super) job: &'a Context,
    pub(super) figures: &'a Figures,
    /// The issue before this one, if a record of it was found.
    pub(super) before: Option<&'a Issue>,
}

/// A paper that is set, with what its authors should know.
pub(super) struct Printed {
    pub(super) document: Document,
    pub(super) remarks: Vec<Diagnostic>,
    /// Of a numbered paper, the sums of what it prints.
    pub(super) sums: Option<Sums>,
}

impl Press<'_> {
    /// Prints a paper with what it has of its own.
    pub(super) fn print(self, paper: &Listed, own: Context) -> Result<Printed, Vec<Diagnostic>> {
        let Some(source) = self.templates.text(paper.template) else { return Err(Vec::new()) };
        let whole = Place::new(source, 0, source.text.len());
        let at_whole = |mistake: &DocumentMistake| vec![Diagnostic::error(mistake, whole.clone())];
        let mut values = self.job.clone();
        values.extend(own);
        values.insert("figures", &self.figures.names(paper.figures));
        let filled = self.engine.fill(paper.template, &values).map_err(|mistake| vec![*mistake])?;
        let (head, body) = head::split(&filled).map_err(|mistake| at_whole(&mistake))?;
        let (blocks, obstacles) = reading::read(body, self.figures);
        if !obstacles.is_empty() {
            return Err(obstacles.iter().map(|obstacle| spoiled(obstacle, &whole)).collect());
        }
        let mut blocks = drop_empty(blocks);
        number(&mut blocks, head.numbers, &head.part_word);
        let is_numbered = head.numbers == Numbers::Parts;
        let remarks = self.refer(&mut blocks, is_numbered);
        let sums = is_numbered.then(|| sums(&blocks));
        let words = &self.templates.words;
        let before = self.before.filter(|_| is_numbered);
        let since = before.and_then(|before| Since::of(before, paper.name, self.view.survey, words));
        let revised = since.map(|since| since.mark(&mut blocks, words)).unwrap_or_default();
        let job = &self.view.survey.job;
        let document = Document {
            name: paper.name.to_owned(),
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
            revised,
        };
        Ok(Printed { document, remarks, sums })
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
