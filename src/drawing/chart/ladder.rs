//! The vapour ladder (S3): how strongly each layer from inside to outside holds vapour back, with the rule drawn in:
//! everything outside the face together must be more open than the face, and within the limit.

use super::{IN_TEXT, alt, count};
use crate::drawing::mark::{Anchor, Bold, Dash, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, width_of};
use crate::drawing::number::{air_layer, capital, listed, trimmed, with_unit};
use crate::drawing::scale::{Scale, round_ratios};
use crate::drawing::sheet::{FINE, Said, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;
use crate::physics::Bounds;
use crate::units::{Dimension, Quantity, System};

/// What a rung is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RungKind {
    /// A layer of the wall.
    Wall,
    /// An old coat that stays.
    OldCoat,
    /// The new coat; of several each is an alternative to the others.
    NewCoat,
}

/// One layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Rung {
    /// Its name.
    pub title: String,
    /// Its equivalent air layer, in m.
    pub sd: Bounds,
    /// What it is.
    pub kind: RungKind,
}

/// The outer part of the wall that must be able to dry.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// How deep, as printed: `90 mm (3.5 in.)`.
    pub depth: String,
    /// Its equivalent air layer, in m.
    pub sd: Bounds,
}

/// What the ladder is made for.
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    /// Name of the figure.
    pub id: String,
    /// The zones it holds for, such as `zones Q1 and Q2`; `None` for the whole work.
    pub zones: Option<String>,
    /// Layers from inside to outside.
    pub rungs: Vec<Rung>,
    /// The face.
    pub face: Face,
    /// The most that may lie outside the face, in m; `None` where no rule says.
    pub limit: Option<f64>,
    /// Permeability of still air, in ng/(Pa·s·m).
    pub air: f64,
    /// Which unit stands first.
    pub system: System,
}

/// Less than this is drawn as this, in m; an axis of ratios has no nought.
const LEAST: f64 = 1e-4;
/// The least that prints as a figure, in m.
const LEAST_SHOWN: f64 = 0.001;
/// The most, in m.
const MOST: f64 = 1e5;

/// Any still air that a standard names, in ng/(Pa·s·m), and some way past.
const STILL_AIR: std::ops::RangeInclusive<f64> = 100.0..=400.0;

/// Room of the names, height of a row, where the two axes stand, and where the rows begin; mm.
const NAMES: f64 = 36.0;
const ROW: f64 = 7.2;
const AXES: [f64; 2] = [8.6, 14.4];
const TOP: f64 = 14.4;
/// Baseline to baseline of two lines of words.
const LINE: f64 = 3.1;
/// Half the height of a bar, and the least width of one.
const HALF_BAR: f64 = 1.3;
const THIN: f64 = 0.9;

/// A row of the figure.
struct Row {
    title: String,
    sd: Bounds,
    look: Look,
}

/// How a bar is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look {
    Wall,
    Face,
    OldCoat,
    NewCoat,
    /// One of several new coats, with the old ones that stay.
    Alternative,
    Sum,
}

/// The room of the bars, in mm.
struct Plot {
    scale: Scale,
    left: f64,
    right: f64,
    /// Where the rows outside the face begin and end.
    over: f64,
    bottom: f64,
}

/// The ladder; `None` if there is no coat to look at or a figure makes no sense.
pub fn ladder(ladder: &Ladder) -> Option<Drawing> {
    let outside = outside(ladder)?;
    let rows = rows(ladder, &outside);
    let still_air = still_air(ladder.air)?;
    let values: Vec<[String; 2]> = rows.iter().map(|row| values(row.sd, still_air, ladder.system)).collect();
    let widest = values.iter().flatten().map(|words| width_of(words, Type::STRONG.size, Bold::Yes));
    let (left, right) = (NAMES, (IN_TEXT - widest.fold(0.0, f64::max) - 2.0).max(NAMES + 30.0));
    let is_outside = |row: &Row| !matches!(row.look, Look::Wall | Look::Face);
    let plot = Plot {
        scale: Scale::ratios(ends(ladder, &rows), (left, right))?,
        left,
        right,
        over: TOP + ROW * count(rows.iter().position(is_outside)?),
        bottom: TOP + ROW * count(rows.len()),
    };
    let mut sheet = Sheet::default();
    axes(&mut sheet, ladder.system, &ends(ladder, &rows), still_air, &plot);
    let barred = corners((plot.scale.at(strictest(ladder)), plot.over), (right, plot.bottom));
    sheet.hatch(&barred, 1.5, Pen::solid(Thickness::Fine, Tone::Hairline));
    for (place, (row, values)) in rows.iter().zip(&values).enumerate() {
        put_row(&mut sheet, row, values, &plot, TOP + ROW * (count(place) + 0.5));
    }
    sheet.line(&[(0.0, plot.over), (IN_TEXT, plot.over)], Pen::solid(Thickness::Fine, Tone::Ink));
    let height = rules(&mut sheet, ladder, &plot);
    Some(sheet.finished(IN_TEXT, height, said(ladder, &outside)))
}

