//! A zone: its layers, its old coats, its face and its vapour ladder.

use super::coat;
use super::conditions::months;
use super::figure::{Figure, Maybe, Reason, beyond};
use super::model::{
    Candidate, Conditions, FaceStudy, LayerStudy, NamedPermeance, OldCoatStudy, Rung, ZoneStudy,
};
use super::tables;
use crate::physics::{Interval, StillAir};
use crate::rulebook::book::{CellValue, End};
use crate::survey::quoted::Quoted;
use crate::survey::{Layer, OldCoat, Span, Tested, YesNoAnswer};
use crate::units::{Dimension, Quantity, print};
use crate::wall::found::{Bounds, Found};
use crate::wall::layer::{mu, title};
use crate::wall::site::{FACE_DEPTH, Site, Table};
use crate::wall::{coat as old_coat, film, vapour};

/// One zone in numbers.
pub(super) fn zone(site: &Site<'_>, conditions: &Conditions) -> ZoneStudy {
    let layers = layers(site, conditions);
    let coats = coats(site, conditions);
    let kept_sd = kept_sd(site);
    let face = face(site, conditions);
    let ladder = ladder(&layers, &coats, conditions);
    let months = months(&conditions.climate, &conditions.indoor);
    let (as_it_stands, candidates) = coat::candidates(site, conditions, &months, (&kept_sd, &face));
    ZoneStudy {
        code: site.zone.code.clone(),
        name: site.zone.name.clone(),
        quoted: quoted(site, &face, &candidates),
        assumptions: assumptions(site),
        layers,
        coats,
        kept_sd,
        face,
        ladder,
        as_it_stands,
        candidates,
    }
}

fn span(span: &Span, dimension: Dimension) -> Figure {
    Figure::between(dimension, span.low.value().clone(), span.high.value().clone())
}

fn layers(site: &Site<'_>, conditions: &Conditions) -> Maybe<Vec<LayerStudy>> {
    let wall = site.zone.wall.as_ref();
    let wall = wall.ok_or_else(|| Reason::new("the survey does not say what the wall is made of"))?;
    Ok(wall.iter().map(|layer| layer_study(site, layer, conditions)).collect())
}

fn layer_study(site: &Site<'_>, layer: &Layer, conditions: &Conditions) -> LayerStudy {
    let name = title(site, layer.material);
    let materials = Table::Materials.of(site.book);
    let of_book = |column| tables::figure(site.book, materials, Some(layer.material), column);
    let thickness = layer.thickness.as_ref().map(|thickness| span(thickness, Dimension::Length));
    let thickness = thickness.ok_or_else(|| Reason::new(format!("the thickness of {name} is not known")));
    let (handbook, mu_from) = of_book(("mu", "vapour resistance factor"));
    let (mu, mu_from) = match &layer.tested {
        Some(_) => (tested_mu(site, layer), tested_words(layer, site)),
        None => (handbook, mu_from),
    };
    let (lambda, lambda_from) = of_book(("lambda", "thermal conductivity"));
    let both = |one: &Maybe<Figure>, other: &Maybe<Figure>| Ok((one.clone()?, other.clone()?));
    let sd = both(&mu, &thickness).map(|(mu, thickness)| mu.times(&thickness, Dimension::AirLayer));
    // What was tested as it stands belongs to the layer; through its µ, a thickness in doubt would count twice.
    let tested = layer.tested.as_ref().zip(conditions.air.as_ref().ok());
    let tested = tested.and_then(|(tested, air)| film::air_layer(&air.low, tested));
    let sd = tested.map_or(sd, |tested| Ok(held(&tested, Dimension::AirLayer)));
    let resistance = both(&thickness, &lambda).map(|(thickness, lambda)| Figure {
        dimension: Dimension::ThermalResistance,
        low: &thickness.low / &lambda.high,
        high: &thickness.high / &lambda.low,
    });
    LayerStudy {
        permeance: sd.clone().and_then(|sd| permeance(&sd, conditions)),
        title: name,
        thickness,
        known: layer.known,
        mu,
        mu_from,
        lambda,
        lambda_from,
        uptake: of_book(("uptake", "water uptake")).0,
        resistance,
        sd,
    }
}

