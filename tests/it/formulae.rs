//! Formulae fed with extremes: an answer is a number, or there is none. Classes rise and fall one way.

use num_rational::BigRational;
use num_traits::{One, ToPrimitive};
use perpend::physics::classes::{
    ConcreteClass, CrackClass, Edition, FilmClass, GrainClass, LayerTerm, RetarderClass, VapourClass,
    WaterClass, at_both_ends,
};
use perpend::physics::salts::{Desalination, Ion, IonPercent, Load, Ph};
use perpend::physics::{
    Bounds, Coursing, CupClimate, Interval, RainCriterion, StillAir, Wet, Wetting, air_permeability,
    days_a_kilogram, depth_equal_to_coat, first_stage_flow, hours_to_dry_an_hour_of_rain, practical_volume,
    second_stage_days, theoretical_spread, uptake_after, uptake_from_initial_rate, uptake_from_minutes,
    wet_film,
};
use proptest::prelude::*;

fn ratio(over: i64, under: i64) -> BigRational {
    BigRational::new(over.into(), under.into())
}

/// The place of a class in an order.
fn at(name: &str, order: &[&str]) -> usize {
    order.iter().position(|other| *other == name).unwrap()
}

#[test]
fn a_range_over_a_limit_has_two_classes() {
    let around = Interval::between(ratio(13, 100), ratio(15, 100));
    let classes = at_both_ends(&around, VapourClass::of_sd);
    assert_eq!(classes, Some((VapourClass::V1, VapourClass::V2)));
    let below_zero = Interval::between(ratio(-1, 100), ratio(15, 100));
    assert_eq!(at_both_ends(&below_zero, VapourClass::of_sd), None);
}

/// Reference, section 2: 22 perm is V2 at either figure for still air, and the border of V1 lies near 25 perm.
#[test]
fn twenty_two_perm_is_not_of_the_most_open_class() {
    use perpend::physics::sd_from_permeance;
    use perpend::units::{Dimension, Quantity};
    let class = |text: &str, air: &StillAir| {
        let permeance = Quantity::parse(text, Dimension::Permeance).unwrap();
        VapourClass::of_sd(&sd_from_permeance(permeance.value(), air).unwrap()).unwrap()
    };
    for air in [StillAir::DESIGN, StillAir::CUP_TEST] {
        assert_eq!([class("22 perm", &air), class("77 perm", &air)], [VapourClass::V2, VapourClass::V1]);
    }
    assert_eq!(class("24.9 perm", &StillAir::DESIGN), VapourClass::V2);
    assert_eq!(class("25 perm", &StillAir::DESIGN), VapourClass::V1);
}

#[test]
fn a_flow_over_a_desiccant_is_not_one_in_the_wet_cup() {
    let rate = ratio(150, 1);
    let sd = |climate: CupClimate| climate.sd_of(&rate, &StillAir::CUP_TEST).unwrap().to_f64().unwrap();
    // The same flow at a larger difference is a tighter coat: another class at the border.
    assert!(sd(CupClimate::DESICCANT) > 1.15 * sd(CupClimate::WET));
    let class = |climate: CupClimate| {
        VapourClass::of_sd(&climate.sd_of(&rate, &StillAir::CUP_TEST).unwrap()).unwrap()
    };
    assert_eq!([class(CupClimate::WET), class(CupClimate::DESICCANT)], [VapourClass::V1, VapourClass::V2]);
}

#[test]
fn the_unit_of_minutes_and_the_formula_agree() {
    use perpend::units::{Dimension, Quantity};
    let render = Quantity::parse("0.2 kg/(m2 min0.5)", Dimension::Uptake).unwrap();
    let by_formula = uptake_from_minutes(0.2).unwrap();
    assert!((render.value().to_f64().unwrap() - by_formula).abs() < 1e-15);
}

#[test]
fn loss_is_divided_by_and_not_added() {
    let volume = |loss| practical_volume(&ratio(120, 1), &ratio(12, 10), &ratio(8000, 1), &loss).unwrap();
    assert_eq!(volume(ratio(1, 10)), ratio(20, 1000));
    assert_eq!(volume(ratio(0, 1)) * ratio(11, 10), ratio(198, 10_000));
    for nothing in [ratio(1, 1), ratio(-1, 10)] {
        assert_eq!(practical_volume(&ratio(120, 1), &ratio(12, 10), &ratio(8000, 1), &nothing), None);
    }
}

