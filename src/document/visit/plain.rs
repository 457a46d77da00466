//! `visit.yaml`: what the letter of findings says to an owner of an answer, of a question that is open, and of a stop.

use crate::diagnostic::Diagnostic;
use crate::document::data_file::DataFile;
use crate::yaml::Node;

/// Everything that `visit.yaml` says.
#[derive(Debug, Clone, Default)]
pub(in crate::document) struct Plain {
    /// In the order in which the letter says them.
    pub(super) seen: Vec<Seen>,
    /// Of open questions.
    pub(super) open: Vec<Unknown>,
    /// Of stops that are certain.
    pub(super) stops: Vec<Stopped>,
    /// The most points of each list.
    pub(super) most: usize,
}

/// What is said of an answer.
#[derive(Debug, Clone)]
pub(super) struct Seen {
    pub(super) fact: String,
    /// The answer, as a word of the survey.
    pub(super) is: String,
    pub(super) say: String,
}

/// What is said of an open question.
#[derive(Debug, Clone)]
pub(super) struct Unknown {
    pub(super) fact: String,
    pub(super) say: String,
    pub(super) why: String,
    /// What happens next.
    pub(super) next: String,
}

/// What is said of a stop.
#[derive(Debug, Clone)]
pub(super) struct Stopped {
    pub(super) rule: String,
    pub(super) say: String,
}

impl Plain {
    /// Reads the file.
    pub(in crate::document) fn read(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Self {
        let seen = records(root, "seen", &["fact", "is", "say"], mistakes);
        let open = records(root, "open", &["fact", "say", "why", "next"], mistakes);
        let stops = records(root, "stops", &["rule", "say"], mistakes);
        let most = root.get("most").and_then(Node::as_text).and_then(|text| text.parse().ok());
        if most.is_none() {
            DataFile::Visit.complain(
                root,
                "`most:` is a whole number: the points of a list in a letter of one page",
                mistakes,
            );
        }
        let seen = seen.into_iter().filter_map(|fields| {
            let [fact, is, say] = <[String; 3]>::try_from(fields).ok()?;
            Some(Seen { fact, is, say })
        });
        let open = open.into_iter().filter_map(|fields| {
            let [fact, say, why, next] = <[String; 4]>::try_from(fields).ok()?;
            Some(Unknown { fact, say, why, next })
        });
        let stops = stops.into_iter().filter_map(|fields| {
            let [rule, say] = <[String; 2]>::try_from(fields).ok()?;
            Some(Stopped { rule, say })
        });
        Self {
            seen: seen.collect(),
            open: open.collect(),
            stops: stops.collect(),
            most: most.unwrap_or_default(),
        }
    }
}

/// The fields of each record of a list, in the order of their keys.
fn records(root: &Node, list: &str, keys: &[&str], mistakes: &mut Vec<Diagnostic>) -> Vec<Vec<String>> {
    let Some(nodes) = root.get(list).and_then(Node::as_list) else {
        DataFile::Visit.complain(root, format!("`{list}:` is a list of records"), mistakes);
        return Vec::new();
    };
    let mut found = Vec::new();
    for node in nodes {
        let field = |key: &&str| node.get(key).and_then(Node::as_text).map(str::to_owned);
        match keys.iter().map(field).collect::<Option<Vec<String>>>() {
            Some(fields) => found.push(fields),
            None => {
                DataFile::Visit.complain(
                    node,
                    format!("a record with `{}` is wanted here", keys.join("`, `")),
                    mistakes,
                );
            }
        }
    }
    found
}
