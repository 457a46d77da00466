//! The vapour line: a string drawn taut from the pressure outside to the pressure inside, that may nowhere lie above
//! saturation, and rests on it where water is already there.

use super::AIR;

/// A place along the wall: the equivalent air layer outside of it in m, and a pressure in Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Knot {
    pub(super) sd: f64,
    pub(super) pressure: f64,
}

/// The string over all stations.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// The vapour pressure at each station, in Pa.
    pub(super) pressures: Vec<f64>,
    /// What condenses at each station, in kg/(m²·s); below zero where it dries off.
    pub(super) rates: Vec<f64>,
}

/// Rates below this, in kg/(m²·s), are rounding: ten millionths of a gram in a winter.
const LEAST_RATE: f64 = 1e-15;

/// Draws the string. The knots hold the saturation pressures of the stations, but for the first and the last, which
/// hold the pressures that it starts and ends with; `wet` says where water is already there.
pub(super) fn draw(knots: &[Knot], wet: impl Fn(usize) -> bool) -> Line {
    let rests = rests(knots, wet);
    Line { pressures: between(&rests, knots), rates: rates(&rests, knots.len()) }
}

/// What condenses at each station alone, in kg/(m²·s), of the same string.
pub(super) fn condensing(knots: &[Knot], wet: impl Fn(usize) -> bool) -> Vec<f64> {
    rates(&rests(knots, wet), knots.len())
}

/// The knots that the string rests on, with their places.
fn rests(knots: &[Knot], wet: impl Fn(usize) -> bool) -> Vec<(usize, Knot)> {
    let mut rests: Vec<(usize, Knot)> = Vec::new();
    let last = knots.len().saturating_sub(1);
    // Since the last place that the string is bound to, no knot before it can be let go.
    let mut bound = 0;
    for (place, knot) in knots.iter().enumerate() {
        while rests.len() > bound + 1 && lifts_off(&rests, knot) {
            rests.pop();
        }
        rests.push((place, *knot));
        if place > 0 && place < last && wet(place) {
            bound = rests.len() - 1;
        }
    }
    rests
}

/// Whether the last knot that the string rests on lies on or above the straight line from the one before to a new one.
fn lifts_off(rests: &[(usize, Knot)], new: &Knot) -> bool {
    let [.., (_, before), (_, last)] = rests else { return false };
    (last.pressure - before.pressure) * (new.sd - before.sd)
        >= (new.pressure - before.pressure) * (last.sd - before.sd)
}

fn slope((_, from): &(usize, Knot), (_, to): &(usize, Knot)) -> f64 {
    (to.pressure - from.pressure) / (to.sd - from.sd)
}

fn rates(rests: &[(usize, Knot)], stations: usize) -> Vec<f64> {
    let mut rates = vec![0.0; stations];
    for three in rests.windows(3) {
        let [outer, here, inner] = three else { continue };
        let rate = AIR * (slope(here, inner) - slope(outer, here));
        if let Some(cell) = rates.get_mut(here.0).filter(|_| rate.abs() >= LEAST_RATE) {
            *cell = rate;
        }
    }
    rates
}

/// The pressure at every knot: that of the string, which rounding may not lift above the knot.
fn between(rests: &[(usize, Knot)], knots: &[Knot]) -> Vec<f64> {
    let mut pressures: Vec<f64> = knots.iter().map(|knot| knot.pressure).collect();
    for pair in rests.windows(2) {
        let [from, to] = pair else { continue };
        for (pressure, knot) in pressures.iter_mut().zip(knots).take(to.0).skip(from.0 + 1) {
            *pressure = pressure.min(from.1.pressure + slope(from, to) * (knot.sd - from.1.sd)).max(0.0);
        }
    }
    pressures
}
