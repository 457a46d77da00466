//! Clauses: the front matter of each file, and what it may print.

use std::collections::BTreeSet;
use std::sync::Arc;

use rayon::prelude::*;

use super::desk::{Desk, Index, Purpose};
use super::digest;
use super::figures::FIGURES;
use super::files::stem;
use super::mistake_clause::ClauseMistake;
use super::mistake_name::{listed, meant};
use super::places::PLACES;
use super::submittal::SUBMIT;
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::book::{Citation, FactId, Origin, Owner, QuantityId, SlotId};
use crate::rulebook::clause::{Clause, Parameter, ParameterKind, Reader, TestRecord};
use crate::rulebook::syntax::ast::{At, Span};
use crate::yaml::{self, Node};

/// What front matter may hold.
const KEYS: [&str; 11] =
    ["of", "article", "care", "stage", "order", "subject", "submit", "parameters", FIGURES, "cites", "test"];

/// What a test may hold.
const TEST: [&str; 7] = ["method", "frequency", "accept", "by", "form", "on-failure", PLACES];

/// The front matter of a clause file as a tree.
#[derive(Debug)]
pub(super) struct ReadFront {
    /// Where it ends in the file.
    end: usize,
    node: Option<Node>,
    mistakes: Vec<Diagnostic>,
}

impl ReadFront {
    /// The front matter alone is read as YAML; it starts where the file starts, so places agree.
    pub(super) fn of(file: &Arc<Source>) -> Option<Self> {
        let end = front_end(&file.text)?;
        let front = Source::new(file.name.as_str(), file.text.get(..end).unwrap_or_default());
        let (node, mut mistakes) = yaml::read(&front);
        for mistake in &mut mistakes {
            mistake.place = mistake.place.take().map(|place| Place::new(file, place.start, place.end));
        }
        Some(Self { end, node, mistakes })
    }
}

impl Desk {
    /// Reads the clauses.
    pub(super) fn clauses(&mut self, files: &[&Arc<Source>]) {
        let mut files: Vec<(&str, &Arc<Source>)> =
            files.iter().map(|file| (stem(&file.name), *file)).collect();
        files.sort();
        let shelf = Arc::clone(&self.shelf);
        let fronts: Vec<Arc<Option<ReadFront>>> =
            files.par_iter().map(|(_, file)| shelf.front(file)).collect();
        let mut clauses: Vec<Clause> = Vec::new();
        for ((name, file), front) in files.into_iter().zip(fronts) {
            if clauses.last().is_some_and(|last| last.name == name) {
                self.error(&ClauseMistake::Twice { name: name.to_owned() }, Place::new(file, 0, 0));
                continue;
            }
            if self.purpose == Purpose::ToKeep {
                self.reprint.insert(format!("clause {name}"), digest::clause(file));
            }
            clauses.push(self.clause_file(name, file, front.as_ref().as_ref()));
        }
        self.names.clauses = Index::of(clauses.iter().map(|clause| clause.name.as_str()));
        self.book.clauses = clauses;
    }

    fn clause_file(&mut self, name: &str, file: &Arc<Source>, front: Option<&ReadFront>) -> Clause {
        let mut clause = Clause {
            name: name.to_owned(),
            owner: Owner::Zone,
            article: None,
            care: None,
            stage: None,
            order: 0,
            subject: String::new(),
            parameters: Vec::new(),
            figures: Vec::new(),
            cites: Vec::new(),
            submit: None,
            test: None,
            wording: std::collections::BTreeMap::new(),
            place: Place::new(file, 0, file.text.lines().next().map_or(0, str::len)),
        };
        let Some(ReadFront { end, node, mistakes }) = front else {
            self.error(&ClauseMistake::NoFront, clause.place.clone());
            return clause;
        };
        self.found.extend(mistakes.iter().cloned());
        if self.purpose == Purpose::ToCompare {
            // Its words decide nothing, and were looked at when the book was read to be kept.
            if let Some(node) = node {
                self.front(&mut clause, &Front { file, node });
            }
            return clause;
        }
        let body = file
            .text
            .get(*end..)
            .and_then(|rest| rest.find('\n'))
            .map_or(file.text.len(), |at| *end + at + 1);
        let sound = self.found.len();
        clause.wording = self.wordings(file, body);
        let sound = self.found.len() == sound;
        if let Some(node) = node {
            self.front(&mut clause, &Front { file, node });
            self.prints(&clause, &Front { file, node });
        }
        if sound {
            self.placed(&clause);
        }
        clause
    }

