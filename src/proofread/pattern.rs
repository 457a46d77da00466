//! The word lists as one machine: one pass over a paper tells which patterns stand in it, and only those are looked
//! for one by one.

use std::ops::Range;
use std::sync::OnceLock;

use regex::bytes::{Regex, RegexBuilder, RegexSet, RegexSetBuilder};

use super::finding::Weight;
use crate::diagnostic::Place;

/// A line of a word list.
#[derive(Debug)]
pub(super) struct Pattern {
    pub(super) check: String,
    pub(super) weight: Weight,
    pub(super) written: String,
    /// Where the pattern means nothing: what covers a hit.
    pub(super) except: Option<String>,
    pub(super) mend: String,
    pub(super) place: Place,
}

/// Every pattern of the lists.
#[derive(Debug)]
pub(super) struct Patterns {
    all: Vec<(Pattern, Option<Regex>, OnceLock<Option<Regex>>)>,
    set: RegexSet,
}

/// Where a pattern stands in a text.
pub(super) struct Hit<'p> {
    pub(super) pattern: &'p Pattern,
    pub(super) range: Range<usize>,
}

impl Patterns {
    /// Builds the machine; a pattern that is none comes back with its place.
    pub(super) fn of(patterns: Vec<Pattern>) -> Result<Self, (String, Place)> {
        let set = RegexSetBuilder::new(patterns.iter().map(|pattern| &pattern.written))
            .unicode(false)
            .multi_line(true)
            .build();
        match (set, patterns.first()) {
            (Ok(set), _) => {
                let mut all = Vec::new();
                for one in patterns {
                    let except = one.except.as_deref().map(regex).transpose();
                    let except = except.map_err(|error| (error.to_string(), one.place.clone()))?;
                    all.push((one, except, OnceLock::new()));
                }
                Ok(Self { all, set })
            }
            (Err(error), Some(first)) => {
                let bad = patterns.iter().find(|one| regex(&one.written).is_err()).unwrap_or(first);
                Err((error.to_string(), bad.place.clone()))
            }
            (Err(_), None) => Ok(Self { all: Vec::new(), set: RegexSet::empty() }),
        }
    }

    /// Every place where a pattern stands and no exception covers it.
    pub(super) fn hits<'p>(&'p self, text: &str) -> Vec<Hit<'p>> {
        let mut hits = Vec::new();
        for at in self.set.matches(text.as_bytes()) {
            let Some((pattern, except, find)) = self.all.get(at) else { continue };
            let Some(find) = find.get_or_init(|| regex(&pattern.written).ok()) else { continue };
            let covered: Vec<Range<usize>> = except
                .iter()
                .flat_map(|except| except.find_iter(text.as_bytes()))
                .map(|found| found.range())
                .collect();
            let is_free = |range: &Range<usize>| {
                !covered.iter().any(|other| other.start <= range.start && range.end <= other.end)
            };
            let found = find.find_iter(text.as_bytes()).map(|found| found.range()).filter(is_free);
            hits.extend(found.map(|range| Hit { pattern, range }));
        }
        hits
    }
}

/// A pattern for bytes of UTF-8, `^` and `$` at every line.
pub(super) fn regex(written: &str) -> Result<Regex, regex::Error> {
    RegexBuilder::new(written).unicode(false).multi_line(true).build()
}
