//! Findings, rules and promises.

use super::desk::Desk;
use super::gather::Stated;
use super::mistake_order::BookRemark;
use super::mistake_shape::ShapeMistake;
use crate::rulebook::book::{Claim, Condition, Departure, Effect, Finding, IfUnsure, Owner, Promise, Rule};
use crate::rulebook::syntax::ast::{self, At, FindingDeclaration, PromiseDeclaration, RuleDeclaration};

impl Desk {
    /// Compiles the findings.
    pub(super) fn findings(&mut self, stated: &[Stated<'_, FindingDeclaration>]) {
        let findings = stated.iter().map(|finding| self.finding(finding)).collect();
        self.book.findings = findings;
    }

    fn finding(&mut self, stated: &Stated<'_, FindingDeclaration>) -> Finding {
        let said = stated.said;
        if said.when.is_none() {
            let mistake = ShapeMistake::NoCondition { name: said.name.value.clone() };
            self.error(&mistake, stated.at(said.name.span));
        }
        Finding {
            name: said.name.value.clone(),
            owner: Owner::Zone,
            when: self.when(stated, said.when.as_ref()).unwrap_or(Condition::Always),
            ground: self.ground(stated, &said.name, &said.ground),
            place: stated.place(),
        }
    }

    /// A condition, or none.
    fn when<T>(&mut self, stated: &Stated<'_, T>, when: Option<&At<ast::Condition>>) -> Option<Condition> {
        match when {
            Some(condition) => self.condition(stated, &condition.value),
            None => Some(Condition::Always),
        }
    }

    /// Compiles the rules.
    pub(super) fn rules(&mut self, stated: &[Stated<'_, RuleDeclaration>]) {
        let rules = stated.iter().filter_map(|rule| self.rule(rule)).collect();
        self.book.rules = rules;
    }

    fn rule(&mut self, stated: &Stated<'_, RuleDeclaration>) -> Option<Rule> {
        let said = stated.said;
        let name = said.name.value.clone();
        let when = self.when(stated, said.when.as_ref());
        if said.effects.is_empty() {
            self.error(&ShapeMistake::NoEffect { name: name.clone() }, stated.at(said.name.span));
        }
        let effects: Vec<Effect> = said
            .effects
            .iter()
            .filter_map(|effect| {
                let kind = self.effect(stated, effect)?;
                Some(Effect { kind, place: stated.at(effect.span) })
            })
            .collect();
        let if_unsure = match &said.if_unsure {
            None => IfUnsure::Apply,
            Some(why) => {
                self.remark(&BookRemark::LeftOut { name: name.clone() }, stated.at(why.span));
                IfUnsure::LeaveOut { because: why.value.value.clone() }
            }
        };
        let ground = self.ground(stated, &said.name, &said.ground);
        let barred = said.no_departure.is_some() || self.cites_law(&ground);
        let departure = if barred { Departure::Barred } else { Departure::Allowed };
        let topic = topic(&stated.source.name).to_owned();
        Some(Rule { name, topic, when: when?, effects, ground, if_unsure, departure, place: stated.place() })
    }

    /// Compiles the promises.
    pub(super) fn promises(&mut self, stated: &[Stated<'_, PromiseDeclaration>]) {
        let promises = stated.iter().filter_map(|promise| self.promise(promise)).collect();
        self.book.promises = promises;
    }

    fn promise(&mut self, stated: &Stated<'_, PromiseDeclaration>) -> Option<Promise> {
        let said = stated.said;
        let when = self.when(stated, said.when.as_ref());
        let claim = self.claim(stated, &said.claim.value);
        let ground = self.ground(stated, &said.name, &said.ground);
        let name = said.name.value.clone();
        Some(Promise { name, when: when?, claim: claim?, ground, place: stated.place() })
    }

    fn claim(&mut self, stated: &Stated<'_, PromiseDeclaration>, claim: &ast::Claim) -> Option<Claim> {
        Some(match claim {
            ast::Claim::Required(clause) => Claim::Required(self.clause(clause, stated.at(clause.span))?),
            ast::Claim::Barred(clause) => Claim::Barred(self.clause(clause, stated.at(clause.span))?),
            ast::Claim::Refused(slot, option) => {
                let id = self.slot(slot, stated.at(slot.span))?;
                Claim::OptionRefused(id, self.option(stated, id, option)?)
            }
            ast::Claim::Limited(quantity, bound, value) => {
                let id = self.quantity(quantity, stated.at(quantity.span))?;
                let dimension = self.book.quantities.get(id.0)?.dimension;
                Claim::Limited(id, *bound, self.measured(value, dimension, stated.at(value.span))?)
            }
            ast::Claim::Stopped => Claim::Stopped,
            ast::Claim::Never(condition) => Claim::Never(self.condition(stated, condition)?),
        })
    }
}

/// The stem of a file's name.
fn topic(name: &str) -> &str {
    super::files::stem(name)
}
