//! What every part of this layer reads: the book, the survey, the facts, what was decided, and the short words.

use serde::Serialize;

use super::templates::Words;
use crate::inference::Outcome;
use crate::inference::outcome::{SlotOutcome, ZoneOutcome};
use crate::rulebook::book::{
    Book, Catalogue, Cell, CellValue, Citable, Citation, ColumnId, Effect, EffectKind, FactId, OptionId,
    RuleId, Slot, SlotId,
};
use crate::rulebook::words::spoken;
use crate::survey::Survey;
use crate::units::{self, System};
use crate::wall::facts::{FactAnswer, ZoneFacts};

/// The zones that something holds for.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(super) struct Extent {
    /// Their codes.
    pub(super) zones: Vec<String>,
    /// Whether they are all there are.
    pub(super) everywhere: bool,
}

impl Extent {
    pub(super) fn of(view: View<'_>, zones: &[usize]) -> Self {
        Self { zones: view.codes(zones), everywhere: zones.len() == view.zones().len() }
    }
}

/// Everything that is read, and nothing that is written.
#[derive(Debug, Clone, Copy)]
pub(super) struct View<'a> {
    pub(super) book: &'a Book,
    pub(super) survey: &'a Survey,
    pub(super) facts: &'a [ZoneFacts],
    pub(super) outcome: &'a Outcome,
    pub(super) words: &'a Words,
}

impl<'a> View<'a> {
    pub(super) fn system(self) -> System {
        self.survey.job.profile.system
    }

    pub(super) fn zone(self, zone: usize) -> Option<&'a ZoneOutcome> {
        self.outcome.zones.get(zone)
    }

    /// The zones by number.
    pub(super) fn zones(self) -> std::ops::Range<usize> {
        0..self.outcome.zones.len()
    }

    pub(super) fn code(self, zone: usize) -> String {
        self.survey.zones.get(zone).map(|zone| zone.code.clone()).unwrap_or_default()
    }

    pub(super) fn codes(self, zones: &[usize]) -> Vec<String> {
        zones.iter().map(|zone| self.code(*zone)).collect()
    }

    /// What is said of each zone, once where all say alike: `5 %`, or `5 % (Q1); 4 % (Q2 and Q3)`.
    pub(super) fn by_zone(self, said: &[(usize, String)]) -> String {
        let mut found: Vec<(&str, Vec<usize>)> = Vec::new();
        for (zone, words) in said {
            match found.iter_mut().find(|(known, _)| known == words) {
                Some((_, zones)) => zones.push(*zone),
                None => found.push((words, vec![*zone])),
            }
        }
        match found.as_slice() {
            [(words, _)] => (*words).to_owned(),
            several => {
                let each = several.iter().filter(|(words, _)| !words.is_empty());
                let each = each.map(|(words, zones)| {
                    format!("{words} ({})", self.words.listed(&self.codes(zones), "and"))
                });
                each.collect::<Vec<_>>().join("; ")
            }
        }
    }

    pub(super) fn fact_words(self, fact: FactId) -> String {
        self.book.facts.get(fact.0).map(|fact| spoken(&fact.name)).unwrap_or_default()
    }

    pub(super) fn fact_list(self, facts: &[FactId]) -> Vec<String> {
        facts.iter().map(|fact| self.fact_words(*fact)).collect()
    }

    pub(super) fn answer(self, zone: usize, fact: FactId) -> Option<&'a FactAnswer> {
        self.facts.get(zone)?.of(fact)
    }

    pub(super) fn slot(self, slot: SlotId) -> Option<&'a Slot> {
        self.book.slots.get(slot.0)
    }

    pub(super) fn slot_words(self, slot: SlotId) -> String {
        self.slot(slot).map(|slot| spoken(&slot.name)).unwrap_or_default()
    }

    pub(super) fn slot_outcome(self, zone: usize, slot: SlotId) -> Option<&'a SlotOutcome> {
        self.zone(zone)?.slots.iter().find(|outcome| outcome.slot == slot)
    }

    pub(super) fn catalogue(self, slot: SlotId) -> Option<&'a Catalogue> {
        self.book.catalogues.get(self.slot(slot)?.catalogue.0)
    }

    pub(super) fn option_title(self, slot: SlotId, option: OptionId) -> String {
        let options = self.catalogue(slot).map(|catalogue| &catalogue.options);
        options
            .and_then(|options| options.get(option.0))
            .map(|option| option.title.clone())
            .unwrap_or_default()
    }

    pub(super) fn rule_name(self, rule: RuleId) -> String {
        self.book.rules.get(rule.0).map(|rule| rule.name.clone()).unwrap_or_default()
    }

    pub(super) fn effect(self, rule: RuleId, effect: usize) -> Option<&'a EffectKind> {
        self.book.rules.get(rule.0)?.effects.get(effect).map(|Effect { kind, .. }| kind)
    }

    pub(super) fn source(self, citation: &Citation) -> Option<&'a Citable> {
        self.book.sources.get(citation.source.0)
    }

    /// A cell as it prints.
    pub(super) fn cell(self, slot: SlotId, option: OptionId, column: ColumnId) -> String {
        let cell = self.catalogue(slot).and_then(|catalogue| catalogue.cell(option, column));
        cell.map_or_else(|| self.words.of("no-value").to_owned(), |cell| self.cell_value(cell))
    }

    fn cell_value(self, cell: &Cell) -> String {
        match &cell.value {
            CellValue::None => self.words.of("no-value").to_owned(),
            CellValue::YesNo(true) => self.words.of("yes").to_owned(),
            CellValue::YesNo(false) => self.words.of("no").to_owned(),
            CellValue::Words(words) => words.clone(),
            CellValue::Number(low, high) if low == high => plain_number(low),
            CellValue::Number(low, high) => {
                format!("{} {} {}", plain_number(low), self.words.of("to"), plain_number(high))
            }
            CellValue::Measure(low, high) if low == high => units::print(low, self.system()),
            CellValue::Measure(low, high) => units::print_range(low, high, self.system()),
        }
    }
}

fn plain_number(number: &num_rational::BigRational) -> String {
    let quantity = units::Quantity::from_base(number.clone(), units::Dimension::Number);
    units::print_once(&quantity)
}
