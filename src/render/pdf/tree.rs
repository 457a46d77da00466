//! What a file says of its structure: sections, lists, tables and figures in reading order, each with the stretches of
//! marked content that it is made of (ISO 32000-1, 14.7 and 14.8).

use std::collections::BTreeMap;

use crate::render::compose::CONTENTS;
use crate::render::laid::{Laid, Mark, Owner, Part, Sequence, Sort};
use crate::render::tokens::Pt;

/// A stretch of marked content.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Stretch {
    /// Page, from 0.
    pub(super) page: usize,
    /// Its number there.
    pub(super) mcid: u32,
    /// Whether it leads somewhere.
    pub(super) is_link: bool,
}

/// What an element is, with what its kind needs to say besides.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tag {
    Document,
    Section,
    Group,
    Heading(u8),
    Paragraph,
    /// The contents.
    Contents,
    /// A line of them.
    Entry,
    /// How its items are numbered, in the words of the standard.
    List(&'static str),
    Item,
    Label,
    Body,
    /// Beside the text.
    Note,
    Table,
    Caption,
    Head,
    Rows,
    Row,
    ColumnHead,
    Cell,
    /// The words for those who cannot see it, and its left, lower, right and upper edge.
    Figure(String, Option<[Pt; 4]>),
}

/// Something in an element, in reading order.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kid {
    Element(Element),
    Stretch(Stretch),
}

/// An element of the tree.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Element {
    pub(super) tag: Tag,
    pub(super) kids: Vec<Kid>,
}

impl Element {
    fn new(tag: Tag) -> Self {
        Self { tag, kids: Vec::new() }
    }

    fn of(tag: Tag, said: impl IntoIterator<Item = Stretch>) -> Self {
        Self { tag, kids: said.into_iter().map(Kid::Stretch).collect() }
    }

    fn with(tag: Tag, kids: impl IntoIterator<Item = Self>) -> Self {
        Self { tag, kids: kids.into_iter().map(Kid::Element).collect() }
    }
}

/// Where numbered items end and points begin among the levels of lists.
const POINTS: u8 = 16;

/// An element that is not closed yet.
enum Open {
    Section(u8),
    List(u8),
    Body(u8),
}

struct Builder<'a> {
    laid: &'a Laid,
    /// The stretches of each part of each block, in order.
    said: BTreeMap<(u32, Part), Vec<Stretch>>,
    /// The document, and everything in it that is still open.
    open: Vec<(Open, Element)>,
}

/// The tree of a laid document.
pub(super) fn tree(laid: &Laid) -> Element {
    let mut said: BTreeMap<(u32, Part), Vec<Stretch>> = BTreeMap::new();
    for (page, on_page) in laid.pages.iter().enumerate() {
        for Sequence { owner, mcid, link, .. } in on_page.sequences() {
            if let (Owner::Content(block, part), Some(mcid)) = (owner, mcid) {
                said.entry((block, part)).or_default().push(Stretch { page, mcid, is_link: link.is_some() });
            }
        }
    }
    let mut builder = Builder { laid, said, open: vec![(Open::Section(0), Element::new(Tag::Document))] };
    for (block, sort) in (0..).zip(&laid.sorts) {
        builder.block(block, *sort);
    }
    builder.close()
}

