//! From a zone in numbers to the data of its figures, for any coats of the book; and all of them for a reader who asks for
//! the numbers alone, before anything is decided.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::adverse;
use crate::drawing::Drawing;
use crate::drawing::chart::{
    CoatStanding, CondensationProfile, DryingCoat, DryingCurve, Face, Gathered, Ladder, ProfileCoat, Rung,
    RungKind, condensation_profile, drying_curve,
};
use crate::physics::classes::Edition;
use crate::physics::condensation::{Air, Block};
use crate::physics::{Bounds, Saturation};
use crate::survey::YesNoAnswer;
use crate::units::{Dimension, Quantity, System, print};
use crate::wall::study::{CoatStudy, Conditions, Figure, LayerStudy, Method, SumFound, SumStudy, ZoneStudy};

/// A coat of the book with what was decided of it.
pub(in crate::document::figures) struct Shown<'a> {
    pub(super) title: &'a str,
    pub(super) coat: &'a CoatStudy,
    pub(super) standing: CoatStanding,
}

/// The most coats that one figure of curves compares.
const CURVES: usize = 5;

/// The figures of a zone with the coats that the book offers, most open first.
pub(in crate::document::figures) fn all(
    study: &ZoneStudy,
    conditions: &Conditions,
    system: System,
) -> Vec<Drawing> {
    let (code, zones) = (&study.code, Some(format!("zone {}", study.code)));
    let id = |kind: &str| format!("{kind}-{code}");
    let candidates = study.candidates.iter().filter_map(|candidate| {
        let coat = candidate.coat.as_ref().ok().filter(|coat| coat.total_sd.is_ok())?;
        Some(Shown { title: &candidate.title, coat, standing: CoatStanding::Possible })
    });
    let mut coats: Vec<Shown<'_>> = candidates.collect();
    coats.sort_by(|a, b| a.coat.sd.high.cmp(&b.coat.sd.high));
    let ladder = ladder(study, &coats, conditions, system);
    let ladder = ladder.map(|data| Ladder { id: id("vapour-ladder"), zones: zones.clone(), ..data });
    let spread = spread(coats);
    let profile = profile(study, &spread, system);
    let profile =
        profile.map(|data| CondensationProfile { id: id("condensation"), zones: zones.clone(), ..data });
    let drying = drying(study, &spread, conditions, system);
    let drying = drying.map(|data| DryingCurve { id: id("drying"), zones, ..data });
    let drawings = [
        ladder.and_then(|data| crate::drawing::chart::ladder(&data)),
        profile.and_then(|data| condensation_profile(&data)),
        drying.and_then(|data| drying_curve(&data)),
    ];
    drawings.into_iter().flatten().collect()
}

