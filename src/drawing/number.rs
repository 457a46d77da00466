//! Figures as words: a true minus, a space that never breaks before the unit, no more digits than are known.

/// A space that a line never breaks at.
const HARD_SPACE: char = '\u{a0}';

/// A value with so many places behind the point; a value that rounds to zero has no sign.
pub(super) fn fixed(value: f64, places: usize) -> String {
    let text = format!("{:.places$}", value.abs());
    let is_zero = text.chars().all(|sign| matches!(sign, '0' | '.'));
    if value < 0.0 && !is_zero { format!("\u{2212}{text}") } else { text }
}

/// A value with so many telling digits: `0.94`, `1.3`, `12`, `0.050`; whole numbers keep all theirs.
pub(super) fn telling(value: f64, digits: i32) -> String {
    let size = value.abs();
    if size == 0.0 || !size.is_finite() {
        return fixed(if size.is_finite() { value } else { 0.0 }, 0);
    }
    let power = libm::floor(libm::log10(size));
    let text = fixed(value, places(power, digits));
    // Rounding up may have brought one digit more.
    let next = libm::pow(10.0, power + 1.0);
    let grown = text.trim_start_matches('\u{2212}').parse::<f64>().is_ok_and(|shown| shown >= next);
    if grown { fixed(value, places(power + 1.0, digits)) } else { text }
}

#[expect(clippy::cast_possible_truncation, reason = "powers of ten of a finite number are small")]
fn places(power: f64, digits: i32) -> usize {
    usize::try_from(digits - 1 - power as i32).unwrap_or(0).min(12)
}

/// The same without noughts at its end behind the point: `0.05`, `0.9`, `3`.
pub(super) fn trimmed(value: f64, digits: i32) -> String {
    let text = telling(value, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A figure and its unit: `0.05 m`.
pub(super) fn with_unit(figure: &str, unit: &str) -> String {
    format!("{figure}{HARD_SPACE}{unit}")
}

/// An equivalent air layer in m, to two telling digits: `0.05 m`.
pub(super) fn air_layer(sd: f64) -> String {
    with_unit(&trimmed(sd, 2), "m")
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [before @ .., end] => format!("{} and {end}", before.join(", ")),
    }
}

/// The same words with a capital at their start.
pub(super) fn capital(words: &str) -> String {
    let mut signs = words.chars();
    signs.next().map(|first| first.to_uppercase().chain(signs).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{fixed, telling, trimmed};

    #[test]
    fn digits_that_tell() {
        let shown =
            [0.0, 0.0496, 0.0999, 0.05, 0.95, 0.999, 1.26, 12.4, 99.6, 1234.0].map(|value| telling(value, 2));
        assert_eq!(shown, ["0", "0.050", "0.10", "0.050", "0.95", "1.0", "1.3", "12", "100", "1234"]);
        assert_eq!(trimmed(0.0496, 2), "0.05");
        assert_eq!(trimmed(100.0, 2), "100");
        assert_eq!(telling(-3.22, 2), "\u{2212}3.2");
        assert_eq!(fixed(-0.2, 0), "0");
        assert_eq!(telling(f64::NAN, 2), "0");
        assert_eq!(telling(f64::INFINITY, 2), "0");
    }
}
