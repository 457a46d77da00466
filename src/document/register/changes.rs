//! What changed since the issue before, and whether a fact or the rulebook changed it. The survey of then is decided by
//! the book of now: what differs between then and that is the book's doing, what differs between that and now the
//! facts'.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::issue::{Issue, Kind, Said};

/// Two issues of a set to be held against each other.
#[derive(Debug, Clone)]
pub struct Compared {
    /// The issue before.
    pub then: Issue,
    /// Its survey by the book of now; nothing where that book cannot read it.
    pub between: Option<Issue>,
    /// This issue.
    pub now: Issue,
}

/// The change list as the register prints it.
#[derive(Debug, Serialize)]
pub(super) struct Changes {
    revision: Option<String>,
    date: String,
    /// Whether the survey's file has other bytes than then.
    survey_changed: bool,
    /// The book of then, if it was another: title, edition, the first twelve digits of its digest.
    book: Option<[String; 3]>,
    facts: Vec<Row>,
    outcomes: Vec<Row>,
    /// Clauses and rules that stand in both issues and are worded otherwise.
    reworded: Vec<Row>,
}

/// A thing that changed alike in some zones.
#[derive(Debug, Serialize)]
struct Row {
    kind: Kind,
    name: String,
    /// Empty for what is the whole job's.
    zones: Vec<String>,
    /// Empty where it was not there.
    then: String,
    /// Empty where it is not there.
    now: String,
    why: Why,
}

/// What changed it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
enum Why {
    Fact,
    Book,
    Both,
    /// The survey of then cannot be read by the book of now.
    NotToldApart,
}

/// What is alike in all zones of a row.
type Key = (Kind, String, String, String, Why);

impl Changes {
    pub(super) fn of(compared: &Compared) -> Self {
        let Compared { then, now, .. } = compared;
        let (facts, outcomes) =
            rows(compared).into_iter().partition(|row| matches!(row.kind, Kind::Zone | Kind::Fact));
        let other_book = then.rulebook != now.rulebook;
        Self {
            revision: then.survey.revision.clone(),
            date: then.survey.issue_date.clone(),
            survey_changed: then.survey.sha256 != now.survey.sha256,
            book: other_book.then(|| {
                let digest = then.rulebook.sha256.chars().take(12).collect();
                [then.rulebook.title.clone(), then.rulebook.edition.clone(), digest]
            }),
            facts,
            outcomes,
            reworded: reworded(then, now),
        }
    }
}

fn rows(compared: &Compared) -> Vec<Row> {
    let Compared { then, between, now } = compared;
    let codes: BTreeSet<&str> = then.zones().chain(now.zones()).collect();
    let mut found: BTreeMap<Key, Vec<String>> = BTreeMap::new();
    for code in codes {
        let (was, is) = (then.of_zone(code), now.of_zone(code));
        let midway = between.as_ref().map(|between| between.of_zone(code));
        for key in turned(&was, midway.as_ref(), &is) {
            found.entry(key).or_default().push(code.to_owned());
        }
    }
    let midway = between.as_ref().map(Issue::of_job);
    found.extend(turned(&then.of_job(), midway.as_ref(), &now.of_job()).map(|key| (key, Vec::new())));
    found
        .into_iter()
        .map(|((kind, name, then, now, why), zones)| Row { kind, name, zones, then, now, why })
        .collect()
}

/// Everything that is said otherwise. Of a zone that came or went nothing else is said.
fn turned(was: &Said, midway: Option<&Said>, is: &Said) -> impl Iterator<Item = Key> {
    let names: BTreeSet<&(Kind, String)> = was.keys().chain(is.keys()).collect();
    let new_or_gone =
        was.keys().any(|(kind, _)| *kind == Kind::Zone) != is.keys().any(|(kind, _)| *kind == Kind::Zone);
    let word = |said: &Said, name: &(Kind, String)| said.get(name).cloned().unwrap_or_default();
    let keys: Vec<Key> = names
        .into_iter()
        .filter(|name| was.get(*name) != is.get(*name) && (!new_or_gone || name.0 == Kind::Zone))
        .map(|name| {
            let why = midway.map_or(Why::NotToldApart, |midway| {
                match (was.get(name) == midway.get(name), midway.get(name) == is.get(name)) {
                    (true, _) => Why::Fact,
                    (false, true) => Why::Book,
                    (false, false) => Why::Both,
                }
            });
            (name.0, name.1.clone(), word(was, name), word(is, name), why)
        })
        .collect();
    keys.into_iter()
}

fn reworded(then: &Issue, now: &Issue) -> Vec<Row> {
    let (was, is) = (then.statements(), now.statements());
    let other = is.into_iter().filter(|(name, digest)| was.get(name).is_some_and(|old| old != digest));
    other
        .map(|((kind, name), _)| Row {
            kind,
            name,
            zones: Vec::new(),
            then: String::new(),
            now: String::new(),
            why: Why::Book,
        })
        .collect()
}
