//! What a change of one answer does, gate by gate: from the wires of a fact only as far as words change. 64 surveys at a
//! time, each with its answer to the fact thrown anew.

use super::circuit::{Bit, Circuit, Gate};
use super::sample::{Batch, LANES, throw_into, word};
use super::sheet::{Dice, Openness};
use super::space::SpaceFact;

/// A circuit with who reads whom.
#[derive(Debug)]
pub(crate) struct Ripple<'a> {
    circuit: &'a Circuit,
    /// By gate: where the list of its readers starts; one more at the end.
    starts: Vec<usize>,
    readers: Vec<usize>,
    /// By gate: whether a change of it is looked for.
    watched: Vec<bool>,
    /// The words as they are after the change.
    words: Vec<u64>,
    /// Gates to be read anew, as bits.
    pending: Vec<u64>,
    /// Gates whose word differs from the batch's.
    touched: Vec<usize>,
}

impl<'a> Ripple<'a> {
    /// Watches these bits.
    pub(crate) fn on(circuit: &'a Circuit, watched: &[Bit]) -> Self {
        let count = circuit.gates().len();
        let mut is_watched = vec![false; count];
        for bit in watched {
            put(&mut is_watched, bit.gate(), true);
        }
        let (starts, readers) = readers(circuit);
        Self {
            circuit,
            starts,
            readers,
            watched: is_watched,
            words: Vec::new(),
            pending: vec![0; count.div_ceil(64)],
            touched: Vec::new(),
        }
    }

    /// Starts from these surveys.
    pub(crate) fn start(&mut self, batch: &Batch) {
        self.words.clear();
        self.words.extend_from_slice(batch.words());
    }

    /// Whether something watched changes in one of the surveys when the answers to a fact are thrown anew. The surveys
    /// are as before afterwards.
    pub(crate) fn is_seen(
        &mut self,
        batch: &Batch,
        fact: &SpaceFact,
        dice: &mut Dice,
        openness: Openness,
    ) -> bool {
        let seen = self.throw_anew(batch, fact, dice, openness) || self.run(batch);
        self.pending.fill(0);
        for gate in std::mem::take(&mut self.touched) {
            let before = batch.words().get(gate).copied().unwrap_or(0);
            put(&mut self.words, gate, before);
        }
        seen
    }

    /// Whether what is watched is what the surveys say of the fact.
    fn throw_anew(&mut self, batch: &Batch, fact: &SpaceFact, dice: &mut Dice, openness: Openness) -> bool {
        let wires = fact.told.iter().flatten().chain([&fact.given]).filter(|bit| !bit.is_constant());
        let gates: Vec<usize> = wires.map(|bit| bit.gate()).collect();
        for gate in &gates {
            put(&mut self.words, *gate, 0);
        }
        for lane in 0..LANES {
            throw_into(fact, dice, openness, 1 << lane, &mut self.words);
        }
        let mut seen = false;
        for gate in gates {
            self.touched.push(gate);
            if self.words.get(gate) != batch.words().get(gate) {
                seen |= self.watched.get(gate) == Some(&true);
                self.wake(gate);
            }
        }
        seen
    }

    /// Those that read a gate are to be read anew.
    fn wake(&mut self, gate: usize) {
        let range = self.starts.get(gate).copied().zip(self.starts.get(gate + 1).copied());
        let readers = range.and_then(|(from, to)| self.readers.get(from..to)).unwrap_or_default();
        for reader in readers {
            if let Some(word) = self.pending.get_mut(reader / 64) {
                *word |= 1 << (reader % 64);
            }
        }
    }

    /// Gates in their order, each after those that it reads.
    fn run(&mut self, batch: &Batch) -> bool {
        for at in 0..self.pending.len() {
            while let Some(bits) = self.pending.get(at).copied().filter(|bits| *bits != 0) {
                put(&mut self.pending, at, bits & (bits - 1));
                let gate = at * 64 + bits.trailing_zeros() as usize;
                let Some(Gate::Both(one, other)) = self.circuit.gates().get(gate) else { continue };
                let now = word(&self.words, *one) & word(&self.words, *other);
                if batch.words().get(gate) == Some(&now) {
                    continue;
                }
                if self.watched.get(gate) == Some(&true) {
                    return true;
                }
                put(&mut self.words, gate, now);
                self.touched.push(gate);
                self.wake(gate);
            }
        }
        false
    }
}

/// For each gate the gates that read it, one list after the other.
fn readers(circuit: &Circuit) -> (Vec<usize>, Vec<usize>) {
    let gates = circuit.gates();
    let read = |gate: &Gate| match gate {
        Gate::Both(one, other) => [Some(one.gate()), Some(other.gate())],
        Gate::Never | Gate::Said => [None, None],
    };
    let mut starts = vec![0; gates.len() + 1];
    for gate in gates.iter().flat_map(read).flatten() {
        if let Some(count) = starts.get_mut(gate + 1) {
            *count += 1;
        }
    }
    let mut sum = 0;
    for start in &mut starts {
        sum += *start;
        *start = sum;
    }
    let mut next = starts.clone();
    let mut readers = vec![0; sum];
    for (at, gate) in gates.iter().enumerate() {
        for gate in read(gate).into_iter().flatten() {
            if let Some(place) = next.get_mut(gate) {
                put(&mut readers, *place, at);
                *place += 1;
            }
        }
    }
    (starts, readers)
}

fn put<T>(list: &mut [T], at: usize, value: T) {
    if let Some(place) = list.get_mut(at) {
        *place = value;
    }
}
