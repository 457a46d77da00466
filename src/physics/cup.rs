//! The climates in which a cup passes vapour through a sample. A vapour flow means nothing without its climate: the
//! same coat passes a sixth more over a desiccant than in the wet cup.

use num_rational::BigRational;

use super::air::StillAir;
use super::saturation::Saturation;
use super::vapour::{permeance_from_rate, rate_constant, rate_from_permeance, sd_from_rate};

/// A test climate: one temperature, and a relative humidity on either side of the sample.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CupClimate {
    /// The test, as it is cited.
    pub name: &'static str,
    /// In °C.
    pub celsius: f64,
    /// On the humid side, in per cent.
    pub humid: f64,
    /// On the dry side, in per cent.
    pub dry: f64,
    /// Who says so.
    pub source: &'static str,
}

impl CupClimate {
    /// Wet cup at 23 °C, 93 % against 50 %: what the classes of coats are stated in. (Its elder brother EN ISO 12572 is not
    /// for sd below 0.1 m and calls sd above 1500 m impermeable; published in its scope.)
    pub const WET: Self = Self {
        name: "EN ISO 7783, wet cup",
        celsius: 23.0,
        humid: 93.0,
        dry: 50.0,
        source: "from memory: EN ISO 7783",
    };
    /// Desiccant at 23 °C, 50 % against 0 %.
    pub const DESICCANT: Self = Self {
        name: "ASTM E96, desiccant",
        celsius: 23.0,
        humid: 50.0,
        dry: 0.0,
        source: "from memory: ASTM E96",
    };
    /// Water at 23 °C, 100 % against 50 %.
    pub const WATER: Self = Self {
        name: "ASTM E96, water",
        celsius: 23.0,
        humid: 100.0,
        dry: 50.0,
        source: "from memory: ASTM E96",
    };

    /// The difference in vapour pressure over the sample, in Pa, with saturation by ISO 13788; `None` for humidities
    /// that are not 0 to 100 %, the humid side above the dry one.
    ///
    /// ```
    /// # use perpend::physics::CupClimate;
    /// // Reference, section 1: 1207.4 Pa in the wet cup, 1404 Pa over a desiccant (derived there).
    /// assert!((CupClimate::WET.difference().unwrap() - 1207.4).abs() < 0.05);
    /// assert!((CupClimate::DESICCANT.difference().unwrap() - 1404.0).abs() < 0.5);
    /// ```
    pub fn difference(&self) -> Option<f64> {
        let sound = self.dry >= 0.0 && self.humid > self.dry && self.humid <= 100.0;
        let saturated = sound.then(|| Saturation::Iso13788.pressure(self.celsius)).flatten()?;
        Some(saturated * (self.humid - self.dry) / 100.0)
    }

    /// The equivalent air layer in m of a vapour flow in g/(m²·d) measured in this climate: `sd = K / V`. For a flow
    /// above zero. Source: as [`sd_from_rate`].
    ///
    /// ```
    /// # use perpend::physics::{CupClimate, StillAir};
    /// # use num_rational::BigRational;
    /// # use num_traits::ToPrimitive;
    /// // Published check U75: V = 15 g/(m²·d) in the wet cup is sd 1.356 m, within 3 %.
    /// let sd = CupClimate::WET.sd_of(&BigRational::from_integer(15.into()), &StillAir::CUP_TEST).unwrap();
    /// assert!((sd.to_f64().unwrap() / 1.356 - 1.0).abs() < 0.03);
    /// ```
    pub fn sd_of(&self, rate: &BigRational, air: &StillAir) -> Option<BigRational> {
        sd_from_rate(rate, &rate_constant(air, &self.exact_difference()?))
    }

    /// The vapour flow in g/(m²·d) that an equivalent air layer in m lets through in this climate: `V = K / sd`. For
    /// sd above zero. Source: as [`sd_from_rate`].
    ///
    /// ```
    /// # use perpend::physics::{CupClimate, StillAir};
    /// # use num_rational::BigRational;
    /// # use num_traits::ToPrimitive;
    /// // Published check U77, turned round: sd 0.05085 m is V = 400 g/(m²·d), within 3 %.
    /// let sd = BigRational::new(5085.into(), 100_000.into());
    /// let rate = CupClimate::WET.rate_of(&sd, &StillAir::CUP_TEST).unwrap();
    /// assert!((rate.to_f64().unwrap() / 400.0 - 1.0).abs() < 0.03);
    /// ```
    pub fn rate_of(&self, sd: &BigRational, air: &StillAir) -> Option<BigRational> {
        sd_from_rate(sd, &rate_constant(air, &self.exact_difference()?))
    }

    /// The permeance in ng/(Pa·s·m²) of a vapour flow in g/(m²·d) measured in this climate. For a flow above zero.
    /// Source: as [`permeance_from_rate`].
    ///
    /// ```
    /// # use perpend::physics::CupClimate;
    /// # use perpend::units::{Dimension, Quantity};
    /// # use num_traits::ToPrimitive;
    /// // Published check U78, turned round: 5.968 g/(m²·d) in the wet cup are 1 perm, within 0.5 %.
    /// let rate = Quantity::parse("5.968 g/(m2 d)", Dimension::VapourFlow)?;
    /// let permeance = CupClimate::WET.permeance_of(rate.value()).unwrap().to_f64().unwrap();
    /// assert!((permeance / 57.2135 - 1.0).abs() < 0.005);
    /// # Ok::<(), perpend::units::UnitMistake>(())
    /// ```
    pub fn permeance_of(&self, rate: &BigRational) -> Option<BigRational> {
        permeance_from_rate(rate, &self.exact_difference()?)
    }

    /// The vapour flow in g/(m²·d) through a permeance in ng/(Pa·s·m²) in this climate. For a permeance above zero.
    /// Source: as [`rate_from_permeance`].
    ///
    /// ```
    /// # use perpend::physics::CupClimate;
    /// # use perpend::units::{Dimension, Quantity};
    /// # use num_traits::ToPrimitive;
    /// // Published check U78: 1 perm passes 5.968 g/(m²·d) in the wet cup, within 0.5 %.
    /// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
    /// let rate = CupClimate::WET.rate_through(perm.value()).unwrap().to_f64().unwrap();
    /// assert!((rate / 5.968 - 1.0).abs() < 0.005);
    /// # Ok::<(), perpend::units::UnitMistake>(())
    /// ```
    pub fn rate_through(&self, permeance: &BigRational) -> Option<BigRational> {
        rate_from_permeance(permeance, &self.exact_difference()?)
    }

    fn exact_difference(&self) -> Option<BigRational> {
        BigRational::from_float(self.difference()?)
    }
}
