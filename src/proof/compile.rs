//! A book's decisions as gates over what a survey says. It says again, in wires, what `inference::decide` does with
//! values; `tests/it/proof.rs` holds the two against each other.

use std::sync::Arc;

use super::choice;
use super::circuit::{Bit, Circuit};
use super::effects::Effects;
use super::space::{SpaceFact, View};
use super::tri::Tri;
use crate::inference::Plan;
use crate::rulebook::book::{
    Book, Condition, EffectKind, FactId, FindingId, IfUnsure, OptionId, OptionTest, Origin, Refused, RuleId,
    SlotId, Step, TestKind, Whose,
};
use crate::rulebook::cells::CellSet;

/// A slot's decisions, as wires.
#[derive(Clone, Debug, Default)]
pub(crate) struct SlotWires {
    /// Whether there is something to choose; nothing before the slot is settled.
    pub(crate) arises: Option<Tri>,
    /// For each option: is it refused.
    pub(crate) refused: Vec<Tri>,
    /// For each option: is it chosen.
    pub(crate) chosen: Vec<Tri>,
    /// Does it certainly get something.
    pub(crate) filled: Option<Tri>,
    /// Do the preferences run in a circle.
    pub(crate) circular: Option<Tri>,
}

impl SlotWires {
    /// Whether there is something to choose.
    pub(crate) fn arises(&self) -> Tri {
        self.arises.unwrap_or(Tri::NO)
    }

    /// Whether it gets something.
    pub(crate) fn filled(&self) -> Tri {
        self.filled.unwrap_or(Tri::NO)
    }

    /// Whether its preferences run in a circle.
    pub(crate) fn circular(&self) -> Tri {
        self.circular.unwrap_or(Tri::NO)
    }
}

/// Everything that a book decides, as wires.
#[derive(Clone, Debug, Default)]
pub(crate) struct Decided {
    /// For each fact and cell: whether the cell is possible once it is known which questions arise.
    pub(crate) possible: Vec<Vec<Bit>>,
    /// Each finding.
    pub(crate) findings: Vec<Tri>,
    /// Each slot.
    pub(crate) slots: Vec<SlotWires>,
    /// Each rule, after `if unsure leave out`.
    pub(crate) rules: Vec<Tri>,
    /// Which rules do what.
    pub(crate) effects: Arc<Effects>,
}

/// Lays the gates of a book.
pub(crate) fn compile(book: &Book, plan: &Plan, ground: Ground<'_>, circuit: &mut Circuit) -> Decided {
    let mut bench = Bench::new(book, plan, ground, circuit);
    bench.facts();
    for step in &book.order {
        match step {
            Step::Finding(finding) => {
                if let Some(found) = book.findings.get(finding.0) {
                    let truth = bench.holds(&found.when);
                    set(&mut bench.made.findings, finding.0, truth);
                }
            }
            Step::Slot(slot) => bench.settle(*slot),
        }
    }
    for rule in 0..book.rules.len() {
        bench.rule(RuleId(rule));
    }
    bench.made
}

/// What the gates stand on: the facts of the space, and where this book's facts are among them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ground<'a> {
    /// The facts of the space.
    pub(crate) facts: &'a [SpaceFact],
    /// This book's view of them.
    pub(crate) views: &'a [View],
}

impl Ground<'_> {
    fn fact(&self, fact: FactId) -> Option<(&View, &SpaceFact)> {
        let view = self.views.get(fact.0)?;
        Some((view, self.facts.get(view.fact)?))
    }

    /// Whether an answer that counts was given.
    fn given(&self, fact: FactId) -> Bit {
        self.fact(fact).map_or(Bit::FALSE, |(_, fact)| fact.given)
    }

    /// For each of the book's cells: whether the answer leaves it possible.
    fn told(&self, fact: FactId, row: usize, circuit: &mut Circuit) -> Vec<Bit> {
        let Some((view, fact)) = self.fact(fact) else { return Vec::new() };
        let Some(row) = view.rows.get(row).and_then(|row| fact.told.get(*row)) else { return Vec::new() };
        let cells = view.cells.iter();
        cells.map(|made| circuit.any(made.iter().filter_map(|cell| row.get(cell).copied()))).collect()
    }
}