    fn front(&mut self, clause: &mut Clause, front: &Front<'_>) {
        let Some(pairs) = front.node.as_map() else {
            self.error(&ClauseMistake::NoFront, clause.place.clone());
            return;
        };
        for (key, _) in pairs.iter().filter(|(key, _)| !KEYS.contains(&key.name.as_str())) {
            let help = meant(&key.name, KEYS, || listed(KEYS));
            self.error(&ClauseMistake::UnknownKey { name: key.name.clone(), help }, front.at(&key.place));
        }
        let missing = |part, help| ClauseMistake::Missing { part, help };
        match front.text("of") {
            Some(("job", _)) => clause.owner = Owner::Job,
            Some(("zone", _)) => clause.owner = Owner::Zone,
            Some((other, place)) => self.unfit_part(other, "of", "write `of: job` or `of: zone`", place),
            None => self.error(&missing("of", "add `of: job` or `of: zone`"), clause.place.clone()),
        }
        match front.text("order") {
            Some((text, place)) => match text.parse() {
                Ok(order) => clause.order = order,
                Err(_) => {
                    self.unfit_part(text, "order", "write a whole number; smaller ones print first", place);
                }
            },
            None => self.error(&missing("order", "add `order:`, a whole number"), clause.place.clone()),
        }
        match front.text("subject") {
            Some((text, _)) => text.clone_into(&mut clause.subject),
            None => self.error(&missing("subject", "add `subject:`, a short title"), clause.place.clone()),
        }
        clause.article = front.text("article").map(|(text, _)| text.to_owned());
        clause.care = front.text("care").map(|(text, _)| text.to_owned());
        clause.stage = front.text("stage").and_then(|(text, place)| {
            let span = Span { start: place.start, end: place.end };
            self.stage(&At { value: text.to_owned(), span }, place)
        });
        clause.parameters = self.parameters(clause.owner, front);
        if let Some(node) = front.node.get(FIGURES) {
            clause.figures = self.figures(node, &clause.parameters, &|place| front.at(place));
        }
        clause.cites = self.cites(front);
        clause.submit =
            front.node.get(SUBMIT).and_then(|node| self.submittal(node, &|place| front.at(place)));
        clause.test = self.test_record(front);
    }

    pub(super) fn unfit_part(&mut self, written: &str, part: &str, help: &str, place: Place) {
        let (written, part, help) = (written.to_owned(), part.to_owned(), help.to_owned());
        self.error(&ClauseMistake::Unfit { written, part, help }, place);
    }

    /// The texts of a list of the front matter.
    fn list(&mut self, front: &Front<'_>, part: &str) -> Vec<Node> {
        let Some(node) = front.node.get(part) else { return Vec::new() };
        if let Some(list) = node.as_list() {
            return list.to_vec();
        }
        self.unfit_part(node.what(), part, "write a list: `[a, b]`", front.at(&node.place));
        Vec::new()
    }

    fn parameters(&mut self, owner: Owner, front: &Front<'_>) -> Vec<Parameter> {
        let mut parameters = Vec::new();
        for node in self.list(front, "parameters") {
            let place = front.at(&node.place);
            let Some(name) = node.as_text() else {
                self.unfit_part(node.what(), "parameters", "write a list of names", place);
                continue;
            };
            let Some(kind) = self.parameter(name, &place) else { continue };
            if owner == Owner::Job && self.parameter_owner(kind) == Owner::Zone {
                self.error(&ClauseMistake::ZoneInJob { name: name.to_owned() }, place.clone());
            }
            parameters.push(Parameter { name: name.to_owned(), kind, place });
        }
        parameters
    }

