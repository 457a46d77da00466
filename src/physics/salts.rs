//! Salts and pH. Two scales judge salts and differ by about five times, because they answer different questions; two
//! ways of writing a figure differ by up to four. Each is a type of its own, so that none is taken for another.

use num_rational::BigRational;
use num_traits::Signed;

/// An ion that salts in walls are counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ion {
    /// Cl⁻.
    Chloride,
    /// NO₃⁻, not nitrogen.
    Nitrate,
    /// SO₄²⁻, not sulphur.
    Sulphate,
}

/// Mass of an ion, not of its salt, in per cent of the dry mass: the form that both scales are stated in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IonPercent {
    ion: Ion,
    percent: BigRational,
}

impl IonPercent {
    /// A share from 0 to 100 % by mass.
    pub fn new(ion: Ion, percent: BigRational) -> Option<Self> {
        let sound = !percent.is_negative() && percent <= BigRational::from_integer(100.into());
        sound.then_some(Self { ion, percent })
    }

    /// Nitrate from a laboratory's figure for nitrogen: times 4.4266, that is 62.004 / 14.007. Source, derived from the
    /// atomic masses; the reference states 4.427.
    ///
    /// ```
    /// # use perpend::physics::salts::IonPercent;
    /// # use num_rational::BigRational;
    /// # use num_traits::ToPrimitive;
    /// // Reference, section 10: 1 % of nitrogen is 4.427 % of nitrate (derived there).
    /// let nitrate = IonPercent::nitrate_from_nitrogen(&BigRational::from_integer(1.into())).unwrap();
    /// assert!((nitrate.percent().to_f64().unwrap() - 4.427).abs() < 0.0005);
    /// ```
    pub fn nitrate_from_nitrogen(percent: &BigRational) -> Option<Self> {
        Self::new(Ion::Nitrate, percent * BigRational::new(62_004.into(), 14_007.into()))
    }

    /// Sulphate from a laboratory's figure for sulphur: times 2.996, that is 96.056 / 32.06. Source, derived from the
    /// atomic masses.
    ///
    /// ```
    /// # use perpend::physics::salts::IonPercent;
    /// # use num_rational::BigRational;
    /// # use num_traits::ToPrimitive;
    /// // Reference, section 10: 1 % of sulphur is 2.996 % of sulphate (derived there).
    /// let sulphate = IonPercent::sulphate_from_sulphur(&BigRational::from_integer(1.into())).unwrap();
    /// assert!((sulphate.percent().to_f64().unwrap() - 2.996).abs() < 0.0005);
    /// ```
    pub fn sulphate_from_sulphur(percent: &BigRational) -> Option<Self> {
        Self::new(Ion::Sulphate, percent * BigRational::new(96_056.into(), 32_060.into()))
    }

    /// The ion.
    pub fn ion(&self) -> Ion {
        self.ion
    }

    /// Its share, in per cent by mass.
    pub fn percent(&self) -> &BigRational {
        &self.percent
    }

    /// The ion on a face, in kg/m², down to a depth in m in a material of a bulk density in kg/m³, both above zero.
    /// Source, derived.
    ///
    /// ```
    /// # use perpend::physics::salts::{Ion, IonPercent};
    /// # use num_rational::BigRational;
    /// // Published check S07: 1 % by mass in 0.10 m is 1.8 kg/m² at 1800 kg/m³, not the 1.0 of a lighter material.
    /// let number = |tenths: i32| BigRational::new(tenths.into(), 10.into());
    /// let salt = IonPercent::new(Ion::Chloride, number(10)).unwrap();
    /// assert_eq!(salt.on_face(&number(1), &number(18_000)), Some(number(18)));
    /// ```
    pub fn on_face(&self, depth: &BigRational, density: &BigRational) -> Option<BigRational> {
        let sound = depth.is_positive() && density.is_positive();
        sound.then(|| &self.percent / BigRational::from_integer(100.into()) * depth * density)
    }
}

/// How pressing it is to take salts out of stone, by WTA 3-13-01. Second-hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Desalination {
    /// Below the lower mark.
    NotNeeded,
    /// From the lower to the upper mark, both included.
    CaseByCase,
    /// Above the upper mark.
    Urgent,
}

impl Desalination {
    /// The scale of this reading; marks 0.03 and 0.10 (chloride), 0.05 and 0.15 (nitrate), 0.10 and 0.25 (sulphate).
    ///
    /// ```
    /// # use perpend::physics::salts::{Desalination, Ion, IonPercent};
    /// # use num_rational::BigRational;
    /// // Published check S04: chloride above 0.1 % is urgent, 0.1 % itself is case by case.
    /// let chloride = |thousandths: i32| {
    ///     IonPercent::new(Ion::Chloride, BigRational::new(thousandths.into(), 1000.into())).unwrap()
    /// };
    /// assert_eq!(Desalination::of(&chloride(101)), Desalination::Urgent);
    /// assert_eq!(Desalination::of(&chloride(100)), Desalination::CaseByCase);
    /// ```
    pub fn of(reading: &IonPercent) -> Self {
        let marks = match reading.ion {
            Ion::Chloride => (30, 100),
            Ion::Nitrate => (50, 150),
            Ion::Sulphate => (100, 250),
        };
        between(&reading.percent, marks, [Self::NotNeeded, Self::CaseByCase, Self::Urgent])
    }
}