proptest! {
    #[test]
    fn extremes_give_a_number_or_nothing(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
        let wet = Wet { mu: a, water: b };
        let compared = [
            first_stage_flow(a, b, c), days_a_kilogram(a, b, c), second_stage_days(wet, c, d, a),
            depth_equal_to_coat(a, b), hours_to_dry_an_hour_of_rain(a, b),
        ];
        prop_assert!(compared.into_iter().flatten().all(|one| one.figure().is_finite() && one.figure() >= 0.0));
        let numbers = [uptake_after(a, b), uptake_from_minutes(a), uptake_from_initial_rate(a)];
        prop_assert!(numbers.into_iter().flatten().all(f64::is_finite));
        if let Some(ph) = Ph::new(a).or_else(|| Ph::of_hydrogen(b)) {
            prop_assert!((0.0..=14.0).contains(&ph.number()) && ph.hydrogen() > 0.0 && ph.hydroxide() > 0.0);
        }
        let cup = CupClimate { celsius: a, humid: b, dry: c, ..CupClimate::WET };
        prop_assert!(cup.difference().is_none_or(|difference| difference.is_finite() && difference > 0.0));
    }

    #[test]
    fn still_air_is_as_permeable_as_it_should_be(t in -20.0..50.0_f64, p in 60_000.0..110_000.0_f64) {
        let air = air_permeability(t, p);
        prop_assert!(air > 1.5e-10 && air < 4.0e-10);
        prop_assert!(air_permeability(t + 0.1, p) > air && air_permeability(t, p + 10.0) < air);
    }

    #[test]
    fn bounds_hold_sums_products_and_quotients(
        a in -1e6..1e6_f64, b in 1e-6..1e6_f64, wide in 0.0..10.0_f64, part in 0.0..=1.0_f64,
    ) {
        let of = |value: f64| (Bounds::between(value, value + wide).unwrap(), (value + wide * part).min(value + wide));
        let ((x, inside_x), (y, inside_y)) = (of(a), of(b));
        let exact = |value: f64| BigRational::from_float(value).unwrap();
        let holds = |bounds: Bounds, value: BigRational| exact(bounds.low()) <= value && value <= exact(bounds.high());
        prop_assert!(holds(x + y, exact(inside_x) + exact(inside_y)));
        prop_assert!(holds(x - y, exact(inside_x) - exact(inside_y)));
        prop_assert!(holds(x * y, exact(inside_x) * exact(inside_y)));
        prop_assert!(holds(x.over(y).unwrap(), exact(inside_x) / exact(inside_y)));
        prop_assert!(y.over(x).is_none() == (x.low() <= 0.0));
    }

    #[test]
    fn classes_move_one_way(one in 0..2_000_000_i64, more in 1..1_000_000_i64) {
        let (low, high) = (ratio(one, 1000), ratio(one + more, 1000));
        let words = ["open", "braking", "inhibiting", "blocking", "tight"];
        let retarders = ["class I", "class II", "class III", "no retarder"];
        let places = |figure: &BigRational| [
            at(VapourClass::of_sd(figure).unwrap().name(), &["V1", "V2", "V3"]),
            at(VapourClass::of_rate(figure).unwrap().name(), &["V3", "V2", "V1"]),
            at(WaterClass::of_w(figure).unwrap().name(), &["W3", "W2", "W1"]),
            at(ConcreteClass::of_sd(figure).unwrap().name(), &["I", "II", "III"]),
            at(RetarderClass::of_permeance(figure).unwrap().name(), &retarders),
            at(LayerTerm::of_sd(figure, Edition::Of2018).unwrap().name(), &words),
            at(LayerTerm::of_sd(figure, Edition::Of2001).unwrap().name(), &words),
        ];
        let rises = places(&low).into_iter().zip(places(&high)).all(|(low, high)| low <= high);
        prop_assert!(rises, "{:?} {:?}", places(&low), places(&high));
        let metres = |figure: &BigRational| figure / BigRational::from_integer(1_000_000.into());
        let (low, high) = (metres(&low), metres(&high));
        let film = |film| FilmClass::of(film).unwrap().name();
        let grain = |grain| GrainClass::of(grain).unwrap().name();
        let crack = |crack| CrackClass::of(crack).unwrap().name();
        prop_assert!(film(&low) <= film(&high) && grain(&low) <= grain(&high) && crack(&low) <= crack(&high));
    }

    #[test]
    fn nothing_below_zero_has_a_class(one in 1..1_000_000_i64) {
        let below = ratio(-one, 1000);
        prop_assert_eq!(VapourClass::of_sd(&below), None);
        prop_assert_eq!(WaterClass::of_w(&below), None);
        prop_assert_eq!(FilmClass::of(&below), None);
        prop_assert_eq!(RainCriterion::DIN_4108.missed(&below, &ratio(1, 1), Wetting::Repellent), None);
        prop_assert_eq!(IonPercent::new(Ion::Chloride, below), None);
    }

    #[test]
    fn saving_the_stone_is_the_stricter_scale(ion in 0..3_usize, thousandths in 0..100_000_i64) {
        let ion = [Ion::Chloride, Ion::Nitrate, Ion::Sulphate][ion];
        let reading = IonPercent::new(ion, ratio(thousandths, 1000)).unwrap();
        // Whatever is a high load for a render is urgent for stone; what needs no treatment there is a low load here.
        prop_assert!(Load::of(&reading) != Load::High || Desalination::of(&reading) == Desalination::Urgent);
        prop_assert!(Desalination::of(&reading) != Desalination::NotNeeded || Load::of(&reading) == Load::Low);
    }

    #[test]
    fn a_thicker_wet_film_leaves_a_thicker_dry_one(solids in 1..100_i64, film in 1..1000_i64, thinner in 0..50_i64) {
        let (solids, thinner) = (ratio(solids, 100), ratio(thinner, 100));
        let dry = ratio(film, 1_000_000);
        let wet = wet_film(&dry, &solids, &thinner).unwrap();
        prop_assert!(wet >= dry);
        // What spreads as far as the wet film says leaves the dry one again.
        let spread = theoretical_spread(&solids, &dry).unwrap();
        prop_assert_eq!(spread * &wet, BigRational::one() + &thinner);
    }

    #[test]
    fn coursing_never_takes_area_away(l in 50..600_i64, h in 30..300_i64, j in 0..30_i64, e in 0..20_i64) {
        let millimetres = |figure| ratio(figure, 1000);
        let coursing = Coursing {
            length: millimetres(l), height: millimetres(h), joint: millimetres(j), recess: millimetres(e),
        };
        let texture = coursing.texture().unwrap();
        prop_assert!(texture >= BigRational::one());
        prop_assert_eq!(texture == BigRational::one(), e == 0);
    }
}
