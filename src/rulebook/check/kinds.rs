//! Kinds: from words to what a fact or column may hold, and what fits a kind.

use num_rational::BigRational;

use super::desk::Desk;
use super::gather::Stated;
use super::mistake_kind::KindMistake;
use super::mistake_name::{NameMistake, listed, meant};
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::book::Kind;
use crate::rulebook::syntax::ast::{KindWords, Span, Word};
use crate::units::{Dimension, Quantity};

/// Words that conditions use for themselves.
const TAKEN: [&str; 2] = ["known", "unknown"];

impl Desk {
    /// Reads the kind of a fact.
    pub(super) fn kind_of<T>(&mut self, stated: &Stated<'_, T>, words: &KindWords) -> Option<Kind> {
        self.kind(words, &|span| stated.at(span))
    }

    /// Reads a kind; `at` gives the place of its parts.
    pub(super) fn kind(&mut self, words: &KindWords, at: &dyn Fn(Span) -> Place) -> Option<Kind> {
        match words {
            KindWords::YesNo => Some(Kind::YesNo),
            KindWords::Text => Some(Kind::Text),
            KindWords::OneOf(list) => Some(Kind::OneOf(self.word_list(list, at))),
            KindWords::NamedIn(name) => {
                let id = self.catalogue(name, at(name.span))?;
                let catalogue = self.book.catalogues.get(id.0)?;
                Some(Kind::OneOf(catalogue.options.iter().map(|option| option.name.clone()).collect()))
            }
            KindWords::Year(range) | KindWords::Number(range) => {
                let (from, to) = self.range(range.as_ref(), Dimension::Number, at);
                Some(Kind::Number { from, to })
            }
            KindWords::Measure(name, range) => {
                let dimension = self.dimension(name, at(name.span))?;
                let (from, to) = self.range(range.as_ref(), dimension, at);
                Some(if dimension == Dimension::Number {
                    Kind::Number { from, to }
                } else {
                    Kind::Measure { dimension, from, to }
                })
            }
        }
    }

    fn word_list(&mut self, list: &[Word], at: &dyn Fn(Span) -> Place) -> Vec<String> {
        let mut words: Vec<String> = Vec::new();
        for word in list {
            if TAKEN.contains(&word.value.as_str()) {
                self.error(&KindMistake::NotAWord { word: word.value.clone() }, at(word.span));
            }
            if words.contains(&word.value) {
                self.error(&KindMistake::ListedTwice { word: word.value.clone() }, at(word.span));
            } else {
                words.push(word.value.clone());
            }
        }
        words
    }

    fn range(
        &mut self,
        range: Option<&(Word, Word)>,
        dimension: Dimension,
        at: &dyn Fn(Span) -> Place,
    ) -> (Option<BigRational>, Option<BigRational>) {
        let Some((low, high)) = range else { return (None, None) };
        let from = self.measured(low, dimension, at(low.span));
        let to = self.measured(high, dimension, at(high.span));
        let (from, to) = (from.map(|from| from.value().clone()), to.map(|to| to.value().clone()));
        if from.is_some() && to.is_some() && from > to {
            let mistake = KindMistake::Backwards { from: low.value.clone(), to: high.value.clone() };
            self.error(&mistake, at(low.span.to(high.span)));
        }
        (from, to)
    }

    /// Finds a dimension.
    pub(super) fn dimension(&mut self, word: &Word, place: Place) -> Option<Dimension> {
        let found = Dimension::from_name(&word.value);
        if found.is_none() {
            let names = || {
                let others = ["yes or no", "one of …", "named in …", "year", "text"];
                Dimension::all().map(Dimension::name).chain(others)
            };
            let help = meant(&word.value, names(), || {
                format!("a kind is one of {}", names().collect::<Vec<_>>().join(", "))
            });
            self.error(&NameMistake::Kind { name: word.value.clone(), help }, place);
        }
        found
    }

    /// Reads a figure that must be of a kind, and within its range.
    pub(super) fn figure(
        &mut self,
        name: &str,
        kind: &Kind,
        word: &Word,
        place: Place,
    ) -> Option<BigRational> {
        let (dimension, from, to) = match kind {
            Kind::Number { from, to } => (Dimension::Number, from, to),
            Kind::Measure { dimension, from, to } => (*dimension, from, to),
            _ => return None,
        };
        let value = match Quantity::parse(&word.value, dimension) {
            Ok(quantity) => quantity.value().clone(),
            Err(mistake) => {
                self.note(Diagnostic::error(&mistake, place));
                return None;
            }
        };
        if from.as_ref().is_some_and(|from| value < *from) || to.as_ref().is_some_and(|to| value > *to) {
            let mistake = KindMistake::OutOfRange {
                value: word.value.clone(),
                name: name.to_owned(),
                help: range_words(dimension, from.as_ref(), to.as_ref()),
            };
            self.error(&mistake, place);
            return None;
        }
        Some(value)
    }

    /// The position of a word in a list.
    pub(super) fn word_in(&mut self, of: &str, words: &[String], word: &Word, place: Place) -> Option<usize> {
        let found = words.iter().position(|one| *one == word.value);
        if found.is_none() {
            let known = || words.iter().map(String::as_str);
            let help = meant(&word.value, known(), || listed(known()));
            let mistake = NameMistake::Value { name: word.value.clone(), of: of.to_owned(), help };
            self.error(&mistake, place);
        }
        found
    }
}

/// A range for a help text.
fn range_words(dimension: Dimension, from: Option<&BigRational>, to: Option<&BigRational>) -> String {
    let written = |number: &BigRational| Quantity::from_base(number.clone(), dimension).written().to_owned();
    match (from, to) {
        (Some(from), Some(to)) => format!("it runs from {} to {}", written(from), written(to)),
        (Some(from), None) => format!("it is at least {}", written(from)),
        (None, Some(to)) => format!("it is at most {}", written(to)),
        (None, None) => "any figure fits".to_owned(),
    }
}

/// A kind as a phrase: `is a pressure`.
pub(super) fn phrase(kind: &Kind) -> String {
    match kind {
        Kind::YesNo => "is a yes or no".to_owned(),
        Kind::OneOf(_) => "is one of a list of words".to_owned(),
        Kind::Number { .. } => "is a number".to_owned(),
        Kind::Measure { dimension, .. } => format!("is {}", dimension.phrase()),
        Kind::Text => "is free text, which is printed and never compared".to_owned(),
    }
}

/// What may be asked of a kind.
pub(super) fn fitting(name: &str, kind: &Kind) -> String {
    match kind {
        Kind::YesNo => format!("write `{name}`, `not {name}`, `{name} is yes` or `{name} is no`"),
        Kind::OneOf(words) => {
            let word = words.first().map_or("…", String::as_str);
            format!("write `{name} is {word}`, `is not` or `is one of`")
        }
        Kind::Number { .. } => {
            format!("write `{name} over …`, `under`, `at least`, `at most`, `before`, `after`, `between`")
        }
        Kind::Measure { .. } => {
            format!(
                "write `{name} over …`, `under`, `at least`, `at most` or `between`, with a figure and its unit"
            )
        }
        Kind::Text => "ask for it in another kind, or test another fact".to_owned(),
    }
}
