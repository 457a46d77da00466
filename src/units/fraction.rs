//! A fraction that nobody brings to its lowest terms: rounding, comparing and printing ask for no common divisor, and
//! looking for one is most of the work on exact values.

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, Zero};

/// An exact value, in any terms.
#[derive(Debug, Clone)]
pub(super) struct Fraction {
    over: BigInt,
    /// Greater than zero.
    under: BigInt,
}

/// The logarithm of two to the base ten, as a fraction that is a little too small.
const LOG_TWO: (i64, i64) = (30_102, 100_000);

impl From<&BigRational> for Fraction {
    fn from(value: &BigRational) -> Self {
        Self { over: value.numer().clone(), under: value.denom().clone() }
    }
}

impl Fraction {
    /// This times a factor.
    pub(super) fn times(self, factor: &BigRational) -> Self {
        Self { over: self.over * factor.numer(), under: self.under * factor.denom() }
    }

    /// This by a factor, which must be greater than zero, as those of units are.
    pub(super) fn divided_by(self, factor: &BigRational) -> Self {
        Self { over: self.over * factor.denom(), under: self.under * factor.numer() }
    }

    /// This and a little more, or less.
    pub(super) fn plus(self, more: &BigRational) -> Self {
        if more.is_zero() {
            return self;
        }
        let over = self.over * more.denom() + more.numer() * &self.under;
        Self { over, under: self.under * more.denom() }
    }

    /// In lowest terms.
    pub(super) fn reduced(self) -> BigRational {
        BigRational::new(self.over, self.under)
    }

    pub(super) fn is_zero(&self) -> bool {
        self.over.is_zero()
    }

    /// Whether it lies at or beyond one, on either side of zero.
    pub(super) fn reaches_one(&self) -> bool {
        self.over.magnitude() >= self.under.magnitude()
    }

    /// Which of two lies further from zero.
    pub(super) fn compare_size(&self, other: &Self) -> Ordering {
        (self.over.magnitude() * other.under.magnitude())
            .cmp(&(other.over.magnitude() * self.under.magnitude()))
    }

    /// The power of ten of the first digit: 2 for 345, -2 for 0.07; 0 for 0.
    pub(super) fn magnitude(&self) -> i32 {
        if self.is_zero() {
            return 0;
        }
        // With n and d bits, the value lies between 2^(n - d - 1) and 2^(n - d + 1): its first digit has the power of
        // ten of one end or lies a step above.
        let bits = |number: &BigInt| i64::try_from(number.bits()).unwrap_or(i64::MAX);
        let low = (bits(&self.over) - bits(&self.under) - 1) * LOG_TWO.0 / LOG_TWO.1 - 1;
        let mut power = i32::try_from(low).unwrap_or(i32::MAX);
        loop {
            let (over, under) = self.in_steps(power + 1);
            if over.magnitude() < under.magnitude() {
                return power;
            }
            power += 1;
        }
    }

    /// The nearest whole number of steps of a power of ten; a half goes away from zero.
    fn steps(&self, power: i32) -> BigInt {
        let (over, under) = self.in_steps(power);
        let nearest: BigInt = (over.abs() * 2 + &under) / (under * 2);
        if over.is_negative() { -nearest } else { nearest }
    }

    /// Whether it is a whole number of steps of a power of ten.
    pub(super) fn is_whole_in(&self, power: i32) -> bool {
        let (over, under) = self.in_steps(power);
        (over % under).is_zero()
    }

    /// Whether rounding to a power of ten moves it by no more than one part in so many.
    pub(super) fn hardly_moved(&self, power: i32, parts: i64) -> bool {
        let (over, under) = self.in_steps(power);
        let moved: BigInt = self.steps(power) * under - &over;
        moved.abs() * parts <= over.abs()
    }

    /// Rounded to a power of ten and written out with the digits that it shows.
    pub(super) fn shown(&self, power: i32) -> String {
        if self.is_zero() {
            return "0".to_owned();
        }
        let places = usize::try_from(-power).unwrap_or(0);
        let steps = self.steps(power);
        let sign = if steps.is_negative() { "-" } else { "" };
        let zeros = usize::try_from(power).unwrap_or(0);
        let zeros = if steps.is_zero() { 0 } else { zeros };
        let digits = format!("{:0>width$}{:0>zeros$}", steps.magnitude().to_string(), "", width = places + 1);
        let (whole, part) = digits.split_at_checked(digits.len() - places).unwrap_or((&digits, ""));
        if part.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") }
    }

    /// How many steps of a power of ten it is, as a fraction.
    fn in_steps(&self, power: i32) -> (BigInt, BigInt) {
        let scale = ten(power.unsigned_abs());
        if power < 0 {
            (&self.over * scale, self.under.clone())
        } else {
            (self.over.clone(), &self.under * scale)
        }
    }
}

/// Ten to a whole power.
pub(super) fn ten(power: u32) -> BigInt {
    10u64.checked_pow(power).map_or_else(|| BigInt::from(10).pow(power), BigInt::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::figure::Figure;

    fn fraction(text: &str) -> Fraction {
        // Out of its lowest terms, as values come here.
        Figure::read(text).unwrap().value.times(&BigRational::new_raw(6.into(), 6.into()))
    }

    #[test]
    fn the_first_digit_is_found_on_both_sides_of_every_power_of_ten() {
        for (text, power) in
            [("345", 2), ("999.9", 2), ("1000", 3), ("0.07", -2), ("1", 0), ("0.0999", -2), ("-5", 0)]
        {
            assert_eq!(fraction(text).magnitude(), power, "{text}");
        }
    }

    #[test]
    fn a_half_goes_away_from_zero() {
        for (text, power, shown) in
            [("2.5", 0, "3"), ("-2.5", 0, "-3"), ("0.145", -2, "0.15"), ("1249", 2, "1200")]
        {
            assert_eq!(fraction(text).shown(power), shown, "{text}");
        }
    }

    #[test]
    fn whole_in_a_step_needs_no_lowest_terms() {
        assert!(fraction("0.14").is_whole_in(-2));
        assert!(!fraction("0.14").is_whole_in(-1));
        assert!(fraction("300").is_whole_in(2));
        assert!(!fraction("300").is_whole_in(3));
    }

    #[test]
    fn a_value_that_moves_by_more_than_its_part_is_told() {
        assert!(!fraction("2.0684").hardly_moved(0, 100));
        assert!(!fraction("2.0684").hardly_moved(-1, 100));
        assert!(fraction("2.0684").hardly_moved(-2, 100));
    }
}
