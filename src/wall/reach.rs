//! What worked facts can come to whatever the survey says, and which answers they are worked out from: for whoever asks
//! about every possible survey.

use num_rational::BigRational;
use num_traits::Zero;

use super::site::{AIR_PERMEABILITY, taken};
use super::study::tables;
use super::sums::Condensate;
use super::supplied::Supplied;
use crate::physics::condensation::Capillarity;
use crate::rulebook::book::{Book, CellValue, End, Fact, FactId, OptionId, Origin, SlotId};
use crate::rulebook::cells::CellSet;
use crate::units::Quantity;

/// The cells that a worked fact can lie in for one option.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The fact.
    pub fact: FactId,
    /// The option.
    pub option: OptionId,
    /// Its cells.
    pub cells: CellSet,
}

/// What the tables alone say of worked facts that each option has its own of: nothing outside the wall is more open than
/// the option itself, and an option that is no coat has no figure.
pub fn reach(book: &Book) -> Vec<Reach> {
    let facts = book.facts.iter().enumerate();
    facts.flat_map(|(id, fact)| of_fact(book, FactId(id), fact)).collect()
}

fn of_fact(book: &Book, id: FactId, fact: &Fact) -> Vec<Reach> {
    let Origin::Worked { per_option_of: Some(slot), worst, .. } = &fact.origin else { return Vec::new() };
    let Some(supplied) = Supplied::named(&fact.name, book) else { return Vec::new() };
    let values = fact.cells.any_answer();
    let ends = ends(book, *slot).into_iter().enumerate();
    let cells = ends.filter_map(|(option, ends)| {
        let cells = match (supplied, ends) {
            (_, None) => fact.cells.absent(),
            (Supplied::TotalSd, Some((low, high))) => {
                let own = if *worst == Some(End::Low) { low } else { high };
                values.without(CellSet::first(fact.cells.cell_of(&own)))
            }
            (Supplied::RainProduct, Some(_)) if !turns_rain(book, *slot, option) => fact.cells.absent(),
            (Supplied::Condensation(Condensate::AtFilm), Some(_)) if !is_film(book, *slot, option) => {
                fact.cells.absent()
            }
            (Supplied::OuterPermeance, Some((low, high))) => {
                let own = if *worst == Some(End::High) { low } else { high };
                let air = taken(book, AIR_PERMEABILITY).map(Quantity::value)?;
                if own.is_zero() {
                    return None;
                }
                CellSet::first(fact.cells.cell_of(&(air / own)) + 1)
            }
            _ => return None,
        };
        Some(Reach { fact: id, option: OptionId(option), cells })
    });
    cells.collect()
}

/// For each option the ends of its air layer; `None` where it has none.
fn ends(book: &Book, slot: SlotId) -> Vec<Option<(BigRational, BigRational)>> {
    let catalogue = book.slots.get(slot.0).and_then(|slot| book.catalogues.get(slot.catalogue.0));
    let Some(catalogue) = catalogue else { return Vec::new() };
    let Some(column) = catalogue.column("sd") else { return Vec::new() };
    let cells = (0..catalogue.options.len()).map(|option| catalogue.cell(OptionId(option), column));
    cells
        .map(|cell| match cell.map(|cell| &cell.value) {
            Some(CellValue::Measure(low, high)) => Some((low.value().clone(), high.value().clone())),
            _ => None,
        })
        .collect()
}

/// Whether an option is meant to turn rain away; the lines on rain speak of no other.
fn turns_rain(book: &Book, slot: SlotId, option: usize) -> bool {
    let catalogue = book.slots.get(slot.0).and_then(|slot| book.catalogues.get(slot.catalogue.0));
    let row = catalogue.and_then(|catalogue| Some((catalogue, catalogue.options.get(option)?)));
    row.and_then(|(catalogue, row)| tables::said(catalogue, row, "turns-rain")?.yes()) == Some(true)
}

/// Whether an option draws in no water.
fn is_film(book: &Book, slot: SlotId, option: usize) -> bool {
    super::study::film_of(book, slot).get(option) == Some(&Capillarity::Repels)
}

/// The asked facts from which worked facts that the book declares are worked out.
pub fn read_by_worked(book: &Book) -> Vec<FactId> {
    let read = book.facts.iter().flat_map(|fact| match &fact.origin {
        Origin::Asked(_) => Vec::new(),
        Origin::Worked { formula: Some(formula), .. } => formula.reads(),
        Origin::Worked { .. } => match Supplied::named(&fact.name, book) {
            Some(Supplied::Reading(_, read)) => vec![read],
            Some(Supplied::Condensation(_)) => super::study::climate_fact(book).into_iter().collect(),
            _ => Vec::new(),
        },
    });
    read.collect()
}
