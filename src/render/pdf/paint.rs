//! Marks to page operations. Everything painted lies in marked content: a numbered stretch of a block, or an
//! artifact.

use std::collections::BTreeMap;

use printpdf::{
    Codepoint, Color, DictItem, FontId, Line, LinePoint, Mm, Op, PaintMode, PdfDocument, PdfFont,
    PdfFontHandle, PdfPage, Point, Polygon, PolygonRing, Pt as Points, Rgb, TextItem, TextMatrix,
    WindingOrder,
};

use crate::render::font::{Face, Glyph, Subset, subset};
use crate::render::laid::{Laid, Mark, Owner, Page, Part, Run, Sequence};
use crate::render::mistake::Mistake;
use crate::render::tokens::{Colour, MODULE, Pt, TICK, WEIGHT_COURSE};

/// What the file knows about one glyph.
struct Known {
    /// Its number in the cut-down face.
    number: u16,
    /// Its width there, in thousandths of the size.
    width: i32,
    /// The text it stands for where it is first used.
    text: String,
}

/// Cut-down faces, and what is known about their glyphs.
struct Fonts {
    subsets: BTreeMap<Face, Subset>,
    glyphs: BTreeMap<Face, BTreeMap<u16, Known>>,
}

/// Adds the pages and fonts of a laid document to a file.
pub(super) fn paint(laid: &Laid, document: &mut PdfDocument) -> Result<(), Mistake> {
    let fonts = Fonts::of(laid)?;
    for (face, subset) in &fonts.subsets {
        document.resources.fonts.map.insert(id(*face), PdfFont::new(subset.font.clone()));
    }
    let (width, height) = laid.paper;
    let pages = laid.pages.iter().map(|page| {
        let mut sheet = PdfPage::new(Mm(0.0), Mm(0.0), operations(page, &fonts));
        let edge = printpdf::Rect::from_wh(points(width), points(height));
        sheet.media_box = edge.clone();
        sheet.trim_box = edge.clone();
        sheet.crop_box = edge;
        sheet
    });
    document.pages = pages.collect();
    Ok(())
}

impl Fonts {
    fn of(laid: &Laid) -> Result<Self, Mistake> {
        let mut glyphs: BTreeMap<Face, BTreeMap<u16, Known>> = BTreeMap::new();
        for run in laid.pages.iter().flat_map(|page| &page.marks).filter_map(run) {
            for glyph in &run.glyphs {
                let known = glyphs.entry(glyph.face).or_default().entry(glyph.id);
                let known = known.or_insert(Known { number: 0, width: 0, text: String::new() });
                if known.text.is_empty() {
                    known.text.extend(readable(text(run, glyph)));
                }
            }
        }
        let mut subsets = BTreeMap::new();
        for (face, glyphs) in &mut glyphs {
            let cut = subset(*face, glyphs.keys().copied());
            let cut = cut.ok_or(Mistake::BrokenFont { font: face.name() })?;
            for (id, known) in glyphs {
                known.number = cut.numbers.get(id).copied().unwrap_or_default();
                known.width = cut.font.get_glyph_width(known.number).map_or(0, i32::from);
            }
            subsets.insert(*face, cut);
        }
        Ok(Self { subsets, glyphs })
    }

    fn known(&self, glyph: &Glyph) -> Option<&Known> {
        self.glyphs.get(&glyph.face)?.get(&glyph.id)
    }

    /// Whether some glyph of a run stands for other text here than elsewhere.
    fn differs(&self, run: &Run) -> bool {
        run.glyphs.iter().any(|glyph| {
            self.known(glyph).is_some_and(|known| !known.text.chars().eq(readable(text(run, glyph))))
        })
    }
}

fn run(mark: &Mark) -> Option<&Run> {
    match mark {
        Mark::Text { run, .. } => Some(run),
        Mark::Rule { .. } | Mark::Fill { .. } | Mark::Course { .. } => None,
    }
}

fn text<'a>(run: &'a Run, glyph: &Glyph) -> &'a str {
    let (Ok(from), Ok(to)) = (usize::try_from(glyph.from), usize::try_from(glyph.to)) else { return "" };
    run.text.get(from..to).unwrap_or_default()
}

/// Text as copied from the page: a space that never parts is a plain space there.
fn readable(text: &str) -> impl Iterator<Item = char> {
    text.chars().map(|sign| if sign == '\u{a0}' { ' ' } else { sign })
}

fn id(face: Face) -> FontId {
    FontId(face.name().to_owned())
}

fn operations(page: &Page, fonts: &Fonts) -> Vec<Op> {
    let mut ops = Vec::new();
    for sequence in page.sequences() {
        ops.push(begin(&sequence));
        for mark in sequence.marks {
            paint_mark(mark, fonts, &mut ops);
        }
        ops.push(Op::EndMarkedContent);
    }
    ops
}

fn begin(sequence: &Sequence<'_>) -> Op {
    let Some(mcid) = sequence.mcid else {
        return Op::BeginMarkedContent { tag: "Artifact".to_owned() };
    };
    let map = BTreeMap::from([("MCID".to_owned(), DictItem::Int(i64::from(mcid)))]);
    let tag = match sequence.owner {
        Owner::Content(_, part) => tag(part),
        Owner::Artifact => "Artifact",
    };
    Op::BeginMarkedContentWithProperties { tag: tag.to_owned(), properties: DictItem::Dict { map } }
}

fn tag(part: Part) -> &'static str {
    match part {
        Part::Text => "P",
        Part::Label => "Lbl",
        Part::Heading(0 | 1) => "H1",
        Part::Heading(2) => "H2",
        Part::Heading(_) => "H3",
        Part::Caption => "Caption",
        Part::Cell { row: 0, .. } => "TH",
        Part::Cell { .. } => "TD",
    }
}

