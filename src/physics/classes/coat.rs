//! EN 1062-1: coating materials for masonry and concrete outdoors. V and W published in two secondary pages, G in an
//! information sheet, S in an encyclopedia; E, A and C from memory.

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::decimal;

/// How readily vapour passes a coat. A higher number is less open; the class says nothing of the wall behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VapourClass {
    /// Not stated.
    V0,
    /// V above 150 g/(m²·d), or sd below 0.14 m.
    V1,
    /// V above 15 and up to 150 g/(m²·d), or sd from 0.14 m to below 1.4 m.
    V2,
    /// V up to 15 g/(m²·d), or sd from 1.4 m.
    V3,
}

impl VapourClass {
    /// The class of an equivalent air layer in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::VapourClass;
    /// # use num_rational::BigRational;
    /// // Published checks C03 and C04: 1.399 m is V2, 1.4 m is V3.
    /// let sd = |thousandths: i32| BigRational::new(thousandths.into(), 1000.into());
    /// assert_eq!(VapourClass::of_sd(&sd(1399)), Some(VapourClass::V2));
    /// assert_eq!(VapourClass::of_sd(&sd(1400)), Some(VapourClass::V3));
    /// ```
    pub fn of_sd(sd: &BigRational) -> Option<Self> {
        let class = match sd {
            sd if *sd < decimal(14) => Self::V1,
            sd if *sd < decimal(140) => Self::V2,
            _ => Self::V3,
        };
        (!sd.is_negative()).then_some(class)
    }

    /// The class of a vapour flow in g/(m²·d) measured in the wet cup of EN ISO 7783, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::VapourClass;
    /// # use num_rational::BigRational;
    /// // Published check C06: 150 g/(m²·d) is V2.
    /// assert_eq!(VapourClass::of_rate(&BigRational::from_integer(150.into())), Some(VapourClass::V2));
    /// ```
    pub fn of_rate(rate: &BigRational) -> Option<Self> {
        let class = match rate {
            rate if *rate > decimal(15_000) => Self::V1,
            rate if *rate > decimal(1500) => Self::V2,
            _ => Self::V3,
        };
        (!rate.is_negative()).then_some(class)
    }

    /// The worse of two classes, as where rate and sd disagree because the standard rounds its limits. A class that
    /// is not stated says nothing.
    ///
    /// ```
    /// # use perpend::physics::classes::VapourClass;
    /// // Published check C09: V2 by rate and V1 by sd are to be reported as V2.
    /// assert_eq!(VapourClass::V2.worse(VapourClass::V1), VapourClass::V2);
    /// ```
    #[must_use]
    pub fn worse(self, other: Self) -> Self {
        if self.tightness() >= other.tightness() { self } else { other }
    }

    fn tightness(self) -> u8 {
        match self {
            Self::V0 => 0,
            Self::V1 => 1,
            Self::V2 => 2,
            Self::V3 => 3,
        }
    }

    /// The class as it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::V0 => "V0",
            Self::V1 => "V1",
            Self::V2 => "V2",
            Self::V3 => "V3",
        }
    }
}

/// How readily rain passes a coat. A higher number is tighter to rain. Above 0.5 the test of EN 1062-3 is not held to
/// be accurate (published in its scope), so W1 is a label and no figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaterClass {
    /// Not stated.
    W0,
    /// w above 0.5 kg/(m²·√h).
    W1,
    /// w above 0.1 and up to 0.5 kg/(m²·√h).
    W2,
    /// w up to 0.1 kg/(m²·√h).
    W3,
}

impl WaterClass {
    /// The class of a coefficient w in kg/(m²·√h), not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::WaterClass;
    /// # use num_rational::BigRational;
    /// // Published check C11: 0.5 kg/(m²·√h) is W2.
    /// assert_eq!(WaterClass::of_w(&BigRational::new(1.into(), 2.into())), Some(WaterClass::W2));
    /// ```
    pub fn of_w(w: &BigRational) -> Option<Self> {
        let class = match w {
            w if *w > decimal(50) => Self::W1,
            w if *w > decimal(10) => Self::W2,
            _ => Self::W3,
        };
        (!w.is_negative()).then_some(class)
    }

