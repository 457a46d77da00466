//! A joint that is repointed, cut through (C2): how deep the old mortar is taken out, and in how many lifts the new goes in.

use super::{IN_TEXT, alt, count};
use crate::drawing::mark::{Anchor, Dash, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, height_of};
use crate::drawing::pattern::{Pattern, fill};
use crate::drawing::sheet::{FINE, Place, Said, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;

/// A joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Name of the figure.
    pub id: String,
    /// The zones that it holds for, such as `zones Q1 and Q2`; `None` for the whole work.
    pub zones: Option<String>,
    /// How far from the face the old mortar comes out at least: in mm, and as printed.
    pub depth: (f64, String),
    /// How much of the new mortar goes in at once at most, likewise; `None` where no rule says.
    pub lift: Option<(f64, String)>,
}

/// Height of a joint as drawn, in mm: a usual one, common practice.
const WIDTH: f64 = 10.0;
/// Height of what is seen of the units over and under it, and how far it goes on behind the new mortar; mm on paper.
const UNIT: f64 = 6.0;
const BEHIND: f64 = 24.0;
/// Where the face stands, and the deepest new mortar that is drawn true to size; mm on paper.
const FACE: f64 = 16.0;
const DEEPEST: f64 = 40.0;
/// The most lifts that are told apart.
const LIFTS: f64 = 12.0;
/// Over the upper unit, and under the lower one for the depth; mm.
const TOP: f64 = 0.5;
const BELOW: f64 = 7.0;

const EDGE: Pen = Pen::solid(Thickness::Plain, Tone::Ink);
const LIFT: Pen = Pen::solid(Thickness::Plain, Tone::Ink).dashed(Dash::Short);
const OLD: Pen = Pen::solid(Thickness::Fine, Tone::Graphite);

/// The joint; `None` if a figure makes no sense.
pub fn joint(joint: &Joint) -> Option<Drawing> {
    let (depth, lift) = (joint.depth.0, joint.lift.as_ref().map(|(lift, _)| *lift));
    let sound = |length: f64| length > 0.0 && length <= 500.0;
    if !sound(depth) || lift.is_some_and(|lift| !sound(lift) || depth / lift > LIFTS) {
        return None;
    }
    let scale = (DEEPEST / depth).min(1.0);
    let (back, end) = (FACE + depth * scale, FACE + depth * scale + BEHIND);
    let (upper, lower) = (TOP + UNIT, TOP + UNIT + WIDTH);
    let foot = lower + UNIT;
    let mut sheet = Sheet::default();
    fill(&mut sheet, Pattern::Mortar, (FACE, upper), (back, lower));
    sheet.hatch(&corners((back, upper), (end, lower)), 1.8, OLD);
    sheet.line(&outline((FACE, upper), (back, lower)), EDGE);
    for (top, bottom) in [(TOP, upper), (lower, foot)] {
        sheet.lines(&[vec![(end, top), (FACE, top)], vec![(FACE, bottom), (end, bottom)]], EDGE);
    }
    sheet.line(&[(FACE, TOP), (FACE, foot)], EDGE);
    torn(&mut sheet, end, foot);
    for at in lifts(depth, lift) {
        sheet.line(&[(FACE + at * scale, upper), (FACE + at * scale, lower)], LIFT);
    }
    sheet.label((FACE - 2.0, f64::midpoint(upper, lower)), "face", Type::QUIET, Anchor::End);
    names(&mut sheet, joint, (back, end), (upper, lower));
    depth_line(&mut sheet, joint, (FACE, back), foot);
    Some(sheet.finished(IN_TEXT, foot + BELOW, said(joint, scale)))
}

/// Where one lift ends and the next begins, from the face, in mm: filled from the back.
fn lifts(depth: f64, lift: Option<f64>) -> Vec<f64> {
    let Some(lift) = lift else { return Vec::new() };
    let all = (depth / lift - 1e-9).ceil().max(1.0);
    let each = depth / all;
    (1..12u32).map(f64::from).take_while(|number| *number < all).map(|number| number * each).collect()
}

/// The end of what is seen.
fn torn(sheet: &mut Sheet, end: f64, foot: f64) {
    let places = (0..=8u32).map(|number| {
        let side = if number % 2 == 0 { -0.8 } else { 0.8 };
        (end + side, TOP + (foot - TOP) * f64::from(number) / 8.0)
    });
    let line: Vec<Place> = places.collect();
    let mut cover = line.clone();
    cover.extend([(end + 1.6, foot + 0.4), (end + 1.6, TOP)]);
    sheet.area(&cover, Tone::Paper);
    sheet.line(&line, FINE);
}

/// What each part is, right of it.
fn names(sheet: &mut Sheet, joint: &Joint, (back, end): (f64, f64), (upper, lower): (f64, f64)) {
    let left = end + 7.0;
    let lift = joint.lift.as_ref().map(|(_, words)| format!("new mortar, each lift at most {words}"));
    let new = lift.unwrap_or_else(|| "new mortar".to_owned());
    let middle = f64::midpoint(upper, lower);
    let rows = [
        (upper - UNIT / 2.0, back + 10.0, upper - UNIT / 2.0, "brick or stone, edges whole"),
        (middle - 0.6, back - 1.5, middle - 2.0, new.as_str()),
        (lower + UNIT / 2.0 + 1.0, back + 8.0, middle + 2.0, "old mortar, sound"),
    ];
    let step = height_of(Type::SMALL.size);
    for (y, x, from, words) in rows {
        sheet.line(&[(x, from), (end + 3.0, y), (left - 1.0, y)], FINE);
        sheet.area(&corners((x - 0.4, from - 0.4), (x + 0.4, from + 0.4)), Tone::Ink);
        let lines = broken(words, Type::SMALL.size, Type::SMALL.bold, IN_TEXT - left, 2);
        let first = y - step * (count(lines.len()) - 1.0) / 2.0;
        for (number, words) in lines.iter().enumerate() {
            sheet.label((left, first + step * count(number)), words, Type::SMALL, Anchor::Start);
        }
    }
}

/// How deep, under the joint.
fn depth_line(sheet: &mut Sheet, joint: &Joint, (face, back): (f64, f64), foot: f64) {
    let y = foot + 2.4;
    let across = |x: f64| vec![(x, y - 1.2), (x, y + 1.2)];
    sheet.lines(&[vec![(face, y), (back, y)], across(face), across(back)], EDGE);
    let words = format!("raked at least {}", joint.depth.1);
    for words in broken(&words, Type::STRONG.size, Type::STRONG.bold, IN_TEXT - back - 3.0, 1) {
        sheet.label((back + 3.0, y + 0.8), &words, Type::STRONG, Anchor::Start);
    }
}

fn said(joint: &Joint, scale: f64) -> Said {
    let zones = joint.zones.as_ref().map(|zones| format!(", {zones}")).unwrap_or_default();
    let lift =
        joint.lift.as_ref().map(|(_, words)| format!(" in lifts of at most {words}")).unwrap_or_default();
    let depth = &joint.depth.1;
    let note = if scale < 1.0 { "Not to scale." } else { "Drawn to size, but for the width of the joint." };
    Said {
        id: joint.id.clone(),
        title: "Section through a joint".to_owned(),
        caption: format!("Take old mortar out at least {depth} from the face, then fill{lift}{zones}."),
        note: note.to_owned(),
        alt: alt(&[
            format!("Section through a joint: raked at least {depth} from the face, then filled{lift}."),
            "Behind it sound old mortar, over and under it whole units.".to_owned(),
        ]),
    }
}
