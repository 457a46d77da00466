//! What the book's tables say of a material or a coat, as figures.

use super::figure::{Figure, Maybe, Reason};
use crate::rulebook::book::{
    Book, Catalogue, CatalogueOption, CellValue, Citation, ColumnId, OptionId, SlotId,
};
use crate::units::Dimension;

/// The slot whose options are the coats.
pub(in crate::wall) const COATING: &str = "coating";

/// The slot of coats and its catalogue.
pub(in crate::wall) fn coats(book: &Book) -> Option<(SlotId, &Catalogue)> {
    let place = book.slots.iter().position(|slot| slot.name == COATING)?;
    let catalogue = book.catalogues.get(book.slots.get(place)?.catalogue.0)?;
    Some((SlotId(place), catalogue))
}

/// A cell, with the words of where it comes from.
pub(in crate::wall) struct Said<'a> {
    pub(in crate::wall) value: &'a CellValue,
    per: &'a [Citation],
}

/// What a catalogue says at a row and a column, if it has both.
pub(in crate::wall) fn said<'a>(
    catalogue: &'a Catalogue,
    row: &'a CatalogueOption,
    column: &str,
) -> Option<Said<'a>> {
    let ColumnId(place) = catalogue.column(column)?;
    let (head, cell) = (catalogue.columns.get(place)?, row.cells.get(place)?);
    let per = if cell.per.is_empty() { &head.per } else { &cell.per };
    Some(Said { value: &cell.value, per })
}

impl Said<'_> {
    /// The figure of a number or a quantity.
    pub(in crate::wall) fn figure(&self) -> Option<Figure> {
        match self.value {
            CellValue::Number(low, high) => {
                Some(Figure::between(Dimension::Number, low.clone(), high.clone()))
            }
            CellValue::Measure(low, high) => {
                Some(Figure::between(low.dimension(), low.value().clone(), high.value().clone()))
            }
            _ => None,
        }
    }

    /// The titles of its sources and how sure they are.
    pub(in crate::wall) fn source(&self, book: &Book) -> String {
        let words = self.per.iter().filter_map(|citation| {
            let source = book.sources.get(citation.source.0)?;
            let title = if source.title.is_empty() { &source.name } else { &source.title };
            let certainty = source.certainty.words();
            let alike = certainty.eq_ignore_ascii_case(title);
            let detail = citation.detail.as_ref().map(|detail| format!(", {detail}")).unwrap_or_default();
            Some(if alike {
                format!("{certainty}{detail}")
            } else {
                format!("{title}{detail} ({certainty})")
            })
        });
        words.collect::<Vec<_>>().join("; ")
    }

    /// `yes` or `no`.
    pub(in crate::wall) fn yes(&self) -> Option<bool> {
        match self.value {
            CellValue::YesNo(yes) => Some(*yes),
            _ => None,
        }
    }
}

/// The figure of a column, with where it comes from; a reason where the book has none.
pub(in crate::wall) fn figure(
    book: &Book,
    catalogue: Option<&Catalogue>,
    row: Option<OptionId>,
    (column, what): (&str, &str),
) -> (Maybe<Figure>, String) {
    let row = catalogue.zip(row).and_then(|(catalogue, row)| catalogue.options.get(row.0));
    let title = row.map(|row| row.title.as_str()).unwrap_or_default();
    let said = catalogue.zip(row).and_then(|(catalogue, row)| said(catalogue, row, column));
    let source = said.as_ref().map(|said| said.source(book)).unwrap_or_default();
    let figure = said.and_then(|said| said.figure());
    (figure.ok_or_else(|| Reason::new(format!("the book gives no {what} of {title}"))), source)
}
