//! Choosing with sets of options: the same steps as `inference::choice`, each truth as two bits, certainly so and not
//! certainly not so.

use super::row::Node;
use super::{Own, bits};
use crate::inference::truth::Truth;
use crate::rulebook::book::{Picks, RuleId};

/// A slot laid flat.
#[derive(Clone, Debug)]
pub(super) struct SlotRow {
    pub(super) picks: Picks,
    /// How many options.
    pub(super) options: usize,
    /// When it arises.
    pub(super) guard: Vec<Node>,
    pub(super) refusals: Vec<(RuleId, Passes)>,
    pub(super) preferences: Vec<(RuleId, Vec<(usize, usize)>)>,
    /// Tests of what is chosen, and the columns that hold their truth.
    pub(super) tests: Vec<(Passes, usize)>,
}

/// Which options pass a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Passes {
    /// Those that pass whatever is answered.
    pub(super) always: Vec<u64>,
    /// Those that pass where something is so.
    pub(super) told: Vec<(usize, Own)>,
}

/// What is settled of a slot.
#[derive(Clone, Debug, Default)]
pub(super) struct SlotSlate {
    options: usize,
    refused_yes: Vec<u64>,
    refused_may: Vec<u64>,
    chosen_yes: Vec<u64>,
    chosen_may: Vec<u64>,
    /// For each option the options that it is preferred to, one row after the other.
    beats_yes: Vec<u64>,
    beats_may: Vec<u64>,
    preferred: bool,
    pub(super) filled: Truth,
    pub(super) circular: Truth,
}

impl SlotSlate {
    pub(super) fn new(options: usize) -> Self {
        let none = || bits::none(options);
        let rows = || vec![0; bits::words(options) * options];
        Self {
            options,
            refused_yes: none(),
            refused_may: none(),
            chosen_yes: none(),
            chosen_may: none(),
            beats_yes: rows(),
            beats_may: rows(),
            preferred: false,
            filled: Truth::No,
            circular: Truth::No,
        }
    }

    pub(super) fn wipe(&mut self) {
        for words in
            [&mut self.refused_yes, &mut self.refused_may, &mut self.chosen_yes, &mut self.chosen_may]
        {
            words.fill(0);
        }
        if std::mem::take(&mut self.preferred) {
            self.beats_yes.fill(0);
            self.beats_may.fill(0);
        }
    }

    /// Rules out the options that pass.
    pub(super) fn refuse(&mut self, applies: Truth, passes: &Passes, told: impl Fn(&Own) -> Truth) {
        for ((yes, may), always) in self.refused_yes.iter_mut().zip(&mut self.refused_may).zip(&passes.always)
        {
            *may |= always;
            if applies == Truth::Yes {
                *yes |= always;
            }
        }
        for (option, test) in &passes.told {
            let truth = applies.and(told(test));
            if truth == Truth::Yes {
                bits::set(&mut self.refused_yes, *option);
            }
            if truth.is_shown() {
                bits::set(&mut self.refused_may, *option);
            }
        }
    }

    /// Ranks options.
    pub(super) fn prefer(&mut self, applies: Truth, pairs: &[(usize, usize)]) {
        self.preferred = true;
        let words = bits::words(self.options);
        for (better, worse) in pairs {
            let bit = better * words * 64 + worse;
            bits::set(&mut self.beats_may, bit);
            if applies == Truth::Yes {
                bits::set(&mut self.beats_yes, bit);
            }
        }
    }

    /// Settles what is chosen from what is refused and preferred.
    pub(super) fn choose(&mut self, picks: Picks, arises: Truth) {
        match picks {
            Picks::InOrder => self.choose_all(arises),
            Picks::One => self.choose_one(arises),
        }
    }

    fn choose_all(&mut self, arises: Truth) {
        let left_yes = left(self.options, &self.refused_may);
        let left_may = left(self.options, &self.refused_yes);
        if arises == Truth::Yes {
            self.chosen_yes.copy_from_slice(&left_yes);
        }
        if arises.is_shown() {
            self.chosen_may.copy_from_slice(&left_may);
        }
        self.circular = Truth::No;
        self.filled = bits::truth(some(&self.chosen_yes), some(&self.chosen_may));
    }

