//! Which rules do what, looked up once a book.

use std::collections::BTreeMap;

use super::goal::figures;
use crate::rulebook::book::{
    Book, Bound, ClauseId, EffectKind, FactId, LimitValue, OptionId, QuantityId, RuleId, SlotId,
};
use crate::units::Quantity;

/// One figure that a limit can come to.
#[derive(Clone, Debug)]
pub(crate) struct End {
    /// The rule that says so.
    pub(crate) rule: RuleId,
    /// The figure.
    pub(crate) figure: Quantity,
    /// The option whose column it is.
    pub(crate) chosen: Option<(SlotId, OptionId)>,
}

/// The rules of a book by what they do. A rule that does a thing twice is listed once.
#[derive(Clone, Debug, Default)]
pub(crate) struct Effects {
    requiring: Vec<Vec<RuleId>>,
    holding: BTreeMap<String, Vec<RuleId>>,
    limits: BTreeMap<(QuantityId, Bound), Vec<End>>,
    limits_of_facts: BTreeMap<(QuantityId, Bound, FactId), Vec<RuleId>>,
}

impl Effects {
    /// Goes through a book.
    pub(crate) fn of(book: &Book) -> Self {
        let mut found = Self { requiring: vec![Vec::new(); book.clauses.len()], ..Self::default() };
        for (rule, declared) in book.rules.iter().enumerate() {
            for effect in &declared.effects {
                found.add(book, RuleId(rule), &effect.kind);
            }
        }
        for ((_, bound), ends) in &mut found.limits {
            ends.sort_by(|one, other| {
                let rising = one.figure.value().cmp(other.figure.value());
                if *bound == Bound::AtMost { rising } else { rising.reverse() }
            });
        }
        found
    }

    fn add(&mut self, book: &Book, rule: RuleId, kind: &EffectKind) {
        let once = |rules: &mut Vec<RuleId>| {
            if rules.last() != Some(&rule) {
                rules.push(rule);
            }
        };
        match kind {
            EffectKind::Require(clause) => {
                self.requiring.get_mut(clause.0).into_iter().for_each(once);
            }
            EffectKind::HoldPoint { name, .. } => once(self.holding.entry(name.clone()).or_default()),
            EffectKind::Limit { quantity, bound, value: LimitValue::Fact(fact) } => {
                once(self.limits_of_facts.entry((*quantity, *bound, *fact)).or_default());
            }
            EffectKind::Limit { quantity, bound, value } => {
                let ends = self.limits.entry((*quantity, *bound)).or_default();
                let figures = figures(book, value, *bound).into_iter();
                ends.extend(figures.map(|(figure, chosen)| End { rule, figure, chosen }));
            }
            _ => {}
        }
    }

    /// The rules that require a clause.
    pub(crate) fn requiring(&self, clause: ClauseId) -> &[RuleId] {
        self.requiring.get(clause.0).map_or(&[], Vec::as_slice)
    }

    /// The rules that state a hold point of this name.
    pub(crate) fn holding(&self, name: &str) -> &[RuleId] {
        self.holding.get(name).map_or(&[], Vec::as_slice)
    }

    /// The rules that bound a quantity by a fact.
    pub(crate) fn limiting_by(&self, quantity: QuantityId, bound: Bound, fact: FactId) -> &[RuleId] {
        self.limits_of_facts.get(&(quantity, bound, fact)).map_or(&[], Vec::as_slice)
    }

    /// The limits on a quantity at least as strict as a figure, the strictest first.
    pub(crate) fn limiting<'e>(
        &'e self,
        quantity: QuantityId,
        bound: Bound,
        figure: &'e Quantity,
    ) -> impl Iterator<Item = &'e End> {
        let ends = self.limits.get(&(quantity, bound)).map_or(&[][..], Vec::as_slice);
        ends.iter().take_while(move |end| bound.comparison().holds(end.figure.value(), figure.value()))
    }
}
