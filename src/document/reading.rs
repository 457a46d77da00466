//! Filled templates into blocks: Markdown in, blocks with identities and without numbers out.
//!
//! Besides headings, paragraphs, lists, tables and quoted boxes a template writes marks for the reader, each on a line
//! of its own: `<!-- item NAME -->` (from here on paragraphs are numbered items and lists lie below them), `<!-- bullet
//! NAME -->` (paragraphs are points), `<!-- plain NAME -->`, and `<!-- end -->` before the last line. `NAME` is what the
//! blocks are called after. A heading ends what the marks began. `<!-- figure NAME -->` sets the figure of that name,
//! as often as it is written; `crack-gauge`, `crack-card`, `check-bar` and `sketch-grid 80` (80 mm high) are there for any paper.
//! `<!-- page -->` starts a new page; `<!-- rows 8 -->` before a table makes it a form whose rows are 8 mm high at least,
//! `<!-- rows 8 small -->` one in smaller words; `<!-- large -->` before one sets its strong words large, `<!-- wide -->`
//! sets it from margin to margin, `<!-- whole -->` keeps it on one page if one can hold it. `<!-- proof -->` makes the
//! list behind it the proof of the paragraph before: each point opens with its key in bold.
//!
//! Inside a text `<br>` breaks a line; `<tick>` is a box to tick, which holds on to the word behind it, and `<ticked>`
//! one that is ticked; `<blank mm=40>` is a line of 40 mm to write on, `<room mm=40>` as much room without a line.
//! Values hold none of this: their signs are escaped.

use std::collections::BTreeMap;
use std::iter::Peekable;

use pulldown_cmark::{Alignment, Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::block::{
    Align, Blank, Block, BlockKind, Breaks, Inline, ProofLine, Reach, Ruled, Strong, Table, TextSize, Tick,
};
use super::figures::Figures;
use super::inline::{Runs, trimmed};
use crate::drawing::Mm;

/// What the reader cannot set, as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Obstacle {
    /// HTML that is not a mark.
    Html(String),
    /// Anything else.
    Other(String),
    /// A list below the fourth level.
    TooDeep(String),
}

/// Reads a filled template.
pub(super) fn read(text: &str, figures: &Figures) -> (Vec<Block>, Vec<Obstacle>) {
    let events = Parser::new_ext(text, options()).peekable();
    let mut reader = Reader {
        events,
        figures,
        blocks: Vec::new(),
        obstacles: Vec::new(),
        mode: Mode::Plain,
        stem: "start".to_owned(),
        counts: BTreeMap::new(),
        caption: None,
        row: (Mm::default(), TextSize::Usual),
        strong: Strong::Level,
        reach: Reach::default(),
        breaks: Breaks::default(),
        ending: false,
        proving: false,
    };
    while let Some(event) = reader.events.next() {
        reader.block(event);
    }
    (reader.blocks, reader.obstacles)
}

/// The Markdown that is read: tables, ids of headings, and quotes and dashes as a printer sets them.
pub(super) fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_HEADING_ATTRIBUTES | Options::ENABLE_SMART_PUNCTUATION
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    Plain,
    Item,
    Bullet,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum ListKind {
    Numbered,
    Points,
}

struct Reader<'t> {
    events: Peekable<Parser<'t>>,
    figures: &'t Figures,
    blocks: Vec<Block>,
    obstacles: Vec<Obstacle>,
    mode: Mode,
    stem: String,
    counts: BTreeMap<String, usize>,
    caption: Option<Vec<Inline>>,
    /// Least height of the rows of the next table, and the size of its words.
    row: (Mm, TextSize),
    /// How strong words of the next table are set.
    strong: Strong,
    /// How far the next table reaches.
    reach: Reach,
    /// Where a page may end in the next table.
    breaks: Breaks,
    ending: bool,
    /// Whether the next list says how the paragraph before it is proved.
    proving: bool,
}

