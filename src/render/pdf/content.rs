//! Marks to the content of pages. Everything painted lies in marked content: a numbered stretch of a block, or an
//! artifact. The operators are written straight out: `printpdf` holds each glyph as a string of its own, which took
//! most of the time of a whole set.

use std::fmt::Write as _;

use super::paint::{Fonts, readable};
use crate::render::font::{Face, Glyph};
use crate::render::laid::{Laid, Mark, Owner, Page, Part, Run, Sequence};
use crate::render::tokens::{Colour, MODULE, Pt, TICK, WEIGHT_COURSE};

/// The content stream of a page.
pub(super) fn content(laid: &Laid, page: &Page, fonts: &Fonts) -> Vec<u8> {
    let mut sheet = Sheet { out: String::new(), fonts, laid, hand: Hand::default() };
    for sequence in page.sequences() {
        sheet.begin(&sequence);
        for mark in sequence.marks {
            sheet.mark(mark);
        }
        sheet.say("EMC");
    }
    sheet.out.into_bytes()
}

pub(super) struct Sheet<'a> {
    out: String,
    fonts: &'a Fonts,
    laid: &'a Laid,
    hand: Hand,
}

/// What was set last on the page and still holds, so that it is not said again.
#[derive(Default)]
struct Hand {
    fill: Option<Colour>,
    stroke: Option<Colour>,
    weight: Option<Pt>,
    font: Option<(Face, Pt)>,
}

/// A length as the file holds it: rounded to a thousandth of a point.
pub(super) struct Figure(pub(super) Pt);

impl std::fmt::Display for Figure {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        #[expect(clippy::cast_possible_truncation, reason = "places on a page are far inside the range")]
        let thousandths = (self.0 * 1000.0).round() as i64;
        let (whole, part) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
        let sign = if thousandths < 0 { "-" } else { "" };
        match part {
            0 => write!(out, "{sign}{whole}"),
            _ if part % 100 == 0 => write!(out, "{sign}{whole}.{}", part / 100),
            _ if part % 10 == 0 => write!(out, "{sign}{whole}.{:02}", part / 10),
            _ => write!(out, "{sign}{whole}.{part:03}"),
        }
    }
}

fn tag(part: Part) -> &'static str {
    match part {
        Part::Text | Part::Note => "P",
        Part::Label => "Lbl",
        Part::Heading(0 | 1) => "H1",
        Part::Heading(2) => "H2",
        Part::Heading(_) => "H3",
        Part::Caption => "Caption",
        Part::Figure => "Figure",
        Part::Cell { row: 0, .. } => "TH",
        Part::Cell { .. } => "TD",
    }
}

/// A number as four digits of sixteen. Every glyph of a set passes here, which the formatting of the standard library
/// takes ten times as long for.
fn digits(number: u16) -> impl Iterator<Item = char> {
    let digit = move |shift: u16| char::from_digit(u32::from(number >> shift) % 16, 16).unwrap_or('0');
    [12, 8, 4, 0].into_iter().map(move |shift| digit(shift).to_ascii_uppercase())
}

/// Words as the digits of a PDF string.
fn hex(text: &str) -> String {
    let text: String = readable(text).collect();
    std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(digits).collect()
}

