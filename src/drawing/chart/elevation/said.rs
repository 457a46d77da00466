//! What goes with an elevation in words.

use super::face::Face;
use super::{Elevation, ZonePlace, ZoneState};
use crate::drawing::chart::alt;
use crate::drawing::number::listed;
use crate::drawing::sheet::Said;

/// Names longer than this are cut.
const NAME: usize = 60;

/// Codes beyond these are counted.
const CODES: usize = 5;
/// And longer ones are cut.
const CODE: usize = 12;

pub(super) fn of(elevation: &Elevation, face: &Face<'_>, unnamed: &[String]) -> Said {
    let title = short(&elevation.title);
    let never = never(&elevation.zones, elevation.bare.iter().flatten().count());
    let point = match &never {
        Some(never) => never.clone(),
        None => format!("the edges of {}", zones(elevation.zones.iter())),
    };
    Said {
        id: elevation.id.clone(),
        title: format!("Elevation: {title}"),
        caption: format!("{title}: {point}."),
        note: note(elevation, face, unnamed),
        alt: alternative(elevation, &title, never),
    }
}

/// What is not coated, as the caption says it; `None` where all is.
pub(super) fn never(zones_on: &[ZonePlace], places: usize) -> Option<String> {
    let of = |is: fn(&ZoneState) -> bool| zones_on.iter().filter(move |zone| is(&zone.state));
    let bare = of(|state| *state == ZoneState::Bare);
    let stopped = of(|state| matches!(state, ZoneState::Stopped(_)));
    let mut parts = Vec::new();
    if bare.clone().next().is_some() {
        parts.push(format!("on {}", zones(bare)));
    }
    match places {
        0 => {}
        1 => parts.push("on the hatched place".to_owned()),
        several => parts.push(format!("on the {several} hatched places")),
    }
    if stopped.clone().next().is_some() {
        let until = if stopped.clone().count() == 1 { "its stop is" } else { "their stops are" };
        parts.push(format!("on {} before {until} released", zones(stopped)));
    }
    (!parts.is_empty()).then(|| format!("no coat {}", parts.join(", nor ")))
}

/// `zone Q1`, `zones Q1 and Q2`, `7 zones`.
fn zones<'z>(zones: impl Iterator<Item = &'z ZonePlace>) -> String {
    let mut codes: Vec<String> = Vec::new();
    for zone in zones.filter(|zone| !zone.code.is_empty()) {
        if !codes.contains(&zone.code) {
            codes.push(zone.code.chars().take(CODE).collect());
        }
    }
    match codes.len() {
        1 => format!("zone {}", codes.concat()),
        many if many > CODES => format!("{many} zones"),
        _ => format!("zones {}", listed(&codes)),
    }
}

fn note(elevation: &Elevation, face: &Face<'_>, unnamed: &[String]) -> String {
    let scale = (1000.0 / face.scale).round();
    let mut said = vec![format!(
        "Seen from outside, by the sizes in the survey; drawn 1 : {scale}. On a print of another size the bar tells."
    )];
    if elevation.openings.is_none() {
        said.push("Openings are not shown: nobody has measured where they lie.".to_owned());
    }
    if elevation.bare.is_none() {
        said.push("Places inside a zone that stay bare are not shown: see the marks on the wall.".to_owned());
    }
    let area = |width: f64, height: f64| width * height;
    let covered: f64 = elevation
        .zones
        .iter()
        .flat_map(|zone| &zone.places)
        .map(|place| area(place.width, place.height))
        .sum();
    if covered < area(elevation.width.0, elevation.height.0) * 0.99 {
        said.push("What bears no code is no wall of this survey: leave it alone.".to_owned());
    }
    if !unnamed.is_empty() {
        let of = unnamed.iter().take(CODES).cloned().collect::<Vec<_>>();
        said.push(format!("No room for the names of {}.", listed(&of)));
    }
    said.extend(elevation.notes.iter().cloned());
    said.join(" ")
}

fn alternative(elevation: &Elevation, title: &str, never: Option<String>) -> String {
    let openings = match elevation.openings.as_ref().map(Vec::len) {
        None => ", openings not measured".to_owned(),
        Some(0) => ", no openings".to_owned(),
        Some(1) => ", 1 opening".to_owned(),
        Some(many) => format!(", {many} openings"),
    };
    let (width, height) = (&elevation.width.1, &elevation.height.1);
    let on_it = zones(elevation.zones.iter());
    let mut sentences = vec![format!("{title}: {on_it}.")];
    sentences.extend(never.map(|never| format!("{}.", crate::drawing::number::capital(&never))));
    sentences.push(format!("{width} wide, {height} high{openings}."));
    alt(&sentences)
}

/// A name, cut where it is too long to be listened to.
pub(super) fn short(name: &str) -> String {
    let mut signs = name.chars();
    let kept: String = signs.by_ref().take(NAME).collect();
    if signs.next().is_some() { format!("{}…", kept.trim_end()) } else { kept }
}
