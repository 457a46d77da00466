//! Drawings that any paper may show, since they hold nothing of the job: to hold against a wall, or to draw on.

use crate::drawing::Drawing;
use crate::drawing::chart::{check_bar, crack_card, crack_gauge, sketch_grid};

/// Widths that a crack gauge shows, in mm: from the finest that is told by eye to one that a rule measures. Own choice.
const CRACKS: [f64; 9] = [0.1, 0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0, 5.0];

/// Those that an owner needs: what is still a hairline, and what is told of. Own choice.
const FEW_CRACKS: [f64; 5] = [0.2, 0.5, 1.0, 2.0, 3.0];

/// Height of a grid whose template asks for none, in mm.
const SKETCH: u8 = 60;

/// `crack-gauge`, `crack-card`, `check-bar`, `sketch-grid`, and `sketch-grid 80` for a grid of 80 mm.
pub(super) fn named(name: &str) -> Option<Drawing> {
    match name.split_once(' ').unwrap_or((name, "")) {
        ("crack-gauge", "") => crack_gauge("crack-gauge", &CRACKS),
        ("crack-card", "") => crack_card("crack-card", &FEW_CRACKS),
        ("check-bar", "") => Some(check_bar("check-bar")),
        ("sketch-grid", "") => Some(grid(SKETCH)),
        ("sketch-grid", height) => height.trim().parse().ok().filter(|height| *height >= 20).map(grid),
        _ => None,
    }
}

fn grid(height: u8) -> Drawing {
    sketch_grid(&format!("sketch-grid-{height}"), f64::from(height))
}
