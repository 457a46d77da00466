//! How a question is found: the row of the book's table `tests` that bears its name.

use num_rational::BigRational;
use num_traits::ToPrimitive;
use serde::Serialize;

use super::view::View;
use crate::rulebook::book::{Catalogue, CellValue, FactId, OptionId, Origin, Proof, Question};
use crate::rulebook::words::spoken;

/// The table; a book without it asks all the same.
const TABLE: &str = "tests";

/// How a question is found. Empty where nobody says.
#[derive(Debug, Clone, Default, Serialize)]
pub(in crate::document) struct How {
    /// What is tested, in words.
    pub(in crate::document) title: String,
    tool: String,
    /// Where the places lie.
    spot: String,
    /// Who.
    pub(in crate::document) by: String,
    /// `test`, `trial`, `look`, `paper`.
    pub(in crate::document) sort: String,
    /// The fewest places in a zone.
    #[serde(skip)]
    least: u32,
    /// The area for each place, in m².
    #[serde(skip)]
    area: Option<BigRational>,
}

impl How {
    /// Of a question. One that the table leaves out and a test settles is a test by the methods that count.
    pub(in crate::document) fn of(view: View<'_>, fact: FactId) -> Self {
        let Some(declared) = view.book.facts.get(fact.0) else { return Self::default() };
        let row =
            view.book.catalogue_named(TABLE).and_then(|table| Some((table, table.option(&declared.name)?)));
        let mut how = row.map(|(table, row)| of_row(table, row)).unwrap_or_default();
        if let Origin::Asked(question) = &declared.origin
            && how.sort.is_empty()
            && is_tested(question)
        {
            "test".clone_into(&mut how.sort);
        }
        if how.title.is_empty() {
            how.title = spoken(&declared.name);
        }
        how
    }

    /// Whether it takes a test or a trial, and not a look or a paper.
    pub(in crate::document) fn is_test(&self) -> bool {
        matches!(self.sort.as_str(), "test" | "trial")
    }

    /// Whether somebody else finds it, from a sample or by a trial, after the visit.
    pub(in crate::document) fn is_sampled(&self) -> bool {
        self.is_test() && !matches!(self.by.as_str(), "" | "surveyor")
    }

    /// The number of places in a zone, from the larger end of its net area.
    pub(in crate::document) fn places(&self, view: View<'_>, zone: usize) -> u32 {
        let area = view.net_area(zone).map(|(_, larger)| larger);
        let counted = self.area.as_ref().zip(area).and_then(|(each, area)| (area / each).ceil().to_u32());
        counted.unwrap_or(self.least).max(self.least)
    }
}

/// Whether a question is settled by a test alone.
fn is_tested(question: &Question) -> bool {
    question.proof == Proof::Tested || !question.methods.is_empty()
}

fn of_row(table: &Catalogue, row: OptionId) -> How {
    let cell = |name: &str| table.cell(row, table.column(name)?).map(|cell| &cell.value);
    let words = |name: &str| match cell(name) {
        Some(CellValue::Words(words)) => words.clone(),
        _ => String::new(),
    };
    let least = match cell("least") {
        Some(CellValue::Number(low, _)) => low.to_u32().unwrap_or_default(),
        _ => 0,
    };
    let area = match cell("area") {
        Some(CellValue::Measure(low, _)) if *low.value() > BigRational::from_integer(0.into()) => {
            Some(low.value().clone())
        }
        _ => None,
    };
    How {
        title: table.options.get(row.0).map(|row| row.title.clone()).unwrap_or_default(),
        tool: words("tool"),
        spot: words("spot"),
        by: words("by"),
        sort: words("sort"),
        least,
        area,
    }
}
