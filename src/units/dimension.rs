//! The kinds of quantity that facts, limits and catalogue columns may hold.

/// What is measured. Two quantities can be compared only if they have the same kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// A plain number without a unit, such as µ. Base 1.
    Number,
    /// A share in hundredths. Base 1 %.
    Percent,
    /// A length or a thickness. Base m.
    Length,
    /// An equivalent air layer (sd); metres in both systems, so that it never prints in feet. Base m.
    AirLayer,
    /// An area. Base m².
    Area,
    /// A volume. Base m³.
    Volume,
    /// A pressure or a strength. Base Pa.
    Pressure,
    /// How readily vapour passes a layer as it stands. Base ng/(Pa·s·m²).
    Permeance,
    /// How readily vapour passes a material, whatever its thickness. Base ng/(Pa·s·m).
    Permeability,
    /// A temperature on the scale. Base °C.
    Temperature,
    /// A difference between two temperatures. Base K.
    TemperatureStep,
    /// A length of time. Base s.
    Duration,
    /// A volume in a time. Base m³/s.
    Flow,
    /// A volume of air in a time, as a vacuum draws it. Base m³/s.
    AirFlow,
    /// The area that a volume covers. Base m²/m³.
    Spread,
    /// The volume that an area takes. Base m³/m².
    Consumption,
    /// Water taken up by an area, by the square root of time. Base kg/(m²·√h).
    Uptake,
    /// An uptake times an equivalent air layer: what rain brings against what drying takes. Base kg/(m·√h).
    RainProduct,
    /// How well heat passes a material, whatever its thickness (λ). Base W/(m·K).
    Conductivity,
    /// How far a layer holds heat back (R). Base m²·K/W.
    ThermalResistance,
    /// Vapour passing an area in a time. Base g/(m²·d).
    VapourFlow,
    /// A mass on an area. Base kg/m².
    MassPerArea,
    /// A mass in a volume, as of solvent in paint. Base g/L.
    MassPerVolume,
    /// A speed. Base m/s.
    Speed,
    /// An angle. Base one degree.
    Angle,
    /// An electric tension. Base V.
    Voltage,
    /// The light that a face throws back at one angle, which the name of the reading states. Base one gloss unit.
    Gloss,
}

/// Every kind, its name in the rule language, and its name in a sentence.
const KINDS: [(Dimension, &str, &str); 27] = [
    (Dimension::Number, "number", "a plain number"),
    (Dimension::Percent, "percent", "a percentage"),
    (Dimension::Length, "length", "a length"),
    (Dimension::AirLayer, "air-layer", "an equivalent air layer"),
    (Dimension::Area, "area", "an area"),
    (Dimension::Volume, "volume", "a volume"),
    (Dimension::Pressure, "pressure", "a pressure"),
    (Dimension::Permeance, "permeance", "a permeance"),
    (Dimension::Permeability, "permeability", "a permeability"),
    (Dimension::Temperature, "temperature", "a temperature"),
    (Dimension::TemperatureStep, "temperature-step", "a temperature step"),
    (Dimension::Duration, "duration", "a duration"),
    (Dimension::Flow, "flow", "a flow"),
    (Dimension::AirFlow, "air-flow", "an air flow"),
    (Dimension::Spread, "spread", "a spread"),
    (Dimension::Consumption, "consumption", "a consumption"),
    (Dimension::Uptake, "uptake", "an uptake"),
    (Dimension::RainProduct, "rain-product", "a rain product"),
    (Dimension::Conductivity, "conductivity", "a thermal conductivity"),
    (Dimension::ThermalResistance, "thermal-resistance", "a thermal resistance"),
    (Dimension::VapourFlow, "vapour-flow", "a vapour flow"),
    (Dimension::MassPerArea, "mass-per-area", "a mass per area"),
    (Dimension::MassPerVolume, "mass-per-volume", "a mass per volume"),
    (Dimension::Speed, "speed", "a speed"),
    (Dimension::Angle, "angle", "an angle"),
    (Dimension::Voltage, "voltage", "a voltage"),
    (Dimension::Gloss, "gloss", "a gloss"),
];

impl Dimension {
    /// The name in the rule language, such as `temperature-step`.
    pub fn name(self) -> &'static str {
        KINDS.iter().find(|(kind, ..)| *kind == self).map_or("", |(_, name, _)| name)
    }

    /// The name in a sentence, such as `a temperature step`.
    pub fn phrase(self) -> &'static str {
        KINDS.iter().find(|(kind, ..)| *kind == self).map_or("", |(.., phrase)| phrase)
    }

    /// The kind that the rule language calls by this name.
    pub fn from_name(name: &str) -> Option<Self> {
        KINDS.iter().find(|(_, known, _)| *known == name).map(|(kind, ..)| *kind)
    }

    /// Every kind, in a fixed order.
    pub fn all() -> impl Iterator<Item = Self> {
        KINDS.iter().map(|(kind, ..)| *kind)
    }
}