/// Everything outside the face together, with each of the new coats; `None` where there is no new coat or a figure is out
/// of range.
fn outside(ladder: &Ladder) -> Option<Vec<(&Rung, Bounds)>> {
    let sound = |sd: Bounds| sd.low() >= 0.0 && sd.high() <= MOST;
    let is_sound = ladder.rungs.iter().all(|rung| sound(rung.sd))
        && sound(ladder.face.sd)
        && ladder.limit.is_none_or(|limit| limit > 0.0 && limit <= MOST);
    let of = |kind| ladder.rungs.iter().filter(move |rung| rung.kind == kind);
    let kept = of(RungKind::OldCoat).map(|rung| rung.sd).reduce(|sum, sd| sum + sd);
    let new = of(RungKind::NewCoat);
    let new: Vec<(&Rung, Bounds)> =
        new.map(|rung| (rung, kept.map_or(rung.sd, |kept| kept + rung.sd))).collect();
    (is_sound && !new.is_empty()).then_some(new)
}

/// What everything outside must stay under: the limit and the face at its most open, whichever is less.
fn strictest(ladder: &Ladder) -> f64 {
    ladder.limit.map_or(ladder.face.sd.low(), |limit| limit.min(ladder.face.sd.low()))
}

/// The layers of the wall, the face, the coats, and where several lie on each other all of them together.
fn rows(ladder: &Ladder, outside: &[(&Rung, Bounds)]) -> Vec<Row> {
    let row = |look: Look, title: &str, sd: Bounds| Row { title: title.to_owned(), sd, look };
    let of = |kind: RungKind, look: Look| {
        let rungs = ladder.rungs.iter().filter(move |rung| rung.kind == kind);
        rungs.map(move |rung| row(look, &rung.title, rung.sd))
    };
    let mut rows: Vec<Row> = of(RungKind::Wall, Look::Wall).collect();
    rows.push(row(Look::Face, &format!("the face: outer {}", ladder.face.depth), ladder.face.sd));
    let walls = rows.len();
    rows.extend(of(RungKind::OldCoat, Look::OldCoat));
    match outside {
        [(_, sum)] => {
            rows.extend(of(RungKind::NewCoat, Look::NewCoat));
            if rows.len() > walls + 1 {
                rows.push(row(Look::Sum, "all outside the face", *sum));
            }
        }
        several => rows.extend(several.iter().map(|(rung, sum)| row(Look::Alternative, &rung.title, *sum))),
    }
    rows
}

/// Permeability of still air, in perm·m: over an sd in m it gives perms.
fn still_air(air: f64) -> Option<f64> {
    let perm = Quantity::parse("1 perm", Dimension::Permeance).ok()?;
    let perm = num_traits::ToPrimitive::to_f64(perm.value()).filter(|perm| *perm > 0.0)?;
    STILL_AIR.contains(&air).then_some(air / perm)
}

/// The ends of the axis: all figures with a little room, over two decades at least.
fn ends(ladder: &Ladder, rows: &[Row]) -> (f64, f64) {
    let lows = rows.iter().map(|row| row.sd.low()).chain(ladder.limit);
    let highs = rows.iter().map(|row| row.sd.high()).chain(ladder.limit);
    let low = lows.fold(MOST, f64::min).max(LEAST);
    let high = highs.fold(LEAST, f64::max);
    let (low, high) = (low / 1.6, high * 1.6);
    (low, high.max(low * 100.0))
}

/// The figures of a row, one above the other: the unit of the job's system first.
fn values(sd: Bounds, still_air: f64, system: System) -> [String; 2] {
    let sds = between((sd.low(), sd.high()), (LEAST_SHOWN, MOST), "m");
    // Nothing at all lets everything through: the quotient ends at the most that is shown.
    let perms = between((still_air / sd.high(), still_air / sd.low()), (0.01, 10_000.0), "perm");
    match system {
        System::SiFirst => [sds, perms],
        System::UsFirst => [perms, sds],
    }
}

/// One sd as the rows print it.
fn shown_sd(sd: f64) -> String {
    between((sd, sd), (LEAST_SHOWN, MOST), "m")
}

/// `0.45 to 0.9 m`, or one figure where both read alike; past the least and the most that say anything, that.
fn between((low, high): (f64, f64), (least, most): (f64, f64), unit: &str) -> String {
    let shown = |figure: f64| {
        if figure > most {
            format!(">{}", trimmed(most, 1))
        } else if figure < least && figure > 0.0 {
            format!("<{}", trimmed(least, 1))
        } else {
            trimmed(figure, 2)
        }
    };
    let (low, high) = (shown(low), shown(high));
    if low == high { with_unit(&high, unit) } else { format!("{low} to {}", with_unit(&high, unit)) }
}

