//! The bare decisions of a zone, fast: no causes, no marks, no picks. A book is laid flat once; then a zone's answers are
//! read against it in one pass over lists of numbers. The tracing evaluator (`decide`) says what a book means; this one
//! must say the same, and a test holds the two together on random books and on the trade book.
//!
//! How it works: every fact, finding and test of a choice is a *column* holding the cells still possible; every
//! condition is a *row* of tests on columns. The index (`index`) knows for each column and cell which rows are ruled out,
//! so that most rows are never looked at. Truths are kept as two bits a row: certainly so, and not certainly not so.

mod bits;
mod choice;
mod cone;
mod index;
mod lay;
mod row;
mod slate;

pub use cone::Cone;
pub use slate::Slate;

use crate::inference::decide::{Case, within};
use crate::inference::outcome::Decisions;
use crate::inference::plan::Plan;
use crate::inference::truth::Truth;
use crate::rulebook::book::{Book, FactId, FindingId, OptionId, RuleId, SlotId};
use crate::rulebook::cells::CellSet;
use crate::wall::facts::{Given, ZoneFacts};
use choice::SlotRow;
use cone::Readers;
use index::Index;
use row::Node;

/// Cells of a column whose truth is yes or no: the first is yes.
const YES: u64 = 1;
const NO: u64 = 2;
const EITHER: u64 = YES | NO;

fn cells_of(truth: Truth) -> u64 {
    match truth {
        Truth::Yes => YES,
        Truth::No => NO,
        Truth::Unknown => EITHER,
    }
}

/// A fact of the book, laid flat.
#[derive(Clone, Debug)]
struct FactRow {
    /// The cells possible where nothing is answered and the question arises or has no guard.
    open: CellSet,
    /// The same where it does not arise.
    absent: CellSet,
    /// The same where nobody knows whether it arises.
    either: CellSet,
    /// The column of `is known`, where some condition asks.
    known: Option<usize>,
    /// Columns of tests of a fact that has too many cells for a column of its own.
    wide: Vec<(CellSet, usize)>,
    /// When it arises.
    guard: Option<Vec<Node>>,
}

/// What is settled one after the other, between facts and rules.
#[derive(Clone, Debug)]
enum FlatStep {
    /// A finding, and the column that tests of it read.
    Finding { row: usize, column: usize },
    /// A slot.
    Slot(usize),
}

/// A book laid flat. Made once a book, used for every zone.
#[derive(Clone, Debug)]
pub struct Flat {
    facts: Vec<FactRow>,
    /// Guarded facts, each after those that its guard reads.
    guarded: Vec<FactId>,
    columns: usize,
    /// Rules first, then findings.
    rows: Vec<Vec<Node>>,
    rules: usize,
    /// The rows that are rules.
    is_rule: Vec<u64>,
    index: Index,
    /// Rules that are left out while they are unsure.
    leave_out: Vec<u64>,
    steps: Vec<FlatStep>,
    slots: Vec<SlotRow>,
    readers: Readers,
}

impl Flat {
    /// Lays a book flat.
    pub fn of(book: &Book, plan: &Plan) -> Self {
        lay::laid(book, plan)
    }

    /// Room for the decisions of one zone, to be used again and again.
    pub fn slate(&self) -> Slate {
        Slate::new(self)
    }

    /// Reads a zone.
    pub fn read(&self, case: Case<'_>, slate: &mut Slate) {
        slate.wipe(self);
        for (index, fact) in self.facts.iter().enumerate() {
            self.read_fact(index, fact, case, slate);
        }
        for id in &self.guarded {
            self.read_guarded(*id, case, slate);
        }
        for step in &self.steps {
            self.take_step(step, case, slate);
        }
        slate.rest(self);
    }

    fn take_step(&self, step: &FlatStep, case: Case<'_>, slate: &mut Slate) {
        match step {
            FlatStep::Finding { row, column } => {
                let truth = slate.row(self, *row);
                slate.settle(self, *column, cells_of(truth));
            }
            FlatStep::Slot(slot) => self.read_slot(*slot, case, slate),
        }
    }

    fn read_fact(&self, index: usize, fact: &FactRow, case: Case<'_>, slate: &mut Slate) {
        let answer = answered(case, FactId(index));
        let is_open = matches!(answer, Answer::Nothing);
        if let Some(known) = fact.known {
            slate.settle(self, known, if is_open { NO } else { YES });
        }
        if !(is_open && fact.guard.is_some()) {
            self.keep_fact(index, fact, answer.cells(fact.open), slate);
        }
    }

    fn read_guarded(&self, id: FactId, case: Case<'_>, slate: &mut Slate) {
        let Some(fact) = self.facts.get(id.0) else { return };
        let (Some(guard), Answer::Nothing) = (&fact.guard, answered(case, id)) else { return };
        let cells = match row::all(guard, slate.columns()) {
            Truth::Yes => fact.open,
            Truth::No => fact.absent,
            Truth::Unknown => fact.either,
        };
        self.keep_fact(id.0, fact, cells, slate);
    }

    fn keep_fact(&self, column: usize, fact: &FactRow, cells: CellSet, slate: &mut Slate) {
        slate.settle(self, column, cells.first_word());
        for (test, column) in &fact.wide {
            slate.settle(self, *column, cells_of(within(cells, *test)));
        }
    }

