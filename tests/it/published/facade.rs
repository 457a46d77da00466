//! Rain on facades, uptake and drying.

use num_rational::BigRational;
use num_traits::ToPrimitive;
use perpend::physics::{
    RainCriterion, RainLimit, Wet, Wetting, days_a_kilogram, depth_equal_to_coat, first_stage_flow,
    second_stage_days, uptake_after, uptake_from_seconds,
};

use super::row::{Row, Wrong, figures, numbers};

pub(super) fn check(row: &Row) -> Option<Wrong> {
    criterion(row).or_else(|| limits(row)).or_else(|| uptake(row)).or_else(|| drying(row))
}

fn criterion(row: &Row) -> Option<Wrong> {
    let criterion = match row.quantity.as_str() {
        name if name.starts_with("DIN 4108-3 rain protection") => RainCriterion::DIN_4108,
        name if name.starts_with("WTA 6-5") => RainCriterion::WTA_6_5,
        _ => return None,
    };
    let given = numbers(&row.inputs);
    let [w, sd] = given.as_slice() else { panic!("{}: {given:?}", row.id) };
    let missed = criterion.missed(w, sd, Wetting::Repellent).unwrap();
    let mut wrong = Wrong::default();
    wrong.same(missed.is_empty(), row.expected.starts_with("pass"));
    match row.expected.as_str() {
        "fail sd" => wrong.same(missed.contains(&RainLimit::AirLayer), true),
        "fail w" => wrong.same(missed, [RainLimit::Uptake]),
        "fail" => wrong.same(missed, [RainLimit::Product]),
        stated => wrong.near((w * sd).to_f64()?, *figures(stated).last()?, 0.0),
    }
    // A finish that takes rain up is no case for the criterion.
    wrong.same(criterion.missed(w, sd, Wetting::Absorbent), None::<Vec<RainLimit>>);
    Some(wrong)
}

fn limits(row: &Row) -> Option<Wrong> {
    let mut wrong = Wrong::default();
    let given = numbers(&row.expected);
    match row.id.as_str() {
        "K12" => {
            let old = RainCriterion::OF_1968;
            wrong.same([old.product(), old.uptake(), old.sd()].as_slice(), given.as_slice());
        }
        "K13" => {
            let din = RainCriterion::DIN_4108;
            wrong.same(Some(&din.product()), given.last());
            wrong.same(din.product_can_bind(), true);
            // The misprint could never bind.
            wrong.same(din.uptake() * din.sd() < BigRational::from_integer(2.into()), true);
        }
        _ => return None,
    }
    Some(wrong)
}

fn uptake(row: &Row) -> Option<Wrong> {
    match row.quantity.as_str() {
        "m = w sqrt(t)" => {
            let given = figures(&row.inputs.replace("m2 h0.5", ""));
            Some(row.near(uptake_after(given[0], *given.last()?)?))
        }
        "A (s) to w (h)" => {
            let mut wrong = Wrong::default();
            wrong.same(Some(&uptake_from_seconds(&numbers(&row.inputs)[0])), numbers(&row.expected).first());
            Some(wrong)
        }
        _ => None,
    }
}

fn drying(row: &Row) -> Option<Wrong> {
    let given = figures(&row.inputs);
    match row.quantity.as_str() {
        name if name.starts_with("Drying flux through coat") => {
            let difference = figures(name.split_once("dp=")?.1)[0];
            Some(row.near(first_stage_flow(row.input(), 0.0, difference)?.figure()))
        }
        "Days to lose 1 kg/m2 at constant flux" => {
            Some(row.near(days_a_kilogram(given[0], 0.0, given[1])?.figure()))
        }
        "Receding front time to X=0.12 m" => {
            let given = figures(&row.inputs.replace("kg/m3", ""));
            let [coat, boundary, mu, water, difference] = given.as_slice() else {
                panic!("{}: {given:?}", row.id)
            };
            let wet = Wet { mu: *mu, water: *water };
            Some(row.near(second_stage_days(wet, 0.12, coat + boundary, *difference)?.figure()))
        }
        "Depth of dry zone equal to the coat" => {
            let mut wrong = Wrong::default();
            let wanted = figures(&row.expected);
            let [mu, coats @ ..] = given.as_slice() else { panic!("{}: {given:?}", row.id) };
            wrong.same(coats.len(), wanted.len());
            for (coat, wanted) in coats.iter().zip(wanted) {
                wrong.near(depth_equal_to_coat(*coat, *mu)?.figure(), wanted, 0.0);
            }
            Some(wrong)
        }
        _ => None,
    }
}
