//! What proofreading knows, read from its tables: checks, word lists, profiles.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use super::finding::{Audience, Weight};
use super::pattern::Patterns;
use super::value::Units;
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::yaml::{self, Key, Node};

/// A table of proofreading that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error, MietteDiagnostic)]
pub enum RulesMistake {
    /// A table is not there.
    #[error("the table `{name}` of proofreading is missing")]
    #[diagnostic(code(PF001), help("put it back beside the other tables of proofreading"))]
    Missing {
        /// Its file name.
        name: &'static str,
    },
    /// A line or record that says nothing usable.
    #[error("{words}")]
    #[diagnostic(
        code(PF002),
        help("write it as the lines around it are written; the head of the table says what a column holds")
    )]
    Line {
        /// What is wrong.
        words: String,
    },
}

/// One check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    /// Its name.
    pub name: String,
    /// How much a finding weighs, unless a word says otherwise.
    pub weight: Weight,
    /// Whose list its findings stand in; `None` for the reader of the paper.
    pub reader: Option<Audience>,
    /// What it finds.
    pub finds: String,
    /// How to mend it.
    pub mend: String,
    /// Where the check comes from.
    pub source: String,
}

/// Which checks a kind of paper goes through.
#[derive(Debug, Clone)]
pub(super) struct Profile {
    pub(super) name: String,
    pub(super) papers: Vec<String>,
    /// The order of unit systems that it is for; any when empty.
    pub(super) units: String,
    pub(super) checks: BTreeSet<String>,
}

/// Everything that proofreading knows.
#[derive(Debug)]
pub struct Rules {
    pub(super) checks: BTreeMap<String, Check>,
    pub(super) profiles: Vec<Profile>,
    pub(super) readers: BTreeMap<String, Audience>,
    pub(super) patterns: Patterns,
    pub(super) units: Units,
    /// Lists of words by their names.
    lists: BTreeMap<String, List>,
    /// Parts of the section with their articles, and articles with what is submitted for them.
    parts: Vec<(String, Vec<String>)>,
    submittals: Vec<(String, String)>,
    standards: Vec<Vec<String>>,
}

/// Words in the order written, and sorted.
#[derive(Debug, Default)]
struct List {
    ordered: Vec<String>,
    sorted: BTreeSet<String>,
}

impl List {
    fn of(words: impl Iterator<Item = String>) -> Self {
        let ordered: Vec<String> = words.collect();
        Self { sorted: ordered.iter().cloned().collect(), ordered }
    }
}

impl Rules {
    /// Reads the tables.
    pub fn read(files: &[Arc<Source>]) -> Result<Self, Vec<Diagnostic>> {
        let mut desk = Desk { files, found: Vec::new() };
        let checks = desk.checks();
        let setting = desk.setting(&checks);
        let patterns = desk.patterns(&checks);
        let units = desk.units();
        let standards = desk.cells("standards.tsv", 6);
        let verbs =
            List::of(desk.file("verbs.txt").iter().flat_map(|file| file.text.lines()).map(str::to_owned));
        match (patterns, units, setting) {
            (Some(patterns), Some(units), Some(setting)) if desk.found.is_empty() => {
                let Setting { profiles, readers, mut lists, parts, submittals } = setting;
                lists.insert("verbs".to_owned(), verbs);
                Ok(Self { checks, profiles, readers, patterns, units, lists, parts, submittals, standards })
            }
            _ => Err(desk.found),
        }
    }

    /// Every check, by name.
    pub fn checks(&self) -> impl Iterator<Item = &Check> {
        self.checks.values()
    }

    /// The names of the profiles with the checks of each.
    pub fn profiles(&self) -> impl Iterator<Item = (&str, &BTreeSet<String>)> {
        self.profiles.iter().map(|profile| (profile.name.as_str(), &profile.checks))
    }

    /// Whether a paper of this name is read.
    pub fn reads(&self, paper: &str) -> bool {
        self.profiles.iter().any(|profile| profile.papers.iter().any(|name| name == paper))
    }

    pub(super) fn profile(&self, paper: &str, units: &str) -> Option<&Profile> {
        self.profiles.iter().find(|profile| {
            let fits = profile.units.is_empty() || units.is_empty() || profile.units == units;
            fits && profile.papers.iter().any(|name| name == paper)
        })
    }

