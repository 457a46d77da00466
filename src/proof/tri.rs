//! Kleene's three values as two wires: certainly so, and certainly not. Neither means not known; both never happens.

use super::circuit::{Bit, Circuit};

/// A truth as wires.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Tri {
    /// It is certainly so.
    pub(crate) yes: Bit,
    /// It is certainly not so.
    pub(crate) no: Bit,
}

impl Tri {
    /// Always.
    pub(crate) const YES: Self = Self { yes: Bit::TRUE, no: Bit::FALSE };
    /// Never.
    pub(crate) const NO: Self = Self { yes: Bit::FALSE, no: Bit::TRUE };
    /// Nobody knows.
    pub(crate) const UNKNOWN: Self = Self { yes: Bit::FALSE, no: Bit::FALSE };

    /// A truth that is always known.
    pub(crate) fn settled(yes: Bit) -> Self {
        Self { yes, no: !yes }
    }

    /// Yes or no.
    pub(crate) fn from_bool(holds: bool) -> Self {
        if holds { Self::YES } else { Self::NO }
    }

    /// The opposite.
    #[must_use]
    pub(crate) fn negated(self) -> Self {
        Self { yes: self.no, no: self.yes }
    }

    /// Whether a duty of this truth is shown.
    pub(crate) fn shown(self) -> Bit {
        !self.no
    }
}

impl Circuit {
    /// Both, in three values.
    pub(crate) fn both(&mut self, one: Tri, other: Tri) -> Tri {
        Tri { yes: self.and(one.yes, other.yes), no: self.or(one.no, other.no) }
    }

    /// At least one, in three values.
    pub(crate) fn either(&mut self, one: Tri, other: Tri) -> Tri {
        self.both(one.negated(), other.negated()).negated()
    }

    /// All of them, in three values.
    pub(crate) fn every(&mut self, parts: impl IntoIterator<Item = Tri>) -> Tri {
        parts.into_iter().fold(Tri::YES, |all, part| self.both(all, part))
    }

    /// At least one of them, in three values.
    pub(crate) fn some(&mut self, parts: impl IntoIterator<Item = Tri>) -> Tri {
        parts.into_iter().fold(Tri::NO, |any, part| self.either(any, part))
    }

    /// Whether two truths differ.
    pub(crate) fn unlike(&mut self, one: Tri, other: Tri) -> Bit {
        let yes = self.differ(one.yes, other.yes);
        let no = self.differ(one.no, other.no);
        self.or(yes, no)
    }
}
