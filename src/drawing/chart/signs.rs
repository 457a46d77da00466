//! Signs on a wall that tell of trouble (O2), drawn so that an owner knows them when they come.

use super::{IN_COLUMN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, height_of};
use crate::drawing::number::listed;
use crate::drawing::pattern::{Pattern, fill};
use crate::drawing::sheet::{Place, Said, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;

/// A sign.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sign {
    /// What is drawn.
    pub shape: SignShape,
    /// What it is called in the words beside it.
    pub title: String,
}

/// What a sign looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SignShape {
    /// A white bloom.
    Powder,
    /// A dark patch.
    Damp,
    /// A crack.
    Crack,
    /// A film that comes off.
    Flakes,
    /// Growth from the foot up.
    Growth,
    /// A stain below iron.
    Rust,
}

impl SignShape {
    /// The shapes by name.
    pub const NAMES: [(&'static str, Self); 6] = [
        ("powder", Self::Powder),
        ("damp", Self::Damp),
        ("crack", Self::Crack),
        ("flakes", Self::Flakes),
        ("growth", Self::Growth),
        ("rust", Self::Rust),
    ];
}

/// Signs beside each other, and the most in all.
const ACROSS: usize = 3;
const MOST: usize = 6;
/// Between two signs, size of the piece of wall, and room of the name under it; mm.
const GAP: f64 = 2.5;
const HIGH: f64 = 12.5;
const NAME: f64 = 4.8;

const STRONG: Pen = Pen::solid(Thickness::Heavy, Tone::Ink);
const PLAIN: Pen = Pen::solid(Thickness::Plain, Tone::Ink);
const FINE: Pen = Pen::solid(Thickness::Fine, Tone::Ink);

/// The signs; `None` if there is none, or more than six.
pub fn signs(id: &str, signs: &[Sign]) -> Option<Drawing> {
    if signs.is_empty() || signs.len() > MOST {
        return None;
    }
    let across = ACROSS.min(signs.len());
    let wide = (IN_COLUMN - GAP * (count(ACROSS) - 1.0)) / count(ACROSS);
    let mut sheet = Sheet::default();
    for (number, sign) in signs.iter().enumerate() {
        let left = count(number % across) * (wide + GAP);
        let top = count(number / across) * (HIGH + NAME);
        put(&mut sheet, sign, (left, top), (left + wide, top + HIGH));
    }
    let rows = signs.len().div_ceil(across);
    let titles: Vec<String> = signs.iter().map(|sign| lower(&sign.title)).collect();
    let said = Said {
        id: id.to_owned(),
        title: "Signs to watch for".to_owned(),
        caption: format!(
            "{} to know when you see {}",
            number(signs.len()),
            if signs.len() == 1 { "it" } else { "them" }
        ),
        note: String::new(),
        alt: alt(&[format!("Drawn on pieces of wall: {}.", listed(&titles))]),
    };
    Some(sheet.finished(IN_COLUMN, count(rows) * (HIGH + NAME), said))
}

fn number(of: usize) -> &'static str {
    match of {
        1 => "One sign",
        2 => "Two signs",
        3 => "Three signs",
        4 => "Four signs",
        5 => "Five signs",
        _ => "Six signs",
    }
}

/// A title as it stands inside a sentence, cut where it is too long.
fn lower(title: &str) -> String {
    let title: String = title.chars().take(24).collect();
    let mut signs = title.chars();
    signs.next().map(|first| first.to_lowercase().chain(signs).collect()).unwrap_or_default()
}

fn put(sheet: &mut Sheet, sign: &Sign, from: Place, to: Place) {
    let at = |x: f64, y: f64| (from.0 + x * (to.0 - from.0), from.1 + y * (to.1 - from.1));
    if sign.shape == SignShape::Powder {
        sheet.area(&corners(from, to), Tone::Tint);
    }
    if sign.shape == SignShape::Flakes {
        fill(sheet, Pattern::Mortar, from, to);
    } else {
        fill(sheet, Pattern::Brick, from, to);
    }
    match sign.shape {
        SignShape::Powder => powder(sheet, at),
        SignShape::Damp => damp(sheet, at),
        SignShape::Crack => crack(sheet, at),
        SignShape::Flakes => flakes(sheet, at),
        SignShape::Growth => growth(sheet, at),
        SignShape::Rust => rust(sheet, at),
    }
    sheet.line(&outline(from, to), FINE);
    let middle = f64::midpoint(from.0, to.0);
    for words in broken(&sign.title, Type::STRONG.size, Type::STRONG.bold, to.0 - from.0, 1) {
        sheet.label(
            (middle, to.1 + height_of(Type::STRONG.size) / 2.0 + 0.4),
            &words,
            Type::STRONG,
            Anchor::Middle,
        );
    }
}

