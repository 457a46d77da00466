//! A figure between two ends, and the reason where there is none.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{FromPrimitive, ToPrimitive};

use crate::units::{Dimension, Quantity, System, print, print_once, print_range};
use crate::wall::found::Bounds;
use crate::wall::words;

/// Why something is not worked out, in words that follow "not worked out, because".
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason(pub String);

impl Reason {
    pub(in crate::wall) fn new(why: impl Into<String>) -> Self {
        Self(why.into())
    }
}

/// A value, or why there is none.
pub type Maybe<T> = Result<T, Reason>;

/// A value of one kind between two ends, in the base of its kind; one value has two equal ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// The kind.
    pub dimension: Dimension,
    /// The low end.
    pub low: BigRational,
    /// The high end.
    pub high: BigRational,
}

impl Figure {
    /// Everything between two values, whichever comes first.
    pub fn between(dimension: Dimension, one: BigRational, other: BigRational) -> Self {
        let (low, high) = if one <= other { (one, other) } else { (other, one) };
        Self { dimension, low, high }
    }

    /// One value.
    pub fn exactly(dimension: Dimension, value: BigRational) -> Self {
        Self { dimension, low: value.clone(), high: value }
    }

    /// Two floating-point ends; nothing that is not finite becomes a figure.
    pub(in crate::wall) fn of_floats(dimension: Dimension, one: f64, other: f64) -> Maybe<Self> {
        let exact = |value: f64| BigRational::from_float(value).ok_or_else(beyond);
        Ok(Self::between(dimension, exact(one)?, exact(other)?))
    }

    /// Condensate of so many kg/m², held to the gram: a sum of this kind is no finer.
    pub(in crate::wall) fn of_condensate(one: f64, other: f64) -> Maybe<Self> {
        let held = |value: f64| {
            let grams = BigInt::from_f64((value * 1000.0).round()).ok_or_else(beyond)?;
            Ok(BigRational::new(grams, 1000.into()))
        };
        Ok(Self::between(Dimension::MassPerArea, held(one)?, held(other)?))
    }

    /// The same formula at both ends, for one that only ever rises or falls.
    pub(in crate::wall) fn through(
        &self,
        dimension: Dimension,
        formula: impl Fn(&BigRational) -> Option<BigRational>,
    ) -> Maybe<Self> {
        let (one, other) = formula(&self.low).zip(formula(&self.high)).ok_or_else(beyond)?;
        Ok(Self::between(dimension, one, other))
    }

    /// The sum, end by end; both of one kind.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self { dimension: self.dimension, low: &self.low + &other.low, high: &self.high + &other.high }
    }

    /// The product, end by end, of two figures that are not below zero.
    #[must_use]
    pub fn times(&self, other: &Self, dimension: Dimension) -> Self {
        Self { dimension, low: &self.low * &other.low, high: &self.high * &other.high }
    }

    /// Whether both ends are one.
    pub fn is_one_value(&self) -> bool {
        self.low == self.high
    }

    /// The ends as floating-point numbers, where they can be held.
    pub fn ends(&self) -> Option<(f64, f64)> {
        let finite = |value: &BigRational| value.to_f64().filter(|value| value.is_finite());
        finite(&self.low).zip(finite(&self.high))
    }

    /// As documents print it: an equivalent air layer in metres alone, condensate in g/m², anything else in both
    /// systems.
    pub fn print(&self, system: System) -> String {
        match self.dimension {
            Dimension::AirLayer => words::air_layer_bounds(&self.bounds()),
            Dimension::MassPerArea => self.in_unit("g/m²", system),
            Dimension::VapourFlow => self.in_unit("g/(m²·d)", system),
            Dimension::Duration => self.in_unit("d", system),
            dimension => words::bounds(&self.bounds(), dimension, system),
        }
    }

    fn bounds(&self) -> Bounds {
        Bounds::between(self.low.clone(), self.high.clone())
    }

    fn in_unit(&self, unit: &str, system: System) -> String {
        let end = |value: &BigRational| {
            Quantity::from_base_in(value.clone(), self.dimension, unit)
                .unwrap_or_else(|_| Quantity::from_base(value.clone(), self.dimension))
        };
        let (low, high) = (end(&self.low), end(&self.high));
        if low.written() == high.written() { print(&high, system) } else { print_range(&low, &high, system) }
    }
}

/// A quantity of the book as a figure.
impl From<&Quantity> for Figure {
    fn from(quantity: &Quantity) -> Self {
        Self::exactly(quantity.dimension(), quantity.value().clone())
    }
}

/// A quantity in the unit it was written in.
pub(super) fn as_written(quantity: &Quantity) -> String {
    print_once(quantity)
}

pub(super) fn beyond() -> Reason {
    Reason::new("a figure lies beyond the range that the formula holds for")
}
