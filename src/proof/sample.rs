//! Thrown surveys read 64 at a time: each gate is one word, each bit of the word one survey. Most questions that can be
//! answered by a single survey are answered here, before the solver is asked.

use super::circuit::{Bit, Circuit, Gate};
use super::sheet::{Dice, Openness, Said, Sheet, thrown};
use super::space::Space;

/// How many surveys fit into one word.
const LANES: usize = 64;

/// 64 surveys, read.
#[derive(Debug)]
pub(crate) struct Batch {
    sheets: Vec<Sheet>,
    words: Vec<u64>,
}

impl Batch {
    /// Throws 64 surveys and reads them.
    pub(crate) fn thrown(circuit: &Circuit, space: &Space, dice: &mut Dice, openness: Openness) -> Self {
        let sheets = (0..LANES).map(|_| thrown(space, dice, openness)).collect();
        Self::of(circuit, space, sheets)
    }

    /// Reads up to 64 surveys.
    pub(crate) fn of(circuit: &Circuit, space: &Space, sheets: Vec<Sheet>) -> Self {
        let mut words = vec![0; circuit.gates().len()];
        for (lane, sheet) in sheets.iter().enumerate().take(LANES) {
            write(space, sheet, 1 << lane, &mut words);
        }
        for (at, gate) in circuit.gates().iter().enumerate() {
            if let Gate::Both(one, other) = gate {
                let both = word(&words, *one) & word(&words, *other);
                set(&mut words, at, both);
            }
        }
        Self { sheets, words }
    }

    /// The surveys.
    pub(crate) fn sheets(&self) -> &[Sheet] {
        &self.sheets
    }

    /// In which of the surveys something is so.
    pub(crate) fn where_so(&self, bit: Bit) -> u64 {
        let full = if self.sheets.len() >= LANES { u64::MAX } else { (1 << self.sheets.len()) - 1 };
        word(&self.words, bit) & full
    }

    /// A survey in which something is so.
    pub(crate) fn witness(&self, bit: Bit) -> Option<&Sheet> {
        let lane = self.where_so(bit).trailing_zeros();
        self.sheets.get(usize::try_from(lane).ok()?)
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
        write(self.space, sheet, 1, &mut self.words);
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

fn word(words: &[u64], bit: Bit) -> u64 {
    let word = words.get(bit.gate()).copied().unwrap_or(0);
    if bit.is_turned() { !word } else { word }
}

fn write(space: &Space, sheet: &Sheet, lane: u64, words: &mut [u64]) {
    for (fact, said) in space.facts.iter().zip(&sheet.said) {
        let Said::Cells(rows) = said else { continue };
        mark(words, fact.given, lane);
        for ((wires, choices), cells) in fact.told.iter().zip(&fact.choices).zip(rows) {
            for cell in choices.iter().filter(|cell| cells.contains(**cell)) {
                if let Some(wire) = wires.get(*cell) {
                    mark(words, *wire, lane);
                }
            }
        }
    }
}

fn mark(words: &mut [u64], bit: Bit, lane: u64) {
    if let Some(word) = words.get_mut(bit.gate()) {
        *word |= lane;
    }
}

fn set(words: &mut [u64], at: usize, value: u64) {
    if let Some(word) = words.get_mut(at) {
        *word = value;
    }
}
