//! Figures as enhanced metafiles: lines and words that every version of the word processors of the last quarter
//! century draws sharp at any size, without a picture of dots to fall back on. After the open specification [MS-EMF].
//!
//! One unit of the drawing is a hundredth of a millimetre.

use crate::drawing::{Anchor, Bold, Drawing, Mark, Mm, Pen, Spot, Text, Tone};
use crate::render::font::{Face, Shaper};

/// Millimetres in a point.
const POINT: f64 = 25.4 / 72.0;
/// Units in a millimetre.
const UNITS: f64 = 100.0;
/// Dots of the device that is reckoned with, in a millimetre of it.
const DOTS: i32 = 40;

/// Numbers of records.
mod record {
    pub(super) const HEADER: u32 = 1;
    pub(super) const POLYGON: u32 = 3;
    pub(super) const POLYLINE: u32 = 4;
    pub(super) const SET_WINDOW: u32 = 9;
    pub(super) const SET_WINDOW_ORIGIN: u32 = 10;
    pub(super) const SET_VIEWPORT: u32 = 11;
    pub(super) const SET_VIEWPORT_ORIGIN: u32 = 12;
    pub(super) const END: u32 = 14;
    pub(super) const SET_MAP_MODE: u32 = 17;
    pub(super) const SET_BACKGROUND: u32 = 18;
    pub(super) const SET_TEXT_ALIGN: u32 = 22;
    pub(super) const SET_TEXT_COLOUR: u32 = 24;
    pub(super) const SELECT: u32 = 37;
    pub(super) const CREATE_BRUSH: u32 = 39;
    pub(super) const DELETE: u32 = 40;
    pub(super) const CREATE_FONT: u32 = 82;
    pub(super) const TEXT: u32 = 84;
    pub(super) const CREATE_PEN: u32 = 95;
}

/// Objects that are always there.
const NO_BRUSH: u32 = 0x8000_0005;
const NO_PEN: u32 = 0x8000_0008;
const USUAL_FONT: u32 = 0x8000_000D;
/// The one place in the table of objects that is used, by turns.
const OBJECT: u32 = 1;

/// The drawing as a metafile. The same drawing gives the same bytes.
pub(crate) fn emf(drawing: &Drawing) -> Vec<u8> {
    let mut sheet = Sheet { out: Vec::new(), records: 0, shaper: Shaper::new() };
    let (width, height) = (units(drawing.width), units(drawing.height));
    sheet.record(record::SET_MAP_MODE, &[8]);
    sheet.record(record::SET_WINDOW_ORIGIN, &[0, 0]);
    sheet.record(record::SET_WINDOW, &[width, height]);
    sheet.record(record::SET_VIEWPORT_ORIGIN, &[0, 0]);
    sheet.record(record::SET_VIEWPORT, &[dots(width), dots(height)]);
    sheet.record(record::SET_BACKGROUND, &[1]);
    for mark in &drawing.marks {
        match mark {
            Mark::Lines { lines, pen } => sheet.lines(lines, *pen),
            Mark::Area { corners, tone } => sheet.area(corners, *tone),
            Mark::Text(text) => sheet.text(text),
        }
    }
    sheet.record(record::END, &[0, 16, 20]);
    let mut file = header(&sheet, width, height);
    file.extend(sheet.out);
    file
}

fn units(length: Mm) -> i32 {
    rounded(length.millimetres() * UNITS)
}

/// A length in units as dots of the device.
fn dots(units: i32) -> i32 {
    units * DOTS / 100
}

#[expect(clippy::cast_possible_truncation, reason = "the cast ends at the largest drawing there is")]
fn rounded(number: f64) -> i32 {
    number.round() as i32
}

fn bytes_of(numbers: impl IntoIterator<Item = i32>) -> Vec<u8> {
    numbers.into_iter().flat_map(i32::to_le_bytes).collect()
}

