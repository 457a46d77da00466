//! What is settled of one zone while it is read, and afterwards.

use super::choice::SlotSlate;
use super::{Flat, bits, row};
use crate::inference::truth::Truth;
use crate::rulebook::book::SlotId;

/// The bare decisions of one zone.
#[derive(Clone, Debug)]
pub struct Slate {
    /// By column: the cells possible.
    columns: Vec<u64>,
    /// Rows that nothing has ruled out.
    alive: Vec<u64>,
    /// Rows with a test of a column that has not exactly one cell possible.
    unsure: Vec<u64>,
    /// Rows that are read.
    done: Vec<u64>,
    /// Rows that certainly hold.
    yes: Vec<u64>,
    /// Rows that do not certainly fail.
    may: Vec<u64>,
    slots: Vec<SlotSlate>,
}

impl Slate {
    pub(super) fn new(flat: &Flat) -> Self {
        let rows = flat.rows.len();
        let slots = flat.slots.iter().map(|slot| SlotSlate::new(slot.options));
        Self {
            columns: vec![0; flat.columns],
            alive: bits::none(rows),
            unsure: bits::none(rows),
            done: bits::none(rows),
            yes: bits::none(rows),
            may: bits::none(rows),
            slots: slots.collect(),
        }
    }

    pub(super) fn wipe(&mut self, flat: &Flat) {
        // A slate of another book would leave rows unread.
        if self.columns.len() != flat.columns || self.alive.len() != bits::words(flat.rows.len()) {
            *self = Self::new(flat);
        }
        self.alive.fill(u64::MAX);
        for words in [&mut self.unsure, &mut self.done, &mut self.yes, &mut self.may] {
            words.fill(0);
        }
    }

    /// What another slate says but for these rows, which are to be read again.
    pub(super) fn take_over(&mut self, base: &Self, rows: &[u64]) {
        self.columns.clone_from(&base.columns);
        for (own, known) in [
            (&mut self.alive, &base.alive),
            (&mut self.unsure, &base.unsure),
            (&mut self.done, &base.done),
            (&mut self.yes, &base.yes),
            (&mut self.may, &base.may),
        ] {
            own.clone_from(known);
        }
        // What ruled these rows out may be what moves: only reading them tells.
        for words in [&mut self.alive, &mut self.unsure] {
            words.iter_mut().zip(rows).for_each(|(word, rows)| *word |= rows);
        }
        for words in [&mut self.done, &mut self.yes, &mut self.may] {
            words.iter_mut().zip(rows).for_each(|(word, rows)| *word &= !rows);
        }
        self.slots.resize_with(base.slots.len(), SlotSlate::default);
        self.slots.iter_mut().zip(&base.slots).for_each(|(own, known)| own.take_over(known));
    }

    pub(super) fn columns(&self) -> &[u64] {
        &self.columns
    }

    /// Sets a column for good, and takes out the rows that it rules out.
    pub(super) fn settle(&mut self, flat: &Flat, column: usize, cells: u64) {
        if let Some(place) = self.columns.get_mut(column) {
            *place = cells;
        }
        flat.index.apply(column, cells, &mut self.alive, &mut self.unsure);
    }

    /// The truth of a row, all of whose columns are settled.
    pub(super) fn row(&mut self, flat: &Flat, row: usize) -> Truth {
        if bits::has(&self.done, row) {
            return self.truth(row);
        }
        let truth = if !bits::has(&self.alive, row) {
            Truth::No
        } else if bits::has(flat.index.plain(), row) && !bits::has(&self.unsure, row) {
            Truth::Yes
        } else {
            flat.rows.get(row).map_or(Truth::No, |nodes| row::all(nodes, &self.columns))
        };
        let truth =
            if bits::has(&flat.leave_out, row) && truth == Truth::Unknown { Truth::No } else { truth };
        bits::set(&mut self.done, row);
        if truth == Truth::Yes {
            bits::set(&mut self.yes, row);
        }
        if truth.is_shown() {
            bits::set(&mut self.may, row);
        }
        truth
    }

    /// Reads every row that nothing has read, a word of them at a time.
    pub(super) fn rest(&mut self, flat: &Flat) {
        let settled = self.alive.iter().zip(flat.index.plain()).zip(&self.unsure).zip(&self.done);
        let settled = settled.map(|(((alive, plain), unsure), done)| alive & plain & !unsure & !done);
        for ((yes, may), settled) in self.yes.iter_mut().zip(&mut self.may).zip(settled) {
            *yes |= settled;
            *may |= settled;
        }
        for word in 0..self.alive.len() {
            let at = |set: &[u64]| set.get(word).copied().unwrap_or(0);
            let open = at(&self.alive) & !at(&self.done) & !at(&self.yes);
            let (yes, may) = self.open_rows(flat, word, open);
            let left_out = at(&flat.leave_out) & !yes;
            if let (Some(all_yes), Some(all_may)) = (self.yes.get_mut(word), self.may.get_mut(word)) {
                *all_yes |= yes;
                *all_may |= may & !left_out;
            }
        }
        self.done.fill(u64::MAX);
    }

    fn open_rows(&self, flat: &Flat, word: usize, open: u64) -> (u64, u64) {
        let (mut yes, mut may) = (0, 0);
        for bit in bits::of(open) {
            let Some(nodes) = flat.rows.get(word * 64 + bit) else { break };
            match row::all(nodes, &self.columns) {
                Truth::Yes => (yes, may) = (yes | 1 << bit, may | 1 << bit),
                Truth::Unknown => may |= 1 << bit,
                Truth::No => {}
            }
        }
        (yes, may)
    }

    pub(super) fn truth(&self, row: usize) -> Truth {
        bits::truth(bits::has(&self.yes, row), bits::has(&self.may, row))
    }

    /// How many rules are neither certain nor certainly not so.
    pub(super) fn unsettled_rules(&self, flat: &Flat) -> usize {
        let open = self.may.iter().zip(&self.yes).map(|(may, yes)| may & !yes);
        let counted = open.zip(&flat.is_rule).map(|(open, rules)| (open & rules).count_ones() as usize);
        counted.sum()
    }

    pub(super) fn slot(&self, slot: SlotId) -> Option<&SlotSlate> {
        self.slots.get(slot.0)
    }

    pub(super) fn slots(&self) -> impl Iterator<Item = &SlotSlate> {
        self.slots.iter()
    }

    /// Takes a slot out to work on it.
    pub(super) fn take_slot(&mut self, slot: usize) -> SlotSlate {
        self.slots.get_mut(slot).map(std::mem::take).unwrap_or_default()
    }

    /// Puts it back.
    pub(super) fn put_slot(&mut self, slot: usize, settled: SlotSlate) {
        if let Some(place) = self.slots.get_mut(slot) {
            *place = settled;
        }
    }
}