/// White clouds with grains.
fn powder(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    const CLOUD: [(f64, f64); 12] = [
        (0.08, 0.62),
        (0.16, 0.45),
        (0.28, 0.50),
        (0.38, 0.30),
        (0.52, 0.38),
        (0.62, 0.26),
        (0.76, 0.42),
        (0.90, 0.48),
        (0.86, 0.68),
        (0.66, 0.80),
        (0.40, 0.78),
        (0.20, 0.82),
    ];
    let cloud: Vec<Place> = CLOUD.iter().map(|(x, y)| at(*x, *y)).collect();
    sheet.area(&cloud, Tone::Paper);
    // places of a grain by a fixed walk: spread evenly and never in rows
    for number in 0..46u32 {
        let (x, y) = (f64::from(number * 37 % 97) / 97.0, f64::from(number * 59 % 89) / 89.0);
        let (x, y) = at(0.14 + 0.70 * x, 0.40 + 0.36 * y);
        sheet.area(&corners((x, y), (x + 0.45, y + 0.45)), Tone::Ink);
    }
}

/// A dark patch that spreads down from a gutter.
fn damp(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    const PATCH: [(f64, f64); 9] = [
        (0.30, 0.0),
        (0.74, 0.0),
        (0.70, 0.22),
        (0.80, 0.46),
        (0.68, 0.74),
        (0.50, 0.88),
        (0.32, 0.72),
        (0.24, 0.44),
        (0.34, 0.24),
    ];
    let patch: Vec<Place> = PATCH.iter().map(|(x, y)| at(*x, *y)).collect();
    sheet.hatch(&patch, 0.8, PLAIN);
    let closed: Vec<Place> = patch.iter().copied().chain(patch.first().copied()).collect();
    sheet.line(&closed, FINE);
}

/// A jagged line through the joints, with a stroke across each of its ends.
fn crack(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    const WAY: [(f64, f64); 9] = [
        (0.18, 0.14),
        (0.30, 0.18),
        (0.32, 0.36),
        (0.46, 0.40),
        (0.44, 0.56),
        (0.60, 0.58),
        (0.62, 0.74),
        (0.74, 0.78),
        (0.80, 0.90),
    ];
    let way: Vec<Place> = WAY.iter().map(|(x, y)| at(*x, *y)).collect();
    sheet.line(&way, STRONG);
    for end in way.first().into_iter().chain(way.last()) {
        sheet.line(&[(end.0 - 1.4, end.1 + 1.4), (end.0 + 1.4, end.1 - 1.4)], FINE);
    }
}

/// Pieces of a film, torn off and curled, with the wall bare behind them.
fn flakes(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    const PIECES: [[(f64, f64); 5]; 3] = [
        [(0.10, 0.20), (0.34, 0.12), (0.44, 0.34), (0.30, 0.52), (0.12, 0.44)],
        [(0.52, 0.16), (0.80, 0.10), (0.88, 0.36), (0.70, 0.46), (0.56, 0.38)],
        [(0.32, 0.64), (0.60, 0.56), (0.72, 0.74), (0.56, 0.90), (0.34, 0.86)],
    ];
    for piece in PIECES {
        let piece = piece.map(|(x, y)| at(x, y));
        sheet.area(&piece, Tone::Paper);
        let closed: Vec<Place> = piece.iter().copied().chain(piece.iter().copied().take(1)).collect();
        sheet.line(&closed, PLAIN);
        let [_, corner, side, _, _] = piece;
        sheet.area(&[corner, side, (corner.0 - 1.8, corner.1 + 2.2)], Tone::Graphite);
    }
}

/// Tufts that grow from the foot of the wall, thinner further up.
fn growth(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    let mut strokes = Vec::new();
    for number in 0..40u32 {
        let (x, y) = (f64::from(number * 29 % 41) / 41.0, f64::from(number * 17 % 37) / 37.0);
        let (x, y) = at(0.04 + 0.92 * x, 0.96 - 0.62 * y * y);
        strokes.push(vec![(x - 0.7, y - 1.5), (x, y), (x + 0.7, y - 1.5)]);
        strokes.push(vec![(x, y), (x, y - 1.9)]);
    }
    sheet.lines(&strokes, PLAIN);
}

/// Streaks that run down from an iron fixing.
fn rust(sheet: &mut Sheet, at: impl Fn(f64, f64) -> Place) {
    for (x, length) in [(0.40, 0.44), (0.44, 0.66), (0.48, 0.58), (0.52, 0.72), (0.56, 0.50), (0.60, 0.36)] {
        sheet.line(&[at(x, 0.26), at(x - 0.01, 0.26 + length)], PLAIN);
    }
    sheet.area(&corners(at(0.36, 0.14), at(0.64, 0.28)), Tone::Ink);
}
