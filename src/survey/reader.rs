//! What every part of the reading shares: the book, the mistakes so far, and the small answers (a word, a date, a
//! span, a count) that lists and records are made of.

use std::fmt::Display;

use indexmap::IndexMap;
use jiff::civil::Date;
use num_traits::Signed;
use rustc_hash::FxBuildHasher;

use super::answer::Span;
use super::mistake::SurveyMistake;
use super::model::YesNoAnswer;
use crate::diagnostic::{Diagnostic, Place, nearest};
use crate::rulebook::book::{Book, Catalogue, FactId};
use crate::units::{Dimension, Quantity};
use crate::yaml::{Key, Node, Value};

/// The named values of a record.
pub(super) type Pairs<'n> = &'n [(Key, Node)];

/// The word for an honest "not known".
pub(super) const UNKNOWN: &str = "unknown";

/// A survey being read.
#[derive(Debug)]
pub(super) struct Reader<'b> {
    /// The book that says what the facts are.
    pub(super) book: &'b Book,
    /// Its facts by name.
    pub(super) facts: IndexMap<&'b str, FactId, FxBuildHasher>,
    /// Mistakes and remarks so far.
    pub(super) found: Vec<Diagnostic>,
    /// The issue date, once it was read.
    pub(super) issue: Option<Date>,
}

/// The value of a name in a record.
pub(super) fn value_of<'n>(pairs: Pairs<'n>, name: &str) -> Option<&'n Node> {
    pairs.iter().find(|(key, _)| key.name == name).map(|(_, node)| node)
}

/// Whether a question is left open: nothing written, or `unknown`.
pub(super) fn is_open(node: &Node) -> bool {
    node.is_empty() || node.as_text() == Some(UNKNOWN)
}

/// The value of a name, unless it is missing or left open.
pub(super) fn answered<'n>(pairs: Pairs<'n>, name: &str) -> Option<&'n Node> {
    value_of(pairs, name).filter(|node| !is_open(node))
}

/// The nearest of the names as a question, or all of them.
pub(super) fn did_you_mean<'a>(written: &str, names: impl Iterator<Item = &'a str> + Clone) -> String {
    let telling = written.chars().count() > 2;
    match nearest(written, names.clone()).filter(|_| telling) {
        Some(near) => format!("did you mean `{near}`?"),
        None => match listed(names) {
            list if list.is_empty() => "there are none to choose from".to_owned(),
            list => format!("choose from {list}"),
        },
    }
}

/// At most twenty names in a row.
fn listed<'a>(names: impl Iterator<Item = &'a str> + Clone) -> String {
    const MOST: usize = 20;
    let more = if names.clone().count() > MOST { ", …" } else { "" };
    let shown: Vec<_> = names.take(MOST).map(|name| format!("`{name}`")).collect();
    shown.join(", ") + more
}

impl<'b> Reader<'b> {
    /// Starts a reading.
    pub(super) fn new(book: &'b Book) -> Self {
        let facts = book.facts.iter().enumerate().map(|(id, fact)| (fact.name.as_str(), FactId(id)));
        Self { book, facts: facts.collect(), found: Vec::new(), issue: None }
    }

    /// Notes a mistake.
    pub(super) fn mistake(&mut self, mistake: &SurveyMistake, place: &Place) {
        self.found.push(Diagnostic::error(mistake, place.clone()));
    }

    /// Notes that something has the wrong form.
    pub(super) fn shape(&mut self, node: &Node, what: impl Display, wanted: &'static str, mend: &str) {
        let mistake = SurveyMistake::Shape {
            what: what.to_string(),
            found: node.what(),
            wanted,
            mend: mend.to_owned(),
        };
        self.mistake(&mistake, &node.place);
    }

