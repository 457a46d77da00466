//! Reads the answers to the facts that the book declares: bare values, pairs, possible words, readings.

use num_rational::BigRational;

use super::answer::{Answer, AnswerValue, Answers, Reading};
use super::layer::KNOWN;
use super::mistake::SurveyMistake;
use super::reader::{Pairs, Reader, UNKNOWN, answered, did_you_mean, is_open};
use crate::diagnostic::{Diagnostic, nearest};
use crate::rulebook::book::{Book, Fact, FactId, Kind, Origin, Owner};
use crate::units::{Dimension, Quantity, UnitMistake};
use crate::yaml::{Key, Node, Value};

/// The keys of a reading that the program knows; further ones are kept as words.
const KEYS: [&str; 9] = ["value", "method", "instrument", "depth", "place", "date", "by", "known", "photo"];

/// The answers among the pairs of a job or zone: all keys but the `structural` ones.
pub(super) fn answers(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    structural: &[&'static str],
    owner: Owner,
    whole: &str,
) -> Answers {
    let mut answers = Answers::new();
    for (key, node) in pairs.iter().filter(|(key, _)| !structural.contains(&key.name.as_str())) {
        let Some((id, fact)) = asked(reader, key, structural, owner, whole) else { continue };
        if let Some(answer) = answer(reader, fact, node) {
            answers.insert(id, answer);
        }
    }
    answers
}

/// The fact that a key asks for, if it is one that may be answered here.
fn asked<'b>(
    reader: &mut Reader<'b>,
    key: &Key,
    structural: &[&'static str],
    owner: Owner,
    whole: &str,
) -> Option<(FactId, &'b Fact)> {
    let book = reader.book;
    let id = reader.facts.get(key.name.as_str()).copied();
    let Some((id, fact)) = id.and_then(|id| Some((id, book.facts.get(id.0)?))) else {
        reader.unknown_key(key, whole, near_keys(book, &key.name, structural, owner).into_iter());
        return None;
    };
    let fact_name = || fact.name.clone();
    match &fact.origin {
        Origin::Worked { .. } => reader.mistake(&SurveyMistake::Worked { fact: fact_name() }, &key.place),
        Origin::Asked(_) if fact.owner != owner => {
            let owner = match fact.owner {
                Owner::Job => "the job",
                Owner::Zone => "each zone",
            };
            let mistake = SurveyMistake::OtherOwner { fact: fact_name(), owner, whole: whole.to_owned() };
            reader.mistake(&mistake, &key.place);
        }
        Origin::Asked(_) => return Some((id, fact)),
    }
    None
}

/// The keys that may stand here; if none of them is near, those of the whole survey.
fn near_keys<'a>(book: &'a Book, written: &str, structural: &[&'a str], owner: Owner) -> Vec<&'a str> {
    let is_asked = |fact: &&Fact| matches!(fact.origin, Origin::Asked(_));
    let facts = || book.facts.iter().filter(is_asked);
    let here = facts().filter(|fact| fact.owner == owner).map(|fact| fact.name.as_str());
    let here: Vec<&str> = structural.iter().copied().chain(here).collect();
    let anywhere: Vec<&str> = facts().map(|fact| fact.name.as_str()).collect();
    match nearest(written, here.iter().copied()).or_else(|| nearest(written, anywhere)) {
        Some(near) => vec![near],
        None => here,
    }
}

fn answer(reader: &mut Reader<'_>, fact: &Fact, node: &Node) -> Option<Answer> {
    let readings = match &node.value {
        Value::Empty => return None,
        Value::Map(_) => vec![record(reader, fact, node)?],
        Value::List(items) if items.iter().any(|item| item.as_map().is_some()) => {
            let read: Vec<_> = items.iter().map(|item| one_of_several(reader, fact, item)).collect();
            read.into_iter().collect::<Option<Vec<_>>>()?
        }
        Value::Text(_) | Value::List(_) => vec![bare(value(reader, fact, node)?, node)],
    };
    Some(Answer { readings, place: node.place.clone() })
}

fn one_of_several(reader: &mut Reader<'_>, fact: &Fact, node: &Node) -> Option<Reading> {
    match &node.value {
        Value::Map(_) => record(reader, fact, node),
        _ => Some(bare(value(reader, fact, node)?, node)),
    }
}

/// A value of which nothing else is said.
fn bare(value: AnswerValue, node: &Node) -> Reading {
    Reading {
        value,
        method: None,
        instrument: None,
        depth: None,
        location: None,
        date: None,
        by: None,
        known: None,
        photo: None,
        more: Vec::new(),
        place: node.place.clone(),
    }
}

fn record(reader: &mut Reader<'_>, fact: &Fact, node: &Node) -> Option<Reading> {
    let pairs = reader.record(node, &fact.name);
    let whole = format!("a reading of `{}`", fact.name);
    let more = further_words(reader, pairs, &whole);
    let date = answered(pairs, "date").and_then(|node| reader.past_date(node, &whole));
    let known = answered(pairs, "known");
    let known = known.and_then(|node| reader.word(node, format!("`known` of {whole}"), &KNOWN));
    let reading = Reading {
        method: reader.optional_text(pairs, "method", &whole),
        instrument: reader.optional_text(pairs, "instrument", &whole),
        depth: depth(reader, pairs, &whole),
        location: reader.optional_text(pairs, "place", &whole),
        date: date.map(|date| date.to_string()),
        by: reader.optional_text(pairs, "by", &whole),
        known,
        photo: reader.optional_text(pairs, "photo", &whole),
        more,
        ..bare(AnswerValue::Unknown, node)
    };
    let Some(node) = super::reader::value_of(pairs, "value") else {
        reader.mistake(&SurveyMistake::NoValue { fact: fact.name.clone() }, &node.place);
        return None;
    };
    Some(Reading { value: value(reader, fact, node)?, ..reading })
}

/// Keys of a reading that the program does not know are kept as words, unless they look like a slip.
fn further_words(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Vec<(String, String)> {
    let mut more = Vec::new();
    for (key, node) in pairs.iter().filter(|(key, _)| !KEYS.contains(&key.name.as_str())) {
        if nearest(&key.name, KEYS.into_iter().filter(|known| known.len() > 3)).is_some() {
            reader.unknown_key(key, whole, KEYS.into_iter());
        } else if let Some(text) = reader.text(node, format!("`{}` of {whole}", key.name)) {
            more.push((key.name.clone(), text));
        }
    }
    more
}

/// How deep a reading was taken: a length, a pair of them, or `10 to 30 mm`; kept as words.
fn depth(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<String> {
    let node = answered(pairs, "depth")?;
    if node.as_text().is_some_and(is_stretch) {
        return node.as_text().map(str::to_owned);
    }
    let depth = reader.span(node, &format!("`depth` of {whole}"), Dimension::Length)?;
    let (low, high) = (depth.low.written(), depth.high.written());
    Some(if depth.is_uncertain() { format!("{low} to {high}") } else { low.to_owned() })
}

/// Whether a text gives two depths with their unit at the end, as a core is drilled: `10 to 30 mm`.
fn is_stretch(text: &str) -> bool {
    match Quantity::parse(text, Dimension::Length) {
        Err(UnitMistake::Range { low, high, .. }) => {
            [low, high].iter().all(|end| Quantity::parse(end, Dimension::Length).is_ok())
        }
        _ => false,
    }
}

/// The value itself, by the kind of the fact.
fn value(reader: &mut Reader<'_>, fact: &Fact, node: &Node) -> Option<AnswerValue> {
    if is_open(node) {
        return Some(AnswerValue::Unknown);
    }
    let what = format!("`{}`", fact.name);
    match &fact.kind {
        Kind::YesNo => reader.word(node, &what, &[("yes", true), ("no", false)]).map(AnswerValue::YesNo),
        Kind::OneOf(words) => possible_words(reader, node, &what, words).map(AnswerValue::Words),
        Kind::Number { from, to } => {
            span(reader, node, &what, Dimension::Number, (from.as_ref(), to.as_ref()))
        }
        Kind::Measure { dimension, from, to } => {
            span(reader, node, &what, *dimension, (from.as_ref(), to.as_ref()))
        }
        Kind::Text => reader.text(node, &what).map(AnswerValue::Text),
    }
}

/// One word, or a list of those that are possible; ascending, none twice.
fn possible_words(reader: &mut Reader<'_>, node: &Node, what: &str, words: &[String]) -> Option<Vec<usize>> {
    let nodes = node.as_list().unwrap_or(std::slice::from_ref(node));
    if nodes.is_empty() {
        reader.mistake(&SurveyMistake::EmptyList { what: what.to_owned() }, &node.place);
        return None;
    }
    let found: Vec<Option<usize>> =
        nodes.iter().map(|node| possible_word(reader, node, what, words)).collect();
    let mut found = found.into_iter().collect::<Option<Vec<usize>>>()?;
    found.sort_unstable();
    found.dedup();
    Some(found)
}

fn possible_word(reader: &mut Reader<'_>, node: &Node, what: &str, words: &[String]) -> Option<usize> {
    let written = reader.text(node, what)?;
    let found = words.iter().position(|word| *word == written);
    if found.is_none() {
        let known = words.iter().map(String::as_str).chain([UNKNOWN]);
        let mend = did_you_mean(&written, known);
        reader.mistake(&SurveyMistake::Word { written, what: what.to_owned(), mend }, &node.place);
    }
    found
}

fn span(
    reader: &mut Reader<'_>,
    node: &Node,
    what: &str,
    dimension: Dimension,
    range: (Option<&BigRational>, Option<&BigRational>),
) -> Option<AnswerValue> {
    let span = reader.span(node, what, dimension)?;
    let outside = |end: &&Quantity| {
        range.0.is_some_and(|from| end.value() < from) || range.1.is_some_and(|to| end.value() > to)
    };
    if let Some(end) = [&span.low, &span.high].into_iter().find(outside) {
        let range = range_words(range, dimension);
        let mistake =
            SurveyMistake::OutOfRange { written: end.written().to_owned(), what: what.to_owned(), range };
        reader.found.push(Diagnostic::error(&mistake, node.place.clone()));
        return None;
    }
    Some(AnswerValue::Range(span))
}

/// A range in words: `from 1500 to 2100`, `at least 0 %`.
fn range_words(range: (Option<&BigRational>, Option<&BigRational>), dimension: Dimension) -> String {
    let shown = |value: &BigRational| match dimension {
        Dimension::Number if value.is_integer() => value.to_string(),
        _ => Quantity::from_base(value.clone(), dimension).written().to_owned(),
    };
    match range {
        (Some(from), Some(to)) => format!("from {} to {}", shown(from), shown(to)),
        (Some(from), None) => format!("at least {}", shown(from)),
        (None, Some(to)) => format!("at most {}", shown(to)),
        (None, None) => "any".to_owned(),
    }
}
