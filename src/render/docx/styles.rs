//! The styles, made from the design's own table of type and space, so that a page looks alike in both forms.

use super::numbering::{CLAUSES, PART_HANG, POINTS};
use super::office::{Look, OfficeStyles};
use super::role::{Grid, Role, Stress};
use super::tree::Node;
use super::xml::Xml;
use super::{MAIN, twips};
use crate::document::block::{Block, BlockKind, Document, Voice};
use crate::render::font::Face;
use crate::render::tokens::{
    ARTICLE_HANG, BAR_GAP, BOX_PAD, CAPTION_GAP, CELL_PAD, CODE_SCALE, COLUMN_GAP, Colour, FIELD_LABEL,
    FIELD_PAD, FIELD_VALUE, FIGURES, FOOT, FOOT_STEP, FOOT_STRONG, FORM, FORM_SMALL, HEAD, INDENT, NOTE_GAP,
    PART_GAP, PROOF, Pt, STATUS, STRIP_GAP, SUBTITLE, TABLE_AFTER, TICK_LEADING, TITLE, TITLE_AFTER, Tokens,
    Type, WEIGHT_BAR, WEIGHT_BOX, WEIGHT_COURSE, WEIGHT_HAIR, WEIGHT_TOP,
};

/// Height of a line that holds nothing.
const NOTHING: Pt = 1.0;

/// Room that each side of a cell gives to its words: other programs measure a little otherwise, and a word that just
/// fits its column must not be torn.
pub(crate) const SLACK: Pt = 0.75;

/// How the height of lines is found.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Leading {
    /// As designed, whatever stands in them.
    Exact,
    /// From what stands in them: for pictures.
    Free,
}

/// Which edges are drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Edges {
    None,
    /// Above, in this weight and colour.
    Over(Colour),
    /// Below.
    Under(Colour),
    /// All around.
    Box,
    /// At the left, for what is not settled.
    Beside,
    /// At the outer edge of the page, for words that are new.
    Outer,
}

/// Where lines stand.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Middle,
    Right,
}

/// Where words behind a tab stand, from the left end of their line.
enum Stop {
    /// They begin here.
    Left(Pt),
    /// They end here.
    Right(Pt),
    /// They end here, with dots before them.
    Dots(Pt),
}

/// A paragraph style before it is written.
struct Shape {
    kind: Type,
    before: Pt,
    after: Pt,
    left: Pt,
    /// How the first line stands to the others.
    first: Pt,
    right: Pt,
    side: Side,
    keep: bool,
    leading: Leading,
    edges: Edges,
    fill: Option<Colour>,
    outline: Option<u8>,
    list: Option<(&'static str, u8)>,
    /// Where words stand behind tabs.
    stops: Vec<Stop>,
}

impl Shape {
    fn of(kind: Type) -> Self {
        Self {
            kind,
            before: 0.0,
            after: 0.0,
            left: 0.0,
            first: 0.0,
            right: 0.0,
            side: Side::Left,
            keep: false,
            leading: Leading::Exact,
            edges: Edges::None,
            fill: None,
            outline: None,
            list: None,
            stops: Vec::new(),
        }
    }

    fn before(self, before: Pt) -> Self {
        Self { before, ..self }
    }

    fn kept(self) -> Self {
        Self { keep: true, ..self }
    }

    fn listed(self, list: &'static str, level: u8) -> Self {
        Self { list: Some((list, level)), ..self }
    }
}

/// The part `word/styles.xml`.
pub(crate) fn styles(document: &Document, tokens: &Tokens, office: Option<&OfficeStyles>) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("w:styles", &[("xmlns:w", MAIN)], |xml| {
        defaults(xml, document, tokens);
        normal(xml);
        let is_used = |role: &Role| *role == role.settled() || !document.revised.is_empty();
        for role in Role::ALL.into_iter().filter(is_used) {
            let theirs = office.and_then(|office| office.look(role));
            paragraph(xml, role, &shape(role, document, tokens), theirs);
        }
        for stress in Stress::ALL {
            stretch(xml, stress, tokens);
        }
        tables(xml);
    });
    xml.bytes()
}

