//! The texts that documents are made from, found by their file names, with the lists among them read.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::data_file::DataFile;
use super::figures::Likeness;
use super::mistake::DocumentMistake;
use super::papers::PAPERS;
use super::register::Order;
use super::site::Site;
use super::visit::Plain;
use crate::diagnostic::{Diagnostic, Source};
use crate::yaml::{self, Node};

/// Everything that documents are made from besides the book.
#[derive(Debug, Clone)]
pub struct Templates {
    /// Parts of the section with their articles.
    pub(super) parts: Vec<Part>,
    /// Lists of the owner's sheet.
    pub(super) lists: Vec<Named>,
    /// What the letter of findings says.
    pub(super) plain: Plain,
    /// What the papers for the site are made from.
    pub(super) site: Site,
    /// What the drawings of the owner's sheet look like.
    pub(super) likeness: Likeness,
    /// What the register says of each paper.
    pub(super) order: Order,
    /// Short words that values are printed with.
    pub(super) words: Words,
    /// The templates proper: every `.md` file, the documents among them.
    pub(super) texts: Vec<Arc<Source>>,
}

/// A part of the section.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub(super) heading: Named,
    pub(super) articles: Vec<Named>,
}

/// A heading and the name that clauses call it by.
#[derive(Debug, Clone)]
pub(super) struct Named {
    pub(super) name: String,
    pub(super) title: String,
}

/// Short words by their names in `words.yaml`.
#[derive(Debug, Clone, Default)]
pub(super) struct Words(BTreeMap<String, String>);

/// The names that `words.yaml` must hold.
const WORDS: [&str; 28] = [
    "and",
    "article",
    "at-least",
    "at-least-short",
    "at-most",
    "at-most-short",
    "before-date",
    "before-revision",
    "in-the-figures",
    "in-the-table",
    "no",
    "no-value",
    "not-known",
    "nothing-chosen",
    "paragraph",
    "place-each",
    "place-one",
    "place-per",
    "place-several",
    "record",
    "result",
    "review",
    "revised",
    "submit",
    "then",
    "to",
    "value",
    "yes",
];

impl Words {
    /// The word of this name; the name itself if a file that was checked could lack it.
    pub(super) fn of<'a>(&'a self, name: &'a str) -> &'a str {
        self.0.get(name).map_or(name, String::as_str)
    }

    /// `a`, `a and b`, `a, b and c`.
    pub(super) fn listed(&self, items: &[String], last: &str) -> String {
        listed(items, self.of(last))
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(items: &[String], last: &str) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [before @ .., end] => format!("{} {last} {end}", before.join(", ")),
    }
}

impl Templates {
    /// Sorts out the texts of a folder of templates. Names decide: `articles.yaml`,
    /// `drawings.yaml`, `register.yaml`, `site.yaml`, `visit.yaml`, `words.yaml`, and `*.md`.
    pub fn read(files: &[Arc<Source>]) -> Result<Self, Vec<Diagnostic>> {
        let mut mistakes = Vec::new();
        let texts: Vec<_> = files
            .iter()
            .filter(|file| stem(file).rsplit_once('.').is_some_and(|(_, ending)| ending == "md"))
            .map(Arc::clone)
            .collect();
        for name in PAPERS.iter().map(|paper| paper.template) {
            if !texts.iter().any(|text| stem(text) == name) {
                mistakes.push(Diagnostic::error(&DocumentMistake::NoTemplate { name }, None));
            }
        }
        let (parts, lists) = match tree("articles.yaml", files, &mut mistakes) {
            Some(root) => (parts(&root, &mut mistakes), named_list(&root, "owner", &mut mistakes)),
            None => (Vec::new(), Vec::new()),
        };
        let plain = tree("visit.yaml", files, &mut mistakes);
        let plain = plain.map(|root| Plain::read(&root, &mut mistakes)).unwrap_or_default();
        let site = tree("site.yaml", files, &mut mistakes);
        let site = site.map(|root| Site::of(&root, &mut mistakes)).unwrap_or_default();
        let likeness = tree("drawings.yaml", files, &mut mistakes);
        let likeness = likeness.map(|root| Likeness::of(&root, &mut mistakes)).unwrap_or_default();
        let order = tree("register.yaml", files, &mut mistakes);
        let names = PAPERS.iter().map(|paper| paper.name);
        let order = order.map(|root| Order::read(&root, names, &mut mistakes)).unwrap_or_default();
        let words = tree("words.yaml", files, &mut mistakes);
        let words = words.map(|root| words_of(&root, &mut mistakes)).unwrap_or_default();
        if mistakes.iter().any(Diagnostic::is_error) {
            return Err(mistakes);
        }
        Ok(Self { parts, lists, plain, site, likeness, order, words, texts })
    }

    /// The text of a document's template.
    pub(super) fn text(&self, name: &str) -> Option<&Arc<Source>> {
        self.texts.iter().find(|text| stem(text) == name)
    }

    /// Every article, in order.
    pub(super) fn articles(&self) -> impl Iterator<Item = &Named> {
        self.parts.iter().flat_map(|part| &part.articles)
    }
}

/// The file name without its folders.
pub(super) fn stem(source: &Source) -> &str {
    source.name.rsplit('/').next().unwrap_or(&source.name)
}

fn tree(name: &'static str, files: &[Arc<Source>], mistakes: &mut Vec<Diagnostic>) -> Option<Node> {
    let Some(file) = files.iter().find(|file| stem(file) == name) else {
        mistakes.push(Diagnostic::error(&DocumentMistake::NoTemplate { name }, None));
        return None;
    };
    let (node, found) = yaml::read(file);
    mistakes.extend(found);
    node
}

fn parts(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Vec<Part> {
    let mut parts = Vec::new();
    for node in list(root, "parts", mistakes) {
        if let Some(heading) = named(node, mistakes) {
            parts.push(Part { heading, articles: named_list(node, "articles", mistakes) });
        }
    }
    parts
}

fn named_list(node: &Node, key: &str, mistakes: &mut Vec<Diagnostic>) -> Vec<Named> {
    list(node, key, mistakes).iter().filter_map(|node| named(node, mistakes)).collect()
}

fn list<'a>(node: &'a Node, key: &str, mistakes: &mut Vec<Diagnostic>) -> &'a [Node] {
    match node.get(key).map(|node| (node, node.as_list())) {
        Some((_, Some(nodes))) => nodes,
        Some((node, None)) => {
            DataFile::Articles.complain(
                node,
                format!("`{key}` is {}; a list is wanted", node.what()),
                mistakes,
            );
            &[]
        }
        None => {
            DataFile::Articles.complain(node, format!("there is no `{key}` here"), mistakes);
            &[]
        }
    }
}

fn named(node: &Node, mistakes: &mut Vec<Diagnostic>) -> Option<Named> {
    let text = |key: &str| node.get(key).and_then(Node::as_text).map(str::to_owned);
    let found = text("name").zip(text("title")).map(|(name, title)| Named { name, title });
    if found.is_none() {
        DataFile::Articles.complain(node, "a record with `name` and `title` is wanted here", mistakes);
    }
    found
}

fn words_of(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Words {
    let pairs = root.as_map().unwrap_or_default();
    let found = pairs.iter().filter_map(|(key, node)| Some((key.name.clone(), node.as_text()?.to_owned())));
    let words = Words(found.collect());
    for name in WORDS.iter().filter(|name| !words.0.contains_key(**name)) {
        DataFile::Articles.complain(root, format!("the word `{name}` is missing"), mistakes);
    }
    words
}