/// A book being laid out in gates.
pub(crate) struct Bench<'a> {
    pub(crate) book: &'a Book,
    plan: &'a Plan,
    ground: Ground<'a>,
    pub(crate) circuit: &'a mut Circuit,
    pub(crate) made: Decided,
    read: Vec<bool>,
}

impl<'a> Bench<'a> {
    fn new(book: &'a Book, plan: &'a Plan, ground: Ground<'a>, circuit: &'a mut Circuit) -> Self {
        let made = Decided {
            possible: vec![Vec::new(); book.facts.len()],
            findings: vec![Tri::NO; book.findings.len()],
            slots: vec![SlotWires::default(); book.slots.len()],
            rules: vec![Tri::NO; book.rules.len()],
            effects: Arc::new(Effects::of(book)),
        };
        Self { book, plan, ground, circuit, made, read: vec![false; book.rules.len()] }
    }

    /// A bench on which everything is laid out already, to read more conditions against it.
    pub(crate) fn reopened(
        book: &'a Book,
        plan: &'a Plan,
        ground: Ground<'a>,
        circuit: &'a mut Circuit,
        made: Decided,
    ) -> Self {
        Self { book, plan, ground, circuit, made, read: vec![true; book.rules.len()] }
    }

    /// Which cells are possible, first where no guard has a say, then guard by guard.
    fn facts(&mut self) {
        for index in 0..self.book.facts.len() {
            let cells = self.unguarded(FactId(index));
            set(&mut self.made.possible, index, cells);
        }
        for fact in &self.plan.guarded {
            let cells = self.guarded(*fact);
            set(&mut self.made.possible, fact.0, cells);
        }
    }

    /// What is told; where nothing is, any answer, and of what is worked out also that there is none.
    fn unguarded(&mut self, id: FactId) -> Vec<Bit> {
        let Some(fact) = self.book.facts.get(id.0) else { return Vec::new() };
        if matches!(fact.origin, Origin::Worked { per_option_of: Some(_), .. }) {
            return Vec::new();
        }
        let given = self.ground.given(id);
        let open =
            if matches!(fact.origin, Origin::Asked(_)) { fact.cells.any_answer() } else { fact.cells.all() };
        let told = self.ground.told(id, 0, self.circuit);
        let cells = told.into_iter().enumerate();
        cells.map(|(cell, told)| self.if_given(given, told, from_bool(open.contains(cell)))).collect()
    }

    fn if_given(&mut self, given: Bit, told: Bit, otherwise: Bit) -> Bit {
        let said = self.circuit.and(given, told);
        let unsaid = self.circuit.and(!given, otherwise);
        self.circuit.or(said, unsaid)
    }

    /// What is told; where nothing is, an answer unless the question certainly does not arise, and none unless it
    /// certainly does.
    fn guarded(&mut self, id: FactId) -> Vec<Bit> {
        let Some(fact) = self.book.facts.get(id.0) else { return Vec::new() };
        let guard = match &fact.origin {
            Origin::Asked(question) => question.only_where.as_ref(),
            Origin::Worked { .. } => None,
        };
        let arises = guard.map_or(Tri::YES, |guard| self.holds(guard));
        let given = self.ground.given(id);
        let told = self.ground.told(id, 0, self.circuit);
        let absent = fact.cells.absent();
        let cells = told.into_iter().enumerate();
        cells
            .map(|(cell, told)| {
                let otherwise = if absent.contains(cell) { !arises.yes } else { !arises.no };
                self.if_given(given, told, otherwise)
            })
            .collect()
    }

    fn settle(&mut self, slot: SlotId) {
        let Some(declared) = self.book.slots.get(slot.0) else { return };
        let arises = declared.only_where.as_ref().map_or(Tri::YES, |guard| self.holds(guard));
        let count = self.book.catalogues.get(declared.catalogue.0).map_or(0, |table| table.options.len());
        let refused = self.refusals(slot, count);
        let beats = self.preferences(slot, count, None);
        let wires = choice::settled(self.circuit, declared.picks, arises, refused, beats);
        set(&mut self.made.slots, slot.0, wires);
    }

