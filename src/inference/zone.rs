//! One zone in full: the bare decisions, and beside each duty its causes and its mark.

use std::collections::BTreeSet;

use crate::inference::decide::{Case, Eyes, Reading, decide, effect_of};
use crate::inference::limits;
use crate::inference::outcome::{
    Cause, ClauseDuty, Decisions, Duty, Mark, OptionOutcome, SlotOutcome, StopCause, StopDuty, ZoneOutcome,
};
use crate::inference::plan::{Plan, facts_of_whose};
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Book, Condition, EffectKind, FactId, OptionId, OptionTest, Picks, Refused, RuleId, SlotId, TestKind,
    Whose,
};
use crate::survey::{Release, Released};

/// A zone's case with the two readings that marks are told from.
#[derive(Debug)]
pub(crate) struct Zone<'a> {
    pub(crate) book: &'a Book,
    pub(crate) plan: &'a Plan,
    pub(crate) case: Case<'a>,
    pub(crate) open: Decisions,
    pub(crate) picked: Decisions,
    /// The book read with another possible option in a slot, one entry an option.
    others: Vec<(SlotId, OptionId, Decisions)>,
}

impl<'a> Zone<'a> {
    pub(crate) fn new(book: &'a Book, plan: &'a Plan, case: Case<'a>) -> Self {
        let open = decide(book, plan, case, Reading::Open);
        let picked = decide(book, plan, case, Reading::Picked);
        let others = other_options(book, &open, &picked)
            .map(|(slot, option)| (slot, option, decide(book, plan, case, Reading::With(slot, option))))
            .collect();
        Self { book, plan, case, open, picked, others }
    }

    /// Everything to show of the zone.
    pub(crate) fn outcome(&self, releases: &[(usize, &Release)]) -> ZoneOutcome {
        let limits = limits::of(self);
        let clashes = limits::clashes(&limits);
        let mut stops = self.stops(releases);
        stops.extend(clashes.iter().filter(|clash| clash.is_certain()).map(|clash| StopDuty {
            cause: StopCause::Clash(clash.quantity),
            mark: Mark::Certain,
            released: None,
        }));
        ZoneOutcome {
            decisions: self.open.clone(),
            slots: (0..self.book.slots.len()).map(|slot| self.slot(SlotId(slot))).collect(),
            limits,
            clauses: self.clauses(),
            stops,
            hold_points: self.hold_points(releases),
            cautions: self.duties(|kind| matches!(kind, EffectKind::Caution { .. })),
            clashes,
        }
    }

    /// Every effect that is not certainly silent, with its cause.
    pub(crate) fn shown(&self) -> impl Iterator<Item = (Cause, &'a EffectKind)> {
        let rules = self.book.rules.iter().zip(&self.open.rules).enumerate();
        rules.filter(|(_, (_, truth))| truth.is_shown()).flat_map(|(index, (rule, truth))| {
            rule.effects.iter().enumerate().map(move |(effect, written)| {
                (Cause { rule: RuleId(index), effect, truth: *truth }, &written.kind)
            })
        })
    }

    /// How a rule's duties are marked.
    pub(crate) fn mark(&self, rule: RuleId) -> Mark {
        let truth_in = |made: &Decisions| made.rules.get(rule.0).copied().unwrap_or(Truth::No);
        if truth_in(&self.open) == Truth::Yes {
            return Mark::Certain;
        }
        let reads = self.plan.reads_choice_of.get(rule.0);
        let others: Vec<(SlotId, OptionId)> = self
            .others
            .iter()
            .filter(|(slot, _, made)| {
                reads.is_some_and(|reads| reads.contains(slot)) && truth_in(made).is_shown()
            })
            .map(|(slot, option, _)| (*slot, *option))
            .collect();
        match truth_in(&self.picked) {
            Truth::Yes => Mark::Provisional,
            Truth::No if !others.is_empty() => Mark::IfChosen(others),
            Truth::No | Truth::Unknown => Mark::SafeSide(self.open_facts_of(rule).into_iter().collect()),
        }
    }

