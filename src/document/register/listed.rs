//! `register.yaml`: what each paper is for, which governs, and how papers are read beside each other.

use crate::diagnostic::Diagnostic;
use crate::document::data_file::DataFile;
use crate::yaml::Node;

/// Everything that `register.yaml` says.
#[derive(Debug, Clone, Default)]
pub(in crate::document) struct Order {
    /// In the order in which contract papers govern.
    pub(super) papers: Vec<Described>,
    /// What stands above every paper.
    pub(super) above: Vec<String>,
    /// How papers are read beside each other.
    pub(super) within: Vec<String>,
}

/// What is said of a paper.
#[derive(Debug, Clone)]
pub(super) struct Described {
    pub(super) name: String,
    /// What it is for.
    pub(super) purpose: String,
    /// Who reads it.
    pub(super) readers: String,
}

impl Order {
    /// Reads the file; each of `papers` must stand in it.
    pub(in crate::document) fn read<'n>(
        root: &Node,
        papers: impl Iterator<Item = &'n str>,
        mistakes: &mut Vec<Diagnostic>,
    ) -> Self {
        let described = described(root, mistakes);
        for name in papers.filter(|name| !described.iter().any(|paper| paper.name == *name)) {
            DataFile::Register.complain(
                root,
                format!("the paper `{name}` does not stand under `papers:`"),
                mistakes,
            );
        }
        Self {
            papers: described,
            above: sentences(root, "above", mistakes),
            within: sentences(root, "within", mistakes),
        }
    }
}

fn described(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Vec<Described> {
    let Some(nodes) = root.get("papers").and_then(Node::as_list) else {
        DataFile::Register.complain(root, "`papers:` is a list of records", mistakes);
        return Vec::new();
    };
    let mut found = Vec::new();
    for node in nodes {
        let field = |key: &str| node.get(key).and_then(Node::as_text).map(str::to_owned);
        match (field("name"), field("for"), field("read-by")) {
            (Some(name), Some(purpose), Some(readers)) => found.push(Described { name, purpose, readers }),
            _ => DataFile::Register.complain(
                node,
                "a record with `name`, `for`, `read-by` is wanted here",
                mistakes,
            ),
        }
    }
    found
}

fn sentences(root: &Node, key: &str, mistakes: &mut Vec<Diagnostic>) -> Vec<String> {
    let nodes = root.get(key).and_then(Node::as_list);
    let all: Option<Vec<String>> =
        nodes.and_then(|nodes| nodes.iter().map(|node| node.as_text().map(str::to_owned)).collect());
    all.unwrap_or_else(|| {
        DataFile::Register.complain(root, format!("`{key}:` is a list of sentences"), mistakes);
        Vec::new()
    })
}
