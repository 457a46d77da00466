//! What conditions read, and the order of decisions that follows.

use std::collections::{BTreeMap, BTreeSet};

use super::desk::Desk;
use super::mistake_order::OrderMistake;
use super::sorting::{sorted, told};
use crate::rulebook::book::{Condition, EffectKind, FindingId, Owner, SlotId, Step, Test, TestKind};

/// What a decision waits for, and the rule through which it does.
type Waits = BTreeMap<usize, Option<String>>;

impl Desk {
    /// Puts findings and slots in an order in which each stands after all that it reads.
    pub(super) fn order(&mut self) {
        let waits = self.waits();
        let plain: Vec<BTreeSet<usize>> = waits.iter().map(|waits| waits.keys().copied().collect()).collect();
        match sorted(&plain) {
            Ok(order) => self.book.order = order.into_iter().map(|node| self.step(node)).collect(),
            Err(rings) => {
                for ring in rings {
                    self.ring(&ring, &waits);
                }
            }
        }
        self.owners();
    }

    /// Findings are numbered first, slots after them.
    fn step(&self, node: usize) -> Step {
        match node.checked_sub(self.book.findings.len()) {
            Some(slot) => Step::Slot(SlotId(slot)),
            None => Step::Finding(FindingId(node)),
        }
    }

    fn waits(&self) -> Vec<Waits> {
        let findings = self.book.findings.len();
        let mut waits: Vec<Waits> = vec![Waits::new(); findings + self.book.slots.len()];
        let mut add = |node: usize, condition: &Condition, rule: Option<&str>| {
            for earlier in decisions(condition, findings) {
                if let Some(waits) = waits.get_mut(node) {
                    waits.entry(earlier).or_insert_with(|| rule.map(str::to_owned));
                }
            }
        };
        for (node, finding) in self.book.findings.iter().enumerate() {
            add(node, &finding.when, None);
        }
        for (slot, of) in self.book.slots.iter().enumerate() {
            if let Some(condition) = &of.only_where {
                add(findings + slot, condition, None);
            }
        }
        for rule in &self.book.rules {
            for effect in &rule.effects {
                if let EffectKind::Refuse { slot, .. } | EffectKind::Prefer { slot, .. } = &effect.kind {
                    add(findings + slot.0, &rule.when, Some(&rule.name));
                }
            }
        }
        waits
    }

    fn ring(&mut self, ring: &[usize], waits: &[Waits]) {
        let name = |node: usize| match self.step(node) {
            Step::Finding(id) => {
                self.book.findings.get(id.0).map(|one| (one.name.clone(), one.place.clone()))
            }
            Step::Slot(id) => self.book.slots.get(id.0).map(|one| (one.name.clone(), one.place.clone())),
        };
        let next = |node: usize| {
            let at = ring.iter().position(|one| *one == node).unwrap_or_default();
            ring.get((at + 1) % ring.len().max(1)).copied().unwrap_or(node)
        };
        let words = |node: usize| {
            let plain = name(node).map_or_else(String::new, |(name, _)| name);
            let through = waits.get(node).and_then(|waits| waits.get(&next(node))).cloned().flatten();
            through.map_or_else(|| plain.clone(), |rule| format!("{plain} (rule {rule})"))
        };
        let (_, ring_words) = told(ring, words);
        let Some((first, place)) = ring.first().and_then(|node| name(*node)) else { return };
        self.found.push(crate::diagnostic::Diagnostic::error(
            &OrderMistake::Decisions { first, ring: ring_words },
            place,
        ));
    }

    /// A finding is the job's when all that it reads is the job's.
    fn owners(&mut self) {
        for step in self.book.order.clone() {
            let Step::Finding(id) = step else { continue };
            let Some(finding) = self.book.findings.get(id.0) else { continue };
            let of_zone = finding.when.tests().iter().any(|test| self.owner(&test.kind) == Owner::Zone);
            if let Some(finding) = self.book.findings.get_mut(id.0) {
                finding.owner = if of_zone { Owner::Zone } else { Owner::Job };
            }
        }
    }

    fn owner(&self, kind: &TestKind) -> Owner {
        let owner = match kind {
            TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => {
                self.book.facts.get(fact.0).map(|fact| fact.owner)
            }
            TestKind::Finding(id) => self.book.findings.get(id.0).map(|finding| finding.owner),
            TestKind::Chosen { .. } | TestKind::ChosenWhose { .. } => None,
        };
        owner.unwrap_or(Owner::Zone)
    }
}

/// The decisions that a condition reads, as numbers.
fn decisions(condition: &Condition, findings: usize) -> BTreeSet<usize> {
    let decision = |test: &Test| match &test.kind {
        TestKind::Finding(id) => Some(id.0),
        TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => Some(findings + slot.0),
        TestKind::Fact { .. } | TestKind::Known(_) | TestKind::Unknown(_) => None,
    };
    condition.tests().into_iter().filter_map(decision).collect()
}
