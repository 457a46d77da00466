//! Builds the tree from the parser's events, without recursion.

use std::collections::BTreeMap;

use super::anchors::{Anchors, Weight};
use super::mistake::YamlMistake;
use super::{Key, Node, Value};
use crate::diagnostic::{Diagnostic, Place};

/// The tree so far, innermost list or record last.
#[derive(Debug, Default)]
pub(super) struct Tree {
    open: Vec<Open>,
    root: Option<Node>,
    anchors: Anchors,
    /// Mistakes that do not stop the reading.
    pub(super) mistakes: Vec<Diagnostic>,
}

/// A list or record whose end has not come yet.
#[derive(Debug)]
struct Open {
    place: Place,
    style: Style,
    anchor: usize,
    weight: Weight,
    held: Held,
}

/// Whether the end of a list or record is marked in the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    /// With brackets.
    Brackets,
    /// By the levels of the lines.
    Lines,
}

#[derive(Debug)]
enum Held {
    List(Vec<Node>),
    Map { pairs: Vec<(Key, Node)>, seen: BTreeMap<String, Place>, awaiting: Awaiting },
}

/// What a record waits for.
#[derive(Debug)]
enum Awaiting {
    Name,
    Value(Key),
    /// The value of a name that was already refused.
    Nothing,
}

/// Which of the two is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    List,
    Map,
}

impl Tree {
    /// Opens a list or record.
    pub(super) fn open(
        &mut self,
        sort: Sort,
        style: Style,
        anchor: usize,
        place: Place,
    ) -> Result<(), YamlMistake> {
        let weight = Weight { nodes: 1, bytes: 0, levels: 1 };
        self.anchors.spend(weight, self.open.len())?;
        let held = match sort {
            Sort::List => Held::List(Vec::new()),
            Sort::Map => Held::Map { pairs: Vec::new(), seen: BTreeMap::new(), awaiting: Awaiting::Name },
        };
        self.open.push(Open { place, style, anchor, weight, held });
        Ok(())
    }

    /// Closes the innermost list or record; `end` is where its closing mark ends.
    pub(super) fn close(&mut self, end: usize) -> Result<(), YamlMistake> {
        let Some(open) = self.open.pop() else { return Ok(()) };
        let (last, value) = match open.held {
            Held::List(nodes) => (nodes.last().map(|node| node.place.end), Value::List(nodes)),
            Held::Map { pairs, .. } => (pairs.last().map(|(_, node)| node.place.end), Value::Map(pairs)),
        };
        let end = match open.style {
            Style::Brackets => end,
            Style::Lines => last.unwrap_or(open.place.end),
        };
        let place = Place::new(&open.place.source, open.place.start, end.max(open.place.end));
        let node = Node { place, value };
        self.anchors.keep(open.anchor, &node, open.weight)?;
        self.add(node, open.weight);
        Ok(())
    }

    /// Adds a text or an empty value.
    pub(super) fn scalar(&mut self, node: Node, anchor: usize) -> Result<(), YamlMistake> {
        let weight = Weight::of_text(node.as_text().unwrap_or_default());
        self.anchors.spend(weight, self.open.len())?;
        self.anchors.keep(anchor, &node, weight)?;
        self.add(node, weight);
        Ok(())
    }

    /// Adds what a name stands for.
    pub(super) fn alias(&mut self, anchor: usize, place: Place) -> Result<(), YamlMistake> {
        let Some((value, weight)) = self.anchors.get(anchor) else {
            self.mistake(&YamlMistake::AliasInItself { written: place.text().to_owned() }, &place);
            self.add(Node { place, value: Value::Empty }, Weight::of_text(""));
            return Ok(());
        };
        let (value, weight) = (value.clone(), *weight);
        self.anchors.spend(weight, self.open.len())?;
        self.add(Node { place, value }, weight);
        Ok(())
    }

    /// The innermost bracket that is still open. A record without brackets of its own in a list with brackets does
    /// not count.
    pub(super) fn open_bracket(&self) -> Option<&Place> {
        let in_brackets = self.open.iter().rev().take_while(|open| open.style == Style::Brackets);
        in_brackets.map(|open| &open.place).find(|place| place.text().starts_with(['[', '{']))
    }

    /// The places where the lists and records begin that go by lines and are still open, outermost first.
    pub(super) fn open_levels(&self) -> impl Iterator<Item = &Place> {
        self.open.iter().filter(|open| open.style == Style::Lines).map(|open| &open.place)
    }

    /// Notes a mistake and goes on.
    pub(super) fn mistake(&mut self, mistake: &YamlMistake, place: &Place) {
        self.mistakes.push(Diagnostic::error(mistake, place.clone()));
    }

    /// The finished tree.
    pub(super) fn finish(self) -> (Option<Node>, Vec<Diagnostic>) {
        (self.root, self.mistakes)
    }

    fn add(&mut self, node: Node, weight: Weight) {
        let Some(open) = self.open.last_mut() else {
            self.root.get_or_insert(node);
            return;
        };
        open.weight.hold(weight);
        match &mut open.held {
            Held::List(nodes) => nodes.push(node),
            Held::Map { pairs, seen, awaiting } => match std::mem::replace(awaiting, Awaiting::Name) {
                Awaiting::Value(key) => pairs.push((key.clone(), placed_at_name(node, &key))),
                Awaiting::Nothing => {}
                Awaiting::Name => {
                    let (next, mistake) = name(node, seen);
                    *awaiting = next;
                    self.mistakes.extend(mistake);
                }
            },
        }
    }
}

/// A value that was left blank stands nowhere; its name shows where it is missing.
fn placed_at_name(node: Node, key: &Key) -> Node {
    let blank = node.is_empty() && node.place.text().is_empty();
    if blank { Node { place: key.place.clone(), ..node } } else { node }
}

/// Takes a node for a name, unless it cannot be one.
fn name(node: Node, seen: &mut BTreeMap<String, Place>) -> (Awaiting, Option<Diagnostic>) {
    let what = node.what();
    let place = node.place;
    let Value::Text(name) = node.value else {
        return (Awaiting::Nothing, Some(Diagnostic::error(&YamlMistake::NotAName { what }, place)));
    };
    if name == "<<" {
        return (Awaiting::Nothing, Some(Diagnostic::error(&YamlMistake::Merge, place)));
    }
    if let Some(first) = seen.get(&name) {
        let mistake = Diagnostic::error(&YamlMistake::Twice { name }, place);
        return (Awaiting::Nothing, Some(mistake.and(first.clone(), "first written here")));
    }
    seen.insert(name.clone(), place.clone());
    (Awaiting::Value(Key { name, place }), None)
}
