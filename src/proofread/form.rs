//! Whether a requirement can be enforced: an order, one at a time, with its limit, its proof and its length in bounds.

mod contrary;
mod proof;
mod twice;

use super::found::Found;
use super::paper::{Kind, Passage};
use super::reading::Reading;
use super::sentence::{sentences, words};
use super::value;

/// More words than this in a sentence want a reason, and more than that are too many.
const LONG: usize = 30;
const TOO_LONG: usize = 45;
/// More hold points than this stop a job more often than it moves.
const MANY_HOLD_POINTS: usize = 12;
/// More orders than this in one paragraph are requirements that belong apart.
const ORDERS: usize = 2;

/// Goes through the requirements of a paper.
pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    let mut under_colon = false;
    for passage in &reading.paper.passages {
        if let Kind::Item { depth: 1, .. } = passage.kind {
            under_colon = reading.paper.words(passage).ends_with(':');
        }
        if reading.is_requirement(passage) {
            let is_point = under_colon && !matches!(passage.kind, Kind::Item { depth: 1, .. });
            if !is_point {
                order(reading, passage, found);
            }
            limits(reading, passage, found);
            length(reading, passage, found);
        }
    }
    hollow(reading, found);
    in_order(reading, found);
    twice::check(reading, found);
    contrary::check(reading, found);
    proof::check(reading, found);
}

/// `Verb …`, `Do not …`, `Subject: value`, `The Owner will …`.
fn order(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    let all = reading.paper.words(passage);
    let mut orders = 0;
    for sentence in sentences(all) {
        let others = || {
            reading.rules.list("others who act").any(|who| {
                sentence.strip_prefix("The ").unwrap_or(sentence).starts_with(who)
                    && sentence.contains(" will ")
            })
        };
        let is_value = || {
            sentence
                .split_once(": ")
                .is_some_and(|(_, value)| value.contains(|sign: char| sign.is_ascii_digit()))
        };
        if reading.opens_with_order(sentence) {
            orders += 1 + joined(reading, sentence);
        } else if !is_value() && !others() {
            let start: Vec<&str> = sentence.split(' ').take(5).collect();
            found.at(reading, "not-an-order", passage, format!("“{} …” is no order", start.join(" ")));
        }
    }
    if orders > ORDERS {
        found.at(reading, "several-requirements", passage, format!("{orders} orders stand in one paragraph"));
    }
}

/// Orders that follow in the same sentence behind a comma, `and`, `then` or a semicolon.
fn joined(reading: Reading<'_>, sentence: &str) -> usize {
    let parts = [", and ", "; ", ", then ", " and then "].into_iter();
    let count = parts.map(|join| {
        sentence
            .split(join)
            .skip(1)
            .filter(|part| {
                let part = part.strip_prefix("do not ").unwrap_or(part);
                let first = part.split([' ', ',']).next().unwrap_or_default();
                reading.rules.lists("verbs", first)
            })
            .count()
    });
    count.sum()
}

/// Limits without a figure, figures without a unit, figures without a direction, ranges upside down.
fn limits(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    let text = reading.paper.words(passage);
    for bound in ["not more than ", "not less than "] {
        for rest in text.split(bound).skip(1) {
            let next = rest.split(' ').next().unwrap_or_default();
            let figure = next.starts_with(|sign: char| sign.is_ascii_digit());
            if !figure {
                let message = format!("“{bound}{next}” gives no figure");
                found.at(reading, "limit-without-value", passage, message);
            } else if value::lacks_unit(reading.rules, rest)
                && !reading.rules.list("counted things").any(|thing| text.contains(thing))
            {
                let message = format!("“{bound}{next}” has no unit");
                found.at(reading, "limit-without-unit", passage, message);
            }
        }
    }
    for (low, high, said) in reading.rules.units.ranges(text) {
        if low > high {
            found.at(
                reading,
                "range-upside-down",
                passage,
                format!("“{said}” runs from the higher figure to the lower"),
            );
        }
    }
    for said in value::without_direction(reading.rules, text) {
        let message = format!("“{}”: exactly, at least or at most?", text.get(said).unwrap_or_default());
        found.at(reading, "limit-without-direction", passage, message);
    }
}

fn length(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    for sentence in sentences(reading.paper.words(passage)) {
        let count = told(reading, sentence);
        if count > TOO_LONG {
            found.at(reading, "endless-clause", passage, format!("a sentence of {count} words"));
        } else if count > LONG {
            found.at(reading, "long-clause", passage, format!("a sentence of {count} words"));
        }
    }
}

