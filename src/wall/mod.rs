//! A survey and the book's tables in; for every zone the answers as cells, and the worked facts, out.
//! Decides nothing, and knows no figure of its own: materials, coats, neighbours, depths and air come from the book.

mod area;
mod asked;
mod coat;
mod crack;
mod declared;
pub mod facts;
mod film;
mod formula;
mod found;
mod layer;
mod mistake;
mod neighbour;
mod reach;
mod reading;
mod site;
pub mod study;
mod sums;
mod supplied;
mod vapour;
mod words;

pub use area::net_area;
pub use declared::check;
pub use mistake::WallMistake;
pub use reach::{Reach, reach, read_by_worked};

use rayon::prelude::*;

use crate::rulebook::book::{Book, Fact, FactId, Origin, Owner};
use crate::survey::Survey;
use facts::{FactAnswer, ZoneFacts};
use site::Site;
use sums::Sums;
use supplied::Supplied;

/// Every fact of the book for every zone, in the survey's order.
pub fn work(survey: &Survey, book: &Book) -> Vec<ZoneFacts> {
    let of_job = of_job(survey, book);
    each(survey.zones.len(), |index| {
        let sums = Sums::default();
        let site = Site { survey, book, zone: survey.zones.get(index)?, index, sums: &sums };
        let facts = book.facts.iter().zip(&of_job).enumerate();
        let answers = facts.map(|(id, (fact, of_job))| match of_job {
            Some(answer) => answer.clone(),
            None => answer(&site, FactId(id), fact),
        });
        Some(ZoneFacts { answers: answers.collect() })
    })
}

/// Something for each of so many, side by side; waking other threads for a single one costs more than it saves.
pub(crate) fn each<T: Send>(count: usize, made: impl Fn(usize) -> Option<T> + Send + Sync) -> Vec<T> {
    match count {
        0 | 1 => (0..count).filter_map(made).collect(),
        _ => (0..count).into_par_iter().filter_map(made).collect(),
    }
}

/// The answers to the facts of the job, which are the same in every zone; none for those of a zone.
fn of_job(survey: &Survey, book: &Book) -> Vec<Option<FactAnswer>> {
    let Some(zone) = survey.zones.first() else { return Vec::new() };
    let sums = Sums::default();
    let site = Site { survey, book, zone, index: 0, sums: &sums };
    let facts = book.facts.iter().enumerate();
    facts.map(|(id, fact)| (fact.owner == Owner::Job).then(|| answer(&site, FactId(id), fact))).collect()
}

/// Whether the program works out a fact of this name, given the book's tables.
pub fn known_worked(name: &str, book: &Book) -> bool {
    Supplied::named(name, book).is_some()
}

fn answer(site: &Site<'_>, id: FactId, fact: &Fact) -> FactAnswer {
    match &fact.origin {
        Origin::Asked(question) => {
            let answers = match fact.owner {
                Owner::Job => &site.survey.job.answers,
                Owner::Zone => &site.zone.answers,
            };
            asked::answer(site, fact, question, answers.get(&id))
        }
        Origin::Worked { formula: Some(formula), .. } => formula::work(site, formula, fact).into_answer(fact),
        Origin::Worked { per_option_of, worst, .. } => match Supplied::named(&fact.name, site.book) {
            Some(supplied) => supplied::answer(site, supplied, fact, (*per_option_of, *worst)),
            None => found::unanswered(Vec::new()),
        },
    }
}