fn defaults(xml: &mut Xml, document: &Document, tokens: &Tokens) {
    xml.within("w:docDefaults", &[], |xml| {
        xml.within("w:rPrDefault", &[], |xml| {
            xml.within("w:rPr", &[], |xml| {
                look(xml, tokens.text);
                let tongue = document.language.as_str();
                xml.leaf("w:lang", &[("w:val", tongue), ("w:eastAsia", tongue), ("w:bidi", "ar-SA")]);
            });
        });
        xml.within("w:pPrDefault", &[], |xml| {
            xml.within("w:pPr", &[], |xml| xml.value("w:widowControl", "1"));
        });
    });
}

fn normal(xml: &mut Xml) {
    xml.within("w:style", &[("w:type", "paragraph"), ("w:default", "1"), ("w:styleId", "Normal")], |xml| {
        xml.value("w:name", "Normal");
        xml.leaf("w:qFormat", &[]);
    });
    let font = [("w:type", "character"), ("w:default", "1"), ("w:styleId", "DefaultParagraphFont")];
    xml.within("w:style", &font, |xml| {
        xml.value("w:name", "Default Paragraph Font");
        xml.leaf("w:semiHidden", &[]);
    });
    xml.within("w:style", &[("w:type", "table"), ("w:default", "1"), ("w:styleId", "TableNormal")], |xml| {
        xml.value("w:name", "Normal Table");
        xml.leaf("w:semiHidden", &[]);
        xml.within("w:tblPr", &[], |xml| {
            xml.leaf("w:tblInd", &[("w:w", "0"), ("w:type", "dxa")]);
            margins(xml, [0.0; 4]);
        });
    });
}

