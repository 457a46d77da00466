//! Figures: a caption, a display list and a note as one row, so that no page end comes between.

use super::compose::{Setter, baseline, marks, owner};
use super::flow::{Row, Span};
use super::laid::{Mark, Owner, Paint, Part, Pen};
use super::line::one_line;
use super::tokens::{CAPTION_GAP, IN_FIGURE, MARGIN_SIDE, NOTE_GAP, Pt, TABLE_AFTER, Type};
use super::words::Words;
use crate::document::block::Voice;
use crate::drawing::{Anchor, Bold, Drawing, Mark as Drawn, Spot, Text};

/// Rounding that does not make a figure wider than the text.
const EASE: Pt = 0.5;

impl Setter<'_> {
    /// A figure with its words.
    pub(crate) fn figure(&mut self, block: u32, drawing: &Drawing) {
        let (span, x, width) = self.stand(drawing.width.points());
        let mut painted = Vec::new();
        let caption = self.tokens.caption;
        let mut y = self.around(
            &drawing.caption,
            caption,
            owner(block, Part::Caption),
            (x, 0.0, width),
            &mut painted,
        );
        y += if y > 0.0 { CAPTION_GAP } else { 0.0 };
        let own = owner(block, Part::Figure);
        for mark in &drawing.marks {
            self.drawn(mark, own, (x, y), &mut painted);
        }
        y += drawing.height.points();
        let note = self.around(
            &drawing.note,
            self.tokens.note,
            owner(block, Part::Note),
            (x, y + NOTE_GAP, width),
            &mut painted,
        );
        y += if note > 0.0 { NOTE_GAP + note } else { 0.0 };
        self.alternatives.insert(block, drawing.alt.clone());
        let height = y + TABLE_AFTER - self.tokens.space.paragraph;
        self.push(span, self.tokens.space.apart, block, vec![Row::new(height, painted)]);
    }

    /// Where a figure of this width stands, and how wide the words around it are.
    fn stand(&self, width: Pt) -> (Span, Pt, Pt) {
        let is_wide = width > self.tokens.measure + EASE;
        match self.document.style.voice {
            _ if !is_wide => (Span::Columns, 0.0, self.tokens.measure),
            Voice::Plain | Voice::Sheet | Voice::Site => (Span::Full, 0.0, self.tokens.full()),
            Voice::Contract => {
                let column = self.tokens.columns.first().unwrap_or(&0.0);
                (Span::Columns, MARGIN_SIDE - column, self.tokens.full())
            }
        }
    }

    /// Sets words over or under a figure, and says how high they are.
    fn around(
        &mut self,
        text: &str,
        kind: Type,
        owner: Owner,
        (x, top, width): (Pt, Pt, Pt),
        out: &mut Vec<Mark>,
    ) -> Pt {
        let words = Words::plain(text, kind, owner);
        let mut y = 0.0;
        for line in self.lines(&words, width) {
            out.extend(marks(line, x, top + y + baseline(kind)));
            y += kind.leading;
        }
        y
    }

    fn drawn(&mut self, mark: &Drawn, owner: Owner, (x, y): (Pt, Pt), out: &mut Vec<Mark>) {
        let place = |spot: &Spot| (x + spot.x.points(), y + spot.y.points());
        match mark {
            Drawn::Lines { lines, pen } => out.push(Mark::Path {
                lines: lines.iter().map(|line| line.iter().map(place).collect()).collect(),
                paint: Paint::Lines(Pen { weight: pen.thickness.points(), dash: pen.dash, colour: pen.tone }),
                owner,
            }),
            Drawn::Area { corners, tone } => out.push(Mark::Path {
                lines: vec![corners.iter().map(place).collect()],
                paint: Paint::Area(*tone),
                owner,
            }),
            Drawn::Text(text) => {
                let (x, y) = place(&text.at);
                self.drawn_words(text, owner, (x, y), out);
            }
        }
    }

    fn drawn_words(&mut self, text: &Text, owner: Owner, (x, y): (Pt, Pt), out: &mut Vec<Mark>) {
        let face = if text.bold == Bold::Yes { IN_FIGURE.bold } else { IN_FIGURE.face };
        let kind = Type { face, size: text.size.points(), colour: text.tone, ..IN_FIGURE };
        let line = one_line(&Words::plain(&text.words, kind, owner), &mut self.shaper);
        let back = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => line.width / 2.0,
            Anchor::End => line.width,
        };
        out.extend(marks(line, x - back, y));
    }
}
