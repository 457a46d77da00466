//! The values that clauses print: limits, choices, cells and answers, zone by zone.

use super::note::Note;
use super::view::View;
use crate::inference::outcome::{LimitEntry, LimitOutcome, Mark};
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Bound, ColumnId, EffectKind, FactId, LimitValue, OptionId, Picks, QuantityId, SlotId,
};
use crate::rulebook::clause::{Parameter, ParameterKind};
use crate::rulebook::words::spoken;
use crate::units;
use crate::wall::facts::FactAnswer;

/// An option taken instead of the one printed for now, to say what it would bring.
pub(super) type Instead = Option<(SlotId, OptionId)>;

impl<'a> View<'a> {
    /// The value of a parameter in a zone; `None` for a limit that no rule sets there.
    pub(super) fn value(self, zone: usize, parameter: &Parameter, instead: Instead) -> Option<String> {
        match parameter.kind {
            ParameterKind::Limit(quantity) => self.limit(zone, quantity, instead),
            ParameterKind::Chosen(slot) => Some(self.chosen(zone, slot, instead)),
            ParameterKind::Column(slot, column) => Some(self.column(zone, slot, column, instead)),
            ParameterKind::Fact(fact) => Some(self.shown(zone, fact)),
        }
    }

    /// The words over a parameter's column in a table.
    pub(super) fn head(self, parameter: &Parameter) -> String {
        let named = match parameter.kind {
            ParameterKind::Column(slot, column) => {
                let columns = self.catalogue(slot).map(|catalogue| &catalogue.columns);
                columns.and_then(|columns| columns.get(column.0)).map(|column| column.title.clone())
            }
            _ => None,
        };
        super::words::upper_first(&named.unwrap_or_else(|| spoken(&parameter.name)))
    }

    /// A fact as it prints; words of its own where it is not known.
    pub(super) fn shown(self, zone: usize, fact: FactId) -> String {
        let shown = self.answer(zone, fact).map(|answer| answer.shown.as_str()).unwrap_or_default();
        if shown.is_empty() { self.words.of("not-known").to_owned() } else { shown.to_owned() }
    }

    fn options(self, zone: usize, slot: SlotId, instead: Instead) -> Vec<OptionId> {
        if let Some((other, option)) = instead
            && other == slot
        {
            return vec![option];
        }
        let Some(outcome) = self.slot_outcome(zone, slot) else { return Vec::new() };
        match self.slot(slot).map(|slot| slot.picks) {
            Some(Picks::InOrder) => outcome.sequence.clone(),
            _ => outcome.pick.into_iter().collect(),
        }
    }

    fn chosen(self, zone: usize, slot: SlotId, instead: Instead) -> String {
        let titles: Vec<_> =
            self.options(zone, slot, instead).iter().map(|option| self.option_title(slot, *option)).collect();
        match titles.as_slice() {
            [] => self.words.of("nothing-chosen").to_owned(),
            titles => titles.join(&format!(", {} ", self.words.of("then"))),
        }
    }

    fn column(self, zone: usize, slot: SlotId, column: ColumnId, instead: Instead) -> String {
        match self.options(zone, slot, instead).as_slice() {
            [] => self.words.of("nothing-chosen").to_owned(),
            [only] => self.cell(slot, *only, column),
            several => {
                let each = several.iter().map(|option| {
                    format!("{}: {}", self.option_title(slot, *option), self.cell(slot, *option, column))
                });
                each.collect::<Vec<_>>().join("; ")
            }
        }
    }

    fn limit(self, zone: usize, quantity: QuantityId, instead: Instead) -> Option<String> {
        let bounds = self.bounds(zone, quantity);
        let entries: Vec<_> =
            bounds.iter().filter_map(|limit| Some((limit.bound, entry(limit, instead)?))).collect();
        if let [(_, low), (_, high)] = entries.as_slice()
            && low.value.value() == high.value.value()
        {
            return Some(units::print(&low.value, self.system()));
        }
        let said: Vec<_> =
            entries.iter().map(|(bound, entry)| self.bound_words(zone, *bound, entry)).collect();
        if said.is_empty() {
            return self.waits(zone, quantity).then(|| self.words.of("not-known").to_owned());
        }
        Some(self.words.listed(&said, "and"))
    }

