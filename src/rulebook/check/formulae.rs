//! How a book works figures out of answers: what each formula reads, and in which units.

use num_traits::Signed;

use super::desk::Desk;
use super::gather::Stated;
use super::mistake_kind::KindMistake;
use crate::rulebook::book::{Fact, FactId, Formula, Kind, Origin, Owner};
use crate::rulebook::syntax::ast::{FormulaWords, Word, WorkedDeclaration};
use crate::units::Dimension;

impl Desk {
    /// Reads the formulae of worked facts, once every fact has its kind.
    pub(super) fn formulae(&mut self, worked: &[Stated<'_, WorkedDeclaration>]) {
        for stated in worked {
            let Some(words) = &stated.said.formula else { continue };
            let own = self.names.facts.get(&stated.said.name.value);
            let Some(dimension) = own.and_then(|own| self.book.facts.get(own)).and_then(dimension) else {
                self.not_in_formula(stated, &stated.said.name, "it is no measure and no number");
                continue;
            };
            let Some(found) = self.formula(stated, words, dimension) else { continue };
            let own = own.and_then(|own| self.book.facts.get_mut(own));
            if let Some(Origin::Worked { formula, .. }) = own.map(|fact| &mut fact.origin) {
                *formula = Some(Box::new(found));
            }
        }
    }

    fn formula(
        &mut self,
        stated: &Stated<'_, WorkedDeclaration>,
        words: &FormulaWords,
        own: Dimension,
    ) -> Option<Formula> {
        match words {
            FormulaWords::Linear { base, rate, step, of, past } => {
                let (fact, read) = self.read_by(stated, of)?;
                let base = match base {
                    Some(base) => Some(self.measured(base, own, stated.at(base.span))?),
                    None => None,
                };
                let past = match past {
                    Some(past) => Some(self.measured(past, read, stated.at(past.span))?),
                    None => None,
                };
                let rate = self.measured(rate, own, stated.at(rate.span))?;
                let step = self.measured(step, read, stated.at(step.span))?;
                if !step.value().is_positive() {
                    self.not_in_formula(stated, of, "the step it is counted in must lie over zero");
                    return None;
                }
                Some(Formula::Linear { base, rate, step, of: fact, past })
            }
            FormulaWords::Ratio(of, by) => {
                let ((of_fact, one), (by_fact, two)) = (self.read_by(stated, of)?, self.read_by(stated, by)?);
                if one != two || !matches!(own, Dimension::Number | Dimension::Percent) {
                    self.not_in_formula(
                        stated,
                        by,
                        "a ratio divides two of one kind and is a number or a percentage",
                    );
                    return None;
                }
                Some(Formula::Ratio { of: of_fact, by: by_fact })
            }
        }
    }

    /// A question that a formula may read: one of a measure, asked where the figure stands or of the job.
    fn read_by(
        &mut self,
        stated: &Stated<'_, WorkedDeclaration>,
        word: &Word,
    ) -> Option<(FactId, Dimension)> {
        let id = self.fact(word, stated.at(word.span))?;
        let fact = self.book.facts.get(id.0)?;
        let within_reach = fact.owner == stated.said.owner || fact.owner == Owner::Job;
        let asked = matches!(fact.origin, Origin::Asked(_));
        match dimension(fact) {
            Some(dimension) if asked && within_reach => Some((id, dimension)),
            _ => {
                self.not_in_formula(
                    stated,
                    word,
                    "it is no measure or number that is asked there or of the job",
                );
                None
            }
        }
    }

    fn not_in_formula(&mut self, stated: &Stated<'_, WorkedDeclaration>, word: &Word, why: &'static str) {
        let fact = stated.said.name.value.clone();
        let mistake = KindMistake::NotInFormula { name: word.value.clone(), fact, why };
        self.error(&mistake, stated.at(word.span));
    }
}

/// What a fact is measured in; `None` where it is no measure.
fn dimension(fact: &Fact) -> Option<Dimension> {
    match &fact.kind {
        Kind::Measure { dimension, .. } => Some(*dimension),
        Kind::Number { .. } => Some(Dimension::Number),
        _ => None,
    }
}
