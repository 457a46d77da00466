//! Headings: parts across the page under a course line, articles in the column, run-in heads.

use super::breaking::Room;
use super::compose::{Met, Setter, baseline, marks, owner};
use super::flow::{Keep, Role, Row, Span, guard_ends};
use super::hyphen::Hyphens;
use super::laid::{Mark, Part};
use super::line::{Line, lines};
use super::listing::ends_open;
use super::tokens::{ARTICLE_HANG, LABEL_GAP, MARGIN_SIDE, PART_GAP, Pt, TICK, Type};
use super::words::Words;
use crate::document::block::{Block, BlockKind, Inline, Voice, plain};

impl Setter<'_> {
    /// A heading on lines of its own.
    pub(crate) fn heading(&mut self, block: u32, level: u8, number: Option<&str>, text: &[Inline]) {
        self.met(block, level, number, text);
        let space = self.tokens.space;
        match level {
            0 | 1 => self.part(block, number, text),
            2 => {
                let before = if self.flow.ends_with_head() { space.first_article } else { space.article };
                self.titled(block, self.tokens.article, before, (level, number), text);
            }
            _ => self.titled(block, self.tokens.run_in, space.run_in, (level, number), text),
        }
        self.flow.bind();
    }

    fn met(&mut self, block: u32, level: u8, number: Option<&str>, text: &[Inline]) {
        let words = plain(text);
        let title = number.map_or_else(|| words.clone(), |number| format!("{number} {words}"));
        self.headings.push(Met { block, level: level.clamp(1, 3), title });
    }

    /// A part: a course line if it goes across the page, then number and title; in the plain voice as wide as what
    /// it opens.
    fn part(&mut self, block: u32, number: Option<&str>, text: &[Inline]) {
        let kind = self.tokens.part;
        let (span, x, width) = match (self.document.style.voice, self.ahead) {
            (Voice::Contract, _) => {
                let left = self.tokens.columns.first().unwrap_or(&0.0);
                (Span::Columns, MARGIN_SIDE - left, self.tokens.full())
            }
            (Voice::Plain, Span::Full) | (Voice::Site, _) => (Span::Full, 0.0, self.tokens.full()),
            (Voice::Plain, Span::Columns) | (Voice::Sheet, _) => (Span::Columns, 0.0, self.tokens.measure),
        };
        // A column of its own is too narrow a wall for the course line; on a sheet the one under the head is enough.
        let is_across = width > self.tokens.measure && self.document.style.voice != Voice::Site;
        let top = if is_across { 2.0 * TICK + PART_GAP / 2.0 } else { 0.0 };
        let mut painted: Vec<Mark> =
            is_across.then_some(Mark::Course { x, y: TICK, width }).into_iter().collect();
        let label = self.number(block, number, kind);
        let hang = label.as_ref().map_or(0.0, |label| label.width + PART_GAP);
        painted.extend(label.into_iter().flat_map(|label| marks(label, x, top + baseline(kind))));
        let words = Words::of(text, kind, owner(block, Part::Heading(1)), &mut self.links);
        let mut y = top;
        for line in self.lines(&words, width - hang) {
            painted.extend(marks(line, x + hang, y + baseline(kind)));
            y += kind.leading;
        }
        let row = Row { role: Role::Head, ..Row::new(y.max(top + kind.leading), painted) };
        self.push(span, self.tokens.space.part, block, vec![row]);
    }

    /// An article or a run-in head that has nothing to run into.
    fn titled(&mut self, block: u32, kind: Type, before: Pt, head: (u8, Option<&str>), text: &[Inline]) {
        let measure = self.tokens.measure;
        let label = self.number(block, head.1, kind);
        let hang = label.as_ref().map_or(0.0, |label| ARTICLE_HANG.max(label.width + LABEL_GAP));
        let words = Words::of(text, kind, owner(block, Part::Heading(head.0)), &mut self.links);
        let mut painted: Vec<Mark> =
            label.into_iter().flat_map(|label| marks(label, 0.0, baseline(kind))).collect();
        let mut y = 0.0;
        for line in self.lines(&words, measure - hang) {
            painted.extend(marks(line, hang, y + baseline(kind)));
            y += kind.leading;
        }
        let row = Row { role: Role::Head, ..Row::new(y.max(kind.leading), painted) };
        self.push(Span::Columns, before, block, vec![row]);
    }

    fn number(&mut self, block: u32, number: Option<&str>, kind: Type) -> Option<Line> {
        let number = number.filter(|number| !number.trim().is_empty())?;
        let words = Words::plain(number, kind, owner(block, Part::Label));
        Some(super::line::one_line(&words, &mut self.shaper))
    }

    /// A run-in head and the paragraph it opens.
    pub(crate) fn run_in(&mut self, head: (u32, &Block), paragraph: (u32, &Block)) {
        let (BlockKind::Heading { number, text: title, .. }, BlockKind::Paragraph(text)) =
            (&head.1.kind, &paragraph.1.kind)
        else {
            return;
        };
        self.met(head.0, 3, number.as_deref(), title);
        let kind = self.tokens.run_in;
        let mut words = Words::default();
        if let Some(number) = number {
            words.push_plain(&format!("{number} "), kind, owner(head.0, Part::Label));
        }
        words.push(title, kind, owner(head.0, Part::Heading(3)), &mut self.links);
        words.push_plain("\u{a0} ", kind, owner(head.0, Part::Heading(3)));
        words.push(text, self.tokens.text, owner(paragraph.0, Part::Text), &mut self.links);
        let room = Room { first: self.tokens.measure, rest: self.tokens.measure };
        let mut rows = Vec::new();
        for line in lines(&words, room, Hyphens::Never, &mut self.shaper) {
            let painted = marks(line, 0.0, baseline(self.tokens.text)).collect();
            rows.push(Row::new(self.tokens.text.leading, painted));
        }
        guard_ends(&mut rows);
        if let Some(first) = rows.first_mut() {
            first.anchors.push(paragraph.0);
        }
        if let Some(last) = rows.last_mut().filter(|_| ends_open(text)) {
            last.keep = Keep::WithNext;
        }
        self.push(Span::Columns, self.tokens.space.run_in, head.0, rows);
    }
}