/// An axis of each unit over the bars, the first of the job's system on top.
fn axes(sheet: &mut Sheet, system: System, ends: &(f64, f64), still_air: f64, plot: &Plot) {
    let sds: Vec<(f64, String)> =
        round_ratios(ends.0, ends.1).into_iter().map(|sd| (plot.scale.at(sd), trimmed(sd, 1))).collect();
    let perms: Vec<(f64, String)> = round_ratios(still_air / ends.1, still_air / ends.0)
        .into_iter()
        .map(|perm| (plot.scale.at(still_air / perm), trimmed(perm, 1)))
        .collect();
    let both = match system {
        System::SiFirst => [(sds, "sd, m"), (perms, "perm")],
        System::UsFirst => [(perms, "perm"), (sds, "sd, m")],
    };
    for (line, (figures, unit)) in AXES.into_iter().zip(&both) {
        sheet.line(&[(plot.left, line), (plot.right, line)], FINE);
        ticks(sheet, figures, line);
        sheet.label((0.0, line - 2.4), unit, Type::QUIET, Anchor::Start);
    }
    sheet.line(&[(plot.left, plot.bottom), (plot.right, plot.bottom)], FINE);
    sheet.label((0.0, 1.8), "inside ↓ outside", Type::QUIET, Anchor::Start);
    sheet.label((plot.left, 1.8), "← open", Type::QUIET, Anchor::Start);
    sheet.label((plot.right, 1.8), "tight →", Type::QUIET, Anchor::End);
}

/// Ticks on an axis, and over it their figures as far as they do not touch.
fn ticks(sheet: &mut Sheet, ticks: &[(f64, String)], line: f64) {
    let mut taken: Vec<(f64, f64)> = Vec::new();
    for (x, words) in ticks {
        sheet.line(&[(*x, line), (*x, line - 1.0)], FINE);
        let half = width_of(words, Type::QUIET.size, Bold::No) / 2.0;
        let is_free = taken.iter().all(|(left, right)| x + half + 1.0 < *left || x - half - 1.0 > *right);
        if is_free && x - half >= NAMES - 4.0 && x + half <= IN_TEXT {
            sheet.label((*x, line - 2.6), words, Type::QUIET, Anchor::Middle);
            taken.push((x - half, x + half));
        }
    }
}

fn put_row(sheet: &mut Sheet, row: &Row, values: &[String; 2], plot: &Plot, middle: f64) {
    let kind = match row.look {
        Look::Wall | Look::OldCoat | Look::Alternative => Type::SMALL,
        Look::Face | Look::Sum => Type::STRONG,
        Look::NewCoat => Type::CHOSEN,
    };
    let lines = broken(&row.title, kind.size, kind.bold, NAMES - 2.0, 2);
    let top = middle - LINE * (count(lines.len()) - 1.0) / 2.0;
    for (number, line) in lines.iter().enumerate() {
        sheet.label((0.0, top + LINE * count(number)), line, kind, Anchor::Start);
    }
    bar(sheet, row, plot, middle);
    let [first, second] = values;
    sheet.label((IN_TEXT, middle - LINE / 2.0), first, kind, Anchor::End);
    sheet.label((IN_TEXT, middle + LINE / 2.0), second, Type::QUIET, Anchor::End);
}

/// From the low end of a row to its high end.
fn bar(sheet: &mut Sheet, row: &Row, plot: &Plot, middle: f64) {
    let (low, high) = (plot.scale.at(row.sd.low()), plot.scale.at(row.sd.high()));
    let (low, high) = if high - low < THIN {
        let centre = f64::midpoint(low, high);
        (centre - THIN / 2.0, centre + THIN / 2.0)
    } else {
        (low, high)
    };
    let (from, to) = ((low, middle - HALF_BAR), (high, middle + HALF_BAR));
    let tone = match row.look {
        Look::Wall | Look::Face => Tone::Paper,
        Look::OldCoat => Tone::Rule,
        Look::NewCoat => Tone::Accent,
        Look::Alternative => Tone::Graphite,
        Look::Sum => Tone::Ink,
    };
    sheet.area(&corners(from, to), tone);
    let thickness = if row.look == Look::Face { Thickness::Heavy } else { Thickness::Plain };
    match row.look {
        Look::Wall | Look::Face => {
            sheet.hatch(&corners(from, to), 0.8, Pen::solid(Thickness::Fine, Tone::Rule));
            sheet.line(&outline(from, to), Pen::solid(thickness, Tone::Ink));
        }
        _ => sheet.line(&outline(from, to), Pen::solid(Thickness::Plain, tone)),
    }
}

