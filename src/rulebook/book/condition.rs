//! Conditions, resolved: comparisons are sets of cells.

use super::{ColumnId, FactId, FindingId, OptionId, SlotId};
use crate::diagnostic::Place;
use crate::rulebook::cells::CellSet;

/// A condition with its places and words kept for explanations.
#[derive(Clone, Debug)]
pub enum Condition {
    /// No condition.
    Always,
    /// All hold.
    All(Vec<Condition>),
    /// At least one holds.
    Any(Vec<Condition>),
    /// The inner one does not hold.
    Not(Box<Condition>),
    /// A single test.
    Test(Test),
}

/// A single test as written.
#[derive(Clone, Debug)]
pub struct Test {
    /// What is tested.
    pub kind: TestKind,
    /// The words as written.
    pub words: String,
    /// Where.
    pub place: Place,
}

/// What a test looks at.
#[derive(Clone, Debug)]
pub enum TestKind {
    /// The fact's answer lies in these cells.
    Fact {
        /// The fact.
        fact: FactId,
        /// The cells in which the test holds.
        cells: CellSet,
    },
    /// `is known`
    Known(FactId),
    /// `is unknown`
    Unknown(FactId),
    /// A finding holds.
    Finding(FindingId),
    /// `chosen SLOT is …`, `is one of …`
    Chosen {
        /// The slot.
        slot: SlotId,
        /// The options named.
        options: Vec<OptionId>,
    },
    /// `chosen SLOT whose …`
    ChosenWhose {
        /// The slot.
        slot: SlotId,
        /// What holds for each option.
        whose: Whose,
    },
}

/// `whose COLUMN cmp V`, for every option of a catalogue.
#[derive(Clone, Debug)]
pub struct Whose {
    /// The column, or the worked fact per option.
    pub what: WhoseWhat,
    /// One test an option.
    pub tests: Vec<OptionTest>,
    /// The words as written, from the column's name on.
    pub words: String,
}

/// What `whose` looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhoseWhat {
    /// A column of the slot's catalogue.
    Column(ColumnId),
    /// A worked fact of zone and option.
    Fact(FactId),
}

/// A test of one option.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OptionTest {
    /// The table settles it.
    Settled(bool),
    /// It holds where this fact of the zone lies in these cells.
    Fact {
        /// The fact.
        fact: FactId,
        /// Its cells.
        cells: CellSet,
    },
    /// It holds where this option's own value of the fact lies in these cells.
    OwnFact {
        /// The fact, worked for zone and option.
        fact: FactId,
        /// Its cells.
        cells: CellSet,
    },
}

impl Condition {
    /// Every test, in the order written.
    pub fn tests(&self) -> Vec<&Test> {
        match self {
            Self::Always => Vec::new(),
            Self::All(parts) | Self::Any(parts) => parts.iter().flat_map(Self::tests).collect(),
            Self::Not(inner) => inner.tests(),
            Self::Test(test) => vec![test],
        }
    }
}
