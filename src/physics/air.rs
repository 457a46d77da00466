//! The vapour permeability of still air: the figure that every equivalent air layer is counted in.

use num_rational::BigRational;

/// A figure in use for still air. Four are in use and differ by a tenth, so that an equivalent air layer means
/// nothing until it names its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StillAir {
    /// Where it is used.
    pub name: &'static str,
    /// ng/(Pa·s·m), a whole number in every case.
    per_metre: u32,
    /// Who says so.
    pub source: &'static str,
}

impl StillAir {
    /// Design calculation: 2.0e-10 kg/(m·s·Pa).
    pub const DESIGN: Self = Self {
        name: "design calculation",
        per_metre: 200,
        source: "published: a constant in two public programs after ISO 13788",
    };
    /// Evaluation of cup tests at 23 °C and 1013 hPa: 1.95e-10 kg/(m·s·Pa).
    pub const CUP_TEST: Self =
        Self { name: "cup test", per_metre: 195, source: "from memory: ISO 12572, EN ISO 7783" };
    /// Mortars at 20 °C: 1.94e-10 kg/(m·s·Pa).
    pub const MORTAR: Self = Self {
        name: "mortar test",
        per_metre: 194,
        source: "published: EN 998-1 as quoted in the appendix of a handbook",
    };
    /// Danish practice, 5.5e9 Pa·s·m²/kg a metre: 1.8e-10 kg/(m·s·Pa).
    pub const DANISH: Self =
        Self { name: "Danish practice", per_metre: 180, source: "published: a Danish guideline on moisture" };

    /// All of them, the most open first.
    pub const ALL: [Self; 4] = [Self::DESIGN, Self::CUP_TEST, Self::MORTAR, Self::DANISH];

    /// The permeability, in ng/(Pa·s·m).
    pub fn permeability(&self) -> BigRational {
        BigRational::from_integer(self.per_metre.into())
    }
}

/// The vapour permeability of still air by Schirmer's formula, in kg/(m·s·Pa):
/// `0.083 p0 / (Rv T p) (T / 273)^1.81 / 3600`, with Rv = 462 J/(kg·K), p0 = 101 325 Pa, T = t + 273.
///
/// For air from -20 to 50 °C near the ground; the pressure above zero. Source, from memory: EN ISO 12572, EN ISO 7783.
///
/// ```
/// # use perpend::physics::air_permeability;
/// // Published check U67: 1.828e-10 at 0 °C and sea level, within 0.3 %.
/// let still_air = air_permeability(0.0, 101_325.0);
/// assert!((still_air / 1.828e-10 - 1.0).abs() < 0.003);
/// ```
pub fn air_permeability(celsius: f64, pascal: f64) -> f64 {
    let kelvin = celsius + 273.0;
    0.083 * 101_325.0 / (462.0 * kelvin * pascal) * libm::pow(kelvin / 273.0, 1.81) / 3600.0
}
