//! Boxes to tick and lines to write on. They are artifacts: the words beside them say what they are for.

use super::laid::{Look, Mark, Owner, Paint, Pen};
use super::tokens::{BLANK_DROP, CAPITAL, Colour, Pt, TICK_BOX, WEIGHT_HAIR, WEIGHT_TOP};
use super::words::Drawn;
use crate::document::block::{Ruled, Tick};
use crate::drawing::Dash;

/// What is drawn among words that start at `x` on a baseline `y`, which counts down.
pub(crate) fn drawn(drawn: Drawn, (x, y): (Pt, Pt), look: Look) -> Option<Mark> {
    match drawn {
        Drawn::Tick(tick) => Some(tick_box(tick, (x, y), look)),
        Drawn::Room { line: Ruled::No, .. } => None,
        Drawn::Room { width, line: Ruled::Yes } => {
            Some(Mark::Rule { x, y: y + BLANK_DROP, width, weight: WEIGHT_HAIR, colour: Colour::Ink })
        }
    }
}

/// A box with its middle at that of the capitals, crossed if it is ticked.
fn tick_box(tick: Tick, (x, y): (Pt, Pt), look: Look) -> Mark {
    let middle = y - CAPITAL * look.size / 2.0;
    let half = (TICK_BOX - WEIGHT_TOP) / 2.0;
    let (left, right) = (x + WEIGHT_TOP / 2.0, x + TICK_BOX - WEIGHT_TOP / 2.0);
    let (top, bottom) = (middle - half, middle + half);
    let mut lines = vec![vec![(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]];
    if tick == Tick::Set {
        lines.push(vec![(left, top), (right, bottom)]);
        lines.push(vec![(left, bottom), (right, top)]);
    }
    let pen = Pen { weight: WEIGHT_TOP, dash: Dash::Solid, colour: Colour::Ink };
    Mark::Path { lines, paint: Paint::Lines(pen), owner: Owner::Artifact }
}