    /// Whether a word stands in a list.
    pub(super) fn lists(&self, list: &str, word: &str) -> bool {
        self.lists.get(list).is_some_and(|words| words.sorted.contains(word))
    }

    /// A list of words, in its order.
    pub(super) fn list(&self, list: &str) -> impl Iterator<Item = &str> {
        self.lists.get(list).into_iter().flat_map(|words| &words.ordered).map(String::as_str)
    }

    /// The parts of a section, each with the articles that belong in it, in order.
    pub(super) fn parts(&self) -> impl Iterator<Item = (&str, &[String])> {
        self.parts.iter().map(|(part, articles)| (part.as_str(), articles.as_slice()))
    }

    /// Articles on products with the paragraph that says what is handed in for them.
    pub(super) fn submittals(&self) -> impl Iterator<Item = (&str, &str)> {
        self.submittals.iter().map(|(article, subject)| (article.as_str(), subject.as_str()))
    }

    /// The lines of the table of standards.
    pub(super) fn standards(&self) -> &[Vec<String>] {
        &self.standards
    }
}

/// What `profiles.yaml` holds.
struct Setting {
    profiles: Vec<Profile>,
    readers: BTreeMap<String, Audience>,
    lists: BTreeMap<String, List>,
    parts: Vec<(String, Vec<String>)>,
    submittals: Vec<(String, String)>,
}

struct Desk<'a> {
    files: &'a [Arc<Source>],
    found: Vec<Diagnostic>,
}

