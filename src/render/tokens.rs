//! The one table of the design: sizes, margins, spaces, and the colours that figures use too. Nothing else in `render`
//! holds such a number.
//!
//! Sizes and distances are points (1/72 in). All values are the design's own choice unless a line says more.

use super::font::Face;
use crate::document::block::{Paper, Style, Voice};
pub(crate) use crate::drawing::Tone as Colour;

/// A length in points.
pub(crate) type Pt = f64;

/// The type of a run of text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Type {
    /// The upright face.
    pub(crate) face: Face,
    /// Its italic.
    pub(crate) italic: Face,
    /// Its bold.
    pub(crate) bold: Face,
    /// Size.
    pub(crate) size: Pt,
    /// Distance from baseline to baseline.
    pub(crate) leading: Pt,
    /// Colour.
    pub(crate) colour: Colour,
    /// Space added after each letter, in thousandths of the size.
    pub(crate) tracking: i32,
    /// Size of strong words, where it is another.
    pub(crate) large: Option<Pt>,
}

impl Type {
    const fn serif(size: Pt, leading: Pt) -> Self {
        Self {
            face: Face::SerifRegular,
            italic: Face::SerifItalic,
            bold: Face::SerifBold,
            size,
            leading,
            colour: Colour::Ink,
            tracking: 0,
            large: None,
        }
    }

    const fn sans(size: Pt, leading: Pt) -> Self {
        Self {
            face: Face::SansRegular,
            italic: Face::SansItalic,
            bold: Face::SansSemibold,
            size,
            leading,
            colour: Colour::Ink,
            tracking: 0,
            large: None,
        }
    }

    const fn semibold(self) -> Self {
        Self { face: Face::SansSemibold, bold: Face::SansBold, ..self }
    }

    const fn heavy(self) -> Self {
        Self { face: Face::SansBold, bold: Face::SansBold, ..self }
    }

    const fn in_colour(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }

    const fn spaced(self, tracking: i32) -> Self {
        Self { tracking, ..self }
    }
}

/// Share of the type size from the baseline to the top of a capital; it puts text in the middle of its leading.
pub(crate) const CAPITAL: f64 = 0.66;

/// Identifiers are set a little smaller, so that their small letters match the text around them.
pub(crate) const CODE_SCALE: f64 = 0.92;

/// Left and right margin.
pub(crate) const MARGIN_SIDE: Pt = 54.0;
/// Paper edge to the top of the text.
pub(crate) const MARGIN_TOP: Pt = 64.0;
/// Paper edge to the bottom of the text.
pub(crate) const MARGIN_BOTTOM: Pt = 60.0;
/// Paper edge to the course line under the head.
pub(crate) const HEAD_LINE: Pt = 50.0;
/// Paper edge to the rule over the foot.
pub(crate) const FOOT_LINE: Pt = 52.0;
/// Distance from the course line to the baseline of the head above it.
pub(crate) const HEAD_RISE: Pt = 7.5;
/// Baseline to baseline in the foot; also from its rule to the first baseline.
pub(crate) const FOOT_STEP: Pt = 10.5;
/// Height of the status strip.
pub(crate) const STRIP: Pt = 14.0;
/// Room the strip takes from the text.
pub(crate) const STRIP_ROOM: Pt = 20.0;
/// Course line to status strip.
pub(crate) const STRIP_GAP: Pt = 7.0;
/// Least room between the left and right words of head or foot.
pub(crate) const HEAD_GAP: Pt = 24.0;

/// The module of the grid; ticks of the course line stand this far apart.
pub(crate) const MODULE: Pt = 18.0;
/// Height of a tick of the course line.
pub(crate) const TICK: Pt = 4.0;
/// The rail beside the contract text.
pub(crate) const RAIL: Pt = 126.0;
/// The keys of the rail have a column of their own, so wide.
pub(crate) const RAIL_KEY: Pt = 29.0;
/// Keys of the rail.
pub(crate) const RAIL_KEY_TYPE: Type = Type::sans(7.5, 9.5).heavy().in_colour(Colour::Accent);
/// Words of the rail.
pub(crate) const RAIL_TYPE: Type = Type::sans(7.5, 9.5);
/// How a clause is proved where it stands under the clause, as one paragraph.
pub(crate) const PROOF: Type = Type::sans(8.0, 10.0);
/// Room between rail and text, and between two columns.
pub(crate) const GUTTER: Pt = 18.0;