    fn choose_one(&mut self, arises: Truth) {
        self.circular = Truth::No;
        if self.preferred {
            close(self.options, &mut self.beats_yes);
            close(self.options, &mut self.beats_may);
            let ring = |beats: &[u64]| diagonal(self.options, beats);
            self.circular = bits::truth(ring(&self.beats_yes), ring(&self.beats_may));
        }
        let open = arises.and(self.circular.negated());
        let mut best_yes = left(self.options, &self.refused_may);
        let mut best_may = left(self.options, &self.refused_yes);
        self.filled = bits::truth(some(&best_yes), some(&best_may)).and(open);
        if self.preferred {
            let beaten_yes = beaten(&best_yes, &self.beats_yes);
            let beaten_may = beaten(&best_may, &self.beats_may);
            best_yes.iter_mut().zip(&beaten_may).for_each(|(best, beaten)| *best &= !beaten);
            best_may.iter_mut().zip(&beaten_yes).for_each(|(best, beaten)| *best &= !beaten);
        }
        if open == Truth::Yes {
            // Certain only where no earlier option may be the one.
            let first = bits::all_of(&best_may).next().filter(|first| bits::has(&best_yes, *first));
            if let Some(first) = first {
                bits::set(&mut self.chosen_yes, first);
            }
        }
        if open.is_shown() {
            for option in bits::all_of(&best_may) {
                bits::set(&mut self.chosen_may, option);
                if bits::has(&best_yes, option) {
                    break;
                }
            }
        }
    }

    /// Whether what is chosen passes: yes also where the slot is certainly filled and every option still possible passes.
    pub(super) fn passes(&self, passes: &Passes, told: impl Fn(&Own) -> Truth) -> Truth {
        let (mut any, mut every) = (Truth::No, self.filled);
        for option in bits::all_of(&self.chosen_may) {
            let here = if bits::has(&passes.always, option) {
                Truth::Yes
            } else {
                let own = passes.told.iter().find(|(of, _)| *of == option);
                own.map_or(Truth::No, |(_, test)| told(test))
            };
            any = any.or(self.chosen(option).and(here));
            every = every.and(here);
        }
        if every == Truth::Yes { Truth::Yes } else { any }
    }

    pub(super) fn chosen(&self, option: usize) -> Truth {
        bits::truth(bits::has(&self.chosen_yes, option), bits::has(&self.chosen_may, option))
    }

    pub(super) fn refused(&self, option: usize) -> Truth {
        bits::truth(bits::has(&self.refused_yes, option), bits::has(&self.refused_may, option))
    }

    /// How many options may be chosen and are not certain.
    pub(super) fn unsettled(&self) -> usize {
        let open = self.chosen_may.iter().zip(&self.chosen_yes).map(|(may, yes)| may & !yes);
        open.map(|open| open.count_ones() as usize).sum()
    }
}

/// The options that are not refused.
fn left(options: usize, refused: &[u64]) -> Vec<u64> {
    let mut left = bits::every(options);
    left.iter_mut().zip(refused).for_each(|(left, refused)| *left &= !refused);
    left
}

fn some(set: &[u64]) -> bool {
    set.iter().any(|word| *word != 0)
}

/// Closes `better over worse` transitively, a row of words at a time (Warshall 1962).
fn close(options: usize, beats: &mut [u64]) {
    let words = bits::words(options);
    for middle in 0..options {
        let Some(onward) = beats.chunks(words).nth(middle).map(<[u64]>::to_vec) else { return };
        if !some(&onward) {
            continue;
        }
        for row in beats.chunks_mut(words).filter(|row| bits::has(row, middle)) {
            row.iter_mut().zip(&onward).for_each(|(row, onward)| *row |= onward);
        }
    }
}

fn diagonal(options: usize, beats: &[u64]) -> bool {
    beats.chunks(bits::words(options).max(1)).enumerate().any(|(option, row)| bits::has(row, option))
}

/// The options that one of those left is preferred to.
fn beaten(left: &[u64], beats: &[u64]) -> Vec<u64> {
    let mut beaten = vec![0; left.len()];
    for better in bits::all_of(left) {
        let Some(row) = beats.chunks(left.len()).nth(better) else { break };
        for (at, (beaten, worse)) in beaten.iter_mut().zip(row).enumerate() {
            let own = if better / 64 == at { 1_u64 << (better % 64) } else { 0 };
            *beaten |= worse & !own;
        }
    }
    beaten
}
