//! The shared shape of a mistake: what is wrong, where, and how to mend it.
//!
//! Every layer below `cli` returns its mistakes as [`Diagnostic`] values beside its result, so that one run
//! reports all of them. Nothing here draws, prints or stops: `cli` alone does that.

use std::fmt;
use std::sync::Arc;

/// One text that was read, with the name people know it by (a path as given, or a built-in name).
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Source {
    /// The name shown in messages, with forward slashes.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Source {
    /// Wraps a text that was read under a name.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        Arc::new(Self { name: name.into(), text: text.into() })
    }
}

/// A stretch of one source, in bytes from its start. The end is not part of it.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The text it lies in.
    pub source: Arc<Source>,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Place {
    /// A stretch of `source`, cut to what the source holds.
    pub fn new(source: &Arc<Source>, start: usize, end: usize) -> Self {
        let length = source.text.len();
        let start = start.min(length);
        Self { source: Arc::clone(source), start, end: end.clamp(start, length) }
    }

    /// The text of the stretch; empty if its ends fall inside a character.
    pub fn text(&self) -> &str {
        self.source.text.get(self.start..self.end).unwrap_or_default()
    }

    /// Line and column of the first character, both counted from 1, the column in characters.
    pub fn line_and_column(&self) -> (usize, usize) {
        let before = self.source.text.get(..self.start).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    }
}

impl fmt::Debug for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (line, column) = self.line_and_column();
        write!(out, "{}:{line}:{column}", self.source.name)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self, out)
    }
}

/// Whether a diagnostic spoils the result or is only worth saying.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The result cannot be used.
    Error,
    /// The result stands; the reader should know.
    Remark,
}

/// One mistake or remark: code, words, place, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Two letters for the layer and three digits, never reused; explained under `docs/codes/`.
    pub code: String,
    /// Error or remark.
    pub severity: Severity,
    /// What is wrong: lower case, no full stop, input in backticks.
    pub message: String,
    /// How to mend it, if there is more to say.
    pub help: Option<String>,
    /// Where; `None` only when no text is concerned.
    pub place: Option<Place>,
    /// Other places that matter, each with a word on why.
    pub also: Vec<(Place, String)>,
}

impl Diagnostic {
    /// An error of a layer's own kind (a `thiserror` enum that derives `miette::Diagnostic`) at a place.
    pub fn error(mistake: &impl miette::Diagnostic, place: impl Into<Option<Place>>) -> Self {
        Self::new(mistake, place.into(), Severity::Error)
    }

    /// A remark of a layer's own kind at a place.
    pub fn remark(mistake: &impl miette::Diagnostic, place: impl Into<Option<Place>>) -> Self {
        Self::new(mistake, place.into(), Severity::Remark)
    }

    fn new(mistake: &impl miette::Diagnostic, place: Option<Place>, severity: Severity) -> Self {
        Self {
            code: mistake.code().map(|code| code.to_string()).unwrap_or_default(),
            severity,
            message: mistake.to_string(),
            help: mistake.help().map(|help| help.to_string()),
            place,
            also: Vec::new(),
        }
    }

    /// Adds another place that matters.
    #[must_use]
    pub fn and(mut self, place: Place, why: impl Into<String>) -> Self {
        self.also.push((place, why.into()));
        self
    }

    /// Whether the result cannot be used.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

/// Longer texts are no misspelt names, and comparing them would take long.
const LONGEST_NAME: usize = 80;

/// The known name nearest to what was written, if it is near enough to be what was meant.
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if written.len() > LONGEST_NAME {
        return None;
    }
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(written, name), name))
        .filter(|(distance, name)| *distance * 3 <= name.chars().count().max(3))
        .min()
        .map(|(_, name)| name)
}
