//! The coats that the book offers, each against the wall as it stands.

use num_traits::Zero;

use super::corner::{Corner, KeptCoats, RangedWall, Side};
use super::figure::{Figure, Maybe, Reason, beyond};
use super::layers::permeance;
use super::model::{
    AgainstFace, Candidate, CoatStudy, Conditions, CriterionStudy, DryingStudy, FaceStudy, Method, Over,
    RainStudy, SumFound, SumStudy, WetInside,
};
use super::sum::{self, Bare, Coat, Coated, Way};
use super::{ranged, tables};
use crate::physics::classes::{Edition, VapourClass, WaterClass};
use crate::physics::condensation::{Block, Capillarity, Month, RangedLayer, rate_between};
use crate::physics::{Bounds, RainCriterion, Wetting, days_a_kilogram, first_stage_flow};
use crate::rulebook::book::{Book, Catalogue, CatalogueOption, OptionId};
use crate::units::Dimension;
use crate::wall::site::Site;

const EDITIONS: [Edition; 2] = [Edition::Of2001, Edition::Of2018];

/// The wall without a new coat, for each way to reckon.
type Standing<'a> = Vec<(Method, Maybe<Bare<'a>>)>;

/// The wall with its ranges, and its corners.
type Cornered = (RangedWall, Vec<Corner>);

/// The wall as it stands in each sum, and every coat of the book.
pub(super) fn candidates(
    site: &Site<'_>,
    conditions: &Conditions,
    months: &Maybe<Vec<Month>>,
    face: (&Maybe<Figure>, &Maybe<FaceStudy>),
) -> (Vec<SumStudy>, Vec<Candidate>) {
    let cornered = cornered(site);
    let standing =
        cornered.as_ref().map_err(Clone::clone).map(|cornered| standing(cornered, conditions, months));
    let as_it_stands = match &standing {
        Ok(standing) => standing.iter().map(|(method, bare)| without_coat(method, bare)).collect(),
        Err(why) => without(why, conditions),
    };
    let Some((_, catalogue)) = tables::coats(site.book) else { return (as_it_stands, Vec::new()) };
    let candidates = catalogue.options.iter().enumerate().map(|(place, row)| Candidate {
        option: OptionId(place),
        name: row.name.clone(),
        title: row.title.clone(),
        coat: coat((catalogue, row), conditions, &standing, face),
    });
    (as_it_stands, candidates.collect())
}

fn methods(conditions: &Conditions) -> Vec<Method> {
    let year = conditions.climate.as_ref().ok().map(|climate| Method::Iso13788(climate.name.clone()));
    EDITIONS.into_iter().map(Method::Din4108).chain(year).collect()
}

fn without(why: &Reason, conditions: &Conditions) -> Vec<SumStudy> {
    let sum = |method| SumStudy { method, found: Err(why.clone()) };
    methods(conditions).into_iter().map(sum).collect()
}

fn cornered(site: &Site<'_>) -> Maybe<Cornered> {
    let wall = ranged(site).map_err(|missing| Reason::new(format!("{} is missing", missing.join(", "))))?;
    let corners = wall.corners(&[Side::Benign, Side::Adverse]).ok_or_else(beyond)?;
    Ok((wall, corners))
}

fn standing<'a>(
    (wall, corners): &'a Cornered,
    conditions: &Conditions,
    months: &'a Maybe<Vec<Month>>,
) -> Standing<'a> {
    let slicing = wall.slicing();
    let ways = methods(conditions).into_iter().map(|method| {
        let way = match (&method, months) {
            (Method::Din4108(edition), _) => Ok(Way::Block(*edition)),
            (Method::Iso13788(_), Ok(months)) => Ok(Way::Year(months)),
            (Method::Iso13788(_), Err(why)) => Err(why.clone()),
        };
        let bare = way.and_then(|way| sum::bare(corners, way, slicing).ok_or_else(beyond));
        (method, bare)
    });
    ways.collect()
}

/// The wall as it stands, whose increment over itself is nothing.
fn without_coat(method: &Method, bare: &Maybe<Bare<'_>>) -> SumStudy {
    let found = bare.as_ref().map_err(Clone::clone).and_then(|bare| {
        let each = bare.corners.iter().map(|bare| Coated {
            spread: bare.corner.spread,
            doubt: bare.corner.doubt,
            bare: bare.mass,
            with: bare.mass,
        });
        found(&each.collect::<Vec<_>>(), Capillarity::Absorbs, bare.left_out)
    });
    SumStudy { method: method.clone(), found }
}