/// Line weights.
pub(crate) const WEIGHT_HAIR: Pt = 0.5;
/// Weight of the first rule of a table.
pub(crate) const WEIGHT_TOP: Pt = 1.0;
/// Weight of the box around a caution.
pub(crate) const WEIGHT_BOX: Pt = 2.0;
/// Weight of the course line.
pub(crate) const WEIGHT_COURSE: Pt = 0.6;

/// Weight of the bar at the outer edge of the page beside words that are new.
pub(crate) const WEIGHT_BAR: Pt = 1.6;
/// Room between the text and that bar, which stands in the margin.
pub(crate) const BAR_GAP: Pt = 9.0;

/// Hanging indent of each level of numbered text.
pub(crate) const INDENT: Pt = 18.0;
/// Least room between a label and its text.
pub(crate) const LABEL_GAP: Pt = 4.0;
/// Hanging indent of an article's title behind its number.
pub(crate) const ARTICLE_HANG: Pt = 27.0;
/// Room between a number of a part and its title.
pub(crate) const PART_GAP: Pt = 10.0;

/// Room inside a table between two columns.
pub(crate) const COLUMN_GAP: Pt = 12.0;
/// The gaps of a table with very many columns take no more than this share of its width.
pub(crate) const GAP_SHARE: f64 = 0.3;
/// Side of a box to tick: 4 mm can be hit with a pencil and a cold hand.
pub(crate) const TICK_BOX: Pt = 11.5;
/// How far the line to write on lies under the baseline.
pub(crate) const BLANK_DROP: Pt = 2.0;
/// Room in a table row over and under the text.
pub(crate) const CELL_PAD: Pt = 2.5;
/// Room between caption and table.
pub(crate) const CAPTION_GAP: Pt = 4.0;
/// Room after a table.
pub(crate) const TABLE_AFTER: Pt = 10.0;
/// Room between a figure and the words under it.
pub(crate) const NOTE_GAP: Pt = 3.0;
/// Type in a figure; its size comes from the figure.
pub(crate) const IN_FIGURE: Type = Type::sans(8.0, 10.0);

/// A table of this many columns or more may use the rail's room too.
pub(crate) const WIDE_TABLE_COLUMNS: usize = 4;

/// A table that takes no more than this share of a page stays whole.
pub(crate) const WHOLE_TABLE: f64 = 0.3;

/// The same of a table in which no page may end; what is left is for its heading and what is said before it.
pub(crate) const WHOLE_FORM: f64 = 0.8;

/// Room between the box of a caution and its words.
pub(crate) const BOX_PAD: Pt = 8.0;
/// Longest line of running text that is set from margin to margin, in sizes of its type: some 85 characters.
pub(crate) const LONGEST_LINE: f64 = 36.0;
/// Most of such a box that the word which opens it takes beside its text, as a share of the width.
pub(crate) const CAUTION_WORD: f64 = 0.3;

/// Room between a value of the title block and the line under it.
pub(crate) const FIELD_PAD: Pt = 4.0;
/// Room between the title and the title block.
pub(crate) const TITLE_AFTER: Pt = 14.0;
/// Room between the title block and the text.
pub(crate) const FIELDS_AFTER: Pt = 22.0;

/// Space over a block, dropped at the top of a page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Space {
    /// Over a part.
    pub(crate) part: Pt,
    /// Over an article.
    pub(crate) article: Pt,
    /// Over an article right under its part.
    pub(crate) first_article: Pt,
    /// Over a run-in head.
    pub(crate) run_in: Pt,
    /// Over a paragraph or a first-level item.
    pub(crate) paragraph: Pt,
    /// Over a deeper item or a bullet.
    pub(crate) item: Pt,
    /// Over a table, a caution and the last line.
    pub(crate) apart: Pt,
}

