//! The classes of standards: exact figures in, the class out. A class is a label for comparing tested figures; none
//! says whether a coat suits a wall. Letters of one standard are never those of another, and a higher number of
//! one letter may be better where that of another is worse, so every letter is a type of its own.

mod coat;
mod concrete;
mod layer;
mod render;
mod retarder;

pub use coat::{CarbonClass, CrackClass, FilmClass, GlossClass, GrainClass, VapourClass, WaterClass};
pub use concrete::{ConcreteClass, concrete_absorption_is_low};
pub use layer::{Edition, LayerTerm};
pub use render::RenderClass;
pub use retarder::RetarderClass;

use num_rational::BigRational;

use super::interval::Interval;

/// The classes at the two ends of a range, for a class that only ever rises or falls along it. They may be one class.
pub fn at_both_ends<Class>(
    range: &Interval,
    class: impl Fn(&BigRational) -> Option<Class>,
) -> Option<(Class, Class)> {
    Some((class(range.low())?, class(range.high())?))
}

/// A decimal as an exact number, for the limits of classes.
fn decimal(hundredths: i64) -> BigRational {
    BigRational::new(hundredths.into(), 100.into())
}
