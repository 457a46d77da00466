//! How near the answers lie to the thresholds of the book.

use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};
use serde::Serialize;

use crate::document::view::View;
use crate::rulebook::book::{
    Condition, EffectKind, Fact, FactId, Kind, OptionId, OptionTest, Origin, Refused, TestKind,
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
        .flat_map(|zone| figures(view, zone).into_iter().filter_map(move |figure| near(zone, figure)))
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
    index: usize,
    cut: &'a BigRational,
}

impl Near<'_> {
    /// What figures of several zones must have in common to be told as one.
    fn order(&self) -> (&BigRational, &str, &str, &BigRational) {
        (&self.part, &self.figure.name, &self.figure.shown, self.cut)
    }
}

fn near(zone: usize, figure: Figure<'_>) -> Option<Near<'_>> {
    let (low, high) = figure.range;
    let cuts = figure.fact.cells.cuts.iter().enumerate().filter(|(_, cut)| !cut.is_zero());
    let parts = cuts.map(|(index, cut)| {
        let away = if low <= cut && cut <= high {
            BigRational::zero()
        } else {
            (low - cut).abs().min((high - cut).abs())
        };
        (away / cut.abs(), index, cut)
    });
    let (part, index, cut) = parts.min()?;
    Some(Near { zone, figure, part, index, cut })
}

/// A threshold that some rule or finding turns at.
fn margin(view: View<'_>, alike: &[Near<'_>]) -> Option<Margin> {
    let Near { figure, part, index, cut, .. } = alike.first()?;
    let turns = Some(turned_by(view, figure.id, *index)).filter(|turns| !turns.is_empty())?;
    let Kind::Measure { dimension, .. } = &figure.fact.kind else { return None };
    let zones: Vec<usize> = alike.iter().map(|near| near.zone).collect();
    Some(Margin {
        fact: figure.name.clone(),
        zones: view.codes(&zones),
        value: figure.shown.clone(),
        threshold: print(&Quantity::from_base((*cut).clone(), *dimension), view.system()),
        percent: (part * BigRational::from_integer(100.into())).floor().to_usize()?,
        turns,
    })
}

/// The rules and findings with a test that turns at a cut.
fn turned_by(view: View<'_>, fact: FactId, cut: usize) -> Vec<String> {
    let book = view.book;
    let mut found = Vec::new();
    for finding in &book.findings {
        if reads(&finding.when, fact, cut) {
            found.push(finding.name.clone());
        }
    }
    for rule in &book.rules {
        let whose = rule.effects.iter().any(|effect| match &effect.kind {
            EffectKind::Refuse { which: Refused::Whose(whose), .. } => {
                whose.tests.iter().any(|test| match test {
                    OptionTest::Fact { fact: own, cells } | OptionTest::OwnFact { fact: own, cells } => {
                        *own == fact && turns_at(*cells, cut)
                    }
                    OptionTest::Settled(_) => false,
                })
            }
            _ => false,
        });
        if whose || reads(&rule.when, fact, cut) {
            found.push(rule.name.clone());
        }
    }
    found
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
