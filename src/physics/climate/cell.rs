//! A comma-separated line cut into cells, each with its place.

use std::sync::Arc;

use crate::diagnostic::{Place, Source};

/// One line of a source.
#[derive(Clone, Copy)]
pub(super) struct Line<'a> {
    pub(super) source: &'a Arc<Source>,
    /// Its first byte.
    pub(super) start: usize,
    pub(super) text: &'a str,
}

/// One cell, without the blanks and quotes around it.
#[derive(Clone, Copy)]
pub(super) struct Cell<'a> {
    source: &'a Arc<Source>,
    start: usize,
    pub(super) text: &'a str,
}

impl<'a> Line<'a> {
    /// The lines of a source that hold anything.
    pub(super) fn all(source: &'a Arc<Source>) -> impl Iterator<Item = Self> {
        let mut start = 0;
        source.text.split_inclusive('\n').filter_map(move |text| {
            let line = Self { source, start, text: text.trim_end_matches(['\n', '\r']) };
            start += text.len();
            (!line.text.trim().is_empty()).then_some(line)
        })
    }

    /// Its cells. Quotes keep a comma within a cell; a byte order mark is no part of one.
    pub(super) fn cells(self) -> impl Iterator<Item = Cell<'a>> {
        let mut quoted = false;
        let mut start = self.start;
        let parts = self.text.split(move |c| {
            quoted ^= c == '"';
            c == ',' && !quoted
        });
        parts.map(move |part| {
            let trimmed = part.trim_matches(|c: char| c.is_whitespace() || c == '"' || c == '\u{feff}');
            let lead = part.find(trimmed).unwrap_or(0);
            let cell = Cell { source: self.source, start: start + lead, text: trimmed };
            start += part.len() + 1;
            cell
        })
    }

    pub(super) fn place(self) -> Place {
        Place::new(self.source, self.start, self.start + self.text.len())
    }
}

impl Cell<'_> {
    pub(super) fn place(&self) -> Place {
        Place::new(self.source, self.start, self.start + self.text.len())
    }

    /// What was written, cut short where it is too long for a message.
    pub(super) fn shown(&self) -> String {
        const MOST: usize = 40;
        match self.text.char_indices().nth(MOST) {
            Some((end, _)) => format!("{}…", self.text.get(..end).unwrap_or_default()),
            None => self.text.to_owned(),
        }
    }
}
