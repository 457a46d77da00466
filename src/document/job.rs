//! What every document says of the job: who and what, its status, its stops, its open questions, what was chosen.

use serde::Serialize;

use super::ProgramInfo;
use super::note::Note;
use super::stops::{Stop, Stops};
use super::view::{Extent, View};
use super::words::from_kebab;
use crate::inference::outcome::OpenQuestion;
use crate::inference::truth::Truth;
use crate::rulebook::book::{Origin, Picks, Proof, Slot, SlotId, Stops as HeldBy};

/// The part of a template's values that all documents share.
#[derive(Debug, Serialize)]
pub(super) struct JobContext {
    program: Program,
    job: Job,
    status: Status,
    zones: Vec<ZoneName>,
    stops: Vec<Stop>,
    /// Stages that a stop holds back, in words.
    held_stages: Vec<String>,
    questions: Vec<Question>,
    choices: Vec<Choice>,
    departures: Vec<Departure>,
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

#[derive(Debug, Serialize)]
struct ZoneName {
    code: String,
    name: String,
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
}

/// What was chosen for a slot in zones that chose alike.
#[derive(Debug, Serialize)]
struct Choice {
    slot: String,
    #[serde(flatten)]
    extent: Extent,
    /// Titles: one, or the sequence.
    picks: Vec<String>,
    in_order: bool,
    certain: bool,
    /// The other options that are still possible.
    others: Vec<String>,
    /// Facts that leave the choice open.
    open: Vec<String>,
    /// Numbers of the stops that stand in these zones.
    stops: Vec<usize>,
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
            zones: view
                .survey
                .zones
                .iter()
                .map(|zone| ZoneName { code: zone.code.clone(), name: zone.name.clone() })
                .collect(),
            stops: stops.shown(view),
            held_stages: stages.map(|stage| from_kebab(&stage.name)).collect(),
            questions,
            choices: choices(view, stops),
            departures: view.survey.departures.iter().map(|departed| departure(view, departed)).collect(),
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
        asked: asked.map(|status| from_kebab(&status.asked)),
        role: asked.map(|status| status.role.clone()),
        date: asked.map(|status| status.date.clone()),
        stops,
        questions,
    }
}

fn question(view: View<'_>, open: &OpenQuestion) -> Question {
    let answers = || open.zones.iter().filter_map(|zone| view.answer(*zone, open.fact));
    let mut missing: Vec<String> = answers().flat_map(|answer| answer.missing.clone()).collect();
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
    }
}

fn choices(view: View<'_>, stops: &Stops) -> Vec<Choice> {
    let slots = view.book.slots.iter().enumerate();
    slots.flat_map(|(index, slot)| choices_of(view, stops, SlotId(index), slot)).collect()
}

fn choices_of(view: View<'_>, stops: &Stops, id: SlotId, slot: &Slot) -> Vec<Choice> {
    let mut found: Vec<(Vec<usize>, Choice)> = Vec::new();
    for zone in view.zones() {
        let Some(choice) = choice(view, stops, zone, id, slot) else { continue };
        let alike = found.iter_mut().find(|(_, known)| {
            (&known.picks, &known.others, &known.open, &known.stops)
                == (&choice.picks, &choice.others, &choice.open, &choice.stops)
        });
        match alike {
            Some((zones, _)) => zones.push(zone),
            None => found.push((vec![zone], choice)),
        }
    }
    found.into_iter().map(|(zones, choice)| Choice { extent: Extent::of(view, &zones), ..choice }).collect()
}

fn choice(view: View<'_>, stops: &Stops, zone: usize, id: SlotId, slot: &Slot) -> Option<Choice> {
    let outcome = view.slot_outcome(zone, id).filter(|outcome| outcome.arises != Truth::No)?;
    let in_order = slot.picks == Picks::InOrder;
    let picked: Vec<_> = if in_order { outcome.sequence.clone() } else { outcome.pick.into_iter().collect() };
    let chosen = |option: usize| outcome.options.get(option).map_or(Truth::No, |option| option.chosen);
    let possible = (0..outcome.options.len()).filter(|option| chosen(*option) == Truth::Unknown);
    let others = possible.map(crate::rulebook::book::OptionId).filter(|option| !picked.contains(option));
    Some(Choice {
        slot: from_kebab(&slot.name),
        extent: Extent::default(),
        certain: picked.iter().all(|option| chosen(option.0) == Truth::Yes),
        picks: picked.iter().map(|option| view.option_title(id, *option)).collect(),
        in_order,
        others: others.map(|option| view.option_title(id, option)).collect(),
        open: view.fact_list(&outcome.open),
        stops: stops.standing_in(zone),
    })
}

fn departure(view: View<'_>, departed: &crate::survey::Departed) -> Departure {
    Departure {
        rule: view.rule_name(departed.from),
        extent: Extent::of(view, &departed.zones),
        reason: departed.reason.clone(),
        role: departed.role.clone(),
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
