//! Pure formulae: numbers in, numbers out, each with its range and its source. Knows no survey, no rule and no
//! document, and never decides whether a figure is good enough.
//!
//! What is linear or a plain quotient is worked in exact rationals, in the bases of [`crate::units::Dimension`].
//! What needs a power or a logarithm is worked in floating point through `libm`, so that every machine gives the
//! same bytes. A range is an [`Interval`] whose ends are carried through outward.

mod air;
mod interval;
mod vapour;

pub use air::{StillAir, air_permeability};
pub use interval::Interval;
pub use vapour::{
    layer_permeability, layer_permeance, mu_from_permeability, mu_from_resistivity, permeability_from_mu,
    permeance_from_rate, permeance_from_sd, permeance_in_series, permeance_share, rate_constant,
    rate_from_permeance, resistance, sd_from_mu, sd_from_permeance, sd_from_rate, sd_in_series,
};
