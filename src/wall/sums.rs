//! Condensation and rain as worked facts of each coat, and what of the resistance a coat holds.
//!
//! A spread counts at its adverse end: the worst of the corners of `study`. What the survey leaves open stays bounds.
//! Of condensation the worst of all ways that can be reckoned counts: both editions of DIN 4108-3, and the year where
//! the job has a climate.

use std::cell::OnceCell;

use num_rational::BigRational;
use num_traits::Zero;

use super::found::{Bounds, Found};
use super::site::Site;
use super::study::corner::Side;
use super::study::sum::{self, Coat, Coated, Way};
use super::study::{Figure, conditions_of_year, film_of, ranged, tables};
use super::vapour::{self, ByOption};
use super::words;
use crate::physics::classes::Edition;
use crate::physics::condensation::{CAVEAT, Capillarity};
use crate::rulebook::book::{End, SlotId};
use crate::units::Dimension;

/// What condensation makes of the coats of a slot, worked at most once a zone.
#[derive(Debug, Default)]
pub(super) struct Sums(OnceCell<(SlotId, OfSlot)>);

/// One entry an option, none for what is no coat; or what is missing.
type OfSlot = Result<Vec<Option<OfCoat>>, Vec<String>>;

/// What a coat does at worst, kg/m², one a case of what the survey leaves open.
#[derive(Debug, Clone, Default)]
struct OfCoat {
    increment: Vec<f64>,
    /// `None` where the sum speaks of the wall and not of the coat: it keeps condensate without the coat too, or the coat
    /// brings less than the wall holds by itself.
    left: Vec<Option<f64>>,
    /// `None` where the coat is no film.
    at_film: Vec<Option<f64>>,
}

/// Which of the facts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Condensate {
    /// How much more condenses than on the wall as it stands.
    Increment,
    /// What the coat keeps in the wall from year to year, where the wall as it stands dries.
    Left,
    /// What condenses in planes that border on the coat, if it is a film.
    AtFilm,
}

/// A fact of condensation for each coat; absent where there is no coat, or where the sum does not speak of it.
pub(super) fn condensation(site: &Site<'_>, slot: SlotId, which: Condensate) -> ByOption {
    let (of_slot, worked) = site.sums.0.get_or_init(|| (slot, work(site, slot)));
    let own;
    let worked = if *of_slot == slot {
        worked
    } else {
        own = work(site, slot);
        &own
    };
    match worked {
        Err(missing) => open(site, slot, missing.clone()),
        Ok(coats) => {
            let options =
                coats.iter().map(|coat| coat.as_ref().map_or_else(absent, |coat| shown(site, coat, which)));
            ByOption { options: options.collect(), working: Some(working(site)), missing: Vec::new() }
        }
    }
}

fn absent() -> (Found, String) {
    (Found::Absent, "none".to_owned())
}

fn shown(site: &Site<'_>, coat: &OfCoat, which: Condensate) -> (Found, String) {
    let values: Vec<f64> = match which {
        Condensate::Increment => coat.increment.clone(),
        Condensate::Left => coat.left.iter().flatten().copied().collect(),
        Condensate::AtFilm => coat.at_film.iter().flatten().copied().collect(),
    };
    let ends = values.iter().copied().reduce(f64::min).zip(values.iter().copied().reduce(f64::max));
    let figure = ends.and_then(|(low, high)| Figure::of_condensate(low, high).ok());
    figure.map_or_else(absent, |figure| {
        let shown = figure.print(site.system());
        (Found::Bounds(Bounds::between(figure.low, figure.high)), shown)
    })
}

/// Every coat open, for something is missing; what is no coat stays absent.
fn open(site: &Site<'_>, slot: SlotId, missing: Vec<String>) -> ByOption {
    let options = vapour::own_sds(site, slot).into_iter();
    let options = options.map(|sd| if sd.is_some() { (Found::Open, String::new()) } else { absent() });
    ByOption { options: options.collect(), working: None, missing }
}

fn working(site: &Site<'_>) -> String {
    let year = conditions_of_year(site.survey, site.book).ok().map(|(climate, _)| climate);
    let year = year.map(|climate| format!(" and ISO 13788 by months ({climate})")).unwrap_or_default();
    format!(
        "worst case of DIN 4108-3 in the editions of 2001 and 2018{year}, cases left out in which the inner face itself \
         is wet; {CAVEAT}"
    )
}