    /// The facts that leave a rule's condition open.
    pub(crate) fn open_facts_of(&self, rule: RuleId) -> BTreeSet<FactId> {
        let mut found = BTreeSet::new();
        if let Some(rule) = self.book.rules.get(rule.0) {
            OpenFacts { zone: self, found: &mut found, slots: BTreeSet::new() }.of(&rule.when);
        }
        found
    }

    fn eyes(&self) -> Eyes<'_> {
        Eyes { case: self.case, decisions: &self.open }
    }

    fn duties(&self, wanted: impl Fn(&EffectKind) -> bool) -> Vec<Duty> {
        self.shown()
            .filter(|(_, kind)| wanted(kind))
            .map(|(cause, _)| Duty { mark: self.mark(cause.rule), cause, released: None })
            .collect()
    }

    fn clauses(&self) -> Vec<ClauseDuty> {
        let mut causes: std::collections::BTreeMap<_, Vec<Cause>> = std::collections::BTreeMap::new();
        for (cause, kind) in self.shown() {
            if let EffectKind::Require(clause) = kind {
                causes.entry(*clause).or_default().push(cause);
            }
        }
        causes
            .into_iter()
            .map(|(clause, causes)| ClauseDuty {
                clause,
                truth: causes.iter().fold(Truth::No, |any, cause| any.or(cause.truth)),
                mark: joined(causes.iter().map(|cause| self.mark(cause.rule))),
                causes,
            })
            .collect()
    }

    fn stops(&self, releases: &[(usize, &Release)]) -> Vec<StopDuty> {
        let stated =
            self.duties(|kind| matches!(kind, EffectKind::Stop { .. })).into_iter().map(|duty| StopDuty {
                released: released(releases, &Released::Stop(duty.cause.rule)),
                mark: duty.mark,
                cause: StopCause::Rule(duty.cause),
            });
        stated.chain((0..self.book.slots.len()).flat_map(|slot| self.stops_of(SlotId(slot)))).collect()
    }

    /// The stops that follow when a slot cannot be filled. Each stands for itself: while something is open either may
    /// turn out to be so, and neither hides the other.
    fn stops_of(&self, slot: SlotId) -> Vec<StopDuty> {
        let table =
            (self.book.slots.get(slot.0), self.open.arises.get(slot.0), self.open.circular.get(slot.0));
        let (Some(declared), Some(arises), Some(circular)) = table else { return Vec::new() };
        if declared.picks == Picks::InOrder {
            return Vec::new();
        }
        let refused = self.open.refused.get(slot.0).map_or(&[][..], Vec::as_slice);
        let circular = arises.and(*circular);
        let empty = refused.iter().fold(*arises, |all, refused| all.and(*refused));
        let stop = |cause, truth| {
            let mark =
                if truth == Truth::Yes { Mark::Certain } else { Mark::SafeSide(self.open_in_slot(slot)) };
            StopDuty { cause, mark, released: None }
        };
        let circle = circular
            .is_shown()
            .then(|| stop(StopCause::Circle(slot, circular, self.preferring(slot)), circular));
        let nothing = empty.is_shown().then(|| stop(StopCause::NothingLeft(slot, empty), empty));
        circle.into_iter().chain(nothing).collect()
    }

    fn preferring(&self, slot: SlotId) -> Vec<RuleId> {
        let effects = self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.preferences);
        let rules: BTreeSet<RuleId> = effects.iter().map(|(rule, _)| *rule).collect();
        rules
            .into_iter()
            .filter(|rule| self.open.rules.get(rule.0).is_some_and(|truth| truth.is_shown()))
            .collect()
    }

    /// The facts that leave a slot open.
    pub(crate) fn open_in_slot(&self, slot: SlotId) -> Vec<FactId> {
        let mut found = BTreeSet::new();
        OpenFacts { zone: self, found: &mut found, slots: BTreeSet::new() }.of_slot(slot);
        found.into_iter().collect()
    }

    fn hold_points(&self, releases: &[(usize, &Release)]) -> Vec<Duty> {
        let mut duties = self.duties(|kind| matches!(kind, EffectKind::HoldPoint { .. }));
        for duty in &mut duties {
            if let Some(EffectKind::HoldPoint { name, .. }) =
                effect_of(self.book, duty.cause.rule, duty.cause.effect)
            {
                duty.released = released(releases, &Released::HoldPoint(name.clone()));
            }
        }
        duties.sort_by_key(|duty| match effect_of(self.book, duty.cause.rule, duty.cause.effect) {
            Some(EffectKind::HoldPoint { before, name, .. }) => (before.0, name.clone()),
            _ => (usize::MAX, String::new()),
        });
        duties
    }

    fn slot(&self, slot: SlotId) -> SlotOutcome {
        let row = |table: &[Vec<Truth>]| table.get(slot.0).cloned().unwrap_or_default();
        let (refused, chosen) = (row(&self.open.refused), row(&self.open.chosen));
        let causes = self.refusals_by_option(slot, refused.len());
        let beats = self.open.beats.get(slot.0).cloned().unwrap_or_default();
        let options = refused.iter().zip(&chosen).zip(causes).enumerate();
        let options = options
            .map(|(option, ((refused, chosen), refused_by))| OptionOutcome {
                refused: *refused,
                refused_by,
                chosen: *chosen,
                beaten_by: beaten_by(&beats, option),
            })
            .collect();
        let in_order = self.book.slots.get(slot.0).is_some_and(|slot| slot.picks == Picks::InOrder);
        let sequence = chosen.iter().enumerate().filter(|(_, chosen)| in_order && chosen.is_shown());
        SlotOutcome {
            slot,
            arises: self.open.arises.get(slot.0).copied().unwrap_or(Truth::No),
            sequence: sequence.map(|(option, _)| OptionId(option)).collect(),
            pick: self.picked.picks.get(slot.0).copied().flatten(),
            open: if chosen.contains(&Truth::Unknown) { self.open_in_slot(slot) } else { Vec::new() },
            options,
        }
    }

    fn refusals_by_option(&self, slot: SlotId, count: usize) -> Vec<Vec<Cause>> {
        let mut causes = vec![Vec::new(); count];
        for (rule, effect) in self.plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.refusals) {
            let applies = self.open.rules.get(rule.0).copied().unwrap_or(Truth::No);
            if self.case.departed.contains(rule) {
                continue;
            }
            let Some(EffectKind::Refuse { which, .. }) = effect_of(self.book, *rule, *effect) else {
                continue;
            };
            for (option, list) in causes.iter_mut().enumerate() {
                let truth = applies.and(self.eyes().ruled_out(which, OptionId(option)));
                if truth.is_shown() {
                    list.push(Cause { rule: *rule, effect: *effect, truth });
                }
            }
        }
        causes
    }
}

