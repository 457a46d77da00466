//! Names that stand for values (`&name`, `*name`), and the budget that keeps them from growing without end.

use std::collections::BTreeMap;

use super::mistake::YamlMistake;
use super::read::{MOST_BYTES, MOST_DEPTH, MOST_NODES};
use super::{Node, Value};

/// How much a value holds, itself included.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Weight {
    /// Values.
    pub(super) nodes: usize,
    /// Bytes of text, names included.
    pub(super) bytes: usize,
    /// Levels; 1 for a text.
    pub(super) levels: usize,
}

impl Weight {
    /// The weight of one text.
    pub(super) fn of_text(text: &str) -> Self {
        Self { nodes: 1, bytes: text.len(), levels: 1 }
    }

    /// Adds something that stands inside.
    pub(super) fn hold(&mut self, inner: Self) {
        self.nodes += inner.nodes;
        self.bytes += inner.bytes;
        self.levels = self.levels.max(inner.levels + 1);
    }
}

/// The named values, and what has been built so far.
#[derive(Debug, Default)]
pub(super) struct Anchors {
    named: BTreeMap<usize, (Value, Weight)>,
    built: Weight,
}

impl Anchors {
    /// Counts something newly built towards the budget; `level` is how deep it stands.
    pub(super) fn spend(&mut self, weight: Weight, level: usize) -> Result<(), YamlMistake> {
        self.built.nodes += weight.nodes;
        self.built.bytes += weight.bytes;
        if level + weight.levels > MOST_DEPTH {
            Err(YamlMistake::TooDeep { most: MOST_DEPTH })
        } else if self.built.nodes > MOST_NODES {
            Err(YamlMistake::TooMuch { most: MOST_NODES, of: "values" })
        } else if self.built.bytes > MOST_BYTES {
            Err(YamlMistake::TooMuch { most: MOST_BYTES, of: "bytes of text" })
        } else {
            Ok(())
        }
    }

    /// Keeps a copy of a named value.
    pub(super) fn keep(&mut self, anchor: usize, node: &Node, weight: Weight) -> Result<(), YamlMistake> {
        if anchor == 0 {
            return Ok(());
        }
        self.spend(weight, 0)?;
        self.named.insert(anchor, (node.value.clone(), weight));
        Ok(())
    }

    /// What a name stands for; `None` while that value is still being read.
    pub(super) fn get(&self, anchor: usize) -> Option<&(Value, Weight)> {
        self.named.get(&anchor)
    }
}