/// Both ends over all corners.
fn found(each: &[Coated], capillarity: Capillarity, left_out: usize) -> Maybe<SumFound> {
    if each.is_empty() {
        return Err(Reason::new(
            "by this sum the air of the room condenses on the inner face itself, whatever is put on the outer one",
        ));
    }
    let over = |of: &dyn Fn(&Coated) -> f64| {
        let low = each.iter().map(of).fold(f64::INFINITY, f64::min);
        let high = each.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        Figure::of_condensate(low, high)
    };
    let limits: Vec<(f64, bool)> =
        each.iter().filter_map(|one| Some((one.with.limit?, one.with.condensed > one.with.limit?))).collect();
    let least = limits.iter().map(|(limit, _)| *limit).reduce(f64::min);
    let limit = least.map(|limit| {
        let stands = match (limits.iter().all(|(_, over)| *over), limits.iter().any(|(_, over)| *over)) {
            (true, _) => Over::Both,
            (false, true) => Over::AtWorst,
            (false, false) => Over::Neither,
        };
        Figure::of_condensate(limit, limit).map(|limit| (limit.low, stands))
    });
    let at_film =
        (capillarity == Capillarity::Repels && limit.is_some()).then(|| over(&|one| one.with.at_film));
    Ok(SumFound {
        condensed: over(&|one| one.with.condensed)?,
        increment: over(&Coated::increment)?,
        left: over(&|one| one.with.left)?,
        at_film: at_film.transpose()?,
        limit: limit.transpose()?,
        wet_inside: if left_out > 0 { WetInside::SomeCases } else { WetInside::NoCase },
    })
}

/// A coat's own figures from the book.
struct Own {
    sd: Figure,
    uptake: Maybe<Figure>,
    wetting: Maybe<Wetting>,
    capillarity: Capillarity,
}

fn own(catalogue: &Catalogue, row: &CatalogueOption) -> Maybe<Own> {
    let said = |column| tables::said(catalogue, row, column);
    let sd = said("sd").and_then(|said| said.figure());
    let lacks = |what: &str| Reason::new(format!("the book gives no {what} of {}", row.title));
    let wetting = said("turns-rain").and_then(|said| said.yes());
    let wetting = wetting.map(|turns| if turns { Wetting::Repellent } else { Wetting::Absorbent });
    Ok(Own {
        sd: sd.ok_or_else(|| Reason::new("it is no coat"))?,
        uptake: said("uptake").and_then(|said| said.figure()).ok_or_else(|| lacks("water uptake")),
        wetting: wetting.ok_or_else(|| lacks("word on rain")),
        capillarity: capillarity(catalogue, row),
    })
}

/// A closed film draws in no water; what the book does not speak of is taken for one.
pub(in crate::wall) fn capillarity(catalogue: &Catalogue, row: &CatalogueOption) -> Capillarity {
    match tables::said(catalogue, row, "film").and_then(|said| said.yes()) {
        Some(false) => Capillarity::Absorbs,
        _ => Capillarity::Repels,
    }
}

fn coat(
    (catalogue, row): (&Catalogue, &CatalogueOption),
    conditions: &Conditions,
    standing: &Maybe<Standing<'_>>,
    (kept, face): (&Maybe<Figure>, &Maybe<FaceStudy>),
) -> Maybe<CoatStudy> {
    let own = own(catalogue, row)?;
    let total_sd = kept.clone().map(|kept| kept.plus(&own.sd));
    let face = face.as_ref().map_err(Clone::clone);
    let against = total_sd.clone().and_then(|total| Ok((total, face?.sd.clone())));
    let class = |end| VapourClass::of_sd(end).ok_or_else(beyond);
    let water = |uptake: &Figure| {
        WaterClass::of_w(&uptake.low).zip(WaterClass::of_w(&uptake.high)).ok_or_else(beyond)
    };
    Ok(CoatStudy {
        permeance: permeance(&own.sd, conditions),
        vapour_class: class(&own.sd.low).and_then(|low| Ok((low, class(&own.sd.high)?))),
        water_class: own.uptake.as_ref().map_err(Clone::clone).and_then(water),
        share: against.clone().and_then(|(total, face)| share(&total, &face)),
        against_face: against.map(|(total, face)| against_face(&total, &face)),
        rain: rain(&own, &total_sd),
        sums: sums(&own, standing, conditions),
        drying: total_sd.clone().and_then(|total| drying(&total, conditions)),
        uptake: own.uptake,
        sd: own.sd,
        total_sd,
    })
}

/// What of the resistance lies outside the face, per cent: `100 sd / (sd + sd_face)`.
fn share(total: &Figure, face: &Figure) -> Maybe<Figure> {
    let hundred = num_rational::BigRational::from_integer(100.into());
    let of = |total: &num_rational::BigRational, face: &num_rational::BigRational| {
        let whole = total + face;
        (!whole.is_zero()).then(|| total * &hundred / whole).ok_or_else(beyond)
    };
    Ok(Figure::between(Dimension::Percent, of(&total.low, &face.high)?, of(&total.high, &face.low)?))
}

fn against_face(total: &Figure, face: &Figure) -> AgainstFace {
    if total.high < face.low {
        AgainstFace::MoreOpen
    } else if total.low >= face.high {
        AgainstFace::Tighter
    } else {
        AgainstFace::Either
    }
}

