//! Condensation inside a wall in steady state: the air on both sides and the layers in, the vapour line and what
//! condenses out. The line is the greatest convex curve under the saturation pressure over the equivalent air layer,
//! as a taut string would lie (Glaser's construction, ISO 13788).
//!
//! A sum of this kind leaves out rain, rising damp, capillary flow and salts. It can speak against a coat and never
//! for one; [`CAVEAT`] goes with its figures wherever they are printed.
//!
//! Layers run from outside to inside. Bases: thermal resistance in m²K/W, equivalent air layer (sd) in m, temperature
//! in °C, pressure in Pa, condensate in kg/m², its rate in kg/(m²·s), time in s. Saturation is that of ISO 13788, the
//! permeability of still air 2.0e-10 kg/(m·s·Pa).

mod block;
mod evaporation;
mod found;
mod held;
mod line;
mod months;
mod onset;
mod profile;
mod range;
mod section;
mod wall;
mod winter;

pub use block::{Assessment, Block, Part, Shortfall, assess};
pub use evaporation::{DriesFrom, Evaporated, Plane, evaporated};
pub use found::Condensate;
pub use months::{Balance, Month, MonthEnd, Outcome, Yearly, balance, indoor_air};
pub use onset::{Onset, first_coat_that_condenses, first_coat_that_never_dries, first_where};
pub use profile::{Point, Profile, Surface, vapour_flow};
pub use range::{RangedLayer, rate_between};
pub use section::{Section, Slicing};
pub use wall::{Air, Capillarity, Layer, Surfaces, Wall};
pub use winter::Winter;

/// What goes with every figure of this module.
pub const CAVEAT: &str = "a steady-state sum: it leaves out rain, rising damp, capillary flow and salts, and can \
                          speak against a coat but never for one";

/// Permeability of still air in design calculation, in kg/(m·s·Pa). Source: as
/// [`StillAir::DESIGN`](super::StillAir::DESIGN).
pub(crate) const AIR: f64 = 2.0e-10;
