//! The body of a clause: one wording a reader, and the names that its template expressions print.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::desk::Desk;
use super::mistake_clause::ClauseMistake;
use super::mistake_name::{listed, meant};
use crate::diagnostic::{Place, Source};
use crate::rulebook::clause::{Reader, Wording};

/// The headings.
const READERS: [(&str, Reader); 4] =
    [("section", Reader::Section), ("crew", Reader::Crew), ("owner", Reader::Owner), ("form", Reader::Form)];

/// Words of the template language that name no value.
const TEMPLATE_WORDS: [&str; 19] = [
    "if",
    "elif",
    "else",
    "endif",
    "for",
    "endfor",
    "in",
    "and",
    "or",
    "not",
    "is",
    "set",
    "true",
    "false",
    "loop",
    "defined",
    "undefined",
    "filter",
    "endfilter",
];

/// Statements that would take in another file.
const TAKING_IN: [&str; 3] = ["include", "import", "extends"];

impl Desk {
    /// Reads the wordings that follow the front matter.
    pub(super) fn wordings(&mut self, file: &Arc<Source>, start: usize) -> BTreeMap<Reader, Wording> {
        let mut wordings = BTreeMap::new();
        let mut open: Option<(Reader, usize)> = None;
        let mut at = start;
        let body = file.text.get(start..).unwrap_or_default();
        for line in body.split_inclusive('\n') {
            if let Some(heading) = line.strip_prefix("## ") {
                self.close(file, open.take(), at, &mut wordings);
                let place = Place::new(file, at, at + line.trim_end().len());
                open = self.reader(heading.trim(), place).map(|reader| (reader, at + line.len()));
            } else if open.is_none() && !line.trim().is_empty() && at < first_heading(file, start) {
                self.error(&ClauseMistake::NoReader, Place::new(file, at, at + line.trim_end().len()));
            }
            at += line.len();
        }
        self.close(file, open, at, &mut wordings);
        wordings
    }

    fn reader(&mut self, heading: &str, place: Place) -> Option<Reader> {
        let found = READERS.iter().find(|(name, _)| *name == heading).map(|(_, reader)| *reader);
        if found.is_none() {
            let names = || READERS.iter().map(|(name, _)| *name);
            let help = meant(heading, names(), || listed(names()));
            self.error(&ClauseMistake::Reader { found: heading.to_owned(), help }, place);
        }
        found
    }

    fn close(
        &mut self,
        file: &Arc<Source>,
        open: Option<(Reader, usize)>,
        end: usize,
        wordings: &mut BTreeMap<Reader, Wording>,
    ) {
        let Some((reader, start)) = open else { return };
        let text = file.text.get(start..end).unwrap_or_default();
        let lead = text.len() - text.trim_start().len();
        let words = text.trim();
        let place = Place::new(file, start + lead, start + lead + words.len());
        let name = READERS.iter().find(|(_, one)| *one == reader).map_or("", |(name, _)| *name);
        if words.is_empty() {
            let place = Place::new(file, start.saturating_sub(1), start);
            self.error(&ClauseMistake::NoWords { what: format!("`## {name}`") }, place);
            return;
        }
        let wording = Wording { text: words.replace("\r\n", "\n"), place: place.clone() };
        if wordings.insert(reader, wording).is_some() {
            self.error(&ClauseMistake::Twice { name: format!("## {name}") }, place);
        }
    }

    /// Checks that a text prints nothing but what is listed; returns what it prints.
    pub(super) fn printed(&mut self, place: &Place, listed_names: &BTreeSet<String>) -> BTreeSet<String> {
        let text = place.text();
        let mut printed = BTreeSet::new();
        let mut from = 0;
        while let Some((start, opening, closing)) = next_expression(text, from) {
            let at =
                |start: usize, end: usize| Place::new(&place.source, place.start + start, place.start + end);
            let inner = start + opening.len();
            let Some(length) = text.get(inner..).and_then(|rest| rest.find(closing)) else {
                let mistake = ClauseMistake::OpenExpression { opening, closing };
                self.error(&mistake, at(start, inner));
                break;
            };
            let expression = text.get(inner..inner + length).unwrap_or_default();
            let first = expression.trim_start_matches(['-', ' ']).split_whitespace().next();
            if opening == "{%" && first.is_some_and(|word| TAKING_IN.contains(&word)) {
                let end = inner + length + closing.len();
                self.error(&ClauseMistake::TakenIn, at(start, end));
            } else if opening != "{#" {
                for (offset, name) in names_in(expression) {
                    if !listed_names.contains(name) {
                        let known = listed_names.iter().map(String::as_str);
                        let help = meant(name, known, || "add it to `parameters:`".to_owned());
                        let span = at(inner + offset, inner + offset + name.len());
                        self.error(&ClauseMistake::Unlisted { name: name.to_owned(), help }, span);
                    }
                    printed.insert(name.to_owned());
                }
            }
            from = inner + length + closing.len();
        }
        printed
    }
}

/// Where the first heading stands, or the end.
fn first_heading(file: &Arc<Source>, start: usize) -> usize {
    let body = file.text.get(start..).unwrap_or_default();
    if body.starts_with("## ") {
        return start;
    }
    body.find("\n## ").map_or(file.text.len(), |at| start + at + 1)
}

/// The next template expression from a byte on: where, and its marks.
fn next_expression(text: &str, from: usize) -> Option<(usize, &'static str, &'static str)> {
    let rest = text.get(from..)?;
    [("{{", "}}"), ("{%", "%}"), ("{#", "#}")]
        .into_iter()
        .filter_map(|(opening, closing)| Some((from + rest.find(opening)?, opening, closing)))
        .min()
}

/// The names that an expression reads: no strings, no filters, no words of the template language.
fn names_in(expression: &str) -> Vec<(usize, &str)> {
    let mut names = Vec::new();
    let mut skip = None;
    let mut at = 0;
    let mut after = ' ';
    for piece in expression.split_inclusive(|sign: char| !sign.is_ascii_alphanumeric() && sign != '_') {
        let word = piece.trim_end_matches(|sign: char| !sign.is_ascii_alphanumeric() && sign != '_');
        let mark = piece.chars().next_back().filter(|sign| !sign.is_ascii_alphanumeric() && *sign != '_');
        let named = word.starts_with(|first: char| first.is_ascii_alphabetic() || first == '_');
        if skip.is_none() && named && !matches!(after, '|' | '.') && !TEMPLATE_WORDS.contains(&word) {
            names.push((at, word));
        }
        if !word.is_empty() {
            after = ' ';
        }
        if let Some(mark) = mark {
            skip = match (skip, mark) {
                (None, '"' | '\'') => Some(mark),
                (Some(open), mark) if open == mark => None,
                (kept, _) => kept,
            };
            if mark != ' ' {
                after = mark;
            }
        }
        at += piece.len();
    }
    names
}
