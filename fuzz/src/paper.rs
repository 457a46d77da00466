//! Papers of any blocks in any order, made of bytes.

use std::collections::BTreeSet;

use arbitrary::{Arbitrary, Unstructured};
use perpend::document::block::{
    Align, Blank, Block, BlockKind, Breaks, Document, Furniture, Inline, Paper, ProofLine, Reach, Ruled,
    Standing, Strong, Style, Table, TextSize, Tick, Voice, plain,
};
use perpend::drawing::{Drawing, Mark, Mm, Pen, Spot, Thickness, Tone};

/// What a paper is made of.
#[derive(Debug, Arbitrary)]
pub struct Plan {
    form: u8,
    title: Words,
    head: Words,
    strip: Option<Words>,
    has_contents: bool,
    fields: Vec<(Words, Option<Words>)>,
    blocks: Vec<Kind>,
}

#[derive(Debug, Arbitrary)]
enum Kind {
    Paragraph(Vec<Run>),
    Heading(u8, Option<Words>, Vec<Run>),
    Item(u8, Words, Vec<Run>),
    Proof(Vec<(Words, Vec<Run>)>),
    Bullet(u8, Vec<Run>),
    Caution(Words, Vec<Vec<Run>>),
    Table(Sheet),
    Figure(u8, u8, Words, Words),
    NewPage,
    End(Words),
}

#[derive(Debug, Arbitrary)]
struct Sheet {
    caption: Vec<Run>,
    columns: u8,
    rows: u8,
    form: u8,
    cells: Vec<Vec<Run>>,
}

#[derive(Debug, Arbitrary)]
enum Run {
    Text(Words),
    Strong(Words),
    Emphasis(Words),
    Code(Words),
    Link(u8, Words),
    Nested(Vec<Run>),
    Break,
    Tick(bool),
    Blank(u8, bool),
}

/// Signs that the faces hold, with those that steer line breaking, and now and then one that no face holds.
#[derive(Debug)]
struct Words(String);

const SIGNS: [char; 64] = [
    ' ',
    ' ',
    ' ',
    ' ',
    ' ',
    ' ',
    'e',
    't',
    'a',
    'o',
    'i',
    'n',
    's',
    'r',
    'h',
    'l',
    'd',
    'f',
    'W',
    'M',
    'Q',
    '0',
    '1',
    '5',
    '.',
    ',',
    ';',
    ':',
    '(',
    ')',
    '/',
    '-',
    '–',
    '—',
    '‘',
    '“',
    '”',
    '≤',
    '°',
    'µ',
    '½',
    '²',
    '₂',
    '×',
    'б',
    'Ж',
    'λ',
    'Ω',
    'é',
    '\u{a0}',
    '\u{ad}',
    '\u{200b}',
    '\u{2060}',
    '\u{301}',
    '\u{308}',
    '\n',
    '\t',
    '\u{202e}',
    'ק',
    'ج',
    '漢',
    '\u{1f9f1}',
    '\u{7}',
    '\u{fffe}',
];

impl<'a> Arbitrary<'a> for Words {
    fn arbitrary(bytes: &mut Unstructured<'a>) -> arbitrary::Result<Self> {
        let length = usize::from(u8::arbitrary(bytes)?);
        let times = if length > 192 { 24 } else { 1 };
        let mut text = String::new();
        for _ in 0..length % 64 {
            let Ok(at) = u8::arbitrary(bytes) else { break };
            // the last few signs are rare: a paper with one of them is refused
            let at = if at < 250 { usize::from(at) % 58 } else { usize::from(at) % 64 };
            text.push(SIGNS[at]);
        }
        Ok(Self(text.repeat(times)))
    }
}

impl Run {
    fn inline(self, targets: usize) -> Inline {
        let words = |words: Words| vec![Inline::Text(words.0)];
        match self {
            Self::Text(text) => Inline::Text(text.0),
            Self::Strong(text) => Inline::Strong(words(text)),
            Self::Emphasis(text) => Inline::Emphasis(words(text)),
            Self::Code(text) => Inline::Code(text.0),
            Self::Link(to, text) => {
                Inline::Link { target: format!("b{}", usize::from(to) % targets), text: words(text) }
            }
            Self::Nested(runs) => Inline::Strong(inlines(runs, targets)),
            Self::Break => Inline::Break,
            Self::Tick(is_set) => Inline::Tick(if is_set { Tick::Set } else { Tick::Open }),
            Self::Blank(width, is_ruled) => Inline::Blank(Blank {
                width: Mm::of(f64::from(width)),
                line: if is_ruled { Ruled::Yes } else { Ruled::No },
            }),
        }
    }
}

fn inlines(runs: Vec<Run>, targets: usize) -> Vec<Inline> {
    runs.into_iter().map(|run| run.inline(targets)).collect()
}

impl Sheet {
    fn table(self, targets: usize) -> Table {
        let columns = usize::from(self.columns) % 9 + 1;
        let mut cells = self.cells.into_iter().map(|cell| inlines(cell, targets));
        let mut row = || (0..columns).map(|_| cells.next().unwrap_or_default()).collect::<Vec<_>>();
        let (head, rows) = (row(), (0..usize::from(self.rows) % 96).map(|_| row()).collect());
        let align = |bit: u8| if self.form >> bit & 1 == 0 { Align::Left } else { Align::Right };
        Table {
            caption: inlines(self.caption, targets),
            align: (0..8).map(align).take(usize::from(self.form) % 9).collect(),
            head,
            rows,
            row: Mm::of(if self.form & 1 == 0 { 0.0 } else { 8.0 }),
            size: if self.form & 2 == 0 { TextSize::Usual } else { TextSize::Small },
            strong: if self.form & 4 == 0 { Strong::Level } else { Strong::Large },
            reach: if self.form & 8 == 0 { Reach::Column } else { Reach::Margins },
            breaks: if self.form & 16 == 0 { Breaks::Rows } else { Breaks::Never },
        }
    }
}