    /// The class as it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::W0 => "W0",
            Self::W1 => "W1",
            Self::W2 => "W2",
            Self::W3 => "W3",
        }
    }
}

/// How many of the rising limits a figure lies above; where `at` is so, a figure at a limit counts as above it.
fn limits_passed(figure: &BigRational, limits: &[i64], at: At) -> usize {
    let passed = |limit: &&i64| {
        let limit = BigRational::from_integer((**limit).into());
        *figure > limit || (at == At::Above && *figure == limit)
    };
    limits.iter().filter(passed).count()
}

/// To which side a figure at a limit belongs.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    Below,
    Above,
}

/// A metre in µm, for figures that the standard states in µm.
fn in_micrometres(metres: &BigRational) -> BigRational {
    metres * BigRational::from_integer(1_000_000.into())
}

macro_rules! numbered {
    ($(#[$about:meta])* $Class:ident { $($(#[$each:meta])* $One:ident = $name:literal),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $Class { $($(#[$each])* $One),+ }

        impl $Class {
            /// All of them, in the order of their numbers.
            pub const ALL: &'static [Self] = &[$(Self::$One),+];

            /// The class as it is written.
            pub fn name(self) -> &'static str {
                match self { $(Self::$One => $name),+ }
            }
        }
    };
}

numbered! {
    /// The thickness of the dry film. From memory.
    FilmClass {
        /// Up to 50 µm.
        E1 = "E1",
        /// Above 50 and up to 100 µm.
        E2 = "E2",
        /// Above 100 and up to 200 µm.
        E3 = "E3",
        /// Above 200 and up to 400 µm.
        E4 = "E4",
        /// Above 400 µm.
        E5 = "E5",
    }
}

impl FilmClass {
    /// The class of a dry film in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::FilmClass;
    /// # use num_rational::BigRational;
    /// // Published check C17: 200 µm is E3.
    /// assert_eq!(FilmClass::of(&BigRational::new(200.into(), 1_000_000.into())), Some(FilmClass::E3));
    /// ```
    pub fn of(film: &BigRational) -> Option<Self> {
        let passed = limits_passed(&in_micrometres(film), &[50, 100, 200, 400], At::Below);
        Self::ALL.get(passed).copied().filter(|_| !film.is_negative())
    }
}

numbered! {
    /// The largest grain. Published in an encyclopedia, with strict limits; 1500 µm itself falls in S4 by elimination.
    GrainClass {
        /// Fine: below 100 µm.
        S1 = "S1",
        /// Medium: below 300 µm.
        S2 = "S2",
        /// Coarse: below 1500 µm.
        S3 = "S3",
        /// Very coarse.
        S4 = "S4",
    }
}

impl GrainClass {
    /// The class of the largest grain in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::GrainClass;
    /// # use num_rational::BigRational;
    /// // Published check C21: 299 µm is S2, medium.
    /// assert_eq!(GrainClass::of(&BigRational::new(299.into(), 1_000_000.into())), Some(GrainClass::S2));
    /// ```
    pub fn of(grain: &BigRational) -> Option<Self> {
        let passed = limits_passed(&in_micrometres(grain), &[100, 300, 1500], At::Above);
        Self::ALL.get(passed).copied().filter(|_| !grain.is_negative())
    }

    /// The word for the class.
    pub fn word(self) -> &'static str {
        match self {
            Self::S1 => "fine",
            Self::S2 => "medium",
            Self::S3 => "coarse",
            Self::S4 => "very coarse",
        }
    }
}

