//! What a calculation found, and how it becomes the answer to a fact.

use num_rational::BigRational;

use super::facts::{FactAnswer, Given};
use crate::rulebook::book::{Fact, Kind};
use crate::rulebook::cells::CellSet;
use crate::survey::YesNoAnswer;

/// Between these ends; `None` where there is no end.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Bounds {
    /// At least this.
    pub(super) low: Option<BigRational>,
    /// At most this.
    pub(super) high: Option<BigRational>,
}

impl Bounds {
    /// Both ends known.
    pub(super) fn between(low: BigRational, high: BigRational) -> Self {
        Self { low: Some(low), high: Some(high) }
    }

    /// One value.
    pub(super) fn exactly(value: BigRational) -> Self {
        Self::between(value.clone(), value)
    }

    /// At least this.
    pub(super) fn at_least(low: BigRational) -> Self {
        Self { low: Some(low), high: None }
    }

    /// The sum, end by end.
    #[must_use]
    pub(super) fn plus(self, other: Self) -> Self {
        let sum = |one: Option<BigRational>, two: Option<BigRational>| Some(one? + two?);
        Self { low: sum(self.low, other.low), high: sum(self.high, other.high) }
    }

    /// Either of two: from the lower low to the higher high.
    #[must_use]
    pub(super) fn or(self, other: Self) -> Self {
        let low = self.low.zip(other.low).map(|(one, two)| one.min(two));
        let high = self.high.zip(other.high).map(|(one, two)| one.max(two));
        Self { low, high }
    }
}

/// A value as a calculation leaves it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Found {
    /// Nothing is known.
    Open,
    /// There is certainly no such value.
    Absent,
    /// Yes, no, or either.
    YesNo(YesNoAnswer),
    /// One of these words.
    Words(Vec<String>),
    /// A number or quantity between these ends.
    Bounds(Bounds),
}

impl Found {
    /// Both ends, where both are known.
    pub(super) fn range(&self) -> Option<(BigRational, BigRational)> {
        match self {
            Self::Bounds(Bounds { low: Some(low), high: Some(high) }) => Some((low.clone(), high.clone())),
            _ => None,
        }
    }
}

/// What was found, with what is printed of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Worked {
    /// The value.
    pub(super) found: Found,
    /// The value as printed; empty when nothing is known.
    pub(super) shown: String,
    /// How it was worked out.
    pub(super) working: Option<String>,
    /// What leaves it open.
    pub(super) missing: Vec<String>,
}

impl Worked {
    /// Nothing is known, for these entries are missing.
    pub(super) fn open(missing: Vec<String>) -> Self {
        Self { found: Found::Open, shown: String::new(), working: None, missing }
    }

    /// A value that nothing leaves open.
    pub(super) fn settled(found: Found, shown: impl Into<String>, working: impl Into<String>) -> Self {
        Self { found, shown: shown.into(), working: Some(working.into()), missing: Vec::new() }
    }

    /// The answer to a fact.
    pub(super) fn into_answer(self, fact: &Fact) -> FactAnswer {
        let range = self.found.range();
        FactAnswer {
            shown: self.shown,
            range,
            working: self.working,
            missing: self.missing,
            ..FactAnswer::of(cells(&self.found, fact).map_or(Given::Unanswered, Given::Cells))
        }
    }
}

/// The answer of which nothing is known.
pub(super) fn unanswered(missing: Vec<String>) -> FactAnswer {
    FactAnswer { missing, ..FactAnswer::of(Given::Unanswered) }
}

/// The cells that a value touches; `None` if nothing is known or the fact cannot hold it.
pub(super) fn cells(found: &Found, fact: &Fact) -> Option<CellSet> {
    let set = match found {
        Found::Open => CellSet::EMPTY,
        Found::Absent => fact.cells.absent(),
        Found::YesNo(YesNoAnswer::Yes) => CellSet::one(0),
        Found::YesNo(YesNoAnswer::No) => CellSet::one(1),
        Found::YesNo(YesNoAnswer::Unanswered) => CellSet::EMPTY,
        Found::Words(words) => words_cells(words, fact)?,
        Found::Bounds(bounds) => bounds_cells(bounds, fact),
    };
    (!set.is_empty()).then_some(set)
}

fn words_cells(words: &[String], fact: &Fact) -> Option<CellSet> {
    let Kind::OneOf(known) = &fact.kind else { return None };
    words.iter().try_fold(CellSet::EMPTY, |set, word| {
        let cell = known.iter().position(|known| known == word)?;
        Some(set.or(CellSet::one(cell)))
    })
}

fn bounds_cells(bounds: &Bounds, fact: &Fact) -> CellSet {
    let Bounds { low, high } = bounds;
    if low.is_none() && high.is_none() {
        return CellSet::EMPTY;
    }
    let first = low.as_ref().map_or(0, |low| fact.cells.cell_of(low));
    let last = high.as_ref().map_or(fact.cells.answered.saturating_sub(1), |high| fact.cells.cell_of(high));
    (first..=last).fold(CellSet::EMPTY, |set, cell| set.or(CellSet::one(cell)))
}
