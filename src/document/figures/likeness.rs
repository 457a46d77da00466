//! `drawings.yaml`: what materials look like when they are cut, and which signs the owner's sheet draws.

use crate::diagnostic::Diagnostic;
use crate::document::data_file::DataFile;
use crate::drawing::Pattern;
use crate::drawing::chart::SignShape;
use crate::yaml::Node;

/// Everything that `drawings.yaml` says.
#[derive(Debug, Clone, Default)]
pub(in crate::document) struct Likeness {
    /// Materials with the pattern of each.
    materials: Vec<(String, Pattern)>,
    /// Clauses about signs, each with what is drawn of it.
    pub(super) signs: Vec<(String, SignShape)>,
}

/// The patterns by name.
const PATTERNS: [(&str, Pattern); 4] = [
    ("brick", Pattern::Brick),
    ("block", Pattern::Block),
    ("stone", Pattern::Stone),
    ("mortar", Pattern::Mortar),
];

/// No more signs are drawn.
const SIGNS: usize = 6;

impl Likeness {
    /// Reads the file; what is wrong with it goes to `mistakes`.
    pub(in crate::document) fn of(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Self {
        Self { materials: materials(root, mistakes), signs: signs(root, mistakes) }
    }

    /// What the cut of a material looks like.
    pub(super) fn pattern(&self, material: &str) -> Pattern {
        let known = self.materials.iter().find(|(name, _)| name == material);
        known.map_or(Pattern::Plain, |(_, pattern)| *pattern)
    }
}

fn materials(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Vec<(String, Pattern)> {
    let mut found = Vec::new();
    let Some(pairs) = root.get("materials").and_then(Node::as_map) else {
        DataFile::Drawings.complain(root, "there is no `materials` here, and a record is wanted", mistakes);
        return found;
    };
    for (key, node) in pairs {
        let Some(pattern) = one_of(&PATTERNS, &key.name) else {
            DataFile::Drawings.complain(node, unknown(&key.name, "pattern", &PATTERNS), mistakes);
            continue;
        };
        let names = node.as_list().unwrap_or_default().iter().filter_map(Node::as_text);
        found.extend(names.map(|name| (name.to_owned(), pattern)));
    }
    found
}

fn signs(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Vec<(String, SignShape)> {
    let Some(nodes) = root.get("signs").and_then(Node::as_list) else {
        DataFile::Drawings.complain(root, "there is no `signs` here, and a list is wanted", mistakes);
        return Vec::new();
    };
    if nodes.len() > SIGNS {
        DataFile::Drawings.complain(
            root,
            format!("{SIGNS} signs are drawn at most, and here are {}", nodes.len()),
            mistakes,
        );
    }
    let mut found = Vec::new();
    for node in nodes {
        let text = |key: &str| node.get(key).and_then(Node::as_text);
        let (Some(clause), Some(shape)) = (text("clause"), text("shape")) else {
            DataFile::Drawings.complain(node, "a record with `clause` and `shape` is wanted here", mistakes);
            continue;
        };
        match one_of(&SignShape::NAMES, shape) {
            Some(shape) => found.push((clause.to_owned(), shape)),
            None => DataFile::Drawings.complain(node, unknown(shape, "shape", &SignShape::NAMES), mistakes),
        }
    }
    found
}

fn one_of<T: Copy>(known: &[(&str, T)], name: &str) -> Option<T> {
    known.iter().find(|(one, _)| *one == name).map(|(_, meaning)| *meaning)
}

fn unknown<T>(name: &str, what: &str, known: &[(&str, T)]) -> String {
    let known: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    format!("`{name}` is no {what}; those known are `{}`", known.join("`, `"))
}
