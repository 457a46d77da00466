//! Everything that a survey may say, as wires: for each fact whether it is answered at all, and which cells the answer
//! leaves possible. Two books may share one space: a fact that both declare alike is then cut wherever either cuts it.

use super::circuit::{Bit, Circuit};
use crate::rulebook::book::{Book, Fact, FactId, Kind, Origin};
use crate::rulebook::cells::{CellSet, Cells};
use crate::units::Dimension;
use crate::wall::Reach;

/// Where a fact's answer comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Source {
    /// Somebody answers it.
    Asked,
    /// The wall calculation supplies it. Here it is free within its range: a survey that leans on it may not be
    /// reachable, for no calculation was asked whether it could come out so.
    Worked,
}

/// Which sets of cells an answer can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    /// Figures: neighbouring cells, from the lowest reading to the highest.
    Stretch,
    /// Words: any of them.
    Words,
    /// One of them: what is worked out is yes or no, or not known.
    Single,
}

/// One fact of the space.
#[derive(Clone, Debug)]
pub(crate) struct SpaceFact {
    /// Its name.
    pub(crate) name: String,
    /// Where its answer comes from.
    pub(crate) source: Source,
    /// Which sets of cells can be said.
    pub(crate) shape: Shape,
    /// How it is cut.
    pub(crate) cells: Cells,
    /// The cells that an answer can lie in, row by row.
    pub(crate) allowed: Vec<CellSet>,
    /// Whether each option of a slot has a value of its own.
    pub(crate) by_option: bool,
    /// One row, or one an option.
    pub(crate) rows: usize,
    /// The book that declares it, by its place in the list, and the declaration.
    pub(crate) declared: (usize, FactId),
    /// Whether it is answered.
    pub(crate) given: Bit,
    /// By row and cell: whether the answer leaves the cell possible. [`Bit::FALSE`] where no answer can lie.
    pub(crate) told: Vec<Vec<Bit>>,
    /// Whether what is said is something that a survey can say.
    pub(crate) lawful: Bit,
}

/// A fact of a book, found in the space.
#[derive(Clone, Debug)]
pub(crate) struct View {
    /// Index into [`Space::facts`].
    pub(crate) fact: usize,
    /// For each cell of the book's own: the cells of the space that it is made of.
    pub(crate) cells: Vec<CellSet>,
}

/// What surveys for these books can say.
#[derive(Debug)]
pub(crate) struct Space {
    /// The facts.
    pub(crate) facts: Vec<SpaceFact>,
    /// For each book, its facts.
    pub(crate) views: Vec<Vec<View>>,
}

impl Space {
    /// The space of these books, its wires laid in the circuit. `reach` says what worked facts of the first book can
    /// come to.
    pub(crate) fn of(books: &[&Book], reach: &[Reach], circuit: &mut Circuit) -> Self {
        let mut facts: Vec<SpaceFact> = Vec::new();
        let mut found: Vec<Vec<usize>> = Vec::new();
        for (number, book) in books.iter().enumerate() {
            let of_book = book.facts.iter().enumerate().map(|(id, fact)| {
                let rows = rows_of(book, fact);
                let same = facts.iter().position(|known| is_same(known, books, fact, rows));
                same.unwrap_or_else(|| {
                    facts.push(declared(fact, rows, (number, FactId(id))));
                    facts.len() - 1
                })
            });
            found.push(of_book.collect());
        }
        for (number, book) in books.iter().enumerate().skip(1) {
            for (fact, at) in book.facts.iter().zip(found.get(number).map_or(&[][..], Vec::as_slice)) {
                if let Some(known) = facts.get_mut(*at) {
                    known.cells = joined(&known.cells, &fact.cells);
                }
            }
        }
        for fact in &mut facts {
            let kind = books.get(fact.declared.0).and_then(|book| book.facts.get(fact.declared.1.0));
            let cells = kind.map_or(CellSet::EMPTY, |declared| allowed(fact, &declared.kind));
            fact.allowed = (0..fact.rows).map(|row| within_reach(fact, row, cells, reach)).collect();
            lay(fact, circuit);
        }
        let views = books.iter().zip(&found).map(|(book, found)| views(book, found, &facts)).collect();
        Self { facts, views }
    }