fn length(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn signed(number: u32) -> i32 {
    i32::from_le_bytes(number.to_le_bytes())
}

fn colour(tone: Tone) -> i32 {
    let [red, green, blue] = tone.rgb();
    i32::from_le_bytes([red, green, blue, 0])
}

fn header(sheet: &Sheet, width: i32, height: i32) -> Vec<u8> {
    const SIZE: u32 = 88;
    let all = length(sheet.out.len()) + SIZE;
    let mut out = Vec::new();
    out.extend(record::HEADER.to_le_bytes());
    out.extend(SIZE.to_le_bytes());
    out.extend(bytes_of([0, 0, dots(width), dots(height)]));
    out.extend(bytes_of([0, 0, width, height]));
    out.extend(0x464D_4520_u32.to_le_bytes());
    out.extend(0x0001_0000_u32.to_le_bytes());
    out.extend(all.to_le_bytes());
    out.extend((sheet.records + 1).to_le_bytes());
    // two places in the table of objects, the first kept by the file itself; nothing reserved, no description, no colours
    out.extend(2_u16.to_le_bytes());
    out.extend(0_u16.to_le_bytes());
    out.extend(bytes_of([0, 0, 0]));
    // a device of 320 mm by 240 mm
    out.extend(bytes_of([320 * DOTS, 240 * DOTS]));
    out.extend(bytes_of([320, 240]));
    out
}

/// The records so far.
struct Sheet {
    out: Vec<u8>,
    records: u32,
    shaper: Shaper,
}

impl Sheet {
    fn record(&mut self, kind: u32, numbers: &[i32]) {
        self.raw(kind, &bytes_of(numbers.iter().copied()));
    }

    fn raw(&mut self, kind: u32, bytes: &[u8]) {
        let padded = bytes.len().next_multiple_of(4);
        self.out.extend(kind.to_le_bytes());
        self.out.extend((length(padded) + 8).to_le_bytes());
        self.out.extend(bytes);
        self.out.extend(std::iter::repeat_n(0, padded - bytes.len()));
        self.records += 1;
    }

    /// Lets something be drawn with an object that is made for it and goes again.
    fn with(&mut self, kind: u32, object: &[u8], usual: u32, draw: impl FnOnce(&mut Self)) {
        let mut made = OBJECT.to_le_bytes().to_vec();
        made.extend(object);
        self.raw(kind, &made);
        self.record(record::SELECT, &[signed(OBJECT)]);
        draw(self);
        self.record(record::SELECT, &[signed(usual)]);
        self.record(record::DELETE, &[signed(OBJECT)]);
    }

    fn lines(&mut self, lines: &[Vec<Spot>], pen: Pen) {
        /// Round joins and flat ends, of a width that scales with the drawing.
        const GEOMETRIC: i32 = 0x0001_0000 + 0x0200;
        const BROKEN: i32 = 7;
        let pattern: Vec<i32> = pen.dash.pattern().iter().map(|part| rounded(part * POINT * UNITS)).collect();
        let style = GEOMETRIC + if pattern.is_empty() { 0 } else { BROKEN };
        let width = rounded(pen.thickness.points() * POINT * UNITS);
        let entries = i32::try_from(pattern.len()).unwrap_or_default();
        let mut object = bytes_of([0, 0, 0, 0, style, width, 0, colour(pen.tone), 0, entries]);
        object.extend(bytes_of(pattern));
        self.record(record::SELECT, &[signed(NO_BRUSH)]);
        self.with(record::CREATE_PEN, &object, NO_PEN, |sheet| {
            for line in lines {
                sheet.through(record::POLYLINE, line);
            }
        });
    }

    fn area(&mut self, corners: &[Spot], tone: Tone) {
        self.record(record::SELECT, &[signed(NO_PEN)]);
        self.with(record::CREATE_BRUSH, &bytes_of([0, colour(tone), 0]), NO_BRUSH, |sheet| {
            sheet.through(record::POLYGON, corners);
        });
    }

    /// A line or a shape through places, with the room that it takes.
    fn through(&mut self, kind: u32, places: &[Spot]) {
        let x = || places.iter().map(|place| units(place.x));
        let y = || places.iter().map(|place| units(place.y));
        let (Some(left), Some(top), Some(right), Some(bottom)) = (x().min(), y().min(), x().max(), y().max())
        else {
            return;
        };
        let count = i32::try_from(places.len()).unwrap_or(i32::MAX);
        let mut numbers = vec![left, top, right, bottom, count];
        numbers.extend(places.iter().flat_map(|place| [units(place.x), units(place.y)]));
        self.record(kind, &numbers);
    }

    fn text(&mut self, text: &Text) {
        const BASELINE: i32 = 24;
        let size = rounded(text.size.points() * POINT * UNITS);
        let weight = if text.bold == Bold::Yes { 700 } else { 400 };
        let side = match text.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 6,
            Anchor::End => 2,
        };
        self.record(record::SET_TEXT_ALIGN, &[BASELINE + side]);
        self.record(record::SET_TEXT_COLOUR, &[colour(text.tone)]);
        let object = font(size, weight);
        self.with(record::CREATE_FONT, &object, USUAL_FONT, |sheet| sheet.words(text));
    }

    fn words(&mut self, text: &Text) {
        /// Bytes of the record before the words.
        const BEFORE: i32 = 76;
        let signs: Vec<u16> = text.words.encode_utf16().collect();
        let count = i32::try_from(signs.len()).unwrap_or_default();
        let mut words: Vec<u8> = signs.iter().flat_map(|sign| sign.to_le_bytes()).collect();
        words.resize(words.len().next_multiple_of(4), 0);
        let advances = BEFORE + i32::try_from(words.len()).unwrap_or_default();
        let mut out = bytes_of([0, 0, -1, -1, 1]);
        out.extend(1.0_f32.to_le_bytes());
        out.extend(1.0_f32.to_le_bytes());
        out.extend(bytes_of([units(text.at.x), units(text.at.y), count, BEFORE, 0, 0, 0, 0, 0, advances]));
        out.extend(words);
        let face = if text.bold == Bold::Yes { Face::SansBold } else { Face::SansRegular };
        let size = text.size.points() * POINT * UNITS / 1000.0;
        for sign in text.words.chars() {
            let advance = if sign == ' ' {
                self.shaper.space(face)
            } else {
                self.shaper.word(face, &sign.to_string()).width
            };
            // a sign of two halves advances with its first
            out.extend(rounded(f64::from(advance) * size).to_le_bytes());
            out.extend(bytes_of(std::iter::repeat_n(0, sign.len_utf16() - 1)));
        }
        self.raw(record::TEXT, &out);
    }
}

/// A font: height, weight, family.
fn font(size: i32, weight: i32) -> Vec<u8> {
    const NAME: usize = 32;
    let mut out = bytes_of([-size, 0, 0, 0, weight]);
    // upright, without lines, of any set of signs, drawn as outlines at the best quality
    out.extend([0, 0, 0, 1, 7, 0, 4, 0x22]);
    let mut name: Vec<u16> = "Source Sans 3".encode_utf16().collect();
    name.resize(NAME, 0);
    out.extend(name.iter().flat_map(|sign| sign.to_le_bytes()));
    // no full name and no style, and the rest of the longer record of a font
    out.extend(std::iter::repeat_n(0, 320 - out.len()));
    out
}
