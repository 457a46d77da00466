//! The formulae against published values: every row of `tests/published/vapour-checks.csv`, with its tolerance. A row
//! names its quantity, inputs, expected value, tolerance, source and how sure the value is. A row that no formula
//! answers must stand in the list of those with its reason, or the test fails.

mod air;
mod classes;
mod climate;
mod condensation;
mod facade;
mod film;
mod layers;
mod row;

use std::collections::BTreeMap;

use row::{Row, Wrong, rows};

/// The rows that no formula answers, and why.
const LEFT_OUT: [(&str, &str); 1] = [("D58", "the titles and scopes of two guides: nothing to work out")];

fn check(row: &Row) -> Option<Wrong> {
    let topics = [
        layers::check,
        classes::check,
        facade::check,
        air::check,
        condensation::check,
        film::check,
        climate::check,
    ];
    topics.iter().find_map(|check| check(row))
}

#[test]
#[expect(clippy::print_stdout, reason = "the count by certainty is for whoever runs the test")]
fn formulae_give_the_published_values() {
    let rows = rows(include_str!("../../published/vapour-checks.csv"));
    let mut wrong = Vec::new();
    let mut checked: BTreeMap<&str, usize> = BTreeMap::new();
    let mut left_out = Vec::new();
    for row in &rows {
        let Some(answer) = check(row) else {
            left_out.push(row.id.as_str());
            continue;
        };
        assert!(answer.compared > 0, "{}: nothing was compared", row.id);
        wrong.extend(answer.said.into_iter().map(|said| format!("{}: {said}", row.id)));
        *checked.entry(row.certainty.as_str()).or_default() += 1;
    }
    assert_eq!(wrong, [] as [String; 0]);
    assert_eq!(left_out, LEFT_OUT.map(|(id, _)| id));
    for (certainty, count) in &checked {
        println!("{count} rows checked, value {certainty}");
    }
    let run: usize = checked.values().sum();
    println!("{run} of {} rows checked", rows.len());
    assert!(rows.len() == 253 && run >= 230, "rows were lost: {run} of {}", rows.len());
}
