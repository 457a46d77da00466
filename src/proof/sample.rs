//! Thrown surveys read 64 at a time: each gate is one word, each bit of the word one survey. Most questions that can be
//! answered by a single survey are answered here, before the solver is asked.

use super::circuit::{Bit, Circuit, Gate};
use super::sheet::{Dice, Openness, Said, Sheet, throw};
use super::space::{Space, SpaceFact};
use crate::rulebook::cells::CellSet;

/// How many surveys fit into one word.
pub(crate) const LANES: usize = 64;

/// 64 surveys, read.
#[derive(Debug)]
pub(crate) struct Batch {
    words: Vec<u64>,
}

impl Batch {
    /// Throws 64 surveys and reads them.
    pub(crate) fn thrown(circuit: &Circuit, space: &Space, dice: &mut Dice, openness: Openness) -> Self {
        let mut words = vec![0; circuit.gates().len()];
        for fact in &space.facts {
            for lane in 0..LANES {
                throw_into(fact, dice, openness, 1 << lane, &mut words);
            }
        }
        read(circuit, &mut words);
        Self { words }
    }

    /// 64 surveys that say what one does but for a few facts; the first says just that.
    pub(crate) fn near(circuit: &Circuit, space: &Space, dice: &mut Dice, sheet: &Sheet) -> Self {
        let mut words = vec![0; circuit.gates().len()];
        for (fact, said) in space.facts.iter().zip(&sheet.said) {
            let mut kept = u64::MAX;
            for lane in 1..LANES {
                if dice.throw(NEAR) >= lane {
                    continue;
                }
                throw_into(fact, dice, Openness::Complete, 1 << lane, &mut words);
                kept &= !(1 << lane);
            }
            write(fact, said, kept, &mut words);
        }
        read(circuit, &mut words);
        Self { words }
    }

    /// What one of the surveys says.
    pub(crate) fn sheet(&self, space: &Space, lane: usize) -> Sheet {
        Sheet::read(space, |bit| word(&self.words, bit) & (1 << lane) != 0)
    }

    /// In which of the surveys something is so.
    pub(crate) fn where_so(&self, bit: Bit) -> u64 {
        word(&self.words, bit)
    }

    /// One word a gate.
    pub(crate) fn words(&self) -> &[u64] {
        &self.words
    }
}

/// Of so many facts, neighbour `n` of a survey has about `n` thrown anew.
const NEAR: usize = 256;

fn read(circuit: &Circuit, words: &mut [u64]) {
    for (at, gate) in circuit.gates().iter().enumerate() {
        if let Gate::Both(one, other) = gate {
            let both = word(words, *one) & word(words, *other);
            set(words, at, both);
        }
    }
}

/// The gates that one bit depends on, to read single surveys quickly.
#[derive(Debug)]
pub(crate) struct Lens<'a> {
    circuit: &'a Circuit,
    space: &'a Space,
    bit: Bit,
    cone: Vec<usize>,
    words: Vec<u64>,
}

impl<'a> Lens<'a> {
    /// A lens on a bit.
    pub(crate) fn on(circuit: &'a Circuit, space: &'a Space, bit: Bit) -> Self {
        Self { circuit, space, bit, cone: circuit.cone(&[bit]), words: vec![0; circuit.gates().len()] }
    }

    /// Whether the bit is so in a survey.
    pub(crate) fn is_so(&mut self, sheet: &Sheet) -> bool {
        for gate in &self.cone {
            set(&mut self.words, *gate, 0);
        }
        for (fact, said) in self.space.facts.iter().zip(&sheet.said) {
            write(fact, said, 1, &mut self.words);
        }
        for at in &self.cone {
            if let Some(Gate::Both(one, other)) = self.circuit.gates().get(*at) {
                let both = word(&self.words, *one) & word(&self.words, *other);
                set(&mut self.words, *at, both);
            }
        }
        word(&self.words, self.bit) & 1 == 1
    }

    /// The facts that the bit reads.
    pub(crate) fn facts(&self) -> Vec<bool> {
        let owners = self.space.owners(self.circuit.gates().len());
        let mut read = vec![false; self.space.facts.len()];
        for owner in self.cone.iter().filter_map(|gate| owners.get(*gate).copied().flatten()) {
            if let Some(place) = read.get_mut(owner) {
                *place = true;
            }
        }
        read
    }
}

/// The word of a bit.
pub(crate) fn word(words: &[u64], bit: Bit) -> u64 {
    let word = words.get(bit.gate()).copied().unwrap_or(0);
    if bit.is_turned() { !word } else { word }
}

fn write(fact: &SpaceFact, said: &Said, lanes: u64, words: &mut [u64]) {
    let Said::Cells(rows) = said else { return };
    mark(words, fact.given, lanes);
    for (row, cells) in rows.iter().enumerate() {
        write_row(fact, row, *cells, lanes, words);
    }
}

/// Throws what the surveys of one lane say of a fact.
pub(crate) fn throw_into(
    fact: &SpaceFact,
    dice: &mut Dice,
    openness: Openness,
    lane: u64,
    words: &mut [u64],
) {
    throw(fact, dice, openness, |row, cells| {
        mark(words, fact.given, lane);
        write_row(fact, row, cells, lane, words);
    });
}

fn write_row(fact: &SpaceFact, row: usize, cells: CellSet, lanes: u64, words: &mut [u64]) {
    let (Some(wires), Some(choices)) = (fact.told.get(row), fact.choices.get(row)) else { return };
    for cell in choices.iter().filter(|cell| cells.contains(**cell)) {
        if let Some(wire) = wires.get(*cell) {
            mark(words, *wire, lanes);
        }
    }
}

fn mark(words: &mut [u64], bit: Bit, lanes: u64) {
    if let Some(word) = words.get_mut(bit.gate()) {
        *word |= lanes;
    }
}

fn set(words: &mut [u64], at: usize, value: u64) {
    if let Some(word) = words.get_mut(at) {
        *word = value;
    }
}
