//! Classes, the words for layers, and the scales of salts.

use num_rational::BigRational;
use num_traits::ToPrimitive;
use perpend::physics::classes::{
    ConcreteClass, CrackClass, Edition, FilmClass, GlossClass, GrainClass, LayerTerm, VapourClass,
    WaterClass, concrete_absorption_is_low,
};
use perpend::physics::salts::{Desalination, Ion, IonPercent, Load};

use super::row::{Row, Wrong, numbers};

pub(super) fn check(row: &Row) -> Option<Wrong> {
    coat(row)
        .or_else(|| conflict(row))
        .or_else(|| terms(row))
        .or_else(|| salts(row))
        .or_else(|| salt_mass(row))
}

fn coat(row: &Row) -> Option<Wrong> {
    let given = numbers(&row.inputs);
    let micrometres = || given.last().unwrap() / BigRational::from_integer(1_000_000.into());
    let class = match row.quantity.as_str() {
        "EN 1062-1 vapour class by sd" => VapourClass::of_sd(&given[0]).map(VapourClass::name),
        "EN 1062-1 vapour class by rate V" => VapourClass::of_rate(&given[0]).map(VapourClass::name),
        "EN 1062-1 liquid-water class" => WaterClass::of_w(&given[0]).map(WaterClass::name),
        "EN 1062-1 dry film thickness class" => FilmClass::of(&micrometres()).map(FilmClass::name),
        "EN 1062-1 crack-bridging, method A (static)" => CrackClass::of(&micrometres()).map(CrackClass::name),
        "EN 1062-1 gloss class" if row.inputs.starts_with("60deg") => {
            GlossClass::of(given.last(), None).map(GlossClass::name)
        }
        "EN 1062-1 gloss class" => GlossClass::of(None, given.last()).map(GlossClass::name),
        "EN 1504-2 vapour class" => ConcreteClass::of_sd(&given[0]).map(ConcreteClass::name),
        "EN 1062-1 grain size class" => {
            let class = GrainClass::of(&micrometres()).unwrap();
            return Some(same(&format!("{} {}", class.name(), class.word()), &row.expected));
        }
        _ => return None,
    };
    Some(same(class.unwrap(), &row.expected))
}

fn same(answer: &str, wanted: &str) -> Wrong {
    let mut wrong = Wrong::default();
    wrong.same(answer, wanted);
    wrong
}

fn conflict(row: &Row) -> Option<Wrong> {
    let given = numbers(&row.inputs.replace("m2 d", ""));
    match row.quantity.as_str() {
        "Conflict zone: rate and sd disagree" => {
            let rate = VapourClass::of_rate(&given[0]).unwrap();
            let sd = VapourClass::of_sd(given.last().unwrap()).unwrap();
            let worse = rate.worse(sd).name();
            Some(same(
                &format!("rate: {}, sd: {} -> report {worse} (worse)", rate.name(), sd.name()),
                &row.expected,
            ))
        }
        "EN 1504-2 capillary absorption" => {
            let limit = numbers(&row.expected)[0].clone();
            let below = &limit - BigRational::new(1.into(), 1_000_000.into());
            let mut wrong = Wrong::default();
            wrong.same(concrete_absorption_is_low(&below), Some(true));
            wrong.same(concrete_absorption_is_low(&limit), Some(false));
            Some(wrong)
        }
        _ => None,
    }
}

/// Holds a step of a scale to the marks written for it, such as `>0.5..<=10`: it is the answer just within each mark
/// and not just beyond it.
fn at_marks<Step: PartialEq + std::fmt::Debug>(
    wrong: &mut Wrong,
    marks: &str,
    step: &Step,
    answer: impl Fn(&BigRational) -> Step,
) {
    let hair = BigRational::new(1.into(), 1_000_000_000.into());
    for mark in marks.split("..") {
        let value = numbers(mark)[0].clone();
        let (within, beyond) = match mark.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.') {
            ">" => (&value + &hair, value),
            ">=" => (value.clone(), value - &hair),
            "<" => (&value - &hair, value),
            "<=" => (value.clone(), value + &hair),
            other => panic!("`{other}` in `{marks}`"),
        };
        wrong.same(&answer(&within) == step, true);
        wrong.same(&answer(&beyond) == step, false);
    }
}

fn terms(row: &Row) -> Option<Wrong> {
    if row.id != "C39" {
        return None;
    }
    let mut wrong = Wrong::default();
    let term = |edition| move |sd: &BigRational| LayerTerm::of_sd(sd, edition).unwrap().name();
    for part in row.expected.split("; ") {
        let (name, marks) = part.split_once(' ').unwrap();
        at_marks(&mut wrong, marks, &name, term(Edition::Of2018));
    }
    // The older words stand in the source cell of the row.
    for (name, marks) in [("open", "<=0.5"), ("inhibiting", ">0.5..<1500"), ("tight", ">=1500")] {
        at_marks(&mut wrong, marks, &name, term(Edition::Of2001));
    }
    Some(wrong)
}

fn salts(row: &Row) -> Option<Wrong> {
    let ion = match row.inputs.as_str() {
        "chloride" => Ion::Chloride,
        "nitrate" => Ion::Nitrate,
        "sulfate" => Ion::Sulphate,
        _ => return None,
    };
    let reading = |percent: &BigRational| IonPercent::new(ion, percent.clone()).unwrap();
    let marks = row.expected.split(" / ").map(|mark| match mark.split_once('-') {
        Some((low, high)) => format!(">={low}..<={high}"),
        None => mark.to_owned(),
    });
    let mut wrong = Wrong::default();
    let desalination = [Desalination::NotNeeded, Desalination::CaseByCase, Desalination::Urgent];
    let load = [Load::Low, Load::Medium, Load::High];
    for ((marks, desalination), load) in marks.zip(desalination).zip(load) {
        if row.quantity.starts_with("WTA 3-13-01") {
            at_marks(&mut wrong, &marks, &desalination, |percent| Desalination::of(&reading(percent)));
        } else {
            at_marks(&mut wrong, &marks, &load, |percent| Load::of(&reading(percent)));
        }
    }
    Some(wrong)
}

fn salt_mass(row: &Row) -> Option<Wrong> {
    if row.quantity != "Salt mass" {
        return None;
    }
    let given = numbers(&row.inputs.replace("..", " "));
    let wanted = numbers(&row.expected.replace(" .. ", " "));
    let [percent, depth, light, heavy] = given.as_slice() else { panic!("{}: {given:?}", row.id) };
    let salt = IonPercent::new(Ion::Nitrate, percent.clone()).unwrap();
    let mut wrong = Wrong::default();
    for (density, wanted) in [light, heavy].into_iter().zip(&wanted) {
        wrong.near(salt.on_face(depth, density).unwrap().to_f64()?, wanted.to_f64()?, 0.0);
    }
    wrong.same(wanted.len(), 2);
    Some(wrong)
}
