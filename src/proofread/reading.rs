//! What a paper's passages are to proofreading: orders, definitions, titles of standards.

use std::collections::BTreeSet;

use super::paper::{Kind, Paper, Passage, Table};
use super::rules::{Profile, Rules};
use super::sentence::first_word;

/// A paper on the desk.
#[derive(Clone, Copy)]
pub(super) struct Reading<'r> {
    pub(super) rules: &'r Rules,
    pub(super) paper: &'r Paper,
    pub(super) profile: &'r Profile,
    /// Words that the section defines, in small letters.
    pub(super) defined: &'r BTreeSet<String>,
    /// Names that the job brings along.
    pub(super) given: &'r BTreeSet<String>,
}

impl<'r> Reading<'r> {
    /// Whether the paper goes through a check.
    pub(super) fn is_for(self, check: &str) -> bool {
        self.profile.checks.contains(check)
    }

    /// Whether the words are ours to answer for: titles of standards and the questions of a survey are not.
    pub(super) fn is_ours(self, passage: &Passage) -> bool {
        match &passage.kind {
            Kind::Cell { table, column, .. } => {
                let head = self.paper.tables.get(*table).and_then(|table| table.head.get(*column));
                !head.is_some_and(|head| self.rules.lists("quoted columns", head))
            }
            _ => !self.lists_standards(passage),
        }
    }

    /// Whether the words run on: not those of cells that hold names and numbers.
    pub(super) fn runs_on(self, passage: &Passage) -> bool {
        let Kind::Cell { table, row, column } = &passage.kind else { return true };
        let head = self.paper.tables.get(*table).and_then(|table| table.head.get(*column));
        row.is_some() && head.is_some_and(|head| self.rules.lists("running columns", head))
    }

    /// Whether the passage holds numbers of paragraphs.
    pub(super) fn holds_numbers(self, passage: &Passage) -> bool {
        let Kind::Cell { table, column, .. } = &passage.kind else { return false };
        let head = self.paper.tables.get(*table).and_then(|table| table.head.get(*column));
        head.is_some_and(|head| self.rules.lists("number columns", head))
    }

    /// Whether the passage lists a standard.
    pub(super) fn lists_standards(self, passage: &Passage) -> bool {
        let is_item = matches!(passage.kind, Kind::Item { .. });
        is_item && passage.subject.is_empty() && self.rules.lists("reference articles", &passage.article)
    }

    /// Whether the passage says what somebody does: a numbered paragraph that neither defines, nor lists, nor tells
    /// how things stand.
    pub(super) fn is_requirement(self, passage: &Passage) -> bool {
        let is_item = matches!(passage.kind, Kind::Item { .. });
        let stating = self.rules.list("stating subjects").any(|subject| passage.subject.starts_with(subject));
        is_item
            && !stating
            && !self.lists_standards(passage)
            && !self.rules.lists("definition articles", &passage.article)
            && self.profile.checks.contains("not-an-order")
    }

    /// Whether a sentence opens with a verb that gives an order, or forbids.
    pub(super) fn opens_with_order(self, sentence: &str) -> bool {
        let rest = ["Do not ", "Never "].into_iter().find_map(|forbids| sentence.strip_prefix(forbids));
        self.rules.lists("verbs", &first_word(rest.unwrap_or(sentence)))
    }

    /// The tables under one of the heads that a list names, such as `schedule of tests`.
    pub(super) fn tables_with(self, heads: &'static str) -> impl Iterator<Item = &'r Table> {
        let wanted: Vec<&str> = self.rules.list(heads).collect();
        self.paper.tables.iter().filter(move |table| wanted.iter().all(|head| table.column(head).is_some()))
    }

    /// The passage of a cell.
    pub(super) fn cell(self, table: &Table, row: usize, column: usize) -> Option<&'r Passage> {
        let caption = usize::from(!table.caption.is_empty());
        let at = table.first + caption + (row + 1) * table.head.len() + column;
        self.paper.passages.get(at)
    }
}
