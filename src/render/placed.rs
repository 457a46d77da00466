//! What stands where on laid pages, open to whoever checks them; nothing here judges.

use super::laid::{Laid, Mark, Owner, Run};
use super::tokens::{Colour, Pt};
use crate::drawing::Tone;

/// One thing painted. Lengths are points, heights count up from the foot of the paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Page, from 0.
    pub page: usize,
    /// The block that it belongs to; `None` for heads, feet, rules and repeated heads.
    pub block: Option<String>,
    /// The part of the block, as in [`super::Marked`]; empty without a block.
    pub part: String,
    /// Left end.
    pub left: f64,
    /// Baseline of words, lower edge of anything else.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Size of words, height of anything else.
    pub height: f64,
    /// Colour.
    pub tone: Tone,
    /// What it is.
    pub what: What,
}

/// What is painted.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Words on one line.
    Words {
        /// As copied.
        text: String,
        /// Glyphs that no face has: an empty box would be printed.
        holes: usize,
    },
    /// A rule, the course line among them.
    Rule,
    /// A filled rectangle.
    Fill,
    /// Lines or an area of a figure.
    Figure,
}

impl Laid {
    /// Width and height of the paper, in points.
    pub fn paper(&self) -> (f64, f64) {
        self.paper
    }

    /// Everything painted, page by page in reading order.
    pub fn placed(&self) -> Vec<Placed> {
        let pages = self.pages.iter().enumerate();
        pages
            .flat_map(|(page, laid)| laid.marks.iter().map(move |mark| self.placed_mark(page, mark)))
            .collect()
    }

    fn placed_mark(&self, page: usize, mark: &Mark) -> Placed {
        let (block, part) = match mark.owner() {
            Owner::Artifact => (None, String::new()),
            Owner::Content(block, part) => (Some(self.name(block).to_owned()), part.to_string()),
        };
        let at = |left: Pt, y: Pt, (width, height): (Pt, Pt), tone: Colour, what: What| Placed {
            page,
            block: block.clone(),
            part: part.clone(),
            left,
            y,
            width,
            height,
            tone,
            what,
        };
        match mark {
            Mark::Text { x, y, run } => at(*x, *y, (run.width, run.look.size), run.look.colour, words(run)),
            Mark::Rule { x, y, width, weight, colour } => {
                at(*x, y - weight / 2.0, (*width, *weight), *colour, What::Rule)
            }
            Mark::Fill { x, y, width, height, colour } => {
                at(*x, y - height, (*width, *height), *colour, What::Fill)
            }
            Mark::Course { x, y, width } => at(*x, *y, (*width, 0.0), Colour::Accent, What::Rule),
            Mark::Path { lines, paint, .. } => {
                let (left, y, right, top) = extent(lines);
                at(left, y, (right - left, top - y), paint.colour(), What::Figure)
            }
        }
    }
}

fn words(run: &Run) -> What {
    let holes = run.glyphs.iter().filter(|glyph| glyph.id == 0).count();
    What::Words { text: run.text.clone(), holes }
}

/// Left, lowest, right and highest of places.
fn extent(lines: &[Vec<(Pt, Pt)>]) -> (Pt, Pt, Pt, Pt) {
    let first = lines.iter().flatten().next().copied().unwrap_or_default();
    lines.iter().flatten().fold((first.0, first.1, first.0, first.1), |(left, low, right, high), (x, y)| {
        (left.min(*x), low.min(*y), right.max(*x), high.max(*y))
    })
}
