//! What worked facts can come to whatever the survey says, and which answers they are worked out from: for whoever asks
//! about every possible survey.

use num_rational::BigRational;
use num_traits::Zero;

use super::site::{AIR_PERMEABILITY, taken};
use super::supplied::Supplied;
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
    let Origin::Worked { per_option_of: Some(slot), worst } = &fact.origin else { return Vec::new() };
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

/// The asked facts from which worked facts that the book declares are worked out.
pub fn read_by_worked(book: &Book) -> Vec<FactId> {
    let declared = book.facts.iter().filter(|fact| matches!(fact.origin, Origin::Worked { .. }));
    let read = declared.filter_map(|fact| match Supplied::named(&fact.name, book) {
        Some(Supplied::Reading(_, read)) => Some(read),
        _ => None,
    });
    read.collect()
}
