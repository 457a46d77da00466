//! What the wall itself says: its face, its masonry, its thickness, and what the book knows of the materials.

use num_rational::BigRational;
use num_traits::Zero;

use super::film;
use super::found::{Bounds, Found, Worked};
use super::site::{Site, Table};
use super::words;
use crate::physics::Interval;
use crate::rulebook::book::{CellValue, ColumnId, End, Kind, OptionId};
use crate::rulebook::words::spoken;
use crate::survey::{Layer, Span, Tested, YesNoAnswer, Zone};
use crate::units::Dimension;

/// Which layer is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Which {
    /// The outermost one, render or stone.
    Outermost,
    /// The outermost one whose role is masonry.
    Masonry,
}

/// The role of masonry units and mortar.
pub(super) const MASONRY: &str = "masonry";
/// The role of a coat of mortar on the outside.
pub(super) const RENDER: &str = "render";

/// The layer that is asked about; otherwise what is to be said in its stead.
fn layer<'a>(site: &Site<'a>, which: Which) -> Result<&'a Layer, Box<Worked>> {
    let Some(wall) = &site.zone.wall else { return Err(Box::new(Worked::open(vec!["`wall`".to_owned()]))) };
    let layer = match which {
        Which::Outermost => wall.first(),
        Which::Masonry => wall.iter().find(|layer| role(site, layer) == Some(MASONRY)),
    };
    layer.ok_or_else(|| Box::new(Worked::settled(Found::Absent, "none", "no layer of the wall is masonry")))
}

/// The role of a layer's material.
pub(super) fn role<'a>(site: &Site<'a>, layer: &Layer) -> Option<&'a str> {
    let column = Table::Materials.column(site.book, "role")?;
    match Table::Materials.cell(site.book, layer.material, column)? {
        CellValue::Words(role) => Some(role),
        _ => None,
    }
}

/// The outermost material of a zone: `None` if its wall is not known.
pub(super) fn substrate(zone: &Zone) -> Option<OptionId> {
    zone.wall.as_ref()?.first().map(|layer| layer.material)
}

/// What a material is called in print.
pub(super) fn title(site: &Site<'_>, material: OptionId) -> String {
    Table::Materials.row(site.book, material).map(|row| row.title.clone()).unwrap_or_default()
}

/// The material of a layer, as a word.
pub(super) fn material(site: &Site<'_>, which: Which) -> Worked {
    let layer = match layer(site, which) {
        Ok(layer) => layer,
        Err(instead) => return *instead,
    };
    let name = Table::Materials.row(site.book, layer.material).map(|row| row.name.clone());
    let title = title(site, layer.material);
    let working = format!("{} of the wall is {title}{}", place_in_words(which), how_known(layer));
    Worked::settled(Found::Words(name.into_iter().collect()), title, working)
}

fn place_in_words(which: Which) -> &'static str {
    match which {
        Which::Outermost => "the outermost layer",
        Which::Masonry => "the outermost masonry",
    }
}

fn how_known(layer: &Layer) -> String {
    layer.known.map(|known| format!(" ({})", spoken(known.word()))).unwrap_or_default()
}

/// What the book, or a test on this wall, says of a layer's material.
pub(super) fn column(site: &Site<'_>, which: Which, column: ColumnId, worst: Option<End>) -> Worked {
    let layer = match layer(site, which) {
        Ok(layer) => layer,
        Err(instead) => return *instead,
    };
    let declared = Table::Materials.column_at(site.book, column);
    let title = declared.map(|column| column.title.as_str()).unwrap_or_default();
    let source = format!("{}: {title}", self::title(site, layer.material));
    if declared.is_some_and(|column| column.name == "mu") && layer.tested.is_some() {
        return tested_mu(site, layer, &source);
    }
    let worst = worst.or_else(|| declared.and_then(|column| column.worst));
    let kind = declared.map(|column| &column.kind);
    match Table::Materials.cell(site.book, layer.material, column) {
        Some(cell) => cell_found(site, cell, kind, worst, source),
        None => Worked::open(Vec::new()),
    }
}

fn tested_mu(site: &Site<'_>, layer: &Layer, source: &str) -> Worked {
    match mu(site, layer, End::High) {
        Ok(mu) => {
            let shown = words::bounds(&mu, Dimension::Number, site.system());
            Worked::settled(Found::Bounds(mu), shown, format!("{source}, as tested on this wall"))
        }
        Err(missing) => Worked::open(vec![missing]),
    }
}

fn cell_found(
    site: &Site<'_>,
    cell: &CellValue,
    kind: Option<&Kind>,
    worst: Option<End>,
    source: String,
) -> Worked {
    match cell {
        CellValue::None => Worked::settled(Found::Absent, "none", source),
        CellValue::YesNo(yes) => {
            let answer = if *yes { YesNoAnswer::Yes } else { YesNoAnswer::No };
            Worked::settled(Found::YesNo(answer), words::yes_no(answer), source)
        }
        CellValue::Words(word) => Worked::settled(Found::Words(vec![word.clone()]), spoken(word), source),
        CellValue::Number(low, high) => spread(site, (low, high), Dimension::Number, worst, source),
        CellValue::Measure(low, high) => {
            let dimension = match kind {
                Some(Kind::Measure { dimension, .. }) => *dimension,
                _ => low.dimension(),
            };
            spread(site, (low.value(), high.value()), dimension, worst, source)
        }
    }
}

