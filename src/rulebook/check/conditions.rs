//! Conditions: from words to cells.

use super::desk::Desk;
use super::gather::Stated;
use super::kinds::{fitting, phrase};
use super::mistake_kind::KindMistake;
use super::mistake_order::BookRemark;
use crate::diagnostic::Place;
use crate::rulebook::book::{Condition, FactId, FindingId, Kind, OptionId, Origin, SlotId, Test, TestKind};
use crate::rulebook::cells::{CellSet, Comparison};
use crate::rulebook::syntax::ast::{self, At, Compare, OrderWord, Sense, Value, Word};
use crate::rulebook::syntax::print_words;

impl Desk {
    /// Compiles a condition; `None` when a part of it is wrong. Every part is looked at.
    pub(super) fn condition<T>(
        &mut self,
        stated: &Stated<'_, T>,
        condition: &ast::Condition,
    ) -> Option<Condition> {
        match condition {
            ast::Condition::All(terms) => Some(Condition::All(self.terms(stated, terms)?)),
            ast::Condition::Any(terms) => Some(Condition::Any(self.terms(stated, terms)?)),
            ast::Condition::Not(inner) => Some(Condition::Not(Box::new(self.condition(stated, inner)?))),
            ast::Condition::Test(test) => self.single(stated, test),
        }
    }

    /// Compiles a test. `chosen S is not A` is the contrary of `chosen S is A`: it holds where nothing is chosen, and
    /// where a sequence goes without A.
    fn single<T>(&mut self, stated: &Stated<'_, T>, test: &At<ast::Test>) -> Option<Condition> {
        if let ast::Test::Chosen(slot, compare) = &test.value
            && let Compare::Is(Sense::IsNot, values) = &compare.value
        {
            let compare = At { value: Compare::Is(Sense::Is, values.clone()), span: compare.span };
            let test = At { value: ast::Test::Chosen(slot.clone(), compare), span: test.span };
            return self.test(stated, &test).map(|test| Condition::Not(Box::new(Condition::Test(test))));
        }
        self.test(stated, test).map(Condition::Test)
    }

    fn terms<T>(&mut self, stated: &Stated<'_, T>, terms: &[ast::Condition]) -> Option<Vec<Condition>> {
        let compiled: Vec<Option<Condition>> =
            terms.iter().map(|term| self.condition(stated, term)).collect();
        compiled.into_iter().collect()
    }

    fn test<T>(&mut self, stated: &Stated<'_, T>, test: &At<ast::Test>) -> Option<Test> {
        let words = print_words::test(&test.value);
        let place = stated.at(test.span);
        let kind = match &test.value {
            ast::Test::Bare(name) => self.bare(name, stated.at(name.span)),
            ast::Test::Compared(name, compare) => {
                let fact = self.fact(name, stated.at(name.span))?;
                self.no_option_fact(fact, stated.at(name.span))?;
                self.compared(stated, fact, compare, &words, &place)
            }
            ast::Test::Chosen(slot, compare) => {
                let id = self.slot(slot, stated.at(slot.span))?;
                self.chosen(stated, id, compare, &words)
            }
            ast::Test::ChosenWhose(slot, whose) => {
                let id = self.slot(slot, stated.at(slot.span))?;
                let whose = self.whose(stated, id, whose)?;
                Some(TestKind::ChosenWhose { slot: id, whose })
            }
        }?;
        Some(Test { kind, words, place })
    }

    fn bare(&mut self, name: &Word, place: Place) -> Option<TestKind> {
        if let Some(finding) = self.names.findings.get(&name.value) {
            return Some(TestKind::Finding(FindingId(finding)));
        }
        let fact = self.fact(name, place.clone())?;
        self.no_option_fact(fact, place.clone())?;
        let kind = self.book.facts.get(fact.0).map(|fact| fact.kind.clone())?;
        if kind != Kind::YesNo {
            self.error(&KindMistake::Bare { name: name.value.clone(), kind: phrase(&kind) }, place);
            return None;
        }
        Some(TestKind::Fact { fact, cells: CellSet::one(0) })
    }

    /// A fact that each option has of its own can be asked for in `whose` alone.
    pub(super) fn no_option_fact(&mut self, fact: FactId, place: Place) -> Option<()> {
        let fact = self.book.facts.get(fact.0)?;
        let Origin::Worked { per_option_of: Some(slot), .. } = &fact.origin else { return Some(()) };
        let slot = self.book.slots.get(slot.0).map_or_else(String::new, |slot| slot.name.clone());
        let mistake = KindMistake::OwnOfOption { name: fact.name.clone(), slot };
        self.error(&mistake, place);
        None
    }

    fn compared<T>(
        &mut self,
        stated: &Stated<'_, T>,
        fact: FactId,
        compare: &At<Compare>,
        words: &str,
        place: &Place,
    ) -> Option<TestKind> {
        match &compare.value {
            Compare::Known => {
                self.remark(&BookRemark::AsksForAnswer { words: words.to_owned() }, place.clone());
                Some(TestKind::Known(fact))
            }
            Compare::Unknown => {
                self.remark(&BookRemark::AsksForAnswer { words: words.to_owned() }, place.clone());
                Some(TestKind::Unknown(fact))
            }
            _ => {
                let cells = self.fact_cells(stated, fact, compare)?;
                Some(TestKind::Fact { fact, cells })
            }
        }
    }

