//! Choosing in gates: the first option of the catalogue that is left and that no option left is preferred to. The same
//! steps as `inference::choice`.

use super::circuit::Circuit;
use super::compile::SlotWires;
use super::tri::Tri;
use crate::rulebook::book::Picks;

/// Settles a slot from its refusals and from the preferences as stated.
pub(crate) fn settled(
    circuit: &mut Circuit,
    picks: Picks,
    arises: Tri,
    refused: Vec<Tri>,
    beats: Vec<Vec<Tri>>,
) -> SlotWires {
    match picks {
        Picks::InOrder => sequence(circuit, arises, refused),
        Picks::One => pick_one(circuit, arises, refused, beats),
    }
}

fn sequence(circuit: &mut Circuit, arises: Tri, refused: Vec<Tri>) -> SlotWires {
    let chosen: Vec<Tri> = refused.iter().map(|refused| circuit.both(arises, refused.negated())).collect();
    let filled = circuit.some(chosen.iter().copied());
    SlotWires { arises: Some(arises), refused, chosen, filled: Some(filled), circular: Some(Tri::NO) }
}

fn pick_one(circuit: &mut Circuit, arises: Tri, refused: Vec<Tri>, beats: Vec<Vec<Tri>>) -> SlotWires {
    let beats = closed(circuit, beats);
    let rings = beats.iter().enumerate().filter_map(|(option, row)| row.get(option).copied());
    let circular = circuit.some(rings);
    let open = circuit.both(arises, circular.negated());
    let mut earlier = Tri::NO;
    let mut chosen = Vec::new();
    for best in undefeated(circuit, &refused, &beats) {
        let first = circuit.both(best, earlier.negated());
        chosen.push(circuit.both(open, first));
        earlier = circuit.either(earlier, best);
    }
    let left = circuit.some(refused.iter().map(|refused| refused.negated()));
    let filled = circuit.both(left, open);
    SlotWires { arises: Some(arises), refused, chosen, filled: Some(filled), circular: Some(circular) }
}

/// Closes `better over worse` transitively (Warshall 1962).
fn closed(circuit: &mut Circuit, mut beats: Vec<Vec<Tri>>) -> Vec<Vec<Tri>> {
    for middle in 0..beats.len() {
        let onward = beats.get(middle).cloned().unwrap_or_default();
        for row in &mut beats {
            let to_middle = row.get(middle).copied().unwrap_or(Tri::NO);
            if to_middle == Tri::NO {
                continue;
            }
            for (cell, next) in row.iter_mut().zip(&onward) {
                let through = circuit.both(to_middle, *next);
                *cell = circuit.either(*cell, through);
            }
        }
    }
    beats
}

/// For each option: is it left, and is no option that is left preferred to it?
fn undefeated(circuit: &mut Circuit, refused: &[Tri], beats: &[Vec<Tri>]) -> Vec<Tri> {
    let mut found = Vec::new();
    for (option, own) in refused.iter().enumerate() {
        let mut beaten = Tri::NO;
        for (other, (row, refused)) in beats.iter().zip(refused).enumerate() {
            let better = row.get(option).copied().filter(|_| other != option).unwrap_or(Tri::NO);
            let here = circuit.both(refused.negated(), better);
            beaten = circuit.either(beaten, here);
        }
        found.push(circuit.both(own.negated(), beaten.negated()));
    }
    found
}
