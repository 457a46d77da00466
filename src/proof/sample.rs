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

fn word(words: &[u64], bit: Bit) -> u64 {
    let word = words.get(bit.gate()).copied().unwrap_or(0);
    if bit.is_turned() { !word } else { word }
}

fn write(space: &Space, sheet: &Sheet, lane: u64, words: &mut [u64]) {
    for (fact, said) in space.facts.iter().zip(&sheet.said) {
        let Said::Cells(rows) = said else { continue };
        mark(words, fact.given, lane);
        for (wires, cells) in fact.told.iter().zip(rows) {
            for (cell, wire) in wires.iter().enumerate() {
                if cells.contains(cell) && !wire.is_constant() {
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
