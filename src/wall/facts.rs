//! What each zone answers, fact by fact, ready to be compared.

use num_rational::BigRational;

use crate::rulebook::book::FactId;
use crate::rulebook::cells::CellSet;
use crate::survey::Known;

/// The answers of one zone (the job's among them), indexed by [`FactId`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ZoneFacts {
    /// One entry a fact of the book.
    pub answers: Vec<FactAnswer>,
}

impl ZoneFacts {
    /// The answer to a fact.
    pub fn of(&self, fact: FactId) -> Option<&FactAnswer> {
        self.answers.get(fact.0)
    }
}

/// One fact's answer with what documents print of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FactAnswer {
    /// The cells still possible.
    pub given: Given,
    /// As printed, both unit systems; empty when unanswered.
    pub shown: String,
    /// For `of zone and SLOT`: as printed, one an option; otherwise empty.
    pub shown_by_option: Vec<String>,
    /// For `of zone and SLOT`: the numbers behind it in base units, one pair an option where it has any.
    pub ranges_by_option: Vec<Option<(BigRational, BigRational)>>,
    /// The numbers behind it in base units, low to high, where it has any; of a spread only the adverse end.
    pub range: Option<(BigRational, BigRational)>,
    /// How it is known, weakest first; empty for worked facts and where it is not said.
    pub known: Vec<Known>,
    /// Why an answer that was given does not count: too old, hearsay, a method that does not count.
    pub set_aside: Option<String>,
    /// For worked facts: how it was worked out, in words with figures.
    pub working: Option<String>,
    /// For worked facts: the open facts or survey entries that leave it open, in words.
    pub missing: Vec<String>,
}

impl FactAnswer {
    /// An answer of which nothing is known but the cells.
    pub fn of(given: Given) -> Self {
        Self {
            given,
            shown: String::new(),
            shown_by_option: Vec::new(),
            ranges_by_option: Vec::new(),
            range: None,
            known: Vec::new(),
            set_aside: None,
            working: None,
            missing: Vec::new(),
        }
    }
}

/// What was answered, as cells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Given {
    /// Nothing, or nothing that counts.
    Unanswered,
    /// These cells are possible. A value that is certainly absent (`none`) is the absent cell.
    Cells(CellSet),
    /// For each option of the slot, the cells possible.
    ByOption(Vec<CellSet>),
}
