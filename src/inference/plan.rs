//! What can be known about a book before any survey: who reads what, and in which order facts are guarded.

use std::collections::BTreeSet;

use crate::rulebook::book::{
    Book, Condition, EffectKind, FactId, FindingId, Origin, RuleId, SlotId, TestKind, Whose,
};

/// The effects that bear on one slot, as rule and index into its effects.
#[derive(Clone, Debug, Default)]
pub(crate) struct SlotPlan {
    /// `refuse` effects.
    pub(crate) refusals: Vec<(RuleId, usize)>,
    /// `prefer` effects.
    pub(crate) preferences: Vec<(RuleId, usize)>,
}

/// A book made ready for evaluation. Made once a book, used for every zone.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Guarded facts in an order in which each stands after the facts that its guard reads.
    pub(crate) guarded: Vec<FactId>,
    /// By slot.
    pub(crate) slots: Vec<SlotPlan>,
    /// By rule: the slots whose choice its condition reads, through findings and other slots too.
    pub(crate) reads_choice_of: Vec<BTreeSet<SlotId>>,
}

impl Plan {
    /// Reads the book once.
    pub fn of(book: &Book) -> Self {
        let slots = slot_plans(book);
        let reach = Reach { book, slots: &slots };
        let reads_choice_of = book.rules.iter().map(|rule| reach.slots_read_by(&rule.when)).collect();
        Self { guarded: guarded_in_order(book), slots, reads_choice_of }
    }
}

fn slot_plans(book: &Book) -> Vec<SlotPlan> {
    let mut plans = vec![SlotPlan::default(); book.slots.len()];
    for (rule_index, rule) in book.rules.iter().enumerate() {
        for (effect_index, effect) in rule.effects.iter().enumerate() {
            let entry = (RuleId(rule_index), effect_index);
            match &effect.kind {
                EffectKind::Refuse { slot, .. } => {
                    if let Some(plan) = plans.get_mut(slot.0) {
                        plan.refusals.push(entry);
                    }
                }
                EffectKind::Prefer { slot, .. } => {
                    if let Some(plan) = plans.get_mut(slot.0) {
                        plan.preferences.push(entry);
                    }
                }
                _ => {}
            }
        }
    }
    plans
}

fn guard(book: &Book, fact: FactId) -> Option<&Condition> {
    match &book.facts.get(fact.0)?.origin {
        Origin::Asked(question) => question.only_where.as_ref(),
        Origin::Worked { .. } => None,
    }
}

fn guarded_in_order(book: &Book) -> Vec<FactId> {
    fn visit(book: &Book, fact: FactId, seen: &mut BTreeSet<FactId>, order: &mut Vec<FactId>) {
        let Some(condition) = guard(book, fact) else { return };
        if !seen.insert(fact) {
            return;
        }
        for read in facts_of(condition) {
            visit(book, read, seen, order);
        }
        order.push(fact);
    }
    let mut order = Vec::new();
    let mut seen = BTreeSet::new();
    for index in 0..book.facts.len() {
        visit(book, FactId(index), &mut seen, &mut order);
    }
    order
}

/// Every fact that a condition reads by itself, findings left out.
pub fn facts_of(condition: &Condition) -> BTreeSet<FactId> {
    let mut facts = BTreeSet::new();
    for test in condition.tests() {
        match &test.kind {
            TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => {
                facts.insert(*fact);
            }
            TestKind::ChosenWhose { whose, .. } => facts.extend(facts_of_whose(whose)),
            TestKind::Finding(_) | TestKind::Chosen { .. } => {}
        }
    }
    facts
}

/// Every fact that a comparison over options reads.
pub fn facts_of_whose(whose: &Whose) -> BTreeSet<FactId> {
    use crate::rulebook::book::OptionTest;
    whose
        .tests
        .iter()
        .filter_map(|test| match test {
            OptionTest::Settled(_) => None,
            OptionTest::Fact { fact, .. } | OptionTest::OwnFact { fact, .. } => Some(*fact),
        })
        .collect()
}

struct Reach<'a> {
    book: &'a Book,
    slots: &'a [SlotPlan],
}

impl Reach<'_> {
    fn slots_read_by(&self, condition: &Condition) -> BTreeSet<SlotId> {
        let mut found = BTreeSet::new();
        let mut findings = BTreeSet::new();
        self.follow(condition, &mut found, &mut findings);
        found
    }

    fn follow(
        &self,
        condition: &Condition,
        found: &mut BTreeSet<SlotId>,
        findings: &mut BTreeSet<FindingId>,
    ) {
        for test in condition.tests() {
            match &test.kind {
                TestKind::Finding(finding) if findings.insert(*finding) => {
                    if let Some(inner) = self.book.findings.get(finding.0) {
                        self.follow(&inner.when, found, findings);
                    }
                }
                TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } if found.insert(*slot) => {
                    self.follow_slot(*slot, found, findings);
                }
                _ => {}
            }
        }
    }

    fn follow_slot(&self, slot: SlotId, found: &mut BTreeSet<SlotId>, findings: &mut BTreeSet<FindingId>) {
        let Some(plan) = self.slots.get(slot.0) else { return };
        for (rule, _) in plan.refusals.iter().chain(&plan.preferences) {
            if let Some(rule) = self.book.rules.get(rule.0) {
                self.follow(&rule.when, found, findings);
            }
        }
    }
}
