//! The keep-off key: the elevations with something that is never coated, small and side by side, for a crew sheet.

use super::face::Face;
use super::said::{never, short};
use super::{Elevation, KEY, SWATCH, sound, swatches};
use crate::drawing::chart::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::broken;
use crate::drawing::number::{capital, listed};
use crate::drawing::sheet::{ON_SITE, Said, Sheet, Type};
use crate::drawing::tone::Tone;

/// The most elevations side by side.
const MOST: usize = 4;
/// Between two, and over each for its name; the most that one is high; mm.
const GAP: f64 = 7.0;
const NAME: f64 = 5.0;
const HIGHEST: f64 = 46.0;
/// Its width before it is made larger.
const WIDTH: f64 = FROM_MARGIN / ON_SITE;

/// The key; `None` if nothing is to be kept off, or a figure makes no sense.
pub fn keep_off_key(id: &str, elevations: &[Elevation]) -> Option<Drawing> {
    let keeps = |elevation: &&Elevation| {
        sound(elevation).is_some() && Face::laid(elevation, (0.0, 0.0), 1.0).has_hatch()
    };
    let shown: Vec<&Elevation> = elevations.iter().filter(keeps).take(MOST).collect();
    let widths: f64 = shown.iter().map(|elevation| elevation.width.0).sum();
    let highest = shown.iter().map(|elevation| elevation.height.0).reduce(f64::max)?;
    let room = WIDTH - GAP * (count(shown.len()) - 1.0);
    let scale = (room / widths).min(HIGHEST / highest);
    let foot = NAME + highest * scale;
    let mut sheet = Sheet::default();
    let mut left = 0.0;
    let mut unlettered = Vec::new();
    for elevation in &shown {
        let face = Face::laid(elevation, (left, foot - elevation.height.0 * scale), scale);
        face.put(&mut sheet);
        let right = face.right();
        sheet.line(&[(left, foot), (right, foot)], Pen::solid(Thickness::Heavy, Tone::Ink));
        let room = if shown.len() == 1 { WIDTH } else { right - left };
        for words in broken(&elevation.title, Type::SMALL.size, Type::SMALL.bold, room, 1) {
            if words != "…" {
                sheet.label((left, NAME / 2.0 - 0.6), &words, Type::SMALL, Anchor::Start);
            }
        }
        for (zone, _) in face.unlettered() {
            if !unlettered.contains(&zone.code) {
                unlettered.push(zone.code.clone());
            }
        }
        left = right + GAP;
    }
    let openings = shown.iter().any(|elevation| elevation.openings.iter().flatten().count() > 0);
    swatches(&mut sheet, (0.0, foot + 2.4 + SWATCH.1 / 2.0), true, openings);
    let said = said(id, &shown, elevations, &unlettered)?;
    Some(sheet.finished_for_site(WIDTH, foot + 1.0 + KEY, said))
}

fn said(id: &str, shown: &[&Elevation], all: &[Elevation], unlettered: &[String]) -> Option<Said> {
    let zones: Vec<_> = shown.iter().flat_map(|elevation| elevation.zones.iter().cloned()).collect();
    let places = shown.iter().flat_map(|elevation| elevation.bare.iter().flatten()).count();
    let never = never(&zones, places)?;
    let titles: Vec<String> = shown.iter().map(|elevation| short(&elevation.title)).collect();
    let mut note = vec!["Not to measure from: the elevation schedule has it larger.".to_owned()];
    if shown.len() < all.len() {
        note.push("Other sides stand there too.".to_owned());
    }
    if !unlettered.is_empty() {
        note.push(format!("Too small for its code here: {}.", listed(unlettered)));
    }
    Some(Said {
        id: id.to_owned(),
        title: "Keep-off key".to_owned(),
        caption: format!("{}.", capital(&never)),
        note: note.join(" "),
        alt: alt(&[
            format!("{}.", capital(&never)),
            format!("Hatched on small elevations of {}.", listed(&titles)),
        ]),
    })
}
