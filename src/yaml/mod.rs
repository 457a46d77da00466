//! Any YAML text in, a tree of texts, lists and records with places out. The only code that knows YAML; it never
//! knows what a text means.
//!
//! Scalars stay the text that was written: `yes`, `012`, `0o17` and `1.0` are not turned into anything else, for
//! only the rulebook knows what kind a fact has. Events come from the parser beneath `serde_yaml`, because serde
//! itself would resolve the scalars and stop at the first mistake. Hostile input is a clear mistake: too large, too
//! deep, too many values, names that stand for names without end.

mod anchors;
mod mistake;
mod read;
mod resume;
mod syntax;
mod tree;

pub use mistake::YamlMistake;
pub use read::{MOST_BYTES, MOST_DEPTH, MOST_NODES, read};

use crate::diagnostic::Place;

/// One value and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// The stretch of text it was read from; where a name stands for a value, the place of the name.
    pub place: Place,
    /// What stands there.
    pub value: Value,
}

/// What may stand in a YAML text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// Nothing, `~` or `null`: a question that was not answered.
    Empty,
    /// A word, number or sentence, exactly as written, without its quotes.
    Text(String),
    /// Values one after the other.
    List(Vec<Node>),
    /// Named values in the order written; no name stands twice.
    Map(Vec<(Key, Node)>),
}

/// The name of a value in a record, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// The name as written, without quotes.
    pub name: String,
    /// Where it stands.
    pub place: Place,
}

impl Node {
    /// The value of this name, if this is a record and holds it.
    pub fn get(&self, name: &str) -> Option<&Self> {
        self.as_map()?.iter().find(|(key, _)| key.name == name).map(|(_, node)| node)
    }

    /// The text, if this is one.
    pub fn as_text(&self) -> Option<&str> {
        match &self.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The values, if this is a list.
    pub fn as_list(&self) -> Option<&[Self]> {
        match &self.value {
            Value::List(nodes) => Some(nodes),
            _ => None,
        }
    }

    /// The named values, if this is a record.
    pub fn as_map(&self) -> Option<&[(Key, Self)]> {
        match &self.value {
            Value::Map(pairs) => Some(pairs),
            _ => None,
        }
    }

    /// Whether nothing was answered here.
    pub fn is_empty(&self) -> bool {
        self.value == Value::Empty
    }

    /// What this is, for messages: `nothing`, `a value`, `a list`, `a record`.
    pub fn what(&self) -> &'static str {
        match self.value {
            Value::Empty => "nothing",
            Value::Text(_) => "a value",
            Value::List(_) => "a list",
            Value::Map(_) => "a record",
        }
    }
}