/// How laden masonry is with salts when a render is chosen, by WTA 2-9 and 4-5. Nitrate and sulphate partly
/// published, chloride from memory. The worst ion decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Load {
    /// Below the lower mark.
    Low,
    /// From the lower to the upper mark, both included.
    Medium,
    /// Above the upper mark.
    High,
}

impl Load {
    /// The scale of this reading; marks 0.2 and 0.5 (chloride), 0.1 and 0.3 (nitrate), 0.5 and 1.5 (sulphate).
    ///
    /// ```
    /// # use perpend::physics::salts::{Ion, IonPercent, Load};
    /// # use num_rational::BigRational;
    /// // Published check S02: nitrate above 0.3 % is a high load, 0.3 % itself a medium one.
    /// let nitrate = |hundredths: i32| {
    ///     IonPercent::new(Ion::Nitrate, BigRational::new(hundredths.into(), 100.into())).unwrap()
    /// };
    /// assert_eq!(Load::of(&nitrate(31)), Load::High);
    /// assert_eq!(Load::of(&nitrate(30)), Load::Medium);
    /// ```
    pub fn of(reading: &IonPercent) -> Self {
        let marks = match reading.ion {
            Ion::Chloride => (200, 500),
            Ion::Nitrate => (100, 300),
            Ion::Sulphate => (500, 1500),
        };
        between(&reading.percent, marks, [Self::Low, Self::Medium, Self::High])
    }

    /// The load of several readings: that of the worst ion. `None` without a reading.
    ///
    /// ```
    /// # use perpend::physics::salts::{Ion, IonPercent, Load};
    /// # use num_rational::BigRational;
    /// // Reference, section 10: the worst ion decides (published there).
    /// let reading = |ion, tenths: i32| IonPercent::new(ion, BigRational::new(tenths.into(), 10.into())).unwrap();
    /// let readings = [reading(Ion::Chloride, 1), reading(Ion::Sulphate, 16)];
    /// assert_eq!(Load::of_all(&readings), Some(Load::High));
    /// ```
    pub fn of_all(readings: &[IonPercent]) -> Option<Self> {
        readings.iter().map(Self::of).max()
    }
}

/// The step of a scale whose marks are stated in thousandths of a per cent.
fn between<Step: Copy>(percent: &BigRational, marks: (i64, i64), [low, middle, high]: [Step; 3]) -> Step {
    let mark = |thousandths: i64| BigRational::new(thousandths.into(), 1000.into());
    match percent {
        percent if *percent < mark(marks.0) => low,
        percent if *percent <= mark(marks.1) => middle,
        _ => high,
    }
}

/// The acidity of a solution at 25 °C, from 0 to 14. A step of one is ten times as many ions, so that the mean of
/// several readings is not their arithmetic mean.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ph(f64);

impl Ph {
    /// A pH from 0 to 14.
    pub fn new(ph: f64) -> Option<Self> {
        (0.0..=14.0).contains(&ph).then_some(Self(ph))
    }

    /// The number.
    pub fn number(self) -> f64 {
        self.0
    }

    /// Hydrogen ions in mol/L: `10^-pH`. Source: definition.
    ///
    /// ```
    /// # use perpend::physics::salts::Ph;
    /// // By definition: pH 7 is 1e-7 mol/L.
    /// assert!((Ph::new(7.0).unwrap().hydrogen() / 1e-7 - 1.0).abs() < 1e-12);
    /// ```
    pub fn hydrogen(self) -> f64 {
        libm::pow(10.0, -self.0)
    }

    /// Hydroxide ions in mol/L: `10^(pH - 14)`. Source: the ion product of water at 25 °C, 1e-14.
    ///
    /// ```
    /// # use perpend::physics::salts::Ph;
    /// // By definition: at pH 7 there are as many of the one ion as of the other.
    /// let neutral = Ph::new(7.0).unwrap();
    /// assert!((neutral.hydroxide() / neutral.hydrogen() - 1.0).abs() < 1e-12);
    /// ```
    pub fn hydroxide(self) -> f64 {
        libm::pow(10.0, self.0 - 14.0)
    }

    /// The pH of so many hydrogen ions in mol/L; `None` if it lies outside 0 to 14.
    ///
    /// ```
    /// # use perpend::physics::salts::Ph;
    /// // By definition: 1e-9 mol/L is pH 9.
    /// assert!((Ph::of_hydrogen(1e-9).unwrap().number() - 9.0).abs() < 1e-12);
    /// ```
    pub fn of_hydrogen(moles: f64) -> Option<Self> {
        // Adding zero turns the negative zero of a pH of 0 into the plain one.
        (moles > 0.0).then(|| Self::new(-libm::log10(moles) + 0.0)).flatten()
    }
}
