//! Blocks of the paper that the verb prints.

use std::collections::BTreeSet;

use crate::document::Document;
use crate::document::block::{
    Align, Block, BlockKind, Breaks, Furniture, Inline, Paper, Reach, Standing, Strong, Style, Table,
    TextSize, Voice,
};
use crate::drawing::Mm;
use crate::survey::{SheetSize, Survey};
use crate::wall::study::{Maybe, Reason};

/// Blocks in reading order, each with a number for its name.
pub(super) struct Blocks(Vec<Block>);

impl Blocks {
    pub(super) fn new() -> Self {
        Self(Vec::new())
    }

    fn add(&mut self, kind: BlockKind) {
        let id = format!("wall.{}", self.0.len() + 1);
        self.0.push(Block { id, kind });
    }

    pub(super) fn heading(&mut self, level: u8, words: String) {
        self.add(BlockKind::Heading { level, number: None, text: vec![Inline::Text(words)] });
    }

    pub(super) fn paragraph(&mut self, words: impl Into<String>) {
        self.add(BlockKind::Paragraph(vec![Inline::Text(words.into())]));
    }

    /// A table of words; what could not be worked out stands in a paragraph below it, each reason once.
    pub(super) fn table(&mut self, caption: &str, head: &[&str], mut rows: Rows) {
        let cell = |words: String| vec![Inline::Text(words)];
        let table = Table {
            caption: cell(caption.to_owned()),
            align: vec![Align::Left; head.len()],
            head: head.iter().map(|words| cell((*words).to_owned())).collect(),
            rows: rows.rows.drain(..).map(|row| row.into_iter().map(cell).collect()).collect(),
            row: Mm::default(),
            size: TextSize::Usual,
            strong: Strong::Level,
            reach: Reach::Column,
            breaks: Breaks::Rows,
        };
        self.add(BlockKind::Table(table));
        if !rows.reasons.is_empty() {
            self.paragraph(format!("Not worked out, because: {}.", rows.reasons.join("; ")));
        }
    }
}

/// Rows of a table, and the reasons for cells that could not be filled.
#[derive(Default)]
pub(super) struct Rows {
    rows: Vec<Vec<String>>,
    reasons: Vec<String>,
}

impl Rows {
    pub(super) fn push(&mut self, row: Vec<String>) {
        self.rows.push(row);
    }

    /// A cell, or a word in its stead with the reason kept.
    pub(super) fn cell<T>(&mut self, value: &Maybe<T>, print: impl Fn(&T) -> String) -> String {
        match value {
            Ok(value) => print(value),
            Err(Reason(why)) => {
                if !self.reasons.contains(why) {
                    self.reasons.push(why.clone());
                }
                "not worked out".to_owned()
            }
        }
    }
}

/// The paper around the blocks.
pub(super) fn paper(survey: &Survey, blocks: Blocks) -> Document {
    let job = &survey.job;
    Document {
        name: "wall".to_owned(),
        title: "The wall in numbers".to_owned(),
        subtitle: format!("{} ({})", job.name, job.code),
        standing: Standing::Information,
        language: "en".to_owned(),
        date: job.issue_date.clone(),
        style: Style {
            paper: match job.profile.sheet {
                SheetSize::Letter => Paper::Letter,
                SheetSize::A4 => Paper::A4,
            },
            voice: Voice::Plain,
        },
        furniture: Furniture::default(),
        revised: BTreeSet::new(),
        blocks: blocks.0,
    }
}