    /// A slot as it would be settled with these refusals and without one rule's preferences.
    pub(crate) fn settled_without(
        &mut self,
        slot: SlotId,
        rule: RuleId,
        refused: Vec<Tri>,
    ) -> Option<SlotWires> {
        let declared = self.book.slots.get(slot.0)?;
        let arises = self.made.slots.get(slot.0)?.arises();
        let beats = self.preferences(slot, refused.len(), Some(rule));
        Some(choice::settled(self.circuit, declared.picks, arises, refused, beats))
    }

    /// The effects that refuse options of a slot.
    pub(crate) fn refusals_of(&self, slot: SlotId) -> Vec<(RuleId, usize)> {
        self.plan.slots.get(slot.0).map_or_else(Vec::new, |plan| plan.refusals.clone())
    }

    fn refusals(&mut self, slot: SlotId, count: usize) -> Vec<Tri> {
        let mut refused = vec![Tri::NO; count];
        for (rule, effect) in self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.refusals) {
            let applies = self.rule(*rule);
            let Some(which) = refusal(self.book, *rule, *effect) else { continue };
            for (option, so_far) in refused.iter_mut().enumerate() {
                let ruled_out = self.ruled_out(which, OptionId(option));
                let here = self.circuit.both(applies, ruled_out);
                *so_far = self.circuit.either(*so_far, here);
            }
        }
        refused
    }

    fn preferences(&mut self, slot: SlotId, count: usize, without: Option<RuleId>) -> Vec<Vec<Tri>> {
        let mut beats = vec![vec![Tri::NO; count]; count];
        for (rule, effect) in self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.preferences) {
            if without == Some(*rule) {
                continue;
            }
            let applies = self.rule(*rule);
            let effect = self.book.rules.get(rule.0).and_then(|rule| rule.effects.get(*effect));
            let Some(EffectKind::Prefer { pairs, .. }) = effect.map(|effect| &effect.kind) else { continue };
            for (better, worse) in pairs {
                if let Some(so_far) = beats.get_mut(better.0).and_then(|row| row.get_mut(worse.0)) {
                    *so_far = self.circuit.either(*so_far, applies);
                }
            }
        }
        beats
    }

    /// Whether a rule applies; laid once.
    pub(crate) fn rule(&mut self, rule: RuleId) -> Tri {
        if self.read.get(rule.0) == Some(&true) {
            return self.made.rules.get(rule.0).copied().unwrap_or(Tri::NO);
        }
        let Some(declared) = self.book.rules.get(rule.0) else { return Tri::NO };
        let held = self.holds(&declared.when);
        let truth = match declared.if_unsure {
            IfUnsure::LeaveOut { .. } => Tri::settled(held.yes),
            IfUnsure::Apply => held,
        };
        set(&mut self.made.rules, rule.0, truth);
        set(&mut self.read, rule.0, true);
        truth
    }

    /// Whether an answer that counts was given.
    pub(crate) fn given(&self, fact: FactId) -> Bit {
        self.ground.given(fact)
    }

    /// A finding.
    pub(crate) fn finding(&self, finding: FindingId) -> Tri {
        self.made.findings.get(finding.0).copied().unwrap_or(Tri::UNKNOWN)
    }

    /// A slot.
    pub(crate) fn slot(&self, slot: SlotId) -> SlotWires {
        self.made.slots.get(slot.0).cloned().unwrap_or_default()
    }

    /// The truth of a condition.
    pub(crate) fn holds(&mut self, condition: &Condition) -> Tri {
        match condition {
            Condition::Always => Tri::YES,
            Condition::All(parts) => parts.iter().fold(Tri::YES, |all, part| {
                let part = self.holds(part);
                self.circuit.both(all, part)
            }),
            Condition::Any(parts) => parts.iter().fold(Tri::NO, |any, part| {
                let part = self.holds(part);
                self.circuit.either(any, part)
            }),
            Condition::Not(inner) => self.holds(inner).negated(),
            Condition::Test(test) => self.test(&test.kind),
        }
    }

    fn test(&mut self, test: &TestKind) -> Tri {
        match test {
            TestKind::Fact { fact, cells } => self.lies_in(*fact, *cells),
            TestKind::Known(fact) => Tri::settled(self.ground.given(*fact)),
            TestKind::Unknown(fact) => Tri::settled(!self.ground.given(*fact)),
            TestKind::Finding(finding) => self.finding(*finding),
            TestKind::Chosen { slot, options } => {
                self.some_chosen(*slot, |_, option| Tri::from_bool(options.contains(&option)))
            }
            TestKind::ChosenWhose { slot, whose } => {
                self.some_chosen(*slot, |bench, option| bench.whose(whose, option))
            }
        }
    }

    /// Whether an option satisfies `whose …`.
    pub(crate) fn whose(&mut self, whose: &Whose, option: OptionId) -> Tri {
        match whose.tests.get(option.0) {
            None => Tri::NO,
            Some(OptionTest::Settled(holds)) => Tri::from_bool(*holds),
            Some(OptionTest::Fact { fact, cells }) => self.lies_in(*fact, *cells),
            Some(OptionTest::OwnFact { fact, cells }) => {
                let given = self.ground.given(*fact);
                let told = self.ground.told(*fact, option.0, self.circuit);
                let own = within(self.circuit, &told, *cells);
                Tri { yes: self.circuit.and(given, own.yes), no: self.circuit.and(given, own.no) }
            }
        }
    }

    /// Whether a refusal names this option.
    pub(crate) fn ruled_out(&mut self, which: &Refused, option: OptionId) -> Tri {
        match which {
            Refused::Named(options) => Tri::from_bool(options.contains(&option)),
            Refused::AllBut(options) => Tri::from_bool(!options.contains(&option)),
            Refused::Whose(whose) => self.whose(whose, option),
        }
    }

    fn lies_in(&mut self, fact: FactId, cells: CellSet) -> Tri {
        let possible = self.made.possible.get(fact.0).map_or(&[][..], Vec::as_slice);
        within(self.circuit, possible, cells)
    }

    /// Whether what is chosen passes: yes also where the slot is certainly filled and every option still possible
    /// passes, though no single one is certain.
    fn some_chosen(&mut self, slot: SlotId, passes: impl Fn(&mut Self, OptionId) -> Tri) -> Tri {
        let wires = self.slot(slot);
        let mut any = Tri::NO;
        let mut every = wires.filled().yes;
        for (option, chosen) in wires.chosen.iter().enumerate() {
            let passes = passes(self, OptionId(option));
            let here = self.circuit.both(*chosen, passes);
            any = self.circuit.either(any, here);
            let passes_if_possible = self.circuit.or(chosen.no, passes.yes);
            every = self.circuit.and(every, passes_if_possible);
        }
        Tri { yes: self.circuit.or(any.yes, every), no: self.circuit.and(any.no, !every) }
    }
}

