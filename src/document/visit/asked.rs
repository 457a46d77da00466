//! The questions of a zone or of the job as rows to fill in: what hangs on another stands behind it, and what is known is
//! filled in already.

use serde::Serialize;

use crate::document::how::How;
use crate::document::view::View;
use crate::inference::decide::{Case, Eyes};
use crate::inference::{self, Truth};
use crate::rulebook::book::{Condition, Fact, FactId, Kind, Origin, Owner, Question, TestKind};
use crate::rulebook::words::spoken;
use crate::survey::{Answer, AnswerValue};
use crate::units::{Dimension, Quantity, System, print};
use crate::wall::facts::Given;

/// So many places have lines of their own on a sheet; more are written behind.
const LINES: u32 = 3;

/// So many words to tick, of so many letters together, stand in half a line.
const FEW: usize = 4;
const LETTERS: usize = 26;

/// A question to fill in.
#[derive(Debug, Serialize)]
pub(super) struct Row {
    /// Its key in the survey.
    pub(super) key: String,
    ask: String,
    /// Where it arises, in words; empty where that is certain.
    pub(super) only_where: String,
    /// Words to tick; empty for what is measured or told.
    pub(super) options: Vec<Choice>,
    /// Whether its answer is short enough to stand beside another question.
    #[serde(skip)]
    pub(super) short: bool,
    /// Units to write in; empty for words and bare numbers.
    units: Vec<String>,
    /// Whether a figure is wanted.
    measured: bool,
    /// What was answered, where that is no word to tick.
    pub(super) value: String,
    /// Why an answer that was given does not count.
    set_aside: String,
    /// Methods that count.
    methods: Vec<String>,
    /// Days for which a reading counts.
    good_for: Option<u32>,
    pub(super) how: How,
    /// The number of places, where it is told.
    pub(super) places: u32,
    /// One entry for each place with a line of its own.
    lines: Vec<u32>,
}

/// A word to tick.
#[derive(Debug, Serialize)]
pub(super) struct Choice {
    pub(super) word: String,
    pub(super) ticked: bool,
}

/// The rows of a zone or, of any zone, those of the job; and how many questions do not arise there.
pub(super) fn rows(view: View<'_>, zone: usize, owner: Owner) -> (Vec<Row>, usize) {
    let asked = asked(view, owner);
    let arising: Vec<FactId> =
        asked.iter().copied().filter(|fact| arises(view, zone, *fact) != Truth::No).collect();
    let silent = asked.len() - arising.len();
    let rows = in_order(view, &arising).into_iter().filter_map(|fact| row(view, zone, fact));
    (rows.collect(), silent)
}

/// The questions of this owner, as they stand in the files of the book: whoever wrote them put together what is found
/// together. Nothing else depends on that order.
pub(super) fn asked(view: View<'_>, owner: Owner) -> Vec<FactId> {
    let facts = view.book.facts.iter().enumerate();
    let mut own: Vec<(usize, &Fact)> =
        facts.filter(|(_, fact)| fact.owner == owner && question(fact).is_some()).collect();
    own.sort_by_key(|(_, fact)| (fact.place.source.name.as_str(), fact.place.start));
    own.into_iter().map(|(index, _)| FactId(index)).collect()
}

/// Whether a question arises in a zone, as far as is known.
pub(super) fn arises(view: View<'_>, zone: usize, fact: FactId) -> Truth {
    eyes(view, zone).map_or(Truth::Unknown, |eyes| inference::arises(view.book, eyes, fact))
}

/// Whether nothing that counts was answered.
pub(super) fn is_open(view: View<'_>, zone: usize, fact: FactId) -> bool {
    view.answer(zone, fact).is_none_or(|answer| answer.given == Given::Unanswered)
}

pub(super) fn question(fact: &Fact) -> Option<&Question> {
    match &fact.origin {
        Origin::Asked(question) => Some(question),
        Origin::Worked { .. } => None,
    }
}

