//! What cut walls look like in a drawing without colours: joints of brick, block and stone, dots of mortar.

use super::mark::{Pen, Thickness};
use super::sheet::{Place, Sheet, corners};
use super::tone::Tone;

/// What a cut, or a face, looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pattern {
    /// Courses that break joint.
    Brick,
    /// The same of large blocks.
    Block,
    /// Stones of many sizes.
    Stone,
    /// Dots.
    Mortar,
    /// Nothing.
    Plain,
}

const JOINT: Pen = Pen::solid(Thickness::Fine, Tone::Rule);

/// Heights of courses and lengths of stones, each by turns; mm.
const BRICK: (&[f64], &[f64]) = (&[2.5], &[7.5]);
const BLOCK: (&[f64], &[f64]) = (&[5.5], &[11.0]);
const STONE: (&[f64], &[f64]) = (&[5.0, 3.6, 6.2, 4.4], &[8.2, 5.1, 10.3, 6.4, 7.3]);

/// Between dots, and their side; mm.
const APART: f64 = 1.5;
const DOT: f64 = 0.35;

/// Fills a rectangle.
pub(super) fn fill(sheet: &mut Sheet, pattern: Pattern, from: Place, to: Place) {
    match pattern {
        Pattern::Brick => sheet.lines(&joints(BRICK, from, to), JOINT),
        Pattern::Block => sheet.lines(&joints(BLOCK, from, to), JOINT),
        Pattern::Stone => sheet.lines(&joints(STONE, from, to), JOINT),
        Pattern::Mortar => dots(sheet, from, to),
        Pattern::Plain => {}
    }
}

/// Joints from the upper left corner on; every other course is set back by half a stone.
fn joints((heights, lengths): (&[f64], &[f64]), from: Place, to: Place) -> Vec<Vec<Place>> {
    let mut lines = Vec::new();
    let mut lengths = lengths.iter().copied().cycle();
    let mut top = from.1;
    let mut is_back = false;
    for height in heights.iter().copied().cycle() {
        let bottom = (top + height).min(to.1);
        let mut x = from.0;
        for length in lengths.by_ref() {
            x += if is_back && x <= from.0 { length / 2.0 } else { length };
            if x >= to.0 - 0.8 {
                break;
            }
            lines.push(vec![(x, top), (x, bottom)]);
        }
        top += height;
        is_back = !is_back;
        if top >= to.1 - 0.3 {
            break;
        }
        lines.push(vec![(from.0, top), (to.0, top)]);
    }
    lines
}

fn dots(sheet: &mut Sheet, from: Place, to: Place) {
    let (mut y, mut is_back) = (from.1 + APART / 2.0, false);
    while y + DOT < to.1 {
        let mut x = from.0 + if is_back { APART } else { APART / 2.0 };
        while x + DOT < to.0 {
            sheet.area(&corners((x, y), (x + DOT, y + DOT)), Tone::Graphite);
            x += APART;
        }
        y += APART;
        is_back = !is_back;
    }
}
