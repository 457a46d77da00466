//! The faces that are built in, the glyphs of a word, and the cut-down fonts that go into a file.

mod face;
mod shape;
mod subset;

pub(crate) use face::Face;
pub(crate) use shape::{Glyph, Shaper, is_mark, is_unseen};
pub(crate) use subset::{Subset, subset};
