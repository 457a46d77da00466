//! Cells: every fact is cut where the book compares it, and an answer is the set of cells still possible.
//!
//! A measured fact with cuts at `a < b` has the cells *below a*, *a*, *between*, *b*, *above b*. A fact that may
//! not arise has one more cell, the last; every comparison but `is not` is false there.

use num_rational::BigRational;

/// A set of cells of one fact. At most [`CellSet::MOST`] cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct CellSet([u64; 4]);

impl CellSet {
    /// The greatest number of cells that a fact may have.
    pub const MOST: usize = 256;
    /// No cell.
    pub const EMPTY: Self = Self([0; 4]);

    /// The set of one cell; empty if the index is past [`CellSet::MOST`].
    pub fn one(cell: usize) -> Self {
        let mut set = Self::EMPTY;
        set.insert(cell);
        set
    }

    /// The first `count` cells.
    pub fn first(count: usize) -> Self {
        (0..count).fold(Self::EMPTY, |mut set, cell| {
            set.insert(cell);
            set
        })
    }

    /// Adds a cell.
    pub fn insert(&mut self, cell: usize) {
        if let Some(word) = self.0.get_mut(cell / 64) {
            *word |= 1 << (cell % 64);
        }
    }

    /// The first 64 cells as the bits of a word.
    pub fn first_word(self) -> u64 {
        let [first, ..] = self.0;
        first
    }

    /// Whether the cell is in the set.
    pub fn contains(self, cell: usize) -> bool {
        self.0.get(cell / 64).is_some_and(|word| word & (1 << (cell % 64)) != 0)
    }

    /// Whether no cell is in the set.
    pub fn is_empty(self) -> bool {
        self == Self::EMPTY
    }

    /// Whether every cell of this set is in the other.
    pub fn is_within(self, other: Self) -> bool {
        self.0.iter().zip(other.0).all(|(mine, theirs)| mine & !theirs == 0)
    }

    /// Whether the sets share a cell.
    pub fn meets(self, other: Self) -> bool {
        self.0.iter().zip(other.0).any(|(mine, theirs)| mine & theirs != 0)
    }

    /// The cells of either.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        self.zip(other, |mine, theirs| mine | theirs)
    }

    /// The cells of both.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.zip(other, |mine, theirs| mine & theirs)
    }

    /// The cells of this set that are not in the other.
    #[must_use]
    pub fn without(self, other: Self) -> Self {
        self.zip(other, |mine, theirs| mine & !theirs)
    }

    fn zip(self, other: Self, join: impl Fn(u64, u64) -> u64) -> Self {
        let mut joined = Self::EMPTY;
        for ((slot, mine), theirs) in joined.0.iter_mut().zip(self.0).zip(other.0) {
            *slot = join(mine, theirs);
        }
        joined
    }

    /// How many cells.
    pub fn len(self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// The cells, lowest first.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        (0..Self::MOST).filter(move |cell| self.contains(*cell))
    }
}

/// The six ways to compare a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Comparison {
    /// `is`
    Equal,
    /// `is not`
    NotEqual,
    /// `over`, `after`
    Over,
    /// `under`, `before`
    Under,
    /// `at least`
    AtLeast,
    /// `at most`
    AtMost,
}

impl Comparison {
    /// Whether the comparison holds between two exact numbers.
    pub fn holds(self, left: &BigRational, right: &BigRational) -> bool {
        match self {
            Self::Equal => left == right,
            Self::NotEqual => left != right,
            Self::Over => left > right,
            Self::Under => left < right,
            Self::AtLeast => left >= right,
            Self::AtMost => left <= right,
        }
    }

    /// The same comparison seen from the other side: `a over b` is `b under a`.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Equal | Self::NotEqual => self,
            Self::Over => Self::Under,
            Self::Under => Self::Over,
            Self::AtLeast => Self::AtMost,
            Self::AtMost => Self::AtLeast,
        }
    }
}

/// How one fact is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cells {
    /// For measured facts, where the book compares them, ascending, no two alike. Empty for the others.
    pub cuts: Vec<BigRational>,
    /// How many cells an answer can lie in.
    pub answered: usize,
    /// Whether the fact may not arise (or have no value): its cell is the last, number `answered`.
    pub may_be_absent: bool,
}

impl Cells {
    /// Cells of a fact whose answers are a list of `count` values.
    pub fn of_values(count: usize, may_be_absent: bool) -> Self {
        Self { cuts: Vec::new(), answered: count, may_be_absent }
    }

    /// Cells of a measured fact compared at these numbers.
    pub fn of_cuts(mut cuts: Vec<BigRational>, may_be_absent: bool) -> Self {
        cuts.sort();
        cuts.dedup();
        Self { answered: cuts.len() * 2 + 1, cuts, may_be_absent }
    }

    /// How many cells in all.
    pub fn count(&self) -> usize {
        self.answered + usize::from(self.may_be_absent)
    }

    /// Every cell an answer can lie in.
    pub fn any_answer(&self) -> CellSet {
        CellSet::first(self.answered)
    }

    /// Every cell.
    pub fn all(&self) -> CellSet {
        CellSet::first(self.count())
    }

    /// The cell of a fact that does not arise, or of a value that is `none`.
    pub fn absent(&self) -> CellSet {
        if self.may_be_absent { CellSet::one(self.answered) } else { CellSet::EMPTY }
    }

    /// The cell in which a number lies.
    pub fn cell_of(&self, number: &BigRational) -> usize {
        match self.cuts.binary_search(number) {
            Ok(cut) => cut * 2 + 1,
            Err(cut) => cut * 2,
        }
    }

    /// The cells that the closed stretch from `low` to `high` touches.
    pub fn touched(&self, low: &BigRational, high: &BigRational) -> CellSet {
        let mut set = CellSet::EMPTY;
        for cell in self.cell_of(low)..=self.cell_of(high) {
            set.insert(cell);
        }
        set
    }

    /// The cells in which a comparison with a number holds. The number must be one of the cuts; the cell of a fact
    /// that does not arise is in the set for `is not` alone.
    pub fn where_holds(&self, comparison: Comparison, number: &BigRational) -> CellSet {
        let at = self.cell_of(number);
        let mut set = CellSet::EMPTY;
        for cell in 0..self.answered {
            let holds = match comparison {
                Comparison::Equal => cell == at,
                Comparison::NotEqual => cell != at,
                Comparison::Over => cell > at,
                Comparison::Under => cell < at,
                Comparison::AtLeast => cell >= at,
                Comparison::AtMost => cell <= at,
            };
            if holds {
                set.insert(cell);
            }
        }
        if comparison == Comparison::NotEqual { set.or(self.absent()) } else { set }
    }
}
