//! Figures as neutral display lists: data in, lines, areas and words in millimetres out, with a caption and a text
//! for readers who cannot see, both computed from the same data. Writers for SVG and PDF read the list. Knows no
//! survey, no rule and no page, and picks no word that a figure does not bear out.
//!
//! Everything reads on a grey printer: lines differ by dash and weight and are named at their ends, areas by hatch;
//! colour only repeats what is said already. Words never overlap and never leave the drawing: places are worked out
//! with a width that no ordinary sans-serif type exceeds.

pub mod chart;
mod hatch;
mod mark;
mod measure;
mod number;
mod pattern;
mod place;
mod scale;
mod sheet;
mod stack;
mod svg;
mod tone;

pub use mark::{Anchor, Bold, Dash, Drawing, Mark, Mm, Pen, Size, Spot, Text, Thickness};
pub use measure::{Frame, width_of};
pub use pattern::Pattern;
pub use stack::stacked;
pub use svg::svg;
pub use tone::Tone;