/// Everything that depends on paper and voice.
#[derive(Debug, Clone)]
pub(crate) struct Tokens {
    /// Paper width.
    pub(crate) width: Pt,
    /// Paper height.
    pub(crate) height: Pt,
    /// Left edges of the text columns.
    pub(crate) columns: Vec<Pt>,
    /// Width of a text column.
    pub(crate) measure: Pt,
    /// Longest line of running text.
    pub(crate) reading: Pt,
    /// Text.
    pub(crate) text: Type,
    /// Part title.
    pub(crate) part: Type,
    /// Article title.
    pub(crate) article: Type,
    /// Run-in head.
    pub(crate) run_in: Type,
    /// The word that opens a caution.
    pub(crate) warning: Type,
    /// The last line.
    pub(crate) end: Type,
    /// Caption of a table.
    pub(crate) caption: Type,
    /// Source and limits of a figure.
    pub(crate) note: Type,
    /// Head row of a table.
    pub(crate) table_head: Type,
    /// Body of a table.
    pub(crate) table_text: Type,
    /// Spaces.
    pub(crate) space: Space,
}

/// Document title.
pub(crate) const TITLE: Type = Type::sans(22.0, 26.0).heavy();
/// Second title.
pub(crate) const SUBTITLE: Type = Type::sans(12.0, 16.0).in_colour(Colour::Graphite);
/// Label of a field of the title block.
pub(crate) const FIELD_LABEL: Type = Type::sans(7.5, 10.0).in_colour(Colour::Graphite);
/// Value of a field.
pub(crate) const FIELD_VALUE: Type = Type::sans(10.5, 13.0);
/// Running head.
pub(crate) const HEAD: Type = Type::sans(8.0, 10.5).in_colour(Colour::Graphite);
/// Page number and standing.
pub(crate) const FOOT_STRONG: Type = Type::sans(8.0, 10.5).semibold();
/// Document number and digests.
pub(crate) const FOOT: Type = Type::sans(8.0, 10.5).in_colour(Colour::Graphite);
/// Status strip.
pub(crate) const STATUS: Type = Type::sans(8.5, 14.0).heavy().in_colour(Colour::Accent).spaced(30);

/// Body of a form.
pub(crate) const FORM: Type = Type::sans(8.5, 12.0);
/// Body of a form of many questions: the least size that is set anywhere.
pub(crate) const FORM_SMALL: Type = Type::sans(7.5, 9.5);
/// Least distance from baseline to baseline where boxes stand under each other.
pub(crate) const TICK_LEADING: Pt = 12.0;
/// Small words around key figures that are read from a metre away.
pub(crate) const FIGURES: Type = Type { large: Some(14.0), ..Type::sans(10.0, 17.0) };

/// How much room text for people outside the trade takes. It is meant to fit on one sheet, both sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fit {
    /// As designed.
    Roomy,
    /// One step smaller, for a text that would run to a third page.
    Close,
}

/// Pages of one sheet.
pub(crate) const SHEET: usize = 2;

impl Tokens {
    /// The values for one paper in one voice.
    pub(crate) fn of(style: Style, fit: Fit) -> Self {
        let (width, height) = match style.paper {
            Paper::Letter => (612.0, 792.0),
            Paper::A4 => (595.28, 841.89),
        };
        match style.voice {
            Voice::Contract => Self::contract(width, height),
            Voice::Plain => Self::plain(width, height, fit),
            Voice::Sheet => Self::sheet(width, height),
            Voice::Site => Self::site(width, height),
        }
    }

    fn contract(width: Pt, height: Pt) -> Self {
        Self {
            width,
            height,
            columns: vec![MARGIN_SIDE + RAIL + GUTTER],
            measure: width - 2.0 * MARGIN_SIDE - RAIL - GUTTER,
            reading: width - 2.0 * MARGIN_SIDE - RAIL - GUTTER,
            text: Type::serif(11.0, 14.5),
            part: Type::sans(15.0, 19.0).heavy().in_colour(Colour::Accent),
            article: Type::sans(10.5, 14.0).heavy().spaced(20),
            run_in: Type::sans(10.5, 14.5).semibold(),
            warning: Type::sans(12.0, 15.0).heavy().spaced(40),
            end: Type::sans(8.5, 12.0).semibold().spaced(60),
            caption: Type::sans(8.5, 12.0).semibold(),
            note: Type::sans(8.5, 11.0).in_colour(Colour::Graphite),
            table_head: Type::sans(8.5, 11.0).heavy(),
            table_text: Type::sans(8.5, 12.0),
            space: Space {
                part: 26.0,
                article: 15.0,
                first_article: 7.0,
                run_in: 10.0,
                paragraph: 6.0,
                item: 3.0,
                apart: 11.0,
            },
        }
    }