    /// The named values of a record; empty, with a mistake, if it is something else.
    pub(super) fn record<'n>(&mut self, node: &'n Node, what: impl Display) -> Pairs<'n> {
        node.as_map().unwrap_or_else(|| {
            self.shape(node, what, "a record", "write `key: value` pairs");
            &[]
        })
    }

    /// The items of a list; `None` if the question is left open, or if it is something else, with a mistake.
    pub(super) fn list<'n>(&mut self, pairs: Pairs<'n>, name: &str, whole: &str) -> Option<&'n [Node]> {
        let node = answered(pairs, name)?;
        let list = node.as_list();
        if list.is_none() {
            self.shape(
                node,
                format!("`{name}` of {whole}"),
                "a list",
                "write items in brackets, or one a line after `- `",
            );
        }
        list
    }

    /// Refuses keys that are not among the known ones.
    pub(super) fn known_keys(&mut self, pairs: Pairs<'_>, whole: &str, known: &[&str]) {
        for (key, _) in pairs.iter().filter(|(key, _)| !known.contains(&key.name.as_str())) {
            self.unknown_key(key, whole, known.iter().copied());
        }
    }

    /// Refuses a key.
    pub(super) fn unknown_key<'a>(
        &mut self,
        key: &Key,
        whole: &str,
        known: impl Iterator<Item = &'a str> + Clone,
    ) {
        let mend = did_you_mean(&key.name, known);
        let mistake = SurveyMistake::UnknownKey { key: key.name.clone(), whole: whole.to_owned(), mend };
        self.mistake(&mistake, &key.place);
    }

    /// The value of a key that must be there and answered.
    pub(super) fn required<'n>(
        &mut self,
        pairs: Pairs<'n>,
        key: &'static str,
        whole: (&str, &Place),
        why: &'static str,
    ) -> Option<&'n Node> {
        let node = answered(pairs, key);
        if node.is_none() {
            let place = value_of(pairs, key).map_or(whole.1, |node| &node.place);
            self.mistake(&SurveyMistake::MissingKey { whole: whole.0.to_owned(), key, why }, place);
        }
        node
    }

    /// Words: anything but a list or a record.
    pub(super) fn text(&mut self, node: &Node, what: impl Display) -> Option<String> {
        match &node.value {
            Value::Text(text) => Some(text.split_whitespace().collect::<Vec<_>>().join(" ")),
            Value::Empty => None,
            Value::List(_) | Value::Map(_) => {
                self.shape(node, what, "a value", "write words or a figure");
                None
            }
        }
    }

    /// Words that must be there.
    pub(super) fn required_text(
        &mut self,
        pairs: Pairs<'_>,
        key: &'static str,
        whole: (&str, &Place),
        why: &'static str,
    ) -> Option<String> {
        let node = self.required(pairs, key, whole, why)?;
        self.text(node, format!("`{key}` of {}", whole.0))
    }

    /// Words that may be left open.
    pub(super) fn optional_text(&mut self, pairs: Pairs<'_>, key: &str, whole: &str) -> Option<String> {
        let node = answered(pairs, key)?;
        self.text(node, format!("`{key}` of {whole}"))
    }

    /// A code that can name a folder.
    pub(super) fn code(&mut self, node: &Node, what: &str) -> Option<String> {
        let written = self.text(node, what)?;
        let allowed = |c: char| c.is_ascii_alphanumeric() || "-_.".contains(c);
        if written.chars().all(allowed) && written.starts_with(|c: char| c.is_ascii_alphanumeric()) {
            return Some(written);
        }
        self.mistake(&SurveyMistake::Code { written }, &node.place);
        None
    }

    /// One of a few words, with what each stands for.
    pub(super) fn word<T: Copy>(
        &mut self,
        node: &Node,
        what: impl Display,
        words: &[(&str, T)],
    ) -> Option<T> {
        let written = self.text(node, &what)?;
        if let Some((_, meaning)) = words.iter().find(|(word, _)| *word == written) {
            return Some(*meaning);
        }
        let mend = did_you_mean(&written, words.iter().map(|(word, _)| *word));
        self.mistake(&SurveyMistake::Word { written, what: what.to_string(), mend }, &node.place);
        None
    }

    /// Yes, no, or open.
    pub(super) fn yes_no(&mut self, pairs: Pairs<'_>, key: &str, whole: &str) -> YesNoAnswer {
        let words = [("yes", YesNoAnswer::Yes), ("no", YesNoAnswer::No)];
        answered(pairs, key)
            .and_then(|node| self.word(node, format!("`{key}` of {whole}"), &words))
            .unwrap_or(YesNoAnswer::Unanswered)
    }

    /// A whole number from 1 up.
    pub(super) fn count(&mut self, node: &Node, what: &str) -> Option<u32> {
        let written = self.text(node, what)?;
        let count = written.parse().ok().filter(|count| *count > 0);
        if count.is_none() {
            let range = "a whole number from 1 up".to_owned();
            self.mistake(&SurveyMistake::OutOfRange { written, what: what.to_owned(), range }, &node.place);
        }
        count
    }

    /// A day of the calendar, written `YYYY-MM-DD`.
    pub(super) fn date(&mut self, node: &Node, what: &str) -> Option<Date> {
        let written = self.text(node, what)?;
        let date = written.parse::<Date>().ok().filter(|date| date.to_string() == written);
        if date.is_none() {
            self.mistake(&SurveyMistake::Date { written }, &node.place);
        }
        date
    }

    /// A day not after the issue date.
    pub(super) fn past_date(&mut self, node: &Node, what: &str) -> Option<Date> {
        let date = self.date(node, what)?;
        if let Some(issue) = self.issue.filter(|issue| date > *issue) {
            let (date, issue) = (date.to_string(), issue.to_string());
            self.mistake(&SurveyMistake::AfterIssue { what: what.to_owned(), date, issue }, &node.place);
        }
        Some(date)
    }

    /// A number or quantity.
    pub(super) fn quantity(&mut self, node: &Node, what: &str, dimension: Dimension) -> Option<Quantity> {
        let written = self.text(node, what)?;
        match Quantity::parse(&written, dimension) {
            Ok(quantity) => Some(quantity),
            Err(mistake) => {
                self.found.push(Diagnostic::error(&mistake, node.place.clone()));
                None
            }
        }
    }

    /// A number or quantity, or a pair of them.
    pub(super) fn span(&mut self, node: &Node, what: &str, dimension: Dimension) -> Option<Span> {
        let Some(ends) = node.as_list() else {
            return self.quantity(node, what, dimension).map(Span::of);
        };
        let [low, high] = ends else {
            let what = what.to_owned();
            let mistake = match ends.len() {
                0 => SurveyMistake::EmptyList { what },
                count => SurveyMistake::NotAPair { what, count },
            };
            self.mistake(&mistake, &node.place);
            return None;
        };
        let (low, high) = (self.quantity(low, what, dimension), self.quantity(high, what, dimension));
        let (low, high) = (low?, high?);
        if low.value() <= high.value() {
            return Some(Span { low, high });
        }
        let (low, high) = (low.written().to_owned(), high.written().to_owned());
        self.mistake(&SurveyMistake::PairBackwards { what: what.to_owned(), low, high }, &node.place);
        None
    }

    /// Whether a quantity is more than nothing; a mistake if it is not.
    pub(super) fn positive(&mut self, quantity: &Quantity, what: &str, place: &Place) -> bool {
        let positive = quantity.value().is_positive();
        if !positive {
            let (written, range) = (quantity.written().to_owned(), "more than 0".to_owned());
            self.mistake(&SurveyMistake::OutOfRange { written, what: what.to_owned(), range }, place);
        }
        positive
    }

    /// A catalogue that the program knows by name; a mistake if the book has none.
    pub(super) fn catalogue(&mut self, name: &str, what: &str, place: &Place) -> Option<&'b Catalogue> {
        let catalogue = self.book.catalogue_named(name);
        if catalogue.is_none() {
            let lacks = format!("catalogue `{name}`");
            self.mistake(&SurveyMistake::BookLacks { what: what.to_owned(), lacks }, place);
        }
        catalogue
    }
}
