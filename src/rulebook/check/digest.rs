//! The canonical reprint of a book and the digests over it.

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest as _, Sha256};

use super::desk::Desk;
use crate::diagnostic::Source;
use crate::rulebook::syntax::ast::{Body, File, Word};
use crate::rulebook::syntax::print::canonical;
use crate::yaml::{Node, Value};

/// Parts of the reprint by kind and name.
pub(super) type Reprint = BTreeMap<String, String>;

/// Kind and name; heads and changes go by what they name.
fn key(body: &Body) -> String {
    let named = |kind: &str, name: &Word| format!("{kind} {}", name.value);
    match body {
        Body::Rulebook(_) => "rulebook".to_owned(),
        Body::House(_) => "house rulebook".to_owned(),
        Body::Source(said) => named("source", &said.name),
        Body::Stage(said) => named("stage", &said.name),
        Body::Fact(said) => named("fact", &said.name),
        Body::Worked(said) => named("worked", &said.name),
        Body::Quantity(said) => named("quantity", &said.name),
        Body::Slot(said) => named("slot", &said.name),
        Body::Finding(said) => named("finding", &said.name),
        Body::Rule(said) => named("rule", &said.name),
        Body::Promise(said) => named("promise", &said.name),
        Body::Waive(_) | Body::Amend(_) | Body::Add(_) => {
            canonical(body).lines().next().unwrap_or_default().to_owned()
        }
        Body::Withdraw(said) => named("withdraw rule", &said.rule),
    }
}

/// A catalogue or front matter in one form: names and values one a line, comments and layout left out.
pub(super) fn tree(node: &Node) -> String {
    let mut out = String::new();
    write_node(node, 0, &mut out);
    out
}

fn write_node(node: &Node, depth: usize, out: &mut String) {
    match &node.value {
        Value::Empty => out.push_str("~\n"),
        Value::Text(text) => {
            out.push_str(&text.split_ascii_whitespace().collect::<Vec<_>>().join(" "));
            out.push('\n');
        }
        Value::List(nodes) => {
            out.push('\n');
            for node in nodes {
                indent(depth, out);
                out.push_str("- ");
                write_node(node, depth + 1, out);
            }
        }
        Value::Map(pairs) => {
            out.push('\n');
            for (key, node) in pairs {
                indent(depth, out);
                out.push_str(&key.name);
                out.push_str(": ");
                write_node(node, depth + 1, out);
            }
        }
    }
}

fn indent(depth: usize, out: &mut String) {
    out.extend(std::iter::repeat_n("  ", depth));
}

/// A clause file in one form: line ends and the space at the ends of lines left out.
pub(super) fn clause(file: &Source) -> String {
    file.text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n").trim_end().to_owned() + "\n"
}

impl Desk {
    /// Takes the digests over the statements, and over the catalogues and clauses read before.
    pub(super) fn digests(&mut self, trees: &[File]) {
        let mut reprint = std::mem::take(&mut self.reprint);
        let printed: Vec<Vec<(String, String)>> = trees
            .par_iter()
            .map(|tree| tree.statements().map(|said| (key(&said.body), canonical(&said.body))).collect())
            .collect();
        reprint.extend(printed.into_iter().flatten());
        let mut whole = Sha256::new();
        for (key, text) in &reprint {
            whole.update(key.as_bytes());
            whole.update(b"\n");
            whole.update(text.as_bytes());
            whole.update(b"\n");
            self.book.statement_digests.insert(key.clone(), hex(&Sha256::digest(text.as_bytes())));
        }
        self.book.digest = hex(&whole.finalize());
    }
}

fn hex(bytes: &[u8]) -> String {
    let halves = bytes.iter().flat_map(|byte| [byte >> 4, byte & 0xF]);
    halves.filter_map(|half| char::from_digit(u32::from(half), 16)).collect()
}
