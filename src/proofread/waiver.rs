//! Waivers: findings that somebody stands for, with a reason and a day on which that ends.

use std::sync::Arc;

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use super::finding::Finding;
use super::rules::Rules;
use crate::diagnostic::{Diagnostic, Source, nearest};
use crate::yaml::{self, Node};

/// A file of waivers that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error, MietteDiagnostic)]
pub enum WaiverMistake {
    /// A record that lacks something.
    #[error("this waiver lacks `{key}`")]
    #[diagnostic(
        code(PF010),
        help("a waiver says `check`, `clause`, `reason`, `who` and `expires`, a day as YYYY-MM-DD")
    )]
    Lacks {
        /// What is missing.
        key: &'static str,
    },
    /// A check that there is none of.
    #[error("`{name}` is not a check of proofreading")]
    #[diagnostic(code(PF011), help("{help}"))]
    NoCheck {
        /// As written.
        name: String,
        /// The nearest name.
        help: String,
    },
    /// Something else than a day.
    #[error("`{written}` is not a day")]
    #[diagnostic(code(PF012), help("write it as 2027-03-31"))]
    NoDay {
        /// As written.
        written: String,
    },
    /// A file of another form.
    #[error("a list of waivers is wanted here, and this is {what}")]
    #[diagnostic(code(PF013), help("begin the file with `waivers:` and write each below it as `- check: …`"))]
    NoList {
        /// What stands there.
        what: String,
    },
}

/// One waiver.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiver {
    /// The check.
    pub check: String,
    /// The clause by number or by name, or the paper.
    pub clause: String,
    /// Why the finding may stand.
    pub reason: String,
    /// The role that says so.
    pub who: String,
    /// The last day on which it holds, `YYYY-MM-DD`.
    pub expires: String,
}

impl Waiver {
    /// Whether it no longer holds on a day.
    pub fn is_over(&self, day: &str) -> bool {
        !day.is_empty() && self.expires.as_str() < day
    }

    pub(super) fn covers(&self, finding: &Finding) -> bool {
        let is_there = |place: &str| {
            place
                .strip_prefix(self.clause.as_str())
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        };
        self.check == finding.check
            && (is_there(&finding.clause)
                || finding.paper == self.clause
                || finding.name.as_deref() == Some(self.clause.as_str()))
    }
}

/// Reads a file of waivers, or says all that is wrong with it.
pub fn waivers(file: &Arc<Source>, rules: &Rules) -> Result<Vec<Waiver>, Vec<Diagnostic>> {
    let (root, mut mistakes) = yaml::read(file);
    let mut waivers = Vec::new();
    if let Some(root) = root {
        match root.get("waivers").and_then(Node::as_list) {
            Some(nodes) => {
                for node in nodes {
                    match waiver(node, rules) {
                        Ok(waiver) => waivers.push(waiver),
                        Err(found) => mistakes.extend(found),
                    }
                }
            }
            None => mistakes.push(Diagnostic::error(
                &WaiverMistake::NoList { what: root.what().to_owned() },
                root.place.clone(),
            )),
        }
    }
    if mistakes.iter().any(Diagnostic::is_error) { Err(mistakes) } else { Ok(waivers) }
}

fn waiver(node: &Node, rules: &Rules) -> Result<Waiver, Vec<Diagnostic>> {
    let mut mistakes = Vec::new();
    let mut text = |key: &'static str| match node.get(key).and_then(Node::as_text) {
        Some(words) if !words.trim().is_empty() => words.trim().to_owned(),
        _ => {
            mistakes.push(Diagnostic::error(&WaiverMistake::Lacks { key }, node.place.clone()));
            String::new()
        }
    };
    let waiver = Waiver {
        check: text("check"),
        clause: text("clause"),
        reason: text("reason"),
        who: text("who"),
        expires: text("expires"),
    };
    let place = |key: &str| node.get(key).map_or_else(|| node.place.clone(), |node| node.place.clone());
    if !waiver.check.is_empty() && rules.checks().all(|check| check.name != waiver.check) {
        let near = nearest(&waiver.check, rules.checks().map(|check| check.name.as_str()));
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`docs/proofreading.md` lists the checks".to_owned(),
        };
        let mistake = WaiverMistake::NoCheck { name: waiver.check.clone(), help };
        mistakes.push(Diagnostic::error(&mistake, place("check")));
    }
    if !waiver.expires.is_empty() && waiver.expires.parse::<jiff::civil::Date>().is_err() {
        let mistake = WaiverMistake::NoDay { written: waiver.expires.clone() };
        mistakes.push(Diagnostic::error(&mistake, place("expires")));
    }
    if mistakes.is_empty() { Ok(waiver) } else { Err(mistakes) }
}
