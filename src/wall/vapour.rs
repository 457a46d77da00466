//! How vapour passes the face of the wall and everything outside it. Steady state; all in exact rationals, with the
//! formulae of `physics`.
//!
//! The spread of a material or a coat counts at its adverse end. What the survey leaves open (a pair for a thickness
//! or a tested µ, a coat that may stay) is carried through as bounds.

use num_rational::BigRational;
use num_traits::Zero;

use super::coat::{self, Kept};
use super::found::{Bounds, Found, Worked};
use super::layer::{MASONRY, RENDER, at_end, handbook_range, mu, role, title};
use super::site::{AIR_PERMEABILITY, FACE_DEPTH, Site};
use super::words;
use crate::physics::{layer_permeance, sd_from_mu};
use crate::rulebook::book::{CellValue, End, SlotId};
use crate::survey::Layer;
use crate::units::{Dimension, print};

/// A stretch of the face, from outside, m: it may begin here and must end by there.
#[derive(Debug, Clone)]
struct Stretch {
    from: BigRational,
    to: Option<BigRational>,
    mu: Bounds,
    words: String,
}

/// The outer face-depth of masonry and render.
#[derive(Debug, Clone)]
struct Face {
    sd: Bounds,
    working: String,
}

/// The equivalent air layer of the outer face-depth of masonry and render, without paint.
pub(super) fn face_sd(site: &Site<'_>, end: End) -> Worked {
    match face(site, end) {
        Ok(Some(face)) => {
            let shown = words::air_layer_bounds(&face.sd);
            Worked::settled(Found::Bounds(face.sd), shown, face.working)
        }
        Ok(None) => bare_of_masonry(),
        Err(missing) => Worked::open(missing),
    }
}

/// The permeance of the outer face-depth of masonry and render, without paint.
pub(super) fn face_permeance(site: &Site<'_>, end: End) -> Worked {
    let Some(air) = site.air() else { return Worked::open(vec![in_the_rulebook(AIR_PERMEABILITY)]) };
    let face = match face(site, opposite(end)) {
        Ok(Some(face)) => face,
        Ok(None) => return bare_of_masonry(),
        Err(missing) => return Worked::open(missing),
    };
    let permeance = permeance_of(air, &face.sd);
    let shown = words::bounds(&permeance, Dimension::Permeance, site.system());
    let still_air = site.taken(AIR_PERMEABILITY).map(|air| print(air, site.system())).unwrap_or_default();
    let working = format!("{}; against still air of {still_air}: {shown}", face.working);
    Worked::settled(Found::Bounds(permeance), shown, working)
}

fn bare_of_masonry() -> Worked {
    Worked::settled(Found::Absent, "none", "no layer of the wall is masonry or render")
}

fn in_the_rulebook(quantity: &str) -> String {
    format!("`{quantity}` in the rulebook")
}

/// The end of a resistance that is the other end of a permeance.
fn opposite(end: End) -> End {
    match end {
        End::Low => End::High,
        End::High => End::Low,
    }
}

/// `W = δ_air / sd`; an sd that may be nothing leaves the upper end open.
fn permeance_of(air: &BigRational, sd: &Bounds) -> Bounds {
    let through = |sd: &BigRational| layer_permeance(air, sd);
    let low = sd.high.as_ref().map_or_else(|| Some(BigRational::zero()), through);
    Bounds { low, high: sd.low.as_ref().and_then(through) }
}

/// The face; `None` if nothing of the wall is masonry or render; otherwise what is missing.
fn face(site: &Site<'_>, end: End) -> Result<Option<Face>, Vec<String>> {
    let depth = site.taken(FACE_DEPTH).ok_or_else(|| vec![in_the_rulebook(FACE_DEPTH)])?;
    let wall = site.zone.wall.as_ref().ok_or_else(|| vec!["`wall`".to_owned()])?;
    let layers: Vec<&Layer> =
        wall.iter().filter(|layer| matches!(role(site, layer), Some(MASONRY | RENDER))).collect();
    if layers.is_empty() {
        return Ok(None);
    }
    let stretches = stretches(site, &layers, depth.value(), end)?;
    let sd = sd_of(&stretches, depth.value());
    let parts: Vec<&str> = stretches.iter().map(|stretch| stretch.words.as_str()).collect();
    let parts: Vec<&str> = parts.into_iter().filter(|words| !words.is_empty()).collect();
    let depth = print(depth, site.system());
    let working = format!(
        "outer {depth} of the wall: {}; together sd {}",
        parts.join(" + "),
        words::air_layer_bounds(&sd)
    );
    Ok(Some(Face { sd, working }))
}

