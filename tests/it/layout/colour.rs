//! What is said by colour: that it can be seen, and that it is said in words, signs or strokes too.

use std::collections::BTreeMap;

use perpend::document::block::BlockKind;
use perpend::drawing::{Drawing, Mark, Pen, Tone};
use perpend::render::{Placed, What};

use super::sheets::{Sheets, words};

/// Relative luminance as WCAG 2.2 defines it (from memory).
fn luminance(tone: Tone) -> f64 {
    let [red, green, blue] = tone.rgb().map(|part| {
        let share = f64::from(part) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Whether some words stand on a fill.
fn holds(fill: &Placed, mark: &Placed) -> bool {
    fill.what == What::Fill
        && fill.page == mark.page
        && (fill.left..fill.left + fill.width).contains(&(mark.left + mark.width / 2.0))
        && (fill.y..fill.y + fill.height).contains(&mark.y)
}

/// Words at 4.5 : 1 or better on the paper or the fill that they stand on.
pub(super) fn contrast(sheets: &Sheets<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (at, mark) in sheets.marks.iter().enumerate() {
        let Some(text) = words(mark) else { continue };
        let before = sheets.marks[..at].iter().rev().take_while(|under| under.page == mark.page);
        let under = before.into_iter().find(|fill| holds(fill, mark));
        let (one, other) = (luminance(mark.tone), luminance(under.map_or(Tone::Paper, |fill| fill.tone)));
        let ratio = (one.max(other) + 0.05) / (one.min(other) + 0.05);
        if ratio < 4.5 {
            found.push(format!("T08 page {}, {ratio:.1} : 1: {text}", mark.page + 1));
        }
    }
    found
}

/// Thicker fills are areas, thinner ones lines.
const LINE: f64 = 2.5;

/// Nothing by colour alone: a tinted area and a box of caution hold words, and what a figure shows in colour differs in
/// stroke too, or is named in that colour.
pub(super) fn alone(sheets: &Sheets<'_>) -> Vec<String> {
    let says = |mark: &Placed| words(mark).is_some_and(|text| text.contains(char::is_alphabetic));
    let areas =
        sheets.marks.iter().filter(|mark| mark.what == What::Fill && mark.width > LINE && mark.height > LINE);
    let mute = areas.filter(|fill| !sheets.marks.iter().any(|mark| says(mark) && holds(fill, mark)));
    let mut found: Vec<String> =
        mute.map(|fill| format!("T08 page {}, a tint without a word", fill.page + 1)).collect();
    for block in &sheets.document.blocks {
        match &block.kind {
            BlockKind::Caution { .. } => {
                let mut own = sheets.content().filter(|(_, own, _)| *own == block.id);
                if !own.next().is_some_and(|(mark, ..)| mark.part == "label" && says(mark)) {
                    found.push(format!("T08 `{}`: a box that does not open with its word", block.id));
                }
            }
            BlockKind::Figure(drawing) => {
                found.extend(by_tone(drawing).map(|what| format!("T08 `{}`: {what}", block.id)));
            }
            _ => {}
        }
    }
    found
}

/// What a figure sets in the one colour there is, though a line of the same stroke or another area is black, and no word
/// of the figure bears the colour to say what it means.
fn by_tone(drawing: &Drawing) -> impl Iterator<Item = String> {
    let mut tones: BTreeMap<String, Vec<Tone>> = BTreeMap::new();
    let mut is_said = false;
    for mark in &drawing.marks {
        match mark {
            Mark::Lines { pen: Pen { thickness, dash, tone }, .. } => {
                tones.entry(format!("lines {thickness:?}, {dash:?}")).or_default().push(*tone);
            }
            Mark::Area { tone, .. } => tones.entry("areas".to_owned()).or_default().push(*tone),
            Mark::Text(text) => is_said |= text.tone == Tone::Accent,
        }
    }
    let mixed = |tones: &[Tone]| tones.contains(&Tone::Accent) && tones.contains(&Tone::Ink);
    let alike = tones.into_iter().filter(move |(_, tones)| !is_said && mixed(tones));
    alike.map(|(stroke, _)| format!("{stroke} differ in colour alone"))
}
