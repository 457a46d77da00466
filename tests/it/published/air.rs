//! Saturation, dew point, and the margin over it.

use perpend::physics::{DewPoint, Margin, Saturation, dew_point, humidity_for_margin};

use super::row::{Row, Wrong, figures};

pub(super) fn check(row: &Row) -> Option<Wrong> {
    saturation(row).or_else(|| three_dew_points(row)).or_else(|| worst_on_grid(row)).or_else(|| margin(row))
}

fn saturation(row: &Row) -> Option<Wrong> {
    match row.quantity.as_str() {
        "psat ISO 13788" => Some(row.near(Saturation::Iso13788.pressure(row.input())?)),
        "psat ASHRAE (psychrolib 2.5.0)" => Some(row.near(Saturation::HylandWexler.pressure(row.input())?)),
        "Trap: open-source test value psat(-20)" => {
            let stated = figures(&row.expected);
            let [library, standard, _] = stated.as_slice() else { panic!("{}: {stated:?}", row.id) };
            let ours = Saturation::Iso13788.pressure(row.input())?;
            let mut wrong = Wrong::default();
            wrong.near(ours, *standard, 0.0005);
            wrong.same((ours - library).abs() > 1.0, true);
            Some(wrong)
        }
        _ => None,
    }
}

fn three_dew_points(row: &Row) -> Option<Wrong> {
    let given = figures(&row.inputs);
    let mut wrong = Wrong::default();
    if row.quantity == "psychrolib published doc example" {
        return Some(row.near(dew_point(given[0], given[1], Saturation::HylandWexler)?.celsius()));
    }
    if row.quantity != "Dew point (psychrolib) / ISO 13788 / Magnus over water" {
        return None;
    }
    let stated = figures(&row.expected);
    wrong.same(stated.len(), 3);
    let formulae = [Saturation::HylandWexler, Saturation::Iso13788, Saturation::Magnus];
    for (formula, stated) in formulae.into_iter().zip(stated) {
        let point = dew_point(given[0], given[1], formula)?;
        wrong.near(point.celsius(), stated, row.tolerance());
        let frost = stated < 0.0 && formula != Saturation::Magnus;
        wrong.same(matches!(point, DewPoint::Frost(_)), frost);
    }
    Some(wrong)
}

/// Rows such as `0.0151 (40 degC, 30 %)`: the worst difference on the grid, and where it lies.
fn worst_on_grid(row: &Row) -> Option<Wrong> {
    let formula = match row.quantity.as_str() {
        "Max |ISO 13788 - psychrolib| on the grid" => Saturation::Iso13788,
        "Max |Magnus over water - psychrolib| on the grid" => Saturation::Magnus,
        _ => return None,
    };
    let below = row.inputs.starts_with("Td<0");
    let mut worst = (0.0, 0.0, 0.0);
    let mut count = 0;
    for line in include_str!("../../published/dewpoint-grid.csv").lines().skip(1) {
        let cells = figures(&line.replace(',', " "));
        if (cells[2] < 0.0) == below {
            count += 1;
            let error = (dew_point(cells[0], cells[1], formula)?.celsius() - cells[2]).abs();
            worst = if error > worst.0 { (error, cells[0], cells[1]) } else { worst };
        }
    }
    let stated = figures(&row.expected);
    let mut wrong = Wrong::default();
    wrong.near(worst.0, stated[0], row.tolerance());
    wrong.same([worst.1, worst.2].as_slice(), &stated[1..]);
    let points = row.inputs.split('(').nth(1).map(figures).unwrap_or_default();
    if let Some(points) = points.first() {
        wrong.same(f64::from(count), *points);
    }
    Some(wrong)
}

fn margin(row: &Row) -> Option<Wrong> {
    match row.quantity.as_str() {
        "RH at which t - Td = 3 K exactly (ISO 13788)" => {
            let t = row.input();
            let humidity = humidity_for_margin(t, t, Margin::ThreeKelvin, Saturation::Iso13788)?;
            let mut wrong = row.near(humidity);
            // And back: at that humidity the margin is just kept.
            let point = dew_point(t, humidity, Saturation::Iso13788)?;
            wrong.near(t - point.celsius(), Margin::ThreeKelvin.kelvin(), 1e-9);
            Some(wrong)
        }
        "5 degF in K" => Some(row.near(Margin::FiveFahrenheit.kelvin())),
        _ => None,
    }
}