    /// A second answer to one fact, beside the first.
    pub(crate) fn twin(&self, fact: usize, circuit: &mut Circuit) -> Option<SpaceFact> {
        let mut twin = self.facts.get(fact)?.clone();
        (twin.told, twin.lawful) = (Vec::new(), Bit::TRUE);
        lay(&mut twin, circuit);
        Some(twin)
    }

    /// The fact that a thing said belongs to, by gate.
    pub(crate) fn owners(&self, gates: usize) -> Vec<Option<usize>> {
        let mut owners = vec![None; gates];
        for (index, fact) in self.facts.iter().enumerate() {
            for bit in fact.told.iter().flatten().chain([&fact.given]).filter(|bit| !bit.is_constant()) {
                if let Some(owner) = owners.get_mut(bit.gate()) {
                    *owner = Some(index);
                }
            }
        }
        owners
    }
}

/// How many options a worked fact has a value for; one for every other fact.
fn rows_of(book: &Book, fact: &Fact) -> usize {
    let slot = match fact.origin {
        Origin::Worked { per_option_of: Some(slot), .. } => book.slots.get(slot.0),
        _ => None,
    };
    let catalogue = slot.and_then(|slot| book.catalogues.get(slot.catalogue.0));
    catalogue.map_or(1, |catalogue| catalogue.options.len())
}

fn source_of(fact: &Fact) -> Source {
    if matches!(fact.origin, Origin::Asked(_)) { Source::Asked } else { Source::Worked }
}

fn is_by_option(fact: &Fact) -> bool {
    matches!(fact.origin, Origin::Worked { per_option_of: Some(_), .. })
}

/// Facts of two books are one when nobody could tell their answers apart.
fn is_same(known: &SpaceFact, books: &[&Book], fact: &Fact, rows: usize) -> bool {
    let other = books.get(known.declared.0).and_then(|book| book.facts.get(known.declared.1.0));
    known.name == fact.name
        && known.rows == rows
        && known.by_option == is_by_option(fact)
        && known.source == source_of(fact)
        && other.is_some_and(|other| other.kind == fact.kind)
}

fn declared(fact: &Fact, rows: usize, declared: (usize, FactId)) -> SpaceFact {
    let source = source_of(fact);
    let shape = match (&fact.kind, source) {
        (Kind::Number { .. } | Kind::Measure { .. }, _) => Shape::Stretch,
        (Kind::YesNo, Source::Worked) => Shape::Single,
        _ => Shape::Words,
    };
    SpaceFact {
        name: fact.name.clone(),
        source,
        shape,
        cells: fact.cells.clone(),
        allowed: Vec::new(),
        by_option: is_by_option(fact),
        rows,
        declared,
        given: Bit::FALSE,
        told: Vec::new(),
        lawful: Bit::TRUE,
    }
}

/// Cells fine enough for both.
fn joined(one: &Cells, other: &Cells) -> Cells {
    let absent = one.may_be_absent || other.may_be_absent;
    if one.cuts == other.cuts {
        return Cells { may_be_absent: absent, ..one.clone() };
    }
    Cells::of_cuts(one.cuts.iter().chain(&other.cuts).cloned().collect(), absent)
}

/// The cells that an answer can lie in: those within the range of the kind. What is worked out may be absent; what is
/// asked is absent only by not being asked.
fn allowed(fact: &SpaceFact, kind: &Kind) -> CellSet {
    let zero = num_rational::BigRational::from_integer(0.into());
    let (from, to) = match kind {
        Kind::Number { from, to } => (from.as_ref(), to.as_ref()),
        Kind::Measure { dimension, from: None, to } if never_negative(*dimension, fact.source) => {
            (Some(&zero), to.as_ref())
        }
        Kind::Measure { from, to, .. } => (from.as_ref(), to.as_ref()),
        Kind::YesNo | Kind::OneOf(_) | Kind::Text => (None, None),
    };
    let first = from.map_or(0, |from| fact.cells.cell_of(from));
    let last = to.map_or(fact.cells.answered.saturating_sub(1), |to| fact.cells.cell_of(to));
    let within = CellSet::first(last + 1).without(CellSet::first(first));
    match fact.source {
        Source::Asked => within,
        Source::Worked => within.or(fact.cells.absent()),
    }
}

