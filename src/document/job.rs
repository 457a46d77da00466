//! What every document says of the job: who and what, its status, its stops, its open questions, what was chosen.

use serde::Serialize;

use super::ProgramInfo;
use super::choice::{Barred, Choice, ZoneRow, arising, barred, choices, zone_rows};
use super::gaps::{Gap, gaps};
use super::how::How;
use super::note::Note;
use super::stops::{Stop, Stops};
use super::view::{Extent, View};
use crate::inference::outcome::OpenQuestion;
use crate::rulebook::book::{Origin, Proof, Stops as HeldBy};
use crate::rulebook::words::spoken;

/// The part of a template's values that all documents share.
#[derive(Debug, Serialize)]
pub(super) struct JobContext {
    program: Program,
    job: Job,
    status: Status,
    /// The slots of one option that arise, in words: heads of the table of zones.
    zone_heads: Vec<String>,
    zones: Vec<ZoneRow>,
    /// Whether a zone's choice waits for something.
    zones_reserved: bool,
    stops: Vec<Stop>,
    /// Zones under the same stops.
    barred: Vec<Barred>,
    /// Stages that a stop holds back, in words.
    held_stages: Vec<String>,
    questions: Vec<Question>,
    choices: Vec<Choice>,
    departures: Vec<Departure>,
    /// What the book has no answer for.
    gaps: Vec<Gap>,
}

#[derive(Debug, Serialize)]
struct Program {
    version: String,
    book: String,
    edition: String,
    book_digest: String,
    template_digest: String,
}

#[derive(Debug, Serialize)]
struct Job {
    code: String,
    name: String,
    section_number: Option<String>,
    date: String,
    revision: Option<String>,
}

#[derive(Debug, Serialize)]
struct Status {
    /// Stops or open questions stand: whatever is asked, the set is for review.
    review: bool,
    asked: Option<String>,
    role: Option<String>,
    date: Option<String>,
    /// How many stops stand.
    stops: usize,
    /// How many questions are open.
    questions: usize,
}

/// An open question.
#[derive(Debug, Serialize)]
struct Question {
    fact: String,
    /// The words of the question; empty for what is worked out.
    ask: String,
    #[serde(flatten)]
    extent: Extent,
    settles_at_least: usize,
    settles_at_most: usize,
    /// What is missing, for what is worked out.
    missing: Vec<String>,
    /// Why an answer that was given does not count.
    set_aside: Vec<String>,
    /// Methods that count.
    methods: Vec<String>,
    /// Whether only a test counts.
    tested: bool,
    /// How it is found, by the table of tests.
    how: How,
}

/// A departure from a rule.
#[derive(Debug, Serialize)]
struct Departure {
    rule: String,
    #[serde(flatten)]
    extent: Extent,
    reason: String,
    role: String,
    date: String,
}

impl JobContext {
    pub(super) fn of(view: View<'_>, stops: &Stops, program: &ProgramInfo) -> Self {
        let stages = view.book.stages.iter().filter(|stage| stage.stops == HeldBy::HoldIt);
        let slots = arising(view);
        let zones = zone_rows(view, stops, &slots);
        let questions: Vec<_> = view.outcome.questions.iter().map(|open| question(view, open)).collect();
        Self {
            program: Program {
                version: program.version.clone(),
                book: view.book.title.clone(),
                edition: view.book.edition.clone(),
                book_digest: first_twelve(&view.book.digest),
                template_digest: first_twelve(&program.template_digest),
            },
            job: job(view),
            status: status(view, stops.standing(), questions.len()),
            zone_heads: slots.iter().map(|slot| view.slot_words(*slot)).collect(),
            zones_reserved: zones.iter().any(|zone| !zone.notes.is_empty()),
            zones,
            stops: stops.shown(view),
            barred: barred(view, stops),
            held_stages: stages.map(|stage| spoken(&stage.name)).collect(),
            questions,
            choices: choices(view, stops),
            departures: view.survey.departures.iter().map(|departed| departure(view, departed)).collect(),
            gaps: gaps(view),
        }
    }
}

fn first_twelve(digest: &str) -> String {
    digest.chars().take(12).collect()
}

fn job(view: View<'_>) -> Job {
    let job = &view.survey.job;
    Job {
        code: job.code.clone(),
        name: job.name.clone(),
        section_number: job.section_number.clone(),
        date: job.issue_date.clone(),
        revision: job.revision.clone(),
    }
}

fn status(view: View<'_>, stops: usize, questions: usize) -> Status {
    let asked = view.survey.job.status.as_ref();
    Status {
        review: stops > 0 || questions > 0,
        asked: asked.map(|status| spoken(&status.asked)),
        role: asked.map(|status| status.role.clone()),
        date: asked.map(|status| status.date.clone()),
        stops,
        questions,
    }
}

fn question(view: View<'_>, open: &OpenQuestion) -> Question {
    let answers = || open.zones.iter().filter_map(|zone| view.answer(*zone, open.fact));
    let mut missing: Vec<String> =
        answers().flat_map(|answer| &answer.missing).map(|name| name.replace('`', "")).collect();
    let mut set_aside: Vec<String> = answers().filter_map(|answer| answer.set_aside.clone()).collect();
    for list in [&mut missing, &mut set_aside] {
        list.sort();
        list.dedup();
    }
    let asked = view.book.facts.get(open.fact.0).and_then(|fact| match &fact.origin {
        Origin::Asked(question) => Some(question),
        Origin::Worked { .. } => None,
    });
    Question {
        fact: view.fact_words(open.fact),
        ask: asked.map(|question| question.ask.clone()).unwrap_or_default(),
        extent: Extent::of(view, &open.zones),
        settles_at_least: open.settles_at_least,
        settles_at_most: open.settles_at_most,
        missing,
        set_aside,
        methods: asked.map(|question| question.methods.clone()).unwrap_or_default(),
        tested: asked.is_some_and(|question| question.proof == Proof::Tested),
        how: How::of(view, open.fact),
    }
}

fn departure(view: View<'_>, departed: &crate::survey::Departed) -> Departure {
    Departure {
        rule: view.rule_name(departed.from),
        extent: Extent::of(view, &departed.zones),
        reason: departed.reason.clone(),
        role: spoken(&departed.role),
        date: departed.date.clone(),
    }
}

/// A duty's zones put together with equal duties of other zones.
#[derive(Debug, Serialize)]
pub(super) struct Where {
    #[serde(flatten)]
    pub(super) extent: Extent,
    /// Reservations; empty where some zone has none.
    pub(super) notes: Vec<Note>,
}

impl Where {
    pub(super) fn of(view: View<'_>, at: &[(usize, Option<Note>)]) -> Self {
        let mut zones: Vec<usize> = at.iter().map(|(zone, _)| *zone).collect();
        zones.sort_unstable();
        zones.dedup();
        let certain = at.iter().any(|(_, note)| note.is_none());
        let mut notes: Vec<Note> = at.iter().filter_map(|(_, note)| note.clone()).collect();
        notes.sort();
        notes.dedup();
        Self { extent: Extent::of(view, &zones), notes: if certain { Vec::new() } else { notes } }
    }
}