/// The layers that the face may reach into, and the open air behind a wall thinner than the face.
fn stretches(
    site: &Site<'_>,
    layers: &[&Layer],
    depth: &BigRational,
    end: End,
) -> Result<Vec<Stretch>, Vec<String>> {
    let (mut earliest, mut latest) = (BigRational::zero(), BigRational::zero());
    let mut stretches = Vec::new();
    for layer in layers {
        if earliest >= *depth {
            return Ok(stretches);
        }
        let name = title(site, layer.material);
        let thickness = layer.thickness.as_ref().ok_or_else(|| vec![format!("`thickness` of {name}")])?;
        let mu = mu(site, layer, end).map_err(|missing| vec![missing])?;
        let left = |before: &BigRational| (depth - before).max(BigRational::zero());
        let portion = Bounds::between(
            thickness.low.value().clone().min(left(&latest)),
            thickness.high.value().clone().min(left(&earliest)),
        );
        let words = portion_in_words(site, layer, &portion, &mu);
        let from = earliest.clone();
        earliest += thickness.low.value();
        latest += thickness.high.value();
        stretches.push(Stretch { from, to: Some(latest.clone()), mu, words });
    }
    let nothing = Bounds::exactly(BigRational::zero());
    stretches.push(Stretch { from: earliest, to: None, mu: nothing, words: String::new() });
    Ok(stretches)
}

/// The sum of µ over the depth. At each point any layer counts that may lie there: with thicknesses in doubt the sum
/// need not rise or fall steadily, so that two end runs would not do.
fn sd_of(stretches: &[Stretch], depth: &BigRational) -> Bounds {
    let mut cuts = vec![BigRational::zero(), depth.clone()];
    cuts.extend(stretches.iter().flat_map(|stretch| stretch.to.iter().chain([&stretch.from])).cloned());
    cuts.retain(|cut| cut <= depth);
    cuts.sort();
    cuts.dedup();
    let pieces = cuts.iter().zip(cuts.iter().skip(1));
    pieces.fold(Bounds::exactly(BigRational::zero()), |sum, (from, to)| {
        let here =
            |stretch: &&Stretch| stretch.from <= *from && stretch.to.as_ref().is_none_or(|end| end >= to);
        let mu = stretches.iter().filter(here).map(|stretch| stretch.mu.clone()).reduce(Bounds::or);
        let piece = mu.map(|mu| times(&mu, &Bounds::exactly(to - from)));
        piece.map_or(sum.clone(), |piece| sum.plus(piece))
    })
}

/// `sd = µ d`, end by end.
fn times(mu: &Bounds, thickness: &Bounds) -> Bounds {
    let end = |mu: &Option<BigRational>, d: &Option<BigRational>| sd_from_mu(mu.as_ref()?, d.as_ref()?);
    Bounds { low: end(&mu.low, &thickness.low), high: end(&mu.high, &thickness.high) }
}

fn portion_in_words(site: &Site<'_>, layer: &Layer, portion: &Bounds, mu: &Bounds) -> String {
    let system = site.system();
    let thickness = words::bounds(portion, Dimension::Length, system);
    let name = title(site, layer.material);
    let factor = words::bounds(mu, Dimension::Number, system);
    let worst = handbook_range(site, layer)
        .map(|(low, high)| format!(" (worst case of {} to {})", words::number(&low), words::number(&high)));
    let tested = if layer.tested.is_some() { " (tested here)" } else { "" };
    let sd = words::air_layer_bounds(&times(mu, portion));
    format!("{thickness} of {name}, µ {factor}{}{tested}, sd {sd}", worst.unwrap_or_default())
}

/// What each option of a slot makes of a worked fact.
#[derive(Debug, Clone)]
pub(super) struct ByOption {
    /// One an option: what was found, and as printed.
    pub(super) options: Vec<(Found, String)>,
    /// How it was worked out, for all of them.
    pub(super) working: Option<String>,
    /// What leaves it open.
    pub(super) missing: Vec<String>,
}

/// Every layer outside the masonry, kept ones included, with each option on; absent for options that are no coat.
pub(super) fn total_sd(site: &Site<'_>, slot: SlotId, end: End) -> ByOption {
    let kept = kept_or_unknown(site, end);
    let totals = totals(site, slot, end, &kept.sd).into_iter().map(|total| match total {
        None => (Found::Absent, "none".to_owned()),
        Some(total) => {
            let shown = words::air_layer_bounds(&total);
            (Found::Bounds(total), shown)
        }
    });
    let working = format!("{}; plus the coat itself, worst case", kept.working);
    ByOption { options: totals.collect(), working: Some(working), missing: kept.missing }
}

