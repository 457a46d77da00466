//! For one thrown wall: answers that make as many rules apply at once as can be found. What is worked out of the wall is
//! held, so that the solver chooses answers alone, and nothing is claimed that the wall does not give.

use std::collections::BTreeSet;

use super::draft::Draft;
use super::thrown::Wall;
use crate::inference::decide::Case;
use crate::inference::{Flat, Slate, Truth};
use crate::proof::circuit::Bit;
use crate::proof::prover::Prover;
use crate::proof::saying;
use crate::proof::sheet::{Said, Sheet};
use crate::proof::solve::{Solver, Verdict};
use crate::proof::space::{Source, SpaceFact};
use crate::rulebook::book::{Book, FactId, Origin, RuleId};
use crate::wall::facts::{Given, ZoneFacts};

/// What surveys keep to that somebody would write: a question has one answer or none, an answer that means nothing
/// without others has them, and, the second bit, only questions that arise are answered.
pub(super) fn manners(prover: &mut Prover<'_>) -> (Bit, Bit) {
    let book = prover.book;
    let arise = prover.more(|bench| {
        let mut all = Bit::TRUE;
        for (id, fact) in book.facts.iter().enumerate() {
            let Origin::Asked(question) = &fact.origin else { continue };
            let Some(guard) = &question.only_where else { continue };
            let (given, arises) = (bench.given(FactId(id)), bench.holds(guard));
            let idle = bench.circuit.and(given, arises.no);
            all = bench.circuit.and(all, !idle);
        }
        all
    });
    let mut plain = Bit::TRUE;
    for (id, fact) in book.facts.iter().enumerate() {
        let Origin::Asked(question) = &fact.origin else { continue };
        let Some(own) = space_fact(prover, FactId(id)).cloned() else { continue };
        let one = at_most_one(prover, &own);
        plain = prover.circuit.and(plain, one);
        for other in question.told_with.iter().flat_map(|told| &told.facts) {
            let Some(other) = space_fact(prover, *other).map(|fact| fact.given) else { continue };
            let alone = prover.circuit.and(own.given, !other);
            plain = prover.circuit.and(plain, !alone);
        }
    }
    (plain, arise)
}

fn at_most_one(prover: &mut Prover<'_>, fact: &SpaceFact) -> Bit {
    let (mut so_far, mut holds) = (Bit::FALSE, Bit::TRUE);
    for bit in fact.told.iter().flatten() {
        let both = prover.circuit.and(so_far, *bit);
        holds = prover.circuit.and(holds, !both);
        so_far = prover.circuit.or(so_far, *bit);
    }
    prover.circuit.or(!fact.given, holds)
}

fn space_fact<'p>(prover: &'p Prover<'_>, fact: FactId) -> Option<&'p SpaceFact> {
    let view = prover.space.views.first()?.get(fact.0)?;
    prover.space.facts.get(view.fact)
}

/// What a wall gives, as wires that are so: every worked fact, and every answer from which one is worked out.
pub(super) fn held(prover: &Prover<'_>, facts: &ZoneFacts, read_elsewhere: &[FactId]) -> Vec<Bit> {
    let mut bits = Vec::new();
    for (id, answer) in facts.answers.iter().enumerate() {
        let Some(fact) = space_fact(prover, FactId(id)) else { continue };
        if fact.source == Source::Asked && !read_elsewhere.contains(&FactId(id)) {
            continue;
        }
        let rows = match &answer.given {
            Given::Unanswered => {
                bits.push(!fact.given);
                continue;
            }
            Given::Cells(cells) => vec![*cells],
            Given::ByOption(rows) => rows.clone(),
        };
        bits.push(fact.given);
        for (wires, cells) in fact.told.iter().zip(rows) {
            let wires = wires.iter().enumerate().filter(|(_, wire)| !wire.is_constant());
            bits.extend(wires.map(|(cell, wire)| if cells.contains(cell) { *wire } else { !*wire }));
        }
    }
    bits
}

/// What is looked for, and how it is seen.
pub(super) struct Search<'s, 'b> {
    pub(super) prover: &'s Prover<'b>,
    pub(super) solver: Solver<'s>,
    pub(super) flat: &'s Flat,
    pub(super) slate: Slate,
    /// For each rule the wire that says that it certainly applies.
    pub(super) applies: Vec<Bit>,
    /// Rules that no survey makes apply so far.
    pub(super) open: BTreeSet<RuleId>,
}

impl Search<'_, '_> {
    /// Answers under which rules apply that did not before; the wires are so in it.
    pub(super) fn sheet(&mut self, held: &[Bit]) -> Option<Sheet> {
        let mut kept = held.to_vec();
        let mut wanted = self.open.clone();
        let mut found = None;
        while let Some(rule) = wanted.pop_first() {
            let Some(applies) = self.applies.get(rule.0).copied() else { continue };
            kept.push(applies);
            let Verdict::Found(sheet) = self.solver.ask_all(&kept) else {
                kept.pop();
                continue;
            };
            self.read(&sheet.facts(&self.prover.space, 0));
            let also: Vec<RuleId> =
                wanted.iter().copied().filter(|rule| self.slate.rule(*rule) == Truth::Yes).collect();
            for rule in also {
                wanted.remove(&rule);
                kept.extend(self.applies.get(rule.0));
            }
            found = Some(sheet);
        }
        found.map(|sheet| Sheet::clone(&sheet))
    }

    /// Reads one zone.
    pub(super) fn read(&mut self, facts: &ZoneFacts) {
        self.flat.read(Case::new(facts, &[]), &mut self.slate);
    }

    /// The rules that certainly apply in some zone.
    pub(super) fn certain(&mut self, zones: &[ZoneFacts]) -> BTreeSet<RuleId> {
        let mut certain = BTreeSet::new();
        for facts in zones {
            self.read(facts);
            let rules = (0..self.applies.len()).map(RuleId);
            certain.extend(rules.filter(|rule| self.slate.rule(*rule) == Truth::Yes));
        }
        certain
    }
}

/// A wall with what a sheet answers to the questions that nothing is worked out from.
pub(super) fn drafted(prover: &Prover<'_>, wall: &Wall, sheet: &Sheet, read_elsewhere: &[FactId]) -> Draft {
    let book: &Book = prover.book;
    let views = prover.space.views.first().map_or(&[][..], Vec::as_slice);
    let asked = book.facts.iter().zip(views).enumerate().filter_map(|(id, (fact, view))| {
        let Some(Said::Cells(rows)) = sheet.said.get(view.fact) else { return None };
        let id = FactId(id);
        if read_elsewhere.contains(&id) {
            return None;
        }
        Some((id, saying::answer(fact, *rows.first()?)?))
    });
    Draft { wall: wall.clone(), answers: asked.collect() }
}