fn eyes(view: View<'_>, zone: usize) -> Option<Eyes<'_>> {
    let (facts, outcome) = (view.facts.get(zone)?, view.zone(zone)?);
    Some(Eyes { case: Case::new(facts, &[]), decisions: &outcome.decisions })
}

/// Each question behind the one that it hangs on.
fn in_order(view: View<'_>, facts: &[FactId]) -> Vec<FactId> {
    let hangs_on = |fact: FactId| {
        let guard =
            view.book.facts.get(fact.0).and_then(question).and_then(|asked| asked.only_where.as_ref());
        let mut read = guard.into_iter().flat_map(Condition::tests).filter_map(|test| match test.kind {
            TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => Some(fact),
            _ => None,
        });
        read.rfind(|parent| facts.contains(parent))
    };
    let mut ordered: Vec<FactId> = Vec::new();
    for fact in facts {
        let parent = hangs_on(*fact).and_then(|parent| ordered.iter().position(|known| *known == parent));
        let Some(parent) = parent else {
            ordered.push(*fact);
            continue;
        };
        let behind = ordered.iter().skip(parent + 1);
        let kin =
            behind.take_while(|other| descends(**other, ordered.get(parent).copied(), &hangs_on)).count();
        ordered.insert(parent + 1 + kin, *fact);
    }
    ordered
}

/// Whether a question hangs on another, by however many steps.
fn descends(fact: FactId, ancestor: Option<FactId>, hangs_on: &impl Fn(FactId) -> Option<FactId>) -> bool {
    let mut now = hangs_on(fact);
    while let Some(parent) = now {
        if Some(parent) == ancestor {
            return true;
        }
        now = hangs_on(parent);
    }
    false
}

fn row(view: View<'_>, zone: usize, id: FactId) -> Option<Row> {
    let fact = view.book.facts.get(id.0)?;
    let question = question(fact)?;
    let answer = view.answer(zone, id);
    let said = said(view, zone, id, fact.owner);
    let counts = answer.is_some_and(|answer| answer.given != Given::Unanswered);
    let shown = answer.map(|answer| answer.shown.clone()).unwrap_or_default();
    let options = options(fact, said.filter(|_| counts));
    let measured = matches!(fact.kind, Kind::Number { .. } | Kind::Measure { .. });
    let how = How::of(view, id);
    let places = if measured || how.is_test() { how.places(view, zone) } else { 0 };
    let lines = if measured { places.clamp(1, LINES) } else { 0 };
    Some(Row {
        key: fact.name.clone(),
        ask: question.ask.clone(),
        only_where: guard(view, zone, question),
        value: if options.is_empty() || !counts { shown } else { String::new() },
        options,
        short: is_short(&fact.kind, lines),
        units: units_of(&fact.kind, view.system()),
        measured,
        set_aside: answer.and_then(|answer| answer.set_aside.clone()).unwrap_or_default(),
        methods: question.methods.clone(),
        good_for: question.good_for_days,
        how,
        places,
        lines: (1..=lines).collect(),
    })
}

/// Whether an answer takes half a line: a figure at one place, a word, or a few short ones to tick.
fn is_short(kind: &Kind, lines: u32) -> bool {
    match kind {
        Kind::YesNo | Kind::Text => true,
        Kind::OneOf(words) => {
            words.len() <= FEW && words.iter().map(|word| word.chars().count()).sum::<usize>() <= LETTERS
        }
        Kind::Number { .. } | Kind::Measure { .. } => lines <= 1,
    }
}

fn said(view: View<'_>, zone: usize, fact: FactId, owner: Owner) -> Option<&Answer> {
    let answers = match owner {
        Owner::Job => &view.survey.job.answers,
        Owner::Zone => &view.survey.zones.get(zone)?.answers,
    };
    answers.get(&fact)
}

/// The words to tick, with those ticked that the survey gives.
fn options(fact: &Fact, said: Option<&Answer>) -> Vec<Choice> {
    let values = || said.into_iter().flat_map(|answer| &answer.readings).map(|reading| &reading.value);
    let yes_no = |word: &str, wanted: bool| Choice {
        word: word.to_owned(),
        ticked: values().any(|value| *value == AnswerValue::YesNo(wanted)),
    };
    match &fact.kind {
        Kind::YesNo => vec![yes_no("yes", true), yes_no("no", false)],
        Kind::OneOf(words) => {
            let ticked = |at: usize| {
                values().any(|value| matches!(value, AnswerValue::Words(chosen) if chosen.contains(&at)))
            };
            let choices = words.iter().enumerate();
            choices.map(|(at, word)| Choice { word: word.clone(), ticked: ticked(at) }).collect()
        }
        Kind::Number { .. } | Kind::Measure { .. } | Kind::Text => Vec::new(),
    }
}

/// Where a question arises, without what is certain already; empty if all of it is.
fn guard(view: View<'_>, zone: usize, question: &Question) -> String {
    let Some((guard, eyes)) = question.only_where.as_ref().zip(eyes(view, zone)) else {
        return String::new();
    };
    if eyes.holds(guard) == Truth::Yes { String::new() } else { in_words(guard, eyes) }
}

fn in_words(condition: &Condition, eyes: Eyes<'_>) -> String {
    let several = |parts: &[Condition], between: &str| {
        let open = parts.iter().filter(|part| eyes.holds(part) == Truth::Unknown);
        open.map(|part| in_words(part, eyes)).collect::<Vec<_>>().join(between)
    };
    match condition {
        Condition::Always => String::new(),
        Condition::All(parts) => several(parts, " and "),
        Condition::Any(parts) => several(parts, " or "),
        Condition::Not(inner) => format!("not {}", in_words(inner, eyes)),
        Condition::Test(test) => spoken(&test.words.replace('\u{2212}', "-")),
    }
}

/// The units that a figure may be written in, as the papers print its kind: `psi`, `MPa`.
fn units_of(kind: &Kind, system: System) -> Vec<String> {
    let Kind::Measure { dimension, to, .. } = kind else { return Vec::new() };
    if *dimension == Dimension::Number {
        return Vec::new();
    }
    let most = to.clone().unwrap_or_else(|| num_rational::BigRational::from_integer(1.into()));
    let printed = print(&Quantity::from_base(most, *dimension), system);
    let unit = |part: &str| {
        let part = part.trim_end_matches(')');
        part.split(|sign: char| sign.is_ascii_digit() || matches!(sign, '.' | ',' | '\u{2212}'))
            .next_back()
            .map(str::trim)
            .map(str::to_owned)
    };
    printed.split(" (").filter_map(unit).filter(|unit| !unit.is_empty()).collect()
}