impl Reader<'_> {
    fn block(&mut self, event: Event<'_>) {
        match event {
            Event::Start(Tag::Paragraph) => {
                let text = self.inline(TagEnd::Paragraph);
                self.paragraph(text);
            }
            Event::Start(Tag::Heading { level, id, .. }) => {
                let text = self.inline(TagEnd::Heading(level));
                self.heading(level, id.map(String::from), text);
            }
            Event::Start(Tag::List(_)) if std::mem::take(&mut self.proving) => self.proof(),
            Event::Start(Tag::List(first)) => self.list(kind_of(first), self.first_depth()),
            Event::Start(Tag::BlockQuote(_)) => self.caution(),
            Event::Start(Tag::Table(align)) => self.table(&align),
            Event::Start(Tag::HtmlBlock) => self.html(),
            Event::End(_) => {}
            other => self.obstacles.push(Obstacle::Other(shown(&other))),
        }
    }

    fn push(&mut self, kind: BlockKind) {
        let count = self.counts.entry(self.stem.clone()).or_default();
        *count += 1;
        let id = format!("{}.{count}", self.stem);
        self.blocks.push(Block { id, kind });
    }

    fn paragraph(&mut self, text: Vec<Inline>) {
        if std::mem::take(&mut self.ending) {
            return self.push(BlockKind::End(super::block::plain(&text)));
        }
        if let Some(caption) = caption_of(&text)
            && matches!(self.events.peek(), Some(Event::Start(Tag::Table(_))))
        {
            self.caption = Some(caption);
            return;
        }
        self.push(match self.mode {
            Mode::Plain => BlockKind::Paragraph(text),
            Mode::Item => BlockKind::Item { depth: 1, label: String::new(), text },
            Mode::Bullet => BlockKind::Bullet { depth: 1, text },
        });
    }

    fn heading(&mut self, level: HeadingLevel, id: Option<String>, text: Vec<Inline>) {
        let stem = id.unwrap_or_else(|| slug(&super::block::plain(&text)));
        let id = self.once_more(&stem);
        self.mode = Mode::Plain;
        self.stem = stem;
        let level = (level as usize).min(3);
        let level = u8::try_from(level).unwrap_or(3);
        self.blocks.push(Block { id, kind: BlockKind::Heading { level, number: None, text } });
    }

    /// A name, with a number from its second use on.
    fn once_more(&mut self, stem: &str) -> String {
        let before = self.counts.entry(format!("{stem}#")).or_default();
        *before += 1;
        if *before == 1 { stem.to_owned() } else { format!("{stem}-{before}") }
    }

    /// Lists below a numbered paragraph or a point lie one level deeper.
    fn first_depth(&self) -> u8 {
        if self.mode == Mode::Plain { 1 } else { 2 }
    }

    fn list(&mut self, kind: ListKind, depth: u8) {
        while let Some(event) = self.events.next() {
            match event {
                Event::Start(Tag::Item) => self.item(kind, depth),
                Event::End(TagEnd::List(_)) => return,
                _ => {}
            }
        }
    }

    /// The points of a list as the lines of a proof.
    fn proof(&mut self) {
        let mut lines = Vec::new();
        while let Some(event) = self.events.next() {
            match event {
                Event::Start(Tag::Item) => {
                    let (key, text) = opened(self.inline(TagEnd::Item));
                    lines.push(ProofLine { key, text });
                }
                Event::End(TagEnd::List(_)) => break,
                _ => {}
            }
        }
        self.push(BlockKind::Proof(lines));
    }

    fn item(&mut self, kind: ListKind, depth: u8) {
        let mut runs = Runs::default();
        let mut printed = false;
        while let Some(event) = self.events.next() {
            match event {
                Event::End(TagEnd::Item) => break,
                Event::Start(Tag::Paragraph) if runs.is_empty() => {}
                Event::Start(Tag::Paragraph) => runs.add(Inline::Break),
                Event::End(TagEnd::Paragraph) => {}
                Event::Start(Tag::List(first)) => {
                    if !std::mem::replace(&mut printed, true) {
                        self.point(kind, depth, std::mem::take(&mut runs).finish());
                    }
                    self.list(kind_of(first), depth + 1);
                }
                other => self.run(other, &mut runs),
            }
        }
        if !printed {
            self.point(kind, depth, runs.finish());
        }
    }

    fn point(&mut self, kind: ListKind, depth: u8, text: Vec<Inline>) {
        let deepest = if kind == ListKind::Numbered { 4 } else { 2 };
        if depth > deepest {
            self.obstacles.push(Obstacle::TooDeep(super::block::plain(&text)));
        }
        let text = trimmed(text);
        self.push(match kind {
            ListKind::Numbered => BlockKind::Item { depth: depth.min(4), label: String::new(), text },
            ListKind::Points => BlockKind::Bullet { depth: depth.min(2), text },
        });
    }

    /// A quoted box: its first paragraph opens with the word in bold.
    fn caution(&mut self) {
        let mut text = Vec::new();
        while let Some(event) = self.events.next() {
            match event {
                Event::Start(Tag::Paragraph) => text.push(self.inline(TagEnd::Paragraph)),
                Event::End(TagEnd::BlockQuote(_)) => break,
                other => self.obstacles.push(Obstacle::Other(shown(&other))),
            }
        }
        let mut word = String::new();
        if let Some(first) = text.first_mut() {
            (word, *first) = opened(std::mem::take(first));
        }
        text.retain(|paragraph| !paragraph.is_empty());
        self.push(BlockKind::Caution { word, text });
    }

    fn table(&mut self, align: &[Alignment]) {
        let align = align.iter().map(|one| match one {
            Alignment::Right => Align::Right,
            _ => Align::Left,
        });
        let caption = self.caption.take().unwrap_or_default();
        let (row, size) = std::mem::take(&mut self.row);
        let strong = std::mem::replace(&mut self.strong, Strong::Level);
        let (reach, breaks) = (std::mem::take(&mut self.reach), std::mem::take(&mut self.breaks));
        let (head, rows, align) = (Vec::new(), Vec::new(), align.collect());
        let mut table = Table { caption, align, head, rows, row, size, strong, reach, breaks };
        let mut row = Vec::new();
        while let Some(event) = self.events.next() {
            match event {
                Event::Start(Tag::TableCell) => row.push(self.inline(TagEnd::TableCell)),
                Event::End(TagEnd::TableHead) => table.head = std::mem::take(&mut row),
                Event::End(TagEnd::TableRow) => table.rows.push(std::mem::take(&mut row)),
                Event::End(TagEnd::Table) => break,
                _ => {}
            }
        }
        self.push(BlockKind::Table(table));
    }

    fn html(&mut self) {
        let mut written = String::new();
        for event in self.events.by_ref() {
            match event {
                Event::Html(text) | Event::Text(text) => written.push_str(&text),
                Event::End(TagEnd::HtmlBlock) => break,
                _ => {}
            }
        }
        if self.mark(written.trim()).is_none() {
            self.obstacles.push(Obstacle::Html(written.trim().to_owned()));
        }
    }

    fn mark(&mut self, written: &str) -> Option<()> {
        let inner = written.strip_prefix("<!--")?.strip_suffix("-->")?.trim();
        let (word, name) = inner.split_once(' ').unwrap_or((inner, ""));
        match word {
            "figure" => {
                let drawing = self.figures.named(name)?;
                let id = self.once_more(&drawing.id);
                self.blocks.push(Block { id, kind: BlockKind::Figure(drawing) });
                return Some(());
            }
            "page" => {
                let id = self.once_more("page");
                self.blocks.push(Block { id, kind: BlockKind::NewPage });
                return Some(());
            }
            "proof" => {
                self.proving = true;
                return Some(());
            }
            "large" => {
                self.strong = Strong::Large;
                return Some(());
            }
            "wide" => {
                self.reach = Reach::Margins;
                return Some(());
            }
            "whole" => {
                self.breaks = Breaks::Never;
                return Some(());
            }
            "rows" => {
                self.row = match name.strip_suffix(" small") {
                    Some(height) => (millimetres(height)?, TextSize::Small),
                    None => (millimetres(name)?, TextSize::Usual),
                };
                return Some(());
            }
            _ => {}
        }
        self.mode = match word {
            "item" => Mode::Item,
            "bullet" => Mode::Bullet,
            "plain" => Mode::Plain,
            "end" => {
                self.ending = true;
                Mode::Plain
            }
            _ => return None,
        };
        self.stem = if name.is_empty() { word.to_owned() } else { slug(name) };
        Some(())
    }

    fn inline(&mut self, end: TagEnd) -> Vec<Inline> {
        let mut runs = Runs::default();
        while let Some(event) = self.events.next() {
            match event {
                Event::End(tag) if tag == end => break,
                other => self.run(other, &mut runs),
            }
        }
        trimmed(runs.finish())
    }

    fn run(&mut self, event: Event<'_>, runs: &mut Runs) {
        match event {
            Event::Text(words) => runs.add(Inline::Text(words.into_string())),
            Event::Code(words) => runs.add(Inline::Code(words.into_string())),
            Event::SoftBreak => runs.add(Inline::Text(" ".to_owned())),
            Event::HardBreak => runs.add(Inline::Break),
            Event::Start(Tag::Strong) => runs.add(Inline::Strong(self.inline(TagEnd::Strong))),
            Event::Start(Tag::Emphasis) => runs.add(Inline::Emphasis(self.inline(TagEnd::Emphasis))),
            Event::Start(Tag::Link { dest_url, .. }) => {
                let text = self.inline(TagEnd::Link);
                let target = dest_url.strip_prefix('#').unwrap_or(&dest_url).to_owned();
                runs.add(Inline::Link { target, text });
            }
            Event::InlineHtml(tag) | Event::Html(tag) => match inline_tag(&tag) {
                Some(run) => runs.add(run),
                None => self.obstacles.push(Obstacle::Html(tag.into_string())),
            },
            other => self.obstacles.push(Obstacle::Other(shown(&other))),
        }
    }
}