/// By the still air of the book.
pub(super) fn permeance(sd: &Figure, conditions: &Conditions) -> Maybe<Figure> {
    let air = conditions.air.clone()?;
    sd.through(Dimension::Permeance, |sd| crate::physics::layer_permeance(&air.low, sd))
}

fn tested_mu(site: &Site<'_>, layer: &Layer) -> Maybe<Figure> {
    let bounds =
        mu(site, layer, End::High).map_err(|missing| Reason::new(format!("{missing} is missing")))?;
    bounded(&bounds, Dimension::Number)
}

fn held(interval: &Interval, dimension: Dimension) -> Figure {
    Figure::between(dimension, interval.low().clone(), interval.high().clone())
}

fn bounded(bounds: &Bounds, dimension: Dimension) -> Maybe<Figure> {
    let ends = bounds.low.clone().zip(bounds.high.clone());
    let (low, high) = ends.ok_or_else(|| Reason::new("the survey leaves one end open"))?;
    Ok(Figure::between(dimension, low, high))
}

fn tested_words(layer: &Layer, site: &Site<'_>) -> String {
    match &layer.tested {
        Some(Tested::Permeance(span) | Tested::Transmission(span, _)) => {
            format!("tested here: {} as it stands", span.print(site.system()))
        }
        _ => "tested here".to_owned(),
    }
}

fn coats(site: &Site<'_>, conditions: &Conditions) -> Maybe<Vec<OldCoatStudy>> {
    let coats = site.zone.coats.as_ref();
    let coats = coats.ok_or_else(|| Reason::new("the survey does not say what was painted on it"))?;
    Ok(coats.iter().map(|coat| old_coat_study(site, coat, conditions)).collect())
}

fn old_coat_study(site: &Site<'_>, coat: &OldCoat, conditions: &Conditions) -> OldCoatStudy {
    let row = Table::OldCoats.row(site.book, coat.family);
    let title = row.map(|row| row.title.clone()).unwrap_or_default();
    let column = Table::OldCoats.column(site.book, "sd-per-layer");
    let cell = column.and_then(|column| Table::OldCoats.cell(site.book, coat.family, column));
    let tested = coat.tested.as_ref().zip(conditions.air.as_ref().ok());
    let tested = tested.and_then(|(tested, air)| film::air_layer(&air.low, tested));
    let sd = match (cell, coat.layers) {
        _ if tested.is_some() => tested.map(|tested| held(&tested, Dimension::AirLayer)).ok_or_else(beyond),
        (Some(CellValue::Measure(low, high)), Some(count)) => {
            let times = num_rational::BigRational::from_integer(count.into());
            Ok(Figure::between(Dimension::AirLayer, low.value() * &times, high.value() * &times))
        }
        (Some(CellValue::Measure(..)), None) => {
            Err(Reason::new(format!("the layers of {title} were not counted")))
        }
        _ => Err(Reason::new(format!("the book gives no sd of {title}"))),
    };
    OldCoatStudy { title, layers: coat.layers, kept: coat.kept, sd }
}

/// From the open end of the table, without what may go, to its tight end, with what may stay.
fn kept_sd(site: &Site<'_>) -> Maybe<Figure> {
    let kept = |end| old_coat::kept(site, end).ok_or_else(|| Reason::new("`coats` is not answered"));
    let (low, high) = (kept(End::Low)?, kept(End::High)?);
    bounded(&Bounds { low: low.sd.low, high: high.sd.high }, Dimension::AirLayer)
}

fn face(site: &Site<'_>, conditions: &Conditions) -> Maybe<FaceStudy> {
    let depth = site.taken(FACE_DEPTH).map(Figure::from);
    let depth = depth.ok_or_else(|| Reason::new(format!("the book takes no `{FACE_DEPTH}`")))?;
    let at = |end| {
        let worked = vapour::face_sd(site, end);
        match worked.found {
            Found::Bounds(bounds) => Ok((bounds, worked.working.unwrap_or_default())),
            Found::Absent => Err(Reason::new("no layer of the wall is masonry or render")),
            _ => Err(Reason::new(format!("{} is missing", worked.missing.join(", ")))),
        }
    };
    let ((open, working), (tight, _)) = (at(End::Low)?, at(End::High)?);
    let sd = bounded(&Bounds { low: open.low, high: tight.high }, Dimension::AirLayer)?;
    let named = |name: &'static str, air: Figure| {
        let through = sd.through(Dimension::Permeance, |sd| crate::physics::layer_permeance(&air.low, sd));
        Some(NamedPermeance { air: name, permeance: through.ok()?, permeability: air })
    };
    let cup = Figure::exactly(Dimension::Permeability, StillAir::CUP_TEST.permeability());
    let design = conditions.air.clone().ok().and_then(|air| named(StillAir::DESIGN.name, air));
    let permeances = design.into_iter().chain(named(StillAir::CUP_TEST.name, cup)).collect();
    Ok(FaceStudy { depth, sd, permeances, working })
}

