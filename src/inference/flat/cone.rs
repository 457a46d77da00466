//! What one answer bears on, so that a zone can be read again with another answer without reading the rest.

use super::row::Node;
use super::{Flat, FlatStep, Own, Slate, bits};
use crate::inference::decide::Case;
use crate::rulebook::book::FactId;

/// Who reads what.
#[derive(Clone, Debug)]
pub(super) struct Readers {
    /// By column: the rows that test it.
    rows: Vec<Vec<u32>>,
    /// By row: the slots that a rule refuses or prefers in.
    slots: Vec<Vec<u32>>,
}

impl Readers {
    /// Looks through the rows and slots of a book.
    pub(super) fn of(rows: &[Vec<Node>], slots: &[super::SlotRow], columns: usize) -> Self {
        let mut found = Self { rows: vec![Vec::new(); columns], slots: vec![Vec::new(); rows.len()] };
        for (row, nodes) in rows.iter().enumerate() {
            for column in columns_of(nodes) {
                add(&mut found.rows, column, row);
            }
        }
        for (slot, laid) in slots.iter().enumerate() {
            let refusing = laid.refusals.iter().map(|(rule, _)| rule.0);
            for rule in refusing.chain(laid.preferences.iter().map(|(rule, _)| rule.0)) {
                add(&mut found.slots, rule, slot);
            }
        }
        found
    }
}

fn add(lists: &mut [Vec<u32>], at: usize, entry: usize) {
    let entry = u32::try_from(entry).unwrap_or(u32::MAX);
    if let Some(list) = lists.get_mut(at).filter(|list| list.last() != Some(&entry)) {
        list.push(entry);
    }
}

fn columns_of(nodes: &[Node]) -> impl Iterator<Item = usize> {
    nodes.iter().filter_map(|node| match node {
        Node::Test(test) => Some(test.column as usize),
        Node::All(_) | Node::Any(_) => None,
    })
}

/// Everything that a fact bears on: the guarded facts, the findings and slots, and the rows.
#[derive(Clone, Debug)]
pub struct Cone {
    fact: FactId,
    guarded: Vec<FactId>,
    steps: Vec<usize>,
    rows: Vec<u64>,
}

/// A cone being followed from column to row to column.
struct Walk<'f> {
    flat: &'f Flat,
    columns: Vec<bool>,
    slots: Vec<bool>,
    cone: Cone,
}

impl Walk<'_> {
    fn fact(&mut self, fact: FactId) {
        let Some(laid) = self.flat.facts.get(fact.0) else { return };
        self.column(fact.0);
        laid.known.into_iter().chain(laid.wide.iter().map(|(_, column)| *column)).for_each(|column| {
            self.column(column);
        });
    }

    fn column(&mut self, column: usize) {
        match self.columns.get_mut(column) {
            Some(seen) if !*seen => *seen = true,
            _ => return,
        }
        for row in self.flat.readers.rows.get(column).into_iter().flatten() {
            bits::set(&mut self.cone.rows, *row as usize);
            for slot in self.flat.readers.slots.get(*row as usize).into_iter().flatten() {
                if let Some(slot) = self.slots.get_mut(*slot as usize) {
                    *slot = true;
                }
            }
        }
    }

    fn reads(&self, nodes: &[Node]) -> bool {
        columns_of(nodes).any(|column| self.columns.get(column) == Some(&true))
    }

    fn guards(&mut self) {
        for id in &self.flat.guarded {
            let guard = self.flat.facts.get(id.0).and_then(|fact| fact.guard.as_deref());
            if guard.is_some_and(|guard| self.reads(guard)) {
                self.cone.guarded.push(*id);
                self.fact(*id);
            }
        }
    }

    fn steps(&mut self) {
        for (at, step) in self.flat.steps.iter().enumerate() {
            match step {
                FlatStep::Finding { row, column } if bits::has(&self.cone.rows, *row) => {
                    self.cone.steps.push(at);
                    self.column(*column);
                }
                FlatStep::Slot(slot) if self.moves(*slot) => {
                    self.cone.steps.push(at);
                    let laid = self.flat.slots.get(*slot);
                    laid.into_iter()
                        .flat_map(|laid| &laid.tests)
                        .for_each(|(_, column)| self.column(*column));
                }
                FlatStep::Finding { .. } | FlatStep::Slot(_) => {}
            }
        }
    }

    /// Whether a slot reads what moves: its guard, its rules, or tests of its options.
    fn moves(&self, slot: usize) -> bool {
        let Some(laid) = self.flat.slots.get(slot) else { return false };
        let passes = laid.refusals.iter().map(|(_, passes)| passes);
        let told = passes.chain(laid.tests.iter().map(|(passes, _)| passes)).flat_map(|passes| &passes.told);
        let tests_move = told.into_iter().any(|(_, own)| match own {
            Own::Column(node) => self.reads(std::slice::from_ref(node)),
            // An option's own value is never supposed.
            Own::Fact(..) => false,
        });
        self.slots.get(slot) == Some(&true) || tests_move || self.reads(&laid.guard)
    }
}

impl Flat {
    /// What an answer bears on.
    pub fn cone(&self, fact: FactId) -> Cone {
        let cone = Cone { fact, guarded: Vec::new(), steps: Vec::new(), rows: bits::none(self.rows.len()) };
        let (columns, slots) = (vec![false; self.columns], vec![false; self.slots.len()]);
        let mut walk = Walk { flat: self, columns, slots, cone };
        walk.fact(fact);
        walk.guards();
        walk.steps();
        walk.cone
    }

    /// Reads a zone that was read before into `base`, now with an answer supposed to the fact that the cone is of.
    pub fn suppose(&self, cone: &Cone, case: Case<'_>, base: &Slate, slate: &mut Slate) {
        slate.take_over(base, &cone.rows);
        if let Some(fact) = self.facts.get(cone.fact.0) {
            self.read_fact(cone.fact.0, fact, case, slate);
        }
        for id in &cone.guarded {
            self.read_guarded(*id, case, slate);
        }
        for step in cone.steps.iter().filter_map(|step| self.steps.get(*step)) {
            self.take_step(step, case, slate);
        }
        slate.rest(self);
    }
}
