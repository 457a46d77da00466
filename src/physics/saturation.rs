//! The most vapour that air holds at a temperature, by the formulae in use. They differ by up to a part in two
//! hundred, so each is named; below freezing some speak of ice and some of supercooled water.

/// A formula for the saturation pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Saturation {
    /// ISO 13788: 610.5 exp(17.269 t / (237.3 + t)), below 0 °C over ice 610.5 exp(21.875 t / (265.5 + t)); -60 to
    /// 100 °C. Source, from memory: ISO 13788, annex E; the value at 20 °C published in an open test suite.
    Iso13788,
    /// Magnus over water, also below freezing: 611.2 exp(17.62 t / (243.12 + t)); -60 to 100 °C. From memory.
    Magnus,
    /// DIN 4108-3: a (b + t / 100)^n; a, b, n = 288.68, 1.098, 8.02 from 0 to 30 °C, and 4.689, 1.486, 12.30 from
    /// -20 to 0 °C. From memory.
    Din4108,
    /// ISO 8502-4, over water: 610.78 exp(17.08085 t / (234.175 + t)); -60 to 100 °C. From memory.
    Iso8502,
    /// Hyland and Wexler, as printed by ASHRAE, over ice up to the triple point at 0.01 °C; -100 to 200 °C. Source,
    /// published: psychrolib 2.5.0, which the outside checks compare live.
    HylandWexler,
}

/// The temperature at which ice, water and vapour stand side by side, in °C.
const TRIPLE_POINT: f64 = 0.01;

/// What a formula says below freezing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Below {
    /// Saturation over ice: its inverse gives the frost point.
    Ice,
    /// Saturation over supercooled water: its inverse gives the dew point.
    Water,
}

impl Saturation {
    /// All of them, in a fixed order.
    pub const ALL: [Self; 5] =
        [Self::Iso13788, Self::Magnus, Self::Din4108, Self::Iso8502, Self::HylandWexler];

