//! Surveys that make every rule of a book apply that one can, none of which can be dropped. Walls are thrown, and what is
//! worked out of them is worked out by the wall calculation; the solver finds the answers; what is claimed is what the
//! evaluator makes of the text as the reader of surveys reads it.

mod draft;
mod search;
mod thrown;

use std::collections::{BTreeMap, BTreeSet};

use super::prover::Prover;
use super::report::Terms;
use super::solve::{Solver, Verdict};
use super::witness::reduced;
use crate::inference::Ready;
use crate::proof::circuit::Bit;
use crate::proof::sheet::Said;
use crate::proof::space::Source;
use crate::rulebook::book::{Book, FactId, Origin, RuleId};
use crate::wall::facts::{FactAnswer, Given, ZoneFacts};
use draft::Draft;
use search::{Search, drafted, held, manners};
use thrown::{Quarry, Wall};

/// How many walls are thrown.
const WALLS: usize = 288;

/// Surveys that make rules apply.
#[derive(Clone, Debug)]
pub struct Examples {
    /// The surveys.
    pub surveys: Vec<Example>,
    /// The rules that none of them makes apply.
    pub missing: Vec<(RuleId, Missing)>,
}

/// One survey.
#[derive(Clone, Debug)]
pub struct Example {
    /// Its text.
    pub text: String,
    /// The rules that certainly apply in it.
    pub rules: Vec<RuleId>,
    /// Those of them that apply in no other.
    pub alone: Vec<RuleId>,
}

/// Why no survey was found that makes a rule apply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// There is none.
    CannotApply,
    /// It would take these worked facts to come out as no thrown wall made them: perhaps no wall does.
    LeansOn(Vec<String>),
    /// The budget ran out.
    NotSettled,
}

/// Looks for surveys that make every rule apply that one can.
pub fn examples(book: &Book, terms: &Terms) -> Examples {
    let Ready { plan, flat, .. } = Ready::of(book);
    let mut prover = Prover::of(book, &plan, &terms.reach);
    let (plain, arise) = manners(&mut prover);
    let rules = (0..book.rules.len()).map(RuleId);
    let applies: Vec<Bit> = prover.more(|bench| rules.clone().map(|rule| bench.rule(rule).yes).collect());
    let mut search = Search {
        prover: &prover,
        solver: Solver::new(&prover.circuit, &prover.space, terms.dead_ends),
        flat: &flat,
        slate: flat.slate(),
        applies,
        open: rules.collect(),
    };
    let cannot = search.never();
    let read = &terms.read_elsewhere;
    let mut found: Vec<Worked> = Vec::new();
    let mut quarry = Quarry::of(book, read);
    let walls = std::iter::once(Wall::default()).chain((0..WALLS).map(|_| quarry.throw()));
    let walls: Vec<Wall> = if works_nothing(book) { vec![Wall::default()] } else { walls.collect() };
    for (manners, walls) in [(vec![plain, arise], &walls), (vec![plain], &walls)] {
        for wall in walls {
            search.on(wall, &manners, read, &mut found);
        }
    }
    let missing = search.missing(&cannot);
    let surveys = told(book, &needed(found));
    Examples { surveys, missing }
}

fn works_nothing(book: &Book) -> bool {
    book.facts.iter().all(|fact| matches!(fact.origin, Origin::Asked(_)))
}

/// A draft with the rules that certainly apply in it as the pipeline reads it.
struct Worked {
    draft: Draft,
    rules: BTreeSet<RuleId>,
}

impl Search<'_, '_> {
    /// Takes out the rules that no survey makes apply.
    fn never(&mut self) -> BTreeSet<RuleId> {
        let never = |rule: &RuleId| {
            let applies = self.applies.get(rule.0).copied().unwrap_or(Bit::FALSE);
            self.solver.ask(applies) == Verdict::Never
        };
        let never: BTreeSet<RuleId> = self.open.clone().into_iter().filter(never).collect();
        self.open.retain(|rule| !never.contains(rule));
        never
    }

    /// Looks for surveys of one wall for as long as they make more rules apply.
    fn on(&mut self, wall: &Wall, manners: &[Bit], read: &[FactId], found: &mut Vec<Worked>) {
        let book = self.prover.book;
        if self.open.is_empty() {
            return;
        }
        let bare = Draft { wall: wall.clone(), answers: BTreeMap::new() };
        let Some(zones) = bare.worked(book) else { return };
        let Some(own) = zones.first() else { return };
        let held = [held(self.prover, own, read), manners.to_vec()].concat();
        while let Some(sheet) = self.sheet(&held) {
            let draft = self.cut(drafted(self.prover, wall, &sheet, read), read);
            let Some(zones) = draft.worked(book) else { return };
            let rules = self.certain(&zones);
            let before = self.open.len();
            self.open.retain(|rule| !rules.contains(rule));
            if self.open.len() == before {
                return;
            }
            found.push(Worked { draft, rules });
        }
    }

