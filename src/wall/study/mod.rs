//! The wall in numbers: a survey and a book in, for each zone every figure out that can be worked, with both its ends,
//! and beside each that cannot the reason. Vapour, rain, condensation, drying; the coats that the book offers against
//! the wall as it stands.
//!
//! It compares and never decides. A sum of condensation may speak against a coat and never for one, and a drying figure
//! sets no wait; the words that say so go with them (`physics::condensation::CAVEAT`, `physics::Comparison::LABEL`).
//! No figure of a material comes from here: all come from the book's tables and the survey.

mod coat;
mod conditions;
pub(in crate::wall) mod corner;
mod figure;
mod layers;
mod model;
mod ranged;
pub(in crate::wall) mod sum;
pub(in crate::wall) mod tables;

pub use coat::surely_between;
pub use conditions::conditions;
pub use figure::{Figure, Maybe, Reason};
pub use model::{
    AgainstFace, Candidate, Climate, CoatStudy, Conditions, CriterionStudy, DryingStudy, FaceStudy, Indoor,
    LayerStudy, MarginStudy, Method, MonthStudy, NamedPermeance, OldCoatStudy, Over, RainStudy, Rung,
    SumFound, SumStudy, WetInside, ZoneStudy,
};

pub(in crate::wall) use conditions::fact as climate_fact;
pub(in crate::wall) use ranged::ranged;

use crate::physics::condensation::{Capillarity, Month};
use crate::rulebook::book::SlotId;

use super::Sums;
use super::site::Site;
use crate::rulebook::book::Book;
use crate::survey::Survey;

/// Every zone of a survey in numbers, in the survey's order.
pub fn study(survey: &Survey, book: &Book) -> Vec<ZoneStudy> {
    let conditions = conditions(survey, book);
    let zones = survey.zones.iter().enumerate();
    zones
        .map(|(index, zone)| {
            let sums = Sums::default();
            let site = Site { survey, book, zone, index, sums: &sums };
            layers::zone(&site, &conditions)
        })
        .collect()
}

/// The months of the job's balance and the name of their climate, where both sides of the wall are known.
pub(in crate::wall) fn conditions_of_year(survey: &Survey, book: &Book) -> Maybe<(String, Vec<Month>)> {
    let climate = conditions::climate(survey, book);
    let name = climate.as_ref().map_err(Clone::clone)?.name.clone();
    Ok((name, conditions::months(&climate, &conditions::indoor(survey, book))?))
}

/// Whether each option of a slot draws in water.
pub(in crate::wall) fn film_of(book: &Book, slot: SlotId) -> Vec<Capillarity> {
    let catalogue = book.slots.get(slot.0).and_then(|slot| book.catalogues.get(slot.catalogue.0));
    let rows =
        catalogue.into_iter().flat_map(|catalogue| catalogue.options.iter().map(move |row| (catalogue, row)));
    rows.map(|(catalogue, row)| coat::capillarity(catalogue, row)).collect()
}