    /// The name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Iso13788 => "ISO 13788",
            Self::Magnus => "Magnus over water",
            Self::Din4108 => "DIN 4108-3",
            Self::Iso8502 => "ISO 8502-4",
            Self::HylandWexler => "Hyland and Wexler",
        }
    }

    /// Whether it speaks of ice or of supercooled water below freezing.
    pub fn below(self) -> Below {
        match self {
            Self::Iso13788 | Self::Din4108 | Self::HylandWexler => Below::Ice,
            Self::Magnus | Self::Iso8502 => Below::Water,
        }
    }

    /// The coldest and the warmest temperature it is used for, in °C.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Din4108 => (-20.0, 30.0),
            Self::HylandWexler => (-100.0, 200.0),
            _ => (-60.0, 100.0),
        }
    }

    /// The saturation pressure in Pa at a temperature in °C; `None` outside the range of the formula.
    ///
    /// ```
    /// # use perpend::physics::Saturation;
    /// // Published in an open ISO 13788 test suite: 2336.95114380 Pa at 20 °C.
    /// let pressure = Saturation::Iso13788.pressure(20.0).unwrap();
    /// assert!((pressure - 2336.951_143_80).abs() < 1e-8);
    /// // Published check D08: 611.1536 Pa at 0 °C by psychrolib, within 0.05 %.
    /// assert!((Saturation::HylandWexler.pressure(0.0).unwrap() / 611.1536 - 1.0).abs() < 5e-4);
    /// ```
    pub fn pressure(self, celsius: f64) -> Option<f64> {
        let (coldest, warmest) = self.range();
        (coldest..=warmest).contains(&celsius).then(|| self.formula(celsius))
    }

    fn formula(self, t: f64) -> f64 {
        match self {
            Self::Iso13788 if t >= 0.0 => 610.5 * libm::exp(17.269 * t / (237.3 + t)),
            Self::Iso13788 => 610.5 * libm::exp(21.875 * t / (265.5 + t)),
            Self::Magnus => 611.2 * libm::exp(17.62 * t / (243.12 + t)),
            Self::Din4108 if t >= 0.0 => 288.68 * libm::pow(1.098 + t / 100.0, 8.02),
            Self::Din4108 => 4.689 * libm::pow(1.486 + t / 100.0, 12.30),
            Self::Iso8502 => 610.78 * libm::exp(17.08085 * t / (234.175 + t)),
            Self::HylandWexler => libm::exp(hyland_wexler(t).0),
        }
    }

    /// The temperature in °C at which a pressure in Pa is the saturation pressure; `None` for a pressure that none
    /// within the range has. Each formula is turned round by hand, but for that of Hyland and Wexler, which is
    /// solved by Newton's steps.
    ///
    /// ```
    /// # use perpend::physics::Saturation;
    /// // The inverse gives back what went in: 610.5 Pa is 0 °C by ISO 13788 (published check D07).
    /// assert!(Saturation::Iso13788.temperature(610.5).unwrap().abs() < 1e-9);
    /// ```
    pub fn temperature(self, pascal: f64) -> Option<f64> {
        let (coldest, warmest) = self.range();
        let found = (pascal > 0.0).then(|| self.inverse(pascal)).flatten()?;
        // Ends of the range may come back a hair outside it.
        (found > coldest - 1e-6 && found < warmest + 1e-6).then(|| found.clamp(coldest, warmest))
    }

    fn inverse(self, pascal: f64) -> Option<f64> {
        let magnus = |at_zero: f64, rise: f64, pole: f64| {
            let power = libm::log(pascal / at_zero);
            pole * power / (rise - power)
        };
        let root =
            |factor: f64, shift: f64, power: f64| 100.0 * (libm::pow(pascal / factor, 1.0 / power) - shift);
        match self {
            Self::Iso13788 if pascal >= 610.5 => Some(magnus(610.5, 17.269, 237.3)),
            Self::Iso13788 => Some(magnus(610.5, 21.875, 265.5)),
            Self::Magnus => Some(magnus(611.2, 17.62, 243.12)),
            Self::Din4108 if pascal >= self.formula(0.0) => Some(root(288.68, 1.098, 8.02)),
            Self::Din4108 => Some(root(4.689, 1.486, 12.30)),
            Self::Iso8502 => Some(magnus(610.78, 17.08085, 234.175)),
            Self::HylandWexler => hyland_wexler_inverse(pascal),
        }
    }
}

/// The natural logarithm of the saturation pressure in Pa, and by how much it rises a kelvin.
fn hyland_wexler(celsius: f64) -> (f64, f64) {
    let t = celsius + 273.15;
    if celsius <= TRIPLE_POINT {
        let power = -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t
            + (6.221_570_1e-7 + (2.074_782_5e-9 - 9.484_024e-13 * t) * t) * t * t
            + 4.163_501_9 * libm::log(t);
        let rise = 5.674_535_9e3 / (t * t) - 9.677_843e-3
            + (2.0 * 6.221_570_1e-7 + (3.0 * 2.074_782_5e-9 - 4.0 * 9.484_024e-13 * t) * t) * t
            + 4.163_501_9 / t;
        return (power, rise);
    }
    let power = -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t
        + (4.176_476_8e-5 - 1.445_209_3e-8 * t) * t * t
        + 6.545_967_3 * libm::log(t);
    let rise = 5.800_220_6e3 / (t * t) - 4.864_023_9e-2
        + (2.0 * 4.176_476_8e-5 - 3.0 * 1.445_209_3e-8 * t) * t
        + 6.545_967_3 / t;
    (power, rise)
}

/// Newton's steps on the logarithm, which bends so little that a few suffice; the step over the triple point, where
/// the two branches meet within a hundredth of a pascal, does no harm.
fn hyland_wexler_inverse(pascal: f64) -> Option<f64> {
    let wanted = libm::log(pascal);
    let mut celsius = Saturation::Magnus.inverse(pascal)?.clamp(-100.0, 200.0);
    for _ in 0..60 {
        let (power, rise) = hyland_wexler(celsius);
        let step = (power - wanted) / rise;
        celsius = (celsius - step).clamp(-101.0, 201.0);
        if step.abs() < 1e-10 {
            return Some(celsius);
        }
    }
    None
}
