//! Dew-point grids (C1), one for zones that keep the same margin in the same humidity.

use num_traits::ToPrimitive;

use super::{grouped, limits, zones_words};
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{Coats, DewPointGrid, dew_point_grid};
use crate::rulebook::book::Bound;
use crate::units::{Quantity, print};

/// Quantities that the program knows by name; a book that lacks one gets a grid without it, or none.
const MARGIN: &str = "dew-point-margin";
const TEMPERATURE: &str = "coating-temperature";
const HUMIDITY: &str = "humidity";

/// What zones of one grid have in common.
#[derive(PartialEq)]
struct Limits {
    margin: Quantity,
    dampest: Option<f64>,
}

/// The grids; a zone without a limit on the margin has none.
pub(super) fn grids(view: View<'_>) -> Vec<Drawing> {
    let groups = grouped(view, |zone| common(view, zone));
    let drawn = (1..).zip(groups).filter_map(|(number, (zones, limits)): (u32, _)| {
        let allowed: Vec<_> = zones
            .iter()
            .map(|zone| [Bound::AtLeast, Bound::AtMost].map(|bound| figure(view, *zone, TEMPERATURE, bound)))
            .collect();
        dew_point_grid(&DewPointGrid {
            id: format!("dew-point-{number}"),
            zones: zones_words(view, &zones),
            margin: limits.margin.value().to_f64()?,
            margin_words: print(&limits.margin, view.system()),
            coldest: outermost(allowed.iter().map(|[coldest, _]| *coldest), f64::min),
            warmest: outermost(allowed.iter().map(|[_, warmest]| *warmest), f64::max),
            coats: if allowed.windows(2).all(|two| two.first() == two.last()) {
                Coats::Alike
            } else {
                Coats::Differ
            },
            dampest: limits.dampest,
            system: view.system(),
        })
    });
    drawn.collect()
}

fn common(view: View<'_>, zone: usize) -> Option<Limits> {
    Some(Limits {
        margin: limits(view, zone, MARGIN, Bound::AtLeast)?.first()?.value.clone(),
        dampest: figure(view, zone, HUMIDITY, Bound::AtMost),
    })
}

fn figure(view: View<'_>, zone: usize, quantity: &str, bound: Bound) -> Option<f64> {
    limits(view, zone, quantity, bound)?.first()?.value.value().to_f64()
}

/// The outermost of some ends; `None` if one of them is open.
fn outermost(ends: impl Iterator<Item = Option<f64>>, outer: fn(f64, f64) -> f64) -> Option<f64> {
    ends.reduce(|one, other| Some(outer(one?, other?)))?
}
