//! A document on pages: every line of text and every rule in its place.

use std::collections::{BTreeMap, BTreeSet};

use super::font::{Face, Glyph};
use super::tokens::{Colour, Pt, Tokens};
use super::words::Drawn;
use crate::drawing::Dash;

/// How a stretch of text looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Look {
    /// The face asked for; single glyphs may come from another.
    pub(crate) face: Face,
    /// Size.
    pub(crate) size: Pt,
    /// Colour.
    pub(crate) colour: Colour,
    /// Space after each letter, in thousandths of the size.
    pub(crate) tracking: i32,
}

/// What part of a block a run of text belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Part {
    /// The running text of a paragraph, item or caution.
    Text,
    /// The label of an item, the point of a list, the number of a heading.
    Label,
    /// The words of a heading, with its level; 0 is the document's title.
    Heading(u8),
    /// The caption of a table or a figure.
    Caption,
    /// The lines and words of a figure.
    Figure,
    /// What stands under a figure.
    Note,
    /// What a line of a proof says, by its place.
    Key(u32),
    /// The words of that line.
    Value(u32),
    /// A cell of a table; row 0 is the head.
    Cell {
        /// From 0, the head.
        row: u32,
        /// From 0.
        column: u32,
    },
}

/// Whom a run of text belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Owner {
    /// Heads, feet, repeated table heads: said elsewhere already.
    Artifact,
    /// A part of a block, named by its place in [`Laid::names`].
    Content(u32, Part),
}

/// A run of glyphs of one look on one baseline.
#[derive(Debug, Clone)]
pub(crate) struct Run {
    /// Start, from the start of its line.
    pub(crate) x: Pt,
    /// Width without the space that hangs at a line's end.
    pub(crate) width: Pt,
    /// Look.
    pub(crate) look: Look,
    /// Glyphs; their text lies in `text`.
    pub(crate) glyphs: Vec<Glyph>,
    /// The text to search and copy.
    pub(crate) text: String,
    /// The link it is part of, by its place in [`Laid::links`].
    pub(crate) link: Option<u32>,
    /// Whom it belongs to.
    pub(crate) owner: Owner,
    /// What is drawn instead of glyphs.
    pub(crate) drawn: Option<Drawn>,
}

/// What a block is, as far as the tree of the file goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    /// The document's title and second title.
    Title,
    /// The title block.
    Fields,
    /// The contents: read before the first heading.
    Contents,
    /// A heading, with its level in the tree: 2 stands under the title, and none is skipped.
    Heading(u8),
    /// A numbered item, with its depth from 1.
    Item(u8),
    /// A point of a list, with its depth from 1.
    Point(u8),
    /// How a clause is proved, with its number of lines.
    Proof(u32),
    /// A paragraph.
    Paragraph,
    /// A box of warning.
    Caution,
    /// A table, with its number of rows under the head, and of columns.
    Table(u32, u32),
    /// A figure.
    Figure,
    /// Nothing that is read.
    Silent,
}

/// What the lines of a figure are drawn with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    /// Thickness.
    pub(crate) weight: Pt,
    /// Strokes and gaps.
    pub(crate) dash: Dash,
    /// Colour.
    pub(crate) colour: Colour,
}

/// How a path of a figure is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Paint {
    /// As lines.
    Lines(Pen),
    /// As one filled shape.
    Area(Colour),
}

impl Paint {
    /// Its colour.
    pub(crate) fn colour(self) -> Colour {
        match self {
            Self::Lines(Pen { colour, .. }) | Self::Area(colour) => colour,
        }
    }
}

