//! Fonts and pages of a file, as `printpdf` takes them.

use std::collections::BTreeMap;

use printpdf::{
    Codepoint, FontId, Mm, Op, PdfDocument, PdfFont, PdfFontHandle, PdfPage, Pt as Points, TextItem,
};

use crate::render::font::{Face, Glyph, Subset, subset};
use crate::render::laid::{Laid, Mark, Run};
use crate::render::mistake::Mistake;
use crate::render::tokens::Pt;

/// What the file knows about one glyph.
pub(super) struct Known {
    /// Its number in the cut-down face.
    pub(super) number: u16,
    /// Its width there, in thousandths of the size.
    pub(super) width: i32,
    /// The text it stands for where it is first used.
    text: String,
}

/// Cut-down faces, and what is known about their glyphs.
pub(super) struct Fonts {
    subsets: BTreeMap<Face, Subset>,
    /// By face, then by the number of the glyph there.
    glyphs: Vec<Vec<Option<Known>>>,
}

/// Adds the fonts and the empty pages of a laid document to a file. The first page names every glyph once, so that
/// `printpdf` embeds it with the text it stands for; what the pages show is written afterwards by `content`.
pub(super) fn paint(laid: &Laid, document: &mut PdfDocument) -> Result<Fonts, Mistake> {
    let fonts = Fonts::of(laid)?;
    for (face, subset) in &fonts.subsets {
        document.resources.fonts.map.insert(id(*face), PdfFont::new(subset.font.clone()));
    }
    let (width, height) = laid.paper;
    let pages = (0..laid.pages.len()).map(|page| {
        let ops = if page == 0 { fonts.every_glyph() } else { Vec::new() };
        let mut sheet = PdfPage::new(Mm(0.0), Mm(0.0), ops);
        let edge = printpdf::Rect::from_wh(points(width), points(height));
        sheet.media_box = edge.clone();
        sheet.trim_box = edge.clone();
        sheet.crop_box = edge;
        sheet
    });
    document.pages = pages.collect();
    Ok(fonts)
}

impl Fonts {
    fn of(laid: &Laid) -> Result<Self, Mistake> {
        let mut glyphs: Vec<Vec<Option<Known>>> = Face::ALL.iter().map(|_| Vec::new()).collect();
        for run in laid.pages.iter().flat_map(|page| &page.marks).filter_map(run) {
            for glyph in &run.glyphs {
                let Some(of_face) = glyphs.get_mut(glyph.face as usize) else { continue };
                let id = usize::from(glyph.id);
                if of_face.len() <= id {
                    of_face.resize_with(id + 1, || None);
                }
                let Some(known) = of_face.get_mut(id) else { continue };
                let known = known.get_or_insert(Known { number: 0, width: 0, text: String::new() });
                if known.text.is_empty() {
                    known.text.extend(readable(text(run, glyph)));
                }
            }
        }
        let mut subsets = BTreeMap::new();
        for (face, glyphs) in Face::ALL.into_iter().zip(&mut glyphs) {
            let mut used: Vec<(u16, &mut Known)> =
                (0..).zip(glyphs).filter_map(|(id, known)| Some((id, known.as_mut()?))).collect();
            if used.is_empty() {
                continue;
            }
            let cut = subset(face, used.iter().map(|(id, _)| *id));
            let cut = cut.ok_or(Mistake::BrokenFont { font: face.name() })?;
            for (id, known) in &mut used {
                known.number = cut.numbers.get(id).copied().unwrap_or_default();
                known.width = cut.font.get_glyph_width(known.number).map_or(0, i32::from);
            }
            subsets.insert(face, cut);
        }
        Ok(Self { subsets, glyphs })
    }

    /// Operations that name each glyph of each face with its text.
    fn every_glyph(&self) -> Vec<Op> {
        let mut ops = vec![Op::StartTextSection];
        for (face, glyphs) in Face::ALL.iter().zip(&self.glyphs).filter(|(_, glyphs)| !glyphs.is_empty()) {
            let named = glyphs
                .iter()
                .flatten()
                .map(|known| Codepoint::with_cid(known.number, 0.0, known.text.clone()));
            ops.push(Op::SetFont { font: PdfFontHandle::External(id(*face)), size: points(1.0) });
            ops.push(Op::ShowText { items: vec![TextItem::GlyphIds(named.collect())] });
        }
        ops.push(Op::EndTextSection);
        ops
    }

    /// What is known of a glyph.
    pub(super) fn known(&self, glyph: &Glyph) -> Option<&Known> {
        self.glyphs.get(glyph.face as usize)?.get(usize::from(glyph.id))?.as_ref()
    }

    /// Whether some glyph of a run stands for other text here than elsewhere.
    pub(super) fn differs(&self, run: &Run) -> bool {
        run.glyphs.iter().any(|glyph| {
            let here = text(run, glyph);
            let same = |known: &Known| known.text == here || known.text.chars().eq(readable(here));
            self.known(glyph).is_some_and(|known| !same(known))
        })
    }
}

fn run(mark: &Mark) -> Option<&Run> {
    match mark {
        Mark::Text { run, .. } => Some(run),
        Mark::Rule { .. } | Mark::Fill { .. } | Mark::Course { .. } | Mark::Path { .. } => None,
    }
}

fn text<'a>(run: &'a Run, glyph: &Glyph) -> &'a str {
    let (Ok(from), Ok(to)) = (usize::try_from(glyph.from), usize::try_from(glyph.to)) else { return "" };
    run.text.get(from..to).unwrap_or_default()
}

/// Text as copied from the page: a space that never parts is a plain space there.
pub(super) fn readable(text: &str) -> impl Iterator<Item = char> {
    text.chars().map(|sign| if sign == '\u{a0}' { ' ' } else { sign })
}

fn id(face: Face) -> FontId {
    FontId(face.name().to_owned())
}

/// A length as the file holds it: rounded to a thousandth of a point.
#[expect(clippy::cast_possible_truncation, reason = "places on a page are far inside the range of f32")]
pub(super) fn points(length: Pt) -> Points {
    Points(((length * 1000.0).round() / 1000.0) as f32)
}

/// Text as a PDF string: UTF-16 with its mark of order.
pub(super) fn utf16(text: &str) -> Vec<u8> {
    [0xFE, 0xFF].into_iter().chain(text.encode_utf16().flat_map(u16::to_be_bytes)).collect()
}
