//! Remarks of the prover that a book accepts.

use super::desk::Desk;
use super::gather::Stated;
use super::mistake_name::{NameMistake, meant};
use crate::rulebook::book::{FactId, FindingId, RuleId, Waived, Waiver};
use crate::rulebook::syntax::ast;

impl Desk {
    /// Resolves what the waivers name.
    pub(super) fn waivers(&mut self, stated: &[Stated<'_, ast::Waiver>]) {
        let mut waivers: Vec<Waiver> = stated.iter().filter_map(|waiver| self.waiver(waiver)).collect();
        waivers.sort_by(|one, other| {
            (one.waived, &one.ground.because).cmp(&(other.waived, &other.ground.because))
        });
        self.book.waivers = waivers;
    }

    fn waiver(&mut self, stated: &Stated<'_, ast::Waiver>) -> Option<Waiver> {
        let said = stated.said;
        let ground = self.ground(stated, &said.name, &said.ground);
        let waived = self.waived(stated)?;
        Some(Waiver { waived, ground, place: stated.place() })
    }

    fn waived(&mut self, stated: &Stated<'_, ast::Waiver>) -> Option<Waived> {
        let said = stated.said;
        let name = &said.name.value;
        let place = stated.at(said.name.span);
        let rule = || self.book.rules.iter().position(|rule| rule.name == *name).map(RuleId);
        let finding = || self.names.findings.get(name).map(FindingId);
        let found = match said.remark.value {
            ast::Waived::NeverApplies => rule().map(Waived::NeverApplies),
            ast::Waived::NeverMatters => rule().map(Waived::NeverMatters),
            ast::Waived::NeverHolds => finding().map(Waived::NeverHolds),
            ast::Waived::AlwaysHolds => finding().map(Waived::AlwaysHolds),
            ast::Waived::SettlesNothing => {
                self.names.facts.get(name).map(|fact| Waived::SettlesNothing(FactId(fact)))
            }
            ast::Waived::NeverRequired => return self.clause(&said.name, place).map(Waived::NeverRequired),
        };
        if found.is_none() {
            self.not_there(said, place);
        }
        found
    }

    fn not_there(&mut self, said: &ast::Waiver, place: crate::diagnostic::Place) {
        let (kind, _) = said.remark.value.words();
        let rules: Vec<String> = self.book.rules.iter().map(|rule| rule.name.clone()).collect();
        let known: Vec<&str> = match kind {
            "rule" => rules.iter().map(String::as_str).collect(),
            "finding" => self.names.findings.names().collect(),
            _ => self.names.facts.names().collect(),
        };
        let help = meant(&said.name.value, known, || "take the waiver out".to_owned());
        self.error(&NameMistake::Waived { kind, name: said.name.value.clone(), help }, place);
    }
}
