//! From the survey and the tables to the ranged wall that the sums of condensation are worked on.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::corner::{Ends, KeptCoats, Kind, Ranged, RangedWall};
use super::tables;
use crate::physics::condensation::Capillarity;
use crate::rulebook::book::{CellValue, End};
use crate::survey::{Layer, OldCoat, YesNoAnswer};
use crate::wall::coat;
use crate::wall::found::Bounds;
use crate::wall::layer::{mu, title};
use crate::wall::site::{Site, Table};

/// The wall with its old coats, both ends of every range; what is missing otherwise.
pub(in crate::wall) fn ranged(site: &Site<'_>) -> Result<RangedWall, Vec<String>> {
    let wall = site.zone.wall.as_ref().ok_or_else(|| vec!["`wall`".to_owned()])?;
    let (mut layers, mut missing) = (Vec::new(), Vec::new());
    for layer in wall {
        match of_layer(site, layer) {
            Ok(layer) => layers.push(layer),
            Err(lacks) => missing.push(lacks),
        }
    }
    match kept(site) {
        Ok(kept) if missing.is_empty() => return Ok(RangedWall { layers, kept }),
        Ok(_) => {}
        Err(lacks) => missing.extend(lacks),
    }
    Err(missing)
}

fn of_layer(site: &Site<'_>, layer: &Layer) -> Result<Ranged, String> {
    let name = title(site, layer.material);
    let span = layer.thickness.as_ref().ok_or_else(|| format!("`thickness` of {name}"))?;
    let thickness =
        ends(span.low.value(), span.high.value()).ok_or_else(|| format!("`thickness` of {name}"))?;
    let (open, tight) = (mu(site, layer, End::Low)?, mu(site, layer, End::High)?);
    let mu = open.low.as_ref().zip(tight.high.as_ref()).and_then(|(low, high)| ends(low, high));
    let lambda = tables::figure(
        site.book,
        Table::Materials.of(site.book),
        Some(layer.material),
        ("lambda", "thermal conductivity"),
    );
    let lambda = lambda.0.map_err(|_| format!("`lambda` of {name} in the rulebook"))?;
    Ok(Ranged {
        thickness,
        mu: mu.ok_or_else(|| format!("`mu` of {name}"))?,
        mu_is: if layer.tested.is_some() { Kind::Doubt } else { Kind::Spread },
        lambda: lambda.ends().ok_or_else(|| format!("`lambda` of {name}"))?,
    })
}

fn ends(low: &BigRational, high: &BigRational) -> Option<Ends> {
    let finite = |value: &BigRational| value.to_f64().filter(|value| value.is_finite());
    finite(low).zip(finite(high))
}

fn kept(site: &Site<'_>) -> Result<KeptCoats, Vec<String>> {
    let no_coats = || vec!["`coats`".to_owned()];
    let at = |end: End| {
        let kept = coat::kept(site, end).ok_or_else(no_coats)?;
        let Bounds { low: Some(low), high: Some(high) } = &kept.sd else { return Err(kept.missing) };
        ends(low, high).ok_or(kept.missing)
    };
    let coats = site.zone.coats.iter().flatten();
    let mut stays = coats.filter(|coat| coat.kept != YesNoAnswer::No);
    let capillarity =
        if stays.any(|coat| is_film(site, coat)) { Capillarity::Repels } else { Capillarity::Absorbs };
    Ok(KeptCoats { at_low: at(End::Low)?, at_high: at(End::High)?, capillarity })
}

/// An old coat of organic binder is a film, and so is one of which the book does not say.
fn is_film(site: &Site<'_>, coat: &OldCoat) -> bool {
    let column = Table::OldCoats.column(site.book, "organic");
    let cell = column.and_then(|column| Table::OldCoats.cell(site.book, coat.family, column));
    cell != Some(&CellValue::YesNo(false))
}
