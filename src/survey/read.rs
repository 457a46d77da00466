//! Reads a survey from its text.

use std::sync::Arc;

use super::elevation::Elevation;
use super::mistake::SurveyMistake;
use super::model::{Job, Survey, Zone};
use super::reader::{Pairs, Reader, answered, value_of};
use super::{elevation, job, record, together, zone};
use crate::diagnostic::{Diagnostic, Source};
use crate::rulebook::book::Book;
use crate::units::System;
use crate::yaml::{self, Node};

/// The keys of a survey.
const KEYS: [&str; 6] = ["survey", "job", "zones", "elevations", "departures", "releases"];

/// Reads a survey and checks every answer against the book. All mistakes are found in one run, in the order of the
/// text; there is a survey only if there is none (remarks do not count).
pub fn read(source: &Arc<Source>, book: &Book) -> (Option<Survey>, Vec<Diagnostic>) {
    let (node, mut found) = yaml::read(source);
    let mut reader = Reader::new(book);
    let survey = match &node {
        Some(node) => whole(&mut reader, node, source),
        None => None,
    };
    if node.as_ref().is_none_or(Node::is_empty) && found.is_empty() {
        let place = crate::diagnostic::Place::new(source, 0, 0);
        reader.mistake(&SurveyMistake::NotASurvey { found: "nothing" }, &place);
    }
    found.append(&mut reader.found);
    found.sort_by_key(|diagnostic| diagnostic.place.as_ref().map(|place| place.start));
    let sound = !found.iter().any(Diagnostic::is_error);
    (survey.filter(|_| sound), found)
}

fn whole(reader: &mut Reader<'_>, node: &Node, source: &Arc<Source>) -> Option<Survey> {
    let Some(pairs) = node.as_map() else {
        if !node.is_empty() {
            reader.mistake(&SurveyMistake::NotASurvey { found: node.what() }, &node.place);
        }
        return None;
    };
    reader.known_keys(pairs, "a survey", &KEYS);
    version(reader, pairs, node);
    let job = job_of(reader, pairs, node);
    let (codes, zones) = zones_of(reader, pairs, node);
    together::check(reader, job.as_ref(), &zones);
    let elevations = elevations_of(reader, pairs, (&codes, &zones), job.as_ref());
    let departures = record::departures(reader, pairs, &codes);
    let releases = record::releases(reader, pairs, &codes);
    Some(Survey { job: job?, zones, elevations, departures, releases, source: Arc::clone(source) })
}

fn version(reader: &mut Reader<'_>, pairs: Pairs<'_>, node: &Node) {
    let why = "it names the form of the survey, which is 1";
    let Some(node) = reader.required(pairs, "survey", ("the survey", &start_of(node)), why) else { return };
    let written = node.as_text().unwrap_or(node.what());
    if written != "1" {
        reader.mistake(&SurveyMistake::Version { written: written.to_owned() }, &node.place);
    }
}

fn job_of(reader: &mut Reader<'_>, pairs: Pairs<'_>, node: &Node) -> Option<Job> {
    let why = "it holds the code, name and issue date, and what is the same for all zones";
    let node = reader.required(pairs, "job", ("the survey", &start_of(node)), why)?;
    job::read(reader, node)
}

fn zones_of(reader: &mut Reader<'_>, pairs: Pairs<'_>, node: &Node) -> (Vec<String>, Vec<Zone>) {
    let why = "a zone is one stretch of wall of one material with one history";
    let none = (Vec::new(), Vec::new());
    if reader.required(pairs, "zones", ("the survey", &start_of(node)), why).is_none() {
        return none;
    }
    let Some(nodes) = reader.list(pairs, "zones", "the survey") else { return none };
    if let (true, Some(node)) = (nodes.is_empty(), value_of(pairs, "zones")) {
        reader.mistake(&SurveyMistake::EmptyList { what: "`zones`".to_owned() }, &node.place);
    }
    let codes: Vec<String> = nodes.iter().map(code_written).collect();
    let zones =
        nodes.iter().enumerate().map(|(index, node)| zone::read(reader, node, index, &codes)).collect();
    (codes, zones)
}

/// The elevations, held against the zones where each alone is sound.
fn elevations_of(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    (codes, zones): (&[String], &[Zone]),
    job: Option<&Job>,
) -> Vec<Elevation> {
    let before = reader.found.len();
    let elevations = elevation::read(reader, pairs, codes);
    if reader.found.len() == before {
        let system = job.map_or(System::UsFirst, |job| job.profile.system);
        elevation::check(reader, zones, &elevations, system);
    }
    elevations
}

/// The code of a zone as written; empty when it has none that can be read.
fn code_written(node: &Node) -> String {
    let code = node.as_map().and_then(|pairs| answered(pairs, "code")).and_then(Node::as_text);
    code.unwrap_or_default().to_owned()
}

/// The first byte of a record, where what is missing is shown.
fn start_of(node: &Node) -> crate::diagnostic::Place {
    let place = &node.place;
    let first = place.text().find('\n').map_or(place.end, |line| place.start + line);
    crate::diagnostic::Place::new(&place.source, place.start, first)
}
