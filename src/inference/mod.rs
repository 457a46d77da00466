//! A book and the facts of each zone in; decisions with the trace of every consequence out. Three-valued throughout:
//! what is not known is neither yes nor no. Reads no survey text and writes no words of its own.

pub mod change;
mod choice;
pub mod decide;
pub mod explain;
mod flat;
mod idle;
pub(crate) mod limits;
pub mod outcome;
pub mod plan;
mod questions;
mod releases;
pub mod truth;
mod zone;

use rayon::prelude::*;

pub use flat::{Flat, Slate};
pub use idle::{arises, idle_answers};
pub use outcome::Outcome;
pub use plan::Plan;
pub use truth::Truth;

use crate::rulebook::book::{Book, RuleId};
use crate::survey::Survey;
use crate::wall::facts::ZoneFacts;
use decide::Case;
use zone::Zone;

/// Reads the book for every zone of a survey.
pub fn infer(book: &Book, survey: &Survey, facts: &[ZoneFacts]) -> Outcome {
    let plan = Plan::of(book);
    let departed: Vec<Vec<RuleId>> = (0..facts.len())
        .map(|zone| {
            let departures = survey.departures.iter().filter(|departure| departure.zones.contains(&zone));
            departures.map(|departure| departure.from).collect()
        })
        .collect();
    let zones: Vec<Zone<'_>> = facts
        .par_iter()
        .zip(&departed)
        .map(|(facts, departed)| Zone::new(book, &plan, Case::new(facts, departed)))
        .collect();
    let outcomes = zones.par_iter().enumerate().map(|(index, zone)| {
        let releases: Vec<_> = survey
            .releases
            .iter()
            .enumerate()
            .filter(|(_, release)| release.zones.contains(&index))
            .collect();
        zone.outcome(&releases)
    });
    Outcome { zones: outcomes.collect(), questions: questions::ranked(&Flat::of(book, &plan), &zones) }
}
