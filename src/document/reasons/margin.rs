//! How near the answers lie to the thresholds of the book.

use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};
use serde::Serialize;

use crate::document::view::View;
use crate::inference::plan::tests_of;
use crate::rulebook::book::{Condition, EffectKind, Fact, FactId, Kind, OptionTest, Refused, TestKind};
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

/// The nearest thresholds, nearest first.
pub(super) fn margins(view: View<'_>, most: usize) -> Vec<Margin> {
    let mut found: Vec<(BigRational, Vec<usize>, Margin)> = Vec::new();
    for (index, fact) in view.book.facts.iter().enumerate() {
        for zone in view.zones() {
            let Some((part, margin)) = margin(view, zone, FactId(index), fact) else { continue };
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

fn margin(view: View<'_>, zone: usize, id: FactId, fact: &Fact) -> Option<(BigRational, Margin)> {
    let answer = view.answer(zone, id)?;
    let (low, high) = answer.range.as_ref()?;
    let nearest = fact.cells.cuts.iter().enumerate().filter(|(_, cut)| !cut.is_zero()).map(|(index, cut)| {
        let away = if low <= cut && cut <= high {
            BigRational::zero()
        } else {
            (low - cut).abs().min((high - cut).abs())
        };
        (away / cut.abs(), index, cut)
    });
    let (part, index, cut) = nearest.min()?;
    // a year is no measure: two parts in a hundred of 1950 is forty years
    if matches!(fact.kind, Kind::Number { .. }) {
        return None;
    }
    let turns = turned_by(view, id, index);
    if turns.is_empty() {
        return None;
    }
    let percent = (&part * BigRational::from_integer(100.into())).floor().to_usize()?;
    let threshold = match &fact.kind {
        Kind::Measure { dimension, .. } => {
            print(&Quantity::from_base(cut.clone(), *dimension), view.system())
        }
        _ => cut.to_string(),
    };
    let margin = Margin {
        fact: view.fact_words(id),
        zones: Vec::new(),
        value: answer.shown.clone(),
        threshold,
        percent,
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
                    OptionTest::Fact { fact: own, cells } => *own == fact && turns_at(*cells, cut),
                    _ => false,
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
    tests_of(condition).iter().any(|test| match &test.kind {
        TestKind::Fact { fact: own, cells } => *own == fact && turns_at(*cells, cut),
        _ => false,
    })
}

/// Whether a set of cells changes at a cut: below it, on it and above it are three neighbouring cells.
fn turns_at(cells: CellSet, cut: usize) -> bool {
    let [below, on, above] = [2 * cut, 2 * cut + 1, 2 * cut + 2].map(|cell| cells.contains(cell));
    below != on || on != above
}
