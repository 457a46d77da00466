//! One possible survey of one zone: what it says of each fact of the space.

use super::circuit::Bit;
use super::space::{Shape, Source, Space, SpaceFact};
use crate::rulebook::cells::CellSet;
use crate::wall::facts::{FactAnswer, Given, ZoneFacts};

/// What a sheet says of one fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    /// Nothing that counts.
    Nothing,
    /// The cells left possible: one row, or one an option.
    Cells(Vec<CellSet>),
}

/// What one possible survey says, fact by fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sheet {
    /// One entry a fact of the space.
    pub(crate) said: Vec<Said>,
}

impl Sheet {
    /// Reads a sheet back from the values of the wires.
    pub(crate) fn read(space: &Space, value: impl Fn(Bit) -> bool) -> Self {
        let said = space.facts.iter().map(|fact| {
            if !value(fact.given) {
                return Said::Nothing;
            }
            let row = |row: &Vec<Bit>| {
                let told = row.iter().enumerate().filter(|(_, bit)| value(**bit));
                told.fold(CellSet::EMPTY, |set, (cell, _)| set.or(CellSet::one(cell)))
            };
            Said::Cells(fact.told.iter().map(row).collect())
        });
        Self { said: said.collect() }
    }

    /// The same sheet with another word on one fact.
    #[must_use]
    pub(crate) fn with(&self, fact: usize, said: Said) -> Self {
        let mut other = self.clone();
        if let Some(place) = other.said.get_mut(fact) {
            *place = said;
        }
        other
    }

    /// The facts as the evaluator takes them, for one book of the space.
    pub(crate) fn facts(&self, space: &Space, book: usize) -> ZoneFacts {
        let views = space.views.get(book).map_or(&[][..], Vec::as_slice);
        let answers = views.iter().map(|view| {
            let own = |set: &CellSet| {
                let made = view.cells.iter().enumerate().filter(|(_, cells)| cells.meets(*set));
                made.fold(CellSet::EMPTY, |all, (cell, _)| all.or(CellSet::one(cell)))
            };
            let fact = space.facts.get(view.fact);
            FactAnswer::of(match (self.said.get(view.fact), fact) {
                (Some(Said::Cells(rows)), Some(fact)) if fact.by_option => {
                    let rows = view.rows.iter().filter_map(|row| rows.get(*row));
                    Given::ByOption(rows.map(own).collect())
                }
                (Some(Said::Cells(rows)), _) => {
                    rows.first().map_or(Given::Unanswered, |row| Given::Cells(own(row)))
                }
                _ => Given::Unanswered,
            })
        });
        ZoneFacts { answers: answers.collect() }
    }
}

/// Numbers that look thrown and are the same in every run (xorshift, Marsaglia 2003).
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

impl Dice {
    /// Starts a row of throws.
    pub(crate) fn new(start: u64) -> Self {
        Self(start.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// A number under `sides`; zero if there are none.
    pub(crate) fn throw(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let sides = u64::try_from(sides).unwrap_or(1).max(1);
        usize::try_from((self.0 >> 11) % sides).unwrap_or(0)
    }
}

/// How much a thrown sheet leaves open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Openness {
    /// Every fact has one cell.
    Complete,
    /// Some answers are pairs or lists, some are missing.
    Mixed,
}

/// Throws what a sheet says of one fact, row by row; nothing is told where it says nothing. Every sheet that a survey can
/// make may come up.
pub(crate) fn throw(
    fact: &SpaceFact,
    dice: &mut Dice,
    openness: Openness,
    mut tell: impl FnMut(usize, CellSet),
) {
    let missing = match (openness, fact.source) {
        (Openness::Complete, Source::Worked) => false,
        // A question that does not arise is settled by not being answered.
        (Openness::Complete, Source::Asked) => fact.cells.may_be_absent && dice.throw(2) == 0,
        (Openness::Mixed, _) => dice.throw(4) == 0,
    };
    if missing {
        return;
    }
    for (at, choices) in fact.choices.iter().enumerate() {
        tell(at, row(fact, choices, dice, openness));
    }
}

fn row(fact: &SpaceFact, choices: &[usize], dice: &mut Dice, openness: Openness) -> CellSet {
    let one = |dice: &mut Dice| choices.get(dice.throw(choices.len())).copied().unwrap_or(0);
    let first = one(dice);
    let is_absent = |cell: usize| cell >= fact.cells.answered;
    if openness == Openness::Complete || fact.shape == Shape::Single || is_absent(first) || dice.throw(2) == 0
    {
        return CellSet::one(first);
    }
    let other = one(dice);
    let (low, high) = (first.min(other), first.max(other));
    let wide = choices.iter().filter(|cell| match fact.shape {
        Shape::Stretch => (low..=high).contains(*cell),
        Shape::Words | Shape::Single => **cell == first || **cell == other,
    });
    let told = wide.filter(|cell| !is_absent(**cell));
    told.fold(CellSet::EMPTY, |mut set, cell| {
        set.insert(*cell);
        set
    })
}
