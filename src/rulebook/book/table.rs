//! Tables of options and of data.

use num_rational::BigRational;

use super::{Citation, ColumnId, Kind, OptionId};
use crate::diagnostic::Place;
use crate::units::Quantity;

/// Which end of a spread is the one to decide on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// The lowest value is the adverse one.
    Low,
    /// The highest value is the adverse one.
    High,
}

/// A table of options or of data.
#[derive(Clone, Debug)]
pub struct Catalogue {
    /// Kebab-case name; the file's stem.
    pub name: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, in order.
    pub options: Vec<CatalogueOption>,
    /// Where it starts.
    pub place: Place,
}

impl Catalogue {
    /// The column of this name.
    pub fn column(&self, name: &str) -> Option<ColumnId> {
        self.columns.iter().position(|column| column.name == name).map(ColumnId)
    }

    /// The row of this name.
    pub fn option(&self, name: &str) -> Option<OptionId> {
        self.options.iter().position(|option| option.name == name).map(OptionId)
    }

    /// The cell at a row and a column.
    pub fn cell(&self, option: OptionId, column: ColumnId) -> Option<&Cell> {
        self.options.get(option.0)?.cells.get(column.0)
    }
}

/// A column of a catalogue.
#[derive(Clone, Debug)]
pub struct Column {
    /// Kebab-case name.
    pub name: String,
    /// The words printed over it.
    pub title: String,
    /// What its cells hold.
    pub kind: Kind,
    /// The end of a range to decide on.
    pub worst: Option<End>,
    /// Source of every figure that names none of its own.
    pub per: Vec<Citation>,
    /// Where it is declared.
    pub place: Place,
}

/// A row of a catalogue.
#[derive(Clone, Debug)]
pub struct CatalogueOption {
    /// Kebab-case name.
    pub name: String,
    /// The words printed for it.
    pub title: String,
    /// One cell a column.
    pub cells: Vec<Cell>,
    /// Where it stands.
    pub place: Place,
}

/// A cell of a catalogue.
#[derive(Clone, Debug)]
pub struct Cell {
    /// What it holds.
    pub value: CellValue,
    /// Sources of its own; empty: the column's.
    pub per: Vec<Citation>,
    /// Where it stands.
    pub place: Place,
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CellValue {
    /// Written `none`: every comparison is false.
    None,
    /// Yes or no.
    YesNo(bool),
    /// A word of a one-of column, or free words.
    Words(String),
    /// A bare number or range.
    Number(BigRational, BigRational),
    /// A quantity or range.
    Measure(Quantity, Quantity),
}
