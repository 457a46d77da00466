//! What would change an answer: for each fact, the other answers under which a decision turns out otherwise.

use std::collections::BTreeSet;

use crate::inference::decide::Case;
use crate::inference::plan::{Plan, facts_of, facts_of_whose};
use crate::inference::truth::Truth;
use crate::inference::{Ready, Slate};
use crate::rulebook::book::{Book, Condition, EffectKind, FactId, FindingId, Refused, SlotId, TestKind};
use crate::rulebook::cells::CellSet;

/// One fact that would change a decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The fact.
    pub fact: FactId,
    /// The answers that would do it.
    pub cells: CellSet,
    /// What the decision would then be.
    pub truth: Truth,
}

/// Every fact, alone, that would turn what is decided in a case into something else, with the answers that would do it.
pub fn changes(
    Ready { book, flat, .. }: &Ready<'_>,
    case: Case<'_>,
    facts: &BTreeSet<FactId>,
    decided: impl Fn(&Slate) -> Truth,
) -> Vec<Change> {
    let (mut base, mut slate) = (flat.slate(), flat.slate());
    flat.read(case, &mut base);
    let now = decided(&base);
    let mut found = Vec::new();
    for fact in facts {
        let Some(declared) = book.facts.get(fact.0) else { continue };
        let cone = flat.cone(*fact);
        let mut by_truth =
            [(Truth::No, CellSet::EMPTY), (Truth::Unknown, CellSet::EMPTY), (Truth::Yes, CellSet::EMPTY)];
        for cell in 0..declared.cells.count() {
            let supposed = Case { supposed: Some((*fact, CellSet::one(cell))), ..case };
            flat.suppose(&cone, supposed, &base, &mut slate);
            let truth = decided(&slate);
            for (kind, cells) in &mut by_truth {
                if *kind == truth && truth != now {
                    cells.insert(cell);
                }
            }
        }
        let turned = by_truth.into_iter().filter(|(_, cells)| !cells.is_empty());
        found.extend(turned.map(|(truth, cells)| Change { fact: *fact, cells, truth }));
    }
    found
}

/// Every fact that bears on a condition, through findings and through the refusals and preferences of slots.
pub fn facts_behind(book: &Book, plan: &Plan, condition: &Condition) -> BTreeSet<FactId> {
    let mut walk = Walk::new(book, plan);
    walk.condition(condition);
    walk.facts
}

/// Every fact that bears on a slot.
pub fn facts_behind_slot(book: &Book, plan: &Plan, slot: SlotId) -> BTreeSet<FactId> {
    let mut walk = Walk::new(book, plan);
    walk.slot(slot);
    walk.facts
}

struct Walk<'a> {
    book: &'a Book,
    plan: &'a Plan,
    facts: BTreeSet<FactId>,
    findings: BTreeSet<FindingId>,
    slots: BTreeSet<SlotId>,
}

impl<'a> Walk<'a> {
    fn new(book: &'a Book, plan: &'a Plan) -> Self {
        Self { book, plan, facts: BTreeSet::new(), findings: BTreeSet::new(), slots: BTreeSet::new() }
    }
}

impl Walk<'_> {
    fn condition(&mut self, condition: &Condition) {
        self.facts.extend(facts_of(condition));
        for test in condition.tests() {
            match &test.kind {
                TestKind::Finding(finding) if self.findings.insert(*finding) => {
                    if let Some(finding) = self.book.findings.get(finding.0) {
                        self.condition(&finding.when);
                    }
                }
                TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => self.slot(*slot),
                TestKind::Finding(_) | TestKind::Fact { .. } | TestKind::Known(_) | TestKind::Unknown(_) => {}
            }
        }
    }

    fn slot(&mut self, slot: SlotId) {
        if !self.slots.insert(slot) {
            return;
        }
        let (book, plan) = (self.book, self.plan);
        if let Some(guard) = book.slots.get(slot.0).and_then(|slot| slot.only_where.as_ref()) {
            self.condition(guard);
        }
        let Some(plan) = plan.slots.get(slot.0) else { return };
        for (rule, effect) in plan.refusals.iter().chain(&plan.preferences) {
            let Some(rule) = book.rules.get(rule.0) else { continue };
            self.condition(&rule.when);
            if let Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) =
                rule.effects.get(*effect).map(|effect| &effect.kind)
            {
                self.facts.extend(facts_of_whose(whose));
            }
        }
    }
}
