//! From a book to its flat form.

use super::choice::{Passes, SlotRow};
use super::cone::Readers;
use super::index::Index;
use super::row::{Node, Sense, Test};
use super::{FactRow, Flat, FlatStep, Own, YES, bits};
use crate::inference::decide::effect_of;
use crate::inference::plan::Plan;
use crate::rulebook::book::{
    Book, Condition, EffectKind, Fact, FactId, FindingId, IfUnsure, OptionId, OptionTest, Origin, Refused,
    SlotId, Step, TestKind, Whose,
};
use crate::rulebook::cells::CellSet;

/// A column holds one word of cells.
const MOST: usize = 64;

pub(super) fn laid(book: &Book, plan: &Plan) -> Flat {
    let mut layer = Layer::new(book);
    let rules = book.rules.iter().map(|rule| &rule.when);
    let conditions = rules.chain(book.findings.iter().map(|finding| &finding.when));
    let rows: Vec<Vec<Node>> = conditions.map(|condition| layer.row(condition)).collect();
    for (fact, declared) in book.facts.iter().enumerate() {
        let guard = guard(declared).map(|guard| layer.row(guard));
        if let Some(laid) = layer.facts.get_mut(fact) {
            laid.guard = guard;
        }
    }
    for slot in 0..book.slots.len() {
        layer.slot(plan, SlotId(slot));
    }
    let mut leave_out = bits::none(rows.len());
    let mut is_rule = bits::none(rows.len());
    for (row, rule) in book.rules.iter().enumerate() {
        bits::set(&mut is_rule, row);
        if rule.if_unsure != IfUnsure::Apply {
            bits::set(&mut leave_out, row);
        }
    }
    let finding_columns = layer.findings;
    let steps = book.order.iter().map(|step| match step {
        Step::Finding(FindingId(finding)) => {
            FlatStep::Finding { row: book.rules.len() + finding, column: finding_columns + finding }
        }
        Step::Slot(SlotId(slot)) => FlatStep::Slot(*slot),
    });
    Flat {
        steps: steps.collect(),
        readers: Readers::of(&rows, &layer.slots, layer.cells.len()),
        index: Index::of(&rows, &layer.cells),
        columns: layer.cells.len(),
        guarded: plan.guarded.clone(),
        rules: book.rules.len(),
        facts: layer.facts,
        slots: layer.slots,
        rows,
        leave_out,
        is_rule,
    }
}

fn guard(fact: &Fact) -> Option<&Condition> {
    match &fact.origin {
        Origin::Asked(question) => question.only_where.as_ref(),
        Origin::Worked { .. } => None,
    }
}

/// A book being laid flat: columns are added as tests ask for them.
struct Layer<'b> {
    book: &'b Book,
    /// By column: how many cells it has. Facts first, then findings, then whatever tests need.
    cells: Vec<usize>,
    /// Where the columns of findings start.
    findings: usize,
    facts: Vec<FactRow>,
    slots: Vec<SlotRow>,
}

impl<'b> Layer<'b> {
    fn new(book: &'b Book) -> Self {
        let facts = book.facts.iter().map(|fact| FactRow {
            open: match fact.origin {
                Origin::Asked(_) => fact.cells.any_answer(),
                Origin::Worked { .. } => fact.cells.all(),
            },
            absent: fact.cells.absent(),
            either: fact.cells.all(),
            known: None,
            wide: Vec::new(),
            guard: None,
        });
        let cells = book.facts.iter().map(|fact| fact.cells.count().min(MOST));
        let slots = book.slots.iter().map(|slot| SlotRow {
            picks: slot.picks,
            options: book.catalogues.get(slot.catalogue.0).map_or(0, |catalogue| catalogue.options.len()),
            guard: Vec::new(),
            refusals: Vec::new(),
            preferences: Vec::new(),
            tests: Vec::new(),
        });
        Self {
            book,
            cells: cells.chain(book.findings.iter().map(|_| 2)).collect(),
            findings: book.facts.len(),
            facts: facts.collect(),
            slots: slots.collect(),
        }
    }

    /// A new column that holds a truth.
    fn truth_column(&mut self) -> usize {
        self.cells.push(2);
        self.cells.len() - 1
    }

    fn row(&mut self, condition: &Condition) -> Vec<Node> {
        let mut nodes = Vec::new();
        self.conjoin(condition, &mut nodes);
        nodes
    }

    /// Adds a condition to a row, all of whose parts must hold.
    fn conjoin(&mut self, condition: &Condition, nodes: &mut Vec<Node>) {
        match condition {
            Condition::Always => {}
            Condition::All(parts) => {
                for part in parts {
                    self.conjoin(part, nodes);
                }
            }
            _ => self.part(condition, Sense::Straight, nodes),
        }
    }

    fn part(&mut self, condition: &Condition, sense: Sense, nodes: &mut Vec<Node>) {
        match (condition, sense) {
            (Condition::Always, Sense::Straight) => nodes.push(Node::All(0)),
            (Condition::Always, Sense::Turned) => nodes.push(Node::Any(0)),
            (Condition::Not(inner), _) => self.part(inner, sense.turned(), nodes),
            (Condition::All(parts), Sense::Straight) | (Condition::Any(parts), Sense::Turned) => {
                self.group(parts, sense, Node::All, nodes);
            }
            (Condition::All(parts), Sense::Turned) | (Condition::Any(parts), Sense::Straight) => {
                self.group(parts, sense, Node::Any, nodes);
            }
            (Condition::Test(test), _) => {
                let node = self.test(&test.kind, sense);
                nodes.push(node);
            }
        }
    }

