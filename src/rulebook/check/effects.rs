//! What rules do.

use super::desk::Desk;
use super::gather::Stated;
use super::kinds::phrase;
use super::mistake_kind::KindMistake;
use super::mistake_name::{NameMistake, listed, meant};
use super::mistake_shape::ShapeMistake;
use crate::diagnostic::Place;
use crate::rulebook::book::{
    Bound, ClauseId, EffectKind, Kind, LimitValue, OptionId, QuantityId, Refused, SlotId,
};
use crate::rulebook::syntax::ast::{At, Effect, LimitWords, RefusedWords, RuleDeclaration, Value, Word};
use crate::units::Dimension;

/// Seconds in an hour.
const HOUR: i32 = 3600;

type Said<'s, 'a> = &'s Stated<'a, RuleDeclaration>;

impl Desk {
    /// Compiles one effect.
    pub(super) fn effect(&mut self, stated: Said<'_, '_>, effect: &At<Effect>) -> Option<EffectKind> {
        match &effect.value {
            Effect::Limit { quantity, bound, value } => self.limit(stated, quantity, *bound, value),
            Effect::Require(clause) => self.clause(clause, stated.at(clause.span)).map(EffectKind::Require),
            Effect::Refuse(slot, which) => {
                let slot = self.slot(slot, stated.at(slot.span))?;
                let which = self.refused(stated, slot, which)?;
                Some(EffectKind::Refuse { slot, which })
            }
            Effect::Prefer { slot, better, over } => self.prefer(stated, slot, better, over.as_ref()),
            Effect::Stop { what, until, released_by } => Some(EffectKind::Stop {
                what: what.value.clone(),
                until: until.value.clone(),
                released_by: released_by.value.clone(),
            }),
            Effect::HoldPoint { name, before, released_by, notice, form } => {
                let before = self.stage(before, stated.at(before.span));
                let notice_hours = match notice {
                    Some(word) => Some(self.hours(word, stated.at(word.span))?),
                    None => None,
                };
                Some(EffectKind::HoldPoint {
                    name: name.value.clone(),
                    before: before?,
                    released_by: released_by.value.clone(),
                    notice_hours,
                    form: form.as_ref().map(|form| form.value.clone()),
                })
            }
            Effect::Caution { words, readers } => {
                Some(EffectKind::Caution { words: words.value.clone(), readers: readers.clone() })
            }
        }
    }

    /// A notice in whole hours.
    fn hours(&mut self, word: &Word, place: Place) -> Option<u32> {
        let duration = self.measured(word, Dimension::Duration, place.clone())?;
        let hours = duration.value() / num_rational::BigRational::from_integer(HOUR.into());
        let written = if hours.is_integer() { hours.to_integer().to_string() } else { "-".to_owned() };
        let count = Word { value: written, span: word.span };
        let hours = count.value.parse().ok().filter(|hours| (1..=10_000).contains(hours));
        if hours.is_none() {
            self.error(&KindMistake::Count { written: word.value.clone(), what: "hours" }, place);
        }
        hours
    }

    /// Finds a clause.
    pub(super) fn clause(&mut self, word: &Word, place: Place) -> Option<ClauseId> {
        let found = self.names.clauses.get(&word.value);
        if found.is_none() {
            let help = meant(&word.value, self.names.clauses.names(), || {
                format!("a clause is a file `clauses/ARTICLE/{}.md`", word.value)
            });
            self.error(&NameMistake::Clause { name: word.value.clone(), help }, place);
        }
        found.map(ClauseId)
    }

    fn limit(
        &mut self,
        stated: Said<'_, '_>,
        quantity: &Word,
        bound: Bound,
        value: &LimitWords,
    ) -> Option<EffectKind> {
        let id = self.quantity(quantity, stated.at(quantity.span));
        let value = match value {
            LimitWords::Value(Value::Figure(word)) => {
                let dimension = self.book.quantities.get(id?.0)?.dimension;
                LimitValue::Literal(self.measured(word, dimension, stated.at(word.span))?)
            }
            LimitWords::Value(Value::Word(word)) => {
                let fact = self.fact(word, stated.at(word.span))?;
                self.no_option_fact(fact, stated.at(word.span))?;
                let kind = self.book.facts.get(fact.0).map(|fact| fact.kind.clone())?;
                self.same_kind(stated, id?, word, &kind)?;
                LimitValue::Fact(fact)
            }
            LimitWords::Column { column, slot } => self.limit_column(stated, id?, column, slot)?,
        };
        Some(EffectKind::Limit { quantity: id?, bound, value })
    }