impl<'a> Desk<'a> {
    fn file(&mut self, name: &'static str) -> Option<&'a Arc<Source>> {
        let file = self.files.iter().find(|file| file.name.rsplit('/').next() == Some(name));
        if file.is_none() {
            self.found.push(Diagnostic::error(&RulesMistake::Missing { name }, None));
        }
        file
    }

    fn complain(&mut self, words: impl Into<String>, place: Place) {
        self.found.push(Diagnostic::error(&RulesMistake::Line { words: words.into() }, place));
    }

    /// The records of a list in a YAML file.
    fn tree(&mut self, name: &'static str) -> Option<Node> {
        let (node, mistakes) = yaml::read(self.file(name)?);
        self.found.extend(mistakes);
        node
    }

    /// Lines of a table, cut at tabs, with their places; lines that begin with `#` are left out.
    fn lines(&mut self, name: &'static str, columns: usize) -> Vec<(Place, Vec<&'a str>)> {
        let Some(file) = self.file(name) else { return Vec::new() };
        let mut start = 0;
        let mut lines = Vec::new();
        for line in file.text.lines() {
            let place = Place::new(file, start, start + line.len());
            start += line.len() + 1;
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            let cells: Vec<&str> = line.split('\t').map(str::trim).collect();
            if cells.len() == columns {
                lines.push((place, cells));
            } else {
                self.complain(format!("this line has {} cells and not {columns}", cells.len()), place);
            }
        }
        lines
    }

    fn checks(&mut self) -> BTreeMap<String, Check> {
        let Some(root) = self.tree("checks.yaml") else { return BTreeMap::new() };
        let mut checks = BTreeMap::new();
        for node in root.as_list().unwrap_or_default() {
            let text = |key: &str| node.get(key).and_then(Node::as_text).unwrap_or_default().to_owned();
            let (name, reader) = (text("check"), text("reader"));
            let weight = Weight::of(&text("weight"));
            let reader = Audience::of(&reader).map(Some).or((reader == "of the paper").then_some(None));
            match (weight, reader) {
                (Some(weight), Some(reader)) if !name.is_empty() && !checks.contains_key(&name) => {
                    let (finds, mend, source) = (text("finds"), text("mend"), text("source"));
                    checks.insert(name.clone(), Check { name, weight, reader, finds, mend, source });
                }
                _ => self.complain(
                    "a check has a name of its own, a `weight`, a `reader`, what it `finds` and how to `mend` it",
                    node.place.clone(),
                ),
            }
        }
        checks
    }

    fn cells(&mut self, name: &'static str, columns: usize) -> Vec<Vec<String>> {
        let owned = |(_, line): (Place, Vec<&str>)| line.into_iter().map(str::to_owned).collect();
        self.lines(name, columns).into_iter().map(owned).collect()
    }

    fn units(&mut self) -> Option<Units> {
        let places: Vec<Place> = self.lines("units.tsv", 7).into_iter().map(|(place, _)| place).collect();
        let found = self.found.len();
        let lines = self.cells("units.tsv", 7);
        self.found.truncate(found);
        match Units::of(&lines) {
            Ok(units) => Some(units),
            Err(at) => {
                if let Some(place) = places.get(at) {
                    self.complain("a unit has a sign, a system, a kind and four figures", place.clone());
                }
                None
            }
        }
    }

    fn setting(&mut self, checks: &BTreeMap<String, Check>) -> Option<Setting> {
        let root = self.tree("profiles.yaml")?;
        let mut readers = BTreeMap::new();
        for (key, node) in map(&root, "papers") {
            match node.as_text().and_then(Audience::of) {
                Some(reader) => {
                    readers.insert(key.name.clone(), reader);
                }
                None => self.complain("a reader is wanted", node.place.clone()),
            }
        }
        let groups: BTreeMap<String, Vec<String>> = map(&root, "groups")
            .iter()
            .map(|(key, node)| (key.name.clone(), words(Some(node)).collect()))
            .collect();
        let mut profiles = Vec::new();
        for node in root.get("profiles").and_then(Node::as_list).unwrap_or_default() {
            let text = |key: &str| node.get(key).and_then(Node::as_text).unwrap_or_default().to_owned();
            let mut own = BTreeSet::new();
            for name in node.get("checks").and_then(Node::as_list).into_iter().flatten() {
                let said = name.as_text().unwrap_or_default();
                match groups.get(said) {
                    Some(group) => own.extend(group.iter().cloned()),
                    None => {
                        own.insert(said.to_owned());
                    }
                }
            }
            for unknown in own.iter().filter(|name| !checks.contains_key(*name)) {
                self.complain(format!("`{unknown}` is not a check"), node.place.clone());
            }
            profiles.push(Profile {
                name: text("profile"),
                papers: words(node.get("papers")).collect(),
                units: text("units"),
                checks: own,
            });
        }
        let lists = map(&root, "lists").iter();
        let lists = lists.map(|(key, node)| (key.name.clone(), List::of(words(Some(node))))).collect();
        let parts =
            map(&root, "parts").iter().map(|(key, node)| (key.name.clone(), words(Some(node)).collect()));
        let submittals = map(&root, "submittals").iter();
        let submittals =
            submittals.filter_map(|(key, node)| Some((key.name.clone(), node.as_text()?.to_owned())));
        Some(Setting { profiles, readers, lists, parts: parts.collect(), submittals: submittals.collect() })
    }

    fn patterns(&mut self, checks: &BTreeMap<String, Check>) -> Option<Patterns> {
        let lines = self.lines("words.tsv", 6);
        let mut patterns = Vec::new();
        for (place, cells) in lines {
            let [pattern, check, weight, except, mend, _source] = cells.as_slice() else { continue };
            let Some(known) = checks.get(*check) else {
                self.complain(format!("`{check}` is not a check"), place);
                continue;
            };
            let weight = if *weight == "-" { Some(known.weight) } else { Weight::of(weight) };
            let Some(weight) = weight else {
                self.complain("a weight is wanted, or `-` for that of the check", place);
                continue;
            };
            let given = |cell: &str| (cell != "-").then(|| cell.to_owned());
            patterns.push(super::pattern::Pattern {
                check: known.name.clone(),
                weight,
                written: (*pattern).to_owned(),
                except: given(except),
                mend: given(mend).unwrap_or_else(|| known.mend.clone()),
                place,
            });
        }
        match Patterns::of(patterns) {
            Ok(patterns) => Some(patterns),
            Err((words, place)) => {
                self.complain(words, place);
                None
            }
        }
    }
}

fn map<'n>(root: &'n Node, key: &str) -> &'n [(Key, Node)] {
    root.get(key).and_then(Node::as_map).unwrap_or_default()
}

fn words(node: Option<&Node>) -> impl Iterator<Item = String> {
    node.and_then(Node::as_list).into_iter().flatten().filter_map(Node::as_text).map(str::to_owned)
}