    fn parameter(&mut self, name: &str, place: &Place) -> Option<ParameterKind> {
        let found = if let Some((slot, column)) = name.split_once('.') {
            self.slot_column(slot, column)
        } else {
            let limit = self.names.quantities.get(name).map(|id| ParameterKind::Limit(QuantityId(id)));
            let chosen = || self.names.slots.get(name).map(|id| ParameterKind::Chosen(SlotId(id)));
            let fact = || self.names.facts.get(name).map(|id| ParameterKind::Fact(FactId(id)));
            limit.or_else(chosen).or_else(fact)
        };
        if found.is_none() {
            let columns = self.columns();
            let known = self.names.quantities.names().chain(self.names.slots.names());
            let known = known.chain(self.names.facts.names()).chain(columns.iter().map(String::as_str));
            let help = meant(name, known, || "a column is written `slot.column`".to_owned());
            self.error(&ClauseMistake::UnknownParameter { name: name.to_owned(), help }, place.clone());
        }
        found
    }

    fn slot_column(&self, slot: &str, column: &str) -> Option<ParameterKind> {
        let slot = self.names.slots.get(slot)?;
        let catalogue = self.book.slots.get(slot)?.catalogue;
        let column = self.book.catalogues.get(catalogue.0)?.column(column)?;
        Some(ParameterKind::Column(SlotId(slot), column))
    }

    /// Every `slot.column`.
    fn columns(&self) -> Vec<String> {
        let columns = |slot: &crate::rulebook::book::Slot| {
            let catalogue = self.book.catalogues.get(slot.catalogue.0);
            let columns = catalogue.map(|catalogue| catalogue.columns.as_slice()).unwrap_or_default();
            columns.iter().map(|column| format!("{}.{}", slot.name, column.name)).collect::<Vec<_>>()
        };
        self.book.slots.iter().flat_map(columns).collect()
    }

    fn parameter_owner(&self, kind: ParameterKind) -> Owner {
        let owner = match kind {
            ParameterKind::Limit(id) => self.book.quantities.get(id.0).map(|quantity| quantity.owner),
            ParameterKind::Fact(id) => self.book.facts.get(id.0).map(|fact| match fact.origin {
                Origin::Worked { per_option_of: Some(_), .. } => Owner::Zone,
                _ => fact.owner,
            }),
            ParameterKind::Chosen(_) | ParameterKind::Column(..) => None,
        };
        owner.unwrap_or(Owner::Zone)
    }

    fn cites(&mut self, front: &Front<'_>) -> Vec<Citation> {
        let nodes = self.list(front, "cites");
        nodes
            .into_iter()
            .flat_map(|node| {
                let place = front.at(&node.place);
                self.cited(&Node { place, value: node.value })
            })
            .collect()
    }

