//! EN 1504-2: protection of concrete. From memory.

use num_rational::BigRational;
use num_traits::Signed;

use super::decimal;

/// How readily vapour passes a coat on concrete. Class I, below 5 m, is a far weaker demand than what old masonry
/// needs (5 m is 0.7 perm), so it is never to be read as "open".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConcreteClass {
    /// sd below 5 m.
    I,
    /// sd from 5 to 50 m.
    II,
    /// sd above 50 m.
    III,
}

impl ConcreteClass {
    /// The class of an equivalent air layer in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::ConcreteClass;
    /// # use num_rational::BigRational;
    /// // Published checks C34 and C35: both 5 m and 50 m are class II.
    /// let sd = |metres: i32| BigRational::from_integer(metres.into());
    /// assert_eq!(ConcreteClass::of_sd(&sd(5)), Some(ConcreteClass::II));
    /// assert_eq!(ConcreteClass::of_sd(&sd(50)), Some(ConcreteClass::II));
    /// ```
    pub fn of_sd(sd: &BigRational) -> Option<Self> {
        let class = match sd {
            sd if *sd < decimal(500) => Self::I,
            sd if *sd <= decimal(5000) => Self::II,
            _ => Self::III,
        };
        (!sd.is_negative()).then_some(class)
    }

    /// The class as it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
        }
    }
}

/// Whether a coat takes up less than 0.1 kg/(m²·√h), the demand of EN 1504-2. For w in kg/(m²·√h), not below
/// zero.
///
/// ```
/// # use perpend::physics::classes::concrete_absorption_is_low;
/// # use num_rational::BigRational;
/// // Published check C37: the limit is strict.
/// assert_eq!(concrete_absorption_is_low(&BigRational::new(1.into(), 10.into())), Some(false));
/// ```
pub fn concrete_absorption_is_low(w: &BigRational) -> Option<bool> {
    (!w.is_negative()).then(|| *w < decimal(10))
}