/// What a role looks like.
fn shape(role: Role, document: &Document, tokens: &Tokens) -> Shape {
    let space = tokens.space;
    let full = tokens.full();
    let rail = rail(document, tokens);
    let cell = Shape::of(tokens.table_text);
    match role {
        Role::Text => read(tokens).before(space.paragraph),
        Role::Title => Shape { outline: None, left: -rail, ..Shape::of(TITLE).kept() },
        Role::Subtitle => Shape { after: TITLE_AFTER, left: -rail, ..Shape::of(SUBTITLE).kept() },
        Role::Part => {
            let before = if parts_open_pages(document) { 0.0 } else { space.part };
            part(document, tokens).before(before).listed(CLAUSES, 0)
        }
        Role::Article => Shape {
            outline: Some(1),
            ..Shape::of(tokens.article).kept().before(space.article).listed(CLAUSES, 1)
        },
        Role::Run => Shape {
            outline: Some(2),
            ..Shape::of(tokens.run_in).kept().before(space.run_in).listed(CLAUSES, 2)
        },
        Role::Clause1 => Shape::of(tokens.text).before(space.paragraph).listed(CLAUSES, 3),
        Role::Clause2 => Shape::of(tokens.text).before(space.item).listed(CLAUSES, 4),
        Role::Clause3 => Shape::of(tokens.text).before(space.item).listed(CLAUSES, 5),
        Role::Clause4 => Shape::of(tokens.text).before(space.item).listed(CLAUSES, 6),
        Role::Proof => Shape { left: INDENT, ..Shape::of(PROOF) },
        Role::Revised1 | Role::Revised2 | Role::Revised3 | Role::Revised4 | Role::RevisedProof => {
            Shape { edges: Edges::Outer, ..shape(role.settled(), document, tokens) }
        }
        Role::Point => read(tokens).before(space.item).listed(POINTS, 0),
        Role::Point2 => read(tokens).before(space.item).listed(POINTS, 1),
        Role::CautionWord => boxed(tokens.warning).kept().before(space.apart),
        Role::Caution => boxed(tokens.text).before(space.item),
        Role::Caption => caption(tokens, 0.0),
        Role::CaptionWide => caption(tokens, rail),
        Role::Figure => Shape { leading: Leading::Free, ..Shape::of(tokens.text) },
        Role::FigureWide => Shape { leading: Leading::Free, left: -rail, ..Shape::of(tokens.text) },
        Role::Note => Shape { after: TABLE_AFTER, ..Shape::of(tokens.note).before(NOTE_GAP) },
        Role::NoteWide => {
            Shape { after: TABLE_AFTER, left: -rail, ..Shape::of(tokens.note).before(NOTE_GAP) }
        }
        Role::Cell => cell,
        Role::CellNumber => Shape { side: Side::Right, ..cell },
        Role::CellHead => Shape::of(tokens.table_head).kept(),
        Role::CellHeadNumber => Shape { side: Side::Right, ..Shape::of(tokens.table_head).kept() },
        Role::Form => Shape::of(FORM),
        Role::FormSmall => Shape::of(FORM_SMALL),
        Role::FormBoxes => Shape::of(Type { leading: TICK_LEADING, ..FORM_SMALL }),
        Role::KeyFigures => Shape::of(FIGURES),
        Role::Ahead => nothing(space.apart).kept(),
        Role::Behind => nothing(TABLE_AFTER - space.paragraph),
        Role::FieldLabel => Shape::of(FIELD_LABEL).kept().before(FIELD_PAD),
        Role::FieldValue => Shape { after: FIELD_PAD, ..Shape::of(FIELD_VALUE) },
        Role::ProposedMark => {
            Shape { edges: Edges::Beside, ..Shape::of(tokens.caption).kept().before(space.paragraph) }
        }
        Role::Proposed => Shape { edges: Edges::Beside, ..Shape::of(tokens.table_text).before(space.item) },
        Role::End => Shape { side: Side::Middle, ..Shape::of(tokens.end).before(2.0 * space.apart) },
        Role::Head => Shape {
            edges: Edges::Under(Colour::Accent),
            left: -rail,
            stops: vec![Stop::Right(full)],
            ..Shape::of(HEAD)
        },
        Role::Status => Shape {
            side: Side::Middle,
            left: -rail,
            fill: Some(Colour::Tint),
            ..Shape::of(STATUS).before(STRIP_GAP)
        },
        Role::FootStrong => Shape {
            edges: Edges::Over(Colour::Rule),
            left: -rail,
            stops: vec![Stop::Right(full)],
            ..Shape::of(FOOT_STRONG)
        },
        Role::Foot => Shape { left: -rail, ..Shape::of(FOOT) },
        Role::Contents1 => {
            let kind = Type { size: tokens.article.size, leading: tokens.article.leading, ..tokens.run_in };
            let stops = vec![Stop::Left(PART_HANG), Stop::Dots(tokens.measure)];
            Shape { stops, ..Shape::of(kind).before(space.item) }
        }
        Role::Contents2 => {
            let stops = vec![Stop::Left(ARTICLE_HANG), Stop::Dots(tokens.measure)];
            Shape { stops, ..Shape::of(tokens.table_text) }
        }
        Role::Break | Role::NewPage => nothing(NOTHING),
    }
}

/// Room beside the text that heads, feet and the title reach into.
pub(crate) fn rail(document: &Document, tokens: &Tokens) -> Pt {
    if document.style.voice == Voice::Contract { tokens.full() - tokens.measure } else { 0.0 }
}

fn caption(tokens: &Tokens, rail: Pt) -> Shape {
    Shape { after: CAPTION_GAP, left: -rail, ..Shape::of(tokens.caption).kept().before(tokens.space.apart) }
}

/// Whether every part but the first begins a page, where room over its head would be lost.
fn parts_open_pages(document: &Document) -> bool {
    let is_head = |kind: &BlockKind| matches!(kind, BlockKind::Heading { level: 0 | 1, .. });
    let heads = document.blocks.iter().filter(|block| is_head(&block.kind)).count();
    let opens = |(before, head): (&Block, &Block)| before.kind == BlockKind::NewPage && is_head(&head.kind);
    let opening =
        document.blocks.iter().zip(document.blocks.iter().skip(1)).filter(|pair| opens(*pair)).count();
    heads > 1 && opening + 1 >= heads
}

