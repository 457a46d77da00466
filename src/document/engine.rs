//! The template engine, filled once for a set: document templates and the wordings of clauses. Its mistakes come out
//! at their places in the files they were read from.

use std::collections::BTreeMap;

use tera::{Context, Error, ErrorKind, Kwargs, ReportError, State, StringInput, Tera, TeraResult};

use super::escape::escape;
use super::figure::both;
use super::mistake::DocumentMistake;
use super::templates::listed;
use super::words::{lower_first, upper_first};
use crate::diagnostic::{Diagnostic, Place, nearest};
use crate::rulebook::words::spoken;
use crate::units::System;

/// Templates by name, ready to be filled.
#[derive(Debug)]
pub(super) struct Engine {
    tera: Tera,
    origins: BTreeMap<String, (String, Place)>,
}

impl Engine {
    /// Takes in every template. One that cannot be read spoils the set; all mistakes come back together.
    pub(super) fn new(texts: Vec<(String, String, Place)>, system: System) -> Result<Self, Vec<Diagnostic>> {
        let mut engine = Self { tera: fitted(system), origins: BTreeMap::new() };
        let batch = texts.iter().map(|(name, text, _)| (name.as_str(), text.as_str()));
        let taken = engine.tera.add_raw_templates(batch);
        let mut mistakes = Vec::new();
        if taken.is_err() {
            for (name, text, place) in &texts {
                if let Err(error) = engine.tera.add_raw_template(name, text) {
                    mistakes.push(diagnostic(&error, text, place));
                }
            }
        }
        engine.origins = texts.into_iter().map(|(name, text, place)| (name, (text, place))).collect();
        if mistakes.is_empty() { Ok(engine) } else { Err(mistakes) }
    }

    /// Whether there is a template of this name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.origins.contains_key(name)
    }

    /// Fills a template.
    pub(super) fn fill(&self, name: &str, context: &Context) -> Result<String, Box<Diagnostic>> {
        self.tera.render(name, context).map_err(|error| {
            let at = reported(&error).map_or(name, ReportError::filename);
            let origin = self.origins.get(at).or_else(|| self.origins.get(name));
            Box::new(origin.map_or_else(
                || {
                    Diagnostic::error(
                        &DocumentMistake::Template { words: in_our_voice(&error.to_string()) },
                        None,
                    )
                },
                |(text, place)| diagnostic(&error, text, place),
            ))
        })
    }
}

fn fitted(system: System) -> Tera {
    let mut tera = Tera::new();
    tera.autoescape_on([".md"]);
    tera.set_escape_fn(escape);
    tera.register_filter("listed", |items: Vec<String>, kwargs: Kwargs, _: &State| -> TeraResult<String> {
        Ok(listed(&items, &kwargs.get::<String>("last")?.unwrap_or_else(|| "and".to_owned())))
    });
    tera.register_filter("both", move |figure: &str, _: Kwargs, _: &State| -> TeraResult<String> {
        both(figure, system).map_err(|mistake| Error::message(mistake.to_string()))
    });
    tera.register_filter("spoken", |name: &str, _: Kwargs, _: &State| spoken(name));
    tera.register_filter("lower_first", |words: StringInput<'_>, _: Kwargs, _: &State| {
        words.inherit_safety(lower_first(words.as_str()))
    });
    tera.register_filter("upper_first", |words: StringInput<'_>, _: Kwargs, _: &State| {
        words.inherit_safety(upper_first(words.as_str()))
    });
    tera
}

fn reported(error: &Error) -> Option<&ReportError> {
    match error.kind() {
        ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => Some(report),
        _ => None,
    }
}

fn diagnostic(error: &Error, text: &str, place: &Place) -> Diagnostic {
    let Some(report) = reported(error) else {
        let words = in_our_voice(error.to_string().lines().next().unwrap_or_default());
        let at = quoted(&words).and_then(|name| Some((text.find(name)?, name.len())));
        let at =
            at.map_or_else(|| place.clone(), |(start, length)| within(place, text, start..start + length));
        return Diagnostic::error(&DocumentMistake::Template { words }, at);
    };
    let at = within(place, text, report.span().range.clone());
    match unknown_value(report.message()) {
        Some(mistake) => Diagnostic::error(&mistake, at),
        None => Diagnostic::error(&DocumentMistake::Template { words: in_our_voice(report.message()) }, at),
    }
}

/// A stretch of a text that was read from a place, or from elsewhere in the same file; the whole place where the file
/// does not hold the text as it is.
pub(super) fn within(place: &Place, text: &str, range: std::ops::Range<usize>) -> Place {
    let inside = place.text().find(text).map(|offset| place.start + offset);
    let Some(start) = inside.or_else(|| place.source.text.find(text)) else { return place.clone() };
    Place::new(&place.source, start + range.start, start + range.end)
}

fn unknown_value(message: &str) -> Option<DocumentMistake> {
    if !message.contains("is not defined") {
        return None;
    }
    let name = quoted(message)?.to_owned();
    let known: Vec<&str> =
        message.split_once(": ").map_or(Vec::new(), |(_, list)| list.split(", ").collect());
    let help = match (nearest(&name, known.iter().copied()), known.is_empty()) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, true) => "nothing is listed under `parameters:`; list what the words print".to_owned(),
        (None, false) => format!("list it under `parameters:`, or print one of `{}`", known.join("`, `")),
    };
    Some(DocumentMistake::UnknownValue { name, help })
}

fn quoted(message: &str) -> Option<&str> {
    message.split('`').nth(1)
}

/// The engine's words without capital, full stop and frame.
fn in_our_voice(message: &str) -> String {
    lower_first(message.trim_start_matches("error: ").trim_end_matches('.'))
}
