//! Promises, remarks that are waived, and what a firm changes in the book below.

use super::{At, Condition, GroundLines, KindWords, Text, Word};
use crate::rulebook::book::{Bound, End};

/// The name and edition of a firm's book and of the book it stands on.
#[derive(Clone, Debug)]
pub struct HouseHead {
    /// Its name.
    pub title: Text,
    /// Its edition.
    pub edition: Word,
    /// The name of the book below.
    pub over: Text,
    /// The edition of the book below.
    pub over_edition: Word,
    /// The digest of the book below: its first twelve hex digits or all.
    pub digest: Word,
}

/// What must hold for every survey.
#[derive(Clone, Debug)]
pub struct PromiseDeclaration {
    /// Its name.
    pub name: Word,
    /// Where it is claimed; `None`: everywhere.
    pub when: Option<At<Condition>>,
    /// What is claimed.
    pub claim: At<Claim>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What a promise claims.
#[derive(Clone, Debug)]
pub enum Claim {
    /// `clause C is required`
    Required(Word),
    /// `clause C is never required`
    Barred(Word),
    /// `SLOT OPTION is refused`
    Refused(Word, Word),
    /// `limit Q at most V`
    Limited(Word, Bound, Word),
    /// `a stop stands`
    Stopped,
    /// `COND never holds`
    Never(Condition),
}

/// A remark of the prover that the book accepts.
#[derive(Clone, Debug)]
pub struct Waiver {
    /// Which remark.
    pub remark: At<Waived>,
    /// What it is about.
    pub name: Word,
    /// Why, per what.
    pub ground: GroundLines,
}

/// The remarks that can be waived.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waived {
    /// `rule NAME never applies`
    NeverApplies,
    /// `rule NAME never matters`
    NeverMatters,
    /// `clause NAME is never required`
    NeverRequired,
    /// `finding NAME never holds`
    NeverHolds,
    /// `finding NAME always holds`
    AlwaysHolds,
    /// `fact NAME settles nothing`
    SettlesNothing,
}

impl Waived {
    /// The words around the name.
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::NeverApplies => ("rule", "never applies"),
            Self::NeverMatters => ("rule", "never matters"),
            Self::NeverRequired => ("clause", "is never required"),
            Self::NeverHolds => ("finding", "never holds"),
            Self::AlwaysHolds => ("finding", "always holds"),
            Self::SettlesNothing => ("fact", "settles nothing"),
        }
    }
}

/// One change to the book below.
#[derive(Clone, Debug)]
pub struct Amendment {
    /// What changes.
    pub change: At<Change>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What an amendment changes.
#[derive(Clone, Debug)]
pub enum Change {
    /// `limit Q in RULE from V to V`
    Limit {
        /// The quantity.
        quantity: Word,
        /// The rule.
        rule: Word,
        /// The old value.
        from: Word,
        /// The new value.
        to: Word,
    },
    /// `CATALOGUE OPTION COLUMN from V to V`
    Cell {
        /// The catalogue.
        catalogue: Word,
        /// The row.
        option: Word,
        /// The column.
        column: Word,
        /// The old value.
        from: Word,
        /// The new value.
        to: Word,
    },
    /// `clause NAME in READER from "…" to "…"`
    Clause {
        /// The clause.
        clause: Word,
        /// Whose wording.
        reader: Word,
        /// The old words.
        from: Text,
        /// The new words.
        to: Text,
    },
    /// `rule NAME only where COND`, or of a finding
    Narrow {
        /// Rule or finding.
        of: Conditioned,
        /// Its name.
        name: Word,
        /// The condition that must hold as well.
        condition: At<Condition>,
    },
    /// `rule NAME also where COND`, or of a finding
    Widen {
        /// Rule or finding.
        of: Conditioned,
        /// Its name.
        name: Word,
        /// The condition that is enough.
        condition: At<Condition>,
    },
}

/// What has a condition that can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Conditioned {
    /// A rule.
    Rule,
    /// A finding.
    Finding,
}

impl Conditioned {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rule => "rule",
            Self::Finding => "finding",
        }
    }
}

/// Something that a firm puts beside what the book below has.
#[derive(Clone, Debug)]
pub struct Addition {
    /// What.
    pub added: At<Added>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What a firm adds to a catalogue.
#[derive(Clone, Debug)]
pub enum Added {
    /// `row NAME to CATALOGUE, titled "…" with COLUMN CELL, …`
    Row {
        /// Its name.
        name: Word,
        /// The catalogue.
        catalogue: Word,
        /// The words printed for it.
        title: Text,
        /// Its cells, by column.
        cells: Vec<CellWords>,
    },
    /// `column NAME to CATALOGUE, titled "…", KIND with ROW CELL, …`
    Column {
        /// Its name.
        name: Word,
        /// The catalogue.
        catalogue: Word,
        /// The words printed over it.
        title: Text,
        /// The kind of its cells.
        kind: At<KindWords>,
        /// Which end of a spread is the adverse one.
        worst: Option<End>,
        /// Its cells, by row.
        cells: Vec<CellWords>,
    },
}

impl Added {
    /// What is added: a row or a column, its name, and the catalogue.
    pub fn named(&self) -> (&'static str, &Word, &Word) {
        match self {
            Self::Row { name, catalogue, .. } => ("row", name, catalogue),
            Self::Column { name, catalogue, .. } => ("column", name, catalogue),
        }
    }
}

/// One cell.
#[derive(Clone, Debug)]
pub struct CellWords {
    /// The column of a new row, or the row of a new column.
    pub name: Word,
    /// The value as written, without quotes.
    pub value: Word,
    /// How it was written.
    pub form: CellForm,
}

/// How a cell is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellForm {
    /// A name, a figure or a span.
    Bare,
    /// Words in quotes.
    Quoted,
}

/// A rule of the book below that the firm does not hold to.
#[derive(Clone, Debug)]
pub struct Withdrawal {
    /// The rule.
    pub rule: Word,
    /// Why, per what.
    pub ground: GroundLines,
}
