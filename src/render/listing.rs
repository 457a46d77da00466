//! Paragraphs, numbered items, points, cautions and the last line.

use super::breaking::Room;
use super::compose::{Setter, baseline, marks, owner};
use super::flow::{Keep, Row, Span, guard_ends};
use super::hyphen::Hyphens;
use super::laid::{Mark, Part};
use super::line::{Line, lines, one_line};
use super::tokens::{
    BOX_PAD, CAUTION_WORD, Colour, GUTTER, INDENT, LABEL_GAP, LONGEST_LINE, Pt, Type, WEIGHT_BOX,
};
use super::words::Words;
use crate::document::block::{Inline, plain};

impl Setter<'_> {
    /// A plain paragraph.
    pub(crate) fn paragraph(&mut self, block: u32, text: &[Inline]) {
        let rows = self.hung(block, None, text, 0.0);
        self.push(Span::Columns, self.tokens.space.paragraph, block, rows);
    }

    /// A numbered item with its label hanging.
    pub(crate) fn item(&mut self, block: u32, depth: u8, label: &str, text: &[Inline]) {
        let depth = depth.clamp(1, 5);
        if depth == 1 {
            self.last_item = Some(block);
        }
        let x = f64::from(depth) * INDENT;
        let rows = self.hung(block, Some((label, x - INDENT)), text, x);
        let space = self.tokens.space;
        let before = if depth == 1 { space.paragraph } else { space.item };
        self.push(Span::Columns, before, block, rows);
    }

    /// A point of a list.
    pub(crate) fn bullet(&mut self, block: u32, depth: u8, text: &[Inline]) {
        let depth = depth.clamp(1, 4);
        let point = if depth == 1 { "•" } else { "–" };
        let x = f64::from(depth) * INDENT;
        let rows = self.hung(block, Some((point, x - INDENT)), text, x);
        self.push(Span::Columns, self.tokens.space.item, block, rows);
    }

    /// Rows of text at `x`, with a label at its own place on the first.
    fn hung(&mut self, block: u32, label: Option<(&str, Pt)>, text: &[Inline], x: Pt) -> Vec<Row> {
        let kind = self.tokens.text;
        let words = Words::of(text, kind, owner(block, Part::Text), &mut self.links);
        let rest = self.tokens.reading - x;
        let mut painted = Vec::new();
        let mut rows = Vec::new();
        let mut shift: Pt = 0.0;
        if let Some((label, at)) = label {
            let words = Words::plain(label, kind, owner(block, Part::Label));
            let line = one_line(&words, &mut self.shaper);
            shift = (at + line.width + LABEL_GAP - x).max(0.0);
            if shift > rest / 2.0 {
                // A label that leaves hardly a word beside it stands on lines of its own, from the margin.
                for line in self.lines(&words, self.tokens.measure) {
                    let row = Row::new(kind.leading, marks(line, 0.0, baseline(kind)).collect());
                    rows.push(Row { keep: Keep::WithNext, ..row });
                }
                shift = 0.0;
            } else {
                painted.extend(marks(line, at, baseline(kind)));
            }
        }
        let over = rows.len();
        let room = Room { first: rest - shift, rest };
        for line in lines(&words, room, Hyphens::Never, &mut self.shaper) {
            let start = if rows.len() == over { x + shift } else { x };
            painted.extend(marks(line, start, baseline(kind)));
            rows.push(Row::new(kind.leading, std::mem::take(&mut painted)));
        }
        if !painted.is_empty() {
            rows.push(Row::new(kind.leading, painted));
        }
        guard_ends(&mut rows);
        if let Some(last) = rows.last_mut().filter(|_| ends_open(text)) {
            last.keep = Keep::WithNext;
        }
        rows
    }

    /// A ruled box that opens with a word such as `WARNING` and stays on one page if a page can hold it.
    pub(crate) fn caution(&mut self, block: u32, word: &str, text: &[Vec<Inline>]) {
        let inset = WEIGHT_BOX + BOX_PAD;
        let (span, whole, longest) = if self.tokens.is_one_column() {
            (Span::Columns, self.tokens.measure, self.tokens.reading)
        } else {
            (Span::Full, self.tokens.full(), LONGEST_LINE * self.tokens.text.size)
        };
        let opening = self.tokens.warning;
        let head = Words::plain(word, opening, owner(block, Part::Label));
        let mut rows = Vec::new();
        let hung = self.word_beside(&head, whole);
        let hang = hung.as_ref().map_or(0.0, |line| line.width + GUTTER);
        if hung.is_none() {
            self.boxed(&head, opening, (inset, whole - 2.0 * inset), &mut rows);
        }
        let (x, width) = (inset + hang, longest.min(whole - 2.0 * inset - hang));
        let kind = self.tokens.text;
        for paragraph in text {
            let words = Words::of(paragraph, kind, owner(block, Part::Text), &mut self.links);
            let first = rows.len();
            self.boxed(&words, kind, (x, width), &mut rows);
            if let Some(row) = rows.get_mut(first).filter(|_| first > 0) {
                lower(row, self.tokens.space.item);
            }
        }
        if let Some(line) = hung {
            if rows.is_empty() {
                rows.push(Row::new(kind.leading, Vec::new()));
            }
            if let Some(row) = rows.first_mut() {
                row.marks.splice(0..0, marks(line, inset, baseline(kind)));
            }
        }
        frame(&mut rows, whole);
        self.push(span, self.tokens.space.apart, block, rows);
        self.flow_apart();
    }

    /// The word of a caution that stands beside its text: across two columns, where a line would grow too long without.
    fn word_beside(&mut self, head: &Words, whole: Pt) -> Option<Line> {
        let line = one_line(head, &mut self.shaper);
        (!self.tokens.is_one_column() && !line.runs.is_empty() && line.width <= whole * CAUTION_WORD)
            .then_some(line)
    }

    fn boxed(&mut self, words: &Words, kind: Type, (x, width): (Pt, Pt), rows: &mut Vec<Row>) {
        for line in self.lines(words, width) {
            rows.push(Row::new(kind.leading, marks(line, x, baseline(kind)).collect()));
        }
    }

    /// Sets the next block off by adding room under the last row.
    fn flow_apart(&mut self) {
        let room = self.tokens.space.apart - self.tokens.space.paragraph;
        let last = self.flow.segments.last_mut().and_then(|segment| segment.rows.last_mut());
        if let Some(row) = last {
            row.height += room;
        }
    }

    /// The last line, in the middle of the column and never alone on a page.
    pub(crate) fn end(&mut self, block: u32, text: &str) {
        let kind = self.tokens.end;
        let words = Words::plain(text, kind, owner(block, Part::Text));
        let measure = self.tokens.measure;
        let mut rows = Vec::new();
        for line in self.lines(&words, measure) {
            let x = (measure - line.width) / 2.0;
            rows.push(Row::new(kind.leading, marks(line, x, baseline(kind)).collect()));
        }
        self.flow.bind();
        self.push(Span::Columns, 2.0 * self.tokens.space.apart, block, rows);
    }
}

