//! The cells of a catalogue, and the columns that are worked out from others.

use num_rational::BigRational;
use num_traits::Zero;

use super::catalogues::Head;
use super::desk::Desk;
use super::kinds::phrase;
use super::mistake_catalogue::CatalogueMistake;
use super::mistake_name::{listed, meant};
use crate::diagnostic::Place;
use crate::rulebook::book::{Cell, CellValue, Citation, Kind};
use crate::units::{Dimension, Quantity};
use crate::yaml::{Key, Node, Value};

/// The quantity that turns a resistance into a permeance.
const AIR: &str = "air-permeability";

/// The table that a row belongs to.
pub(super) struct Table<'t> {
    /// The catalogue's name.
    pub(super) name: &'t str,
    /// Its columns as written.
    pub(super) columns: &'t [(Key, Node)],
    /// Its columns, those that could be read.
    pub(super) heads: &'t [Head],
}

impl Desk {
    /// Reads the cells of a row, one a column.
    pub(super) fn cells_of(&mut self, table: &Table<'_>, key: &Key, node: &Node) -> Vec<Cell> {
        let heads = table.heads;
        let Some(pairs) = node.as_map() else {
            let mistake = CatalogueMistake::Shape { what: node.what(), wanted: "a record" };
            self.error(&mistake, node.place.clone());
            return Vec::new();
        };
        self.unknown_cells(table, pairs);
        let mut cells: Vec<Cell> = heads
            .iter()
            .map(|head| match (node.get(&head.column.name), &head.worked_from) {
                (Some(cell), None) => self.cell(head, key, cell),
                (None, None) => self.blank(head, key, key.place.clone()),
                (Some(cell), Some(_)) => {
                    let mistake = CatalogueMistake::WorkedOut { column: head.column.name.clone() };
                    self.error(&mistake, cell.place.clone());
                    nothing(key.place.clone())
                }
                (None, Some(_)) => nothing(key.place.clone()),
            })
            .collect();
        for (at, head) in heads.iter().enumerate() {
            let Some(worked) = self.worked_cell(heads, head, &cells) else { continue };
            if let Some(cell) = cells.get_mut(at) {
                *cell = worked;
            }
        }
        cells
    }

    fn unknown_cells(&mut self, table: &Table<'_>, pairs: &[(Key, Node)]) {
        let known = || table.columns.iter().map(|(key, _)| key.name.as_str());
        for (key, _) in pairs {
            if key.name != "title" && !known().any(|column| column == key.name) {
                let help = meant(&key.name, known(), || {
                    format!("the columns of `{}`: {}", table.name, listed(known()))
                });
                let mistake = CatalogueMistake::UnknownKey { name: key.name.clone(), help };
                self.error(&mistake, key.place.clone());
            }
        }
    }

    fn blank(&mut self, head: &Head, key: &Key, place: Place) -> Cell {
        let mistake = CatalogueMistake::Blank { option: key.name.clone(), column: head.column.name.clone() };
        self.error(&mistake, place.clone());
        nothing(place)
    }

    fn cell(&mut self, head: &Head, key: &Key, node: &Node) -> Cell {
        let (value, per) = match node.as_map() {
            Some(pairs) => {
                for (part, _) in
                    pairs.iter().filter(|(part, _)| !["value", "per"].contains(&part.name.as_str()))
                {
                    let help = "a cell has `value:` and `per:`".to_owned();
                    self.error(
                        &CatalogueMistake::UnknownKey { name: part.name.clone(), help },
                        part.place.clone(),
                    );
                }
                let per = node.get("per").map(|per| self.cited(per)).unwrap_or_default();
                (node.get("value"), per)
            }
            None => (Some(node), Vec::new()),
        };
        let Some(value) = value.filter(|value| !value.is_empty()) else {
            return self.blank(head, key, node.place.clone());
        };
        if head.column.per.is_empty() && per.is_empty() {
            self.error(&CatalogueMistake::NoSource { of: head.column.name.clone() }, node.place.clone());
        }
        let held = self.cell_value(head, value).unwrap_or(CellValue::None);
        Cell { value: held, per, place: node.place.clone() }
    }

    fn cell_value(&mut self, head: &Head, node: &Node) -> Option<CellValue> {
        match (&node.value, &head.column.kind) {
            (Value::Text(text), Kind::OneOf(words)) if words.contains(text) => {
                Some(CellValue::Words(text.clone()))
            }
            (Value::Text(text), _) if text == "none" => Some(CellValue::None),
            (Value::Text(text), Kind::YesNo) if text == "yes" || text == "no" => {
                Some(CellValue::YesNo(text == "yes"))
            }
            (Value::Text(text), Kind::Text) => Some(CellValue::Words(text.clone())),
            (Value::Text(text), Kind::Number { .. } | Kind::Measure { .. }) => {
                self.ends(head, (text, &node.place), (text, &node.place))
            }
            (Value::List(ends), Kind::Number { .. } | Kind::Measure { .. }) => match ends.as_slice() {
                [low, high] => match (low.as_text(), high.as_text()) {
                    (Some(from), Some(to)) => self.ends(head, (from, &low.place), (to, &high.place)),
                    _ => self.unfit_cell(head, node),
                },
                _ => self.unfit_cell(head, node),
            },
            _ => self.unfit_cell(head, node),
        }
    }

