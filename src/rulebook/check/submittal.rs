//! A paper to hand in: `submit: {for: review, due: before work starts}`. The section prints it as `{{ submit }}`, so that
//! what it asks for and what the test plan lists cannot differ.

use super::desk::Desk;
use super::mistake_clause::ClauseMistake;
use super::mistake_name::{listed, meant};
use crate::diagnostic::Place;
use crate::rulebook::clause::{Purpose, Submittal};
use crate::yaml::Node;

/// The key, and the name by which words print it.
pub(super) const SUBMIT: &str = "submit";
/// What it holds.
const PARTS: [&str; 2] = ["for", "due"];
/// How it is written.
const HELP: &str = "write `submit: {for: review, due: before work starts}`, or `for: record`";

impl Desk {
    /// Reads the paper that a clause asks for; `at` finds a place of the front matter in the file.
    pub(super) fn submittal(&mut self, node: &Node, at: &dyn Fn(&Place) -> Place) -> Option<Submittal> {
        let Some(pairs) = node.as_map() else {
            self.unfit_part(node.what(), SUBMIT, HELP, at(&node.place));
            return None;
        };
        for (key, _) in pairs.iter().filter(|(key, _)| !PARTS.contains(&key.name.as_str())) {
            let help = meant(&key.name, PARTS, || listed(PARTS));
            self.error(&ClauseMistake::UnknownKey { name: key.name.clone(), help }, at(&key.place));
        }
        let part = |part: &str| node.get(part).and_then(Node::as_text);
        let purpose = match part("for") {
            Some("review") => Some(Purpose::Review),
            Some("record") => Some(Purpose::Record),
            _ => None,
        };
        let read = purpose.zip(part("due")).map(|(purpose, due)| Submittal { purpose, due: due.to_owned() });
        if read.is_none() {
            self.unfit_part(part("for").unwrap_or_default(), SUBMIT, HELP, at(&node.place));
        }
        read
    }
}