    /// The cells of a fact in which a comparison with values holds.
    pub(super) fn fact_cells<T>(
        &mut self,
        stated: &Stated<'_, T>,
        fact: FactId,
        compare: &At<Compare>,
    ) -> Option<CellSet> {
        let known = self.book.facts.get(fact.0)?;
        let (name, kind) = (known.name.clone(), known.kind.clone());
        match (&kind, &compare.value) {
            (Kind::YesNo, Compare::Is(sense, values)) => {
                let words = ["yes".to_owned(), "no".to_owned()];
                self.word_cells(stated, (fact, &name, &kind), *sense, values, &words)
            }
            (Kind::OneOf(words), Compare::Is(sense, values)) => {
                self.word_cells(stated, (fact, &name, &kind), *sense, values, words)
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Is(sense, values)) => {
                let mut held = CellSet::EMPTY;
                for value in values {
                    let number = self.number(stated, &name, &kind, compare, value)?;
                    held = held.or(self.cells(fact, Comparison::Equal, &number));
                }
                Some(self.sense(fact, *sense, held))
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Ordered(order, value)) => {
                let years = matches!(order, OrderWord::Before | OrderWord::After);
                if years && matches!(kind, Kind::Measure { .. }) {
                    return self.unfit(stated, &name, &kind, compare);
                }
                let number = self.number(stated, &name, &kind, compare, value)?;
                Some(self.cells(fact, comparison(*order), &number))
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Between(low, high)) => {
                let from = self.number(stated, &name, &kind, compare, low);
                let to = self.number(stated, &name, &kind, compare, high);
                let (from, to) = (from?, to?);
                self.forwards(stated, (&from, low), (&to, high));
                let above = self.cells(fact, Comparison::AtLeast, &from);
                Some(above.and(self.cells(fact, Comparison::AtMost, &to)))
            }
            _ => self.unfit(stated, &name, &kind, compare),
        }
    }

    fn word_cells<T>(
        &mut self,
        stated: &Stated<'_, T>,
        (fact, name, kind): (FactId, &str, &Kind),
        sense: Sense,
        values: &[Value],
        words: &[String],
    ) -> Option<CellSet> {
        let mut held = CellSet::EMPTY;
        for value in values {
            let place = stated.at(value.word().span);
            let Value::Word(word) = value else {
                let mistake = KindMistake::Compare {
                    name: name.to_owned(),
                    kind: phrase(kind),
                    compare: value.word().value.clone(),
                    help: fitting(name, kind),
                };
                self.error(&mistake, place);
                return None;
            };
            held.insert(self.word_in(name, words, word, place)?);
        }
        Some(self.sense(fact, sense, held))
    }

    /// Turns the cells round for `is not`; the cell of a fact that does not arise then holds as well.
    fn sense(&self, fact: FactId, sense: Sense, held: CellSet) -> CellSet {
        match (sense, self.book.facts.get(fact.0)) {
            (Sense::IsNot, Some(fact)) => fact.cells.all().without(held),
            _ => held,
        }
    }

    /// Reads the figure that a measured fact is compared with.
    pub(super) fn number<T>(
        &mut self,
        stated: &Stated<'_, T>,
        name: &str,
        kind: &Kind,
        compare: &At<Compare>,
        value: &Value,
    ) -> Option<num_rational::BigRational> {
        match value {
            Value::Figure(word) => self.figure(name, kind, word, stated.at(word.span)),
            Value::Word(word) if self.names.facts.get(&word.value).is_some() => {
                let mistake = KindMistake::TwoFacts { name: name.to_owned(), other: word.value.clone() };
                self.error(&mistake, stated.at(word.span));
                None
            }
            Value::Word(_) => self.unfit(stated, name, kind, compare),
        }
    }

    /// A range must run upwards.
    pub(super) fn forwards<T>(
        &mut self,
        stated: &Stated<'_, T>,
        (from, low): (&num_rational::BigRational, &Value),
        (to, high): (&num_rational::BigRational, &Value),
    ) {
        if from > to {
            let (low, high) = (low.word(), high.word());
            let mistake = KindMistake::Backwards { from: low.value.clone(), to: high.value.clone() };
            self.error(&mistake, stated.at(low.span.to(high.span)));
        }
    }

    /// Says that a comparison does not fit a kind.
    pub(super) fn unfit<T, R>(
        &mut self,
        stated: &Stated<'_, T>,
        name: &str,
        kind: &Kind,
        compare: &At<Compare>,
    ) -> Option<R> {
        let place = stated.at(compare.span);
        let mistake = KindMistake::Compare {
            name: name.to_owned(),
            kind: phrase(kind),
            compare: place.text().split_whitespace().collect::<Vec<_>>().join(" "),
            help: fitting(name, kind),
        };
        self.error(&mistake, place);
        None
    }

    fn chosen<T>(
        &mut self,
        stated: &Stated<'_, T>,
        slot: SlotId,
        compare: &At<Compare>,
        words: &str,
    ) -> Option<TestKind> {
        let of = self.book.slots.get(slot.0)?;
        let (name, catalogue) = (of.name.clone(), of.catalogue);
        let options: Vec<String> =
            self.book.catalogues.get(catalogue.0)?.options.iter().map(|option| option.name.clone()).collect();
        let Compare::Is(Sense::Is, values) = &compare.value else {
            return self.unfit(stated, words, &Kind::OneOf(options), compare);
        };
        let mut named = Vec::new();
        for value in values {
            let word = value.word();
            named.push(self.word_in(&name, &options, word, stated.at(word.span))?);
        }
        Some(TestKind::Chosen { slot, options: named.into_iter().map(OptionId).collect() })
    }
}

/// The comparison that an order means.
pub(super) fn comparison(order: OrderWord) -> Comparison {
    match order {
        OrderWord::Over | OrderWord::After => Comparison::Over,
        OrderWord::Under | OrderWord::Before => Comparison::Under,
        OrderWord::AtLeast => Comparison::AtLeast,
        OrderWord::AtMost => Comparison::AtMost,
    }
}
