//! Blocks: what every renderer sets. A block has an identity and sits in reading order.

use std::collections::BTreeSet;

use crate::drawing::{Drawing, Mm};

/// What a paper is in law: printed on it, so that nobody mistakes advice for contract.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Binds the parties.
    Contract,
    /// Informs; binds nobody.
    Information,
    /// Stays in the office.
    Office,
}

impl Standing {
    /// The words printed on every page.
    pub fn words(self) -> &'static str {
        match self {
            Self::Contract => "Contract document",
            Self::Information => "For information",
            Self::Office => "Office record, not issued",
        }
    }
}

/// Everything that surrounds the text of a document.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Furniture {
    /// Head, left: section number and short title.
    pub head_left: String,
    /// Head, right: job, revision, status.
    pub head_right: String,
    /// A strip under the head when the set may not be built from; `None` when it may.
    pub status_strip: Option<String>,
    /// The words over the contents, which a paper of more than six pages has then.
    pub contents: Option<String>,
    /// Foot, left: document number, rulebook edition and digests.
    pub foot_left: String,
    /// Label and value pairs of the title block, in order; a `None` value prints as a blank to write on.
    pub title_block: Vec<(String, Option<String>)>,
}

/// A paper ready to be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// File stem, such as `section`.
    pub name: String,
    /// Title, as in the metadata.
    pub title: String,
    /// Second title, such as the name of the job.
    pub subtitle: String,
    /// What the paper is in law.
    pub standing: Standing,
    /// BCP 47 language of the words, such as `en-US`.
    pub language: String,
    /// Date of issue, `YYYY-MM-DD`; stands in the metadata too.
    pub date: String,
    /// Page size and type style.
    pub style: Style,
    /// Heads, feet, title block.
    pub furniture: Furniture,
    /// The text, in reading order.
    pub blocks: Vec<Block>,
    /// Blocks that are new or worded otherwise since the issue before, by id: a bar stands beside them.
    pub revised: BTreeSet<String>,
}

/// The page size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 612 x 792 pt.
    Letter,
    /// 595.28 x 841.89 pt.
    A4,
}

/// The voice of a paper, which picks its type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Voice {
    /// Serif contract text in one column with the proof rail's room kept beside it.
    Contract,
    /// Large sans text for people outside the trade.
    Plain,
    /// Sans text in one column, tables and forms from margin to margin, for papers that are looked up or filled in.
    Sheet,
    /// Sans text in two columns under tables from margin to margin, nothing smaller than 10 pt, for sheets that hang
    /// on the scaffold and are read from a metre away.
    Site,
}

/// Page size and voice together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// Page size.
    pub paper: Paper,
    /// Type.
    pub voice: Voice,
}

/// One block of text with an identity that stays the same as long as its clause does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// Unique within the document, such as `wash-pressure.1`; link targets name it.
    pub id: String,
    /// What it is.
    pub kind: BlockKind,
}

/// The kinds of block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BlockKind {
    /// A heading. Level 1 is a part, 2 an article, 3 a run-in head.
    Heading {
        /// 1 to 3.
        level: u8,
        /// Its number as printed (`PART 1`, `1.1`), if the document numbers.
        number: Option<String>,
        /// Its words.
        text: Vec<Inline>,
    },
    /// A numbered paragraph: `A.`, `1.`, `a.`, `1)` by depth 1 to 4.
    Item {
        /// 1 to 4.
        depth: u8,
        /// The label as printed.
        label: String,
        /// Its words.
        text: Vec<Inline>,
    },
    /// How the numbered paragraph before it is proved, line by line; stands beside it where there is room.
    Proof(Vec<ProofLine>),
    /// A point of an unnumbered list, depth 1 or 2.
    Bullet {
        /// 1 or 2.
        depth: u8,
        /// Its words.
        text: Vec<Inline>,
    },
    /// A plain paragraph.
    Paragraph(Vec<Inline>),
    /// A safety caution: set in a ruled box that opens with the word.
    Caution {
        /// The word, such as `WARNING`.
        word: String,
        /// Paragraphs of the box.
        text: Vec<Vec<Inline>>,
    },
    /// A table with a head that repeats on every page it runs over.
    Table(Table),
    /// A figure with its caption over it and its note under it, kept together and never scaled.
    Figure(Drawing),
    /// What follows starts on a new page.
    NewPage,
    /// The last line of a document, such as `END OF SECTION`, centred.
    End(String),
}

