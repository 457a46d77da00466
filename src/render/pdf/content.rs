//! Marks to the content of pages. Everything painted lies in marked content: a numbered stretch of a block, or an
//! artifact. The operators are written straight out: `printpdf` holds each glyph as a string of its own, which took
//! most of the time of a whole set.

use super::paint::{Fonts, readable};
use crate::render::font::{Face, Glyph};
use crate::render::laid::{Mark, Page, Run, Sequence};
use crate::render::tokens::{Colour, MODULE, Pt, TICK, WEIGHT_COURSE};

/// The content stream of a page.
pub(super) fn content(page: &Page, fonts: &Fonts) -> Vec<u8> {
    let mut sheet = Sheet { out: Vec::new(), fonts, hand: Hand::default() };
    for sequence in page.sequences() {
        sheet.begin(&sequence);
        for mark in sequence.marks {
            sheet.mark(mark);
        }
        sheet.say("EMC");
    }
    sheet.out
}

pub(super) struct Sheet<'a> {
    pub(super) out: Vec<u8>,
    fonts: &'a Fonts,
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

/// A number as four digits of sixteen.
fn digits(number: u16) -> [u8; 4] {
    [12, 8, 4, 0].map(|shift| {
        let [_, low] = (number >> shift).to_be_bytes();
        match low & 0xF {
            digit @ 0..=9 => b'0' + digit,
            letter => b'A' + letter - 10,
        }
    })
}

/// Words as the digits of a PDF string.
fn hex(text: &str) -> Vec<u8> {
    let text: String = readable(text).collect();
    std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(digits).collect()
}

impl Sheet<'_> {
    /// An operator, or a line of them.
    pub(super) fn say(&mut self, line: &str) {
        self.out.extend_from_slice(line.as_bytes());
        self.out.push(b'\n');
    }

    /// Numbers, and the operator that takes them.
    pub(super) fn give(&mut self, numbers: &[Pt], operator: &str) {
        for number in numbers {
            self.number(*number);
            self.out.push(b' ');
        }
        self.say(operator);
    }

    /// A number as the file holds it: rounded to a thousandth.
    pub(super) fn number(&mut self, number: Pt) {
        #[expect(clippy::cast_possible_truncation, reason = "places on a page are far inside the range")]
        let thousandths = (number * 1000.0).round() as i64;
        if thousandths < 0 {
            self.out.push(b'-');
        }
        let (whole, mut part) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
        self.whole(i64::try_from(whole).unwrap_or(i64::MAX));
        if part > 0 {
            self.out.push(b'.');
        }
        for place in [100, 10, 1] {
            if part > 0 {
                self.whole(i64::try_from(part / place).unwrap_or_default());
                part %= place;
            }
        }
    }

    fn whole(&mut self, number: i64) {
        self.out.extend_from_slice(itoa::Buffer::new().format(number).as_bytes());
    }

    fn begin(&mut self, sequence: &Sequence<'_>) {
        match sequence.mcid {
            // What it is, the tree says.
            Some(mcid) => self.say(&format!("/Span <</MCID {mcid}>> BDC")),
            None => self.say("/Artifact BMC"),
        }
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
                self.give(&[*x, y - height, *width, *height], "re f");
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
            self.give(&[weight], "w");
        }
    }

    pub(super) fn fill(&mut self, colour: Colour) {
        if self.hand.fill.replace(colour) != Some(colour) {
            self.ink(colour, "rg");
        }
    }

    fn ink(&mut self, colour: Colour, operator: &str) {
        self.give(&colour.rgb().map(|part| f64::from(part) / 255.0), operator);
    }

    fn line(&mut self, from: (Pt, Pt), to: (Pt, Pt)) {
        self.give(&[from.0, from.1], "m");
        self.give(&[to.0, to.1], "l");
    }

    fn text(&mut self, x: Pt, y: Pt, run: &Run) {
        if self.fonts.differs(run) {
            self.out.extend_from_slice(b"/Span <</ActualText <");
            self.out.extend(hex(&run.text));
            self.say(">>> BDC");
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
                self.out.push(b'/');
                self.out.extend_from_slice(first.face.name().as_bytes());
                self.out.push(b' ');
                self.give(&[size], "Tf");
            }
            self.give(&[pen, height], "Td");
            self.show(stretch);
            self.say("ET");
            pen += f64::from(stretch.iter().map(|glyph| glyph.advance).sum::<i32>()) * size / 1000.0;
        }
    }

    /// Glyphs by their new numbers. A number behind a glyph moves the pen back, in thousandths of the size.
    fn show(&mut self, stretch: &[Glyph]) {
        let following = stretch.iter().skip(1).map(|glyph| glyph.right).chain([0]);
        self.out.extend_from_slice(b"[(");
        for (glyph, next) in stretch.iter().zip(following) {
            let Some(known) = self.fonts.known(glyph) else { continue };
            let back = known.width - glyph.advance + glyph.right - next;
            for byte in known.number.to_be_bytes() {
                self.byte(byte);
            }
            if back != 0 {
                self.out.push(b')');
                self.whole(i64::from(back));
                self.out.push(b'(');
            }
        }
        self.say(")] TJ");
    }

    /// A byte of a string between brackets, which takes half the room of its digits.
    fn byte(&mut self, byte: u8) {
        match byte {
            // A reader takes a bare return for a line feed.
            b'\r' => self.out.extend_from_slice(b"\\r"),
            b'(' | b')' | b'\\' => self.out.extend_from_slice(&[b'\\', byte]),
            _ => self.out.push(byte),
        }
    }
}