fn work(site: &Site<'_>, slot: SlotId) -> OfSlot {
    let wall = ranged(site)?;
    let beyond = || vec!["figures within the range of the sum".to_owned()];
    let corners = wall.corners(&[Side::Adverse]).ok_or_else(beyond)?;
    let slicing = wall.slicing();
    let year = conditions_of_year(site.survey, site.book).ok();
    let blocks = [Edition::Of2001, Edition::Of2018].into_iter().map(Way::Block);
    let ways: Vec<Way<'_>> = blocks.chain(year.iter().map(|(_, months)| Way::Year(months))).collect();
    let bare: Option<Vec<_>> = ways.iter().map(|way| sum::bare(&corners, *way, slicing)).collect();
    let bare = bare.ok_or_else(beyond)?;
    let films = film_of(site.book, slot);
    let coats = vapour::own_sds(site, slot).into_iter().zip(films).map(|(sd, capillarity)| {
        let Some((low, high)) = sd else { return Ok(None) };
        let sd = Figure::between(Dimension::AirLayer, low, high).ends().ok_or_else(beyond)?;
        let coat = Coat { sd, capillarity };
        let each = bare.iter().map(|bare| bare.coated(coat));
        let each: Option<Vec<Vec<Coated>>> = each.collect();
        Ok(Some(worst(&each.ok_or_else(beyond)?.concat(), capillarity)))
    });
    coats.collect()
}

/// The worst of each case of doubt.
fn worst(each: &[Coated], capillarity: Capillarity) -> OfCoat {
    let cases = each.iter().map(|one| one.doubt).max().map_or(0, |most| most + 1);
    let mut coat = OfCoat::default();
    for case in 0..cases {
        let here = || each.iter().filter(|one| one.doubt == case);
        let most = |of: &dyn Fn(&Coated) -> Option<f64>| here().filter_map(of).reduce(f64::max);
        coat.increment.extend(most(&|one| Some(one.increment())));
        coat.left.push(most(&|one| speaks_of_the_coat(one).then_some(one.with.left)));
        let film = capillarity == Capillarity::Repels;
        coat.at_film.push(most(&|one| film.then_some(one.with.at_film)));
    }
    coat
}

/// Whether what stays is the doing of the coat. A wall that condenses much by itself and hardly dries is tipped over by
/// anything, limewash too, and by the way in which the standard places the wet plane.
fn speaks_of_the_coat(one: &Coated) -> bool {
    one.bare.left <= 0.0 && one.increment() >= one.bare.condensed
}

/// Uptake times the equivalent air layer of everything outside the masonry; absent for what does not turn rain away.
pub(super) fn rain_product(site: &Site<'_>, slot: SlotId, end: End) -> ByOption {
    let total = vapour::total_sd(site, slot, end);
    let Some(catalogue) =
        site.book.slots.get(slot.0).and_then(|slot| site.book.catalogues.get(slot.catalogue.0))
    else {
        return total;
    };
    let options = catalogue.options.iter().zip(total.options).map(|(row, (found, _))| {
        let turns = tables::said(catalogue, row, "turns-rain").and_then(|said| said.yes());
        let uptake = tables::said(catalogue, row, "uptake").and_then(|said| said.figure());
        let (Some(true), Some(uptake)) = (turns, uptake) else { return absent() };
        let w = super::layer::at_end(end, &uptake.low, &uptake.high);
        let times = |sd: Option<BigRational>| sd.map(|sd| sd * w);
        match found {
            Found::Bounds(total) => {
                let product = Bounds { low: times(total.low), high: times(total.high) };
                let shown = words::bounds(&product, Dimension::RainProduct, site.system());
                (Found::Bounds(product), shown)
            }
            other => (other, String::new()),
        }
    });
    let working = total.working.map(|working| format!("uptake of the coat times sd: {working}"));
    ByOption { options: options.collect(), working, missing: total.missing }
}

/// What of the resistance of coat, old coats and face together lies outside the face, in per cent.
pub(super) fn share_of_face(site: &Site<'_>, slot: SlotId, end: End) -> ByOption {
    let towards = match end {
        End::Low => End::High,
        End::High => End::Low,
    };
    let ratio = vapour::outer_over_face(site, slot, towards);
    let share = |ratio: &BigRational| {
        let hundred = BigRational::from_integer(100.into());
        hundred / (ratio + BigRational::from_integer(1.into()))
    };
    let options = ratio.options.into_iter().map(|(found, _)| match found {
        Found::Bounds(ratio) => {
            let low = ratio.high.as_ref().map_or_else(|| Some(BigRational::zero()), |high| Some(share(high)));
            let bounds = Bounds { low, high: ratio.low.as_ref().map(share) };
            let shown = words::bounds(&bounds, Dimension::Percent, site.system());
            (Found::Bounds(bounds), shown)
        }
        Found::Absent => absent(),
        other => (other, String::new()),
    });
    ByOption { options: options.collect(), working: ratio.working, missing: ratio.missing }
}
