//! Strong Kleene logic.

/// Yes, no, or not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Truth {
    /// Certainly not.
    #[default]
    No,
    /// Not known.
    Unknown,
    /// Certainly.
    Yes,
}

impl Truth {
    /// The weaker of the two: `and`.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.min(other)
    }

    /// The stronger of the two: `or`.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        self.max(other)
    }

    /// The opposite.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::No => Self::Yes,
            Self::Unknown => Self::Unknown,
            Self::Yes => Self::No,
        }
    }

    /// Whether a duty of this truth is shown: it is not certainly false.
    pub fn is_shown(self) -> bool {
        self != Self::No
    }

    /// The word printed for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::No => "no",
            Self::Unknown => "not known",
            Self::Yes => "yes",
        }
    }

    /// Whether it is certain either way.
    pub fn is_settled(self) -> bool {
        self != Self::Unknown
    }
}

impl From<bool> for Truth {
    fn from(holds: bool) -> Self {
        if holds { Self::Yes } else { Self::No }
    }
}
