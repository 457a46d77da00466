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
    /// Every option.
    every: Vec<u64>,
    room: Room,
    pub(super) filled: Truth,
    pub(super) circular: Truth,
}

/// Room to work in, kept from one reading to the next.
#[derive(Clone, Debug, Default)]
struct Room {
    best_yes: Vec<u64>,
    best_may: Vec<u64>,
    beaten_yes: Vec<u64>,
    beaten_may: Vec<u64>,
    row: Vec<u64>,
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
            every: bits::every(options),
            room: Room {
                best_yes: none(),
                best_may: none(),
                beaten_yes: none(),
                beaten_may: none(),
                row: none(),
            },
            filled: Truth::No,
            circular: Truth::No,
        }
    }

    /// What another slate says of the slot.
    pub(super) fn take_over(&mut self, known: &Self) {
        (self.options, self.preferred) = (known.options, known.preferred);
        (self.filled, self.circular) = (known.filled, known.circular);
        for (own, known) in [
            (&mut self.refused_yes, &known.refused_yes),
            (&mut self.refused_may, &known.refused_may),
            (&mut self.chosen_yes, &known.chosen_yes),
            (&mut self.chosen_may, &known.chosen_may),
            (&mut self.beats_yes, &known.beats_yes),
            (&mut self.beats_may, &known.beats_may),
            (&mut self.every, &known.every),
        ] {
            own.clone_from(known);
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
        if arises == Truth::Yes {
            left(&self.every, &self.refused_may, &mut self.chosen_yes);
        }
        if arises.is_shown() {
            left(&self.every, &self.refused_yes, &mut self.chosen_may);
        }
        self.circular = Truth::No;
        self.filled = bits::truth(some(&self.chosen_yes), some(&self.chosen_may));
    }

    fn choose_one(&mut self, arises: Truth) {
        self.circular = Truth::No;
        let Room { best_yes, best_may, beaten_yes, beaten_may, row } = &mut self.room;
        if self.preferred {
            close(self.options, &mut self.beats_yes, row);
            close(self.options, &mut self.beats_may, row);
            let ring = |beats: &[u64]| diagonal(self.options, beats);
            self.circular = bits::truth(ring(&self.beats_yes), ring(&self.beats_may));
        }
        let open = arises.and(self.circular.negated());
        left(&self.every, &self.refused_may, best_yes);
        left(&self.every, &self.refused_yes, best_may);
        self.filled = bits::truth(some(best_yes), some(best_may)).and(open);
        if self.preferred {
            beaten(best_yes, &self.beats_yes, beaten_yes);
            beaten(best_may, &self.beats_may, beaten_may);
            best_yes.iter_mut().zip(beaten_may).for_each(|(best, beaten)| *best &= !*beaten);
            best_may.iter_mut().zip(beaten_yes).for_each(|(best, beaten)| *best &= !*beaten);
        }
        if open == Truth::Yes {
            // Certain only where no earlier option may be the one.
            let first = bits::all_of(best_may).next().filter(|first| bits::has(best_yes, *first));
            if let Some(first) = first {
                bits::set(&mut self.chosen_yes, first);
            }
        }
        if open.is_shown() {
            for option in bits::all_of(best_may) {
                bits::set(&mut self.chosen_may, option);
                if bits::has(best_yes, option) {
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
fn left(every: &[u64], refused: &[u64], left: &mut [u64]) {
    left.iter_mut().zip(every).zip(refused).for_each(|((left, every), refused)| *left = every & !refused);
}

fn some(set: &[u64]) -> bool {
    set.iter().any(|word| *word != 0)
}

/// Closes `better over worse` transitively, a row of words at a time (Warshall 1962).
fn close(options: usize, beats: &mut [u64], onward: &mut [u64]) {
    let words = bits::words(options);
    for middle in 0..options {
        let Some(row) = beats.get(middle * words..(middle + 1) * words) else { return };
        if !some(row) {
            continue;
        }
        onward.copy_from_slice(row);
        for row in beats.chunks_exact_mut(words).filter(|row| bits::has(row, middle)) {
            row.iter_mut().zip(&*onward).for_each(|(row, onward)| *row |= onward);
        }
    }
}

fn diagonal(options: usize, beats: &[u64]) -> bool {
    beats.chunks(bits::words(options).max(1)).enumerate().any(|(option, row)| bits::has(row, option))
}

/// The options that one of those left is preferred to.
fn beaten(left: &[u64], beats: &[u64], beaten: &mut [u64]) {
    beaten.fill(0);
    for better in bits::all_of(left) {
        let Some(row) = beats.get(better * left.len()..(better + 1) * left.len()) else { break };
        for (at, (beaten, worse)) in beaten.iter_mut().zip(row).enumerate() {
            let own = if better / 64 == at { 1_u64 << (better % 64) } else { 0 };
            *beaten |= worse & !own;
        }
    }
}