/// Something painted. Where `y` counts from, and which way, is said by the holder.
#[derive(Debug, Clone)]
pub(crate) enum Mark {
    /// A run of text; `y` is the baseline.
    Text {
        /// Left end.
        x: Pt,
        /// Baseline.
        y: Pt,
        /// The run.
        run: Run,
    },
    /// A level rule.
    Rule {
        /// Left end.
        x: Pt,
        /// Middle of the rule.
        y: Pt,
        /// Length.
        width: Pt,
        /// Thickness.
        weight: Pt,
        /// Colour.
        colour: Colour,
    },
    /// A filled rectangle; `y` is its upper edge.
    Fill {
        /// Left edge.
        x: Pt,
        /// Upper edge.
        y: Pt,
        /// Width.
        width: Pt,
        /// Height.
        height: Pt,
        /// Colour.
        colour: Colour,
    },
    /// The course line with its ticks.
    Course {
        /// Left end.
        x: Pt,
        /// The line.
        y: Pt,
        /// Length.
        width: Pt,
    },
    /// Lines or a filled shape of a figure.
    Path {
        /// The places that each line or side leads through.
        lines: Vec<Vec<(Pt, Pt)>>,
        /// How it is painted.
        paint: Paint,
        /// The figure.
        owner: Owner,
    },
}

impl Mark {
    /// Its height, counted as the holder does; of a path that of its first place.
    pub(crate) fn y(&self) -> Pt {
        match self {
            Self::Text { y, .. } | Self::Rule { y, .. } | Self::Fill { y, .. } | Self::Course { y, .. } => *y,
            Self::Path { lines, .. } => lines.iter().flatten().next().map_or(0.0, |(_, y)| *y),
        }
    }

    /// Adds to its height.
    pub(crate) fn lower(&mut self, by: Pt) {
        self.each(|_, y| *y += by);
    }

    /// The same mark moved right by `x`, and with its height over the foot of the paper counted up from `y`.
    pub(crate) fn placed(mut self, right: Pt, top: Pt) -> Self {
        self.each(|x, y| {
            *x += right;
            *y = top - *y;
        });
        self
    }

    /// Changes each of its places.
    fn each(&mut self, change: impl Fn(&mut Pt, &mut Pt)) {
        match self {
            Self::Text { x, y, .. }
            | Self::Rule { x, y, .. }
            | Self::Fill { x, y, .. }
            | Self::Course { x, y, .. } => change(x, y),
            Self::Path { lines, .. } => lines.iter_mut().flatten().for_each(|(x, y)| change(x, y)),
        }
    }

    /// The link that the mark is part of.
    fn link(&self) -> Option<u32> {
        match self {
            Self::Text { run, .. } => run.link,
            Self::Rule { .. } | Self::Fill { .. } | Self::Course { .. } | Self::Path { .. } => None,
        }
    }

    /// Whom the mark belongs to; lines and fills outside figures are artifacts.
    pub(crate) fn owner(&self) -> Owner {
        match self {
            Self::Text { run, .. } => run.owner,
            Self::Path { owner, .. } => *owner,
            Self::Rule { .. } | Self::Fill { .. } | Self::Course { .. } => Owner::Artifact,
        }
    }
}

/// One page. Heights count up from the foot of the paper.
#[derive(Debug, Clone, Default)]
pub(crate) struct Page {
    /// Everything painted, in reading order.
    pub(crate) marks: Vec<Mark>,
}

/// A place to jump to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spot {
    /// Page, from 0.
    pub(crate) page: usize,
    /// Height over the foot of the paper.
    pub(crate) y: Pt,
}

/// A heading in the outline.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entry {
    /// 1 to 3.
    pub(crate) level: u8,
    /// Number and words.
    pub(crate) title: String,
    /// Where it stands.
    pub(crate) spot: Spot,
}

/// What the file says about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct About {
    /// File stem.
    pub(crate) name: String,
    /// Title.
    pub(crate) title: String,
    /// Second title.
    pub(crate) subject: String,
    /// BCP 47 language.
    pub(crate) language: String,
    /// Year, month, day.
    pub(crate) date: (i16, i8, i8),
}

/// How a table was divided, for forms that rule their own.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ruling {
    /// Left edge, from the text.
    pub(crate) left: Pt,
    /// Widths of the columns.
    pub(crate) widths: Vec<Pt>,
    /// Room between two columns.
    pub(crate) gap: Pt,
    /// So many rows stay together with the head, itself counted.
    pub(crate) whole: usize,
}