impl Builder<'_> {
    fn block(&mut self, block: u32, sort: Sort) {
        match sort {
            Sort::Title => {
                self.part(block, Part::Heading(0), Tag::Heading(1));
                self.part(block, Part::Text, Tag::Paragraph);
            }
            Sort::Fields => self.fields(block),
            Sort::Heading(level) => self.heading(block, level),
            Sort::Item(depth) => {
                let numbering = match depth {
                    0 | 1 => "UpperAlpha",
                    3 | 5 => "LowerAlpha",
                    _ => "Decimal",
                };
                self.item(block, depth.min(POINTS - 1), numbering);
            }
            Sort::Point(depth) => self.item(block, POINTS.saturating_add(depth), "Disc"),
            Sort::Proof(lines) => self.proof(block, lines),
            Sort::Paragraph => {
                self.leave_lists();
                self.part(block, Part::Text, Tag::Paragraph);
            }
            Sort::Caution => {
                self.leave_lists();
                let parts = [Part::Label, Part::Text].map(|part| self.take(block, part));
                let parts = parts.into_iter().filter(|said| !said.is_empty());
                let group = Element::with(Tag::Group, parts.map(|said| Element::of(Tag::Paragraph, said)));
                self.add(group);
            }
            Sort::Table(rows, columns) => self.table(block, rows, columns),
            Sort::Figure => self.figure(block),
            // They stand before the first heading.
            Sort::Contents | Sort::Silent => {}
        }
    }

    /// The title block: a group of a label and what stands under it each.
    fn fields(&mut self, block: u32) {
        let is_own = |(key, _): &(&(u32, Part), _)| key.0 == block;
        let parts: Vec<Part> = self.said.iter().filter(is_own).map(|((_, part), _)| *part).collect();
        let fields: Vec<Vec<Stretch>> = parts.into_iter().map(|part| self.take(block, part)).collect();
        if !fields.is_empty() {
            let fields = fields.into_iter().map(|said| Element::of(Tag::Paragraph, said));
            self.add(Element::with(Tag::Group, fields));
        }
    }

    fn heading(&mut self, block: u32, level: u8) {
        self.leave_lists();
        self.contents();
        self.close_while(|open| matches!(open, Open::Section(other) if *other >= level));
        self.open.push((Open::Section(level), Element::new(Tag::Section)));
        let mut said = self.take(block, Part::Label);
        for part in 0..=3 {
            said.extend(self.take(block, Part::Heading(part)));
        }
        if !said.is_empty() {
            self.add(Element::of(Tag::Heading(level), said));
        }
    }

    /// The contents, where they stand.
    fn contents(&mut self) {
        let caption = self.take(CONTENTS, Part::Caption);
        if caption.is_empty() {
            return;
        }
        let mut kids = vec![Element::of(Tag::Caption, caption)];
        for row in 0.. {
            let mut said = self.take(CONTENTS, Part::Cell { row, column: 0 });
            if said.is_empty() {
                break;
            }
            said.extend(self.take(CONTENTS, Part::Cell { row, column: 1 }));
            kids.push(Element::of(Tag::Entry, said));
        }
        self.add(Element::with(Tag::Contents, kids));
    }

    fn item(&mut self, block: u32, depth: u8, numbering: &'static str) {
        self.close_while(|open| match open {
            Open::List(other) => *other > depth,
            Open::Body(other) => *other >= depth,
            Open::Section(_) => false,
        });
        if !matches!(self.open.last(), Some((Open::List(other), _)) if *other == depth) {
            self.open.push((Open::List(depth), Element::new(Tag::List(numbering))));
        }
        let label = self.take(block, Part::Label);
        let said = self.take(block, Part::Text);
        self.add(Element::with(Tag::Item, [Element::of(Tag::Label, label)]));
        self.open.push((Open::Body(depth), Element::of(Tag::Body, said)));
    }

    /// A proof stands beside the clause: in the body of its outermost item.
    fn proof(&mut self, block: u32, lines: u32) {
        self.leave_inner_lists();
        let lines: Vec<Vec<Stretch>> = (0..lines)
            .map(|line| {
                let mut said = self.take(block, Part::Key(line));
                said.extend(self.take(block, Part::Value(line)));
                said
            })
            .collect();
        let lines = lines.into_iter().filter(|said| !said.is_empty());
        let note = Element::with(Tag::Note, lines.map(|said| Element::of(Tag::Paragraph, said)));
        if !note.kids.is_empty() {
            self.add(note);
        }
    }

    fn table(&mut self, block: u32, rows: u32, columns: u32) {
        self.leave_inner_lists();
        let mut table = Element::new(Tag::Table);
        let caption = self.take(block, Part::Caption);
        if !caption.is_empty() {
            table.kids.push(Kid::Element(Element::of(Tag::Caption, caption)));
        }
        let mut row = |row: u32, tag: &Tag| {
            let cells: Vec<Element> = (0..columns)
                .map(|column| Element::of(tag.clone(), self.take(block, Part::Cell { row, column })))
                .collect();
            Element::with(Tag::Row, cells)
        };
        let head = Element::with(Tag::Head, [row(0, &Tag::ColumnHead)]);
        let body = Element::with(Tag::Rows, (1..=rows).map(|at| row(at, &Tag::Cell)).collect::<Vec<_>>());
        table.kids.extend([head, body].into_iter().filter(|part| !part.kids.is_empty()).map(Kid::Element));
        self.add(table);
    }

    fn figure(&mut self, block: u32) {
        self.leave_inner_lists();
        let alternative = self.laid.alternatives.get(&block).cloned().unwrap_or_default();
        let tag = Tag::Figure(alternative, self.edges(block));
        let parts = [(Part::Caption, Tag::Paragraph), (Part::Figure, tag), (Part::Note, Tag::Paragraph)];
        let parts = parts.map(|(part, tag)| Element::of(tag, self.take(block, part)));
        self.add(Element::with(Tag::Group, parts.into_iter().filter(|part| !part.kids.is_empty())));
    }

    /// The left, lower, right and upper edge of a figure on its page: no page end parts one.
    fn edges(&self, block: u32) -> Option<[Pt; 4]> {
        let stretch = self.said.get(&(block, Part::Figure))?.first()?;
        let own = Owner::Content(block, Part::Figure);
        let marks = self.laid.pages.get(stretch.page)?.marks.iter().filter(|mark| mark.owner() == own);
        marks.flat_map(corners).fold(None, |edges, (x, y)| {
            let [left, foot, right, top] = edges.unwrap_or([x, y, x, y]);
            Some([left.min(x), foot.min(y), right.max(x), top.max(y)])
        })
    }

    fn part(&mut self, block: u32, part: Part, tag: Tag) {
        let said = self.take(block, part);
        if !said.is_empty() {
            self.add(Element::of(tag, said));
        }
    }

    fn take(&mut self, block: u32, part: Part) -> Vec<Stretch> {
        self.said.remove(&(block, part)).unwrap_or_default()
    }

    fn add(&mut self, element: Element) {
        if let Some((_, open)) = self.open.last_mut() {
            open.kids.push(Kid::Element(element));
        }
    }

    fn leave_lists(&mut self) {
        self.close_while(|open| matches!(open, Open::List(_) | Open::Body(_)));
    }

    fn leave_inner_lists(&mut self) {
        self.close_while(|open| match open {
            Open::List(depth) | Open::Body(depth) => *depth > 1,
            Open::Section(_) => false,
        });
    }

    fn close_while(&mut self, is_left: impl Fn(&Open) -> bool) {
        while self.open.len() > 1 && self.open.last().is_some_and(|(open, _)| is_left(open)) {
            self.close_one();
        }
    }

    /// Puts the innermost open element into the one around it; the body of an item joins its label.
    fn close_one(&mut self) {
        let Some((open, element)) = self.open.pop() else { return };
        let Some((_, around)) = self.open.last_mut() else { return };
        match (open, around.kids.last_mut()) {
            (Open::Body(_), Some(Kid::Element(item))) => item.kids.push(Kid::Element(element)),
            _ => around.kids.push(Kid::Element(element)),
        }
    }

    fn close(mut self) -> Element {
        self.close_while(|_| true);
        self.open.pop().map_or_else(|| Element::new(Tag::Document), |(_, document)| document)
    }
}

/// The corners of a mark.
fn corners(mark: &Mark) -> Vec<(Pt, Pt)> {
    match mark {
        Mark::Text { x, y, run } => vec![(*x, *y), (x + run.width, y + run.look.size)],
        Mark::Path { lines, .. } => lines.iter().flatten().copied().collect(),
        Mark::Rule { .. } | Mark::Fill { .. } | Mark::Course { .. } => Vec::new(),
    }
}
