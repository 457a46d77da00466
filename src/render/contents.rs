//! Contents of a long paper: two columns of headings before the first of them, each with its page.

use super::breaking::Room;
use super::compose::{CONTENTS, FIRST, Setter, baseline, marks, owner};
use super::flow::{Keep, Row, Segment, Span, Start};
use super::hyphen::Hyphens;
use super::laid::{Mark, Owner, Part};
use super::line::{Line, lines, one_line};
use super::paginate::Paged;
use super::tokens::{ARTICLE_HANG, CELL_PAD, Colour, GUTTER, MARGIN_SIDE, Pt, Type, WEIGHT_HAIR};
use super::words::Words;
use crate::document::block::{BlockKind, Inline};

/// Pages that the text would fill without a gap, above which a paper has contents: with its gaps it has two more.
const SHORT: f64 = 5.0;
/// Room for the number of a page.
const NUMBER: Pt = 24.0;
/// Most lines of a column: fewer than any page holds.
const HIGHEST: usize = 34;
/// Anchors of what stands side by side count from here; no document has as many blocks.
const GROUPS: u32 = 1 << 30;

/// A line of the contents.
pub(crate) struct Entry {
    /// The block of the heading.
    block: u32,
    /// Which of the groups of two columns it stands in.
    group: usize,
    /// Left edge of its column, from the margin.
    x: Pt,
    /// Its upper edge, from that of the group.
    y: Pt,
    /// Look.
    kind: Type,
    target: String,
}

