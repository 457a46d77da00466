//! A small decision diagram over facts with more than two answers (Bryant 1986; a node has a branch for each answer). It
//! counts: the number of ways to reach yes is the number of kinds of survey. Equal parts are kept once, and an edge may
//! say that its answer is turned round.

use indexmap::IndexMap;
use num_bigint::BigUint;

/// An edge: the node it leads to, and whether its answer is turned round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Edge(u32);

impl Edge {
    /// No.
    pub(crate) const NO: Self = Self(0);
    /// Yes.
    pub(crate) const YES: Self = Self(1);

    fn node(self) -> usize {
        (self.0 >> 1) as usize
    }

    fn is_turned(self) -> bool {
        self.0 & 1 == 1
    }
}

impl std::ops::Not for Edge {
    type Output = Self;

    fn not(self) -> Self {
        Self(self.0 ^ 1)
    }
}

/// A node: which fact it asks, and where each answer leads.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Node {
    level: usize,
    branches: Vec<Edge>,
}

/// The diagram ran over its budget of nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct TooLarge;

/// A diagram over facts with so many answers each.
#[derive(Debug)]
pub(crate) struct Diagram {
    sizes: Vec<usize>,
    nodes: IndexMap<Node, ()>,
    joined: IndexMap<(Edge, Edge), Edge>,
    budget: usize,
}

impl Diagram {
    /// An empty diagram; `sizes` says how many answers each fact has.
    pub(crate) fn new(sizes: Vec<usize>, budget: usize) -> Self {
        let mut nodes = IndexMap::new();
        // The leaf stands past every fact.
        nodes.insert(Node { level: sizes.len(), branches: Vec::new() }, ());
        Self { sizes, nodes, joined: IndexMap::new(), budget }
    }

    /// The fact of this level has this answer.
    pub(crate) fn is(&mut self, level: usize, answer: usize) -> Result<Edge, TooLarge> {
        let size = self.sizes.get(level).copied().unwrap_or(0);
        let branches = (0..size).map(|own| if own == answer { Edge::YES } else { Edge::NO });
        self.node(level, branches.collect())
    }

    fn node(&mut self, level: usize, branches: Vec<Edge>) -> Result<Edge, TooLarge> {
        let first = branches.first().copied().unwrap_or(Edge::NO);
        if branches.iter().all(|branch| *branch == first) {
            return Ok(first);
        }
        let turned = first.is_turned();
        let branches = branches.into_iter().map(|branch| if turned { !branch } else { branch }).collect();
        let (at, _) = self.nodes.insert_full(Node { level, branches }, ());
        if at >= self.budget {
            return Err(TooLarge);
        }
        let edge = Edge(u32::try_from(at).map_err(|_| TooLarge)? << 1);
        Ok(if turned { !edge } else { edge })
    }

    fn level(&self, edge: Edge) -> usize {
        self.nodes.get_index(edge.node()).map_or(self.sizes.len(), |(node, ())| node.level)
    }

    /// Where an edge leads with each answer to the fact of a level.
    fn branches(&self, edge: Edge, level: usize) -> Vec<Edge> {
        let size = self.sizes.get(level).copied().unwrap_or(0);
        match self.nodes.get_index(edge.node()) {
            Some((node, ())) if node.level == level => {
                node.branches.iter().map(|branch| if edge.is_turned() { !*branch } else { *branch }).collect()
            }
            _ => vec![edge; size],
        }
    }

    /// Both.
    pub(crate) fn and(&mut self, one: Edge, other: Edge) -> Result<Edge, TooLarge> {
        if one == Edge::NO || other == Edge::NO || one == !other {
            return Ok(Edge::NO);
        }
        if one == Edge::YES || one == other {
            return Ok(other);
        }
        if other == Edge::YES {
            return Ok(one);
        }
        let key = (one.min(other), one.max(other));
        if let Some(known) = self.joined.get(&key) {
            return Ok(*known);
        }
        let level = self.level(one).min(self.level(other));
        let (left, right) = (self.branches(one, level), self.branches(other, level));
        let mut branches = Vec::with_capacity(left.len());
        for (one, other) in left.into_iter().zip(right) {
            branches.push(self.and(one, other)?);
        }
        let joined = self.node(level, branches)?;
        self.joined.insert(key, joined);
        Ok(joined)
    }

    /// In how many ways all facts together can be answered so that the edge says yes.
    pub(crate) fn count(&self, edge: Edge) -> BigUint {
        let mut known = IndexMap::new();
        self.count_from(edge, 0, &mut known)
    }

    fn count_from(&self, edge: Edge, level: usize, known: &mut IndexMap<Edge, BigUint>) -> BigUint {
        let own = self.level(edge);
        let skipped: BigUint =
            self.sizes.iter().take(own).skip(level).map(|size| BigUint::from(*size)).product();
        if edge == Edge::NO || edge == Edge::YES {
            return if edge == Edge::YES { skipped } else { BigUint::from(0_u8) };
        }
        if let Some(count) = known.get(&edge) {
            return count * skipped;
        }
        let branches = self.branches(edge, own);
        let count: BigUint = branches.into_iter().map(|branch| self.count_from(branch, own + 1, known)).sum();
        known.insert(edge, count.clone());
        count * skipped
    }
}
