//! The wall cut away (O1): its layers from outside to inside, and the way that damp takes into the wall and out of it.

use super::{IN_COLUMN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, height_of};
use crate::drawing::number::{capital, listed};
use crate::drawing::pattern::{Pattern, fill};
use crate::drawing::sheet::{FINE, Place, Said, Sheet, Type, outline};
use crate::drawing::tone::Tone;

/// A wall.
#[derive(Debug, Clone, PartialEq)]
pub struct CutAway {
    /// Name of the figure.
    pub id: String,
    /// The zones that it holds for, such as `zone Q1`; `None` for the whole work.
    pub zones: Option<String>,
    /// Layers from outside to inside.
    pub layers: Vec<CutLayer>,
    /// What is on its face when the work is done.
    pub finish: Finish,
    /// Where its foot is.
    pub foot: Foot,
}

/// One layer.
#[derive(Debug, Clone, PartialEq)]
pub struct CutLayer {
    /// Its name.
    pub title: String,
    /// What its cut looks like.
    pub pattern: Pattern,
    /// How much of the masonry it is, against the other layers of masonry; `None` for what is thin, such as a render.
    pub share: Option<f64>,
}

/// What is on the face of a wall.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Finish {
    /// A coat of this name.
    Coat(String),
    /// Nothing.
    Bare,
    /// Nobody has chosen yet.
    Open,
}

/// Where the foot of a wall is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Foot {
    /// In the ground.
    Ground,
    /// Above it, or nobody said.
    Above,
}

/// Room outside the wall, width of the wall, least width of masonry and of what is thin; mm.
const OUTSIDE: f64 = 19.0;
const WALL: f64 = 34.0;
const LEAST: f64 = 5.0;
const THIN: f64 = 3.6;
/// Height of the wall, and how far down the ground begins and ends; mm.
const HIGH: f64 = 20.0;
const GROUND: f64 = 16.4;
const DEEP: f64 = 2.2;
/// The most layers that are told apart.
const MOST: usize = 6;
/// Between two names; mm.
const NAME: f64 = 3.4;

const EDGE: Pen = Pen::solid(Thickness::Plain, Tone::Ink);
const COAT: Pen = Pen::solid(Thickness::Heavy, Tone::Accent);
const RAIN: Pen = Pen::solid(Thickness::Plain, Tone::Graphite);
const WAY: Pen = Pen::solid(Thickness::Plain, Tone::Ink);

/// The wall; `None` where nobody knows its layers, or there are more than can be told apart.
pub fn cut_away(wall: &CutAway) -> Option<Drawing> {
    let widths = widths(&wall.layers)?;
    let names = names(wall);
    let top = NAME * count(names.len()) + 1.0;
    let foot = top + HIGH;
    let mut sheet = Sheet::default();
    let mut left = OUTSIDE;
    let mut lefts = Vec::new();
    for (layer, width) in wall.layers.iter().zip(&widths) {
        let (from, to) = ((left, top), (left + width, foot));
        fill(&mut sheet, layer.pattern, from, to);
        sheet.line(&outline(from, to), EDGE);
        lefts.push(left);
        left += width;
    }
    if matches!(wall.finish, Finish::Coat(_)) {
        sheet.line(&[(OUTSIDE - 0.5, top), (OUTSIDE - 0.5, foot)], COAT);
    }
    named(&mut sheet, wall, &names, (&lefts, &widths), top);
    rain(&mut sheet, top);
    out(&mut sheet, top);
    inside(&mut sheet, wall.foot, (left, foot), top);
    let height =
        if wall.foot == Foot::Ground { ground(&mut sheet, (OUTSIDE, left), foot) } else { foot + 0.4 };
    Some(sheet.finished(IN_COLUMN, height, said(wall)))
}

/// Widths of the layers: what is thin is drawn thick enough to be seen, masonry by its share.
fn widths(layers: &[CutLayer]) -> Option<Vec<f64>> {
    let shares: Vec<f64> = layers.iter().filter_map(|layer| layer.share).collect();
    let sum: f64 = shares.iter().sum();
    let sound = shares.iter().all(|share| *share > 0.0 && share.is_finite());
    if !sound || shares.is_empty() || layers.len() > MOST {
        return None;
    }
    let spare = WALL - THIN * count(layers.len() - shares.len()) - LEAST * count(shares.len());
    let width = |layer: &CutLayer| {
        layer.share.map_or(THIN, |share| LEAST + (share / sum).clamp(0.0, 1.0) * spare.max(0.0))
    };
    Some(layers.iter().map(width).collect())
}

/// Names from outside to inside: the coat, then each layer.
fn names(wall: &CutAway) -> Vec<String> {
    let coat = match &wall.finish {
        Finish::Coat(title) => Some(title.clone()),
        Finish::Bare | Finish::Open => None,
    };
    coat.into_iter().chain(wall.layers.iter().map(|layer| layer.title.clone())).collect()
}