/// What the tables leave of a row. They speak of the first book alone, and two books that cut a fact differently are
/// not told apart by them.
fn within_reach(fact: &SpaceFact, row: usize, cells: CellSet, reach: &[Reach]) -> CellSet {
    let told = reach.iter().find(|reach| {
        fact.by_option
            && fact.declared == (0, reach.fact)
            && reach.option.0 == row
            && reach.cells.is_within(fact.cells.all())
    });
    told.map_or(cells, |told| told.cells.and(cells))
}

/// No calculation gives a length, an area or a share under nothing.
fn never_negative(dimension: Dimension, source: Source) -> bool {
    let signed = matches!(
        dimension,
        Dimension::Number
            | Dimension::Temperature
            | Dimension::TemperatureStep
            | Dimension::Angle
            | Dimension::Voltage
    );
    source == Source::Worked && !signed
}

/// Lays the wires of a fact, and says what a survey can say of it.
fn lay(fact: &mut SpaceFact, circuit: &mut Circuit) {
    fact.given = circuit.said();
    let count = fact.cells.count();
    for allowed in &fact.allowed {
        let row: Vec<Bit> =
            (0..count).map(|cell| if allowed.contains(cell) { circuit.said() } else { Bit::FALSE }).collect();
        let absence = if fact.by_option { Absence::OrNot } else { Absence::Alone };
        let whole = lawful(circuit, &row, fact.cells.answered, (fact.shape, absence));
        fact.lawful = circuit.and(fact.lawful, whole);
        fact.told.push(row);
    }
    fact.lawful = circuit.or(!fact.given, fact.lawful);
}

/// Whether what may be absent can have a value as well, as far as is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Absence {
    /// Absent or not is known with the answer.
    Alone,
    /// Where nothing is known of an option, it may be absent or not.
    OrNot,
}

/// An answer names at least one cell; figures leave no gap; what is certainly absent has no other value.
fn lawful(circuit: &mut Circuit, row: &[Bit], answered: usize, (shape, absence): (Shape, Absence)) -> Bit {
    let values = row.get(..answered).unwrap_or_default();
    let absent = row.get(answered).copied().unwrap_or(Bit::FALSE);
    let mut holds = Bit::TRUE;
    let (mut later, mut next) = (Bit::FALSE, Bit::FALSE);
    for value in values.iter().rev() {
        let broken = match shape {
            Shape::Words => Bit::FALSE,
            Shape::Single => circuit.and(*value, later),
            Shape::Stretch => {
                let gap = circuit.and(*value, !next);
                circuit.and(gap, later)
            }
        };
        holds = circuit.and(holds, !broken);
        later = circuit.or(later, *value);
        next = *value;
    }
    let something = circuit.or(later, absent);
    let torn = match absence {
        Absence::Alone => circuit.and(later, absent),
        Absence::OrNot => Bit::FALSE,
    };
    let whole = circuit.and(something, !torn);
    circuit.and(holds, whole)
}

fn views(book: &Book, found: &[usize], facts: &[SpaceFact]) -> Vec<View> {
    let one = |(fact, at): (&Fact, &usize)| {
        let cells = facts
            .get(*at)
            .map(|joint| (0..fact.cells.count()).map(|cell| made_of(fact, cell, joint)).collect());
        View { fact: *at, cells: cells.unwrap_or_default() }
    };
    book.facts.iter().zip(found).map(one).collect()
}

/// The cells of the space that a cell of a book is made of.
fn made_of(fact: &Fact, cell: usize, joint: &SpaceFact) -> CellSet {
    if cell == fact.cells.answered {
        return joint.cells.absent();
    }
    if fact.cells.cuts == joint.cells.cuts {
        return CellSet::one(cell);
    }
    let cut = |index: usize| fact.cells.cuts.get(index).map(|number| joint.cells.cell_of(number));
    if cell % 2 == 1 {
        return cut(cell / 2).map_or(CellSet::EMPTY, CellSet::one);
    }
    let from = if cell == 0 { Some(0) } else { cut(cell / 2 - 1).map(|at| at + 1) };
    let to = cut(cell / 2).unwrap_or(joint.cells.answered);
    CellSet::first(to).without(CellSet::first(from.unwrap_or(0)))
}
