//! EN 998-1: how readily rain passes a render. Limits published.

use num_rational::BigRational;
use num_traits::Signed;

use super::decimal;

/// The class of a render. Its letters are those of coats in EN 1062-1 and its scale is not: a render of class W2 takes
/// up to 1.55 kg/(m²·√h), three times what a coat of class W1 starts from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RenderClass {
    /// c above 0.40 kg/(m²·min^0.5), or not stated.
    W0,
    /// c up to 0.40 kg/(m²·min^0.5).
    W1,
    /// c up to 0.20 kg/(m²·min^0.5).
    W2,
}

impl RenderClass {
    /// The class of a coefficient c in kg/(m²·min^0.5), not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::RenderClass;
    /// # use num_rational::BigRational;
    /// // Reference, section 7: W2 up to 0.20, W1 up to 0.40 (published there).
    /// let c = |hundredths: i32| BigRational::new(hundredths.into(), 100.into());
    /// assert_eq!(RenderClass::of_c(&c(20)), Some(RenderClass::W2));
    /// assert_eq!(RenderClass::of_c(&c(21)), Some(RenderClass::W1));
    /// ```
    pub fn of_c(c: &BigRational) -> Option<Self> {
        let class = match c {
            c if *c <= decimal(20) => Self::W2,
            c if *c <= decimal(40) => Self::W1,
            _ => Self::W0,
        };
        (!c.is_negative()).then_some(class)
    }

    /// The class as it is written, with the standard, since the letters alone mislead.
    pub fn name(self) -> &'static str {
        match self {
            Self::W0 => "W0 (EN 998-1)",
            Self::W1 => "W1 (EN 998-1)",
            Self::W2 => "W2 (EN 998-1)",
        }
    }
}
