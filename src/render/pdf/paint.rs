//! Marks to page operations. Everything painted lies in marked content: a numbered stretch of a block, or an
//! artifact.

use std::collections::{BTreeMap, BTreeSet};

use printpdf::{
    Codepoint, Color, DictItem, FontId, Line, LinePoint, Mm, Op, PaintMode, PdfDocument, PdfFont,
    PdfFontHandle, PdfPage, Point, Polygon, PolygonRing, Pt as Points, Rgb, TextItem, TextMatrix,
    WindingOrder,
};

use crate::render::font::{Face, Glyph, Subset, subset};
use crate::render::laid::{Laid, Mark, Owner, Page, Part, Run, Sequence};
use crate::render::mistake::Mistake;
use crate::render::tokens::{Colour, MODULE, Pt, TICK, WEIGHT_COURSE};

/// Cut-down faces by face, and the text that each glyph stands for where it is first used.
struct Fonts {
    subsets: BTreeMap<Face, Subset>,
    texts: BTreeMap<(Face, u16), String>,
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
        let mut used: BTreeMap<Face, BTreeSet<u16>> = BTreeMap::new();
        let mut texts = BTreeMap::new();
        for run in laid.pages.iter().flat_map(|page| &page.marks).filter_map(run) {
            for glyph in &run.glyphs {
                used.entry(glyph.face).or_default().insert(glyph.id);
                let text = text(run, glyph);
                if !text.is_empty() {
                    texts.entry((glyph.face, glyph.id)).or_insert_with(|| text.to_owned());
                }
            }
        }
        let mut subsets = BTreeMap::new();
        for (face, glyphs) in used {
            let cut = subset(face, glyphs).ok_or(Mistake::BrokenFont { font: face.name() })?;
            subsets.insert(face, cut);
        }
        Ok(Self { subsets, texts })
    }

    /// Whether some glyph of a run stands for other text here than elsewhere.
    fn differs(&self, run: &Run) -> bool {
        run.glyphs.iter().any(|glyph| {
            let known = self.texts.get(&(glyph.face, glyph.id)).map_or("", String::as_str);
            readable(known) != readable(text(run, glyph))
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
fn readable(text: &str) -> String {
    text.replace('\u{a0}', " ")
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
        let words = utf16(&readable(&run.text));
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
        let shown = fonts.subsets.get(&first.face).map(|subset| show(stretch, subset, fonts));
        ops.push(Op::ShowText { items: vec![TextItem::GlyphIds(shown.unwrap_or_default())] });
        pen += f64::from(stretch.iter().map(|glyph| glyph.advance).sum::<i32>()) * size / 1000.0;
    }
    ops.push(Op::EndTextSection);
}

/// Glyphs by their new numbers. A number behind a glyph moves the pen back, in thousandths of the size.
fn show(stretch: &[Glyph], subset: &Subset, fonts: &Fonts) -> Vec<Codepoint> {
    let following = stretch.iter().skip(1).map(|glyph| glyph.right).chain([0]);
    let shown = stretch.iter().zip(following).map(|(glyph, next)| {
        let number = subset.numbers.get(&glyph.id).copied().unwrap_or_default();
        let width = i32::from(subset.font.get_glyph_width(number).unwrap_or_default());
        let back = width - glyph.advance + glyph.right - next;
        let known = fonts.texts.get(&(glyph.face, glyph.id)).map_or("", String::as_str);
        Codepoint::with_cid(number, small(back), readable(known))
    });
    shown.collect()
}

fn small(adjustment: i32) -> f32 {
    i16::try_from(adjustment).map_or(0.0, f32::from)
}
