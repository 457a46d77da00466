//! Ranges through the vapour formulae: the truth stays inside, however the ends are written.

use num_rational::BigRational;
use num_traits::ToPrimitive;
use perpend::physics::{
    Interval, StillAir, permeance_in_series, sd_from_mu, sd_from_permeance, sd_in_series,
};
use proptest::prelude::*;

fn ratio(over: i64, under: i64) -> BigRational {
    BigRational::new(over.into(), under.into())
}

#[test]
fn the_more_open_end_gives_the_thinner_air_layer() {
    let permeance = Interval::between(ratio(100, 1), ratio(400, 1));
    let sd = permeance.through(|permeance| sd_from_permeance(permeance, &StillAir::DESIGN)).unwrap();
    assert_eq!((sd.low(), sd.high()), (&ratio(1, 2), &ratio(2, 1)));
}

#[test]
fn a_range_that_reaches_zero_has_no_answer() {
    let permeance = Interval::between(ratio(0, 1), ratio(400, 1));
    assert_eq!(permeance.through(|permeance| sd_from_permeance(permeance, &StillAir::DESIGN)), None);
}

#[test]
fn ends_that_floating_point_cannot_hold_move_outward() {
    let (low, high) = Interval::exactly(ratio(1, 3)).outward().unwrap();
    assert!(BigRational::from_float(low).unwrap() < ratio(1, 3));
    assert!(BigRational::from_float(high).unwrap() > ratio(1, 3));
    let (low, high) = Interval::exactly(ratio(1, 4)).outward().unwrap();
    assert_eq!((low.to_bits(), high.to_bits()), (0.25_f64.to_bits(), 0.25_f64.to_bits()));
}

prop_compose! {
    /// A range of positive values and one value inside it.
    fn range_and_inside()(one in 1..10_000_i64, other in 1..10_000_i64, part in 0..=100_i64)
        -> (Interval, BigRational) {
        let inside = ratio(one, 7) + (ratio(other, 7) - ratio(one, 7)) * ratio(part, 100);
        (Interval::between(ratio(one, 7), ratio(other, 7)), inside)
    }
}

proptest! {
    #[test]
    fn what_lies_inside_stays_inside(mu in range_and_inside(), thickness in range_and_inside()) {
        let sd = mu.0.through_with(&thickness.0, sd_from_mu).unwrap();
        prop_assert!(sd.holds(&sd_from_mu(&mu.1, &thickness.1).unwrap()));
    }

    #[test]
    fn layers_in_series_stay_inside(layers in prop::collection::vec(range_and_inside(), 1..6)) {
        let (ranges, inside): (Vec<_>, Vec<_>) = layers.into_iter().unzip();
        let permeance = Interval::through_all(&ranges, permeance_in_series).unwrap();
        let whole = permeance_in_series(&inside).unwrap();
        prop_assert!(permeance.holds(&whole));
        prop_assert!(inside.iter().all(|layer| whole <= *layer), "more open than its tightest layer");
        prop_assert!(Interval::through_all(&ranges, sd_in_series).unwrap().holds(&sd_in_series(&inside).unwrap()));
    }

    #[test]
    fn outward_ends_hold_the_exact_ones(over in any::<i64>(), under in 1..i64::MAX) {
        let exact = ratio(over, under);
        let (low, high) = Interval::exactly(exact.clone()).outward().unwrap();
        prop_assert!(BigRational::from_float(low).unwrap() <= exact);
        prop_assert!(BigRational::from_float(high).unwrap() >= exact);
        prop_assert!((high - low).abs() <= exact.to_f64().unwrap().abs() * 1e-15 + f64::MIN_POSITIVE);
    }
}
