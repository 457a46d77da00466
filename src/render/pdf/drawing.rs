//! The lines and shapes of figures, in the content of a page. Their words are painted as all words are.

use super::content::Sheet;
use crate::render::laid::{Paint, Pen};
use crate::render::tokens::Pt;

impl Sheet<'_> {
    /// Lines, or one filled shape.
    pub(super) fn path(&mut self, lines: &[Vec<(Pt, Pt)>], paint: Paint) {
        match paint {
            Paint::Lines(pen) => {
                self.pen(pen);
                for line in lines {
                    self.through(line);
                }
                self.say("S");
                if !pen.dash.pattern().is_empty() {
                    self.say("[] 0 d");
                }
            }
            Paint::Area(colour) => {
                self.fill(colour);
                for line in lines {
                    self.through(line);
                }
                self.say("h f");
            }
        }
    }

    fn pen(&mut self, pen: Pen) {
        self.stroke(pen.colour, pen.weight);
        let pattern = pen.dash.pattern();
        if !pattern.is_empty() {
            self.out.push(b'[');
            self.give(pattern, "] 0 d");
        }
    }

    /// A path through places, from the first.
    fn through(&mut self, places: &[(Pt, Pt)]) {
        for (number, (x, y)) in places.iter().enumerate() {
            let step = if number == 0 { "m" } else { "l" };
            self.give(&[*x, *y], step);
        }
    }
}
