//! A value known only to lie between two ends, carried through a formula so that the truth stays inside.

use num_rational::BigRational;
use num_traits::ToPrimitive;

/// Two exact ends, the lower first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Interval {
    low: BigRational,
    high: BigRational,
}

impl Interval {
    /// Everything between two values, whichever comes first.
    pub fn between(one: BigRational, other: BigRational) -> Self {
        if one <= other { Self { low: one, high: other } } else { Self { low: other, high: one } }
    }

    /// One value and no other.
    pub fn exactly(value: BigRational) -> Self {
        Self { low: value.clone(), high: value }
    }

    /// The lower end.
    pub fn low(&self) -> &BigRational {
        &self.low
    }

    /// The upper end.
    pub fn high(&self) -> &BigRational {
        &self.high
    }

    /// Whether the value may be this one.
    pub fn holds(&self, value: &BigRational) -> bool {
        self.low <= *value && *value <= self.high
    }

    /// Carries both ends through a formula that only ever rises, or only ever falls, between them. `None` if the
    /// formula has no answer at an end.
    pub fn through(&self, formula: impl Fn(&BigRational) -> Option<BigRational>) -> Option<Self> {
        Some(Self::between(formula(&self.low)?, formula(&self.high)?))
    }

    /// The same for a formula of two values that rises or falls steadily in each: the outermost of four corners.
    pub fn through_with(
        &self,
        other: &Self,
        formula: impl Fn(&BigRational, &BigRational) -> Option<BigRational>,
    ) -> Option<Self> {
        let at_low = other.through(|value| formula(&self.low, value))?;
        let at_high = other.through(|value| formula(&self.high, value))?;
        Some(Self { low: at_low.low.min(at_high.low), high: at_low.high.max(at_high.high) })
    }

    /// The same for a list of values and a formula that rises, or falls, with every one of them.
    pub fn through_all(
        parts: &[Self],
        formula: impl Fn(&[BigRational]) -> Option<BigRational>,
    ) -> Option<Self> {
        let ends =
            |end: fn(&Self) -> &BigRational| parts.iter().map(|part| end(part).clone()).collect::<Vec<_>>();
        Some(Self::between(formula(&ends(Self::low))?, formula(&ends(Self::high))?))
    }

    /// The ends as floating-point numbers, each moved outward where it cannot be held exactly.
    pub fn outward(&self) -> Option<(f64, f64)> {
        let low = self.low.to_f64().filter(|end| end.is_finite())?;
        let high = self.high.to_f64().filter(|end| end.is_finite())?;
        let low = if BigRational::from_float(low)? > self.low { low.next_down() } else { low };
        let high = if BigRational::from_float(high)? < self.high { high.next_up() } else { high };
        Some((low, high))
    }
}
