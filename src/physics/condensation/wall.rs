//! The wall as condensation sees it, and the air on both sides.

use crate::physics::saturation::Saturation;

/// Air of one temperature and vapour pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    celsius: f64,
    pressure: f64,
}

impl Air {
    /// Air at a temperature from -60 to 60 °C and a relative humidity from 0 to 100 %.
    ///
    /// ```
    /// # use perpend::physics::condensation::Air;
    /// // Published check G08: air of -5 °C and 80 % has 321 Pa, within 0.5 Pa.
    /// assert!((Air::new(-5.0, 80.0).unwrap().pressure() - 321.0).abs() < 0.5);
    /// ```
    pub fn new(celsius: f64, percent: f64) -> Option<Self> {
        let humid = (0.0..=100.0).contains(&percent);
        humid
            .then(|| saturated(celsius))
            .flatten()
            .map(|most| Self { celsius, pressure: most * percent / 100.0 })
    }

    /// Air at a temperature from -60 to 60 °C and a vapour pressure in Pa, from zero to saturation.
    pub fn with_pressure(celsius: f64, pressure: f64) -> Option<Self> {
        let most = saturated(celsius)?;
        (0.0..=most).contains(&pressure).then_some(Self { celsius, pressure })
    }

    /// The same, with the part of the pressure above saturation left out.
    pub fn at_most_saturated(celsius: f64, pressure: f64) -> Option<Self> {
        let most = saturated(celsius)?;
        (pressure >= 0.0).then_some(Self { celsius, pressure: pressure.min(most) })
    }

    /// The temperature in °C.
    pub fn celsius(&self) -> f64 {
        self.celsius
    }

    /// The vapour pressure in Pa.
    pub fn pressure(&self) -> f64 {
        self.pressure
    }
}

fn saturated(celsius: f64) -> Option<f64> {
    (-60.0..=60.0).contains(&celsius).then(|| Saturation::Iso13788.pressure(celsius)).flatten()
}

/// Whether a layer draws in condensate that forms against it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Capillarity {
    /// It does, as brick, stone, mortar and lime do.
    Absorbs,
    /// It does not, as films and foils do not.
    Repels,
}

/// One layer of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    resistance: f64,
    sd: f64,
    capillarity: Capillarity,
}

/// Less than this is no layer, and more is tight beyond any difference.
const SD: std::ops::RangeInclusive<f64> = 1e-6..=1e5;

/// The most thermal resistance that a layer may have, in m²K/W.
const MOST_RESISTANCE: f64 = 1000.0;

impl Layer {
    /// A layer of a thermal resistance from 0 to 1000 m²K/W and an equivalent air layer from 1e-6 to 100 000 m.
    pub fn new(resistance: f64, sd: f64, capillarity: Capillarity) -> Option<Self> {
        let sound = (0.0..=MOST_RESISTANCE).contains(&resistance) && SD.contains(&sd);
        sound.then_some(Self { resistance, sd, capillarity })
    }

    /// A layer of a thickness in m, a conductivity in W/(m·K) and a µ: `R = d / λ`, `sd = µ d`. For d and λ above zero
    /// and µ not below 1, within the ranges of [`Layer::new`]. Source, published: ISO 13788.
    ///
    /// ```
    /// # use perpend::physics::condensation::{Capillarity, Layer};
    /// // Reference, section 6: 15 mm of plaster, λ 0.70 and µ 10, have sd 0.15 m (derived there).
    /// let plaster = Layer::of_material(0.015, 0.70, 10.0, Capillarity::Absorbs).unwrap();
    /// assert!((plaster.sd() - 0.15).abs() < 1e-12);
    /// ```
    pub fn of_material(thickness: f64, conductivity: f64, mu: f64, capillarity: Capillarity) -> Option<Self> {
        let sound = thickness > 0.0 && conductivity > 0.0 && mu >= 1.0;
        sound.then(|| Self::new(thickness / conductivity, mu * thickness, capillarity)).flatten()
    }

    /// A film of an equivalent air layer in m, without thermal resistance, that draws in no condensate.
    pub fn film(sd: f64) -> Option<Self> {
        Self::new(0.0, sd, Capillarity::Repels)
    }

    /// Its thermal resistance, in m²K/W.
    pub fn resistance(&self) -> f64 {
        self.resistance
    }

    /// Its equivalent air layer, in m.
    pub fn sd(&self) -> f64 {
        self.sd
    }

    /// Whether it draws in condensate.
    pub fn capillarity(&self) -> Capillarity {
        self.capillarity
    }
}

/// The thermal resistances of the air at both faces, in m²K/W.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surfaces {
    outside: f64,
    inside: f64,
}

impl Surfaces {
    /// 0.04 outside and 0.13 inside. Source, from memory: DIN 4108-3:2001; published in an open ISO 13788 test suite.
    pub const ORDINARY: Self = Self { outside: 0.04, inside: 0.13 };
    /// 0.04 outside and 0.25 inside, as behind furniture. Source, from memory: DIN 4108-3:2018, ISO 13788.
    pub const SHELTERED: Self = Self { outside: 0.04, inside: 0.25 };

    /// Two resistances above 0 and up to 10 m²K/W.
    pub fn new(outside: f64, inside: f64) -> Option<Self> {
        let sound = |resistance: f64| resistance > 0.0 && resistance <= 10.0;
        (sound(outside) && sound(inside)).then_some(Self { outside, inside })
    }

    /// Outside, in m²K/W.
    pub fn outside(&self) -> f64 {
        self.outside
    }

    /// Inside, in m²K/W.
    pub fn inside(&self) -> f64 {
        self.inside
    }
}

/// The most layers of a wall.
const MOST_LAYERS: usize = 200;

/// The layers of a wall, from outside to inside; at least one.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    layers: Vec<Layer>,
}

impl Wall {
    /// A wall of 1 to 200 layers.
    pub fn new(layers: Vec<Layer>) -> Option<Self> {
        (1..=MOST_LAYERS).contains(&layers.len()).then_some(Self { layers })
    }

    /// The same wall with one layer more on its outer face.
    pub fn with_coat(&self, coat: Layer) -> Option<Self> {
        let layers = std::iter::once(coat).chain(self.layers.iter().copied());
        Self::new(layers.collect())
    }

    /// The layers, from outside to inside.
    pub fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// The equivalent air layer of all layers, in m.
    pub fn sd(&self) -> f64 {
        self.layers.iter().map(|layer| layer.sd).sum()
    }
}