/// A drawing of a box, no larger than a page holds.
fn drawing(id: String, (width, height): (u8, u8), caption: Words, note: Words) -> Drawing {
    let (width, height) = (1.0 + f64::from(width % 170), 1.0 + f64::from(height % 120));
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)];
    let line = corners.into_iter().map(Spot::of).collect();
    Drawing {
        id,
        title: "A box".to_owned(),
        caption: caption.0,
        note: note.0,
        alt: "A box of any size, drawn as one line.".to_owned(),
        width: Mm::of(width),
        height: Mm::of(height),
        marks: vec![Mark::Lines { lines: vec![line], pen: Pen::solid(Thickness::Plain, Tone::Ink) }],
    }
}

impl Kind {
    fn block(self, at: usize, targets: usize) -> Block {
        let text = |runs| inlines(runs, targets);
        let kind = match self {
            Self::Paragraph(runs) => BlockKind::Paragraph(text(runs)),
            Self::Heading(level, number, runs) => {
                BlockKind::Heading { level: level % 5, number: number.map(|words| words.0), text: text(runs) }
            }
            Self::Item(depth, label, runs) => {
                BlockKind::Item { depth: depth % 6, label: label.0, text: text(runs) }
            }
            Self::Proof(lines) => BlockKind::Proof(
                lines.into_iter().map(|(key, runs)| ProofLine { key: key.0, text: text(runs) }).collect(),
            ),
            Self::Bullet(depth, runs) => BlockKind::Bullet { depth: depth % 6, text: text(runs) },
            Self::Caution(word, paragraphs) => {
                BlockKind::Caution { word: word.0, text: paragraphs.into_iter().map(text).collect() }
            }
            Self::Table(sheet) => BlockKind::Table(sheet.table(targets)),
            Self::Figure(width, height, caption, note) => {
                BlockKind::Figure(drawing(format!("box-{at}"), (width, height), caption, note))
            }
            Self::NewPage => BlockKind::NewPage,
            Self::End(words) => BlockKind::End(words.0),
        };
        Block { id: format!("b{at}"), kind }
    }
}

impl Plan {
    /// The paper.
    pub fn document(self) -> Document {
        let targets = self.blocks.len().max(1);
        let voices = [Voice::Contract, Voice::Plain, Voice::Sheet, Voice::Site];
        let revised = (0..targets).filter(|at| self.form >> (at % 8) & 1 == 1).map(|at| format!("b{at}"));
        let revised = if self.has_contents { BTreeSet::new() } else { revised.collect() };
        let blocks = self.blocks.into_iter().enumerate().map(|(at, kind)| kind.block(at, targets)).collect();
        let fields = self.fields.into_iter().map(|(label, value)| (label.0, value.map(|words| words.0)));
        Document {
            name: "sample".to_owned(),
            title: self.title.0,
            subtitle: self.head.0.clone(),
            standing: Standing::Information,
            language: if self.form & 8 == 0 { "en-US" } else { "el" }.to_owned(),
            date: "2027-03-01".to_owned(),
            style: Style {
                paper: if self.form & 4 == 0 { Paper::Letter } else { Paper::A4 },
                voice: voices[usize::from(self.form) % voices.len()],
            },
            furniture: Furniture {
                head_left: self.head.0.clone(),
                head_right: self.head.0.clone(),
                status_strip: self.strip.map(|words| words.0),
                contents: self.has_contents.then(|| "Contents".to_owned()),
                foot_left: self.head.0,
                title_block: fields.collect(),
            },
            blocks,
            revised,
        }
    }
}

/// More pages than any paper of these blocks takes: a page for each block, one more for each new page asked for, and one
/// for each dozen signs or each pair of rows, since no page but the last holds less.
pub fn most_pages(document: &Document) -> usize {
    let kinds: Vec<&BlockKind> = document.blocks.iter().map(|block| &block.kind).collect();
    let signs: usize = kinds.iter().map(|kind| words(kind).chars().count()).sum();
    let rows: usize =
        kinds.iter().map(|kind| if let BlockKind::Table(table) = kind { table.rows.len() } else { 0 }).sum();
    let fields: usize = document.furniture.title_block.len();
    4 + fields + 2 * kinds.len() + signs / 12 + rows / 2
}

fn words(kind: &BlockKind) -> String {
    let all = |texts: &[Vec<Inline>]| texts.iter().map(|text| plain(text)).collect::<String>();
    match kind {
        BlockKind::Heading { text, .. }
        | BlockKind::Item { text, .. }
        | BlockKind::Bullet { text, .. }
        | BlockKind::Paragraph(text) => plain(text),
        BlockKind::Proof(lines) => lines.iter().map(|line| line.key.clone() + &plain(&line.text)).collect(),
        BlockKind::Caution { word, text } => word.clone() + &all(text),
        BlockKind::Table(table) => {
            let body: String = table.rows.iter().map(|row| all(row)).collect();
            plain(&table.caption) + &all(&table.head) + &body
        }
        BlockKind::Figure(drawing) => drawing.caption.clone() + &drawing.note,
        BlockKind::NewPage => String::new(),
        BlockKind::End(words) => words.clone(),
    }
}

/// The codes of what may be told of such a paper: a sign that no face holds.
pub fn allowed() -> BTreeSet<&'static str> {
    BTreeSet::from(["RE001"])
}
