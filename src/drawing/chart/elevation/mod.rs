//! The elevation key (S1): a face of the building to scale, with its openings, each zone by its code, and a hatch over
//! all that is never coated. Drawn from measured sizes alone.

mod face;
mod keep_off;
mod said;

use super::{FROM_MARGIN, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, height_of, width_of};
use crate::drawing::place::apart;
use crate::drawing::sheet::{FINE, Place, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;
use crate::units::{Dimension, Quantity, System, print};
use face::Face;

pub use keep_off::keep_off_key;

/// An elevation as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Elevation {
    /// Name of the figure.
    pub id: String,
    /// Which side it is: `Quay front (W)`.
    pub title: String,
    /// Width in m, up to 1 km, and as printed.
    pub width: (f64, String),
    /// Height, likewise.
    pub height: (f64, String),
    /// Openings; `None` where nobody measured where they lie.
    pub openings: Option<Vec<Rectangle>>,
    /// Places inside zones that are never coated; `None` likewise.
    pub bare: Option<Vec<Rectangle>>,
    /// The zones on it.
    pub zones: Vec<ZonePlace>,
    /// What else must be said of it: whole sentences.
    pub notes: Vec<String>,
    /// Which unit the scale is in.
    pub system: System,
}

/// A level rectangle, in m from the left edge and the foot of the elevation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Left edge.
    pub left: f64,
    /// Lower edge.
    pub base: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// Where a zone lies.
#[derive(Debug, Clone, PartialEq)]
pub struct ZonePlace {
    /// Its code.
    pub code: String,
    /// Whether it is coated.
    pub state: ZoneState,
    /// Its places.
    pub places: Vec<Rectangle>,
}

/// Whether a zone is coated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ZoneState {
    /// It is.
    Coated,
    /// Not before stops are released, by their numbers.
    Stopped(Vec<usize>),
    /// Never.
    Bare,
    /// Nothing is chosen for it yet.
    Open,
}

/// Longest side of an elevation, in m.
const LONGEST: f64 = 1000.0;

/// Room left of the elevation for its height, right of it for the names of zones that have no room inside, above it,
/// and the most that it is high; mm.
const LEFT: f64 = 19.0;
const RIGHT: f64 = 36.0;
const TOP: f64 = 1.0;
const HIGHEST: f64 = 72.0;
/// The ground goes this far past both ends; from the elevation to the line of its width and to that of its height; mm.
const GROUND: f64 = 3.0;
const TO_WIDTH: f64 = 4.2;
const TO_HEIGHT: f64 = 3.0;
/// Height of a row of the key under the elevation, and of a swatch in it, with its width; mm.
const KEY: f64 = 6.4;
const SWATCH: (f64, f64) = (7.0, 3.6);
/// Longest scale bar; mm.
const BAR: f64 = 40.0;

/// The second numbers of scales that a rule can be laid on, 1 : n, each also ten and a hundred times as large.
const SCALES: [f64; 8] = [10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0];

/// The elevation; `None` if a figure makes no sense.
pub fn elevation_key(elevation: &Elevation) -> Option<Drawing> {
    sound(elevation)?;
    let wide = FROM_MARGIN - LEFT - GROUND;
    let face = laid(elevation, wide);
    let face = if face.has_unlettered() { laid(elevation, wide - RIGHT) } else { face };
    let mut sheet = Sheet::default();
    let (left, right, top, foot) = (face.left, face.right(), face.top, face.foot());
    face.put(&mut sheet);
    sheet.line(&[(left - GROUND, foot), (right + GROUND, foot)], Pen::solid(Thickness::Heavy, Tone::Ink));
    let unnamed = beside(&mut sheet, &face);
    sides(&mut sheet, elevation, (left, right), (top, foot));
    let bottom = key(&mut sheet, elevation, &face, foot + TO_WIDTH + 6.4);
    Some(sheet.finished(FROM_MARGIN, bottom, said::of(elevation, &face, &unnamed)))
}

/// The elevation at the largest scale that goes into this width.
fn laid(elevation: &Elevation, wide: f64) -> Face<'_> {
    let (width, height) = (elevation.width.0, elevation.height.0);
    let times = [1.0, 10.0, 100.0];
    let scales = times.into_iter().flat_map(|times| SCALES.map(|scale| scale * times));
    let fits = |scale: &f64| width * 1000.0 / scale <= wide && height * 1000.0 / scale <= HIGHEST;
    let scale = scales.into_iter().find(fits).unwrap_or(1e4);
    Face::laid(elevation, (LEFT, TOP), 1000.0 / scale)
}

/// Every figure is one, and no side is longer than any building.
fn sound(elevation: &Elevation) -> Option<()> {
    let is_side = |side: f64| side > 0.0 && side <= LONGEST;
    let is_place = |place: &Rectangle| {
        (0.0..=LONGEST).contains(&place.left)
            && (0.0..=LONGEST).contains(&place.base)
            && is_side(place.width)
            && is_side(place.height)
            && place.left + place.width <= elevation.width.0 + 0.01
            && place.base + place.height <= elevation.height.0 + 0.01
    };
    let places = elevation.zones.iter().flat_map(|zone| &zone.places);
    let mut all = places.chain(elevation.openings.iter().flatten()).chain(elevation.bare.iter().flatten());
    (is_side(elevation.width.0) && is_side(elevation.height.0) && all.all(is_place)).then_some(())
}