/// One line of a proof.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProofLine {
    /// What the line says, such as `proved by`.
    pub key: String,
    /// Its words.
    pub text: Vec<Inline>,
}

/// A table. Every row has as many cells as the head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The caption above it; may be empty.
    pub caption: Vec<Inline>,
    /// Alignment of each column.
    pub align: Vec<Align>,
    /// The head row.
    pub head: Vec<Vec<Inline>>,
    /// The body.
    pub rows: Vec<Vec<Vec<Inline>>>,
    /// The least height of a row of the body. Nought for tables that are only read; a table with a height is a form,
    /// with lines between its columns, and handwriting needs 8 mm.
    pub row: Mm,
    /// The size of the words of the body.
    pub size: TextSize,
    /// How its strong words are set.
    pub strong: Strong,
    /// How far it reaches.
    pub reach: Reach,
    /// Where a page may end in it.
    pub breaks: Breaks,
}

impl Table {
    /// Whether its rows have room for handwriting.
    pub(crate) fn is_form(&self) -> bool {
        self.row > Mm::default()
    }
}

/// How far a table reaches.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Reach {
    /// Over the text column, or further if its words need it.
    #[default]
    Column,
    /// From margin to margin.
    Margins,
}

/// Where a page may end in a table.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Breaks {
    /// Between its rows, but for a short table.
    #[default]
    Rows,
    /// Nowhere, as far as one page can hold it: a form that is copied and filed by its sheet.
    Never,
}

/// How large the words of a table are.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum TextSize {
    /// As in any table.
    #[default]
    Usual,
    /// A step smaller, for forms of many questions.
    Small,
}

/// How the strong words of a table are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strong {
    /// As large as the words around them.
    Level,
    /// Large enough to be read at arm's length and further: key figures of a sheet.
    Large,
}

/// How a column is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Ragged right.
    Left,
    /// Ragged left, for numbers.
    Right,
}

/// A run of words inside a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Inline {
    /// Plain words.
    Text(String),
    /// Bold.
    Strong(Vec<Inline>),
    /// Italic.
    Emphasis(Vec<Inline>),
    /// An identifier, in the fixed-width type.
    Code(String),
    /// A link to a block of this document.
    Link {
        /// The block's id.
        target: String,
        /// The words to click.
        text: Vec<Inline>,
    },
    /// A line break.
    Break,
    /// A box to tick.
    Tick(Tick),
    /// Room to write in.
    Blank(Blank),
}

/// Whether a box is ticked already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tick {
    /// To be ticked by hand.
    Open,
    /// Ticked when the paper was written.
    Set,
}

impl Tick {
    /// The sign that stands for it where no box can be drawn.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Open => "☐",
            Self::Set => "☑",
        }
    }
}

/// Room to write in by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blank {
    /// How wide.
    pub width: Mm,
    /// Whether it shows a line to write on.
    pub line: Ruled,
}

/// Whether a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruled {
    /// It is.
    Yes,
    /// It is not: the room alone is kept.
    No,
}

impl Blank {
    /// The signs that stand for it where no line can be drawn.
    pub fn sign(self) -> &'static str {
        match self.line {
            Ruled::Yes => "______",
            Ruled::No => "",
        }
    }
}

/// The words of a run without their dress.
pub fn plain(text: &[Inline]) -> String {
    text.iter()
        .map(|run| match run {
            Inline::Text(words) | Inline::Code(words) => words.clone(),
            Inline::Strong(inner) | Inline::Emphasis(inner) | Inline::Link { text: inner, .. } => {
                plain(inner)
            }
            Inline::Break => " ".to_owned(),
            Inline::Tick(tick) => tick.sign().to_owned(),
            Inline::Blank(blank) => blank.sign().to_owned(),
        })
        .collect()
}