fn rain(own: &Own, total: &Maybe<Figure>) -> RainStudy {
    let both = own.uptake.clone().and_then(|uptake| Ok((uptake, total.clone()?)));
    let product = both.clone().map(|(uptake, total)| uptake.times(&total, Dimension::RainProduct));
    let criteria = match (&own.wetting, both) {
        (Ok(wetting), Ok((uptake, total))) => RainCriterion::ALL
            .into_iter()
            .filter_map(|criterion| {
                Some(CriterionStudy {
                    missed_at_best: criterion.missed(&uptake.low, &total.low, *wetting)?,
                    missed_at_worst: criterion.missed(&uptake.high, &total.high, *wetting)?,
                    criterion,
                })
            })
            .collect(),
        _ => Vec::new(),
    };
    RainStudy { wetting: own.wetting.clone(), product, criteria }
}

fn sums(own: &Own, standing: &Maybe<Standing<'_>>, conditions: &Conditions) -> Vec<SumStudy> {
    let standing = match standing {
        Ok(standing) => standing,
        Err(why) => return without(why, conditions),
    };
    let coat = own.sd.ends().map(|sd| Coat { sd, capillarity: own.capillarity });
    let each = standing.iter().map(|(method, bare)| {
        let found = bare.as_ref().map_err(Clone::clone).and_then(|bare| {
            let coated = bare.coated(coat.ok_or_else(beyond)?).ok_or_else(beyond)?;
            found(&coated, own.capillarity, bare.left_out)
        });
        SumStudy { method: method.clone(), found }
    });
    each.collect()
}

fn drying(total: &Figure, conditions: &Conditions) -> Maybe<DryingStudy> {
    let one = |figure: &Maybe<Figure>| figure.clone()?.ends().ok_or_else(beyond);
    let (boundary, difference) = (one(&conditions.boundary)?.0, one(&conditions.difference)?.0);
    let (open, tight) = total.ends().ok_or_else(beyond)?;
    let at = |sd| {
        let flow = first_stage_flow(sd, boundary, difference).ok_or_else(beyond)?;
        let days = days_a_kilogram(sd, boundary, difference).ok_or_else(beyond)?;
        Ok((flow.figure(), days.figure() * 86_400.0))
    };
    let ((fast, short), (slow, long)) = (at(open)?, at(tight)?);
    Ok(DryingStudy {
        flow: Figure::of_floats(Dimension::VapourFlow, slow, fast)?,
        a_kilogram: Figure::of_floats(Dimension::Duration, short, long)?,
    })
}

/// What cannot be passed: bounds on what condenses in a winter of DIN 4108-3 behind a coat of the book, in kg/m², whatever
/// the values between all ends. `pieces` of the ranges are looked at; more make the bounds narrower, and none too narrow.
pub fn surely_between(
    survey: &crate::survey::Survey,
    book: &Book,
    (zone, option): (usize, OptionId),
    edition: Edition,
    pieces: usize,
) -> Maybe<Figure> {
    let of_zone = survey.zones.get(zone).ok_or_else(|| Reason::new("there is no such zone"))?;
    let sums = crate::wall::Sums::default();
    let site = Site { survey, book, zone: of_zone, index: zone, sums: &sums };
    let wall = ranged(&site).map_err(|missing| Reason::new(format!("{} is missing", missing.join(", "))))?;
    let coats = tables::coats(book).ok_or_else(|| Reason::new("the book has no slot `coating`"))?;
    let row = coats.1.options.get(option.0).ok_or_else(beyond)?;
    let own = own(coats.1, row)?;
    let layers = whole(&wall, own.sd.ends().ok_or_else(beyond)?).ok_or_else(beyond)?;
    let block = Block::of(edition).ok_or_else(beyond)?;
    let airs = (block.outside, block.inside);
    let rate = rate_between(&layers, block.surfaces, airs, wall.parts(), pieces).ok_or_else(beyond)?;
    let mass = Bounds::exactly(block.winter).map(|winter| rate * winter).ok_or_else(beyond)?;
    Figure::of_condensate(mass.low().max(0.0), up_to_a_gram(mass.high()))
}

/// Rounded up to the gram, so that rounding does not pass it.
fn up_to_a_gram(kilograms: f64) -> f64 {
    (kilograms * 1000.0).ceil() / 1000.0
}

fn whole(wall: &RangedWall, coat: (f64, f64)) -> Option<Vec<RangedLayer>> {
    let between = |ends: (f64, f64)| Bounds::between(ends.0, ends.1);
    let mut layers = vec![RangedLayer::film(between(coat)?)?];
    let KeptCoats { at_low, at_high, .. } = wall.kept;
    if at_high.1 > 0.0 {
        layers.push(RangedLayer::film(between((at_low.0.max(1e-6), at_high.1))?)?);
    }
    for layer in &wall.layers {
        layers.push(RangedLayer::of_material(
            between(layer.thickness)?,
            between(layer.lambda)?,
            between(layer.mu)?,
        )?);
    }
    Some(layers)
}
