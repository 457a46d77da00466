//! Heads, sources, stages, facts, quantities and slots.

use super::{At, Condition, GroundLines, Text, Word};
use crate::rulebook::book::{Certainty, End, Owner, Picks, Stops};

/// The name and edition of a book.
#[derive(Clone, Debug)]
pub struct RulebookHead {
    /// Its name.
    pub title: Text,
    /// Its edition.
    pub edition: Word,
}

/// Where knowledge comes from.
#[derive(Clone, Debug)]
pub struct SourceDeclaration {
    /// Its name.
    pub name: Word,
    /// Designation and title.
    pub title: Option<Text>,
    /// Who issues it.
    pub issuer: Option<Text>,
    /// The rest.
    pub attributes: Vec<At<SourceAttribute>>,
}

/// What is said of a source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SourceAttribute {
    /// `edition X`
    Edition(String),
    /// `read`, `second-hand`, …
    Certainty(Certainty),
    /// `law`
    Law,
    /// `checked 2026-11-25`
    Checked(String),
    /// `again by 2027-05`
    AgainBy(String),
    /// `for US, UK`
    Countries(Vec<String>),
}

/// A step of the work.
#[derive(Clone, Debug)]
pub struct StageDeclaration {
    /// Its name.
    pub name: Word,
    /// The stages before it.
    pub after: Vec<Word>,
    /// Whether a stop holds it back.
    pub stops: Stops,
}

/// The kind of a fact or column.
#[derive(Clone, Debug)]
pub enum KindWords {
    /// `yes or no`
    YesNo,
    /// `one of a, b`
    OneOf(Vec<Word>),
    /// `named in CATALOGUE`
    NamedIn(Word),
    /// `year A to B`
    Year(Option<(Word, Word)>),
    /// `number A to B`
    Number(Option<(Word, Word)>),
    /// `length A to B`
    Measure(Word, Option<(Word, Word)>),
    /// `text`
    Text,
}

/// A question.
#[derive(Clone, Debug)]
pub struct FactDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// Its kind.
    pub kind: At<KindWords>,
    /// The rest of its first line.
    pub attributes: Vec<At<FactAttribute>>,
    /// The words of the question.
    pub ask: At<Text>,
    /// When it arises.
    pub only_where: Option<At<Condition>>,
}

/// What is said of a question.
#[derive(Clone, Debug)]
pub enum FactAttribute {
    /// `good for N days`
    GoodFor(Word),
    /// `proved by test`
    ProvedByTest,
    /// `measured by A or B`
    MeasuredBy(Vec<Word>),
    /// `told with A and B because "…"`
    ToldWith(Vec<Word>, Text),
}

/// A value that the wall calculation supplies.
#[derive(Clone, Debug)]
pub struct WorkedDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// `and SLOT`
    pub slot: Option<Word>,
    /// Its kind.
    pub kind: At<KindWords>,
    /// The end of a spread to decide on.
    pub worst: Option<End>,
    /// `as …`: how the book itself works it out.
    pub formula: Option<FormulaWords>,
}

/// How a book works a figure out of answers.
#[derive(Clone, Debug)]
pub enum FormulaWords {
    /// `as [BASE plus] RATE for each STEP of FACT [over PAST]`
    Linear {
        /// What stands before it grows.
        base: Option<Word>,
        /// What each step adds.
        rate: Word,
        /// The step.
        step: Word,
        /// What is counted in steps.
        of: Word,
        /// What of it does not count.
        past: Option<Word>,
    },
    /// `as FACT divided by FACT`
    Ratio(Word, Word),
}

/// What limits bound.
#[derive(Clone, Debug)]
pub struct QuantityDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// Its dimension.
    pub dimension: Word,
    /// The rest of its first line.
    pub attributes: Vec<At<QuantityAttribute>>,
    /// Why and per what, where a value is taken.
    pub ground: GroundLines,
}

/// What is said of a quantity.
#[derive(Clone, Debug)]
pub enum QuantityAttribute {
    /// `during STAGE`
    During(Word),
    /// `measured "at the nozzle"`
    Measured(Text),
    /// `taken as VALUE`
    TakenAs(Word),
    /// `no departure`
    NoDeparture,
}

/// What is chosen.
#[derive(Clone, Debug)]
pub struct SlotDeclaration {
    /// Its name.
    pub name: Word,
    /// One or a sequence.
    pub picks: Picks,
    /// From which catalogue.
    pub catalogue: Word,
    /// When there is something to choose.
    pub only_where: Option<At<Condition>>,
}
