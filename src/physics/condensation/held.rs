//! The pressures that the vapour line may not pass between two airs, kept so that films can be put before them: a film
//! holds no heat, so that the temperatures, which take most of the work, stay as they are.

use super::line::{Knot, condensing};
use super::profile::Surface;
use super::section::Section;
use super::wall::Air;

/// The saturation at the outer face, and the knots of the string.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Held {
    face: f64,
    knots: Vec<Knot>,
    /// Whether the inner face is wet by itself.
    pub(super) inside: Surface,
}

impl Held {
    /// A wall between two airs.
    pub(super) fn of(section: &Section, outside: &Air, inside: &Air) -> Self {
        let state = section.state(outside, inside);
        let face = state.saturation.first().copied().unwrap_or(0.0);
        Self { face, knots: state.knots, inside: state.inside }
    }

    /// The same behind a film of an equivalent air layer in m.
    pub(super) fn behind_film(&self, sd: f64) -> Self {
        let outside = self.knots.first().copied();
        let face = Knot { sd, pressure: self.face };
        let within = self.knots.iter().skip(1).map(|knot| Knot { sd: knot.sd + sd, ..*knot });
        let mut knots = Vec::with_capacity(self.knots.len() + 1);
        knots.extend(outside.into_iter().chain([face]).chain(within));
        Self { face: self.face, knots, inside: self.inside }
    }

    /// How many stations the wall has.
    pub(super) fn stations(&self) -> usize {
        self.knots.len()
    }

    /// Whether the string runs straight from end to end, so that nothing condenses in a wall that was dry.
    pub(super) fn is_straight(&self) -> bool {
        let [first, within @ .., last] = self.knots.as_slice() else { return true };
        let (rise, run) = (last.pressure - first.pressure, last.sd - first.sd);
        within.iter().all(|knot| (knot.pressure - first.pressure) * run >= rise * (knot.sd - first.sd))
    }

    /// What condenses at each station, in kg/(m²·s); below zero where it dries off. `wet` says where water lies already.
    pub(super) fn condensing(&self, wet: impl Fn(usize) -> bool) -> Vec<f64> {
        condensing(&self.knots, wet)
    }
}
