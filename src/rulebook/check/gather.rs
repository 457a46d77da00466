//! Sorts the statements of all files by kind and name, so that the order of writing never matters.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::mistake_name::NameMistake;
use crate::diagnostic::{Diagnostic, Place, Source};
use crate::rulebook::syntax::ast::{
    Addition, Amendment, Body, FactDeclaration, File, FindingDeclaration, HouseHead, PromiseDeclaration,
    QuantityDeclaration, RuleDeclaration, RulebookHead, SlotDeclaration, SourceDeclaration, Span,
    StageDeclaration, Waiver, Withdrawal, Word, WorkedDeclaration,
};

/// A declaration and the file it stands in.
#[derive(Debug)]
pub(super) struct Stated<'a, T> {
    pub(super) source: &'a Arc<Source>,
    pub(super) span: Span,
    pub(super) said: &'a T,
}

impl<T> Clone for Stated<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Stated<'_, T> {}

impl<'a, T> Stated<'a, T> {
    /// The place of a part of it.
    pub(super) fn at(&self, span: Span) -> Place {
        span.place(self.source)
    }

    /// The place of the whole.
    pub(super) fn place(&self) -> Place {
        self.at(self.span)
    }

    /// The same file and stretch with another thing said.
    pub(super) fn with<U>(&self, said: &'a U) -> Stated<'a, U> {
        Stated { source: self.source, span: self.span, said }
    }
}

/// What all the files say, kind by kind.
#[derive(Default)]
pub(super) struct Statements<'a> {
    pub(super) heads: Vec<Stated<'a, RulebookHead>>,
    pub(super) houses: Vec<Stated<'a, HouseHead>>,
    pub(super) sources: Vec<Stated<'a, SourceDeclaration>>,
    pub(super) stages: Vec<Stated<'a, StageDeclaration>>,
    pub(super) facts: Vec<Stated<'a, FactDeclaration>>,
    pub(super) worked: Vec<Stated<'a, WorkedDeclaration>>,
    pub(super) quantities: Vec<Stated<'a, QuantityDeclaration>>,
    pub(super) slots: Vec<Stated<'a, SlotDeclaration>>,
    pub(super) findings: Vec<Stated<'a, FindingDeclaration>>,
    pub(super) rules: Vec<Stated<'a, RuleDeclaration>>,
    pub(super) promises: Vec<Stated<'a, PromiseDeclaration>>,
    pub(super) waivers: Vec<Stated<'a, Waiver>>,
    pub(super) amendments: Vec<Stated<'a, Amendment>>,
    pub(super) additions: Vec<Stated<'a, Addition>>,
    pub(super) withdrawals: Vec<Stated<'a, Withdrawal>>,
}

/// Sorts what the files say; of two declarations of one name the second is reported and dropped.
pub(super) fn gather<'a>(files: &'a [File], found: &mut Vec<Diagnostic>) -> Statements<'a> {
    let mut all = Statements::default();
    for file in files {
        for statement in file.statements() {
            let stated = Stated { source: &file.source, span: statement.span, said: &statement.body };
            all.add(stated);
        }
    }
    all.unique(found);
    all
}

impl<'a> Statements<'a> {
    fn add(&mut self, stated: Stated<'a, Body>) {
        match stated.said {
            Body::Rulebook(said) => self.heads.push(stated.with(said)),
            Body::House(said) => self.houses.push(stated.with(said)),
            Body::Source(said) => self.sources.push(stated.with(said)),
            Body::Stage(said) => self.stages.push(stated.with(said)),
            Body::Fact(said) => self.facts.push(stated.with(said)),
            Body::Worked(said) => self.worked.push(stated.with(said)),
            Body::Quantity(said) => self.quantities.push(stated.with(said)),
            Body::Slot(said) => self.slots.push(stated.with(said)),
            Body::Finding(said) => self.findings.push(stated.with(said)),
            Body::Rule(said) => self.rules.push(stated.with(said)),
            Body::Promise(said) => self.promises.push(stated.with(said)),
            Body::Waive(said) => self.waivers.push(stated.with(said)),
            Body::Amend(said) => self.amendments.push(stated.with(said)),
            Body::Add(said) => self.additions.push(stated.with(said)),
            Body::Withdraw(said) => self.withdrawals.push(stated.with(said)),
        }
    }

    fn unique(&mut self, found: &mut Vec<Diagnostic>) {
        let (sources, stages) = (&mut Taken::new(), &mut Taken::new());
        sort(&mut self.sources, |said| &said.name, sources, found);
        sort(&mut self.stages, |said| &said.name, stages, found);
        let shared = &mut Taken::new();
        sort(&mut self.facts, |said| &said.name, shared, found);
        sort(&mut self.worked, |said| &said.name, shared, found);
        sort(&mut self.quantities, |said| &said.name, shared, found);
        sort(&mut self.slots, |said| &said.name, shared, found);
        sort(&mut self.findings, |said| &said.name, shared, found);
        let (rules, promises) = (&mut Taken::new(), &mut Taken::new());
        sort(&mut self.rules, |said| &said.name, rules, found);
        sort(&mut self.promises, |said| &said.name, promises, found);
    }
}

/// Names that are taken, and where.
type Taken = BTreeMap<String, Place>;

fn sort<'a, T>(
    list: &mut Vec<Stated<'a, T>>,
    name: impl Fn(&'a T) -> &'a Word,
    taken: &mut Taken,
    found: &mut Vec<Diagnostic>,
) {
    list.sort_by(|one, other| {
        let key = |stated: &Stated<'a, T>| {
            (name(stated.said).value.clone(), stated.source.name.clone(), stated.span)
        };
        key(one).cmp(&key(other))
    });
    list.retain(|stated| {
        let word = name(stated.said);
        let place = stated.at(word.span);
        if let Some(first) = taken.get(&word.value) {
            let mistake = NameMistake::Twice { name: word.value.clone() };
            found.push(Diagnostic::error(&mistake, place).and(first.clone(), "declared here"));
            return false;
        }
        taken.insert(word.value.clone(), place);
        true
    });
}