    fn read_slot(&self, slot: usize, case: Case<'_>, slate: &mut Slate) {
        let Some(laid) = self.slots.get(slot) else { return };
        let arises = row::all(&laid.guard, slate.columns());
        let mut here = slate.take_slot(slot);
        here.wipe();
        for (rule, passes) in &laid.refusals {
            let applies = slate.row(self, rule.0);
            if applies != Truth::No && !case.departed.contains(rule) {
                here.refuse(applies, passes, |test| told(test, slate.columns(), case.facts));
            }
        }
        for (rule, pairs) in &laid.preferences {
            let applies = slate.row(self, rule.0);
            if applies != Truth::No {
                here.prefer(applies, pairs);
            }
        }
        here.choose(laid.picks, arises);
        for (passes, column) in &laid.tests {
            let truth = here.passes(passes, |test| told(test, slate.columns(), case.facts));
            slate.settle(self, *column, cells_of(truth));
        }
        slate.put_slot(slot, here);
    }
}

/// An answer as far as cells go.
#[derive(Clone, Copy)]
enum Answer {
    Nothing,
    Cells(CellSet),
    /// Each option has its own; no test reads them as one.
    ByOption,
}

impl Answer {
    fn cells(self, open: CellSet) -> CellSet {
        match self {
            Self::Nothing => open,
            Self::Cells(cells) => cells,
            Self::ByOption => CellSet::EMPTY,
        }
    }
}

fn answered(case: Case<'_>, fact: FactId) -> Answer {
    match case.supposed {
        Some((supposed, cells)) if supposed == fact => return Answer::Cells(cells),
        _ => {}
    }
    match case.facts.of(fact).map(|answer| &answer.given) {
        Some(Given::Cells(cells)) => Answer::Cells(*cells),
        Some(Given::ByOption(_)) => Answer::ByOption,
        Some(Given::Unanswered) | None => Answer::Nothing,
    }
}

/// What an option's own test reads.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Own {
    /// A test of a column.
    Column(Node),
    /// The option's own value of a fact.
    Fact(FactId, OptionId, CellSet),
}

fn told(test: &Own, columns: &[u64], facts: &ZoneFacts) -> Truth {
    match test {
        Own::Column(node) => row::all(std::slice::from_ref(node), columns),
        Own::Fact(fact, option, cells) => match facts.of(*fact).map(|answer| &answer.given) {
            Some(Given::ByOption(own)) => {
                own.get(option.0).map_or(Truth::Unknown, |own| within(*own, *cells))
            }
            _ => Truth::Unknown,
        },
    }
}

impl Slate {
    /// Whether a rule applies.
    pub fn rule(&self, rule: RuleId) -> Truth {
        self.truth(rule.0)
    }

    /// Whether a finding holds.
    pub fn finding(&self, flat: &Flat, finding: FindingId) -> Truth {
        self.truth(flat.rules + finding.0)
    }

    /// Whether an option is chosen.
    pub fn chosen(&self, slot: SlotId, option: OptionId) -> Truth {
        self.slot(slot).map_or(Truth::No, |slot| slot.chosen(option.0))
    }

    /// Whether an option is refused.
    pub fn refused(&self, slot: SlotId, option: OptionId) -> Truth {
        self.slot(slot).map_or(Truth::No, |slot| slot.refused(option.0))
    }

    /// Whether a slot gets something.
    pub fn filled(&self, slot: SlotId) -> Truth {
        self.slot(slot).map_or(Truth::No, |slot| slot.filled)
    }

    /// Whether the preferences of a slot run in a circle.
    pub fn circular(&self, slot: SlotId) -> Truth {
        self.slot(slot).map_or(Truth::No, |slot| slot.circular)
    }

    /// What the tracing evaluator decides otherwise, in words; nothing if both read the book alike.
    pub fn unlike(&self, flat: &Flat, made: &Decisions) -> Vec<String> {
        let mut told = Vec::new();
        let mut hold = |what: String, here: Truth, there: Truth| {
            if here != there {
                told.push(format!("{what}: {here:?} in the flat form, {there:?} by the evaluator"));
            }
        };
        for (rule, truth) in made.rules.iter().enumerate() {
            hold(format!("rule {rule}"), self.rule(RuleId(rule)), *truth);
        }
        for (finding, truth) in made.findings.iter().enumerate() {
            hold(format!("finding {finding}"), self.finding(flat, FindingId(finding)), *truth);
        }
        for (slot, (filled, circular)) in made.filled.iter().zip(&made.circular).enumerate() {
            hold(format!("slot {slot} filled"), self.filled(SlotId(slot)), *filled);
            hold(format!("slot {slot} circular"), self.circular(SlotId(slot)), *circular);
        }
        for (slot, (refused, chosen)) in made.refused.iter().zip(&made.chosen).enumerate() {
            for (option, (refused, chosen)) in refused.iter().zip(chosen).enumerate() {
                let (of, option) = (SlotId(slot), OptionId(option));
                hold(format!("slot {slot} refuses {}", option.0), self.refused(of, option), *refused);
                hold(format!("slot {slot} chooses {}", option.0), self.chosen(of, option), *chosen);
            }
        }
        told
    }

    /// How many rules and options are neither certain nor certainly not so.
    pub fn unsettled(&self, flat: &Flat) -> usize {
        self.unsettled_rules(flat) + self.slots().map(choice::SlotSlate::unsettled).sum::<usize>()
    }
}
