//! A survey to be: a thrown wall and answers, as text, and as the whole pipeline reads that text.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::thrown::{BESIDE, Wall};
use crate::diagnostic::{Diagnostic, Source};
use crate::proof::saying::DAY;
use crate::rulebook::book::{Book, FactId, Owner};
use crate::survey;
use crate::wall::{self, facts::ZoneFacts};

/// A survey to be.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub(super) wall: Wall,
    /// Answers beside those of the wall.
    pub(super) answers: BTreeMap<FactId, String>,
}

impl Draft {
    /// The survey as text, without a heading; `number` tells it from others.
    pub(super) fn text(&self, book: &Book, number: usize) -> String {
        let mut text = format!(
            "survey: 1\njob:\n  code: E-{number:02}\n  name: Example {number}\n  issue-date: {DAY}\n{}",
            self.said(book, Owner::Job, "  ")
        );
        text.push_str("zones:\n  - code: A\n    name: The wall\n");
        for line in &self.wall.lines {
            let _ = writeln!(text, "    {line}");
        }
        text.push_str(&self.said(book, Owner::Zone, "    "));
        if let Some(material) = &self.wall.beside {
            let _ = writeln!(
                text,
                "  - code: {BESIDE}\n    name: What it adjoins\n    wall: [{{material: {material}, thickness: 100 mm}}]"
            );
        }
        text
    }

    fn said(&self, book: &Book, owner: Owner, indent: &str) -> String {
        let thrown = self.wall.answers.iter().map(|(fact, said)| (fact, said));
        let all: BTreeMap<&FactId, &String> = thrown.chain(&self.answers).collect();
        let mut text = String::new();
        for (fact, said) in all {
            if let Some(fact) = book.facts.get(fact.0).filter(|fact| fact.owner == owner) {
                let _ = writeln!(text, "{indent}{}: {said}", fact.name);
            }
        }
        text
    }

    /// What the pipeline makes of it, zone by zone; nothing if the survey cannot be read.
    pub(super) fn worked(&self, book: &Book) -> Option<Vec<ZoneFacts>> {
        let (survey, found) = survey::read(&Source::new("example", self.text(book, 1)), book);
        let survey = survey.filter(|_| !found.iter().any(Diagnostic::is_error))?;
        Some(wall::work(&survey, book))
    }
}