/// As many coats as curves can be told apart, evenly from the most open to the tightest.
fn spread(coats: Vec<Shown<'_>>) -> Vec<Shown<'_>> {
    let last = coats.len().saturating_sub(1);
    let wanted: Vec<usize> = (0..CURVES).map(|place| place * last / (CURVES - 1)).collect();
    let places = coats.into_iter().enumerate();
    places.filter(|(place, _)| wanted.contains(place)).map(|(_, coat)| coat).collect()
}

/// The ladder of a zone with new coats on, without a limit.
pub(super) fn ladder(
    study: &ZoneStudy,
    coats: &[Shown<'_>],
    conditions: &Conditions,
    system: System,
) -> Option<Ladder> {
    let face = study.face.as_ref().ok()?;
    let mut rungs = Vec::new();
    for layer in study.layers.as_ref().ok()?.iter().rev() {
        rungs.push(Rung {
            title: layer_words(layer, system)?,
            sd: bounds(layer.sd.as_ref().ok()?)?,
            kind: RungKind::Wall,
        });
    }
    for old in study.coats.as_ref().ok()?.iter().rev().filter(|old| old.kept != YesNoAnswer::No) {
        let sd = bounds(old.sd.as_ref().ok()?)?;
        let (title, sd) = match old.kept {
            YesNoAnswer::Yes => (format!("old {}", old.title), sd),
            _ => (format!("old {}, if it stays", old.title), Bounds::between(0.0, sd.high())?),
        };
        rungs.push(Rung { title, sd, kind: RungKind::OldCoat });
    }
    for shown in coats {
        let sd = bounds(&shown.coat.sd)?;
        rungs.push(Rung { title: shown.title.to_owned(), sd, kind: RungKind::NewCoat });
    }
    Some(Ladder {
        id: String::new(),
        zones: None,
        rungs,
        face: Face { depth: face.depth.print(system), sd: bounds(&face.sd)? },
        limit: None,
        air: conditions.air.as_ref().ok()?.low.to_f64()?,
        system,
    })
}

fn layer_words(layer: &LayerStudy, system: System) -> Option<String> {
    Some(format!("{}, {}", layer.title, layer.thickness.as_ref().ok()?.print(system)))
}

/// The condensation profile of a zone with these coats.
pub(super) fn profile(study: &ZoneStudy, coats: &[Shown<'_>], system: System) -> Option<CondensationProfile> {
    let block = Block::of(EDITION)?;
    let gathered = |figure: &Figure| {
        let most = Figure::exactly(figure.dimension, figure.high.clone());
        Some(Gathered { kilograms: figure.high.to_f64()?, words: most.print(system) })
    };
    let coats = coats.iter().map(|shown| {
        let found = of_edition(&shown.coat.sums)?;
        Some(ProfileCoat {
            title: shown.title.to_owned(),
            sd: outside(shown)?,
            gathered: gathered(&found.condensed)?,
            more: gathered(&found.increment)?,
            standing: shown.standing,
        })
    });
    let coats = coats.collect::<Option<Vec<_>>>()?;
    let kept = study.kept_sd.as_ref().ok()?.high.to_f64()?;
    let layers = study.layers.as_ref().ok()?;
    let titles = layers.iter().map(|layer| layer_words(layer, system)).collect::<Option<Vec<_>>>()?;
    let outside: Vec<f64> = std::iter::once(kept).chain(coats.iter().map(|coat| coat.sd)).collect();
    Some(CondensationProfile {
        id: String::new(),
        zones: None,
        layers: adverse::layers(layers, &titles, &outside, &block)?,
        kept,
        gathered: gathered(&of_edition(&study.as_it_stands)?.condensed)?,
        coats,
        surfaces: block.surfaces,
        outside: block.outside,
        inside: block.inside,
        climate: climate(&block, system)?,
    })
}

/// The drying curve of a zone with these coats.
pub(super) fn drying(
    study: &ZoneStudy,
    coats: &[Shown<'_>],
    conditions: &Conditions,
    system: System,
) -> Option<DryingCurve> {
    let face = study.face.as_ref().ok()?;
    let depth = face.depth.low.to_f64()?;
    let coats = coats.iter().map(|shown| {
        Some(DryingCoat { title: shown.title.to_owned(), sd: outside(shown)?, standing: shown.standing })
    });
    Some(DryingCurve {
        id: String::new(),
        zones: None,
        depth,
        depth_words: face.depth.print(system),
        mu: (face.sd.low.to_f64()? / depth).max(1.0),
        boundary: conditions.boundary.as_ref().ok()?.low.to_f64()?,
        coats: coats.collect::<Option<Vec<_>>>()?,
    })
}

/// The tight end of everything outside the masonry with a coat on.
fn outside(shown: &Shown<'_>) -> Option<f64> {
    shown.coat.total_sd.as_ref().ok()?.high.to_f64()
}

/// The sum that the profile shows.
const EDITION: Edition = Edition::Of2018;

fn bounds(figure: &Figure) -> Option<Bounds> {
    figure.ends().and_then(|(low, high)| Bounds::between(low, high))
}

/// What the sum that is shown finds.
fn of_edition(sums: &[SumStudy]) -> Option<&SumFound> {
    sums.iter().find(|sum| sum.method == Method::Din4108(EDITION))?.found.as_ref().ok()
}

/// The airs of the winter, in words.
fn climate(block: &Block, system: System) -> Option<String> {
    let side = |air: &Air| {
        let most = Saturation::Iso13788.pressure(air.celsius())?;
        let whole = |value: f64| BigRational::from_float(value.round());
        let temperature = Quantity::from_base(whole(air.celsius())?, Dimension::Temperature);
        let humidity = Quantity::from_base(whole(100.0 * air.pressure() / most)?, Dimension::Percent);
        Some(format!("{} and {}", print(&temperature, system), print(&humidity, system)))
    };
    let (outside, inside) = (side(&block.outside)?, side(&block.inside)?);
    Some(format!("Winter of {}: {outside} outside, {inside} inside", EDITION.name()))
}
