//! The front of a document: its title and the title block, from margin to margin.

use super::compose::{FIELDS, Setter, TITLE, baseline, marks, owner};
use super::flow::{Row, Span};
use super::laid::{Mark, Part};
use super::tokens::{
    Colour, FIELD_LABEL, FIELD_PAD, FIELD_VALUE, FIELDS_AFTER, GUTTER, Pt, SUBTITLE, TITLE as TITLE_TYPE,
    TITLE_AFTER, Type, WEIGHT_HAIR,
};
use super::words::Words;

impl Setter<'_> {
    /// Title, second title, title block.
    pub(crate) fn front(&mut self) {
        let document = self.document;
        self.title_line(&document.title, TITLE_TYPE, Part::Heading(0));
        self.title_line(&document.subtitle, SUBTITLE, Part::Text);
        self.report("the title");
        for (at, pair) in document.furniture.title_block.chunks(2).enumerate() {
            let row = self.fields(at, pair);
            let before = if at == 0 { TITLE_AFTER } else { 0.0 };
            self.push(Span::Full, before, FIELDS, vec![row]);
            self.flow.bind();
        }
        self.report("the title block");
        let last = self.flow.segments.last_mut().and_then(|segment| segment.rows.last_mut());
        if let Some(row) = last.filter(|_| !document.furniture.title_block.is_empty()) {
            row.height += FIELDS_AFTER - self.tokens.space.paragraph;
        }
    }

    fn title_line(&mut self, text: &str, kind: Type, part: Part) {
        let words = Words::plain(text, kind, owner(TITLE, part));
        for line in self.lines(&words, self.tokens.full()) {
            let row = Row::new(kind.leading, marks(line, 0.0, baseline(kind)).collect());
            self.push(Span::Full, 0.0, TITLE, vec![row]);
            self.flow.bind();
        }
    }

    /// One row of the title block: up to two fields over a hair rule.
    fn fields(&mut self, at: usize, pair: &[(String, Option<String>)]) -> Row {
        let width = (self.tokens.full() - GUTTER) / 2.0;
        let mut painted = Vec::new();
        let mut height: Pt = 0.0;
        for (column, (label, value)) in (0u32..).zip(pair) {
            let x = f64::from(column) * (width + GUTTER);
            let number = u32::try_from(at).unwrap_or_default();
            let cell = owner(FIELDS, Part::Cell { row: number, column });
            let mut y = FIELD_PAD;
            let label = Words::plain(label, FIELD_LABEL, cell);
            for line in self.lines(&label, width) {
                painted.extend(marks(line, x, y + baseline(FIELD_LABEL)));
                y += FIELD_LABEL.leading;
            }
            let value = Words::plain(value.as_deref().unwrap_or_default(), FIELD_VALUE, cell);
            let lines = self.lines(&value, width);
            y += if lines.is_empty() { FIELD_VALUE.leading } else { 0.0 };
            for line in lines {
                painted.extend(marks(line, x, y + baseline(FIELD_VALUE)));
                y += FIELD_VALUE.leading;
            }
            height = height.max(y + FIELD_PAD);
        }
        for x in [0.0, width + GUTTER].into_iter().take(pair.len()) {
            painted.push(hair(x, height, width));
            if at == 0 {
                painted.push(hair(x, 0.0, width));
            }
        }
        Row::new(height, painted)
    }
}

fn hair(x: Pt, y: Pt, width: Pt) -> Mark {
    Mark::Rule { x, y, width, weight: WEIGHT_HAIR, colour: Colour::Rule }
}