/// A document on pages.
#[derive(Debug, Clone)]
pub struct Laid {
    /// About the file.
    pub(crate) about: About,
    /// Paper width and height.
    pub(crate) paper: (Pt, Pt),
    /// The pages.
    pub(crate) pages: Vec<Page>,
    /// Ids of the blocks, title and title block first.
    pub(crate) names: Vec<String>,
    /// What each of them is.
    pub(crate) sorts: Vec<Sort>,
    /// Targets of links.
    pub(crate) links: Vec<String>,
    /// Where each block starts.
    pub(crate) anchors: BTreeMap<String, Spot>,
    /// Headings.
    pub(crate) outline: Vec<Entry>,
    /// The words for readers who cannot see a figure, by the number of its block.
    pub(crate) alternatives: BTreeMap<u32, String>,
    /// What it was set by.
    pub(crate) tokens: Tokens,
    /// Blocks that stand from margin to margin, by their numbers.
    pub(crate) across: BTreeSet<u32>,
    /// How tables were divided, by the numbers of their blocks.
    pub(crate) rulings: BTreeMap<u32, Ruling>,
    /// Whether contents were set.
    pub(crate) has_contents: bool,
}

/// A stretch of marked content: what a later pass needs to tag the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marked {
    /// Page, from 0.
    pub page: usize,
    /// Number of the stretch on its page, as written in the file.
    pub mcid: u32,
    /// The block it belongs to.
    pub block: String,
    /// The part of the block, such as `text`, `label` or `cell 2.1`.
    pub part: String,
}

/// Marks of one page that follow each other, belong together and lead to one place.
pub(crate) struct Sequence<'a> {
    /// Whom they belong to.
    pub(crate) owner: Owner,
    /// The number in the file; `None` for an artifact.
    pub(crate) mcid: Option<u32>,
    /// The link that they are.
    pub(crate) link: Option<u32>,
    /// The marks.
    pub(crate) marks: &'a [Mark],
}

impl Page {
    /// The page cut into stretches of one owner and link, numbered in order.
    pub(crate) fn sequences(&self) -> impl Iterator<Item = Sequence<'_>> {
        let mut next = 0;
        let alike = |a: &Mark, b: &Mark| (a.owner(), a.link()) == (b.owner(), b.link());
        self.marks.chunk_by(alike).map(move |marks| {
            let owner = marks.first().map_or(Owner::Artifact, Mark::owner);
            let mcid = (owner != Owner::Artifact).then(|| {
                next += 1;
                next - 1
            });
            let link = marks.first().and_then(Mark::link).filter(|_| mcid.is_some());
            Sequence { owner, mcid, link, marks }
        })
    }
}

impl Laid {
    /// Number of pages.
    pub fn pages(&self) -> usize {
        self.pages.len()
    }

    /// Every stretch of marked content, page by page in reading order.
    pub fn marked(&self) -> Vec<Marked> {
        let pages = self.pages.iter().enumerate();
        pages
            .flat_map(|(page, laid)| laid.sequences().filter_map(move |one| self.record(page, &one)))
            .collect()
    }

    fn record(&self, page: usize, sequence: &Sequence<'_>) -> Option<Marked> {
        let (Some(mcid), Owner::Content(block, part)) = (sequence.mcid, sequence.owner) else { return None };
        Some(Marked { page, mcid, block: self.name(block).to_owned(), part: part.to_string() })
    }

    /// The id of a block.
    pub(crate) fn name(&self, block: u32) -> &str {
        usize::try_from(block).ok().and_then(|at| self.names.get(at)).map_or("", String::as_str)
    }
}

impl std::fmt::Display for Part {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Text => out.write_str("text"),
            Self::Label => out.write_str("label"),
            Self::Heading(level) => write!(out, "heading {level}"),
            Self::Caption => out.write_str("caption"),
            Self::Figure => out.write_str("figure"),
            Self::Note => out.write_str("note"),
            Self::Key(line) => write!(out, "key {line}"),
            Self::Value(line) => write!(out, "value {line}"),
            Self::Cell { row, column } => write!(out, "cell {row}.{column}"),
        }
    }
}
