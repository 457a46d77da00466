//! Everything that a survey may say, as wires: for each fact whether it is answered at all, and which cells the answer
//! leaves possible. Two books may share one space: a fact that both declare alike is then cut wherever either cuts it.

use super::circuit::{Bit, Circuit};
use super::rows;
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
    /// The words of a fact of words, of both books.
    pub(crate) words: Option<Vec<String>>,
    /// How it is cut.
    pub(crate) cells: Cells,
    /// The cells that an answer can lie in, row by row.
    pub(crate) allowed: Vec<CellSet>,
    /// The same as lists.
    pub(crate) choices: Vec<Vec<usize>>,
    /// Whether each option of a slot has a value of its own.
    pub(crate) by_option: bool,
    /// What each row is: one for most facts; of a fact of options the option, and its figure where the books differ.
    pub(crate) rows: Vec<String>,
    /// The book that declares it first, by its place in the list, and the declaration.
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
    /// For each of the book's own rows: the row of the space.
    pub(crate) rows: Vec<usize>,
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

/// A book and what the tables say of its worked facts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Told<'a> {
    /// The book.
    pub(crate) book: &'a Book,
    /// What its worked facts can come to.
    pub(crate) reach: &'a [Reach],
}

impl Space {
    /// The space of these books, its wires laid in the circuit.
    pub(crate) fn of(books: &[Told<'_>], circuit: &mut Circuit) -> Self {
        let mut facts: Vec<SpaceFact> = Vec::new();
        let mut found: Vec<Vec<usize>> = Vec::new();
        for (number, told) in books.iter().enumerate() {
            let mut own = Vec::new();
            for (id, fact) in told.book.facts.iter().enumerate() {
                let rows = rows::of(books, number, fact);
                let same = facts.iter().position(|known| is_same(known, books, fact));
                own.push(same.unwrap_or(facts.len()));
                match same.and_then(|at| facts.get_mut(at)) {
                    Some(known) => join(known, fact, rows),
                    None => facts.push(declared(fact, rows, (number, FactId(id)))),
                }
            }
            found.push(own);
        }
        let views: Vec<Vec<View>> =
            (0..books.len()).map(|number| views(books, number, &found, &facts)).collect();
        for (at, fact) in facts.iter_mut().enumerate() {
            fact.allowed = allowed(fact, at, books, &views);
            fact.choices = fact.allowed.iter().map(|cells| cells.iter().collect()).collect();
            lay(fact, circuit);
        }
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

fn source_of(fact: &Fact) -> Source {
    if matches!(fact.origin, Origin::Asked(_)) { Source::Asked } else { Source::Worked }
}

fn is_by_option(fact: &Fact) -> bool {
    matches!(fact.origin, Origin::Worked { per_option_of: Some(_), .. })
}

/// Facts of two books are one when one answer serves both.
fn is_same(known: &SpaceFact, books: &[Told<'_>], fact: &Fact) -> bool {
    let other = books.get(known.declared.0).and_then(|told| told.book.facts.get(known.declared.1.0));
    let alike = |one: &Kind, other: &Kind| match (one, other) {
        (Kind::Measure { dimension: one, .. }, Kind::Measure { dimension: other, .. }) => one == other,
        _ => std::mem::discriminant(one) == std::mem::discriminant(other),
    };
    known.name == fact.name
        && known.source == source_of(fact)
        && known.by_option == is_by_option(fact)
        && other.is_some_and(|other| alike(&other.kind, &fact.kind))
}

fn declared(fact: &Fact, rows: Vec<String>, declared: (usize, FactId)) -> SpaceFact {
    let source = source_of(fact);
    let shape = match (&fact.kind, source) {
        (Kind::Number { .. } | Kind::Measure { .. }, _) => Shape::Stretch,
        (Kind::YesNo, Source::Worked) => Shape::Single,
        _ => Shape::Words,
    };
    let words = match &fact.kind {
        Kind::OneOf(words) => Some(words.clone()),
        _ => None,
    };
    SpaceFact {
        name: fact.name.clone(),
        source,
        shape,
        words,
        cells: fact.cells.clone(),
        allowed: Vec::new(),
        choices: Vec::new(),
        by_option: is_by_option(fact),
        rows,
        declared,
        given: Bit::FALSE,
        told: Vec::new(),
        lawful: Bit::TRUE,
    }
}

/// Makes room for what another book says of the same fact: its cuts, its words, its rows.
fn join(known: &mut SpaceFact, fact: &Fact, rows: Vec<String>) {
    let absent = known.cells.may_be_absent || fact.cells.may_be_absent;
    match (&mut known.words, &fact.kind) {
        (Some(words), Kind::OneOf(more)) => {
            let new: Vec<String> = more.iter().filter(|word| !words.contains(word)).cloned().collect();
            words.extend(new);
            known.cells = Cells::of_values(words.len(), absent);
        }
        _ if known.cells.cuts == fact.cells.cuts => known.cells.may_be_absent = absent,
        _ => {
            let cuts = known.cells.cuts.iter().chain(&fact.cells.cuts).cloned();
            known.cells = Cells::of_cuts(cuts.collect(), absent);
        }
    }
    let new: Vec<String> = rows.into_iter().filter(|row| !known.rows.contains(row)).collect();
    known.rows.extend(new);
}

/// The cells that an answer can lie in, row by row: those within the range of its kind, and of a worked fact those that
/// the tables leave. What is worked out may be absent; what is asked is absent only by not being asked.
fn allowed(fact: &SpaceFact, at: usize, books: &[Told<'_>], views: &[Vec<View>]) -> Vec<CellSet> {
    let mut rows = vec![CellSet::EMPTY; fact.rows.len()];
    for (told, views) in books.iter().zip(views) {
        for (id, view) in views.iter().enumerate().filter(|(_, view)| view.fact == at) {
            let Some(own) = told.book.facts.get(id) else { continue };
            let range = within_range(fact, &own.kind);
            for (option, row) in view.rows.iter().enumerate() {
                let reach = told.reach.iter().find(|reach| reach.fact.0 == id && reach.option.0 == option);
                let cells = match reach.filter(|_| fact.by_option) {
                    Some(reach) => range.and(wider(view, reach.cells)),
                    None => range,
                };
                if let Some(so_far) = rows.get_mut(*row) {
                    *so_far = so_far.or(cells);
                }
            }
        }
    }
    rows
}

/// A book's own cells as cells of the space.
fn wider(view: &View, cells: CellSet) -> CellSet {
    let made = view.cells.iter().enumerate().filter(|(cell, _)| cells.contains(*cell));
    made.fold(CellSet::EMPTY, |all, (_, cells)| all.or(*cells))
}

fn within_range(fact: &SpaceFact, kind: &Kind) -> CellSet {
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

fn views(books: &[Told<'_>], number: usize, found: &[Vec<usize>], facts: &[SpaceFact]) -> Vec<View> {
    let Some(told) = books.get(number) else { return Vec::new() };
    let one = |(fact, at): (&Fact, &usize)| {
        let Some(joint) = facts.get(*at) else {
            return View { fact: *at, rows: Vec::new(), cells: Vec::new() };
        };
        let names = rows::of(books, number, fact);
        let row = |name: &String| joint.rows.iter().position(|known| known == name);
        let cells = (0..fact.cells.count()).map(|cell| made_of(fact, cell, joint));
        View { fact: *at, rows: names.iter().filter_map(row).collect(), cells: cells.collect() }
    };
    told.book.facts.iter().zip(found.get(number).map_or(&[][..], Vec::as_slice)).map(one).collect()
}

/// The cells of the space that a cell of a book is made of.
fn made_of(fact: &Fact, cell: usize, joint: &SpaceFact) -> CellSet {
    if cell == fact.cells.answered {
        return joint.cells.absent();
    }
    if let (Some(words), Kind::OneOf(own)) = (&joint.words, &fact.kind) {
        let at = own.get(cell).and_then(|word| words.iter().position(|known| known == word));
        return at.map_or(CellSet::EMPTY, CellSet::one);
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
