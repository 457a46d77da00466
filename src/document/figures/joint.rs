//! Joints that are repointed (C2), one drawing for zones with equal limits.

use num_traits::ToPrimitive;

use super::{drawn, limits};
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{Joint, joint};
use crate::rulebook::book::Bound;
use crate::units::print;

/// Quantities that the program knows by name; a book that lacks the first gets no drawing.
const DEPTH: &str = "rake-depth";
const LIFT: &str = "mortar-lift";

/// The drawings.
pub(super) fn joints(view: View<'_>) -> Vec<Drawing> {
    let make = |data: &Joint, id, zones| joint(&Joint { id, zones, ..data.clone() });
    let data = |zone| {
        let depth = millimetres(view, zone, DEPTH, Bound::AtLeast)?;
        Some(Joint {
            id: String::new(),
            zones: None,
            depth,
            lift: millimetres(view, zone, LIFT, Bound::AtMost),
        })
    };
    drawn(view, "joint", data, make)
}

/// The strictest limit, in mm and as printed.
fn millimetres(view: View<'_>, zone: usize, quantity: &str, bound: Bound) -> Option<(f64, String)> {
    let value = &limits(view, zone, quantity, bound)?.first()?.value;
    Some((value.value().to_f64()? * 1000.0, print(value, view.system())))
}
