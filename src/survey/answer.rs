//! Answers: a value, and how it came to be known.

use std::collections::BTreeMap;

use crate::diagnostic::Place;
use crate::rulebook::book::FactId;
use crate::units::{Dimension, Quantity, System, print, print_range};

/// The answers given, by fact. A fact that is not here is unanswered.
pub type Answers = BTreeMap<FactId, Answer>;

/// What was answered: one reading or several.
#[derive(Clone, Debug)]
pub struct Answer {
    /// At least one.
    pub readings: Vec<Reading>,
    /// Where the answer stands.
    pub place: Place,
}

/// One reading with all that was written about it.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What was read.
    pub value: AnswerValue,
    /// How, such as `carbide`.
    pub method: Option<String>,
    /// With which instrument.
    pub instrument: Option<String>,
    /// How deep, as written.
    pub depth: Option<String>,
    /// Where on the wall, in words.
    pub location: Option<String>,
    /// When, `YYYY-MM-DD`.
    pub date: Option<String>,
    /// By whom: a role.
    pub by: Option<String>,
    /// How it is known; `None` when not said.
    pub known: Option<Known>,
    /// Number of a photograph.
    pub photo: Option<String>,
    /// Any further words, such as `layers: all`, in order.
    pub more: Vec<(String, String)>,
    /// Where it stands.
    pub place: Place,
}

/// A value as read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AnswerValue {
    /// `unknown`: an honest answer that settles nothing.
    Unknown,
    /// Yes or no.
    YesNo(bool),
    /// One or several words of a one-of fact that are still possible, by their index.
    Words(Vec<usize>),
    /// A number (of kind [`Dimension::Number`]) or a quantity.
    Range(Span),
    /// Free words.
    Text(String),
}

/// One value, or one uncertain value between two ends. Both ends are of one kind, the low one not the greater.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// The low end.
    pub low: Quantity,
    /// The high end; the same as the low one where the value is not in doubt.
    pub high: Quantity,
}

impl Span {
    /// A value that is not in doubt.
    pub fn of(value: Quantity) -> Self {
        Self { low: value.clone(), high: value }
    }

    /// Whether the ends differ.
    pub fn is_uncertain(&self) -> bool {
        self.low.value() != self.high.value()
    }

    /// Both ends in both systems of units; a bare number, such as a year, as it was written.
    pub fn print(&self, system: System) -> String {
        match (self.low.dimension(), self.is_uncertain()) {
            (Dimension::Number, false) => self.low.written().to_owned(),
            (Dimension::Number, true) => format!("{} to {}", self.low.written(), self.high.written()),
            (_, false) => print(&self.low, system),
            (_, true) => print_range(&self.low, &self.high, system),
        }
    }
}

/// How a thing is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Measured or tested.
    Measured,
    /// Seen from the ground.
    SeenFromGround,
    /// Taken from a drawing.
    Drawn,
    /// Somebody said so.
    Told,
    /// Assumed.
    Assumed,
}

impl Known {
    /// The word as written in a survey and printed in documents.
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::SeenFromGround => "seen-from-ground",
            Self::Drawn => "drawn",
            Self::Told => "told",
            Self::Assumed => "assumed",
        }
    }

    /// Whether the word counts as a test.
    pub fn counts_as_tested(self) -> bool {
        !matches!(self, Self::Told | Self::Assumed)
    }
}
