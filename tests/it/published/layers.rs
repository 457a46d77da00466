//! Units, permeance, air layers and walls: the rows of a published table that exact formulae answer.

use num_rational::BigRational;
use num_traits::ToPrimitive;
use perpend::physics::{
    StillAir, air_permeability, layer_permeability, layer_permeance, mu_from_permeability,
    mu_from_resistivity, permeability_from_mu, permeance_from_rate, permeance_from_sd, permeance_in_series,
    permeance_share, rate_constant, rate_from_permeance, resistance, sd_from_permeance, sd_from_rate,
};
use perpend::units::{Dimension, Quantity};

use super::row::{Row, Wrong, numbers};

/// Compares our answers with the expected values, place by place.
pub(super) fn check(row: &Row) -> Option<Wrong> {
    let answers = answers(row)?;
    let expected = expected(&row.expected);
    let mut wrong = Wrong::default();
    wrong.same(answers.len(), expected.len());
    for (place, (answer, (value, last_digit))) in answers.iter().zip(&expected).enumerate() {
        wrong.near(answer.to_f64()?, *value, allowed(row, place, *value, *last_digit));
    }
    Some(wrong)
}

/// The last number of each part of an expected cell, and the worth of one in its last digit.
fn expected(text: &str) -> Vec<(f64, f64)> {
    let text =
        text.split_once("-> mu ").map_or(text.replace(" vs ", ";"), |(_, after)| after.replace(" / ", ";"));
    text.split(';')
        .map(|part| {
            let part = part.split(" (").next().unwrap();
            let number =
                numbers(part).last().unwrap_or_else(|| panic!("no number in `{part}`")).to_f64().unwrap();
            let digits = part.split_whitespace().find(|word| word.contains('.')).unwrap_or("");
            let decimals =
                digits.split('.').next_back().unwrap().chars().take_while(char::is_ascii_digit).count();
            (number, libm::pow(10.0, -f64::from(u8::try_from(decimals).unwrap())))
        })
        .collect()
}

fn quantity(text: &str, dimension: Dimension) -> BigRational {
    Quantity::parse(text, dimension).unwrap_or_else(|mistake| panic!("{mistake}")).value().clone()
}

fn permeance(text: &str) -> BigRational {
    quantity(text, Dimension::Permeance)
}

fn perm() -> BigRational {
    permeance("1 perm")
}

fn perm_inch() -> BigRational {
    quantity("1 perm-in", Dimension::Permeability)
}

fn length(text: &str) -> BigRational {
    quantity(text, Dimension::Length)
}

/// The still air that a row names by its figure.
fn air(text: &str) -> StillAir {
    let named = numbers(text.split_once("delta_a = ").unwrap().1)[0].clone();
    let wanted = named * quantity("1 kg/(Pa s m)", Dimension::Permeability);
    *StillAir::ALL.iter().find(|air| air.permeability() == wanted).unwrap()
}

/// What our formulae answer to a row, in the order of its expected values.
fn answers(row: &Row) -> Option<Vec<BigRational>> {
    units(row)
        .or_else(|| equivalents(row))
        .or_else(|| rates(row))
        .or_else(|| walls(row))
        .or_else(|| series(row))
}

fn units(row: &Row) -> Option<Vec<BigRational>> {
    let grain_flow = || quantity("1 grain/(h ft2)", Dimension::VapourFlow);
    let hourly = || quantity("1 g/(m2 h)", Dimension::VapourFlow);
    Some(vec![match row.quantity.as_str() {
        "Ratio perm23/perm0" => permeance("1 perm-23C") / perm(),
        "US perm to metric perm" => perm() / permeance("1 metric perm"),
        "Metric perm in SI" => permeance("1 metric perm"),
        "Perm-inch (23 degC)" => {
            quantity("1 perm-in-23C", Dimension::Permeability)
                / quantity("1 kg/(Pa s m)", Dimension::Permeability)
        }
        "Rep (reciprocal perm) in SI" => {
            resistance(&perm())? * BigRational::from_integer(1_000_000_000.into())
        }
        // A grain is what a flow of one grain brings to a square foot in an hour; 1 h is 1/24 d, 1 g is 1000 mg.
        "1 grain" => {
            grain_flow() * quantity("1 sq ft", Dimension::Area) * BigRational::new(1000.into(), 24.into())
        }
        "grain/(h ft2) to g/(h m2)" => grain_flow() / hourly(),
        "g/(h m2) to grain/(h ft2)" => hourly() / grain_flow(),
        "perm to SI permeance" => permeance(&row.inputs),
        "UK vapour resistance of a 1-perm layer" => resistance(&permeance(&row.inputs))?,
        _ => return None,
    }])
}

