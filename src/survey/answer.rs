//! Answers: a value, and how it came to be known.

use std::collections::BTreeMap;

use num_rational::BigRational;

use crate::diagnostic::Place;
use crate::rulebook::book::FactId;

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
    /// A number or quantity in base units, from low to high (the same twice for a single value), and as written.
    Range {
        /// Lowest.
        low: BigRational,
        /// Highest.
        high: BigRational,
        /// As written, with units.
        written: String,
    },
    /// Free words.
    Text(String),
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