/// The head of a part.
fn part(document: &Document, tokens: &Tokens) -> Shape {
    let edges = match document.style.voice {
        Voice::Sheet | Voice::Site => Edges::None,
        Voice::Contract | Voice::Plain => Edges::Over(Colour::Accent),
    };
    Shape { edges, outline: Some(0), ..Shape::of(tokens.part).kept() }
}

/// Running text, in lines no longer than on our pages.
fn read(tokens: &Tokens) -> Shape {
    Shape { right: tokens.measure - tokens.reading, ..Shape::of(tokens.text) }
}

fn boxed(kind: Type) -> Shape {
    let inset = WEIGHT_BOX + BOX_PAD;
    Shape { edges: Edges::Box, left: inset, right: inset, ..Shape::of(kind) }
}

fn nothing(height: Pt) -> Shape {
    let small = Type { size: NOTHING, leading: height.max(NOTHING), ..FORM_SMALL };
    Shape::of(small)
}

fn paragraph(xml: &mut Xml, role: Role, shape: &Shape, theirs: Option<&Look>) {
    xml.within("w:style", &[("w:type", "paragraph"), ("w:styleId", &role.id())], |xml| {
        xml.value("w:name", theirs.map_or(role.name(), |look| &look.name));
        let under = role.settled();
        xml.value("w:basedOn", &if under == role { "Normal".to_owned() } else { under.id() });
        if let Some(next) = next(role) {
            xml.value("w:next", &next.id());
        }
        xml.leaf("w:qFormat", &[]);
        let mut ours = Xml::piece();
        ours.within("w:pPr", &[], |xml| {
            if under == role {
                properties(xml, role, shape);
            } else {
                // all else, its number too, comes from the style under it, whatever an office made of that
                edges(xml, shape.edges);
            }
        });
        let ours = ours.bytes();
        if let Some((look, ours)) = theirs.zip(Node::read(&ours).ok()) {
            xml.within("w:pPr", &[], |xml| look.paragraph(xml, &ours));
            xml.within("w:rPr", &[], |xml| look.words(xml));
        } else {
            xml.add(&ours);
            if under == role {
                xml.within("w:rPr", &[], |xml| look(xml, shape.kind));
            }
        }
    });
}

/// What somebody writes after it.
fn next(role: Role) -> Option<Role> {
    match role {
        Role::Title => Some(Role::Subtitle),
        Role::Part => Some(Role::Article),
        Role::Article => Some(Role::Clause1),
        Role::Run | Role::Caption | Role::Subtitle => Some(Role::Text),
        Role::CautionWord => Some(Role::Caution),
        _ => None,
    }
}

fn properties(xml: &mut Xml, role: Role, shape: &Shape) {
    if shape.keep {
        xml.leaf("w:keepNext", &[]);
        xml.leaf("w:keepLines", &[]);
    }
    if role == Role::NewPage {
        xml.leaf("w:pageBreakBefore", &[]);
    }
    xml.value("w:widowControl", "1");
    if let Some((list, level)) = shape.list {
        xml.within("w:numPr", &[], |xml| {
            xml.value("w:ilvl", &level.to_string());
            xml.value("w:numId", list);
        });
    }
    edges(xml, shape.edges);
    if let Some(fill) = shape.fill {
        xml.leaf("w:shd", &[("w:val", "clear"), ("w:color", "auto"), ("w:fill", &colour(fill))]);
    }
    if !shape.stops.is_empty() {
        xml.within("w:tabs", &[], |xml| {
            for stop in &shape.stops {
                let (side, leader, at) = match stop {
                    Stop::Left(at) => ("left", "none", at),
                    Stop::Right(at) => ("right", "none", at),
                    Stop::Dots(at) => ("right", "dot", at),
                };
                let at = twips(at + shape.left);
                xml.leaf("w:tab", &[("w:val", side), ("w:leader", leader), ("w:pos", &at)]);
            }
        });
    }
    let (before, after, line) = (twips(shape.before), twips(shape.after), twips(shape.kind.leading));
    match shape.leading {
        Leading::Exact => {
            let all =
                [("w:before", &*before), ("w:after", &after), ("w:line", &line), ("w:lineRule", "exact")];
            xml.leaf("w:spacing", &all);
        }
        Leading::Free => {
            let all =
                [("w:before", &*before), ("w:after", &after), ("w:line", "240"), ("w:lineRule", "auto")];
            xml.leaf("w:spacing", &all);
        }
    }
    if shape.list.is_none() {
        let (left, right) = (twips(shape.left), twips(shape.right));
        let hanging = twips(-shape.first);
        let mut all = vec![("w:left", left.as_str()), ("w:right", right.as_str())];
        if shape.first < 0.0 {
            all.push(("w:hanging", hanging.as_str()));
        }
        xml.leaf("w:ind", &all);
    }
    xml.value(
        "w:jc",
        match shape.side {
            Side::Left => "left",
            Side::Middle => "center",
            Side::Right => "right",
        },
    );
    if let Some(level) = shape.outline {
        xml.value("w:outlineLvl", &level.to_string());
    }
}