/// Whether words end with a colon, so that what they announce must follow on the page.
pub(crate) fn ends_open(text: &[Inline]) -> bool {
    plain(text).trim_end().ends_with(':')
}

/// Puts a box around rows and keeps them together.
fn frame(rows: &mut [Row], width: Pt) {
    let count = rows.len();
    for (at, row) in rows.iter_mut().enumerate() {
        if at == 0 {
            lower(row, WEIGHT_BOX + BOX_PAD);
        }
        if at + 1 == count {
            row.height += WEIGHT_BOX + BOX_PAD;
        } else {
            row.keep = Keep::WithNext;
        }
        let side = |x| fill(x, 0.0, WEIGHT_BOX, row.height);
        let mut sides = vec![side(0.0), side(width - WEIGHT_BOX)];
        if at == 0 {
            sides.push(fill(0.0, 0.0, width, WEIGHT_BOX));
        }
        if at + 1 == count {
            sides.push(fill(0.0, row.height - WEIGHT_BOX, width, WEIGHT_BOX));
        }
        row.marks.splice(0..0, sides);
    }
}

fn fill(x: Pt, y: Pt, width: Pt, height: Pt) -> Mark {
    Mark::Fill { x, y, width, height, colour: Colour::Ink }
}

/// Moves everything in a row down and makes it higher.
fn lower(row: &mut Row, by: Pt) {
    row.height += by;
    for mark in &mut row.marks {
        mark.lower(by);
    }
}
