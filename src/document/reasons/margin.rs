//! How near the answers lie to the thresholds of the book.

use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};
use serde::Serialize;

use crate::document::view::View;
use crate::inference::decide::{Case, Eyes};
use crate::inference::outcome::Decisions;
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Book, Condition, EffectKind, Fact, FactId, Kind, OptionId, OptionTest, Origin, Refused, TestKind, Whose,
};
use crate::rulebook::cells::CellSet;
use crate::units::{Quantity, print};

/// An answer that lies near a threshold.
#[derive(Debug, Serialize)]
pub(super) struct Margin {
    fact: String,
    zones: Vec<String>,
    value: String,
    threshold: String,
    /// Distance in per cent of the threshold, rounded down.
    percent: usize,
    /// What would turn.
    turns: Vec<String>,
}

/// A fact's figure in one zone, or that of one option there.
struct Figure<'a> {
    id: FactId,
    fact: &'a Fact,
    name: String,
    shown: String,
    range: &'a (BigRational, BigRational),
}

/// The nearest thresholds, nearest first.
pub(super) fn margins(view: View<'_>, most: usize) -> Vec<Margin> {
    let mut near: Vec<Near<'_>> = view
        .zones()
        .flat_map(|zone| figures(view, zone).into_iter().filter_map(move |figure| near(view, zone, figure)))
        .collect();
    near.sort_by(|one, other| one.order().cmp(&other.order()));
    let mut alike: Vec<&[Near<'_>]> = near.chunk_by(|one, other| one.order() == other.order()).collect();
    alike.sort_by_key(|alike| alike.first().map(|first| (&first.part, &first.figure.name, first.zone)));
    alike.into_iter().filter_map(|alike| margin(view, alike)).take(most).collect()
}

/// Every figure of a zone. A year is no measure: one part in a hundred of 1950 is twenty years.
fn figures(view: View<'_>, zone: usize) -> Vec<Figure<'_>> {
    let mut found = Vec::new();
    let facts = view.book.facts.iter().enumerate().map(|(index, fact)| (FactId(index), fact));
    for (id, fact) in facts.filter(|(_, fact)| matches!(fact.kind, Kind::Measure { .. })) {
        let Some(answer) = view.answer(zone, id) else { continue };
        let name = view.fact_words(id);
        if let Some(range) = &answer.range {
            found.push(Figure { id, fact, name, shown: answer.shown.clone(), range });
            continue;
        }
        let Origin::Worked { per_option_of: Some(slot), .. } = fact.origin else { continue };
        let own = answer.ranges_by_option.iter().zip(&answer.shown_by_option).enumerate();
        found.extend(own.filter_map(|(option, (range, shown))| {
            let name = format!("{name}, {}", view.option_title(slot, OptionId(option)));
            Some(Figure { id, fact, name, shown: shown.clone(), range: range.as_ref()? })
        }));
    }
    found
}

/// A figure with the threshold next to it.
struct Near<'a> {
    zone: usize,
    figure: Figure<'a>,
    /// Distance as a part of the threshold.
    part: BigRational,
    cut: &'a BigRational,
    turns: Vec<String>,
}

impl Near<'_> {
    /// What figures of several zones must have in common to be told as one.
    fn order(&self) -> (&BigRational, &str, &str, &BigRational, &[String]) {
        (&self.part, &self.figure.name, &self.figure.shown, self.cut, &self.turns)
    }
}

/// The nearest threshold at which something turns.
fn near<'a>(view: View<'_>, zone: usize, figure: Figure<'a>) -> Option<Near<'a>> {
    let (low, high) = figure.range;
    let cuts = figure.fact.cells.cuts.iter().enumerate().filter(|(_, cut)| !cut.is_zero());
    let mut parts: Vec<(BigRational, usize, &BigRational)> = cuts
        .map(|(index, cut)| {
            let away = if low <= cut && cut <= high {
                BigRational::zero()
            } else {
                (low - cut).abs().min((high - cut).abs())
            };
            (away / cut.abs(), index, cut)
        })
        .collect();
    parts.sort();
    let free = Freed::of(view, zone, figure.id)?;
    let (part, cut, turns) = parts.into_iter().find_map(|(part, index, cut)| {
        let turns = free.turned_at(index);
        (!turns.is_empty()).then_some((part, cut, turns))
    })?;
    Some(Near { zone, figure, part, cut, turns })
}

