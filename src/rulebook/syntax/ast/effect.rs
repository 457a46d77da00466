//! Findings and rules.

use super::{At, Condition, GroundLines, Span, Text, Value, Whose, Word};
use crate::rulebook::book::{Audience, Bound};

/// A derived yes or no.
#[derive(Clone, Debug)]
pub struct FindingDeclaration {
    /// Its name.
    pub name: Word,
    /// When it holds.
    pub when: Option<At<Condition>>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What follows from what.
#[derive(Clone, Debug)]
pub struct RuleDeclaration {
    /// Its name.
    pub name: Word,
    /// When it applies; `None`: always.
    pub when: Option<At<Condition>>,
    /// What it does.
    pub effects: Vec<At<Effect>>,
    /// `no departure`
    pub no_departure: Option<Span>,
    /// `if unsure leave out because "…"`
    pub if_unsure: Option<At<Text>>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What a rule does.
#[derive(Clone, Debug)]
pub enum Effect {
    /// `limit Q to at most V`
    Limit {
        /// The quantity.
        quantity: Word,
        /// Ceiling or floor.
        bound: Bound,
        /// The value.
        value: LimitWords,
    },
    /// `require clause C`
    Require(Word),
    /// `refuse SLOT …`
    Refuse(Word, RefusedWords),
    /// `prefer SLOT A over B`; `None`: over every other
    Prefer {
        /// The slot.
        slot: Word,
        /// The better option.
        better: Word,
        /// The worse one.
        over: Option<Word>,
    },
    /// `stop "…" until "…" released by ROLE`
    Stop {
        /// What is stopped.
        what: Text,
        /// What ends it.
        until: Text,
        /// Who may end it.
        released_by: Word,
    },
    /// `hold-point NAME before STAGE …`
    HoldPoint {
        /// Its name.
        name: Word,
        /// The stage that waits.
        before: Word,
        /// Who releases.
        released_by: Word,
        /// How long before.
        notice: Option<Word>,
        /// The form that records it.
        form: Option<Word>,
    },
    /// `caution "…" for …`
    Caution {
        /// The words.
        words: Text,
        /// Who must read it.
        readers: Vec<Audience>,
    },
}

/// What a limit is.
#[derive(Clone, Debug)]
pub enum LimitWords {
    /// A figure or the name of a fact.
    Value(Value),
    /// `its COLUMN of chosen SLOT`
    Column {
        /// The column.
        column: Word,
        /// The slot.
        slot: Word,
    },
}

/// Which options are refused.
#[derive(Clone, Debug)]
pub enum RefusedWords {
    /// `A, B`
    Named(Vec<Word>),
    /// `every other than A, B`
    AllBut(Vec<Word>),
    /// `whose …`
    Whose(Whose),
}