/// The mark of a duty with several causes: the most certain one; safe-side facts are put together.
pub(crate) fn joined(marks: impl Iterator<Item = Mark>) -> Mark {
    let mut facts = BTreeSet::new();
    let mut options = BTreeSet::new();
    let mut provisional = false;
    for mark in marks {
        match mark {
            Mark::Certain => return Mark::Certain,
            Mark::Provisional => provisional = true,
            Mark::IfChosen(chosen) => options.extend(chosen),
            Mark::SafeSide(open) => facts.extend(open),
        }
    }
    if provisional {
        Mark::Provisional
    } else if facts.is_empty() && !options.is_empty() {
        Mark::IfChosen(options.into_iter().collect())
    } else {
        Mark::SafeSide(facts.into_iter().collect())
    }
}

fn other_options<'a>(
    book: &'a Book,
    open: &'a Decisions,
    picked: &'a Decisions,
) -> impl Iterator<Item = (SlotId, OptionId)> + 'a {
    let slots = book.slots.iter().zip(&open.chosen).zip(&picked.picks).enumerate();
    slots.filter(|(_, ((slot, _), _))| slot.picks == Picks::One).flat_map(|(slot, ((_, chosen), pick))| {
        chosen
            .iter()
            .enumerate()
            .filter(move |(option, chosen)| **chosen == Truth::Unknown && *pick != Some(OptionId(*option)))
            .map(move |(option, _)| (SlotId(slot), OptionId(option)))
    })
}

