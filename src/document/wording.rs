//! Wordings as their authors wrote them: what they may hold, and whether what they refer to is there.

use pulldown_cmark::{Event, Parser, Tag};

use super::engine::within;
use super::mistake::DocumentMistake;
use super::reading::options;
use super::templates::Templates;
use crate::diagnostic::{Diagnostic, Place, nearest};
use crate::rulebook::book::Book;
use crate::rulebook::clause::{Clause, Reader, TestRecord};

/// The name of the field that says what passes.
pub(super) const ACCEPT: &str = "accept";

/// The fields of a test record with their names.
pub(super) fn fields(test: &TestRecord) -> [(&'static str, &str); 6] {
    [
        ("method", &test.method),
        ("frequency", &test.frequency),
        (ACCEPT, &test.accept),
        ("by", &test.by),
        ("form", &test.form),
        ("on-failure", &test.on_failure),
    ]
}

/// Everything wrong with a clause that shows without filling it.
pub(super) fn check(book: &Book, templates: &Templates, clause: &Clause) -> Vec<Diagnostic> {
    let mut mistakes = homes(templates, clause);
    for wording in clause.wording.values() {
        mistakes.extend(text(book, templates, &wording.text, &wording.place));
    }
    for (_, words) in clause.test.iter().flat_map(fields) {
        mistakes.extend(text(book, templates, words, &clause.place));
    }
    mistakes
}

/// A clause that names an article or a list has words for it, and the article or list exists.
fn homes(templates: &Templates, clause: &Clause) -> Vec<Diagnostic> {
    let articles: Vec<&str> = templates.articles().map(|article| article.name.as_str()).collect();
    let lists: Vec<&str> = templates.lists.iter().map(|list| list.name.as_str()).collect();
    let article = Home {
        name: clause.article.as_deref(),
        known: articles,
        what: "an article of the section",
        reader: Reader::Section,
        heading: "section",
        key: "article",
    };
    let list = Home {
        name: clause.care.as_deref(),
        known: lists,
        what: "a list of the owner's sheet",
        reader: Reader::Owner,
        heading: "owner",
        key: "care",
    };
    [article, list].iter().filter_map(|home| home.mistake(clause)).collect()
}

struct Home<'a> {
    name: Option<&'a str>,
    known: Vec<&'a str>,
    what: &'static str,
    reader: Reader,
    heading: &'static str,
    key: &'static str,
}

impl Home<'_> {
    fn mistake(&self, clause: &Clause) -> Option<Diagnostic> {
        let name = self.name?;
        let mistake = if !self.known.contains(&name) {
            let help = match nearest(name, self.known.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("use one of `{}`", self.known.join("`, `")),
            };
            DocumentMistake::UnknownPlace { name: name.to_owned(), what: self.what, help }
        } else if !clause.wording.contains_key(&self.reader) {
            DocumentMistake::NoWording {
                clause: clause.name.clone(),
                named: format!(
                    "{} `{name}`",
                    self.what.replace("an article", "the article").replace("a list", "the list")
                ),
                reader: self.heading,
                key: self.key,
            }
        } else {
            return None;
        };
        Some(Diagnostic::error(&mistake, clause.place.clone()))
    }
}

fn text(book: &Book, templates: &Templates, words: &str, place: &Place) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    for (event, range) in Parser::new_ext(words, options()).into_offset_iter() {
        let mistake = match event {
            Event::Html(tag) | Event::InlineHtml(tag) => {
                Some(DocumentMistake::RawHtml { written: tag.trim().to_owned() })
            }
            Event::Start(Tag::Heading { .. }) => Some(DocumentMistake::NotInWording { what: "a heading" }),
            Event::Start(Tag::BlockQuote(_)) => Some(DocumentMistake::NotInWording { what: "a quoted box" }),
            Event::Start(Tag::CodeBlock(_)) => {
                Some(DocumentMistake::NotInWording { what: "a block of code" })
            }
            Event::Start(Tag::Image { .. }) => Some(DocumentMistake::NotInWording { what: "a picture" }),
            Event::Start(Tag::Table(_)) => Some(DocumentMistake::NotInWording { what: "a table" }),
            Event::Rule => Some(DocumentMistake::NotInWording { what: "a rule across the page" }),
            Event::Start(Tag::Link { dest_url, .. }) => link(book, templates, &dest_url),
            _ => None,
        };
        mistakes.extend(mistake.map(|mistake| Diagnostic::error(&mistake, within(place, words, range))));
    }
    mistakes
}

fn link(book: &Book, templates: &Templates, written: &str) -> Option<DocumentMistake> {
    let Some(target) = written.strip_prefix('#') else {
        return Some(DocumentMistake::LinkAway { target: written.to_owned() });
    };
    let clauses = book.clauses.iter().map(|clause| clause.name.as_str());
    let known: Vec<&str> = clauses.chain(templates.articles().map(|article| article.name.as_str())).collect();
    if known.contains(&target) {
        return None;
    }
    let help = match nearest(target, known) {
        Some(near) => format!("did you mean `#{near}`?"),
        None => "refer to a clause of the book or an article of the section by its name".to_owned(),
    };
    Some(DocumentMistake::UnknownTarget { target: target.to_owned(), help })
}