/// The words of a sentence; a figure in both systems, or a number, is read at a glance and counts for none.
fn told(reading: Reading<'_>, sentence: &str) -> usize {
    let lettered = |text: &str| words(text).filter(|word| word.contains(char::is_alphabetic)).count();
    let spare: usize = reading.rules.units.pairs(sentence).iter().map(|pair| lettered(&pair.said)).sum();
    lettered(sentence).saturating_sub(spare)
}

/// Articles, tables and lists with nothing or one thing in them.
fn hollow(reading: Reading<'_>, found: &mut Found<'_>) {
    let passages = &reading.paper.passages;
    for (at, passage) in passages.iter().enumerate() {
        let next = passages.get(at + 1).map(|next| &next.kind);
        match (&passage.kind, next) {
            (Kind::Heading { level, .. }, Some(Kind::Heading { level: below, .. })) if below <= level => {
                let message = format!("nothing stands under “{}”", reading.paper.words(passage));
                found.at(reading, "empty-article", passage, message);
            }
            (Kind::Heading { .. }, None | Some(Kind::End)) => {
                let message = format!("nothing stands under “{}”", reading.paper.words(passage));
                found.at(reading, "empty-article", passage, message);
            }
            (Kind::Item { depth, label }, next) if *depth > 1 && is_first(label) => {
                let again = |kind: &Kind| matches!(kind, Kind::Item { depth: below, .. } if below >= depth);
                if !next.is_some_and(again) {
                    found.at(reading, "list-of-one", passage, "a list of one point");
                }
            }
            _ => {}
        }
    }
    for table in reading.paper.tables.iter().filter(|table| table.rows.is_empty()) {
        let Some(passage) = passages.get(table.first) else { continue };
        let named = if table.caption.is_empty() { table.head.join(", ") } else { table.caption.clone() };
        found.at(reading, "empty-table", passage, format!("the table “{named}” has no row"));
    }
}

fn is_first(label: &str) -> bool {
    ["1", "A", "a"].contains(&label.trim_end_matches(['.', ')']))
}

/// Articles in the order of the work, hold points in the order of their numbers.
fn in_order(reading: Reading<'_>, found: &mut Found<'_>) {
    let order: Vec<&str> =
        reading.rules.parts().flat_map(|(_, articles)| articles).map(String::as_str).collect();
    let mut before: Option<(usize, &str)> = None;
    for passage in &reading.paper.passages {
        let Kind::Heading { level: 2, .. } = passage.kind else { continue };
        let title = reading.paper.words(passage);
        let Some(at) = order.iter().position(|known| *known == title) else { continue };
        if let Some((rank, earlier)) = before
            && at < rank
        {
            found.at(reading, "out-of-order", passage, format!("“{title}” stands behind “{earlier}”"));
        }
        before = Some((at, title));
    }
    for table in reading.tables_with("hold point heads") {
        let column = table.column("Hold point").unwrap_or(0);
        let mut last = 0;
        for (row, cells) in table.rows.iter().enumerate() {
            let Some(passage) = reading.cell(table, row, column) else { continue };
            let label = cells.get(column).map(String::as_str).unwrap_or_default();
            let number = label.strip_prefix("HP").and_then(|rest| rest.split(' ').next());
            let count = number.and_then(|digits| digits.parse().ok()).unwrap_or(0);
            if count <= last {
                found.at(
                    reading,
                    "out-of-order",
                    passage,
                    format!("“{label}” stands behind hold point {last}"),
                );
            }
            last = count;
            for (at, head) in table.head.iter().enumerate().filter(|(at, head)| {
                ["Released by", "Notice", "Form"].contains(&head.as_str())
                    && cells.get(*at).is_none_or(|cell| cell.trim().is_empty())
            }) {
                let Some(passage) = reading.cell(table, row, at) else { continue };
                let message = format!("“{label}” has nothing under “{head}”");
                found.at(reading, "hold-point-incomplete", passage, message);
            }
        }
        if table.rows.len() > MANY_HOLD_POINTS
            && let Some(passage) = reading.paper.passages.get(table.first)
        {
            let message = format!("{} hold points", table.rows.len());
            found.at(reading, "many-hold-points", passage, message);
        }
    }
}
