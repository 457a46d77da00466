//! Questions and worked facts: first their names and kinds, later their cells and when they arise.

use std::collections::{BTreeMap, BTreeSet};

use super::desk::{Desk, Index, Pass};
use super::gather::Stated;
use super::mistake_ground::GroundMistake;
use super::mistake_kind::KindMistake;
use super::mistake_name::{NameMistake, meant};
use super::mistake_order::OrderMistake;
use super::sorting::{sorted, told};
use crate::diagnostic::Place;
use crate::rulebook::book::{
    Condition, Fact, FactId, Kind, Origin, Owner, Proof, Question, TestKind, ToldWith,
};
use crate::rulebook::cells::{CellSet, Cells};
use crate::rulebook::syntax::ast::{At, FactAttribute, FactDeclaration, Word, WorkedDeclaration};

/// The most days or hours that are believed.
const MOST: u32 = 36_500;

impl Desk {
    /// Reads names and kinds. A fact whose kind cannot be read stays out.
    pub(super) fn facts(
        &mut self,
        asked: &[Stated<'_, FactDeclaration>],
        worked: &[Stated<'_, WorkedDeclaration>],
    ) {
        let mut facts: Vec<Fact> = asked.iter().filter_map(|fact| self.asked(fact)).collect();
        facts.extend(worked.iter().filter_map(|fact| self.worked(fact)).collect::<Vec<_>>());
        facts.sort_by(|one, other| one.name.cmp(&other.name));
        self.names.facts = Index::of(facts.iter().map(|fact| fact.name.as_str()));
        self.pass = Pass::Gather(vec![BTreeSet::new(); facts.len()]);
        self.book.facts = facts;
    }

    fn asked(&mut self, stated: &Stated<'_, FactDeclaration>) -> Option<Fact> {
        let said = stated.said;
        let kind = self.kind_of(stated, &said.kind.value)?;
        let mut question = Question {
            ask: said.ask.value.value.clone(),
            only_where: None,
            good_for_days: None,
            proof: Proof::AnyAnswer,
            methods: Vec::new(),
            told_with: None,
        };
        let mut said_of = BTreeSet::new();
        for attribute in &said.attributes {
            let what = self.attribute(stated, attribute, &mut question);
            if !said_of.insert(what) {
                let mistake =
                    GroundMistake::SaidTwice { what: what.to_owned(), name: said.name.value.clone() };
                self.error(&mistake, stated.at(attribute.span));
            }
        }
        let cells = Cells::of_values(0, said.only_where.is_some());
        let (name, owner) = (said.name.value.clone(), said.owner);
        Some(Fact { name, owner, kind, origin: Origin::Asked(question), cells, place: stated.place() })
    }

    fn attribute(
        &mut self,
        stated: &Stated<'_, FactDeclaration>,
        attribute: &At<FactAttribute>,
        question: &mut Question,
    ) -> &'static str {
        match &attribute.value {
            FactAttribute::GoodFor(days) => {
                question.good_for_days = self.count(days, "days", stated.at(days.span));
                "good for"
            }
            FactAttribute::ProvedByTest => {
                question.proof = Proof::Tested;
                "proved by test"
            }
            FactAttribute::MeasuredBy(methods) => {
                question.methods = methods.iter().map(|method| method.value.clone()).collect();
                "measured by"
            }
            FactAttribute::ToldWith(..) => "told with",
        }
    }

    /// Finds the questions that must be answered beside others.
    pub(super) fn told_with(&mut self, asked: &[Stated<'_, FactDeclaration>]) {
        for stated in asked {
            let attributes = stated.said.attributes.iter();
            let said = attributes.filter_map(|attribute| match &attribute.value {
                FactAttribute::ToldWith(names, because) => Some((names, because)),
                _ => None,
            });
            for (names, because) in said {
                let facts = names.iter().filter_map(|name| self.beside(stated, name)).collect();
                let own = self.names.facts.get(&stated.said.name.value);
                let own = own.and_then(|own| self.book.facts.get_mut(own));
                if let Some(Origin::Asked(question)) = own.map(|fact| &mut fact.origin) {
                    question.told_with = Some(Box::new(ToldWith { facts, because: because.value.clone() }));
                }
            }
        }
    }

    /// A question that can be answered where another is.
    fn beside(&mut self, stated: &Stated<'_, FactDeclaration>, word: &Word) -> Option<FactId> {
        let fact = self.fact(word, stated.at(word.span))?;
        let own = &stated.said;
        let declared = self.book.facts.get(fact.0)?;
        let within_reach = declared.owner == own.owner || declared.owner == Owner::Job;
        if matches!(declared.origin, Origin::Asked(_)) && within_reach && declared.name != own.name.value {
            return Some(fact);
        }
        let mistake = KindMistake::NotBeside { name: word.value.clone(), fact: own.name.value.clone() };
        self.error(&mistake, stated.at(word.span));
        None
    }

    /// Reads a whole number of days or hours.
    pub(super) fn count(&mut self, word: &Word, what: &'static str, place: Place) -> Option<u32> {
        let number = word.value.parse().ok().filter(|number| (1..=MOST).contains(number));
        if number.is_none() {
            self.error(&KindMistake::Count { written: word.value.clone(), what }, place);
        }
        number
    }

    fn worked(&mut self, stated: &Stated<'_, WorkedDeclaration>) -> Option<Fact> {
        let said = stated.said;
        let kind = self.kind_of(stated, &said.kind.value)?;
        let per_option_of = said.slot.as_ref().and_then(|slot| self.slot(slot, stated.at(slot.span)));
        let origin = Origin::Worked { per_option_of, worst: said.worst, formula: None };
        // What is worked out may come to nothing: no masonry in the wall, no resistance of a bare face.
        let cells = Cells::of_values(0, true);
        Some(Fact {
            name: said.name.value.clone(),
            owner: said.owner,
            kind,
            origin,
            cells,
            place: stated.place(),
        })
    }

    /// Finds a fact.
    pub(super) fn fact(&mut self, word: &Word, place: Place) -> Option<FactId> {
        let found = self.names.facts.get(&word.value);
        if found.is_none() {
            self.no_fact(word, place);
        }
        found.map(FactId)
    }

    /// Says that no fact or finding has a name.
    pub(super) fn no_fact(&mut self, word: &Word, place: Place) {
        let names = self.names.facts.names().chain(self.names.findings.names());
        let help = meant(&word.value, names, || {
            format!("declare it with `fact {} of zone, …`, `worked …` or `finding …`", word.value)
        });
        self.error(&NameMistake::Fact { name: word.value.clone(), help }, place);
    }

    /// Ends the first pass: gives every fact its cells.
    pub(super) fn settle_cells(&mut self) {
        let Pass::Gather(cuts) = std::mem::replace(&mut self.pass, Pass::Settle) else { return };
        let mut mistakes = Vec::new();
        for (fact, cuts) in self.book.facts.iter_mut().zip(cuts) {
            let absent = fact.cells.may_be_absent;
            fact.cells = match &fact.kind {
                Kind::YesNo => Cells::of_values(2, absent),
                Kind::OneOf(words) => Cells::of_values(words.len(), absent),
                Kind::Number { .. } | Kind::Measure { .. } => {
                    Cells::of_cuts(cuts.into_iter().collect(), absent)
                }
                Kind::Text => Cells::of_values(1, absent),
            };
            let (count, most) = (fact.cells.count(), CellSet::MOST);
            if count > most {
                let mistake = KindMistake::TooManyCells { name: fact.name.clone(), count, most };
                mistakes.push(crate::diagnostic::Diagnostic::error(&mistake, fact.place.clone()));
            }
        }
        self.found.extend(mistakes);
    }

    /// Compiles when each question arises.
    pub(super) fn questions(&mut self, asked: &[Stated<'_, FactDeclaration>]) {
        for stated in asked {
            let Some(guard) = &stated.said.only_where else { continue };
            let Some(condition) = self.condition(stated, &guard.value) else { continue };
            self.reads_facts_alone(&condition);
            let fact = self.names.facts.get(&stated.said.name.value);
            if let Some(Origin::Asked(question)) =
                fact.and_then(|fact| self.book.facts.get_mut(fact)).map(|fact| &mut fact.origin)
            {
                question.only_where = Some(condition);
            }
        }
        self.no_rings();
    }

    fn reads_facts_alone(&mut self, condition: &Condition) {
        for test in condition.tests() {
            if matches!(
                test.kind,
                TestKind::Finding(_) | TestKind::Chosen { .. } | TestKind::ChosenWhose { .. }
            ) {
                let mistake = OrderMistake::GuardReadsDecision { words: test.words.clone() };
                self.error(&mistake, test.place.clone());
            }
        }
    }

    /// Questions must not wait for each other in a ring.
    fn no_rings(&mut self) {
        let guard = |fact: &Fact| match &fact.origin {
            Origin::Asked(question) => question.only_where.clone(),
            Origin::Worked { .. } => None,
        };
        let waits: Vec<BTreeSet<usize>> = self
            .book
            .facts
            .iter()
            .map(|fact| guard(fact).map(|condition| facts_read(&condition)).unwrap_or_default())
            .collect();
        let Err(rings) = sorted(&waits) else { return };
        let names: BTreeMap<usize, (String, Place)> = self
            .book
            .facts
            .iter()
            .enumerate()
            .map(|(at, fact)| (at, (fact.name.clone(), fact.place.clone())))
            .collect();
        for ring in rings {
            let (first, words) =
                told(&ring, |at| names.get(&at).map_or_else(String::new, |(name, _)| name.clone()));
            if let Some((_, place)) = ring.first().and_then(|at| names.get(at)) {
                self.error(&OrderMistake::Questions { first, ring: words }, place.clone());
            }
        }
    }
}

/// The facts that a condition reads.
fn facts_read(condition: &Condition) -> BTreeSet<usize> {
    let fact = |kind: &TestKind| match kind {
        TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => Some(fact.0),
        _ => None,
    };
    condition.tests().into_iter().filter_map(|test| fact(&test.kind)).collect()
}
