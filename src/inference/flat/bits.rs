//! Sets of small numbers as lists of words.

use crate::inference::truth::Truth;

/// How many words hold so many bits.
pub(super) fn words(bits: usize) -> usize {
    bits.div_ceil(64)
}

/// No bit of so many.
pub(super) fn none(bits: usize) -> Vec<u64> {
    vec![0; words(bits)]
}

/// Every bit of so many.
pub(super) fn every(bits: usize) -> Vec<u64> {
    let mut all = none(bits);
    (0..bits).for_each(|bit| set(&mut all, bit));
    all
}

/// Sets a bit.
pub(super) fn set(set: &mut [u64], bit: usize) {
    if let Some(word) = set.get_mut(bit / 64) {
        *word |= 1 << (bit % 64);
    }
}

/// Whether a bit is set.
pub(super) fn has(set: &[u64], bit: usize) -> bool {
    set.get(bit / 64).is_some_and(|word| word & (1 << (bit % 64)) != 0)
}

/// The bits of a word, lowest first.
pub(super) fn of(mut word: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let bit = word.trailing_zeros() as usize;
        word &= word.wrapping_sub(1);
        (bit < 64).then_some(bit)
    })
}

/// The bits of a set, lowest first.
pub(super) fn all_of(set: &[u64]) -> impl Iterator<Item = usize> {
    set.iter().enumerate().flat_map(|(at, word)| of(*word).map(move |bit| at * 64 + bit))
}

/// The truth that two bits say: certainly so, and not certainly not so.
pub(super) fn truth(yes: bool, may: bool) -> Truth {
    match (yes, may) {
        (true, _) => Truth::Yes,
        (false, true) => Truth::Unknown,
        (false, false) => Truth::No,
    }
}
