//! The classes of vapour retarders in the United States, by the dry cup. Published.

use num_rational::BigRational;
use num_traits::Signed;

use crate::units::{Dimension, Quantity};

/// The class of a vapour retarder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RetarderClass {
    /// Up to 0.1 perm.
    I,
    /// Above 0.1 and up to 1 perm.
    II,
    /// Above 1 and up to 10 perm.
    III,
    /// Above 10 perm: no retarder.
    Open,
}

impl RetarderClass {
    /// The class of a permeance in ng/(Pa·s·m²), not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::RetarderClass;
    /// # use perpend::units::{Dimension, Quantity};
    /// // Reference, section 2: class II ends at 1.0 perm (published there).
    /// let class = |text| RetarderClass::of_permeance(Quantity::parse(text, Dimension::Permeance).unwrap().value());
    /// assert_eq!(class("1 perm"), Some(RetarderClass::II));
    /// assert_eq!(class("1.01 perm"), Some(RetarderClass::III));
    /// ```
    pub fn of_permeance(permeance: &BigRational) -> Option<Self> {
        let perm = Quantity::parse("1 perm", Dimension::Permeance).ok()?;
        let perms = permeance / perm.value();
        let class = match perms {
            perms if perms <= BigRational::new(1.into(), 10.into()) => Self::I,
            perms if perms <= BigRational::from_integer(1.into()) => Self::II,
            perms if perms <= BigRational::from_integer(10.into()) => Self::III,
            _ => Self::Open,
        };
        (!permeance.is_negative()).then_some(class)
    }

    /// The class as it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::I => "class I",
            Self::II => "class II",
            Self::III => "class III",
            Self::Open => "no retarder",
        }
    }
}
