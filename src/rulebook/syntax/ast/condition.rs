//! Conditions and what they compare.

use super::{At, Span, Word};

/// A condition. Nested lists of the same sort are joined; brackets are not kept.
#[derive(Clone, Debug)]
pub enum Condition {
    /// `a and b`
    All(Vec<Condition>),
    /// `a or b`
    Any(Vec<Condition>),
    /// `not a`
    Not(Box<Condition>),
    /// A single test.
    Test(At<Test>),
}

/// A single test.
#[derive(Clone, Debug)]
pub enum Test {
    /// `historic`: a yes-or-no fact or a finding
    Bare(Word),
    /// `built before 1945`
    Compared(Word, At<Compare>),
    /// `chosen SLOT is …`
    Chosen(Word, At<Compare>),
    /// `chosen SLOT whose …`
    ChosenWhose(Word, Whose),
}

/// `whose NAME …`
#[derive(Clone, Debug)]
pub struct Whose {
    /// A column or a worked fact.
    pub name: Word,
    /// How it is compared.
    pub compare: At<Compare>,
    /// From the name on.
    pub span: Span,
}

/// A comparison.
#[derive(Clone, Debug)]
pub enum Compare {
    /// `is known`
    Known,
    /// `is unknown`
    Unknown,
    /// `is a`, `is not a`, `is one of a, b`, `is not one of a, b`
    Is(Sense, Vec<Value>),
    /// `over 5 mm`
    Ordered(OrderWord, Value),
    /// `between a and b`, ends included
    Between(Value, Value),
}

/// `is` or `is not`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// `is`
    Is,
    /// `is not`
    IsNot,
}

/// The words that put numbers in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderWord {
    /// `over`
    Over,
    /// `under`
    Under,
    /// `at least`
    AtLeast,
    /// `at most`
    AtMost,
    /// `before`, of years
    Before,
    /// `after`, of years
    After,
}

/// What something is compared with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A number, with its unit if it has one.
    Figure(Word),
    /// A word, option or fact.
    Word(Word),
}

impl Value {
    /// As written, and where.
    pub fn word(&self) -> &Word {
        match self {
            Self::Figure(word) | Self::Word(word) => word,
        }
    }
}