fn edges(xml: &mut Xml, edges: Edges) {
    match edges {
        Edges::None => {}
        Edges::Over(tone) => {
            let weight = if tone == Colour::Accent { WEIGHT_COURSE } else { WEIGHT_HAIR };
            let gap = if tone == Colour::Accent { PART_GAP / 2.0 } else { FOOT_STEP / 4.0 };
            xml.within("w:pBdr", &[], |xml| edge(xml, "w:top", weight, gap, tone));
        }
        Edges::Under(tone) => {
            xml.within("w:pBdr", &[], |xml| edge(xml, "w:bottom", WEIGHT_COURSE, 4.0, tone));
        }
        Edges::Beside => {
            xml.within("w:pBdr", &[], |xml| edge(xml, "w:left", WEIGHT_BOX, BOX_PAD, Colour::Accent));
        }
        Edges::Outer => {
            xml.within("w:pBdr", &[], |xml| edge(xml, "w:right", WEIGHT_BAR, BAR_GAP, Colour::Accent));
        }
        Edges::Box => xml.within("w:pBdr", &[], |xml| {
            for side in ["w:top", "w:left", "w:bottom", "w:right"] {
                edge(xml, side, WEIGHT_BOX, BOX_PAD, Colour::Ink);
            }
        }),
    }
}

/// A line: its weight counts in eighths of a point, its distance in points.
fn edge(xml: &mut Xml, side: &str, weight: Pt, gap: Pt, tone: Colour) {
    let (weight, gap) = (format!("{:.0}", weight * 8.0), format!("{gap:.0}"));
    let all = [("w:val", "single"), ("w:sz", &*weight), ("w:space", &gap), ("w:color", &colour(tone))];
    xml.leaf(side, &all);
}

/// Six digits of sixteen.
pub(crate) fn colour(tone: Colour) -> String {
    let [red, green, blue] = tone.rgb();
    format!("{red:02X}{green:02X}{blue:02X}")
}

/// The family of a face, under which it is installed.
pub(crate) fn family(face: Face) -> &'static str {
    match face {
        Face::SerifRegular | Face::SerifItalic | Face::SerifBold => "Source Serif 4",
        Face::SansRegular | Face::SansItalic | Face::SansSemibold | Face::SansBold => "Source Sans 3",
        Face::Code => "Source Code Pro",
    }
}

/// The look of a type, in the order that the standard wants.
fn look(xml: &mut Xml, kind: Type) {
    fonts(xml, kind.face);
    if matches!(kind.face, Face::SansSemibold | Face::SansBold | Face::SerifBold) {
        xml.leaf("w:b", &[]);
    }
    xml.value("w:color", &colour(kind.colour));
    if kind.tracking != 0 {
        xml.value("w:spacing", &twips(f64::from(kind.tracking) * kind.size / 1000.0));
    }
    size(xml, kind.size);
}

fn fonts(xml: &mut Xml, face: Face) {
    let family = family(face);
    xml.leaf("w:rFonts", &[("w:ascii", family), ("w:hAnsi", family), ("w:cs", family)]);
}