    fn ends(&mut self, head: &Head, low: (&str, &Place), high: (&str, &Place)) -> Option<CellValue> {
        let dimension = match &head.column.kind {
            Kind::Measure { dimension, .. } => *dimension,
            _ => Dimension::Number,
        };
        let from = self.end(head, dimension, low);
        let to = if low == high { from.clone() } else { self.end(head, dimension, high) };
        let (from, to) = (from?, to?);
        if from.value() > to.value() {
            let mistake = CatalogueMistake::Backwards { from: low.0.to_owned(), to: high.0.to_owned() };
            self.error(&mistake, low.1.clone());
            return None;
        }
        Some(match dimension {
            Dimension::Number => CellValue::Number(from.value().clone(), to.value().clone()),
            _ => CellValue::Measure(from, to),
        })
    }

    /// Reads one end, within the range of the column.
    fn end(&mut self, head: &Head, dimension: Dimension, end: (&str, &Place)) -> Option<Quantity> {
        let word = crate::rulebook::syntax::ast::At {
            value: end.0.to_owned(),
            span: crate::rulebook::syntax::ast::Span { start: end.1.start, end: end.1.end },
        };
        self.figure(&head.column.name, &head.column.kind, &word, end.1.clone())?;
        self.measured(&word, dimension, end.1.clone())
    }

    fn unfit_cell(&mut self, head: &Head, node: &Node) -> Option<CellValue> {
        let column = &head.column;
        let help = match &column.kind {
            Kind::OneOf(words) => {
                let known = || words.iter().map(String::as_str);
                meant(node.as_text().unwrap_or_default(), known(), || listed(known()))
            }
            Kind::YesNo => "write `yes`, `no` or `none`".to_owned(),
            Kind::Text => "write words".to_owned(),
            Kind::Number { .. } | Kind::Measure { .. } => {
                "write a figure, a range `[low, high]` or `none`".to_owned()
            }
        };
        let mistake = CatalogueMistake::Cell {
            written: node.as_text().unwrap_or(node.what()).to_owned(),
            column: column.name.clone(),
            kind: phrase(&column.kind),
            help,
        };
        self.error(&mistake, node.place.clone());
        None
    }

    /// Works a cell out from another of its row: a permeance is the air permeability over the sd, and an sd the air
    /// permeability over the permeance (derived: sd = permeability of air / permeance). The ends change places.
    fn worked_cell(&mut self, heads: &[Head], head: &Head, cells: &[Cell]) -> Option<Cell> {
        let (from, place) = head.worked_from.as_ref()?;
        let worked = self.worked_value(heads, head, from, cells);
        match worked {
            Ok((value, mut per)) => {
                per.extend(self.air().map(|(_, per)| per).unwrap_or_default());
                let mut kept: Vec<Citation> = Vec::new();
                for citation in per {
                    if !kept.contains(&citation) {
                        kept.push(citation);
                    }
                }
                Some(Cell { value, per: kept, place: head.column.place.clone() })
            }
            Err(why) => {
                let column = head.column.name.clone();
                let mistake = CatalogueMistake::WorkedFrom { column, from: from.clone(), why };
                let told = self
                    .found
                    .iter()
                    .any(|told| told.place.as_ref() == Some(place) && told.message == mistake.to_string());
                if !told {
                    self.error(&mistake, place.clone());
                }
                None
            }
        }
    }

    fn worked_value(
        &self,
        heads: &[Head],
        head: &Head,
        from: &str,
        cells: &[Cell],
    ) -> Result<(CellValue, Vec<Citation>), &'static str> {
        let at = heads.iter().position(|one| one.column.name == from).ok_or("there is no such column")?;
        let base = heads.get(at).ok_or("there is no such column")?;
        let dimension = match (&head.column.kind, &base.column.kind) {
            (
                Kind::Measure { dimension: mine @ (Dimension::Permeance | Dimension::AirLayer), .. },
                Kind::Measure { dimension: theirs @ (Dimension::Permeance | Dimension::AirLayer), .. },
            ) if mine != theirs => *mine,
            _ => return Err("one of the two must be a permeance and the other an air layer (sd)"),
        };
        let (air, _) = self.air().ok_or("the book takes no air permeability")?;
        let cell = cells.get(at).ok_or("the cell is missing")?;
        let per = if cell.per.is_empty() { base.column.per.clone() } else { cell.per.clone() };
        match &cell.value {
            CellValue::Measure(low, high) if low.value().is_zero() || high.value().is_zero() => {
                Err("a value of zero has no counterpart")
            }
            CellValue::Measure(low, high) => {
                let over = |value: &Quantity| Quantity::from_base(&air / value.value(), dimension);
                Ok((CellValue::Measure(over(high), over(low)), per))
            }
            _ => Ok((CellValue::None, per)),
        }
    }

    /// The air permeability of the book, and its sources.
    fn air(&self) -> Option<(BigRational, Vec<Citation>)> {
        let at = self.names.quantities.get(AIR)?;
        let quantity = self.book.quantities.get(at)?;
        let (value, ground) = quantity.taken_as.as_ref()?;
        (quantity.dimension == Dimension::Permeability).then(|| (value.value().clone(), ground.per.clone()))
    }
}

fn nothing(place: Place) -> Cell {
    Cell { value: CellValue::None, per: Vec::new(), place }
}