/// Width and height with their lines.
fn sides(sheet: &mut Sheet, elevation: &Elevation, (left, right): (f64, f64), (top, foot): (f64, f64)) {
    let below = foot + TO_WIDTH;
    measured(sheet, (left, below), (right, below));
    for width in broken(&elevation.width.1, Type::SMALL.size, Type::SMALL.bold, FROM_MARGIN, 1) {
        let half = width_of(&width, Type::SMALL.size, Type::SMALL.bold) / 2.0;
        let middle = f64::midpoint(left, right).max(half).min(FROM_MARGIN - half);
        sheet.label((middle, below + 2.6), &width, Type::SMALL, Anchor::Middle);
    }
    let beside = left - TO_HEIGHT;
    measured(sheet, (beside, top), (beside, foot));
    let lines = broken(&elevation.height.1, Type::SMALL.size, Type::SMALL.bold, LEFT - TO_HEIGHT - 1.0, 2);
    let step = height_of(Type::SMALL.size);
    let all = step * count(lines.len());
    let first = (f64::midpoint(top, foot) - all / 2.0).max(0.0) + step / 2.0;
    for (number, words) in lines.iter().enumerate() {
        sheet.label((beside - 1.0, first + step * count(number)), words, Type::SMALL, Anchor::End);
    }
}

/// A line with a stroke across each end.
fn measured(sheet: &mut Sheet, from: Place, to: Place) {
    let across = |(x, y): Place| {
        if (from.1 - to.1).abs() < 1e-9 {
            vec![(x, y - 1.0), (x, y + 1.0)]
        } else {
            vec![(x - 1.0, y), (x + 1.0, y)]
        }
    };
    sheet.lines(&[vec![from, to], across(from), across(to)], FINE);
}

/// Zones without room for their codes, named right of the elevation; gives those that have no room there either.
fn beside(sheet: &mut Sheet, face: &Face<'_>) -> Vec<String> {
    let step = height_of(Type::STRONG.size) + 0.6;
    let (left, bottom) = (face.right() + GROUND + 2.0, face.foot().max(TOP + step));
    let mut unnamed = Vec::new();
    let mut wanted = Vec::new();
    for (zone, (x, y)) in face.unlettered() {
        if count(wanted.len() + 1) * step <= bottom - TOP {
            wanted.push((zone, (x, y)));
        } else {
            unnamed.push(zone.code.clone());
        }
    }
    let heights: Vec<(f64, f64)> = wanted.iter().map(|(_, (_, y))| (*y, step)).collect();
    for ((zone, at), middle) in wanted.iter().zip(apart(&heights, TOP, bottom)) {
        sheet.line(&[*at, (left - 2.0, middle), (left - 0.8, middle)], FINE);
        let room = FROM_MARGIN - left;
        let words = face::words(zone).join(" ");
        for words in broken(&words, Type::STRONG.size, Type::STRONG.bold, room, 1) {
            sheet.label((left, middle), &words, Type::STRONG, Anchor::Start);
        }
    }
    unnamed
}

/// The scale bar, and what hatch and tint mean; gives the height of the whole.
fn key(sheet: &mut Sheet, elevation: &Elevation, face: &Face<'_>, top: f64) -> f64 {
    let middle = top + SWATCH.1 / 2.0;
    let mut x = LEFT;
    if let Some((length, words)) = bar(face.scale, elevation.system) {
        scale_bar(sheet, (x, middle), length);
        x += length + 2.0;
        sheet.label((x, middle), &words, Type::SMALL, Anchor::Start);
        x += width_of(&words, Type::SMALL.size, Type::SMALL.bold) + 6.0;
    }
    swatches(
        sheet,
        (x, middle),
        face.has_hatch(),
        elevation.openings.as_ref().is_some_and(|all| !all.is_empty()),
    );
    top + KEY
}

/// What hatch and tint mean, from this place to the right.
fn swatches(sheet: &mut Sheet, (left, middle): Place, hatch: bool, openings: bool) {
    let shown = [(hatch, "never coated"), (openings, "opening")];
    let mut x = left;
    for (number, (_, words)) in shown.into_iter().enumerate().filter(|(_, (is_shown, _))| *is_shown) {
        let (from, to) = ((x, middle - SWATCH.1 / 2.0), (x + SWATCH.0, middle + SWATCH.1 / 2.0));
        if number == 0 {
            face::bare(sheet, from, to);
        } else {
            face::opening(sheet, from, to);
        }
        x += SWATCH.0 + 2.0;
        sheet.label((x, middle), words, Type::SMALL, Anchor::Start);
        x += width_of(words, Type::SMALL.size, Type::SMALL.bold) + 6.0;
    }
}

/// A round length of no more than the bar, in mm on paper, and as printed.
fn bar(scale: f64, system: System) -> Option<(f64, String)> {
    let (unit, metres) = match system {
        System::SiFirst => ("m", 1.0),
        System::UsFirst => ("ft", 0.3048),
    };
    let most = BAR / (scale * metres);
    let power = libm::pow(10.0, libm::floor(libm::log10(most)));
    let round = [5.0, 2.0, 1.0].into_iter().map(|times| times * power).find(|length| *length <= most)?;
    let length = Quantity::parse(&format!("{round} {unit}"), Dimension::Length).ok()?;
    Some((round * scale * metres, print(&length, system)))
}

/// A bar in four pieces, dark and light by turns.
fn scale_bar(sheet: &mut Sheet, (left, middle): Place, length: f64) {
    let piece = length / 4.0;
    for number in [0.0, 2.0] {
        let from = left + number * piece;
        sheet.area(&corners((from, middle - 0.7), (from + piece, middle + 0.7)), Tone::Ink);
    }
    sheet.line(
        &outline((left, middle - 0.7), (left + length, middle + 0.7)),
        Pen::solid(Thickness::Fine, Tone::Ink),
    );
}
