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
    let mut found: Vec<(BigRational, Vec<usize>, Margin)> = Vec::new();
    for zone in view.zones() {
        for (part, margin) in figures(view, zone).iter().filter_map(|figure| margin(view, figure)) {
            let alike = found.iter_mut().find(|(_, _, known)| {
                (&known.fact, &known.value, &known.threshold)
                    == (&margin.fact, &margin.value, &margin.threshold)
            });
            match alike {
                Some((_, zones, _)) => zones.push(zone),
                None => found.push((part, vec![zone], margin)),
            }
        }
    }
    found.sort_by(|(a, _, one), (b, _, other)| (a, &one.fact).cmp(&(b, &other.fact)));
    found.truncate(most);
    found.into_iter().map(|(_, zones, margin)| Margin { zones: view.codes(&zones), ..margin }).collect()
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

fn margin(view: View<'_>, figure: &Figure<'_>) -> Option<(BigRational, Margin)> {
    let (low, high) = figure.range;
    let cuts = figure.fact.cells.cuts.iter().enumerate().filter(|(_, cut)| !cut.is_zero());
    let nearest = cuts.map(|(index, cut)| {
        let away = if low <= cut && cut <= high {
            BigRational::zero()
        } else {
            (low - cut).abs().min((high - cut).abs())
        };
        (away / cut.abs(), index, cut)
    });
    let (part, index, cut) = nearest.min()?;
    let turns = turned_by(view, figure.id, index);
    if turns.is_empty() {
        return None;
    }
    let Kind::Measure { dimension, .. } = &figure.fact.kind else { return None };
    let margin = Margin {
        fact: figure.name.clone(),
        zones: Vec::new(),
        value: figure.shown.clone(),
        threshold: print(&Quantity::from_base(cut.clone(), *dimension), view.system()),
        percent: (&part * BigRational::from_integer(100.into())).floor().to_usize()?,
        turns,
    };
    Some((part, margin))
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
