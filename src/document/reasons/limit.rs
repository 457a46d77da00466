//! Limits with the rule that binds each, and what stands behind it.

use serde::Serialize;

use crate::document::view::{Extent, View};
use crate::inference::outcome::{LimitEntry, LimitOutcome};
use crate::inference::truth::Truth;
use crate::rulebook::book::{EffectKind, LimitValue, OptionId};

/// Limits in zones that hold them alike.
#[derive(Debug, Serialize)]
pub(super) struct LimitRow {
    quantity: String,
    measured: Option<String>,
    #[serde(flatten)]
    extent: Extent,
    limit: String,
    rule: String,
    certain: bool,
    /// The looser limits that stand behind it, each with the rules that set it.
    behind: Vec<String>,
}

/// Every limit with the rule that binds.
pub(super) fn limits(view: View<'_>) -> Vec<LimitRow> {
    let mut found: Vec<(Vec<usize>, LimitRow)> = Vec::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for limit in &outcome.limits {
            let Some(row) = limit_row(view, zone, limit) else { continue };
            let alike = found.iter_mut().find(|(_, known)| {
                (&known.quantity, &known.limit, &known.rule, known.certain, &known.behind)
                    == (&row.quantity, &row.limit, &row.rule, row.certain, &row.behind)
            });
            match alike {
                Some((zones, _)) => zones.push(zone),
                None => found.push((vec![zone], row)),
            }
        }
    }
    found.sort_by(|(_, a), (_, b)| (&a.quantity, &a.limit).cmp(&(&b.quantity, &b.limit)));
    found.into_iter().map(|(zones, row)| LimitRow { extent: Extent::of(view, &zones), ..row }).collect()
}

fn limit_row(view: View<'_>, zone: usize, limit: &LimitOutcome) -> Option<LimitRow> {
    let (binding, behind) = limit.entries.split_first()?;
    let mut behind: Vec<(String, String)> = behind
        .iter()
        .map(|entry| (view.bound_words(zone, limit.bound, entry), rule_words(view, entry)))
        .collect();
    behind.dedup();
    let alike = behind.chunk_by(|(one, _), (next, _)| one == next);
    let said = alike.filter_map(|alike| {
        let rules: Vec<&str> = alike.iter().map(|(_, rule)| rule.as_str()).collect();
        alike.first().map(|(words, _)| format!("{words} ({})", rules.join("; ")))
    });
    Some(LimitRow {
        quantity: view.quantity_words(limit.quantity),
        measured: view.book.quantities.get(limit.quantity.0).and_then(|quantity| quantity.measured.clone()),
        extent: Extent::default(),
        limit: view.bound_words(zone, limit.bound, binding),
        rule: view.rule_name(binding.cause.rule),
        certain: binding.cause.truth == Truth::Yes,
        behind: said.collect(),
    })
}

/// The rule of an entry, with the option that it speaks of.
fn rule_words(view: View<'_>, entry: &LimitEntry) -> String {
    let rule = view.rule_name(entry.cause.rule);
    match entry.option.and_then(|option| option_of(view, entry, option)) {
        Some(option) => format!("{rule}, {option}"),
        None => rule,
    }
}

fn option_of(view: View<'_>, entry: &LimitEntry, option: OptionId) -> Option<String> {
    match view.effect(entry.cause.rule, entry.cause.effect)? {
        EffectKind::Limit { value: LimitValue::Column { slot, .. }, .. } => {
            Some(view.option_title(*slot, option))
        }
        _ => None,
    }
}
