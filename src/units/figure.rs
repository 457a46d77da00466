//! A number as somebody wrote it: its digits, its exact value, and the step that its last digit stands for.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Zero;

use super::fraction::{self, Fraction};

/// More digits than any survey holds; a longer number is a slip or an attack.
const MOST_DIGITS: usize = 40;
/// The largest power of ten that may be written after `e`.
const MOST_EXPONENT: i32 = 40;

/// The most telling digits that a worked value shows.
pub(super) const MOST_TELLING: i32 = 3;

/// A written number.
#[derive(Debug, Clone)]
pub(super) struct Figure {
    /// The digits as written, with a plain hyphen for a minus.
    pub(super) text: String,
    /// What they say, exactly.
    pub(super) value: Fraction,
    /// What one more in the last telling digit would add; zeros at the end of a whole number do not tell.
    pub(super) step: BigRational,
}

impl Figure {
    /// Reads `300`, `-5`, `0.14`, `2.0e-10`, `1/4`, `1 1/2` or `1-1/2`.
    pub(super) fn read(text: &str) -> Option<Self> {
        let text = text.trim().replace('\u{2212}', "-");
        let (sign, unsigned) = match text.strip_prefix('-') {
            Some(rest) => (-1, rest),
            None => (1, text.strip_prefix('+').unwrap_or(&text)),
        };
        let (value, step) = if unsigned.contains('/') { fraction(unsigned)? } else { decimal(unsigned)? };
        let text = unsigned.split_whitespace().collect::<Vec<_>>().join(" ");
        let text = if sign < 0 { format!("-{text}") } else { text };
        let value = Fraction::from(&value).times(&BigRational::from_integer(sign.into()));
        Some(Self { text, value, step })
    }

    /// A worked value, shown with at most [`MOST_TELLING`] digits; `value` stays exact.
    pub(super) fn worked(value: Fraction) -> Self {
        let power = value.magnitude() - MOST_TELLING + 1;
        let text = value.shown(power);
        let exact = text.contains('.') && value.is_whole_in(power);
        let text = if exact { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text };
        let step = decimal(text.trim_start_matches('-')).map_or_else(|| ten(power), |(_, step)| step);
        Self { text, value, step }
    }
}

/// How many telling digits say a value exactly, if [`MOST_TELLING`] are enough.
pub(super) fn telling_digits(value: &Fraction) -> Option<i32> {
    let first = value.magnitude();
    if !value.is_whole_in(first - MOST_TELLING + 1) {
        return None;
    }
    (1..=MOST_TELLING).find(|digits| value.is_whole_in(first - digits + 1))
}

/// `1/4`, `1 1/2`, `1-1/2`: the value, and one part as the step.
fn fraction(text: &str) -> Option<(BigRational, BigRational)> {
    let (front, under) = text.split_once('/')?;
    let front = front.trim_end();
    let (whole, over) = match front.rsplit_once([' ', '-']) {
        Some((whole, over)) => (integer(whole.trim())?, over),
        None => (BigInt::zero(), front),
    };
    let under = integer(under.trim()).filter(|under| !under.is_zero())?;
    let part = BigRational::new(1.into(), under);
    let over = BigRational::from_integer(integer(over.trim())?);
    Some((BigRational::from_integer(whole) + over * part.clone(), part))
}

/// `300`, `0.14`, `2.0e-10`: the value, and the worth of one in the last telling digit.
fn decimal(text: &str) -> Option<(BigRational, BigRational)> {
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().ok()?),
        None => (text, 0),
    };
    if mantissa.ends_with('.') || exponent.abs() > MOST_EXPONENT {
        return None;
    }
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let number = integer(&format!("{whole}{part}")).filter(|_| whole.chars().all(|c| c.is_ascii_digit()))?;
    let scale = exponent - i32::try_from(part.len()).ok()?;
    let silent = if part.is_empty() && !number.is_zero() {
        i32::try_from(whole.len() - whole.trim_end_matches('0').len()).ok()?
    } else {
        0
    };
    Some((BigRational::from_integer(number) * ten(scale), ten(scale + silent)))
}

/// Reads an exact decimal, such as a factor in the table of units.
pub(super) fn exactly(text: &str) -> Option<BigRational> {
    decimal(text.trim()).map(|(value, _)| value)
}

fn integer(text: &str) -> Option<BigInt> {
    let plain = !text.is_empty() && text.len() <= MOST_DIGITS && text.chars().all(|c| c.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// Ten to a whole power.
pub(super) fn ten(power: i32) -> BigRational {
    let whole = fraction::ten(power.unsigned_abs());
    // Already in lowest terms, either way up.
    if power < 0 { BigRational::new_raw(1.into(), whole) } else { BigRational::from_integer(whole) }
}