/// Each name over its layer, on a line that goes up from it: the outermost stands highest.
fn named(sheet: &mut Sheet, wall: &CutAway, names: &[String], (lefts, widths): (&[f64], &[f64]), top: f64) {
    let middles = lefts.iter().zip(widths).map(|(left, width)| left + width / 2.0);
    let coat = matches!(wall.finish, Finish::Coat(_)).then_some(OUTSIDE - 0.5);
    let is_coat = |number: usize| number == 0 && coat.is_some();
    for (number, (x, words)) in coat.into_iter().chain(middles).zip(names).enumerate() {
        let y = NAME * (count(number) + 0.5);
        sheet.line(&[(x, top), (x, y), (x + 1.4, y)], FINE);
        let kind = if is_coat(number) { Type::CHOSEN } else { Type::SMALL };
        for words in broken(words, kind.size, kind.bold, IN_COLUMN - x - 2.0, 1) {
            sheet.label((x + 2.0, y), &words, kind, Anchor::Start);
        }
    }
}

/// Rain against the face.
fn rain(sheet: &mut Sheet, top: f64) {
    sheet.label((0.0, top + 1.4), "rain in", Type::SMALL, Anchor::Start);
    let drops = (0..2u32).flat_map(|row| (0..3u32).map(move |drop| (f64::from(row), f64::from(drop))));
    let strokes = drops.map(|(row, drop)| {
        let (x, y) = (2.5 + drop * 4.6 + row * 1.3, top + 3.2 + row * 2.3);
        vec![(x, y), (x + 1.7, y + 1.9)]
    });
    sheet.lines(&strokes.collect::<Vec<_>>(), RAIN);
}

/// Damp on its way out through the face.
fn out(sheet: &mut Sheet, top: f64) {
    for y in [top + 11.9, top + 14.2] {
        arrow(sheet, &[(OUTSIDE + 13.0, y), (6.0, y)]);
    }
    sheet.label((0.0, top + 9.3), "damp out", Type::STRONG, Anchor::Start);
}

/// What stands inside of the wall.
fn inside(sheet: &mut Sheet, foot: Foot, (left, bottom): Place, top: f64) {
    let x = left + 3.0;
    sheet.label((x, top + 2.0), "inside", Type::QUIET, Anchor::Start);
    if foot == Foot::Ground {
        let y = bottom - 4.5;
        let lines =
            broken("damp comes up from the ground", Type::SMALL.size, Type::SMALL.bold, IN_COLUMN - x, 2);
        let step = height_of(Type::SMALL.size);
        for (number, words) in lines.iter().enumerate() {
            sheet.label((x, y + step * (count(number) - 0.5)), words, Type::SMALL, Anchor::Start);
        }
        for across in [16.0, 22.0] {
            arrow(sheet, &[(OUTSIDE + across, bottom + DEEP), (OUTSIDE + across, bottom - 6.0)]);
        }
    }
}

/// The ground outside and under the wall; gives where it ends.
fn ground(sheet: &mut Sheet, (left, right): (f64, f64), foot: f64) -> f64 {
    let level = foot - HIGH + GROUND;
    let earth = [
        (0.0, level),
        (left - 1.4, level),
        (left - 1.4, foot + 0.4),
        (right + 1.0, foot + 0.4),
        (right + 1.0, foot + DEEP),
        (0.0, foot + DEEP),
    ];
    sheet.hatch(&earth, 1.5, FINE);
    sheet.line(&[(0.0, level), (left - 1.4, level)], EDGE);
    foot + DEEP
}

/// A line with a head at its end; level or upright.
fn arrow(sheet: &mut Sheet, way: &[Place; 2]) {
    let [from, to] = *way;
    sheet.line(way, WAY);
    let (dx, dy) = (signum(to.0 - from.0), signum(to.1 - from.1));
    let back = (to.0 - dx * 2.2, to.1 - dy * 2.2);
    sheet.area(
        &[to, (back.0 - dy * 1.0, back.1 - dx * 1.0), (back.0 + dy * 1.0, back.1 + dx * 1.0)],
        Tone::Ink,
    );
}

fn signum(length: f64) -> f64 {
    if length.abs() < 1e-9 { 0.0 } else { length.signum() }
}

fn said(wall: &CutAway) -> Said {
    let so = match &wall.finish {
        Finish::Coat(_) => "the coat must let it out",
        Finish::Bare => "the face stays bare",
        Finish::Open => "nothing tight may go on it",
    };
    let from =
        if wall.foot == Foot::Ground { "Rain and the ground bring damp in" } else { "Rain brings damp in" };
    let zones = wall.zones.as_ref().map(|zones| format!("{}. ", capital(zones))).unwrap_or_default();
    let titles: Vec<String> = wall.layers.iter().map(|layer| layer.title.clone()).collect();
    let coat = match &wall.finish {
        Finish::Coat(title) => format!("{title} on "),
        Finish::Bare | Finish::Open => String::new(),
    };
    Said {
        id: wall.id.clone(),
        title: "Why the wall must dry".to_owned(),
        caption: format!("{from}. It dries out through the face, so {so}."),
        note: format!("{zones}Not to scale."),
        alt: alt(&[
            format!("A wall cut through: {from}, and it goes out through the face."),
            format!("From outside: {coat}{}.", listed(&titles)),
        ]),
    }
}
