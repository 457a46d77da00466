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

pub use flat::{Cone, Flat, Slate};
pub use idle::{arises, idle_answers};
pub use outcome::Outcome;
pub use plan::Plan;
pub use truth::Truth;

use crate::rulebook::book::{Book, RuleId};
use crate::survey::Survey;
use crate::wall::each;
use crate::wall::facts::ZoneFacts;
use decide::Case;
use zone::Zone;

/// Reads the book for every zone of a survey.
pub fn infer(book: &Book, survey: &Survey, facts: &[ZoneFacts]) -> Outcome {
    Ready::of(book).infer(survey, facts)
}

/// A book made ready to read many surveys against it.
#[derive(Clone, Debug)]
pub struct Ready<'b> {
    pub(crate) book: &'b Book,
    pub(crate) plan: Plan,
    pub(crate) flat: Flat,
}

impl<'b> Ready<'b> {
    /// Looks through the book once.
    pub fn of(book: &'b Book) -> Self {
        let plan = Plan::of(book);
        let flat = Flat::of(book, &plan);
        Self { book, plan, flat }
    }

    /// Reads the book for every zone of a survey.
    pub fn infer(&self, survey: &Survey, facts: &[ZoneFacts]) -> Outcome {
        let departed: Vec<Vec<RuleId>> = (0..facts.len())
            .map(|zone| {
                let departures = survey.departures.iter().filter(|departure| departure.zones.contains(&zone));
                departures.map(|departure| departure.from).collect()
            })
            .collect();
        let zones: Vec<Zone<'_>> = each(facts.len(), |zone| {
            let (facts, departed) = (facts.get(zone)?, departed.get(zone)?);
            Some(Zone::new(self.book, &self.plan, Case::new(facts, departed)))
        });
        let outcomes = each(zones.len(), |index| {
            let releases = survey.releases.iter().enumerate();
            let releases: Vec<_> = releases.filter(|(_, release)| release.zones.contains(&index)).collect();
            Some(zones.get(index)?.outcome(&releases))
        });
        Outcome { zones: outcomes, questions: questions::ranked(&self.flat, &zones) }
    }
}
