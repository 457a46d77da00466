//! DIN 4108-3: the words for layers by their equivalent air layer. 2001 published in a transcription; 2018 names from
//! the published list of contents, its limits from memory.

use num_rational::BigRational;
use num_traits::Signed;

use super::decimal;

/// An edition of DIN 4108-3. Words and climates differ, so none goes without it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// The edition of 2001, with the block climate of 1981.
    Of2001,
    /// The editions of 2014 and 2018.
    Of2018,
}

impl Edition {
    /// The edition as it is cited.
    pub fn name(self) -> &'static str {
        match self {
            Self::Of2001 => "DIN 4108-3:2001",
            Self::Of2018 => "DIN 4108-3:2018",
        }
    }
}

/// The word for a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayerTerm {
    /// sd up to 0.5 m, in both editions.
    Open,
    /// 2018: sd above 0.5 and up to 10 m.
    Braking,
    /// 2001: sd above 0.5 and below 1500 m; 2018: above 10 and up to 100 m.
    Inhibiting,
    /// 2018: sd above 100 and below 1500 m.
    Blocking,
    /// sd from 1500 m, in both editions.
    Tight,
}

impl LayerTerm {
    /// The word for an equivalent air layer in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::{Edition, LayerTerm};
    /// # use num_rational::BigRational;
    /// // Published check C39: 10 m was inhibiting in 2001 and is braking in 2018.
    /// let sd = BigRational::from_integer(10.into());
    /// assert_eq!(LayerTerm::of_sd(&sd, Edition::Of2001), Some(LayerTerm::Inhibiting));
    /// assert_eq!(LayerTerm::of_sd(&sd, Edition::Of2018), Some(LayerTerm::Braking));
    /// ```
    pub fn of_sd(sd: &BigRational, edition: Edition) -> Option<Self> {
        let term = match (edition, sd) {
            (_, sd) if *sd <= decimal(50) => Self::Open,
            (_, sd) if *sd >= decimal(150_000) => Self::Tight,
            (Edition::Of2001, _) => Self::Inhibiting,
            (Edition::Of2018, sd) if *sd <= decimal(1000) => Self::Braking,
            (Edition::Of2018, sd) if *sd <= decimal(10_000) => Self::Inhibiting,
            (Edition::Of2018, _) => Self::Blocking,
        };
        (!sd.is_negative()).then_some(term)
    }

    /// The word in English.
    pub fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Braking => "braking",
            Self::Inhibiting => "inhibiting",
            Self::Blocking => "blocking",
            Self::Tight => "tight",
        }
    }
}