fn kind_of(first: Option<u64>) -> ListKind {
    if first.is_some() { ListKind::Numbered } else { ListKind::Points }
}

/// The word in bold that opens a text, if one does, and the rest.
fn opened(mut text: Vec<Inline>) -> (String, Vec<Inline>) {
    let Some(Inline::Strong(inner)) = text.first() else { return (String::new(), text) };
    let word = super::block::plain(inner);
    text.remove(0);
    (word, trimmed(text))
}

/// What a tag inside a text stands for.
fn inline_tag(tag: &str) -> Option<Inline> {
    match tag {
        "<br>" => return Some(Inline::Break),
        "<tick>" => return Some(Inline::Tick(Tick::Open)),
        "<ticked>" => return Some(Inline::Tick(Tick::Set)),
        _ => {}
    }
    let (word, width) = tag.strip_prefix('<')?.strip_suffix('>')?.split_once(" mm=")?;
    let line = match word {
        "blank" => Ruled::Yes,
        "room" => Ruled::No,
        _ => return None,
    };
    Some(Inline::Blank(Blank { width: millimetres(width)?, line }))
}

/// A length on the page in whole millimetres: 1 to 170, which is from margin to margin.
fn millimetres(written: &str) -> Option<Mm> {
    let length: u16 = written.trim().parse().ok().filter(|length| (1..=170).contains(length))?;
    Some(Mm::of(f64::from(length)))
}

/// `Table: words` just above a table is its caption.
fn caption_of(text: &[Inline]) -> Option<Vec<Inline>> {
    let Some(Inline::Text(first)) = text.first() else { return None };
    let rest = first.strip_prefix("Table: ")?.to_owned();
    Some(std::iter::once(Inline::Text(rest)).chain(text.iter().skip(1).cloned()).collect())
}

/// A name fit for a link target: small letters, digits, hyphens.
fn slug(words: &str) -> String {
    let mut made = String::new();
    for sign in words.chars().flat_map(char::to_lowercase) {
        if sign.is_alphanumeric() {
            made.push(sign);
        } else if !made.is_empty() && !made.ends_with('-') {
            made.push('-');
        }
    }
    made.trim_end_matches('-').to_owned()
}

fn shown(event: &Event<'_>) -> String {
    match event {
        Event::Start(Tag::CodeBlock(_)) => "a block of code".to_owned(),
        Event::Start(Tag::Image { dest_url, .. }) => format!("the picture {dest_url}"),
        Event::Rule => "a rule".to_owned(),
        Event::Text(words) | Event::Code(words) => words.to_string(),
        _ => "a kind of block that has no place here".to_owned(),
    }
}
