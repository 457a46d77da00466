//! Conditions as flat rows of tests; `not` stands at the tests alone (De Morgan holds in three values).

use crate::inference::truth::Truth;

/// One test of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Test {
    /// The column.
    pub(super) column: u32,
    /// The cells in which it holds.
    pub(super) cells: u64,
    /// Whether the test is turned round.
    pub(super) sense: Sense,
}

/// Whether a test is meant as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// It is.
    Straight,
    /// It must not hold.
    Turned,
}

impl Sense {
    /// The opposite.
    pub(super) fn turned(self) -> Self {
        match self {
            Self::Straight => Self::Turned,
            Self::Turned => Self::Straight,
        }
    }
}

/// A part of a row. A group stands before its parts and says how many nodes they take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Node {
    /// A test.
    Test(Test),
    /// All of the next nodes.
    All(u32),
    /// Any of the next nodes.
    Any(u32),
}

impl Test {
    fn truth(self, columns: &[u64]) -> Truth {
        let possible = columns.get(self.column as usize).copied().unwrap_or(0);
        let inside = possible & self.cells != 0;
        let outside = possible & !self.cells != 0;
        match (self.sense, inside, outside) {
            (Sense::Straight, false, _) | (Sense::Turned, true, false) => Truth::No,
            (Sense::Straight, true, false) | (Sense::Turned, false, _) => Truth::Yes,
            (_, true, true) => Truth::Unknown,
        }
    }
}

/// All of these.
pub(super) fn all(mut nodes: &[Node], columns: &[u64]) -> Truth {
    let mut truth = Truth::Yes;
    while let Some((here, rest)) = first(nodes, columns) {
        truth = truth.and(here);
        if truth == Truth::No {
            break;
        }
        nodes = rest;
    }
    truth
}

/// Any of these.
fn any(mut nodes: &[Node], columns: &[u64]) -> Truth {
    let mut truth = Truth::No;
    while let Some((here, rest)) = first(nodes, columns) {
        truth = truth.or(here);
        if truth == Truth::Yes {
            break;
        }
        nodes = rest;
    }
    truth
}

/// The first part, and what comes after it.
fn first<'n>(nodes: &'n [Node], columns: &[u64]) -> Option<(Truth, &'n [Node])> {
    let (node, after) = nodes.split_first()?;
    Some(match node {
        Node::Test(test) => (test.truth(columns), after),
        Node::All(count) => {
            let (parts, rest) = after.split_at_checked(*count as usize)?;
            (all(parts, columns), rest)
        }
        Node::Any(count) => {
            let (parts, rest) = after.split_at_checked(*count as usize)?;
            (any(parts, columns), rest)
        }
    })
}