    /// Whether a rule that may apply limits a quantity to an answer that is not known yet.
    fn waits(self, zone: usize, quantity: QuantityId) -> bool {
        let truths = self.zone(zone).map_or(&[][..], |zone| &zone.decisions.rules);
        let rules = self.book.rules.iter().zip(truths).filter(|(_, truth)| truth.is_shown());
        let mut effects = rules.flat_map(|(rule, _)| &rule.effects);
        effects.any(|effect| match &effect.kind {
            EffectKind::Limit { quantity: bounded, value, .. } => {
                *bounded == quantity && !matches!(value, LimitValue::Literal(_))
            }
            _ => false,
        })
    }

    /// The limits of a quantity in few words: `min 5 °C`, `max 30 °C`, or `5 to 30 °C`; for an exact figure the figure.
    pub(super) fn short_limit(self, zone: usize, quantity: QuantityId) -> Option<String> {
        let bounds = self.bounds(zone, quantity).into_iter();
        let entries: Vec<_> = bounds.filter_map(|limit| Some((limit.bound, limit.binding()?))).collect();
        if let [(_, low), (_, high)] = entries.as_slice()
            && low.value.value() == high.value.value()
        {
            return Some(self.limit_value(zone, low));
        }
        if let [(_, low), (_, high)] = entries.as_slice() {
            return Some(units::print_range(&low.value, &high.value, self.system()));
        }
        let (bound, entry) = entries.first()?;
        let word = match bound {
            Bound::AtMost => "at-most-short",
            Bound::AtLeast => "at-least-short",
        };
        Some(format!("{} {}", self.words.of(word), self.limit_value(zone, entry)))
    }

    /// The limits of a quantity, floor first.
    fn bounds(self, zone: usize, quantity: QuantityId) -> Vec<&'a LimitOutcome> {
        let limits = self.zone(zone).map_or(&[][..], |zone| &zone.limits);
        let mut found: Vec<_> = limits.iter().filter(|limit| limit.quantity == quantity).collect();
        found.sort_by_key(|limit| std::cmp::Reverse(limit.bound));
        found
    }

    /// `not more than 300 psi (2.1 MPa)`.
    pub(super) fn bound_words(self, zone: usize, bound: Bound, entry: &LimitEntry) -> String {
        let word = match bound {
            Bound::AtMost => "at-most",
            Bound::AtLeast => "at-least",
        };
        format!("{} {}", self.words.of(word), self.limit_value(zone, entry))
    }

    /// A limit that is a fact's value prints as the fact does.
    fn limit_value(self, zone: usize, entry: &LimitEntry) -> String {
        let fact = match self.effect(entry.cause.rule, entry.cause.effect) {
            Some(EffectKind::Limit { value: LimitValue::Fact(fact), .. }) => self.answer(zone, *fact),
            _ => None,
        };
        let single = |answer: &&FactAnswer| answer.range.as_ref().is_some_and(|(low, high)| low == high);
        fact.filter(single)
            .map_or_else(|| units::print(&entry.value, self.system()), |answer| answer.shown.clone())
    }

    /// What stands in a sentence where zones differ.
    pub(super) fn in_table(self, parameter: &Parameter) -> String {
        let what = match parameter.kind {
            ParameterKind::Chosen(slot) => self.slot_words(slot),
            _ => self.words.of("value").to_owned(),
        };
        self.words.of("in-the-table").replace("{what}", &what)
    }

    /// What is to be said beside a limit that is stricter than the certain one.
    pub(super) fn limit_notes(self, zone: usize, quantity: QuantityId, instead: Instead) -> Vec<Note> {
        let mut notes = Vec::new();
        for limit in self.bounds(zone, quantity) {
            let Some(binding) = entry(limit, instead) else { continue };
            if binding.cause.truth == Truth::Yes || instead.is_some() {
                continue;
            }
            let certain = limit.certain().filter(|certain| certain.value != binding.value);
            let Some(why) = self.note(zone, &binding.mark) else { continue };
            notes.push(Note::Limit {
                quantity: self.quantity_words(quantity),
                why: Box::new(why),
                certain: certain.map(|certain| self.bound_words(zone, limit.bound, certain)),
            });
        }
        notes
    }

    pub(super) fn quantity_words(self, quantity: QuantityId) -> String {
        self.book.quantities.get(quantity.0).map(|quantity| spoken(&quantity.name)).unwrap_or_default()
    }
}

/// The limit to print: the strictest that goes with the option in question.
fn entry(limit: &LimitOutcome, instead: Instead) -> Option<&LimitEntry> {
    let Some(instead) = instead else { return limit.binding() };
    let goes_with = |entry: &&LimitEntry| match &entry.mark {
        Mark::IfChosen(options) => options.contains(&instead),
        _ => entry.option.is_none(),
    };
    limit.entries.iter().find(goes_with).or_else(|| limit.binding())
}
