//! One reading of the book for one zone: guards, findings, slots, rules.

use crate::inference::choice::{self, Choice};
use crate::inference::outcome::Decisions;
use crate::inference::plan::Plan;
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Book, Condition, EffectKind, FactId, IfUnsure, OptionId, OptionTest, Origin, Picks, Refused, Rule,
    RuleId, SlotId, Step, TestKind, Whose,
};
use crate::rulebook::cells::CellSet;
use crate::wall::facts::{Given, ZoneFacts};

/// How choices are read by what comes after them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// As they are: possible options stay possible.
    Open,
    /// As if the option printed for now were certain.
    Picked,
    /// As [`Reading::Picked`], but with this option in this slot.
    With(SlotId, OptionId),
}

/// A zone's facts, and the rules that a professional departs from there.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// The answers.
    pub facts: &'a ZoneFacts,
    /// Rules whose refusals and limits are set aside.
    pub departed: &'a [RuleId],
    /// A fact taken to lie in these cells, to see what an answer would do.
    pub supposed: Option<(FactId, CellSet)>,
}

impl<'a> Case<'a> {
    /// The zone as it was answered, with nothing supposed.
    pub fn new(facts: &'a ZoneFacts, departed: &'a [RuleId]) -> Self {
        Self { facts, departed, supposed: None }
    }
}

/// Reads the book once.
pub fn decide(book: &Book, plan: &Plan, case: Case<'_>, reading: Reading) -> Decisions {
    let mut run = Run::new(book, plan, case, reading);
    run.choices();
    for rule in 0..book.rules.len() {
        run.rule(RuleId(rule));
    }
    run.made
}

struct Run<'a> {
    book: &'a Book,
    plan: &'a Plan,
    case: Case<'a>,
    reading: Reading,
    made: Decisions,
    read: Vec<bool>,
}

impl<'a> Run<'a> {
    fn new(book: &'a Book, plan: &'a Plan, case: Case<'a>, reading: Reading) -> Self {
        let options = |slot: &crate::rulebook::book::Slot| {
            book.catalogues.get(slot.catalogue.0).map_or(0, |catalogue| catalogue.options.len())
        };
        let blank: Vec<Vec<Truth>> = book.slots.iter().map(|slot| vec![Truth::No; options(slot)]).collect();
        let slots = book.slots.len();
        Self {
            book,
            plan,
            case,
            reading,
            read: vec![false; book.rules.len()],
            made: Decisions {
                facts: vec![CellSet::EMPTY; book.facts.len()],
                findings: vec![Truth::No; book.findings.len()],
                arises: vec![Truth::No; slots],
                refused: blank.clone(),
                beats: vec![Vec::new(); slots],
                chosen: blank,
                filled: vec![Truth::No; slots],
                picks: vec![None; slots],
                circular: vec![Truth::No; slots],
                rules: vec![Truth::No; book.rules.len()],
            },
        }
    }

    /// Questions, then findings and slots.
    fn choices(&mut self) {
        self.guards();
        for step in &self.book.order {
            match step {
                Step::Finding(finding) => {
                    if let Some(found) = self.book.findings.get(finding.0) {
                        let truth = self.holds(&found.when);
                        set(&mut self.made.findings, finding.0, truth);
                    }
                }
                Step::Slot(slot) => self.settle(*slot),
            }
        }
    }

    /// Settles which questions arise and what is possible for each fact.
    fn guards(&mut self) {
        for (index, fact) in self.book.facts.iter().enumerate() {
            let supposed = self.case.supposed.filter(|(fact, _)| fact.0 == index);
            let cells = match self.case.facts.of(FactId(index)).map(|answer| &answer.given) {
                _ if supposed.is_some() => supposed.map_or(CellSet::EMPTY, |(_, cells)| cells),
                Some(Given::Cells(cells)) => *cells,
                Some(Given::ByOption(_)) => CellSet::EMPTY,
                Some(Given::Unanswered) | None => match fact.origin {
                    Origin::Asked(_) => fact.cells.any_answer(),
                    Origin::Worked { .. } => fact.cells.all(),
                },
            };
            set(&mut self.made.facts, index, cells);
        }
        for fact in &self.plan.guarded {
            if self.is_known(*fact) == Truth::Yes {
                continue;
            }
            let Some(declared) = self.book.facts.get(fact.0) else { continue };
            let Origin::Asked(question) = &declared.origin else { continue };
            let Some(guard) = &question.only_where else { continue };
            let cells = match self.holds(guard) {
                Truth::Yes => declared.cells.any_answer(),
                Truth::No => declared.cells.absent(),
                Truth::Unknown => declared.cells.all(),
            };
            set(&mut self.made.facts, fact.0, cells);
        }
    }

