//! One zone with all that its worked facts look at: the survey, the book, and the tables known by name.

use num_rational::BigRational;

use super::sums::Sums;
use crate::rulebook::book::{
    Book, Catalogue, CatalogueOption, CellValue, Column, ColumnId, LimitedQuantity, OptionId,
};
use crate::survey::{Survey, Zone};
use crate::units::{Quantity, System};

/// The catalogues that the program knows by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Table {
    /// What walls are made of.
    Materials,
    /// What was painted on them.
    OldCoats,
    /// What stands beside or below them.
    Neighbours,
}

impl Table {
    /// The name of the catalogue.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::OldCoats => "old-coats",
            Self::Neighbours => "neighbours",
        }
    }

    /// The catalogue in a book.
    pub(super) fn of(self, book: &Book) -> Option<&Catalogue> {
        book.catalogue_named(self.name())
    }

    /// A column by its name.
    pub(super) fn column(self, book: &Book, name: &str) -> Option<ColumnId> {
        self.of(book)?.column(name)
    }

    /// The column of an id.
    pub(super) fn column_at(self, book: &Book, column: ColumnId) -> Option<&Column> {
        self.of(book)?.columns.get(column.0)
    }

    /// A row.
    pub(super) fn row(self, book: &Book, row: OptionId) -> Option<&CatalogueOption> {
        self.of(book)?.options.get(row.0)
    }

    /// What a cell holds.
    pub(super) fn cell(self, book: &Book, row: OptionId, column: ColumnId) -> Option<&CellValue> {
        self.of(book)?.cell(row, column).map(|cell| &cell.value)
    }
}

/// One zone of a survey.
#[derive(Debug, Clone, Copy)]
pub(super) struct Site<'a> {
    /// The whole survey.
    pub(super) survey: &'a Survey,
    /// The book.
    pub(super) book: &'a Book,
    /// The zone.
    pub(super) zone: &'a Zone,
    /// Its index.
    pub(super) index: usize,
    /// The sums of condensation, worked once for all facts that ask for them.
    pub(super) sums: &'a Sums,
}

impl<'a> Site<'a> {
    /// Which system of units prints first.
    pub(super) fn system(&self) -> System {
        self.survey.job.profile.system
    }

    /// The value that the book takes for a quantity.
    pub(super) fn taken(&self, name: &str) -> Option<&'a Quantity> {
        taken(self.book, name)
    }

    /// The vapour permeability of still air, in ng/(Pa·s·m), as the book takes it.
    pub(super) fn air(&self) -> Option<&'a BigRational> {
        self.taken(AIR_PERMEABILITY).map(Quantity::value)
    }
}

/// The quantity that names the still air of equivalent air layers.
pub(super) const AIR_PERMEABILITY: &str = "air-permeability";
/// The quantity that names the outer masonry that must be able to dry.
pub(super) const FACE_DEPTH: &str = "face-depth";

/// The value that a book takes for a quantity.
pub(super) fn taken<'b>(book: &'b Book, name: &str) -> Option<&'b Quantity> {
    let named = |quantity: &&LimitedQuantity| quantity.name == name;
    book.quantities.iter().find(named)?.taken_as.as_ref().map(|(value, _)| value)
}