fn paint_mark(mark: &Mark, fonts: &Fonts, ops: &mut Vec<Op>) {
    match mark {
        Mark::Text { x, y, run } => paint_text(*x, *y, run, fonts, ops),
        Mark::Rule { x, y, width, weight, colour } => {
            stroke(*colour, *weight, ops);
            ops.push(line((*x, *y), (x + width, *y)));
        }
        Mark::Fill { x, y, width, height, colour } => {
            ops.push(Op::SetFillColor { col: ink(*colour) });
            ops.push(rectangle(*x, *y, *width, *height));
        }
        Mark::Course { x, y, width } => course(*x, *y, *width, ops),
    }
}

/// A level line with ticks up and down by turns, as the perpends of two courses of brick.
fn course(x: Pt, y: Pt, width: Pt, ops: &mut Vec<Op>) {
    stroke(Colour::Accent, WEIGHT_COURSE, ops);
    ops.push(line((x, y), (x + width, y)));
    let mut at = MODULE / 2.0;
    let mut tick = TICK;
    while at < width {
        ops.push(line((x + at, y), (x + at, y + tick)));
        at += MODULE;
        tick = -tick;
    }
}

fn stroke(colour: Colour, weight: Pt, ops: &mut Vec<Op>) {
    ops.push(Op::SetOutlineColor { col: ink(colour) });
    ops.push(Op::SetOutlineThickness { pt: points(weight) });
}

fn line(from: (Pt, Pt), to: (Pt, Pt)) -> Op {
    Op::DrawLine { line: Line { points: vec![point(from), point(to)], is_closed: false } }
}

fn rectangle(x: Pt, top: Pt, width: Pt, height: Pt) -> Op {
    let corners = [(x, top), (x + width, top), (x + width, top - height), (x, top - height)];
    let ring = PolygonRing { points: corners.into_iter().map(point).collect() };
    Op::DrawPolygon {
        polygon: Polygon { rings: vec![ring], mode: PaintMode::Fill, winding_order: WindingOrder::NonZero },
    }
}

fn point((x, y): (Pt, Pt)) -> LinePoint {
    LinePoint { p: Point { x: points(x), y: points(y) }, bezier: false }
}

/// A length as the file holds it: rounded to a thousandth of a point.
#[expect(clippy::cast_possible_truncation, reason = "places on a page are far inside the range of f32")]
pub(super) fn points(length: Pt) -> Points {
    Points(((length * 1000.0).round() / 1000.0) as f32)
}

fn ink(colour: Colour) -> Color {
    let [red, green, blue] = colour.rgb().map(|part| (f32::from(part) / 255.0 * 1000.0).round() / 1000.0);
    Color::Rgb(Rgb { r: red, g: green, b: blue, icc_profile: None })
}

fn paint_text(x: Pt, y: Pt, run: &Run, fonts: &Fonts, ops: &mut Vec<Op>) {
    if fonts.differs(run) {
        let words = utf16(&readable(&run.text).collect::<String>());
        let map = BTreeMap::from([("ActualText".to_owned(), DictItem::Bytes(words))]);
        let properties = DictItem::Dict { map };
        ops.push(Op::BeginMarkedContentWithProperties { tag: "Span".to_owned(), properties });
        glyphs(x, y, run, fonts, ops);
        ops.push(Op::EndMarkedContent);
    } else {
        glyphs(x, y, run, fonts, ops);
    }
}

/// Text as a PDF string: UTF-16 with its mark of order.
pub(super) fn utf16(text: &str) -> Vec<u8> {
    [0xFE, 0xFF].into_iter().chain(text.encode_utf16().flat_map(u16::to_be_bytes)).collect()
}

/// Paints glyphs, those of one face and height together.
fn glyphs(x: Pt, y: Pt, run: &Run, fonts: &Fonts, ops: &mut Vec<Op>) {
    ops.push(Op::SetFillColor { col: ink(run.look.colour) });
    ops.push(Op::StartTextSection);
    let size = run.look.size;
    let mut pen = x;
    for stretch in run.glyphs.chunk_by(|a, b| a.face == b.face && a.up == b.up) {
        let Some(first) = stretch.first() else { continue };
        ops.push(Op::SetFont { font: PdfFontHandle::External(id(first.face)), size: points(size) });
        let height = y + f64::from(first.up) * size / 1000.0;
        ops.push(Op::SetTextMatrix { matrix: TextMatrix::Translate(points(pen), points(height)) });
        ops.push(Op::ShowText { items: vec![TextItem::GlyphIds(show(stretch, fonts))] });
        pen += f64::from(stretch.iter().map(|glyph| glyph.advance).sum::<i32>()) * size / 1000.0;
    }
    ops.push(Op::EndTextSection);
}

/// Glyphs by their new numbers. A number behind a glyph moves the pen back, in thousandths of the size.
fn show(stretch: &[Glyph], fonts: &Fonts) -> Vec<Codepoint> {
    let following = stretch.iter().skip(1).map(|glyph| glyph.right).chain([0]);
    let shown = stretch.iter().zip(following).filter_map(|(glyph, next)| {
        let known = fonts.known(glyph)?;
        let back = known.width - glyph.advance + glyph.right - next;
        Some(Codepoint::with_cid(known.number, small(back), known.text.clone()))
    });
    shown.collect()
}

fn small(adjustment: i32) -> f32 {
    i16::try_from(adjustment).map_or(0.0, f32::from)
}