impl Setter<'_> {
    /// Remembers the place before the first heading of a paper that may have contents.
    pub(crate) fn mark_contents(&mut self) {
        let is_one_column = self.tokens.is_one_column();
        if is_one_column && self.document.furniture.contents.is_some() && self.contents_at.is_none() {
            self.contents_at = Some(self.flow.part());
        }
    }

    /// Sets the contents of a paper that is long, without the pages, which are not known yet.
    pub(crate) fn contents(&mut self) -> Vec<Entry> {
        let is_long = self.flow.height() > SHORT * self.body_height();
        let Some(at) = self.contents_at.filter(|_| is_long) else { return Vec::new() };
        let document = self.document;
        let heads = (FIRST..).zip(&document.blocks).filter_map(|(number, block)| match &block.kind {
            BlockKind::Heading { level: level @ (0..=2), number: label, text } => {
                Some((number, block.id.as_str(), *level, label.as_deref(), text.as_slice()))
            }
            _ => None,
        });
        let heads: Vec<_> = heads.collect();
        let width = (self.tokens.full() - GUTTER) / 2.0;
        let mut entries = Vec::new();
        let mut rows = Vec::new();
        for group in heads.chunks(2 * HIGHEST) {
            let mut row = Row::new(0.0, Vec::new());
            row.anchors.push(GROUPS + u32::try_from(rows.len()).unwrap_or_default());
            for (x, column) in [0.0, width + GUTTER].into_iter().zip(group.chunks(group.len().div_ceil(2))) {
                let mut y = 0.0;
                for (block, target, level, label, text) in column {
                    let kind = if *level < 2 { self.tokens.table_head } else { self.tokens.table_text };
                    let line = u32::try_from(entries.len()).unwrap_or_default();
                    let own = owner(CONTENTS, Part::Cell { row: line, column: 0 });
                    let at = (x, y, width - NUMBER);
                    let (marks, height) = self.line_of_contents((*label, text), (target, own), kind, at);
                    row.marks.extend(marks);
                    let (group, target) = (rows.len(), (*target).to_owned());
                    entries.push(Entry { block: *block, group, x, y, kind, target });
                    y += height;
                    let (weight, colour) = (WEIGHT_HAIR, Colour::Hairline);
                    row.marks.push(Mark::Rule { x, y, width, weight, colour });
                }
                row.height = row.height.max(y);
            }
            rows.push(row);
        }
        let words = document.furniture.contents.as_deref().unwrap_or_default();
        let caption = Words::plain(words, self.tokens.caption, owner(CONTENTS, Part::Caption));
        let caption = one_line(&caption, &mut self.shaper);
        let kind = self.tokens.caption;
        let head = Row::new(kind.leading + CELL_PAD, marks(caption, 0.0, baseline(kind)).collect());
        rows.insert(0, Row { before: self.tokens.space.apart, keep: Keep::WithNext, ..head });
        if let Some(last) = rows.last_mut() {
            last.height += self.tokens.space.apart;
        }
        let start = self.flow.segments.get_mut(at).map(|next| std::mem::take(&mut next.start));
        let start = start.unwrap_or(Start::Behind);
        self.flow.segments.insert(at, Segment { span: Span::Full, start, rows });
        self.report("the contents");
        entries
    }

    /// A number and a title, and how high they stand.
    fn line_of_contents(
        &mut self,
        (label, text): (Option<&str>, &[Inline]),
        (target, own): (&str, Owner),
        kind: Type,
        (x, top, width): (Pt, Pt, Pt),
    ) -> (Vec<Mark>, Pt) {
        let mut painted = Vec::new();
        let label = label.filter(|label| !label.trim().is_empty());
        let hang = if label.is_some() { 2.0 * ARTICLE_HANG } else { 0.0 };
        if let Some(label) = label {
            let line = self.linked(&[Inline::Text(label.to_owned())], (target, own), kind);
            painted.extend(marks(line, x, top + CELL_PAD + baseline(kind)));
        }
        let link = [Inline::Link { target: target.to_owned(), text: text.to_vec() }];
        let words = Words::of(&link, kind, own, &mut self.links);
        let room = Room { first: width - hang, rest: width - hang };
        let mut y = CELL_PAD;
        for line in lines(&words, room, Hyphens::Never, &mut self.shaper) {
            painted.extend(marks(line, x + hang, top + y + baseline(kind)));
            y += kind.leading;
        }
        (painted.into_iter().map(quiet).collect(), y + CELL_PAD)
    }

    fn linked(&mut self, text: &[Inline], (target, own): (&str, Owner), kind: Type) -> Line {
        let link = [Inline::Link { target: target.to_owned(), text: text.to_vec() }];
        one_line(&Words::of(&link, kind, own, &mut self.links), &mut self.shaper)
    }

    /// Puts the pages behind the lines.
    pub(crate) fn number_contents(&mut self, entries: &[Entry], paged: &mut Paged) {
        let width = (self.tokens.full() - GUTTER) / 2.0;
        for (row, entry) in (0..).zip(entries) {
            let group = u32::try_from(entry.group).unwrap_or_default();
            let group = paged.anchors.get(&(GROUPS + group)).copied();
            let Some((spot, head)) = group.zip(paged.anchors.get(&entry.block)) else { continue };
            let text = [Inline::Text((head.page + 1).to_string())];
            let own = owner(CONTENTS, Part::Cell { row, column: 1 });
            let line = self.linked(&text, (&entry.target, own), entry.kind);
            let x = MARGIN_SIDE + entry.x + width - line.width;
            let number = marks(line, x, spot.y - entry.y - CELL_PAD - baseline(entry.kind)).map(quiet);
            let Some(page) = paged.pages.get_mut(spot.page) else { continue };
            let title = owner(CONTENTS, Part::Cell { row, column: 0 });
            let behind = page.marks.iter().rposition(|mark| mark.owner() == title).map_or(0, |at| at + 1);
            page.marks.splice(behind..behind, number.collect::<Vec<_>>());
        }
    }
}

/// A link in the colour of the text: that the whole list leads somewhere needs no colour.
fn quiet(mark: Mark) -> Mark {
    match mark {
        Mark::Text { x, y, mut run } => {
            run.look.colour = Colour::Ink;
            Mark::Text { x, y, run }
        }
        other => other,
    }
}
