//! Dew point and frost point, how far a surface keeps from it, and the humidity that keeps it there.

use super::saturation::{Below, Saturation};

/// Where vapour settles on a surface that is cooled. Below freezing the two differ by up to 1.7 K at 0 °C and 30 %,
/// so neither goes without its name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DewPoint {
    /// The temperature in °C at which the air is saturated over water.
    Dew(f64),
    /// The temperature in °C, below freezing, at which the air is saturated over ice.
    Frost(f64),
}

impl DewPoint {
    /// The temperature in °C.
    pub fn celsius(self) -> f64 {
        match self {
            Self::Dew(celsius) | Self::Frost(celsius) => celsius,
        }
    }

    /// The name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Dew(_) => "dew point",
            Self::Frost(_) => "frost point",
        }
    }
}

/// The dew point, or frost point, of air at a temperature in °C and a relative humidity in per cent, above 0 and up
/// to 100. `None` outside the range of the formula. Humidity is taken over water above freezing, and below it as
/// the formula takes saturation.
///
/// ```
/// # use perpend::physics::{DewPoint, Saturation, dew_point};
/// // Published check D46: 21.3094 °C at 25 °C and 80 % by psychrolib, within 0.0001 K.
/// let point = dew_point(25.0, 80.0, Saturation::HylandWexler).unwrap();
/// assert!((point.celsius() - 21.3094).abs() < 1e-4);
/// // Published check D28: air of 0 °C and 30 % has its frost point at -13.850 °C by ISO 13788.
/// let point = dew_point(0.0, 30.0, Saturation::Iso13788).unwrap();
/// assert!(matches!(point, DewPoint::Frost(celsius) if (celsius + 13.850).abs() < 0.005));
/// ```
pub fn dew_point(celsius: f64, percent: f64, formula: Saturation) -> Option<DewPoint> {
    let humid = percent > 0.0 && percent <= 100.0;
    let pressure = humid.then(|| formula.pressure(celsius)).flatten()? * percent / 100.0;
    dew_point_of(pressure, formula)
}

/// The dew point, or frost point, of a vapour pressure in Pa. `None` outside the range of the formula.
///
/// ```
/// # use perpend::physics::{DewPoint, Saturation, dew_point_of};
/// // Published check D07: 610.5 Pa is saturation at 0 °C by ISO 13788.
/// let point = dew_point_of(610.5, Saturation::Iso13788).unwrap();
/// assert!(point.celsius().abs() < 1e-9 && point.name() == "dew point");
/// ```
pub fn dew_point_of(pascal: f64, formula: Saturation) -> Option<DewPoint> {
    let celsius = formula.temperature(pascal)?;
    match formula.below() {
        Below::Ice if celsius < 0.0 => Some(DewPoint::Frost(celsius)),
        Below::Ice | Below::Water => Some(DewPoint::Dew(celsius)),
    }
}

/// The dew point in °C by the power rule printed beside DIN 4108-3: `φ^(1/8.02) (109.8 + t) - 109.8`, over water
/// throughout. Stated for 0 to 30 °C and answered from -20 to 50 °C, relative humidity above 0 and up to 100 %. From
/// memory.
///
/// ```
/// # use perpend::physics::dew_point_by_power;
/// // The grid of dew points gives -15.3057 °C at 0 °C and 30 %.
/// assert!((dew_point_by_power(0.0, 30.0).unwrap().celsius() + 15.3057).abs() < 1e-4);
/// ```
pub fn dew_point_by_power(celsius: f64, percent: f64) -> Option<DewPoint> {
    let within = (-20.0..=50.0).contains(&celsius) && percent > 0.0 && percent <= 100.0;
    within.then(|| DewPoint::Dew(libm::pow(percent / 100.0, 1.0 / 8.02) * (109.8 + celsius) - 109.8))
}

/// How far a surface must be warmer than the dew point. No masonry standard states it: it is borrowed from steel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Margin {
    /// 3 K. Source, second-hand: ISO 8502-4, ISO 12944-7 (steel).
    ThreeKelvin,
    /// 5 °F, which is 2.78 K and not 3 K. Source, second-hand: practice of painting steel in the United States.
    FiveFahrenheit,
}

impl Margin {
    /// The step in K.
    ///
    /// ```
    /// # use perpend::physics::Margin;
    /// // Published check D59: 5 °F are 2.7778 K, within 0.0001 K.
    /// assert!((Margin::FiveFahrenheit.kelvin() - 2.7778).abs() < 1e-4);
    /// ```
    pub fn kelvin(self) -> f64 {
        match self {
            Self::ThreeKelvin => 3.0,
            Self::FiveFahrenheit => 25.0 / 9.0,
        }
    }

    /// The margin as it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::ThreeKelvin => "3 K",
            Self::FiveFahrenheit => "5 °F",
        }
    }

    /// Whether a surface at a temperature in °C keeps the margin.
    pub fn is_kept(self, surface: f64, point: DewPoint) -> bool {
        surface - point.celsius() >= self.kelvin()
    }
}

/// The highest relative humidity of the air, in per cent, at which a surface still keeps the margin:
/// `psat(surface - margin) / psat(air)`, 100 at most. A surface colder than the air, a north wall in the morning, asks
/// for drier air. Temperatures in °C; `None` outside the range of the formula. Source: derived from the definitions;
/// 85 % does not promise a margin of 3 K.
///
/// ```
/// # use perpend::physics::{Margin, Saturation, humidity_for_margin};
/// // Published check D53: 82.87 % at 20 °C for a surface as warm as the air, within 0.02 %.
/// let humidity = humidity_for_margin(20.0, 20.0, Margin::ThreeKelvin, Saturation::Iso13788).unwrap();
/// assert!((humidity - 82.87).abs() < 0.02);
/// ```
pub fn humidity_for_margin(air: f64, surface: f64, margin: Margin, formula: Saturation) -> Option<f64> {
    let most = formula.pressure(surface - margin.kelvin())? / formula.pressure(air)?;
    Some((100.0 * most).min(100.0))
}