    /// Takes out every answer without which the same rules apply.
    fn cut(&mut self, mut draft: Draft, read: &[FactId]) -> Draft {
        let book = self.prover.book;
        let Some(mut zones) = draft.worked(book) else { return draft };
        let wanted = self.certain(&zones);
        let needed: BTreeSet<FactId> = book
            .facts
            .iter()
            .filter_map(|fact| match &fact.origin {
                Origin::Asked(question) => question.told_with.as_ref(),
                Origin::Worked { .. } => None,
            })
            .flat_map(|told| told.facts.iter().copied())
            .chain(read.iter().copied())
            .collect();
        for fact in draft.answers.keys().copied().collect::<Vec<FactId>>() {
            if needed.contains(&fact) {
                continue;
            }
            let without: Vec<ZoneFacts> = zones.iter().map(|facts| unanswered(facts, fact)).collect();
            if self.certain(&without).is_superset(&wanted) {
                zones = without;
                draft.answers.remove(&fact);
            }
        }
        draft
    }

    /// Why rules are left over.
    fn missing(&mut self, cannot: &BTreeSet<RuleId>) -> Vec<(RuleId, Missing)> {
        let mut missing: Vec<(RuleId, Missing)> =
            cannot.iter().map(|rule| (*rule, Missing::CannotApply)).collect();
        for rule in self.open.clone() {
            let Some(applies) = self.applies.get(rule.0).copied() else { continue };
            missing.push((
                rule,
                match self.solver.ask(applies) {
                    Verdict::Never => Missing::CannotApply,
                    Verdict::NotSettled => Missing::NotSettled,
                    Verdict::Found(sheet) => {
                        let (circuit, space) = (&self.prover.circuit, &self.prover.space);
                        let sheet = reduced(circuit, space, applies, &sheet);
                        let said = space.facts.iter().zip(&sheet.said);
                        let worked = said
                            .filter(|(fact, said)| fact.source == Source::Worked && **said != Said::Nothing);
                        Missing::LeansOn(worked.map(|(fact, _)| fact.name.clone()).collect())
                    }
                },
            ));
        }
        missing.sort_by_key(|(rule, _)| *rule);
        missing
    }
}

/// The facts with one answer left out.
fn unanswered(facts: &ZoneFacts, fact: FactId) -> ZoneFacts {
    let mut facts = facts.clone();
    if let Some(answer) = facts.answers.get_mut(fact.0) {
        *answer = FactAnswer::of(Given::Unanswered);
    }
    facts
}

/// Drops surveys, the one that makes the fewest rules apply first, until each makes some rule apply that no other does.
fn needed(mut found: Vec<Worked>) -> Vec<Worked> {
    loop {
        let alone = alone(&found);
        let idle = found.iter().zip(alone).enumerate().filter(|(_, (_, alone))| alone.is_empty());
        let Some((idle, _)) = idle.min_by_key(|(_, (worked, _))| worked.rules.len()) else { return found };
        found.remove(idle);
    }
}

/// For each survey the rules that no other makes apply.
fn alone(found: &[Worked]) -> Vec<Vec<RuleId>> {
    let mut by: BTreeMap<RuleId, usize> = BTreeMap::new();
    for rule in found.iter().flat_map(|worked| &worked.rules) {
        *by.entry(*rule).or_default() += 1;
    }
    let only =
        |worked: &Worked| worked.rules.iter().copied().filter(|rule| by.get(rule) == Some(&1)).collect();
    found.iter().map(only).collect()
}

/// The surveys as they are written, each headed by the rules that it is there for.
fn told(book: &Book, found: &[Worked]) -> Vec<Example> {
    let name = |rule: &RuleId| book.rules.get(rule.0).map_or("", |rule| rule.name.as_str());
    let each = found.iter().zip(alone(found)).enumerate();
    each.map(|(at, (worked, alone))| {
        let names: Vec<&str> = alone.iter().map(name).collect();
        let heading = format!(
            "# Invented, to make rules apply: {} in all, and by no other of these surveys\n#   {}\n",
            worked.rules.len(),
            names.join("\n#   ")
        );
        let rules = worked.rules.iter().copied().collect();
        Example { text: heading + &worked.draft.text(book, at + 1), rules, alone }
    })
    .collect()
}