    fn plain(width: Pt, height: Pt, fit: Fit) -> Self {
        let measure = (width - 2.0 * MARGIN_SIDE - GUTTER) / 2.0;
        let (size, leading) = if fit == Fit::Roomy { (11.5, 16.0) } else { (11.0, 13.5) };
        let (cell, row) = if fit == Fit::Roomy { (10.5, 14.0) } else { (9.5, 12.0) };
        let air = if fit == Fit::Roomy { 1.0 } else { 0.7 };
        Self {
            width,
            height,
            columns: vec![MARGIN_SIDE, MARGIN_SIDE + measure + GUTTER],
            measure,
            reading: measure,
            text: Type::sans(size, leading),
            part: Type::sans(15.0, 19.0).heavy().in_colour(Colour::Accent),
            article: Type::sans(12.0, 16.0).heavy(),
            run_in: Type::sans(size, leading).semibold(),
            warning: Type::sans(12.0, 16.0).heavy().spaced(40),
            end: Type::sans(8.5, 12.0).semibold().spaced(60),
            caption: Type::sans(cell, row).semibold(),
            note: Type::sans(8.5, 11.0).in_colour(Colour::Graphite),
            table_head: Type::sans(cell, row - 1.0).heavy(),
            table_text: Type::sans(cell, row),
            space: Space {
                part: 18.0 * air,
                article: 13.0 * air,
                first_article: 6.0 * air,
                run_in: 9.0 * air,
                paragraph: 7.0 * air,
                item: 4.0 * air,
                apart: 11.0 * air,
            },
        }
    }

    fn sheet(width: Pt, height: Pt) -> Self {
        let text = Type::sans(10.0, 12.0);
        let measure = width - 2.0 * MARGIN_SIDE;
        Self {
            width,
            height,
            columns: vec![MARGIN_SIDE],
            measure,
            reading: measure.min(LONGEST_LINE * text.size),
            text,
            part: Type::sans(15.0, 19.0).heavy().in_colour(Colour::Accent),
            article: Type::sans(12.0, 16.0).heavy(),
            run_in: Type::sans(10.0, 12.0).semibold(),
            warning: Type::sans(12.0, 14.0).heavy().spaced(40),
            end: Type::sans(8.5, 12.0).semibold().spaced(60),
            caption: Type::sans(8.5, 12.0).semibold(),
            note: Type::sans(8.5, 11.0).in_colour(Colour::Graphite),
            table_head: Type::sans(8.5, 11.0).heavy(),
            table_text: Type::sans(8.5, 11.0),
            space: Space {
                part: 12.0,
                article: 10.0,
                first_article: 4.0,
                run_in: 7.0,
                paragraph: 4.0,
                item: 3.0,
                apart: 6.0,
            },
        }
    }

    /// A sheet in two columns, with nothing on it smaller than its text.
    fn site(width: Pt, height: Pt) -> Self {
        let sheet = Self::sheet(width, height);
        let (text, measure) = (sheet.text, (sheet.measure - GUTTER) / 2.0);
        Self {
            columns: vec![MARGIN_SIDE, MARGIN_SIDE + measure + GUTTER],
            measure,
            reading: measure,
            caption: text.semibold(),
            note: text.in_colour(Colour::Graphite),
            table_head: text.heavy(),
            table_text: text,
            space: Space { apart: 4.5, ..sheet.space },
            ..sheet
        }
    }

    /// Whether text runs in one column; in several, what is wide stands across them.
    pub(crate) fn is_one_column(&self) -> bool {
        self.columns.len() == 1
    }

    /// Width between the margins.
    pub(crate) fn full(&self) -> Pt {
        self.width - 2.0 * MARGIN_SIDE
    }
}