/// The permeance of every layer outside the masonry with each option on; absent for options that are no coat.
pub(super) fn outer_permeance(site: &Site<'_>, slot: SlotId, end: End) -> ByOption {
    let sd_end = opposite(end);
    let kept = kept_or_unknown(site, sd_end);
    let totals = totals(site, slot, sd_end, &kept.sd);
    let Some(air) = site.air() else {
        let options = totals.iter().map(|_| (Found::Open, String::new())).collect();
        return ByOption { options, working: None, missing: vec![in_the_rulebook(AIR_PERMEABILITY)] };
    };
    let options = totals.into_iter().map(|total| match total {
        None => (Found::Absent, "none".to_owned()),
        Some(total) => {
            let permeance = permeance_of(air, &total);
            let shown = words::bounds(&permeance, Dimension::Permeance, site.system());
            (Found::Bounds(permeance), shown)
        }
    });
    let still_air = site.taken(AIR_PERMEABILITY).map(|air| print(air, site.system())).unwrap_or_default();
    let working = format!(
        "still air of {still_air} over the sd of all that lies outside the masonry: {}; plus the coat itself, worst case",
        kept.working
    );
    ByOption { options: options.collect(), working: Some(working), missing: kept.missing }
}

/// How many times as open as the face everything outside it is, with each option on: the sd of the face over the sd
/// outside it (derived: both are still air over their sd, so that the still air falls out). At 1 or under, the outside
/// is the tightest. Absent for options that are no coat, and where there is no face.
pub(super) fn outer_over_face(site: &Site<'_>, slot: SlotId, end: End) -> ByOption {
    let kept = kept_or_unknown(site, opposite(end));
    let totals = totals(site, slot, opposite(end), &kept.sd);
    let absent = || (Found::Absent, "none".to_owned());
    let (face, mut missing) = match face(site, end) {
        Ok(face) => (face, Vec::new()),
        Err(missing) => {
            let open = |total: &Option<Bounds>| match total {
                Some(_) => (Found::Open, String::new()),
                None => absent(),
            };
            return ByOption { options: totals.iter().map(open).collect(), working: None, missing };
        }
    };
    let options = totals.into_iter().map(|total| match (total, &face) {
        (Some(total), Some(face)) => {
            let ratio = over(&face.sd, &total);
            let shown = words::bounds(&ratio, Dimension::Number, site.system());
            (Found::Bounds(ratio), shown)
        }
        _ => absent(),
    });
    let options = options.collect();
    missing.extend(kept.missing);
    let working = face.map(|face| {
        let outside = &kept.working;
        format!(
            "{}; over the sd of all that lies outside it: {outside}; plus the coat itself, worst case",
            face.working
        )
    });
    ByOption { options, working, missing }
}

/// A quotient, end by end; a divisor that may be nothing leaves the upper end open.
fn over(top: &Bounds, bottom: &Bounds) -> Bounds {
    let by = |top: &BigRational, bottom: &BigRational| (!bottom.is_zero()).then(|| top / bottom);
    let low = match (&top.low, &bottom.high) {
        (Some(top), Some(bottom)) => by(top, bottom),
        (Some(_), None) => Some(BigRational::zero()),
        (None, _) => None,
    };
    let high = top.high.as_ref().zip(bottom.low.as_ref()).and_then(|(top, bottom)| by(top, bottom));
    Bounds { low, high }
}

fn kept_or_unknown(site: &Site<'_>, end: End) -> Kept {
    coat::kept(site, end).unwrap_or_else(|| Kept {
        sd: Bounds::at_least(BigRational::zero()),
        working: "old coats not known".to_owned(),
        missing: vec!["`coats`".to_owned()],
    })
}

/// The sd of what stays and of each option; `None` for options whose sd is `none`.
fn totals(site: &Site<'_>, slot: SlotId, end: End, kept: &Bounds) -> Vec<Option<Bounds>> {
    let own = own_sds(site, slot).into_iter();
    let at = |(low, high): (BigRational, BigRational)| at_end(end, &low, &high).clone();
    own.map(|own| own.map(|own| kept.clone().plus(Bounds::exactly(at(own))))).collect()
}

/// The sd of each option alone, both ends; `None` for options whose sd is `none`.
pub(super) fn own_sds(site: &Site<'_>, slot: SlotId) -> Vec<Option<(BigRational, BigRational)>> {
    let Some(catalogue) =
        site.book.slots.get(slot.0).and_then(|slot| site.book.catalogues.get(slot.catalogue.0))
    else {
        return Vec::new();
    };
    let column = catalogue.column("sd");
    let own = catalogue.options.iter().map(|option| column.and_then(|column| option.cells.get(column.0)));
    own.map(|cell| match cell.map(|cell| &cell.value) {
        Some(CellValue::Measure(low, high)) => Some((low.value().clone(), high.value().clone())),
        _ => None,
    })
    .collect()
}