/// The lines of the rule with their names under the bars, the left name left of its line and the right one right of
/// it; gives the height of the whole.
fn rules(sheet: &mut Sheet, ladder: &Ladder, plot: &Plot) -> f64 {
    let least = ladder.face.sd.low();
    let face =
        (plot.scale.at(least), format!("face from {}", shown_sd(least)), Dash::Short, plot.over - ROW / 2.0);
    let limit = ladder
        .limit
        .map(|limit| (plot.scale.at(limit), format!("limit {}", shown_sd(limit)), Dash::Solid, plot.over));
    let mut lines: Vec<_> = limit.into_iter().chain([face]).collect();
    lines.sort_by(|a, b| a.0.total_cmp(&b.0));
    let is_alone = lines.len() == 1;
    let mut taken = f64::NEG_INFINITY;
    let mut bottom = plot.bottom;
    for (number, (x, words, dash, from)) in lines.iter().enumerate() {
        let width = width_of(words, Type::STRONG.size, Bold::Yes);
        let left = if number == 0 && !is_alone { x - 0.4 - width } else { (x - 0.4).min(IN_TEXT - width) };
        let row = if left < taken + 1.0 { 2.0 } else { 1.0 };
        let middle = plot.bottom + 2.4 + LINE * (row - 1.0);
        let pen = Pen::solid(Thickness::Heavy, Tone::Ink).dashed(*dash);
        sheet.line(&[(*x, *from), (*x, middle - LINE / 2.0)], pen);
        sheet.label((left.max(0.0), middle), words, Type::STRONG, Anchor::Start);
        taken = left.max(0.0) + width;
        bottom = bottom.max(middle + LINE / 2.0);
    }
    bottom + 0.4
}

fn said(ladder: &Ladder, outside: &[(&Rung, Bounds)]) -> Said {
    let of_zones = ladder.zones.as_ref().map(|zones| format!("{}: ", capital(zones))).unwrap_or_default();
    let verdict = match outside {
        [(_, sum)] => verdict(ladder, *sum),
        several => verdict_of_several(ladder, several),
    };
    let with_old = if outside.len() > 1 && ladder.rungs.iter().any(|rung| rung.kind == RungKind::OldCoat) {
        " Each new coat counts with the old ones that stay."
    } else {
        ""
    };
    let [own, _] = values(ladder.face.sd, 1.0, System::SiFirst);
    let face_words = format!("The face, the outer {}, has {own}.", ladder.face.depth);
    Said {
        id: ladder.id.clone(),
        title: format!("{of_zones}vapour ladder from inside to outside"),
        caption: format!("{of_zones}{}", if of_zones.is_empty() { verdict.clone() } else { lower(&verdict) }),
        note: format!(
            "Vapour resistance as a layer of still air (sd) and as permeance; bars run over the range of each layer.{with_old} \
             In steady state: it may refuse a coat and never permits one."
        ),
        alt: alt(&[
            format!("Bars of the vapour resistance of {} layers from inside to outside.", ladder.rungs.len()),
            verdict,
            face_words,
        ]),
    }
}

/// What the outside is held against, in words.
fn against(ladder: &Ladder) -> String {
    let face = format!("the {} of the face at its most open", air_layer(ladder.face.sd.low()));
    match ladder.limit {
        Some(limit) => format!("{face} and the limit of {}", air_layer(limit)),
        None => face,
    }
}

fn verdict(ladder: &Ladder, outside: Bounds) -> String {
    let (against, turn) = (against(ladder), strictest(ladder));
    let (least, most) = (air_layer(outside.low()), air_layer(outside.high()));
    if outside.high() < turn {
        format!("All that lies outside the face comes to {most} at most, under {against}.")
    } else if outside.low() < turn {
        format!(
            "What lies outside the face comes to {least} to {most}: at its tightest it is not under {against}."
        )
    } else {
        format!("All that lies outside the face comes to {least}, not under {against}.")
    }
}

/// How many of several coats stay under the turn, and which do not.
fn verdict_of_several(ladder: &Ladder, outside: &[(&Rung, Bounds)]) -> String {
    let turn = strictest(ladder);
    let over: Vec<String> =
        outside.iter().filter(|(_, sum)| sum.high() >= turn).map(|(rung, _)| rung.title.clone()).collect();
    let (under, all) = (outside.len() - over.len(), outside.len());
    if over.is_empty() {
        format!("All {all} coats stay under {}.", against(ladder))
    } else {
        format!(
            "{under} of {all} coats stay under {}; at their tightest these do not: {}.",
            against(ladder),
            listed(&over)
        )
    }
}

/// The same words with a small letter at their start.
fn lower(words: &str) -> String {
    let mut signs = words.chars();
    signs.next().map(|first| first.to_lowercase().chain(signs).collect()).unwrap_or_default()
}
