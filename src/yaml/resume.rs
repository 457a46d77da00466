//! Where to read on after a mistake that broke the structure: at the next line that starts at a level in use.

use std::ops::Range;

use crate::diagnostic::Place;

/// The columns at which lists and records in use begin.
#[derive(Debug, Default)]
pub(super) struct Levels(Vec<usize>);

impl Levels {
    /// The levels of the lists and records that begin at these places.
    pub(super) fn new<'a>(text: &str, places: impl Iterator<Item = &'a Place>) -> Self {
        Self(places.map(|place| column(text, place.start)).collect())
    }

    /// Adds the levels of a part read since.
    pub(super) fn add(&mut self, inner: Self) {
        self.0.extend(inner.0);
    }

    /// The next lines that belong together, from after the line that holds `stop`: the first starts at a level in
    /// use and looks like the start of a value; the last is the one before a line further out.
    pub(super) fn next_part(&self, text: &str, stop: usize) -> Option<Range<usize>> {
        let rest = text.get(stop..)?;
        let mut at = stop + rest.find('\n').map_or(rest.len(), |end| end + 1);
        let mut part: Option<(usize, usize)> = None;
        for line in text.get(at..)?.split_inclusive('\n') {
            let level = level(line);
            match (part, level) {
                (None, Some(level)) if self.0.contains(&level) && starts_a_value(line) => {
                    part = Some((at, level));
                }
                (Some((start, first)), Some(level)) if level < first => return Some(start..at),
                _ => {}
            }
            at += line.len();
        }
        part.map(|(start, _)| start..text.len())
    }
}

fn column(text: &str, at: usize) -> usize {
    at - text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}

/// How many blanks a line starts with; `None` for a blank line or a comment.
fn level(line: &str) -> Option<usize> {
    let inner = line.trim_start_matches(' ');
    let empty = inner.trim().is_empty() || inner.starts_with('#');
    (!empty).then(|| line.len() - inner.len())
}

fn starts_a_value(line: &str) -> bool {
    let line = line.trim();
    line.starts_with("- ") || line == "-" || line.contains(": ") || line.ends_with(':')
}