/// The options that an effect refuses.
pub(crate) fn refusal(book: &Book, rule: RuleId, effect: usize) -> Option<&Refused> {
    match &book.rules.get(rule.0)?.effects.get(effect)?.kind {
        EffectKind::Refuse { which, .. } => Some(which),
        _ => None,
    }
}

/// Yes when every possible cell is among these, no when none is.
fn within(circuit: &mut Circuit, possible: &[Bit], cells: CellSet) -> Tri {
    let none_inside = none_of(circuit, possible, |cell| cells.contains(cell));
    let none_outside = none_of(circuit, possible, |cell| !cells.contains(cell));
    // Where nothing at all is possible the test fails, as it does for a fact that has no value.
    Tri { yes: circuit.and(none_outside, !none_inside), no: none_inside }
}

/// No possible cell is among the wanted ones. Figures are compared with one end open, so runs of cells are gathered from
/// the end that tests of other figures share, and equal runs become one gate.
fn none_of(circuit: &mut Circuit, possible: &[Bit], wanted: impl Fn(usize) -> bool) -> Bit {
    let from_below = (0..possible.len()).take_while(|cell| wanted(*cell)).count();
    let below = possible.iter().take(from_below).map(|bit| !*bit);
    let low = circuit.all(below);
    let rest = possible.iter().enumerate().skip(from_below).rev();
    let above: Vec<Bit> = rest.filter(|(cell, _)| wanted(*cell)).map(|(_, bit)| !*bit).collect();
    let high = circuit.all(above);
    circuit.and(low, high)
}

fn from_bool(holds: bool) -> Bit {
    if holds { Bit::TRUE } else { Bit::FALSE }
}

fn set<T>(list: &mut [T], index: usize, value: T) {
    if let Some(place) = list.get_mut(index) {
        *place = value;
    }
}
