//! What can be known about a book before any survey: who reads what, and in which order facts are guarded.

use std::collections::BTreeSet;

use crate::rulebook::book::{
    Book, Condition, EffectKind, FactId, Origin, RuleId, SlotId, Step, TestKind, Whose,
};

/// The effects that bear on one slot, as rule and index into its effects.
#[derive(Clone, Debug, Default)]
pub(crate) struct SlotPlan {
    /// `refuse` effects.
    pub(crate) refusals: Vec<(RuleId, usize)>,
    /// `prefer` effects.
    pub(crate) preferences: Vec<(RuleId, usize)>,
}

impl SlotPlan {
    /// The rules behind them.
    fn rules(&self) -> impl Iterator<Item = RuleId> {
        self.refusals.iter().chain(&self.preferences).map(|(rule, _)| *rule)
    }
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
        let reach = Reach::of(book, &slots);
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

/// Which slots' choices findings and slots read, through other findings and slots too.
#[derive(Debug)]
struct Reach {
    findings: Vec<BTreeSet<SlotId>>,
    /// By slot; itself among them.
    slots: Vec<BTreeSet<SlotId>>,
}

impl Reach {
    /// Each step reads only what stands before it, so that one pass does.
    fn of(book: &Book, plans: &[SlotPlan]) -> Self {
        let mut reach = Self {
            findings: vec![BTreeSet::new(); book.findings.len()],
            slots: vec![BTreeSet::new(); book.slots.len()],
        };
        for step in &book.order {
            match step {
                Step::Finding(finding) => {
                    let when = book.findings.get(finding.0).map(|finding| &finding.when);
                    let found = when.map(|when| reach.slots_read_by(when)).unwrap_or_default();
                    reach.findings.get_mut(finding.0).into_iter().for_each(|place| place.clone_from(&found));
                }
                Step::Slot(slot) => {
                    let effects = plans.get(slot.0).into_iter().flat_map(SlotPlan::rules);
                    let conditions = effects.filter_map(|rule| Some(&book.rules.get(rule.0)?.when));
                    let mut found = BTreeSet::from([*slot]);
                    conditions.for_each(|when| found.append(&mut reach.slots_read_by(when)));
                    reach.slots.get_mut(slot.0).into_iter().for_each(|place| place.clone_from(&found));
                }
            }
        }
        reach
    }

    fn slots_read_by(&self, condition: &Condition) -> BTreeSet<SlotId> {
        let mut found = BTreeSet::new();
        for test in condition.tests() {
            let read = match &test.kind {
                TestKind::Finding(finding) => self.findings.get(finding.0),
                TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => self.slots.get(slot.0),
                TestKind::Fact { .. } | TestKind::Known(_) | TestKind::Unknown(_) => None,
            };
            found.extend(read.into_iter().flatten().copied());
        }
        found
    }
}
