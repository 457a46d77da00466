//! Quantities: texts such as `300 psi` in, exact values with their kind out, and back to print in both
//! systems of units. Never touches a floating-point number and never decides anything.
//!
//! Values are exact rationals, so that 1 in equals 25.4 mm and nothing else does. The units, their factors and
//! the source of each factor stand in `units.txt` beside this file.

mod dimension;
mod figure;
mod fraction;
mod mistake;
mod print;
mod quantity;
mod reading;
mod unit;

pub use dimension::Dimension;
pub use mistake::UnitMistake;
pub use print::{System, print, print_column, print_once, print_range};
pub use quantity::Quantity;

/// The units of a kind that can be read, as they are printed; none for a plain number.
pub fn unit_names(dimension: Dimension) -> impl Iterator<Item = &'static str> {
    unit::Unit::names_of(dimension)
}
