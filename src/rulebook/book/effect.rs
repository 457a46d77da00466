//! What a rule does.

use super::{ClauseId, ColumnId, FactId, OptionId, QuantityId, SlotId, StageId, Whose};
use crate::diagnostic::Place;
use crate::rulebook::cells::Comparison;
use crate::units::Quantity;

/// One effect of a rule.
#[derive(Clone, Debug)]
pub struct Effect {
    /// What it does.
    pub kind: EffectKind,
    /// Where it stands.
    pub place: Place,
}

/// What an effect does.
#[derive(Clone, Debug)]
pub enum EffectKind {
    /// `limit Q to at most V`
    Limit {
        /// The quantity.
        quantity: QuantityId,
        /// Ceiling or floor.
        bound: Bound,
        /// The value.
        value: LimitValue,
    },
    /// `require clause C`
    Require(ClauseId),
    /// `refuse SLOT …`: one test an option
    Refuse {
        /// The slot.
        slot: SlotId,
        /// The options refused outright, or the test of each.
        which: Refused,
    },
    /// `prefer SLOT A over B`
    Prefer {
        /// The slot.
        slot: SlotId,
        /// Pairs of better and worse.
        pairs: Vec<(OptionId, OptionId)>,
    },
    /// `stop "…" until "…" released by ROLE`
    Stop {
        /// What is stopped.
        what: String,
        /// What ends it.
        until: String,
        /// Who may end it.
        released_by: String,
    },
    /// `hold-point NAME before STAGE …`
    HoldPoint {
        /// Kebab-case name.
        name: String,
        /// The stage that waits.
        before: StageId,
        /// Who releases.
        released_by: String,
        /// Hours of notice.
        notice_hours: Option<u32>,
        /// The form that records it.
        form: Option<String>,
    },
    /// `caution "…" for …`
    Caution {
        /// The words.
        words: String,
        /// Who must read it.
        readers: Vec<Audience>,
    },
}

/// Which options a refusal rules out.
#[derive(Clone, Debug)]
pub enum Refused {
    /// By name.
    Named(Vec<OptionId>),
    /// By a column or a worked fact.
    Whose(Whose),
    /// Every option but these: `refuse SLOT every other than A, B`.
    AllBut(Vec<OptionId>),
}

/// Ceiling or floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bound {
    /// `at most`
    AtMost,
    /// `at least`
    AtLeast,
}

impl Bound {
    /// The comparison that a value within the limit satisfies.
    pub fn comparison(self) -> Comparison {
        match self {
            Self::AtMost => Comparison::AtMost,
            Self::AtLeast => Comparison::AtLeast,
        }
    }
}

/// What a limit is.
#[derive(Clone, Debug)]
pub enum LimitValue {
    /// A figure in the book.
    Literal(Quantity),
    /// The value of a fact.
    Fact(FactId),
    /// `its COLUMN of chosen SLOT`
    Column {
        /// The slot.
        slot: SlotId,
        /// The column.
        column: ColumnId,
    },
}

/// Who must read a caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Audience {
    /// Those who do the work.
    Crew,
    /// The owner and occupants.
    Owner,
    /// Passers-by and neighbours.
    Public,
}
