//! One changed cell of a catalogue.

use super::mistake::LayeringMistake;
use crate::diagnostic::{Diagnostic, Place, nearest};
use crate::yaml::{Key, Node, Value};

/// A change to one cell.
#[derive(Clone, Debug)]
pub(in crate::rulebook) struct CellChange {
    /// The catalogue.
    pub(super) catalogue: (String, Place),
    /// The row.
    pub(super) option: (String, Place),
    /// The column.
    pub(super) column: (String, Place),
    /// What the book below is said to hold.
    pub(super) from: (String, Place),
    /// What the firm puts there.
    pub(super) to: (String, Place),
    /// The firm's sources, as written in a catalogue.
    pub(super) per: String,
}

impl CellChange {
    /// Whether it concerns a catalogue.
    pub(in crate::rulebook) fn concerns(&self, catalogue: &str) -> bool {
        self.catalogue.0 == catalogue
    }

    /// Says that there is no such catalogue.
    pub(in crate::rulebook) fn no_catalogue<'n>(&self, known: impl Iterator<Item = &'n str>) -> Diagnostic {
        missing("catalogue", &self.catalogue, known)
    }

    /// Makes the change in a catalogue that was read.
    pub(in crate::rulebook) fn make(&self, catalogue: &mut Node) -> Result<(), Box<Diagnostic>> {
        let options = child(catalogue, "options");
        let row = options.and_then(|options| pick(options, "row", &self.option).transpose()).transpose()?;
        let Some(row) = row else { return Ok(()) };
        let Some(cell) = pick(row, "column", &self.column)? else { return Ok(()) };
        let held = cell.get("value").unwrap_or(cell);
        let below = written(held);
        if below != self.from.0 {
            let mistake = LayeringMistake::OldValue { below, quoted: self.from.0.clone() };
            let told = Diagnostic::error(&mistake, self.from.1.clone());
            return Err(Box::new(told.and(held.place.clone(), "the cell")));
        }
        *cell = self.cell();
        Ok(())
    }

    /// The new cell, with its source.
    fn cell(&self) -> Node {
        let place = &self.to.1;
        let key = |name: &str| Key { name: name.to_owned(), place: place.clone() };
        let per = Node { place: place.clone(), value: Value::Text(self.per.clone()) };
        let pairs = vec![(key("value"), value_node(&self.to.0, place)), (key("per"), per)];
        Node { place: place.clone(), value: Value::Map(pairs) }
    }
}

/// A value as a catalogue has it: one, or a span of two.
pub(super) fn value_node(written: &str, place: &Place) -> Node {
    let text = |text: &str| Node { place: place.clone(), value: Value::Text(text.to_owned()) };
    match written.strip_prefix('[').and_then(|inner| inner.strip_suffix(']')) {
        Some(ends) => {
            let ends = ends.split(',').map(|end| text(end.trim())).collect();
            Node { place: place.clone(), value: Value::List(ends) }
        }
        None => text(written),
    }
}

/// A cell as a change quotes it.
fn written(node: &Node) -> String {
    match &node.value {
        Value::Text(text) => text.split_whitespace().collect::<Vec<_>>().join(" "),
        Value::List(nodes) => format!("[{}]", nodes.iter().map(written).collect::<Vec<_>>().join(", ")),
        Value::Empty | Value::Map(_) => String::new(),
    }
}

pub(super) fn child<'n>(node: &'n mut Node, name: &str) -> Option<&'n mut Node> {
    let Value::Map(pairs) = &mut node.value else { return None };
    pairs.iter_mut().find(|(key, _)| key.name == name).map(|(_, node)| node)
}

/// The part of a record that a change names; nothing if it is no record, which is reported elsewhere.
fn pick<'n>(
    node: &'n mut Node,
    what: &'static str,
    named: &(String, Place),
) -> Result<Option<&'n mut Node>, Box<Diagnostic>> {
    let Some(pairs) = node.as_map() else { return Ok(None) };
    if !pairs.iter().any(|(key, _)| key.name == named.0) {
        let known = pairs.iter().map(|(key, _)| key.name.as_str());
        return Err(Box::new(missing(what, named, known)));
    }
    Ok(child(node, &named.0))
}

pub(super) fn missing<'n>(
    what: &'static str,
    (name, place): &(String, Place),
    known: impl Iterator<Item = &'n str>,
) -> Diagnostic {
    let known: Vec<&str> = known.filter(|name| *name != "title").collect();
    let help = match nearest(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there are {}", known.join(", ")),
    };
    Diagnostic::error(&LayeringMistake::NoCell { what, name: name.clone(), help }, place.clone())
}