fn beaten_by(beats: &[Vec<Truth>], option: usize) -> Vec<(OptionId, Truth)> {
    beats
        .iter()
        .enumerate()
        .filter_map(|(better, row)| row.get(option).map(|truth| (OptionId(better), *truth)))
        .filter(|(_, truth)| truth.is_shown())
        .collect()
}

fn released(releases: &[(usize, &Release)], what: &Released) -> Option<usize> {
    releases.iter().find(|(_, release)| release.what == *what).map(|(index, _)| *index)
}

/// Gathers the facts that leave conditions open, through findings and choices.
struct OpenFacts<'z, 'a, 'f> {
    zone: &'z Zone<'a>,
    found: &'f mut BTreeSet<FactId>,
    slots: BTreeSet<SlotId>,
}

impl OpenFacts<'_, '_, '_> {
    fn of(&mut self, condition: &Condition) {
        if self.zone.eyes().holds(condition) != Truth::Unknown {
            return;
        }
        match condition {
            Condition::Always => {}
            Condition::All(parts) | Condition::Any(parts) => {
                for part in parts {
                    self.of(part);
                }
            }
            Condition::Not(inner) => self.of(inner),
            Condition::Test(test) => self.of_test(&test.kind),
        }
    }

    fn of_test(&mut self, test: &TestKind) {
        match test {
            TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => {
                self.of_fact(*fact);
            }
            TestKind::Finding(finding) => {
                if let Some(finding) = self.zone.book.findings.get(finding.0) {
                    self.of(&finding.when);
                }
            }
            TestKind::Chosen { slot, .. } => self.of_slot(*slot),
            TestKind::ChosenWhose { slot, whose } => {
                self.of_slot(*slot);
                self.of_whose(whose);
            }
        }
    }

    /// The fact itself, and what leaves its guard open.
    fn of_fact(&mut self, fact: FactId) {
        use crate::rulebook::book::Origin;
        if !self.found.insert(fact) {
            return;
        }
        let declared = self.zone.book.facts.get(fact.0).map(|fact| &fact.origin);
        if let Some(Origin::Asked(question)) = declared
            && let Some(guard) = &question.only_where
        {
            self.of(guard);
        }
    }

    fn of_slot(&mut self, slot: SlotId) {
        if !self.slots.insert(slot) {
            return;
        }
        let zone = self.zone;
        if let Some(guard) = zone.book.slots.get(slot.0).and_then(|slot| slot.only_where.as_ref()) {
            self.of(guard);
        }
        let Some(plan) = zone.plan.slots.get(slot.0) else { return };
        for (rule, effect) in &plan.refusals {
            let truth = zone.open.rules.get(rule.0).copied().unwrap_or(Truth::No);
            if let Some(EffectKind::Refuse { which: Refused::Whose(whose), .. }) =
                effect_of(zone.book, *rule, *effect)
                && truth.is_shown()
            {
                self.of_whose(whose);
            }
        }
        for (rule, _) in plan.refusals.iter().chain(&plan.preferences) {
            if let Some(rule) = zone.book.rules.get(rule.0) {
                self.of(&rule.when);
            }
        }
    }

    fn of_whose(&mut self, whose: &Whose) {
        let eyes = self.zone.eyes();
        let unsure = |option| eyes.whose(whose, OptionId(option)) == Truth::Unknown;
        if (0..whose.tests.len()).any(unsure) {
            let reads = facts_of_whose(whose);
            let settled = |test: &OptionTest| matches!(test, OptionTest::Settled(_));
            if !whose.tests.iter().all(settled) {
                self.found.extend(reads);
            }
        }
    }
}