fn equivalents(row: &Row) -> Option<Vec<BigRational>> {
    let name = row.quantity.as_str();
    if name.starts_with("perm to sd") {
        return Some(vec![sd_from_permeance(&permeance(&row.inputs), &air(name))?]);
    }
    if name.starts_with("sd to perm") {
        return Some(vec![
            permeance_from_sd(&length(row.inputs.trim_start_matches("sd ")), &air(name))? / perm(),
        ]);
    }
    let schirmer = |celsius: f64| Some(vec![BigRational::from_float(air_permeability(celsius, 101_325.0))?]);
    match name {
        "UK vapour resistivity to mu" => {
            Some(vec![mu_from_resistivity(&numbers(&row.inputs)[0], &StillAir::DESIGN)?])
        }
        "EN 1015-19 / EN 998-1 air constant" => schirmer(numbers(&row.inputs)[0].to_f64()?),
        _ if name.starts_with("Water-vapour permeability of still air") => {
            schirmer(numbers(row.inputs.split_once("degC")?.0)[0].to_f64()?)
        }
        _ => None,
    }
}

fn rates(row: &Row) -> Option<Vec<BigRational>> {
    let difference = || quantity("1207.4 Pa", Dimension::Pressure);
    Some(vec![match row.quantity.as_str() {
        "DIN 53122 unit in US perm" => {
            let flow = quantity("1 g/(m2 d)", Dimension::VapourFlow);
            permeance_from_rate(&flow, &quantity("17.918 mmHg", Dimension::Pressure))? / perm()
        }
        "K in sd = K/V" => rate_constant(&StillAir::CUP_TEST, &difference()),
        "sd from V" => {
            let given = numbers(&row.inputs.replace("m2 d", ""));
            sd_from_rate(&given[0], given.last()?)?
        }
        "US perm to V at EN ISO 7783 wet-cup difference" => {
            rate_from_permeance(&permeance(&row.inputs), &difference())?
        }
        _ => return None,
    }])
}

fn walls(row: &Row) -> Option<Vec<BigRational>> {
    let given = numbers(&row.inputs);
    let mu = |permeability: &BigRational| mu_from_permeability(permeability, &StillAir::DESIGN);
    let through = |permeability: &BigRational, thickness| {
        Some(layer_permeance(permeability, &length(thickness))? / perm())
    };
    match row.quantity.as_str() {
        "4 in brick masonry handbook permeance" => {
            let layer = permeance("0.8 perm");
            let permeability = layer_permeability(&layer, &length("4 in"))?;
            let sd = sd_from_permeance(&layer, &StillAir::DESIGN)?;
            Some(vec![permeability.clone() / perm_inch(), sd, mu(&permeability)?])
        }
        "22 perm read as a 4 in wall" => {
            Some(vec![mu(&layer_permeability(&permeance("22 perm"), &length("0.1016 m"))?)?])
        }
        "22 perm-in" => {
            let brick = quantity("22 perm-in", Dimension::Permeability);
            Some(vec![mu(&brick)?, through(&brick, "4 in")?, through(&brick, "12 in")?])
        }
        name if name.starts_with("Brick by mu") => {
            let brick = permeability_from_mu(&given[0], &StillAir::DESIGN)?;
            Some(vec![brick.clone() / perm_inch(), through(&brick, "4 in")?, through(&brick, "12 in")?])
        }
        "Still air permeability" => {
            let handbook = quantity("120 perm-in", Dimension::Permeability);
            let si = handbook / quantity("1 kg/(Pa s m)", Dimension::Permeability);
            Some(vec![si, StillAir::DESIGN.permeability() / perm_inch()])
        }
        name if name.starts_with("Resistance of 0.36 m") => {
            let brick = quantity("0.11 mg/(m h Pa)", Dimension::Permeability);
            let layer = layer_permeance(&brick, &length("0.36 m"))?;
            let resistance = permeance("1 mg/(Pa h m2)") / layer.clone();
            Some(vec![resistance, sd_from_permeance(&layer, &StillAir::DESIGN)?])
        }
        name if name.starts_with("Concrete cup tests") => {
            let tested = row.expected.split(" e-12").next()?.split(" / ");
            let permeability =
                |figure| quantity(&format!("{figure}e-12 kg/(m s Pa)"), Dimension::Permeability);
            tested.map(|figure| mu(&permeability(figure))).collect()
        }
        _ => None,
    }
}

fn series(row: &Row) -> Option<Vec<BigRational>> {
    if row.quantity != "Series permeance" {
        return None;
    }
    let layers: Vec<_> = numbers(&row.inputs).into_iter().map(|figure| figure * perm()).collect();
    let whole = permeance_in_series(&layers)?;
    let share = permeance_share(layers.last()?, &whole)? * BigRational::from_integer(100.into());
    Some(vec![whole / perm(), share])
}

/// How far an answer may lie from what is expected: a part of it, or so much. A second figure in a row whose
/// tolerance is an amount is held to half of its own last digit, for the amount is in the unit of the first.
fn allowed(row: &Row, place: usize, value: f64, last_digit: f64) -> f64 {
    let figure = numbers(&row.tolerance).first().map_or(f64::NAN, |figure| figure.to_f64().unwrap());
    match row.tolerance.contains('%') {
        true => value.abs() * figure / 100.0,
        false if place == 0 => figure,
        false => last_digit / 2.0,
    }
}
