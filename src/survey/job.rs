//! Reads what holds for the whole job.

use super::fact;
use super::mistake::SurveyMistake;
use super::model::{Indoor, Job, Profile, SheetSize, StatusAsked, Weather};
use super::reader::{Pairs, Reader, answered};
use crate::rulebook::book::Owner;
use crate::units::{Dimension, Quantity, System};
use crate::yaml::Node;

const WHOLE: &str = "the job";

/// The keys of a job that belong to the program; every other key is a fact.
const KEYS: [&str; 10] = [
    "code",
    "name",
    "section-number",
    "issue-date",
    "revision",
    "status",
    "units",
    "paper",
    "weather",
    "indoor",
];

/// The statuses that may be asked for.
const STATUSES: [(&str, &str); 5] = [
    ("in-preparation", "in-preparation"),
    ("for-review", "for-review"),
    ("for-pricing", "for-pricing"),
    ("for-construction", "for-construction"),
    ("as-built", "as-built"),
];

/// Reads the job; sets the issue date for all that follows.
pub(super) fn read(reader: &mut Reader<'_>, node: &Node) -> Option<Job> {
    let pairs = reader.record(node, WHOLE);
    let whole = (WHOLE, &node.place);
    let date =
        reader.required(pairs, "issue-date", whole, "the age of every reading is counted back from it");
    reader.issue = date.and_then(|node| reader.date(node, "the issue date"));
    let issue_date = reader.issue;
    let code = reader.required(pairs, "code", whole, "it names the documents and their folder");
    let code = code.and_then(|node| reader.code(node, "the code of the job"));
    let name = reader.required_text(pairs, "name", whole, "it is printed on every document");
    let section_number = reader.optional_text(pairs, "section-number", WHOLE);
    let revision = reader.optional_text(pairs, "revision", WHOLE);
    let status = status(reader, pairs);
    let profile = profile(reader, pairs);
    let (weather, indoor) = (weather(reader, pairs), indoor(reader, pairs));
    let answers = fact::answers(reader, pairs, &KEYS, Owner::Job, WHOLE);
    Some(Job {
        code: code?,
        name: name?,
        section_number,
        issue_date: issue_date?.to_string(),
        revision,
        status,
        profile,
        weather,
        indoor,
        answers,
        place: node.place.clone(),
    })
}

fn status(reader: &mut Reader<'_>, pairs: Pairs<'_>) -> Option<StatusAsked> {
    const STATUS: &str = "the status";
    let node = answered(pairs, "status")?;
    let pairs = reader.record(node, STATUS);
    reader.known_keys(pairs, STATUS, &["asked", "role", "date"]);
    let whole = (STATUS, &node.place);
    let asked = reader.required(pairs, "asked", whole, "it is the status that somebody gives");
    let asked = asked.and_then(|node| reader.word(node, "the status asked for", &STATUSES));
    let role = reader.required_text(pairs, "role", whole, "a status is given by a named role");
    let date = reader.required(pairs, "date", whole, "a status is given on a date");
    let date = date.and_then(|node| reader.past_date(node, STATUS));
    Some(StatusAsked { asked: asked?.to_owned(), role: role?, date: date?.to_string() })
}

/// US units and letter paper unless the survey says otherwise; with SI units first, A4.
fn profile(reader: &mut Reader<'_>, pairs: Pairs<'_>) -> Profile {
    let systems = [("us-first", System::UsFirst), ("si-first", System::SiFirst)];
    let sheets = [("letter", SheetSize::Letter), ("a4", SheetSize::A4)];
    let system = answered(pairs, "units").and_then(|node| reader.word(node, "`units` of the job", &systems));
    let sheet = answered(pairs, "paper").and_then(|node| reader.word(node, "`paper` of the job", &sheets));
    let system = system.unwrap_or(System::UsFirst);
    let usual = match system {
        System::UsFirst => SheetSize::Letter,
        System::SiFirst => SheetSize::A4,
    };
    Profile { system, sheet: sheet.unwrap_or(usual) }
}

/// A weather file lies in the folder of the survey, so that a survey sent on names no other file of the reader's disk.
fn weather(reader: &mut Reader<'_>, pairs: Pairs<'_>) -> Option<Weather> {
    let node = answered(pairs, "weather")?;
    let file = reader.text(node, "`weather` of the job")?;
    if file.contains(['/', '\\', ':']) || file.starts_with('.') {
        reader.mistake(&SurveyMistake::NotBeside { file }, &node.place);
        return None;
    }
    Some(Weather { file, year: None, place: node.place.clone() })
}

fn indoor(reader: &mut Reader<'_>, pairs: Pairs<'_>) -> Indoor {
    const INDOOR: &str = "the air inside";
    let Some(node) = answered(pairs, "indoor") else { return Indoor::default() };
    let pairs = reader.record(node, INDOOR);
    reader.known_keys(pairs, INDOOR, &["temperature", "humidity"]);
    Indoor {
        temperature: within(reader, pairs, "temperature", ("0 °C", "40 °C", Dimension::Temperature)),
        humidity: within(reader, pairs, "humidity", ("0 %", "100 %", Dimension::Percent)),
    }
}

/// A quantity within a range, both ends included.
fn within(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    key: &str,
    (low, high, dimension): (&str, &str, Dimension),
) -> Option<Quantity> {
    let node = answered(pairs, key)?;
    let what = format!("`{key}` of the air inside");
    let quantity = reader.quantity(node, &what, dimension)?;
    let end = |text: &str| Quantity::parse(text, dimension).ok();
    let held = end(low).is_some_and(|low| low.value() <= quantity.value())
        && end(high).is_some_and(|high| quantity.value() <= high.value());
    if held {
        return Some(quantity);
    }
    let (written, range) = (quantity.written().to_owned(), format!("from {low} to {high}"));
    reader.mistake(&SurveyMistake::OutOfRange { written, what, range }, &node.place);
    None
}