fn margin(view: View<'_>, alike: &[Near<'_>]) -> Option<Margin> {
    let Near { figure, part, cut, turns, .. } = alike.first()?;
    let Kind::Measure { dimension, .. } = &figure.fact.kind else { return None };
    let zones: Vec<usize> = alike.iter().map(|near| near.zone).collect();
    Some(Margin {
        fact: figure.name.clone(),
        zones: view.codes(&zones),
        value: figure.shown.clone(),
        threshold: print(&Quantity::from_base((*cut).clone(), *dimension), view.system()),
        percent: (part * BigRational::from_integer(100.into())).floor().to_usize()?,
        turns: turns.clone(),
    })
}

/// A zone as it is but for one fact, which may have any answer: a rule that does not hold even so, as one of another
/// city, does not turn on that fact here.
struct Freed<'a> {
    book: &'a Book,
    fact: FactId,
    case: Case<'a>,
    decisions: Decisions,
}

impl<'a> Freed<'a> {
    fn of(view: View<'a>, zone: usize, fact: FactId) -> Option<Self> {
        let mut decisions = view.zone(zone)?.decisions.clone();
        if let Some(possible) = decisions.facts.get_mut(fact.0) {
            *possible = view.book.facts.get(fact.0)?.cells.any_answer();
        }
        Some(Self { book: view.book, fact, case: Case::new(view.facts.get(zone)?, &[]), decisions })
    }

    /// The rules and findings with a test that turns at a cut.
    fn turned_at(&self, cut: usize) -> Vec<String> {
        let findings = self.book.findings.iter().filter(|finding| self.turns(&finding.when, cut));
        let rules = self.book.rules.iter().filter(|rule| {
            let mut refusals = rule.effects.iter().filter_map(|effect| match &effect.kind {
                EffectKind::Refuse { which: Refused::Whose(whose), .. } => Some(whose),
                _ => None,
            });
            let by_option = refusals.any(|whose| self.compares(whose, cut));
            (by_option && self.holds(&rule.when) != Truth::No) || self.turns(&rule.when, cut)
        });
        findings.map(|finding| &finding.name).chain(rules.map(|rule| &rule.name)).cloned().collect()
    }

    fn turns(&self, condition: &Condition, cut: usize) -> bool {
        reads(condition, self.fact, cut) && self.holds(condition) == Truth::Unknown
    }

    fn holds(&self, condition: &Condition) -> Truth {
        Eyes { case: self.case, decisions: &self.decisions }.holds(condition)
    }

    fn compares(&self, whose: &Whose, cut: usize) -> bool {
        whose.tests.iter().any(|test| match test {
            OptionTest::Fact { fact, cells } | OptionTest::OwnFact { fact, cells } => {
                *fact == self.fact && turns_at(*cells, cut)
            }
            OptionTest::Settled(_) => false,
        })
    }
}

fn reads(condition: &Condition, fact: FactId, cut: usize) -> bool {
    condition.tests().iter().any(|test| match &test.kind {
        TestKind::Fact { fact: own, cells } => *own == fact && turns_at(*cells, cut),
        _ => false,
    })
}

/// Whether a set of cells changes at a cut: below it, on it and above it are three neighbouring cells.
fn turns_at(cells: CellSet, cut: usize) -> bool {
    let [below, on, above] = [2 * cut, 2 * cut + 1, 2 * cut + 2].map(|cell| cells.contains(cell));
    below != on || on != above
}