    fn settle(&mut self, slot: SlotId) {
        let Some(declared) = self.book.slots.get(slot.0) else { return };
        let arises = declared.only_where.as_ref().map_or(Truth::Yes, |guard| self.holds(guard));
        let refused = self.refusals(slot);
        let choice = match declared.picks {
            Picks::InOrder => choice::sequence(arises, &refused),
            Picks::One => choice::pick_one(arises, &refused, self.preferences(slot, refused.len())),
        };
        let pick = match (self.reading, declared.picks) {
            (_, Picks::InOrder) => None,
            (Reading::With(other, option), Picks::One) if other == slot => Some(option.0),
            (_, Picks::One) => choice::provisional_pick(&choice, &refused),
        };
        self.keep(slot, arises, refused, choice, pick);
    }

    fn keep(
        &mut self,
        slot: SlotId,
        arises: Truth,
        refused: Vec<Truth>,
        choice: Choice,
        pick: Option<usize>,
    ) {
        let chosen = match (self.reading, pick) {
            (Reading::Open, _) | (_, None) => choice.chosen,
            (_, Some(pick)) => {
                (0..refused.len()).map(|option| Truth::from(option == pick).and(arises)).collect()
            }
        };
        set(&mut self.made.arises, slot.0, arises);
        set(&mut self.made.refused, slot.0, refused);
        set(&mut self.made.beats, slot.0, choice.beats);
        set(&mut self.made.chosen, slot.0, chosen);
        set(&mut self.made.filled, slot.0, choice.filled);
        set(&mut self.made.circular, slot.0, choice.circular);
        set(&mut self.made.picks, slot.0, pick.map(OptionId));
    }

    fn refusals(&mut self, slot: SlotId) -> Vec<Truth> {
        let count = self.made.refused.get(slot.0).map_or(0, Vec::len);
        let mut refused = vec![Truth::No; count];
        let effects = self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.refusals);
        for (rule, effect) in effects {
            let applies = self.rule(*rule);
            if applies == Truth::No || self.case.departed.contains(rule) {
                continue;
            }
            let Some(EffectKind::Refuse { which, .. }) = effect_of(self.book, *rule, *effect) else {
                continue;
            };
            for (option, cell) in refused.iter_mut().enumerate() {
                *cell = cell.or(applies.and(self.ruled_out(which, OptionId(option))));
            }
        }
        refused
    }

    fn preferences(&mut self, slot: SlotId, count: usize) -> Vec<Vec<Truth>> {
        let mut beats = vec![vec![Truth::No; count]; count];
        let effects = self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.preferences);
        for (rule, effect) in effects {
            let applies = self.rule(*rule);
            let Some(EffectKind::Prefer { pairs, .. }) = effect_of(self.book, *rule, *effect) else {
                continue;
            };
            for (better, worse) in pairs {
                if let Some(cell) = beats.get_mut(better.0).and_then(|row| row.get_mut(worse.0)) {
                    *cell = cell.or(applies);
                }
            }
        }
        choice::closed(beats)
    }

    /// Whether a rule applies; read once.
    fn rule(&mut self, rule: RuleId) -> Truth {
        if self.read.get(rule.0) == Some(&true) {
            return self.made.rules.get(rule.0).copied().unwrap_or(Truth::No);
        }
        let Some(declared) = self.book.rules.get(rule.0) else { return Truth::No };
        let truth = applied(declared, self.holds(&declared.when));
        set(&mut self.made.rules, rule.0, truth);
        set(&mut self.read, rule.0, true);
        truth
    }

    fn holds(&self, condition: &Condition) -> Truth {
        self.eyes().holds(condition)
    }

    fn ruled_out(&self, which: &Refused, option: OptionId) -> Truth {
        self.eyes().ruled_out(which, option)
    }

    fn is_known(&self, fact: FactId) -> Truth {
        self.eyes().is_known(fact)
    }

    fn eyes(&self) -> Eyes<'_> {
        Eyes { case: self.case, decisions: &self.made }
    }
}

/// What a rule does with the truth of its condition.
pub(crate) fn applied(rule: &Rule, truth: Truth) -> Truth {
    match (&rule.if_unsure, truth) {
        (IfUnsure::LeaveOut { .. }, Truth::Unknown) => Truth::No,
        _ => truth,
    }
}

/// The kind of a rule's effect.
pub(crate) fn effect_of(book: &Book, rule: RuleId, effect: usize) -> Option<&EffectKind> {
    Some(&book.rules.get(rule.0)?.effects.get(effect)?.kind)
}

