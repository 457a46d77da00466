//! Lines that are named at their right ends: how each is drawn, and labels that do not touch.

use super::count;
use crate::drawing::mark::{Anchor, Dash, Pen, Thickness};
use crate::drawing::measure::{broken, height_of};
use crate::drawing::place::apart;
use crate::drawing::sheet::{FINE, Place, Sheet, Type};
use crate::drawing::tone::Tone;

/// What was decided of a coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CoatStanding {
    /// It was chosen.
    Chosen,
    /// It is possible.
    Possible,
    /// It was refused.
    Refused,
}

impl CoatStanding {
    /// As printed behind the name.
    fn words(self) -> &'static str {
        match self {
            Self::Chosen => " (chosen)",
            Self::Possible => "",
            Self::Refused => " (refused)",
        }
    }
}

/// The most coats of one figure: there are no more kinds of line.
pub(super) const MOST_COATS: usize = 5;

/// A line that is named at its end.
pub(super) struct Ended {
    /// What it stands for; `None` for the wall without a coat.
    pub(super) standing: Option<CoatStanding>,
    /// Its name.
    pub(super) title: String,
    /// Its figures.
    pub(super) detail: String,
    /// Where it runs, from left to right.
    pub(super) places: Vec<Place>,
}

/// Where labels stand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Margin {
    /// Left and right edge.
    pub(super) left: f64,
    pub(super) right: f64,
    /// Upper and lower edge.
    pub(super) top: f64,
    pub(super) bottom: f64,
}

/// Between a line's end and its label.
const LEADER: f64 = 5.0;
/// Over and under a label.
const AIR: f64 = 0.7;

/// Draws lines, the wall without a coat first and what was chosen last, with their names beside their ends.
pub(super) fn put(sheet: &mut Sheet, lines: &[Ended], margin: Margin) {
    let pens = pens(lines);
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by_key(|place| match lines.get(*place).and_then(|line| line.standing) {
        None => 0,
        Some(CoatStanding::Chosen) => 2,
        Some(_) => 1,
    });
    for place in order {
        if let (Some(line), Some(pen)) = (lines.get(place), pens.get(place)) {
            sheet.line(&line.places, *pen);
        }
    }
    labels(sheet, lines, margin);
}

/// What was chosen is heavy, the bare wall fine; the others differ by dash.
fn pens(lines: &[Ended]) -> Vec<Pen> {
    let mut dashes = [Dash::Short, Dash::StrokeDot, Dash::Dots, Dash::Long, Dash::Solid].into_iter();
    let plain = Pen::solid(Thickness::Plain, Tone::Ink);
    lines
        .iter()
        .map(|line| match line.standing {
            None => Pen::solid(Thickness::Fine, Tone::Graphite),
            Some(CoatStanding::Chosen) => Pen::solid(Thickness::Heavy, Tone::Accent),
            Some(_) => plain.dashed(dashes.next().unwrap_or(Dash::Solid)),
        })
        .collect()
}

fn labels(sheet: &mut Sheet, lines: &[Ended], margin: Margin) {
    let width = margin.right - margin.left - LEADER - 1.0;
    let step = height_of(Type::SMALL.size);
    let set_in = |most| lines.iter().map(|line| label(line, width, most)).collect::<Vec<_>>();
    let height =
        |set: &[Vec<(String, Type)>]| set.iter().map(|words| step * count(words.len()) + AIR).sum::<f64>();
    let roomy = set_in(2);
    let set = if height(&roomy) <= margin.bottom - margin.top { roomy } else { set_in(1) };
    let wanted: Vec<(f64, f64)> = lines
        .iter()
        .zip(&set)
        .map(|(line, words)| {
            (line.places.last().map_or(margin.top, |(_, y)| *y), step * count(words.len()) + AIR)
        })
        .collect();
    for ((line, words), middle) in lines.iter().zip(&set).zip(apart(&wanted, margin.top, margin.bottom)) {
        let left = margin.left + LEADER;
        let first = middle - step * (count(words.len()) - 1.0) / 2.0;
        if let Some((x, y)) = line.places.last() {
            sheet.line(&[(*x + 0.6, *y), (left - 2.0, middle), (left - 0.8, middle)], FINE);
        }
        for (number, (words, kind)) in words.iter().enumerate() {
            sheet.label((left, first + step * count(number)), words, *kind, Anchor::Start);
        }
    }
}

/// The lines of a label: the name on so many at most, and the figures.
fn label(line: &Ended, width: f64, most: usize) -> Vec<(String, Type)> {
    let kind = match line.standing {
        None => Type::QUIET,
        Some(CoatStanding::Chosen) => Type::CHOSEN,
        Some(_) => Type::SMALL,
    };
    let title = format!("{}{}", line.title, line.standing.map_or("", CoatStanding::words));
    let title = broken(&title, kind.size, kind.bold, width, most).into_iter().map(|words| (words, kind));
    let detail = broken(&line.detail, Type::QUIET.size, Type::QUIET.bold, width, 1);
    title.chain(detail.into_iter().map(|words| (words, Type::QUIET))).collect()
}