/// Old coats that stay or may stay stand on the ladder.
fn ladder(
    layers: &Maybe<Vec<LayerStudy>>,
    coats: &Maybe<Vec<OldCoatStudy>>,
    conditions: &Conditions,
) -> Maybe<Vec<Rung>> {
    let layers = layers.as_ref().map_err(Clone::clone)?;
    let walls = layers.iter().rev().map(|layer| (layer.title.clone(), layer.sd.clone()));
    let stay = coats.iter().flatten().rev().filter(|coat| coat.kept != YesNoAnswer::No);
    let old = stay.map(|coat| (format!("old {}", coat.title), coat.sd.clone()));
    let mut so_far: Option<Figure> = None;
    let mut rungs = Vec::new();
    for (title, sd) in walls.chain(old) {
        let sd = sd?;
        let sum = so_far.map_or_else(|| sd.clone(), |so_far| so_far.plus(&sd));
        so_far = Some(sum.clone());
        rungs.push(Rung { title, permeance: permeance(&sd, conditions), sd, so_far: sum });
    }
    Ok(rungs)
}

/// What a permeance that was tested on this wall says beside a coat of the book, and what it does not.
fn quoted(site: &Site<'_>, face: &Maybe<FaceStudy>, candidates: &[Candidate]) -> Vec<String> {
    let layers = site.zone.wall.iter().flatten();
    layers.filter_map(|layer| quoted_layer(site, layer, face.as_ref().ok()?, candidates)).collect()
}

fn quoted_layer(
    site: &Site<'_>,
    layer: &Layer,
    face: &FaceStudy,
    candidates: &[Candidate],
) -> Option<String> {
    let Some(Tested::Permeance(permeance)) = &layer.tested else { return None };
    let coat = |candidate: &Candidate| {
        let permeance = candidate.coat.as_ref().ok()?.permeance.as_ref().ok()?.low.clone();
        Some((candidate.title.clone(), Quoted::new(&Quantity::from_base(permeance, Dimension::Permeance))?))
    };
    let (coat_title, coat) = candidates.iter().find_map(coat)?;
    let passes = face.permeances.first()?.permeance.print(site.system());
    let material = title(site, layer.material);
    Quoted::new(&permeance.low)?.through(
        (&material, &layer.thickness.as_ref()?.high),
        (&coat_title, &coat),
        (&face.depth.print(site.system()), &passes),
        site.system(),
    )
}

fn assumptions(site: &Site<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for layer in site.zone.wall.iter().flatten() {
        if layer.known.is_some_and(|known| !known.counts_as_tested()) {
            let (name, known) = (title(site, layer.material), layer.known.map_or("", |known| known.word()));
            found.push(format!("{name} is {known}, not seen."));
        }
    }
    for coat in site.zone.coats.iter().flatten().filter(|coat| coat.kept == YesNoAnswer::Unanswered) {
        let row = Table::OldCoats.row(site.book, coat.family);
        let title = row.map(|row| row.title.as_str()).unwrap_or_default();
        found.push(format!(
            "Nobody said whether the old {title} stays: figures run from without it to with it."
        ));
    }
    if let (Some(wall), Some(depth)) = (&site.zone.wall, site.taken(FACE_DEPTH)) {
        let whole: num_rational::BigRational =
            wall.iter().filter_map(|layer| Some(layer.thickness.as_ref()?.high.value().clone())).sum();
        let known = wall.iter().all(|layer| layer.thickness.is_some());
        if known && whole < *depth.value() {
            let depth = print(depth, site.system());
            found.push(format!("The wall is thinner than {depth}: all of it counts as the face."));
        }
    }
    found
}
