//! Counts over two years of weather, each read from a table of the five columns that they need.

use std::sync::LazyLock;

use perpend::diagnostic::Source;
use perpend::physics::Saturation;
use perpend::physics::climate::{Cycle, Fit, RainRecord, Selection, Window, Year, read};

use super::row::{Row, Wrong, figures};

static COAST: LazyLock<Year> =
    LazyLock::new(|| year("703165", include_str!("../../published/weather/703165.csv")));
static INLAND: LazyLock<Year> =
    LazyLock::new(|| year("723170", include_str!("../../published/weather/723170.csv")));

fn year(name: &str, text: &str) -> Year {
    let (year, found) = read(&Source::new(name, text));
    year.unwrap_or_else(|| panic!("{found:?}"))
}

pub(super) fn check(row: &Row) -> Option<Wrong> {
    if !row.id.starts_with('W') {
        return None;
    }
    let year: &Year = if row.inputs.starts_with("703165TY") { &COAST } else { &INLAND };
    temperatures(row, year)
        .or_else(|| counts(row, year))
        .or_else(|| hours(row, year))
        .or_else(|| rain(row, year))
        .or_else(|| fits(row, year))
}

fn temperatures(row: &Row, year: &Year) -> Option<Wrong> {
    if row.quantity != "Hours; min/mean/max dry bulb" {
        return None;
    }
    let celsius: Vec<f64> = year.hours.iter().filter_map(|hour| hour.celsius).collect();
    let least = celsius.iter().copied().fold(f64::INFINITY, f64::min);
    let most = celsius.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let months = year.months()?;
    let of_hours = |of: fn(&perpend::physics::climate::MonthMean) -> f64| months.iter().map(of).sum::<f64>();
    #[expect(clippy::cast_precision_loss, reason = "a month has some hundred hours")]
    let whole = of_hours(|month| month.hours as f64);
    #[expect(clippy::cast_precision_loss, reason = "a month has some hundred hours")]
    let mean = of_hours(|month| month.celsius * month.hours as f64) / whole;
    let stated = figures(&row.expected);
    let mut wrong = Wrong::default();
    wrong.same(stated.len(), 4);
    for (answer, stated) in [whole, least, mean, most].into_iter().zip(stated) {
        wrong.near(answer, stated, row.tolerance());
    }
    Some(wrong)
}

fn same(answers: &[usize], row: &Row) -> Wrong {
    let mut wrong = Wrong::default();
    let stated = figures(&row.expected.replace(';', " "));
    let answers: Vec<f64> = answers.iter().map(|count| f64::from(u32::try_from(*count).unwrap())).collect();
    wrong.same(answers.as_slice(), stated.as_slice());
    wrong
}

fn counts(row: &Row, year: &Year) -> Option<Wrong> {
    let days = year.days();
    assert_eq!(days.left_out, 0);
    let cycles = |freezes, thaws| year.cycles(Cycle::new(freezes, thaws).unwrap());
    match row.quantity.as_str() {
        "Freeze-thaw days, min<0 and max>=0" => Some(same(&[days.freeze_thaw], row)),
        "Frost days (min<0); ice days (max<0)" => Some(same(&[days.frost, days.ice], row)),
        "Downward 0 degC crossings (prev>0, now<=0)" => Some(same(&[year.falls_through_freezing()], row)),
        "Cycles with hysteresis -1/+1, -2/+2, -3/+1" => {
            Some(same(&[cycles(-1.0, 1.0), cycles(-2.0, 2.0), cycles(-3.0, 1.0)], row))
        }
        _ => None,
    }
}

/// The window of `Hours 10<=T<=32, RH<=85, T-Td>=3, wind<=6.7 m/s`.
fn window(text: &str) -> Window {
    let stated = figures(&text.replace("T-Td", "").replace(['<', '>', '='], " "));
    match stated.as_slice() {
        [cold, warm, humidity, above_dew_point, wind @ ..] => Window {
            celsius: (*cold, *warm),
            humidity: *humidity,
            above_dew_point: *above_dew_point,
            wind: wind.first().copied(),
        },
        other => panic!("{text}: {other:?}"),
    }
}

/// The window that rows on starts speak of as "window".
const USUAL: &str = "Hours 10<=T<=32, RH<=85, T-Td>=3, wind<=6.7 m/s";

fn hours(row: &Row, year: &Year) -> Option<Wrong> {
    match row.quantity.as_str() {
        name if name.starts_with("Hours ") => Some(same(&[year.hours_within(&window(name))], row)),
        name if name.starts_with("Start hours: window hour, and T>=5") => {
            Some(same(&[year.starts(&window(USUAL), 5.0)], row))
        }
        _ => None,
    }
}

fn rain(row: &Row, year: &Year) -> Option<Wrong> {
    match row.quantity.as_str() {
        name if name.starts_with("Strict start hours") => {
            Some(same(&[year.dry_starts(&window(USUAL), 5.0)?], row))
        }
        "Precipitation missing hours" => {
            let mut wrong = Wrong::default();
            wrong.same(row.expected.starts_with("8011 of 8760"), true);
            wrong.same(year.rain_record(), RainRecord::TooThin { missing: 8011 });
            wrong.same(year.dry_starts(&window(USUAL), 5.0), None::<usize>);
            Some(wrong)
        }
        _ => None,
    }
}

/// Rows such as `n 5093; max 0.178; MAE 0.0444; bias -0.0065`.
fn fits(row: &Row, year: &Year) -> Option<Wrong> {
    let fit = fit(row, year)?;
    let stated = |name: &str| {
        let part = row.expected.split("; ").find_map(|part| part.strip_prefix(name));
        part.map(|part| figures(part)[0])
    };
    let mut wrong = Wrong::default();
    let hours = f64::from(u32::try_from(fit.hours).unwrap());
    wrong.near(hours, stated("n ").unwrap_or(8760.0), 0.0);
    wrong.near(fit.most, stated("max ")?, row.tolerance());
    wrong.near(fit.mean_error, stated("MAE ")?, row.tolerance());
    wrong.near(fit.bias, stated("bias ").or_else(|| stated("mean "))?, row.tolerance());
    Some(wrong)
}

fn fit(row: &Row, year: &Year) -> Option<Fit> {
    let formula = match row.quantity.as_str() {
        name if name.contains(" vs magnus ") || name.contains("Magnus over water") => Saturation::Magnus,
        name if name.contains(" vs iso ") => Saturation::Iso13788,
        _ => return None,
    };
    let selection = match row.quantity.as_str() {
        name if name.starts_with("Same, all 8760 h") => Selection::All,
        name if name.contains("T>=0,Td>=0") => Selection::AboveFreezing,
        name if name.contains(" Td<0,") => Selection::BelowFreezing,
        _ => Selection::AwayFromJoins,
    };
    year.fit(formula, selection)
}
