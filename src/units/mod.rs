//! Quantities with units: parse, convert and compare exactly, print in both systems.

use num_rational::BigRational;

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// A bare number.
    Number,
}

/// Which system prints first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// US units, SI in brackets.
    UsFirst,
    /// SI units, US in brackets.
    SiFirst,
}

/// An exact quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// In base units.
    pub value: BigRational,
}