impl Sheet<'_> {
    pub(super) fn say(&mut self, line: &str) {
        self.out.push_str(line);
        self.out.push('\n');
    }

    fn begin(&mut self, sequence: &Sequence<'_>) {
        let (Some(mcid), Owner::Content(block, part)) = (sequence.mcid, sequence.owner) else {
            return self.say("/Artifact BMC");
        };
        let alternative = self.laid.alternatives.get(&block).filter(|_| part == Part::Figure);
        let alternative = alternative.map(|words| format!(" /Alt <{}>", hex(words))).unwrap_or_default();
        self.say(&format!("/{} <</MCID {mcid}{alternative}>> BDC", tag(part)));
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Text { x, y, run } => self.text(*x, *y, run),
            Mark::Rule { x, y, width, weight, colour } => {
                self.stroke(*colour, *weight);
                self.line((*x, *y), (x + width, *y));
                self.say("S");
            }
            Mark::Fill { x, y, width, height, colour } => {
                self.fill(*colour);
                let (x, y, width, height) = (Figure(*x), Figure(y - height), Figure(*width), Figure(*height));
                self.say(&format!("{x} {y} {width} {height} re f"));
            }
            Mark::Course { x, y, width } => self.course(*x, *y, *width),
            Mark::Path { lines, paint, .. } => self.path(lines, *paint),
        }
    }

    /// A level line with ticks up and down by turns, as the perpends of two courses of brick.
    fn course(&mut self, x: Pt, y: Pt, width: Pt) {
        self.stroke(Colour::Accent, WEIGHT_COURSE);
        self.line((x, y), (x + width, y));
        let mut at = MODULE / 2.0;
        let mut tick = TICK;
        while at < width {
            self.line((x + at, y), (x + at, y + tick));
            at += MODULE;
            tick = -tick;
        }
        self.say("S");
    }

    pub(super) fn stroke(&mut self, colour: Colour, weight: Pt) {
        if self.hand.stroke.replace(colour) != Some(colour) {
            self.ink(colour, "RG");
        }
        if self.hand.weight.replace(weight) != Some(weight) {
            self.say(&format!("{} w", Figure(weight)));
        }
    }

    pub(super) fn fill(&mut self, colour: Colour) {
        if self.hand.fill.replace(colour) != Some(colour) {
            self.ink(colour, "rg");
        }
    }

    fn ink(&mut self, colour: Colour, operator: &str) {
        let [red, green, blue] = colour.rgb().map(|part| Figure(f64::from(part) / 255.0));
        self.say(&format!("{red} {green} {blue} {operator}"));
    }

    fn line(&mut self, from: (Pt, Pt), to: (Pt, Pt)) {
        let [x, y, right, up] = [from.0, from.1, to.0, to.1].map(Figure);
        self.say(&format!("{x} {y} m {right} {up} l"));
    }

    fn text(&mut self, x: Pt, y: Pt, run: &Run) {
        if self.fonts.differs(run) {
            let words = hex(&run.text);
            self.say(&format!("/Span <</ActualText <{words}>>> BDC"));
            self.glyphs(x, y, run);
            self.say("EMC");
        } else {
            self.glyphs(x, y, run);
        }
    }

    /// Paints glyphs, those of one face and height together.
    fn glyphs(&mut self, x: Pt, y: Pt, run: &Run) {
        self.fill(run.look.colour);
        let size = run.look.size;
        let mut pen = x;
        for stretch in run.glyphs.chunk_by(|a, b| a.face == b.face && a.up == b.up) {
            let Some(first) = stretch.first() else { continue };
            let height = y + f64::from(first.up) * size / 1000.0;
            self.say("BT");
            let font = (first.face, size);
            if self.hand.font.replace(font) != Some(font) {
                self.say(&format!("/{} {} Tf", first.face.name(), Figure(size)));
            }
            self.say(&format!("{} {} Td", Figure(pen), Figure(height)));
            self.show(stretch);
            self.say("ET");
            pen += f64::from(stretch.iter().map(|glyph| glyph.advance).sum::<i32>()) * size / 1000.0;
        }
    }

    /// Glyphs by their new numbers. A number behind a glyph moves the pen back, in thousandths of the size.
    fn show(&mut self, stretch: &[Glyph]) {
        let following = stretch.iter().skip(1).map(|glyph| glyph.right).chain([0]);
        self.out.push_str("[<");
        for (glyph, next) in stretch.iter().zip(following) {
            let Some(known) = self.fonts.known(glyph) else { continue };
            let back = known.width - glyph.advance + glyph.right - next;
            self.out.extend(digits(known.number));
            if back != 0 {
                let _ = write!(self.out, "> {back} <");
            }
        }
        self.say(">] TJ");
    }
}
