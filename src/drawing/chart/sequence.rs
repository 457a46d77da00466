//! The sequence of the work (R3): its stages from top to bottom, those side by side that wait for each other in no way,
//! and a bar over each stage that waits for a signature.

use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, half_height, width_of};
use crate::drawing::number::listed;
use crate::drawing::sheet::{FINE, Place, Said, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;

/// The stages of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sequence {
    /// Name of the figure.
    pub id: String,
    /// The stages, each after those that it waits for.
    pub stages: Vec<SequenceStage>,
    /// Hold points, in the order of the work.
    pub holds: Vec<SequenceHold>,
}

/// A stage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SequenceStage {
    /// Its name.
    pub title: String,
    /// The stages that it waits for, by their places in the list; each stands before it.
    pub after: Vec<usize>,
}

/// A hold point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SequenceHold {
    /// The stage that it holds back, by its place in the list.
    pub before: usize,
    /// What and who: `HP1 removal trial, Inspector`.
    pub words: String,
}

/// Stages side by side at most, their width and the room between them; the words of hold points; mm.
const ACROSS: usize = 4;
const WIDE: f64 = 27.0;
const GAP: f64 = 1.0;
const WORDS: f64 = 112.6;
/// How far a bar goes over the stage that it stops; mm.
const OVER: f64 = 0.6;
/// Height of a stage, from one to the next, and room of a hold point; mm.
const HIGH: f64 = 5.6;
const STEP: f64 = 3.6;
const HOLD: f64 = 3.8;
/// More rows than these go on no page.
const ROWS: usize = 14;
/// More stages and hold points than these nobody takes in.
const MOST: usize = 40;

const WAY: Pen = Pen::solid(Thickness::Fine, Tone::Graphite);
const EDGE: Pen = Pen::solid(Thickness::Plain, Tone::Ink);
const BAR: Pen = Pen::solid(Thickness::Heavy, Tone::Ink);

/// Where a stage stands.
struct Placed {
    row: usize,
    left: f64,
    top: f64,
}

impl Placed {
    fn middle(&self) -> f64 {
        self.left + WIDE / 2.0
    }
}

/// The sequence; `None` if there is none, if it runs in a circle, or if it goes on no page.
pub fn sequence(sequence: &Sequence) -> Option<Drawing> {
    let rows = rows(&sequence.stages)?;
    let (placed, bottom) = placed(sequence, &rows)?;
    let mut sheet = Sheet::default();
    for (at, stage) in sequence.stages.iter().enumerate() {
        for before in &stage.after {
            if let (Some(from), Some(to)) = (placed.get(*before), placed.get(at)) {
                let turn = from.top + HIGH + STEP / 2.0;
                let way = [
                    (from.middle(), from.top + HIGH),
                    (from.middle(), turn),
                    (to.middle(), turn),
                    (to.middle(), to.top),
                ];
                sheet.line(&way, WAY);
            }
        }
    }
    for (stage, place) in sequence.stages.iter().zip(&placed) {
        put(&mut sheet, &stage.title, (place.left, place.top));
    }
    holds(&mut sheet, sequence, &placed);
    Some(sheet.finished(FROM_MARGIN, bottom, said(sequence)))
}

/// The row of each stage: as late as what waits for it allows, so that work side by side stands side by side.
fn rows(stages: &[SequenceStage]) -> Option<Vec<usize>> {
    let is_sound = stages.iter().enumerate().all(|(at, stage)| stage.after.iter().all(|before| *before < at));
    if stages.is_empty() || stages.len() > MOST || !is_sound {
        return None;
    }
    let mut from_end = vec![0_usize; stages.len()];
    for (at, stage) in stages.iter().enumerate().rev() {
        let own = from_end.get(at).copied().unwrap_or_default();
        for before in &stage.after {
            if let Some(known) = from_end.get_mut(*before) {
                *known = (*known).max(own + 1);
            }
        }
    }
    let last = from_end.iter().copied().max()?;
    (last < ROWS).then(|| from_end.into_iter().map(|own| last - own).collect())
}

/// Places of the stages, row by row, with room over a row for its hold points; and where the last row ends.
fn placed(sequence: &Sequence, rows: &[usize]) -> Option<(Vec<Placed>, f64)> {
    let last = rows.iter().copied().max()?;
    if sequence.holds.len() > MOST {
        return None;
    }
    let holds_over =
        |row: usize| sequence.holds.iter().filter(|hold| rows.get(hold.before) == Some(&row)).count();
    let mut tops = Vec::new();
    let mut y = 0.0;
    for row in 0..=last {
        let over = if row == 0 && holds_over(row) == 0 { 0.0 } else { STEP };
        y += over + HOLD * count(holds_over(row));
        tops.push(y);
        y += HIGH;
    }
    let columns = columns(sequence, rows);
    let mut found = Vec::new();
    for (row, column) in rows.iter().zip(columns) {
        if column >= ACROSS {
            return None;
        }
        found.push(Placed {
            row: *row,
            left: OVER + count(column) * (WIDE + GAP),
            top: tops.get(*row).copied()?,
        });
    }
    Some((found, y + 0.4))
}

