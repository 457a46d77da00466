//! Two floating-point ends between which a value lies, rounded outward at every step, so that the truth stays
//! inside whatever the formula does between the ends. For formulae that need a power or a logarithm, and for those
//! that rise and fall; what is a plain quotient goes through [`Interval`] instead.

use std::ops::{Add, Mul, Sub};

use super::interval::Interval;

/// How many steps of floating point an exponential or a logarithm of `libm` may be off, with room to spare: its
/// authors state less than one.
const LIBM_STEPS: usize = 4;

/// Two finite ends, the lower first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    low: f64,
    high: f64,
}

impl Bounds {
    /// Everything between two finite values, whichever comes first.
    pub fn between(one: f64, other: f64) -> Option<Self> {
        (one.is_finite() && other.is_finite()).then(|| Self { low: one.min(other), high: one.max(other) })
    }

    /// One finite value and no other.
    pub fn exactly(value: f64) -> Option<Self> {
        Self::between(value, value)
    }

    /// The smallest bounds that hold an exact interval.
    pub fn around(interval: &Interval) -> Option<Self> {
        interval.outward().and_then(|(low, high)| Self::between(low, high))
    }

    /// The lower end.
    pub fn low(self) -> f64 {
        self.low
    }

    /// The upper end.
    pub fn high(self) -> f64 {
        self.high
    }

    /// How far the ends lie apart.
    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// Whether the value may be this one.
    pub fn holds(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// The bounds that hold both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The larger of two values, each known only so far.
    #[must_use]
    pub fn larger(self, other: Self) -> Self {
        Self { low: self.low.max(other.low), high: self.high.max(other.high) }
    }

    /// The smaller of two values, each known only so far.
    #[must_use]
    pub fn smaller(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.min(other.high) }
    }

    /// The lower and the upper half, which share their middle.
    pub fn halves(self) -> (Self, Self) {
        let middle = f64::midpoint(self.low, self.high);
        (Self { low: self.low, high: middle }, Self { low: middle, high: self.high })
    }

    /// The quotient; `None` if the divisor is not above zero throughout.
    pub fn over(self, under: Self) -> Option<Self> {
        let corners =
            [self.low / under.low, self.low / under.high, self.high / under.low, self.high / under.high];
        (under.low > 0.0).then(|| Self::outermost(corners)).filter(|quotient| quotient.is_finite())
    }

    /// Carries both ends through a formula of `libm` that only ever rises between them.
    pub fn rising(self, formula: impl Fn(f64) -> Option<f64>) -> Option<Self> {
        let (mut low, mut high) = (formula(self.low)?, formula(self.high)?);
        for _ in 0..LIBM_STEPS {
            (low, high) = (low.next_down(), high.next_up());
        }
        Self::between(low, high)
    }

    fn outermost(corners: [f64; 4]) -> Self {
        let low = corners.into_iter().fold(f64::INFINITY, f64::min);
        let high = corners.into_iter().fold(f64::NEG_INFINITY, f64::max);
        Self { low: low.next_down(), high: high.next_up() }
    }

    fn is_finite(self) -> bool {
        self.low.is_finite() && self.high.is_finite()
    }
}

impl Add for Bounds {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { low: (self.low + other.low).next_down(), high: (self.high + other.high).next_up() }
    }
}

impl Sub for Bounds {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self { low: (self.low - other.high).next_down(), high: (self.high - other.low).next_up() }
    }
}

impl Mul for Bounds {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        Self::outermost([
            self.low * other.low,
            self.low * other.high,
            self.high * other.low,
            self.high * other.high,
        ])
    }
}