fn set<T>(list: &mut [T], index: usize, value: T) {
    if let Some(place) = list.get_mut(index) {
        *place = value;
    }
}

/// Reads conditions against what is settled so far.
#[derive(Clone, Copy, Debug)]
pub struct Eyes<'a> {
    /// The zone.
    pub case: Case<'a>,
    /// What is settled.
    pub decisions: &'a Decisions,
}

impl Eyes<'_> {
    /// The truth of a condition.
    pub fn holds(self, condition: &Condition) -> Truth {
        match condition {
            Condition::Always => Truth::Yes,
            Condition::All(parts) => parts
                .iter()
                .fold(Truth::Yes, |all, part| if all == Truth::No { all } else { all.and(self.holds(part)) }),
            Condition::Any(parts) => parts
                .iter()
                .fold(Truth::No, |any, part| if any == Truth::Yes { any } else { any.or(self.holds(part)) }),
            Condition::Not(inner) => self.holds(inner).negated(),
            Condition::Test(test) => self.test(&test.kind),
        }
    }

    /// The truth of one test.
    pub fn test(self, test: &TestKind) -> Truth {
        match test {
            TestKind::Fact { fact, cells } => self.lies_in(*fact, *cells),
            TestKind::Known(fact) => self.is_known(*fact),
            TestKind::Unknown(fact) => self.is_known(*fact).negated(),
            TestKind::Finding(finding) => {
                self.decisions.findings.get(finding.0).copied().unwrap_or(Truth::Unknown)
            }
            TestKind::Chosen { slot, options } => {
                self.some_chosen(*slot, |option| Truth::from(options.contains(&option)))
            }
            TestKind::ChosenWhose { slot, whose } => {
                self.some_chosen(*slot, |option| self.whose(whose, option))
            }
        }
    }

    /// Whether an option satisfies `whose …`.
    pub fn whose(self, whose: &Whose, option: OptionId) -> Truth {
        match whose.tests.get(option.0) {
            None => Truth::No,
            Some(OptionTest::Settled(holds)) => Truth::from(*holds),
            Some(OptionTest::Fact { fact, cells }) => self.lies_in(*fact, *cells),
            Some(OptionTest::OwnFact { fact, cells }) => {
                match self.case.facts.of(*fact).map(|answer| &answer.given) {
                    Some(Given::ByOption(own)) => {
                        own.get(option.0).map_or(Truth::Unknown, |own| within(*own, *cells))
                    }
                    _ => Truth::Unknown,
                }
            }
        }
    }

    /// Whether a refusal names this option.
    pub fn ruled_out(self, which: &Refused, option: OptionId) -> Truth {
        match which {
            Refused::Named(options) => Truth::from(options.contains(&option)),
            Refused::AllBut(options) => Truth::from(!options.contains(&option)),
            Refused::Whose(whose) => self.whose(whose, option),
        }
    }

    fn lies_in(self, fact: FactId, cells: CellSet) -> Truth {
        self.decisions.facts.get(fact.0).map_or(Truth::Unknown, |possible| within(*possible, cells))
    }

    fn is_known(self, fact: FactId) -> Truth {
        let supposed = self.case.supposed.is_some_and(|(other, _)| other == fact);
        let given = self.case.facts.of(fact).map(|answer| &answer.given);
        Truth::from(supposed || matches!(given, Some(Given::Cells(_) | Given::ByOption(_))))
    }

    /// Whether what is chosen passes a test. Where the slot is certainly filled and every option still possible passes,
    /// the answer is yes even though no single option is certain.
    fn some_chosen(self, slot: SlotId, passes: impl Fn(OptionId) -> Truth) -> Truth {
        let chosen = self.decisions.chosen.get(slot.0).map_or(&[][..], Vec::as_slice);
        let mut any = Truth::No;
        let mut every = self.decisions.filled.get(slot.0).copied().unwrap_or(Truth::No);
        for (option, chosen) in chosen.iter().enumerate().filter(|(_, chosen)| chosen.is_shown()) {
            let passes = passes(OptionId(option));
            any = any.or(chosen.and(passes));
            every = every.and(passes);
        }
        if every == Truth::Yes { Truth::Yes } else { any }
    }
}

/// Whether a fact of these possible cells lies in others.
pub(super) fn within(possible: CellSet, cells: CellSet) -> Truth {
    if !possible.meets(cells) {
        Truth::No
    } else if possible.is_within(cells) {
        Truth::Yes
    } else {
        Truth::Unknown
    }
}