numbered! {
    /// Gloss. Published in an information sheet.
    GlossClass {
        /// Glossy: above 60 at 60°.
        G1 = "G1",
        /// Satin: up to 60 at 60°, above 10 at 85°.
        G2 = "G2",
        /// Matt: up to 10 at 85°.
        G3 = "G3",
    }
}

impl GlossClass {
    /// The class of readings at 60° and at 85°; `None` if those at hand do not decide it, or one is below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::GlossClass;
    /// # use num_rational::BigRational;
    /// // Published checks C24 and C26: 61 at 60° is G1, 10 at 85° is G3.
    /// let reading = |figure: i32| BigRational::from_integer(figure.into());
    /// assert_eq!(GlossClass::of(Some(&reading(61)), None), Some(GlossClass::G1));
    /// assert_eq!(GlossClass::of(None, Some(&reading(10))), Some(GlossClass::G3));
    /// ```
    pub fn of(at_60: Option<&BigRational>, at_85: Option<&BigRational>) -> Option<Self> {
        if at_60.into_iter().chain(at_85).any(Signed::is_negative) {
            return None;
        }
        let glossy = at_60.map(|reading| *reading > decimal(6000));
        let matt = at_85.map(|reading| *reading <= decimal(1000));
        match (glossy, matt) {
            (Some(true), _) => Some(Self::G1),
            (_, Some(true)) => Some(Self::G3),
            (Some(false), Some(false)) => Some(Self::G2),
            (Some(false) | None, None) | (None, Some(false)) => None,
        }
    }
}

numbered! {
    /// The widest crack that a coat bridges, by method A of EN 1062-7 (standing cracks). From memory.
    CrackClass {
        /// Not stated, or up to 100 µm.
        A0 = "A0",
        /// Above 100 µm.
        A1 = "A1",
        /// Above 250 µm.
        A2 = "A2",
        /// Above 500 µm.
        A3 = "A3",
        /// Above 1250 µm.
        A4 = "A4",
        /// Above 2500 µm.
        A5 = "A5",
    }
}

impl CrackClass {
    /// The class of a bridged crack in m, not below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::CrackClass;
    /// # use num_rational::BigRational;
    /// // Published check C30: 501 µm is A3.
    /// assert_eq!(CrackClass::of(&BigRational::new(501.into(), 1_000_000.into())), Some(CrackClass::A3));
    /// ```
    pub fn of(bridged: &BigRational) -> Option<Self> {
        let passed = limits_passed(&in_micrometres(bridged), &[100, 250, 500, 1250, 2500], At::Below);
        Self::ALL.get(passed).copied().filter(|_| !bridged.is_negative())
    }
}

numbered! {
    /// Whether a coat holds carbon dioxide back, which matters to reinforced concrete. From memory.
    CarbonClass {
        /// Not stated, or not held back.
        C0 = "C0",
        /// Less than 5 g/(m²·d) of carbon dioxide, and an equivalent air layer for it above 50 m.
        C1 = "C1",
    }
}

impl CarbonClass {
    /// The class of a flow of carbon dioxide in g/(m²·d) and an equivalent air layer for it in m, neither below zero.
    ///
    /// ```
    /// # use perpend::physics::classes::CarbonClass;
    /// # use num_rational::BigRational;
    /// // Reference, section 2 (from memory there): both limits are needed for C1.
    /// let figure = |figure: i32| BigRational::from_integer(figure.into());
    /// assert_eq!(CarbonClass::of(&figure(4), &figure(51)), Some(CarbonClass::C1));
    /// assert_eq!(CarbonClass::of(&figure(4), &figure(50)), Some(CarbonClass::C0));
    /// ```
    pub fn of(rate: &BigRational, sd: &BigRational) -> Option<Self> {
        let zero = BigRational::zero();
        let held_back = *rate < decimal(500) && *sd > decimal(5000);
        let class = if held_back { Self::C1 } else { Self::C0 };
        (*rate >= zero && *sd >= zero).then_some(class)
    }
}
