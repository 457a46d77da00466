//! An issue of a set, as its `record.json` keeps it: what was answered, what came out, by which book.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::Value;

use crate::document::revised::Sums;

/// What is read of a record. What an older program did not write is empty.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
pub struct Issue {
    pub(super) survey: SurveySaid,
    pub(super) rulebook: BookSaid,
    zones: Vec<ZoneSaid>,
    departures: Vec<Value>,
    releases: Vec<Value>,
    statements: BTreeMap<String, String>,
    printed: BTreeMap<String, Sums>,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default, rename_all = "kebab-case")]
pub(super) struct SurveySaid {
    pub(super) issue_date: String,
    pub(super) revision: Option<String>,
    pub(super) sha256: String,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
pub(super) struct BookSaid {
    pub(super) title: String,
    pub(super) edition: String,
    pub(super) sha256: String,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default, rename_all = "kebab-case")]
struct ZoneSaid {
    code: String,
    answers: BTreeMap<String, Value>,
    choices: BTreeMap<String, ChoiceSaid>,
    limits: Vec<LimitSaid>,
    clauses: BTreeMap<String, Marked>,
    stops: Vec<StopSaid>,
    hold_points: Vec<HoldSaid>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
struct ChoiceSaid {
    picked: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
struct LimitSaid {
    quantity: String,
    bound: String,
    value: String,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
struct Marked {
    mark: Value,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(default)]
struct StopSaid {
    by: BTreeMap<String, Value>,
    released: bool,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
struct HoldSaid {
    name: String,
    before: String,
    released: bool,
}

/// A kind of thing that may change between two issues.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Kind {
    Zone,
    Fact,
    Choice,
    Stop,
    HoldPoint,
    Limit,
    Clause,
    Departure,
    Release,
    Words,
    Rule,
}

/// A thing that may change, by its kind and name, with what is said of it.
pub(super) type Said = BTreeMap<(Kind, String), String>;

impl Issue {
    /// Its revision and date.
    pub(in crate::document) fn named(&self) -> (Option<&str>, &str) {
        (self.survey.revision.as_deref(), &self.survey.issue_date)
    }

    /// The sums of what a paper of it prints; nothing where it was not written, or by an older program.
    pub(in crate::document) fn printed(&self, paper: &str) -> Option<&Sums> {
        self.printed.get(paper)
    }

    /// The codes of its zones.
    pub(super) fn zones(&self) -> impl Iterator<Item = &str> {
        self.zones.iter().map(|zone| zone.code.as_str())
    }

    /// What is said of a zone; that it is there, to begin with.
    pub(super) fn of_zone(&self, code: &str) -> Said {
        let Some(zone) = self.zones.iter().find(|zone| zone.code == code) else { return Said::new() };
        let mut said = Said::from([((Kind::Zone, code.to_owned()), "here".to_owned())]);
        said.extend(zone.answers.iter().map(|(fact, answer)| ((Kind::Fact, fact.clone()), in_words(answer))));
        let choices = zone.choices.iter().filter_map(|(slot, choice)| Some((slot, choice.picked.clone()?)));
        said.extend(choices.map(|(slot, picked)| ((Kind::Choice, slot.clone()), picked)));
        for limit in &zone.limits {
            // the strictest comes first
            let name = format!("{} {}", limit.quantity, limit.bound);
            said.entry((Kind::Limit, name)).or_insert_with(|| limit.value.clone());
        }
        let clauses = zone.clauses.iter();
        said.extend(clauses.map(|(name, marked)| ((Kind::Clause, name.clone()), mark(&marked.mark))));
        said.extend(zone.stops.iter().map(|stop| ((Kind::Stop, stop.name()), standing(stop.released))));
        said.extend(zone.hold_points.iter().map(|hold| {
            ((Kind::HoldPoint, format!("{} before {}", hold.name, hold.before)), standing(hold.released))
        }));
        said
    }

    /// What is said of the whole job: departures and releases.
    pub(super) fn of_job(&self) -> Said {
        let on_file = |kind, list: &[Value]| -> Vec<((Kind, String), String)> {
            list.iter().map(|one| ((kind, in_words(one)), "on file".to_owned())).collect()
        };
        let mut said: Said = on_file(Kind::Departure, &self.departures).into_iter().collect();
        said.extend(on_file(Kind::Release, &self.releases));
        said
    }

    /// The words of clauses and the rules that said something, by digest.
    pub(super) fn statements(&self) -> Said {
        let known = self.statements.iter().filter_map(|(name, digest)| {
            let (kind, name) = name.split_once(' ')?;
            let kind = if kind == "clause" { Kind::Words } else { Kind::Rule };
            Some(((kind, name.to_owned()), digest.clone()))
        });
        known.collect()
    }
}

impl StopSaid {
    fn name(&self) -> String {
        let by = self.by.iter().map(|(kind, name)| match kind.as_str() {
            "rule" => in_words(name),
            "rules" => String::new(),
            other => format!("{other} {}", in_words(name)),
        });
        by.filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" ")
    }
}

fn standing(released: bool) -> String {
    if released { "released" } else { "stands" }.to_owned()
}

/// How sure a duty is, in a word or two.
fn mark(mark: &Value) -> String {
    let key = mark.as_object().and_then(|mark| mark.keys().next()).map(String::as_str);
    mark.as_str().or(key).unwrap_or_default().replace('-', " ")
}

/// A value of the record on one line.
fn in_words(value: &Value) -> String {
    match value {
        Value::String(words) => words.clone(),
        Value::Array(values) => values.iter().map(in_words).collect::<Vec<_>>().join(", "),
        Value::Object(entries) => {
            let said = entries.iter().filter(|(_, value)| !value.is_null());
            said.map(|(key, value)| format!("{key} {}", in_words(value))).collect::<Vec<_>>().join(", ")
        }
        Value::Null => String::new(),
        other => other.to_string(),
    }
}
