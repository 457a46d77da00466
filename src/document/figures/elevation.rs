//! Elevation keys (S1), one for each elevation of the survey, and the keep-off key of the crew sheets.

use num_rational::BigRational;

use crate::document::papers::Desk;
use crate::document::site::{Chosen, chosen};
use crate::drawing::Drawing;
use crate::drawing::chart::{Elevation, Rectangle, ZonePlace, ZoneState, elevation_key, keep_off_key};
use crate::survey::{Drawn, Elevation as Surveyed, Patch};
use crate::units::{Dimension, Quantity, print};
use num_traits::ToPrimitive;

/// The keys.
pub(super) fn keys(desk: Desk<'_>) -> Vec<Drawing> {
    all(desk).iter().filter_map(elevation_key).collect()
}

/// The small key; none where nothing is kept off.
pub(super) fn keep_off(desk: Desk<'_>) -> Option<Drawing> {
    keep_off_key("keep-off-1", &all(desk))
}

fn all(desk: Desk<'_>) -> Vec<Elevation> {
    let elevations = desk.view.survey.elevations.iter().enumerate();
    elevations.filter_map(|(at, elevation)| shown(desk, at, elevation)).collect()
}

fn shown(desk: Desk<'_>, at: usize, elevation: &Surveyed) -> Option<Elevation> {
    let system = desk.view.system();
    let side = |length: &Quantity| Some((length.value().to_f64()?, print(length, system)));
    let rectangles = |patches: &Option<Vec<Patch>>| Some(patches.as_ref()?.iter().map(rectangle).collect());
    let zones = zones(desk, elevation);
    Some(Elevation {
        id: format!("elevation-{}", at + 1),
        title: format!("{} ({})", elevation.name, elevation.code),
        width: side(&elevation.width)?,
        height: side(&elevation.height)?,
        openings: rectangles(&elevation.openings),
        bare: rectangles(&elevation.not_coated),
        notes: zones.iter().filter_map(|(zone, _)| part_shown(desk, *zone)).collect(),
        zones: zones.into_iter().map(|(_, place)| place).collect(),
        system,
    })
}

fn rectangle(patch: &Patch) -> Rectangle {
    Rectangle { left: patch.left(), base: patch.base(), width: patch.width(), height: patch.height() }
}

/// The zones of an elevation in the order of the survey.
fn zones(desk: Desk<'_>, elevation: &Surveyed) -> Vec<(usize, ZonePlace)> {
    let places_of = |zone: usize| {
        let own = elevation.zones.iter().filter(move |(known, _)| *known == zone);
        own.map(|(_, patch)| rectangle(patch)).collect::<Vec<_>>()
    };
    let zones = desk.view.zones().map(|zone| {
        let place =
            ZonePlace { code: desk.view.code(zone), state: state(desk, zone), places: places_of(zone) };
        (zone, place)
    });
    zones.filter(|(_, place)| !place.places.is_empty()).collect()
}

fn state(desk: Desk<'_>, zone: usize) -> ZoneState {
    match (chosen(desk.view, &desk.templates.site, zone), desk.stops.standing_in(zone)) {
        (Some(Chosen::Bare(..)), _) => ZoneState::Bare,
        (None, stops) if stops.is_empty() => ZoneState::Open,
        (Some(Chosen::Coat(..)), stops) if stops.is_empty() => ZoneState::Coated,
        (_, stops) => ZoneState::Stopped(stops),
    }
}

/// How much of a zone all elevations show, where they do not show the whole of it.
fn part_shown(desk: Desk<'_>, zone: usize) -> Option<String> {
    let surveyed = desk.view.survey.zones.get(zone)?;
    let drawn = Drawn::of(&desk.view.survey.elevations, zone)?;
    let area = |value: BigRational| print(&Quantity::from_base(value, Dimension::Area), desk.view.system());
    let Some(size) = &surveyed.size else {
        return Some(format!("How large zone {} is, nobody has measured.", surveyed.code));
    };
    let whole = size.width.value() * size.height.value();
    (!drawn.is_whole(&whole)).then(|| {
        let (shown, whole) = (area(drawn.wall), area(whole));
        format!("Of zone {} the elevations show {shown} of {whole}.", surveyed.code)
    })
}