/// A size in half points.
fn size(xml: &mut Xml, size: Pt) {
    let size = format!("{:.0}", size * 2.0);
    xml.value("w:sz", &size);
    xml.value("w:szCs", &size);
}

fn stretch(xml: &mut Xml, stress: Stress, tokens: &Tokens) {
    xml.within("w:style", &[("w:type", "character"), ("w:styleId", &stress.id())], |xml| {
        xml.value("w:name", stress.name());
        xml.leaf("w:qFormat", &[]);
        xml.within("w:rPr", &[], |xml| match stress {
            Stress::Strong => xml.leaf("w:b", &[]),
            Stress::Emphasis => xml.leaf("w:i", &[]),
            Stress::StrongEmphasis => {
                xml.leaf("w:b", &[]);
                xml.leaf("w:i", &[]);
            }
            Stress::Code => {
                fonts(xml, Face::Code);
                size(xml, tokens.table_text.size * CODE_SCALE);
            }
            Stress::Figure => {
                xml.leaf("w:b", &[]);
                size(xml, FIGURES.large.unwrap_or(FIGURES.size));
            }
            Stress::Blank => xml.value("w:u", "single"),
            Stress::Tick => size(xml, super::runs::TICK),
        });
    });
}

fn tables(xml: &mut Xml) {
    for grid in Grid::ALL {
        xml.within("w:style", &[("w:type", "table"), ("w:styleId", &grid.id())], |xml| {
            xml.value("w:name", grid.name());
            xml.value("w:basedOn", "TableNormal");
            xml.leaf("w:qFormat", &[]);
            xml.within("w:tblPr", &[], |xml| {
                xml.within("w:tblBorders", &[], |xml| borders(xml, grid));
                let (pad, side) = match grid {
                    Grid::Ruled | Grid::Form => (CELL_PAD, COLUMN_GAP / 2.0 - SLACK),
                    Grid::Fields => (0.0, 0.0),
                };
                margins(xml, [pad, side, pad, side]);
            });
            if grid != Grid::Fields {
                xml.within("w:tblStylePr", &[("w:type", "firstRow")], |xml| {
                    xml.within("w:tcPr", &[], |xml| {
                        xml.within("w:tcBorders", &[], |xml| {
                            edge(xml, "w:top", WEIGHT_TOP, 0.0, Colour::Ink);
                            edge(xml, "w:bottom", WEIGHT_HAIR, 0.0, Colour::Ink);
                        });
                        xml.value("w:vAlign", "bottom");
                    });
                });
            }
        });
    }
}

fn borders(xml: &mut Xml, grid: Grid) {
    match grid {
        Grid::Ruled => {
            edge(xml, "w:top", WEIGHT_TOP, 0.0, Colour::Ink);
            edge(xml, "w:bottom", WEIGHT_HAIR, 0.0, Colour::Ink);
            edge(xml, "w:insideH", WEIGHT_HAIR, 0.0, Colour::Hairline);
        }
        Grid::Form => {
            edge(xml, "w:top", WEIGHT_TOP, 0.0, Colour::Ink);
            edge(xml, "w:bottom", WEIGHT_HAIR, 0.0, Colour::Ink);
            edge(xml, "w:insideH", WEIGHT_HAIR, 0.0, Colour::Rule);
            edge(xml, "w:insideV", WEIGHT_HAIR, 0.0, Colour::Rule);
        }
        Grid::Fields => {
            edge(xml, "w:top", WEIGHT_HAIR, 0.0, Colour::Rule);
            edge(xml, "w:bottom", WEIGHT_HAIR, 0.0, Colour::Rule);
            edge(xml, "w:insideH", WEIGHT_HAIR, 0.0, Colour::Rule);
        }
    }
}

/// Room inside cells: top, left, bottom, right.
fn margins(xml: &mut Xml, room: [Pt; 4]) {
    xml.within("w:tblCellMar", &[], |xml| {
        for (side, room) in ["w:top", "w:left", "w:bottom", "w:right"].into_iter().zip(room) {
            xml.leaf(side, &[("w:w", &*twips(room)), ("w:type", "dxa")]);
        }
    });
}
