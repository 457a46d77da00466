//! The coats of a zone: how many, how far a litre goes, how many litres that is. The arithmetic is that of a flat wall;
//! the sample panel tells what a rough one takes.

use num_rational::BigRational;
use num_traits::{One, ToPrimitive, Zero};
use serde::Serialize;

use super::data::Site;
use crate::document::view::View;
use crate::inference::outcome::LimitEntry;
use crate::inference::truth::Truth;
use crate::physics::{practical_volume, wet_film_at};
use crate::rulebook::book::{CellValue, OptionId, QuantityId, SlotId};
use crate::units::{Dimension, Quantity, print, print_range};

/// The coats of one zone that are alike.
#[derive(Debug, Clone, Serialize)]
pub(super) struct CoatRow {
    pub(super) zone: String,
    /// What it is, in words.
    pub(super) title: String,
    /// Of these coats the first, counted from one.
    from: usize,
    /// And the last.
    to: usize,
    /// Net area, both ends where they differ; empty where not known.
    pub(super) area: String,
    /// Area that a volume covers.
    spread: String,
    /// Litres for each of these coats; empty where the area is not known.
    volume: String,
    /// What a pail covers.
    pail: String,
    /// How thick a coat is while wet, evenly laid on a flat face.
    wet_film: String,
}

/// What is chosen as coat for a zone.
#[derive(Debug, Clone, Copy)]
pub(in crate::document) enum Chosen {
    /// A coat.
    Coat(SlotId, OptionId),
    /// To leave the wall bare.
    Bare(SlotId, OptionId),
}

type Range = (BigRational, BigRational);

/// What is chosen as coat for a zone; nothing where the book has no such slot or nothing is picked.
pub(in crate::document) fn chosen(view: View<'_>, site: &Site, zone: usize) -> Option<Chosen> {
    let slot = view.book.slots.iter().position(|slot| slot.name == site.coat.slot).map(SlotId)?;
    let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No)?;
    let pick = outcome.pick?;
    let is_coat = spread(view, slot, pick, &site.coat.first).is_some();
    Some(if is_coat { Chosen::Coat(slot, pick) } else { Chosen::Bare(slot, pick) })
}

/// The coats of a zone, the first apart from those that follow where a litre goes less or more far.
pub(super) fn coats(view: View<'_>, site: &Site, zone: usize) -> Vec<CoatRow> {
    let Some(Chosen::Coat(slot, option)) = chosen(view, site, zone) else { return Vec::new() };
    let number = number(view, site, zone).unwrap_or(1);
    let first = spread(view, slot, option, &site.coat.first);
    let next = spread(view, slot, option, &site.coat.next);
    let runs = match (&first, &next) {
        (Some(first), Some(next)) if number > 1 && first != next => {
            vec![(1, 1, first.clone()), (2, number, next.clone())]
        }
        (Some(first), _) => vec![(1, number, first.clone())],
        _ => Vec::new(),
    };
    let row = |(from, to, spread): (usize, usize, (Quantity, Quantity))| CoatRow {
        zone: view.code(zone),
        title: view.option_title(slot, option),
        from,
        to,
        area: area(view, zone),
        volume: volume(view, zone, &spread).unwrap_or_default(),
        pail: pail(view, site, &spread),
        wet_film: wet_film(view, &spread).unwrap_or_default(),
        spread: range(view, &spread.0, &spread.1),
    };
    runs.into_iter().map(row).collect()
}

/// All litres of a zone, from the least to the most.
pub(super) fn litres(view: View<'_>, site: &Site, zone: usize) -> Option<Range> {
    let Some(Chosen::Coat(slot, option)) = chosen(view, site, zone) else { return None };
    let number = number(view, site, zone).unwrap_or(1);
    let first = spread(view, slot, option, &site.coat.first)?;
    let next = spread(view, slot, option, &site.coat.next).unwrap_or_else(|| first.clone());
    let (mut low, mut high) = volumes(view, zone, &first)?;
    let (each_low, each_high) = volumes(view, zone, &next)?;
    let more = BigRational::from_integer(number.saturating_sub(1).into());
    low += each_low * &more;
    high += each_high * more;
    Some((low, high))
}

/// Both ends of a worked range in words.
pub(super) fn worked(view: View<'_>, (low, high): &Range, dimension: Dimension) -> String {
    let [low, high] = [low, high].map(|end| Quantity::from_base(end.clone(), dimension));
    range(view, &low, &high)
}

/// The net area of a zone in words.
pub(super) fn area(view: View<'_>, zone: usize) -> String {
    view.net_area(zone).map(|area| worked(view, &area, Dimension::Area)).unwrap_or_default()
}

fn range(view: View<'_>, low: &Quantity, high: &Quantity) -> String {
    if low.value() == high.value() {
        print(low, view.system())
    } else {
        print_range(low, high, view.system())
    }
}

/// The number of coats that the limit asks for.
fn number(view: View<'_>, site: &Site, zone: usize) -> Option<usize> {
    let id = view.book.quantities.iter().position(|known| known.name == site.coat.number).map(QuantityId)?;
    let mut limits = view.zone(zone)?.limits.iter().filter(|limit| limit.quantity == id);
    let entry: &LimitEntry = limits.find_map(|limit| limit.entries.first())?;
    entry.value.value().ceil().to_integer().to_usize().filter(|number| (1..=99).contains(number))
}

fn spread(view: View<'_>, slot: SlotId, option: OptionId, column: &str) -> Option<(Quantity, Quantity)> {
    let catalogue = view.catalogue(slot)?;
    let cell = catalogue.cell(option, catalogue.column(column)?)?;
    match &cell.value {
        CellValue::Measure(low, high) if low.dimension() == Dimension::Spread => {
            Some((low.clone(), high.clone()))
        }
        _ => None,
    }
}

fn volume(view: View<'_>, zone: usize, spread: &(Quantity, Quantity)) -> Option<String> {
    volumes(view, zone, spread).map(|volumes| worked(view, &volumes, Dimension::Volume))
}

/// The least area at the widest spread, the greatest at the narrowest.
fn volumes(view: View<'_>, zone: usize, spread: &(Quantity, Quantity)) -> Option<Range> {
    let (least, most) = view.net_area(zone)?;
    let flat = |area: &BigRational, spread: &Quantity| {
        practical_volume(area, &BigRational::one(), spread.value(), &BigRational::zero())
    };
    Some((flat(&least, &spread.1)?, flat(&most, &spread.0)?))
}

fn pail(view: View<'_>, site: &Site, spread: &(Quantity, Quantity)) -> String {
    let Some(pail) = site.pail(view.system()) else { return String::new() };
    let covers = (pail.value() * spread.0.value(), pail.value() * spread.1.value());
    worked(view, &covers, Dimension::Area)
}

/// The thinnest film at the widest spread, the thickest at the narrowest.
fn wet_film(view: View<'_>, spread: &(Quantity, Quantity)) -> Option<String> {
    let film = |spread: &Quantity| {
        Quantity::from_base_in(wet_film_at(spread.value())?, Dimension::Length, "µm").ok()
    };
    Some(range(view, &film(&spread.1)?, &film(&spread.0)?))
}