/// A spread is decided on its adverse end; with none declared, both ends stay possible.
fn spread(
    site: &Site<'_>,
    (low, high): (&BigRational, &BigRational),
    dimension: Dimension,
    worst: Option<End>,
    source: String,
) -> Worked {
    let full = Bounds::between(low.clone(), high.clone());
    let Some(end) = worst.filter(|_| low != high) else {
        let shown = words::bounds(&full, dimension, site.system());
        return Worked::settled(Found::Bounds(full), shown, source);
    };
    let value = at_end(end, low, high).clone();
    let shown = words::measure(&value, dimension, site.system());
    let range = words::bounds(&full, dimension, site.system());
    let working = format!("{source} {shown}, the worst case of {range}");
    Worked::settled(Found::Bounds(Bounds::exactly(value)), shown, working)
}

/// One end of two.
pub(super) fn at_end<'a>(end: End, low: &'a BigRational, high: &'a BigRational) -> &'a BigRational {
    match end {
        End::Low => low,
        End::High => high,
    }
}

/// The diffusion resistance factor of a layer. A test on this wall is as uncertain as it was written; the book's
/// spread for the material counts at its adverse end. What is missing otherwise.
pub(super) fn mu(site: &Site<'_>, layer: &Layer, end: End) -> Result<Bounds, String> {
    match &layer.tested {
        Some(Tested::Mu(span)) => Ok(ends(span)),
        Some(tested) => {
            let air = site.air().ok_or("`air-permeability` in the rulebook")?;
            let thickness = layer.thickness.as_ref().ok_or("`thickness`")?;
            let permeance = film::permeance(air, tested);
            let mu = permeance.and_then(|permeance| mu_of_permeance(air, &permeance, thickness));
            mu.ok_or_else(|| "`permeance`".to_owned())
        }
        None => handbook_mu(site, layer, end).map(Bounds::exactly),
    }
}

/// `µ = δ_air / (W d)`, which falls as either rises.
fn mu_of_permeance(air: &BigRational, permeance: &Interval, thickness: &Span) -> Option<Bounds> {
    let mu = |permeance: &BigRational, thickness: &BigRational| {
        crate::physics::layer_permeance(air, &crate::physics::layer_permeability(permeance, thickness)?)
    };
    let low = mu(permeance.high(), thickness.high.value())?;
    Some(Bounds::between(low, mu(permeance.low(), thickness.low.value())?))
}

fn handbook_mu(site: &Site<'_>, layer: &Layer, end: End) -> Result<BigRational, String> {
    let missing = || format!("`mu` of {}", title(site, layer.material));
    let column = Table::Materials.column(site.book, "mu").ok_or_else(missing)?;
    match Table::Materials.cell(site.book, layer.material, column) {
        Some(CellValue::Number(low, high)) => Ok(at_end(end, low, high).clone()),
        _ => Err(missing()),
    }
}

/// The range of µ that the book gives for a material, if it is one.
pub(super) fn handbook_range(site: &Site<'_>, layer: &Layer) -> Option<(BigRational, BigRational)> {
    let column = Table::Materials.column(site.book, "mu").filter(|_| layer.tested.is_none())?;
    match Table::Materials.cell(site.book, layer.material, column)? {
        CellValue::Number(low, high) if low != high => Some((low.clone(), high.clone())),
        _ => None,
    }
}

/// Both ends of a span.
pub(super) fn ends(span: &Span) -> Bounds {
    Bounds::between(span.low.value().clone(), span.high.value().clone())
}

/// The thickness of all layers together; a layer not measured leaves the upper end open.
pub(super) fn thickness(site: &Site<'_>) -> Worked {
    let Some(wall) = &site.zone.wall else { return Worked::open(vec!["`wall`".to_owned()]) };
    let of_layer =
        |layer: &Layer| layer.thickness.as_ref().map_or_else(|| Bounds::at_least(BigRational::zero()), ends);
    let sum = wall.iter().map(of_layer).fold(Bounds::exactly(BigRational::zero()), Bounds::plus);
    let missing = wall.iter().filter(|layer| layer.thickness.is_none());
    let missing: Vec<String> =
        missing.map(|layer| format!("`thickness` of {}", title(site, layer.material))).collect();
    let parts: Vec<String> = wall.iter().map(|layer| layer_in_words(site, layer)).collect();
    if wall.iter().all(|layer| layer.thickness.is_none()) {
        return Worked::open(missing);
    }
    let shown = words::bounds(&sum, Dimension::Length, site.system());
    Worked { missing, ..Worked::settled(Found::Bounds(sum), shown, parts.join(" + ")) }
}

fn layer_in_words(site: &Site<'_>, layer: &Layer) -> String {
    let title = title(site, layer.material);
    match &layer.thickness {
        Some(span) => format!("{} of {title}{}", span.print(site.system()), how_known(layer)),
        None => format!("{title} of unknown thickness"),
    }
}
