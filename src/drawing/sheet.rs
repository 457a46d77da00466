//! A drawing in the making: places in millimetres as the charts work them out, marks as the writers read them.

use super::hatch::hatched;
use super::mark::{Anchor, Bold, Drawing, Mark, Mm, Pen, Size, Spot, Text, Thickness};
use super::measure::half_height;
use super::tone::Tone;

/// A place, in millimetres from the upper left corner.
pub(super) type Place = (f64, f64);

/// How words are set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Type {
    pub(super) size: Size,
    pub(super) bold: Bold,
    pub(super) tone: Tone,
}

impl Type {
    /// Words beside a figure.
    pub(super) const SMALL: Self = Self { size: Size::Small, bold: Bold::No, tone: Tone::Ink };
    /// Words that name an axis or stand behind others.
    pub(super) const QUIET: Self = Self { size: Size::Small, bold: Bold::No, tone: Tone::Graphite };
    /// Words that carry the point.
    pub(super) const STRONG: Self = Self { size: Size::Small, bold: Bold::Yes, tone: Tone::Ink };
    /// The words of what was chosen.
    pub(super) const CHOSEN: Self = Self { size: Size::Small, bold: Bold::Yes, tone: Tone::Accent };
}

/// How much larger a drawing for a crew sheet is than it was made.
pub(super) const ON_SITE: f64 = 1.25;

/// The line of an axis or a tick.
pub(super) const FINE: Pen = Pen::solid(Thickness::Fine, Tone::Rule);

/// What goes with a drawing besides its marks.
pub(super) struct Said {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) caption: String,
    pub(super) note: String,
    pub(super) alt: String,
}

/// A drawing in the making.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    marks: Vec<Mark>,
}

impl Sheet {
    /// Lines of one pen.
    pub(super) fn lines(&mut self, lines: &[Vec<Place>], pen: Pen) {
        let lines: Vec<Vec<Spot>> = lines
            .iter()
            .filter(|line| line.len() > 1)
            .map(|line| line.iter().copied().map(Spot::of).collect())
            .collect();
        if !lines.is_empty() {
            self.marks.push(Mark::Lines { lines, pen });
        }
    }

    /// One line through places.
    pub(super) fn line(&mut self, places: &[Place], pen: Pen) {
        self.lines(&[places.to_vec()], pen);
    }

    /// A filled shape.
    pub(super) fn area(&mut self, corners: &[Place], tone: Tone) {
        if corners.len() > 2 {
            let corners = corners.iter().copied().map(Spot::of).collect();
            self.marks.push(Mark::Area { corners, tone });
        }
    }

    /// A hatched shape.
    pub(super) fn hatch(&mut self, corners: &[Place], apart: f64, pen: Pen) {
        self.lines(&hatched(corners, apart), pen);
    }

    /// Words with their baseline at a place.
    pub(super) fn words(&mut self, at: Place, words: &str, kind: Type, anchor: Anchor) {
        if !words.is_empty() {
            let Type { size, bold, tone } = kind;
            self.marks.push(Mark::Text(Text {
                at: Spot::of(at),
                words: words.to_owned(),
                size,
                bold,
                anchor,
                tone,
            }));
        }
    }

    /// Words with the middle of their letters at a height.
    pub(super) fn label(&mut self, (x, middle): Place, words: &str, kind: Type, anchor: Anchor) {
        self.words((x, middle + half_height(kind.size)), words, kind, anchor);
    }

    /// Marks of another drawing.
    pub(super) fn copy(&mut self, marks: impl Iterator<Item = Mark>) {
        self.marks.extend(marks);
    }

    /// The drawing, a quarter larger than it was made: small words of 8 pt become large ones of 10 pt.
    pub(super) fn finished_for_site(self, width: f64, height: f64, said: Said) -> Drawing {
        let larger = |length: Mm| Mm::of(length.millimetres() * ON_SITE);
        let marks = self.marks.iter().map(|mark| {
            let mark = mark.moved(|spot| Spot { x: larger(spot.x), y: larger(spot.y) });
            match mark {
                Mark::Text(text) => Mark::Text(Text { size: Size::Large, ..text }),
                Mark::Lines { .. } | Mark::Area { .. } => mark,
            }
        });
        let marks = marks.collect();
        Self { marks }.finished(width * ON_SITE, height * ON_SITE, said)
    }

    /// The drawing.
    pub(super) fn finished(self, width: f64, height: f64, said: Said) -> Drawing {
        let Said { id, title, caption, note, alt } = said;
        Drawing {
            id,
            title,
            caption,
            note,
            alt,
            width: Mm::of(width),
            height: Mm::of(height),
            marks: self.marks,
        }
    }
}

/// The corners of a level rectangle.
pub(super) fn corners((left, top): Place, (right, bottom): Place) -> [Place; 4] {
    [(left, top), (right, top), (right, bottom), (left, bottom)]
}

/// The corners, and the first once more.
pub(super) fn outline(from: Place, to: Place) -> Vec<Place> {
    let corners = corners(from, to);
    corners.into_iter().chain(corners.into_iter().take(1)).collect()
}
