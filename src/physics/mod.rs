//! Pure formulae: numbers in, numbers out, each with its range and its source. Knows no survey, no rule and no
//! document, and never decides whether a figure is good enough.
//!
//! What is linear or a plain quotient is worked in exact rationals, in the bases of [`crate::units::Dimension`].
//! What needs a power or a logarithm is worked in floating point through `libm`, so that every machine gives the
//! same bytes. A range is an [`Interval`], or in floating point a [`Bounds`], whose ends are carried through outward.

mod air;
mod bounds;
pub mod classes;
pub mod climate;
pub mod condensation;
mod coverage;
mod cup;
mod dewpoint;
mod drying;
mod interval;
mod rain;
pub mod salts;
mod saturation;
mod vapour;

pub use air::{StillAir, air_permeability};
pub use bounds::Bounds;
pub use coverage::{Coursing, dry_film, practical_volume, theoretical_spread, wet_film, wet_film_at};
pub use cup::CupClimate;
pub use dewpoint::{DewPoint, Margin, dew_point, dew_point_by_power, dew_point_of, humidity_for_margin};
pub use drying::{
    Comparison, Drying, Wet, days_a_kilogram, depth_equal_to_coat, dried_by_then, first_stage_flow,
    hours_to_dry_an_hour_of_rain, second_stage_days,
};
pub use interval::Interval;
pub use rain::{
    RainCriterion, RainLimit, RainTerm, Wetting, rain_term, uptake_after, uptake_from_initial_rate,
    uptake_from_minutes, uptake_from_seconds,
};
pub use saturation::{Below, Saturation};
pub use vapour::{
    layer_permeability, layer_permeance, mu_from_permeability, mu_from_resistivity, permeability_from_mu,
    permeance_from_rate, permeance_from_sd, permeance_in_series, permeance_share, rate_constant,
    rate_from_permeance, resistance, sd_from_mu, sd_from_permeance, sd_from_rate, sd_in_series,
};
