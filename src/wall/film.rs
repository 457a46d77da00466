//! What was tested on a layer or film, in the terms of the wall: its permeance, and the air layer that equals it.

use num_rational::BigRational;

use crate::physics::Interval;
use crate::survey::{Span, Tested};

/// The permeance of what was tested, as thick as it stood, in ng/(Pa·s·m²); none for a resistance factor, which
/// belongs to no thickness. `air` is the vapour permeability of still air in ng/(Pa·s·m).
pub(super) fn permeance(air: &BigRational, tested: &Tested) -> Option<Interval> {
    match tested {
        Tested::Mu(_) => None,
        Tested::Permeance(span) => Some(ends(span)),
        Tested::Transmission(span, cup) => ends(span).through(|rate| cup.climate().permeance_of(rate)),
        Tested::AirLayer(span) => ends(span).through(|sd| crate::physics::layer_permeance(air, sd)),
    }
}

/// The equivalent air layer of a tested film, in m.
pub(super) fn air_layer(air: &BigRational, tested: &Tested) -> Option<Interval> {
    match tested {
        Tested::AirLayer(span) => Some(ends(span)),
        // sd = δ_air / W, as W = δ_air / sd.
        _ => permeance(air, tested)?.through(|permeance| crate::physics::layer_permeance(air, permeance)),
    }
}

fn ends(span: &Span) -> Interval {
    Interval::between(span.low.value().clone(), span.high.value().clone())
}
