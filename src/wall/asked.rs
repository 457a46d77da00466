//! Answers given in the survey, as cells: which readings count, and what they leave possible.

use jiff::civil::Date;

use super::facts::{FactAnswer, Given};
use super::found::unanswered;
use super::site::Site;
use super::words;
use crate::rulebook::book::{Fact, Kind, Proof, Question};
use crate::rulebook::cells::CellSet;
use crate::rulebook::words::spoken;
use crate::survey::{Answer, AnswerValue, Known, Reading, Span};

/// The answer to a question, from the readings that count.
pub(super) fn answer(
    site: &Site<'_>,
    fact: &Fact,
    question: &Question,
    given: Option<&Answer>,
) -> FactAnswer {
    let Some(given) = given else { return unanswered(Vec::new()) };
    let said: Vec<&Reading> = given.readings.iter().filter(|reading| says_something(reading)).collect();
    let (mut counted, mut against) = (Vec::new(), Vec::new());
    for reading in &said {
        match set_aside(site, question, reading) {
            None => counted.push(*reading),
            Some(why) => against.push(why),
        }
    }
    against.dedup();
    let printed = if counted.is_empty() { &said } else { &counted };
    let mut known: Vec<Known> = printed.iter().filter_map(|reading| reading.known).collect();
    known.sort_unstable_by(|one, two| two.cmp(one));
    known.dedup();
    FactAnswer {
        given: cells(&counted, fact),
        shown: shown(printed, fact, site),
        range: hull(&counted).map(|span| (span.low.value().clone(), span.high.value().clone())),
        known,
        set_aside: (!against.is_empty()).then(|| against.join("; ")),
        ..unanswered(Vec::new())
    }
}

/// The readings of a fact that count.
pub(super) fn counted<'a>(site: &Site<'_>, question: &Question, given: &'a Answer) -> Vec<&'a Reading> {
    let says = given.readings.iter().filter(|reading| says_something(reading));
    says.filter(|reading| set_aside(site, question, reading).is_none()).collect()
}

fn says_something(reading: &Reading) -> bool {
    reading.value != AnswerValue::Unknown
}

/// Why a reading does not count, if it does not.
fn set_aside(site: &Site<'_>, question: &Question, reading: &Reading) -> Option<String> {
    by_hearsay(question, reading)
        .or_else(|| by_another_method(question, reading))
        .or_else(|| too_old(site, question, reading))
}

fn by_hearsay(question: &Question, reading: &Reading) -> Option<String> {
    let known = reading.known.filter(|known| !known.counts_as_tested())?;
    let tested = question.proof == Proof::Tested;
    tested.then(|| format!("only {}, which is no test", known.word()))
}

fn by_another_method(question: &Question, reading: &Reading) -> Option<String> {
    let methods = &question.methods;
    let wanted = || methods.iter().map(|method| spoken(method)).collect::<Vec<_>>().join(" or ");
    match &reading.method {
        _ if methods.is_empty() => None,
        Some(method) if methods.contains(method) => None,
        Some(method) => Some(format!("read by {}; only a reading by {} counts", spoken(method), wanted())),
        None => Some(format!("the method is not said; only a reading by {} counts", wanted())),
    }
}

fn too_old(site: &Site<'_>, question: &Question, reading: &Reading) -> Option<String> {
    let days = question.good_for_days?;
    let Some(read) = reading.date.as_ref().and_then(|date| date.parse::<Date>().ok()) else {
        return Some(format!("no date is given, and a reading counts for {days} days"));
    };
    let issue = site.survey.job.issue_date.parse::<Date>().ok()?;
    let age = read.until(issue).ok()?.get_days();
    let too_old = i64::from(age) > i64::from(days);
    too_old.then(|| format!("read on {read}, {age} days before the issue; a reading counts for {days} days"))
}

/// All the cells that any reading touches.
fn cells(readings: &[&Reading], fact: &Fact) -> Given {
    let set = match hull(readings) {
        Some(span) => fact.cells.touched(span.low.value(), span.high.value()),
        None => readings.iter().fold(CellSet::EMPTY, |set, reading| set.or(cells_of(&reading.value))),
    };
    if set.is_empty() { Given::Unanswered } else { Given::Cells(set) }
}

fn cells_of(value: &AnswerValue) -> CellSet {
    match value {
        AnswerValue::YesNo(true) | AnswerValue::Text(_) => CellSet::one(0),
        AnswerValue::YesNo(false) => CellSet::one(1),
        AnswerValue::Words(words) => {
            words.iter().fold(CellSet::EMPTY, |set, word| set.or(CellSet::one(*word)))
        }
        AnswerValue::Unknown | AnswerValue::Range(_) => CellSet::EMPTY,
    }
}

/// From the lowest to the highest of all readings.
fn hull(readings: &[&Reading]) -> Option<Span> {
    let spans = readings.iter().filter_map(|reading| match &reading.value {
        AnswerValue::Range(span) => Some(span.clone()),
        _ => None,
    });
    spans.reduce(|one, two| Span {
        low: if two.low.value() < one.low.value() { two.low } else { one.low },
        high: if two.high.value() > one.high.value() { two.high } else { one.high },
    })
}

fn shown(readings: &[&Reading], fact: &Fact, site: &Site<'_>) -> String {
    if let Some(span) = hull(readings) {
        let span = span.print(site.system());
        return match readings.len() {
            1 => span,
            count => format!("{span}, {count} readings"),
        };
    }
    let mut all: Vec<String> = Vec::new();
    for shown in readings.iter().flat_map(|reading| shown_words(&reading.value, fact, site)) {
        if !all.contains(&shown) {
            all.push(shown);
        }
    }
    all.join(" or ")
}

fn shown_words(value: &AnswerValue, fact: &Fact, site: &Site<'_>) -> Vec<String> {
    match (value, &fact.kind) {
        (AnswerValue::YesNo(true), _) => vec!["yes".to_owned()],
        (AnswerValue::YesNo(false), _) => vec!["no".to_owned()],
        (AnswerValue::Text(text), _) => vec![text.clone()],
        (AnswerValue::Words(chosen), Kind::OneOf(names)) => {
            let chosen = chosen.iter().filter_map(|word| names.get(*word));
            chosen.map(|name| words::titled(name, names, site.book)).collect()
        }
        _ => Vec::new(),
    }
}