    fn limit_column(
        &mut self,
        stated: Said<'_, '_>,
        quantity: QuantityId,
        column: &Word,
        slot: &Word,
    ) -> Option<LimitValue> {
        let slot = self.slot(slot, stated.at(slot.span))?;
        let catalogue = self.table(slot)?;
        let Some(id) = catalogue.column(&column.value) else {
            return self.no_column(stated, &catalogue, column);
        };
        let kind = catalogue.columns.get(id.0).map(|column| column.kind.clone())?;
        self.same_kind(stated, quantity, column, &kind)?;
        Some(LimitValue::Column { slot, column: id })
    }

    /// A limit is of the kind of its quantity.
    fn same_kind(
        &mut self,
        stated: Said<'_, '_>,
        quantity: QuantityId,
        word: &Word,
        kind: &Kind,
    ) -> Option<()> {
        let of = self.book.quantities.get(quantity.0)?;
        let alike = match kind {
            Kind::Number { .. } => of.dimension == Dimension::Number,
            Kind::Measure { dimension, .. } => of.dimension == *dimension,
            Kind::YesNo | Kind::OneOf(_) | Kind::Text => false,
        };
        if alike {
            return Some(());
        }
        let mistake = KindMistake::Limit {
            value: word.value.clone(),
            kind: phrase(kind),
            quantity: of.name.clone(),
            wanted: of.dimension.phrase().to_owned(),
        };
        self.error(&mistake, stated.at(word.span));
        None
    }

    /// Finds an option of a slot's catalogue.
    pub(super) fn option<T>(
        &mut self,
        stated: &Stated<'_, T>,
        slot: SlotId,
        word: &Word,
    ) -> Option<OptionId> {
        let catalogue = self.book.catalogues.get(self.book.slots.get(slot.0)?.catalogue.0)?;
        let found = catalogue.option(&word.value);
        if found.is_none() {
            let known = || catalogue.options.iter().map(|option| option.name.as_str());
            let help = meant(&word.value, known(), || listed(known()));
            let (name, of) = (word.value.clone(), catalogue.name.clone());
            self.error(&NameMistake::Value { name, of, help }, stated.at(word.span));
        }
        found
    }

    fn options(&mut self, stated: Said<'_, '_>, slot: SlotId, words: &[Word]) -> Option<Vec<OptionId>> {
        let found: Vec<Option<OptionId>> = words.iter().map(|word| self.option(stated, slot, word)).collect();
        found.into_iter().collect()
    }

    fn refused(&mut self, stated: Said<'_, '_>, slot: SlotId, which: &RefusedWords) -> Option<Refused> {
        match which {
            RefusedWords::Named(words) => self.options(stated, slot, words).map(Refused::Named),
            RefusedWords::AllBut(words) => self.options(stated, slot, words).map(Refused::AllBut),
            RefusedWords::Whose(whose) => self.whose(stated, slot, whose).map(Refused::Whose),
        }
    }

    fn prefer(
        &mut self,
        stated: Said<'_, '_>,
        slot: &Word,
        better: &Word,
        over: Option<&Word>,
    ) -> Option<EffectKind> {
        let id = self.slot(slot, stated.at(slot.span))?;
        let best = self.option(stated, id, better);
        let pairs = if let Some(worse) = over {
            let worst = self.option(stated, id, worse);
            let (best, worst) = (best?, worst?);
            if best == worst {
                let mistake = ShapeMistake::OverItself { option: better.value.clone() };
                self.error(&mistake, stated.at(worse.span));
            }
            vec![(best, worst)]
        } else {
            let best = best?;
            let catalogue = self.book.catalogues.get(self.book.slots.get(id.0)?.catalogue.0)?;
            let others = (0..catalogue.options.len()).map(OptionId).filter(|option| *option != best);
            others.map(|other| (best, other)).collect()
        };
        Some(EffectKind::Prefer { slot: id, pairs })
    }

    /// Hold points of one name are the same hold point.
    pub(super) fn hold_points(&mut self) {
        let mut seen: std::collections::BTreeMap<String, (HoldPoint, Place)> =
            std::collections::BTreeMap::new();
        let mut mistakes = Vec::new();
        for effect in self.book.rules.iter().flat_map(|rule| &rule.effects) {
            let EffectKind::HoldPoint { name, before, released_by, notice_hours, form } = &effect.kind else {
                continue;
            };
            let point = (before.0, released_by.clone(), *notice_hours, form.clone());
            match seen.get(name) {
                Some((first, place)) if *first != point => {
                    let mistake = ShapeMistake::HoldPointDiffers { name: name.clone() };
                    let diagnostic = crate::diagnostic::Diagnostic::error(&mistake, effect.place.clone());
                    mistakes.push(diagnostic.and(place.clone(), "given otherwise here"));
                }
                Some(_) => {}
                None => {
                    seen.insert(name.clone(), (point, effect.place.clone()));
                }
            }
        }
        self.found.extend(mistakes);
    }
}

/// What a hold point is, beside its name.
type HoldPoint = (usize, String, Option<u32>, Option<String>);
