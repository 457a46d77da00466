//! Several drawings one below the other as one, with their captions and notes set in it: for a reader who gets the
//! picture alone.

use super::mark::{Anchor, Drawing, Mark, Mm, Spot};
use super::measure::{broken, height_of};
use super::sheet::{Said, Sheet, Type};

/// Room after a drawing, and between it and the words around it; mm.
const AFTER: f64 = 9.0;
const GAP: f64 = 2.0;
/// The most lines of a caption or a note.
const LINES: usize = 12;

/// One drawing of several; `None` if there is none.
pub fn stacked(id: &str, title: &str, drawings: &[Drawing]) -> Option<Drawing> {
    let width = drawings.iter().map(|drawing| drawing.width.millimetres()).reduce(f64::max)?;
    let mut sheet = Sheet::default();
    let mut y = 0.0;
    for drawing in drawings {
        y = words(&mut sheet, &drawing.caption, Type::STRONG, width, y) + GAP;
        sheet.copy(drawing.marks.iter().map(|mark| lowered(mark, y)));
        y += drawing.height.millimetres() + GAP;
        y = words(&mut sheet, &drawing.note, Type::QUIET, width, y) + AFTER;
    }
    let alternatives: Vec<String> = drawings.iter().map(|drawing| drawing.alt.clone()).collect();
    Some(sheet.finished(
        width,
        y - AFTER,
        Said {
            id: id.to_owned(),
            title: title.to_owned(),
            caption: title.to_owned(),
            note: String::new(),
            alt: alternatives.join(" "),
        },
    ))
}

/// Sets words from a height down, and says where they end.
fn words(sheet: &mut Sheet, words: &str, kind: Type, width: f64, top: f64) -> f64 {
    let step = height_of(kind.size) * 1.2;
    let mut y = top;
    for line in broken(words, kind.size, kind.bold, width, LINES) {
        sheet.label((0.0, y + step / 2.0), &line, kind, Anchor::Start);
        y += step;
    }
    y
}

fn lowered(mark: &Mark, by: f64) -> Mark {
    mark.moved(|spot| Spot { x: spot.x, y: Mm::of(spot.y.millimetres() + by) })
}