    fn group(&mut self, parts: &[Condition], sense: Sense, head: fn(u32) -> Node, nodes: &mut Vec<Node>) {
        let mut inner = Vec::new();
        for part in parts {
            self.part(part, sense, &mut inner);
        }
        nodes.push(head(u32::try_from(inner.len()).unwrap_or(u32::MAX)));
        nodes.extend(inner);
    }

    fn test(&mut self, kind: &TestKind, sense: Sense) -> Node {
        match kind {
            TestKind::Fact { fact, cells } => self.fact(*fact, *cells, sense),
            TestKind::Known(fact) => node(self.known(*fact), YES, sense),
            TestKind::Unknown(fact) => node(self.known(*fact), YES, sense.turned()),
            TestKind::Finding(finding) => node(self.findings + finding.0, YES, sense),
            TestKind::Chosen { slot, options } => {
                let passes = self.named(*slot, |option| options.contains(&option));
                node(self.choice(*slot, passes), YES, sense)
            }
            TestKind::ChosenWhose { slot, whose } => {
                let passes = self.whose(*slot, whose);
                node(self.choice(*slot, passes), YES, sense)
            }
        }
    }

    /// A test of a fact: of its own column, or of one for this test where it has too many cells.
    fn fact(&mut self, fact: FactId, cells: CellSet, sense: Sense) -> Node {
        let count = self.book.facts.get(fact.0).map_or(0, |fact| fact.cells.count());
        if count <= MOST {
            return node(fact.0, cells.first_word(), sense);
        }
        let known = self.facts.get(fact.0).and_then(|fact| fact.wide.iter().find(|(own, _)| *own == cells));
        if let Some((_, column)) = known {
            return node(*column, YES, sense);
        }
        let column = self.truth_column();
        if let Some(fact) = self.facts.get_mut(fact.0) {
            fact.wide.push((cells, column));
        }
        node(column, YES, sense)
    }

    fn known(&mut self, fact: FactId) -> usize {
        if let Some(column) = self.facts.get(fact.0).and_then(|fact| fact.known) {
            return column;
        }
        let column = self.truth_column();
        if let Some(fact) = self.facts.get_mut(fact.0) {
            fact.known = Some(column);
        }
        column
    }

    /// The column of a test of what is chosen.
    fn choice(&mut self, slot: SlotId, passes: Passes) -> usize {
        let tests = self.slots.get(slot.0).map_or(&[][..], |slot| &slot.tests);
        if let Some((_, column)) = tests.iter().find(|(own, _)| *own == passes) {
            return *column;
        }
        let column = self.truth_column();
        if let Some(slot) = self.slots.get_mut(slot.0) {
            slot.tests.push((passes, column));
        }
        column
    }

    fn options(&self, slot: SlotId) -> usize {
        self.slots.get(slot.0).map_or(0, |slot| slot.options)
    }

    fn named(&self, slot: SlotId, wanted: impl Fn(OptionId) -> bool) -> Passes {
        let mut always = bits::none(self.options(slot));
        let named = (0..self.options(slot)).filter(|option| wanted(OptionId(*option)));
        named.for_each(|option| bits::set(&mut always, option));
        Passes { always, told: Vec::new() }
    }

    fn whose(&mut self, slot: SlotId, whose: &Whose) -> Passes {
        let mut always = bits::none(self.options(slot));
        let mut told = Vec::new();
        for (option, test) in whose.tests.iter().enumerate() {
            match test {
                OptionTest::Settled(true) => bits::set(&mut always, option),
                OptionTest::Settled(false) => {}
                OptionTest::Fact { fact, cells } => {
                    told.push((option, Own::Column(self.fact(*fact, *cells, Sense::Straight))));
                }
                OptionTest::OwnFact { fact, cells } => {
                    told.push((option, Own::Fact(*fact, OptionId(option), *cells)));
                }
            }
        }
        Passes { always, told }
    }

    fn slot(&mut self, plan: &Plan, id: SlotId) {
        let guard = self.book.slots.get(id.0).and_then(|slot| slot.only_where.as_ref());
        let guard = guard.map(|guard| self.row(guard)).unwrap_or_default();
        let Some(effects) = plan.slots.get(id.0) else { return };
        let mut refusals = Vec::new();
        for (rule, effect) in &effects.refusals {
            let passes = match effect_of(self.book, *rule, *effect) {
                Some(EffectKind::Refuse { which: Refused::Named(options), .. }) => {
                    self.named(id, |option| options.contains(&option))
                }
                Some(EffectKind::Refuse { which: Refused::AllBut(options), .. }) => {
                    self.named(id, |option| !options.contains(&option))
                }
                Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) => self.whose(id, whose),
                _ => continue,
            };
            refusals.push((*rule, passes));
        }
        let preferences = effects.preferences.iter().filter_map(|(rule, effect)| {
            match effect_of(self.book, *rule, *effect)? {
                EffectKind::Prefer { pairs, .. } => {
                    Some((*rule, pairs.iter().map(|(better, worse)| (better.0, worse.0)).collect()))
                }
                _ => None,
            }
        });
        let preferences = preferences.collect();
        if let Some(slot) = self.slots.get_mut(id.0) {
            (slot.guard, slot.refusals, slot.preferences) = (guard, refusals, preferences);
        }
    }
}

fn node(column: usize, cells: u64, sense: Sense) -> Node {
    Node::Test(Test { column: u32::try_from(column).unwrap_or(u32::MAX), cells, sense })
}