/// The column of each stage in its row: those that wait for the row above stand first, so that a line from further up goes
/// down beside what it passes.
fn columns(sequence: &Sequence, rows: &[usize]) -> Vec<usize> {
    let waits = |at: usize| {
        let after = sequence.stages.get(at).map_or(&[][..], |stage| &stage.after);
        after.iter().filter_map(|before| rows.get(*before).copied()).max()
    };
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.sort_by_key(|at| std::cmp::Reverse(waits(*at)));
    let mut columns = vec![0_usize; rows.len()];
    for (place, at) in order.iter().enumerate() {
        let row = rows.get(*at);
        let before = order.iter().take(place).filter(|other| rows.get(**other) == row).count();
        if let Some(column) = columns.get_mut(*at) {
            *column = before;
        }
    }
    columns
}

/// A stage.
fn put(sheet: &mut Sheet, title: &str, (left, top): Place) {
    let (from, to) = ((left, top), (left + WIDE, top + HIGH));
    sheet.area(&corners(from, to), Tone::Paper);
    sheet.line(&outline(from, to), EDGE);
    for words in broken(title, Type::SMALL.size, Type::SMALL.bold, WIDE - 2.0, 1) {
        sheet.label((left + 1.2, top + HIGH / 2.0), &words, Type::SMALL, Anchor::Start);
    }
}

/// A bar over each stage that waits, with its words at the right.
fn holds(sheet: &mut Sheet, sequence: &Sequence, placed: &[Placed]) {
    let left = words_left(sequence, placed);
    let mut met: Vec<usize> = Vec::new();
    for hold in &sequence.holds {
        let Some(place) = placed.get(hold.before) else { continue };
        let above = met.iter().filter(|row| **row == place.row).count();
        met.push(place.row);
        let of_row =
            |other: &&SequenceHold| placed.get(other.before).is_some_and(|other| other.row == place.row);
        let all = sequence.holds.iter().filter(of_row).count();
        let y = place.top - 1.4 - HOLD * count(all - above - 1);
        let end = place.left + WIDE + OVER;
        sheet.line(&[(place.left - OVER, y), (end, y)], BAR);
        sheet.line(&[(end, y), (left - 1.5, y)], FINE);
        for words in broken(&hold.words, Type::SMALL.size, Type::SMALL.bold, FROM_MARGIN - left, 1) {
            sheet.words((left, y + half_height(Type::SMALL.size)), &words, Type::SMALL, Anchor::Start);
        }
    }
}

/// Where the words of the hold points start, all in one line: as far to the left as the longest need, but right of the
/// bars and of the lines from stage to stage.
fn words_left(sequence: &Sequence, placed: &[Placed]) -> f64 {
    let held = sequence.holds.iter().filter_map(|hold| placed.get(hold.before));
    let bars = held.map(|place| place.left + WIDE + OVER + 0.4);
    let lines = placed.iter().map(|place| place.middle() + 2.0);
    let furthest = bars.chain(lines).fold(0.0, f64::max);
    let widths = sequence.holds.iter().map(|hold| width_of(&hold.words, Type::SMALL.size, Type::SMALL.bold));
    (FROM_MARGIN - widths.fold(0.0, f64::max)).min(WORDS).max(furthest)
}

fn said(sequence: &Sequence) -> Said {
    let number = |all: usize, one: &str, many: &str| {
        if all == 1 { format!("1 {one}") } else { format!("{all} {many}") }
    };
    let stages = number(sequence.stages.len(), "stage", "stages");
    let stops = match sequence.holds.len() {
        0 => "and no hold point".to_owned(),
        all => format!("and {} to be signed on the way", number(all, "hold point", "hold points")),
    };
    let cut = |title: &String| title.chars().take(24).collect::<String>();
    let titles = |all: &[SequenceStage]| all.iter().map(|stage| cut(&stage.title)).collect::<Vec<_>>();
    Said {
        id: sequence.id.clone(),
        title: "Sequence of the work".to_owned(),
        caption: format!("From top to bottom: {stages}, {stops}."),
        note: "A bar stops the stage under it until the named party has signed. Stages beside each other wait for none of their row."
            .to_owned(),
        alt: alt(&[
            format!("{stages}, {stops}."),
            format!("In order: {}.", listed(&titles(&sequence.stages))),
        ]),
    }
}
