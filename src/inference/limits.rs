//! Limits: every figure shown, the strictest first, and floors that lie over ceilings.

use std::collections::BTreeMap;

use num_rational::BigRational;

use crate::inference::outcome::{Cause, Clash, LimitEntry, LimitOutcome, Mark};
use crate::inference::truth::Truth;
use crate::inference::zone::{Zone, joined};
use crate::rulebook::book::{
    Bound, CellValue, ColumnId, EffectKind, FactId, LimitValue, OptionId, QuantityId, SlotId,
};
use crate::units::{Dimension, Quantity};

/// Every limit of the zone, by quantity and bound.
pub(crate) fn of(zone: &Zone<'_>) -> Vec<LimitOutcome> {
    let mut by_quantity: BTreeMap<(QuantityId, Bound), Vec<LimitEntry>> = BTreeMap::new();
    for (cause, kind) in zone.shown() {
        let EffectKind::Limit { quantity, bound, value } = kind else { continue };
        if zone.case.departed.contains(&cause.rule) {
            continue;
        }
        let entries = entries(zone, &cause, *quantity, *bound, value);
        by_quantity.entry((*quantity, *bound)).or_default().extend(entries);
    }
    by_quantity
        .into_iter()
        .filter(|(_, entries)| !entries.is_empty())
        .map(|((quantity, bound), mut entries)| {
            entries.sort_by(|a, b| strictest_first(bound, a, b));
            LimitOutcome { quantity, bound, entries }
        })
        .collect()
}

/// Limits that hold only for an option that is not picked stand behind those that bind now.
fn strictest_first(bound: Bound, a: &LimitEntry, b: &LimitEntry) -> std::cmp::Ordering {
    let behind = |entry: &LimitEntry| matches!(entry.mark, Mark::IfChosen(_));
    let by_value = match bound {
        Bound::AtMost => a.value.value().cmp(b.value.value()),
        Bound::AtLeast => b.value.value().cmp(a.value.value()),
    };
    behind(a)
        .cmp(&behind(b))
        .then(by_value)
        .then(b.cause.truth.cmp(&a.cause.truth))
        .then(a.cause.rule.cmp(&b.cause.rule))
}

fn entries(
    zone: &Zone<'_>,
    cause: &Cause,
    quantity: QuantityId,
    bound: Bound,
    value: &LimitValue,
) -> Vec<LimitEntry> {
    match value {
        LimitValue::Literal(figure) => vec![LimitEntry {
            value: figure.clone(),
            cause: cause.clone(),
            mark: zone.mark(cause.rule),
            option: None,
        }],
        LimitValue::Fact(fact) => of_fact(zone, cause, quantity, bound, *fact).into_iter().collect(),
        LimitValue::Column { slot, column } => of_column(zone, cause, bound, *slot, *column),
    }
}

/// A limit that is a fact's value: the strict end of what was answered.
fn of_fact(
    zone: &Zone<'_>,
    cause: &Cause,
    quantity: QuantityId,
    bound: Bound,
    fact: FactId,
) -> Option<LimitEntry> {
    let (low, high) = zone.case.facts.of(fact)?.range.as_ref()?;
    let dimension = zone.book.quantities.get(quantity.0)?.dimension;
    let strict: &BigRational = match bound {
        Bound::AtMost => low,
        Bound::AtLeast => high,
    };
    let (truth, mark) = if low == high {
        (cause.truth, zone.mark(cause.rule))
    } else {
        (cause.truth.and(Truth::Unknown), Mark::SafeSide(vec![fact]))
    };
    Some(LimitEntry {
        value: Quantity::from_base(strict.clone(), dimension),
        cause: Cause { truth, ..cause.clone() },
        mark,
        option: None,
    })
}

/// A limit that is a column of what is chosen: one entry for each option still possible.
fn of_column(
    zone: &Zone<'_>,
    cause: &Cause,
    bound: Bound,
    slot: SlotId,
    column: ColumnId,
) -> Vec<LimitEntry> {
    let Some(chosen) = zone.open.chosen.get(slot.0) else { return Vec::new() };
    let catalogue = zone.book.slots.get(slot.0).and_then(|slot| zone.book.catalogues.get(slot.catalogue.0));
    let Some(catalogue) = catalogue else { return Vec::new() };
    let pick = zone.picked.picks.get(slot.0).copied().flatten();
    let mut found = Vec::new();
    for (option, chosen) in chosen.iter().enumerate().filter(|(_, chosen)| chosen.is_shown()) {
        let option = OptionId(option);
        let cell = catalogue.cell(option, column);
        let Some(value) = cell.and_then(|cell| strict_end(&cell.value, bound)) else { continue };
        let mark = match (chosen, pick) {
            (Truth::Yes, _) => zone.mark(cause.rule),
            (_, Some(picked)) if picked == option => joined(
                [zone.mark(cause.rule), Mark::Provisional].into_iter().filter(|mark| *mark != Mark::Certain),
            ),
            (_, Some(_)) => Mark::IfChosen(vec![(slot, option)]),
            (_, None) => Mark::SafeSide(zone.open_in_slot(slot)),
        };
        let truth = cause.truth.and(*chosen);
        found.push(LimitEntry { value, cause: Cause { truth, ..cause.clone() }, mark, option: Some(option) });
    }
    found
}

/// The end of a catalogue figure that asks the most.
pub(crate) fn strict_end(value: &CellValue, bound: Bound) -> Option<Quantity> {
    match (value, bound) {
        (CellValue::Measure(low, _), Bound::AtMost) => Some(low.clone()),
        (CellValue::Measure(_, high), Bound::AtLeast) => Some(high.clone()),
        (CellValue::Number(low, _), Bound::AtMost) => {
            Some(Quantity::from_base(low.clone(), Dimension::Number))
        }
        (CellValue::Number(_, high), Bound::AtLeast) => {
            Some(Quantity::from_base(high.clone(), Dimension::Number))
        }
        (CellValue::None | CellValue::YesNo(_) | CellValue::Words(_), _) => None,
    }
}

/// Floors over ceilings: of each quantity the most certain pair.
pub(crate) fn clashes(limits: &[LimitOutcome]) -> Vec<Clash> {
    let mut found: Vec<Clash> = Vec::new();
    for ceiling in limits.iter().filter(|limit| limit.bound == Bound::AtMost) {
        let floors =
            limits.iter().filter(|limit| limit.bound == Bound::AtLeast && limit.quantity == ceiling.quantity);
        let pairs = floors
            .flat_map(|floor| floor.entries.iter())
            .flat_map(|floor| ceiling.entries.iter().map(move |ceiling| (floor, ceiling)))
            .filter(|(floor, ceiling)| {
                floor.value.value() > ceiling.value.value() && can_meet(floor, ceiling)
            });
        let worst = pairs.max_by_key(|(floor, ceiling)| floor.cause.truth.and(ceiling.cause.truth));
        found.extend(worst.map(|(floor, below)| Clash {
            quantity: ceiling.quantity,
            floor: floor.clone(),
            ceiling: below.clone(),
        }));
    }
    found
}

/// Figures of two options that exclude each other never hold together.
fn can_meet(floor: &LimitEntry, ceiling: &LimitEntry) -> bool {
    match (floor.option, ceiling.option) {
        (Some(one), Some(other)) => one == other,
        _ => true,
    }
}

impl Clash {
    /// Whether both limits hold.
    pub fn truth(&self) -> Truth {
        self.floor.cause.truth.and(self.ceiling.cause.truth)
    }

    /// Whether both limits certainly hold.
    pub fn is_certain(&self) -> bool {
        self.truth() == Truth::Yes
    }
}
