//! The drying curve: how much of the face is still wet behind each coat while the bare wall dries through it. Its time is
//! that of the bare wall and not that of a calendar, so that nobody takes a waiting time from it.

use super::ends::{CoatStanding, Ended, MOST_COATS, Margin, put};
use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::number::{air_layer, capital, fixed, listed, with_unit};
use crate::drawing::scale::Scale;
use crate::drawing::sheet::{FINE, Said, Sheet, Type};
use crate::drawing::tone::Tone;
use crate::physics::{Comparison, Drying, dried_by_then};

/// A coat to compare.
#[derive(Debug, Clone, PartialEq)]
pub struct DryingCoat {
    /// Its name.
    pub title: String,
    /// The equivalent air layer of everything outside the face with it on, in m.
    pub sd: f64,
    /// What was decided of it.
    pub standing: CoatStanding,
}

/// What the curve is made for.
#[derive(Debug, Clone, PartialEq)]
pub struct DryingCurve {
    /// Name of the figure.
    pub id: String,
    /// The zones it holds for, such as `zones Q1 and Q2`; `None` for the whole work.
    pub zones: Option<String>,
    /// Depth of the face, in m.
    pub depth: f64,
    /// The same as printed: `90 mm (3.5 in.)`.
    pub depth_words: String,
    /// Vapour resistance factor of the face, not below 1.
    pub mu: f64,
    /// Equivalent air layer of the air that clings to the face, in m, above 0.
    pub boundary: f64,
    /// The coats; five are drawn.
    pub coats: Vec<DryingCoat>,
}

/// The plot, in mm.
const LEFT: f64 = 12.0;
const RIGHT: f64 = 98.0;
const TOP: f64 = 5.0;
const BOTTOM: f64 = 42.0;
const HEIGHT: f64 = 51.6;
/// Places of a curve.
const STEPS: u32 = 60;

/// The curve; `None` if there is no coat or a figure makes no sense.
pub fn drying_curve(curve: &DryingCurve) -> Option<Drawing> {
    if curve.coats.is_empty() {
        return None;
    }
    let across = Scale::steps((0.0, 1.0), (LEFT, RIGHT))?;
    let down = Scale::steps((0.0, 100.0), (BOTTOM, TOP))?;
    let bare = Ended {
        standing: None,
        title: "bare wall".to_owned(),
        detail: "dry".to_owned(),
        places: places(curve, 0.0, &across, &down)?,
    };
    let coats: Vec<(&DryingCoat, f64)> = curve
        .coats
        .iter()
        .take(MOST_COATS)
        .map(|coat| Some((coat, wet(curve, coat.sd, 1.0)?)))
        .collect::<Option<_>>()?;
    let mut lines = vec![bare];
    for (coat, wet) in &coats {
        lines.push(Ended {
            standing: Some(coat.standing),
            title: coat.title.clone(),
            detail: format!("sd {}: {} still wet", air_layer(coat.sd), with_unit(&fixed(*wet, 0), "%")),
            places: places(curve, coat.sd, &across, &down)?,
        });
    }
    let mut sheet = Sheet::default();
    axes(&mut sheet, curve, &across, &down);
    put(&mut sheet, &lines, Margin { left: RIGHT, right: FROM_MARGIN, top: TOP - 2.0, bottom: BOTTOM + 2.0 });
    Some(sheet.finished(FROM_MARGIN, HEIGHT, said(curve, &coats)))
}

/// How much of the face is still wet, in per cent, after a share of the time in which the bare wall dries through it.
fn wet(curve: &DryingCurve, sd: f64, time: f64) -> Option<f64> {
    let drying = Drying { mu: curve.mu, depth: curve.depth, boundary: curve.boundary };
    dried_by_then(drying, sd, time).map(|dry| 100.0 * (1.0 - dry.figure()))
}

fn places(curve: &DryingCurve, sd: f64, across: &Scale, down: &Scale) -> Option<Vec<(f64, f64)>> {
    let times = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
    times.map(|time| Some((across.at(time), down.at(wet(curve, sd, time)?)))).collect()
}

fn axes(sheet: &mut Sheet, curve: &DryingCurve, across: &Scale, down: &Scale) {
    let words = format!("Still wet, % of the outer {}", curve.depth_words);
    sheet.label((0.0, 2.0), &words, Type::QUIET, Anchor::Start);
    for step in 0..=4_u32 {
        let percent = f64::from(step) * 25.0;
        let y = down.at(percent);
        let pen = if step == 0 { FINE } else { Pen::solid(Thickness::Fine, Tone::Hairline) };
        sheet.line(&[(LEFT, y), (RIGHT, y)], pen);
        sheet.label((LEFT - 1.5, y), &fixed(percent, 0), Type::QUIET, Anchor::End);
    }
    for (time, words) in [(0.0, "0"), (0.25, "¼"), (0.5, "½"), (0.75, "¾"), (1.0, "1")] {
        let x = across.at(time);
        sheet.line(&[(x, BOTTOM), (x, BOTTOM + 1.2)], FINE);
        sheet.label((x, BOTTOM + 3.2), words, Type::QUIET, Anchor::Middle);
    }
    let words = "Time, as a share of what the bare wall takes; no days";
    sheet.label((LEFT - 1.0, BOTTOM + 7.2), words, Type::QUIET, Anchor::Start);
}

fn said(curve: &DryingCurve, coats: &[(&DryingCoat, f64)]) -> Said {
    let of_zones = curve.zones.as_ref().map(|zones| format!("{}: ", capital(zones))).unwrap_or_default();
    let mut sorted: Vec<&(&DryingCoat, f64)> = coats.iter().collect();
    sorted.sort_by(|a, b| a.1.total_cmp(&b.1));
    let part = |(coat, wet): &&(&DryingCoat, f64)| {
        format!("{} behind {}", with_unit(&fixed(*wet, 0), "%"), coat.title)
    };
    let chosen = coats.iter().find(|(coat, _)| coat.standing == CoatStanding::Chosen);
    let ends: Vec<String> = match (chosen.or(sorted.first().copied()), sorted.last()) {
        (Some(first), Some(last)) if first.1 < last.1 => vec![part(&first), part(last)],
        (Some(only), _) => vec![part(&only)],
        (None, _) => Vec::new(),
    };
    let verdict = format!(
        "{}when the bare wall has dried through its outer {}, still wet of that: {}.",
        of_zones,
        curve.depth_words,
        listed(&ends)
    );
    Said {
        id: curve.id.clone(),
        title: format!("{of_zones}drying behind {} coats", fixed(count(coats.len()), 0)),
        caption: capital(&verdict),
        note: format!(
            "{}. Diffusion alone, from the face inward, each coat at the tight end of its range; no rain, no capillary \
             flow.",
            capital(Comparison::LABEL)
        ),
        alt: alt(&[
            capital(&format!(
                "{of_zones}curves of how much of the outer {} is still wet over time.",
                curve.depth_words
            )),
            format!("When the bare wall is dry: {}.", listed(&ends)),
        ]),
    }
}