    fn test_record(&mut self, front: &Front<'_>) -> Option<TestRecord> {
        let node = front.node.get("test")?;
        let Some(pairs) = node.as_map() else {
            self.unfit_part(node.what(), "test", "write a record with its six parts", front.at(&node.place));
            return None;
        };
        for (key, _) in pairs.iter().filter(|(key, _)| !TEST.contains(&key.name.as_str())) {
            let help = meant(&key.name, TEST, || listed(TEST));
            self.error(&ClauseMistake::UnknownKey { name: key.name.clone(), help }, front.at(&key.place));
        }
        let places = node.get(PLACES).and_then(|node| self.places(node, &|place| front.at(place)));
        let mut part = |part: &'static str| {
            let text = node.get(part).and_then(Node::as_text);
            if text.is_none() {
                self.error(&ClauseMistake::TestPart { part }, front.at(&node.place));
            }
            text.unwrap_or_default().to_owned()
        };
        Some(TestRecord {
            method: part("method"),
            frequency: part("frequency"),
            accept: part("accept"),
            by: part("by"),
            form: part("form"),
            on_failure: part("on-failure"),
            places,
        })
    }

    /// Wordings and test print what is listed, and all that is listed is printed.
    fn prints(&mut self, clause: &Clause, front: &Front<'_>) {
        let named = front.node.get("parameters").and_then(Node::as_list).unwrap_or_default();
        let mut listed: BTreeSet<String> =
            named.iter().filter_map(Node::as_text).map(template_name).collect();
        let sound = self.found.len();
        let mut printed = BTreeSet::new();
        let figures = front.node.get(FIGURES).and_then(Node::as_map).unwrap_or_default();
        listed.extend(figures.iter().map(|(key, _)| template_name(&key.name)));
        let submit = clause.submit.is_some().then(|| SUBMIT.to_owned());
        listed.extend(submit.clone());
        for wording in clause.wording.values() {
            printed.append(&mut self.printed(&wording.place, &listed));
        }
        if submit.is_some_and(|submit| !printed.contains(&submit)) {
            self.error(&ClauseMistake::Unsubmitted, clause.place.clone());
        }
        let test = front.node.get("test").and_then(Node::as_map).unwrap_or_default();
        if clause.test.as_ref().is_some_and(|test| test.places.is_some()) {
            listed.insert(PLACES.to_owned());
        }
        for (_, node) in test.iter().filter(|(key, _)| key.name != PLACES) {
            printed.append(&mut self.printed(&front.at(&node.place), &listed));
        }
        if self.found.len() > sound {
            return;
        }
        let parameters = clause.parameters.iter().map(|parameter| (&parameter.name, &parameter.place));
        let figures = clause.figures.iter().map(|figure| (&figure.name, &figure.place));
        for (name, place) in parameters.chain(figures) {
            if !printed.contains(&template_name(name)) {
                self.remark(&ClauseMistake::Unprinted { name: name.clone() }, place.clone());
            }
        }
    }

    /// A wording for the section needs an article, and the other way round; one for the owner a list.
    fn placed(&mut self, clause: &Clause) {
        if clause.wording.is_empty() {
            let what = format!("clause `{}`", clause.name);
            self.error(&ClauseMistake::NoWords { what }, clause.place.clone());
            return;
        }
        let pairs = [
            (Reader::Section, clause.article.is_some(), "`## section`", "`article:`"),
            (Reader::Owner, clause.care.is_some(), "`## owner`", "`care:`"),
        ];
        for (reader, goes, words, place) in pairs {
            let (has, lacks, help) = match (clause.wording.contains_key(&reader), goes) {
                (true, false) => (words, place, "say where the words go"),
                (false, true) => (place, words, "write the words, or take the line out"),
                _ => continue,
            };
            self.error(&ClauseMistake::OneWithoutOther { has, lacks, help }, clause.place.clone());
        }
    }
}

/// The front matter of a file.
struct Front<'f> {
    file: &'f Arc<Source>,
    node: &'f Node,
}

impl Front<'_> {
    /// A place of the front matter, in the whole file.
    fn at(&self, place: &Place) -> Place {
        Place::new(self.file, place.start, place.end)
    }

    /// A text of the front matter.
    fn text(&self, name: &str) -> Option<(&str, Place)> {
        let node = self.node.get(name)?;
        Some((node.as_text()?, self.at(&node.place)))
    }
}

/// Where the closing `---` of the front matter begins.
fn front_end(text: &str) -> Option<usize> {
    let mut at = 0;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        match (number, line.trim_end() == "---") {
            (0, false) => return None,
            (0, true) | (_, false) => {}
            (_, true) => return Some(at),
        }
        at += line.len();
    }
    None
}

/// The name of a parameter in a template: `coating.rain-free` is `coating_rain_free`.
fn template_name(name: &str) -> String {
    name.replace(['-', '.'], "_")
}
