//! What was chosen where, and under which stops.

use serde::Serialize;

use super::note::Note;
use super::stops::Stops;
use super::view::{Extent, View};
use crate::inference::truth::Truth;
use crate::rulebook::book::{OptionId, Picks, Slot, SlotId};
use crate::rulebook::words::spoken;

/// What was chosen for a slot in zones that chose alike.
#[derive(Debug, Serialize)]
pub(super) struct Choice {
    slot: String,
    #[serde(flatten)]
    extent: Extent,
    /// Titles: one, or the sequence.
    picks: Vec<String>,
    in_order: bool,
    certain: bool,
    /// The other options that are still possible.
    others: Vec<String>,
    /// Facts that leave the choice open.
    open: Vec<String>,
    /// Numbers of the stops that stand in these zones.
    stops: Vec<usize>,
}

/// A zone with what was picked for it.
#[derive(Debug, Serialize)]
pub(super) struct ZoneRow {
    code: String,
    name: String,
    /// One title a slot; empty where there is nothing to choose.
    picks: Vec<String>,
    pub(super) notes: Vec<Note>,
}

/// Zones under the same stops.
#[derive(Debug, Serialize)]
pub(super) struct Barred {
    #[serde(flatten)]
    extent: Extent,
    stops: Vec<usize>,
}

/// The slots of one option that arise in some zone.
pub(super) fn arising(view: View<'_>) -> Vec<SlotId> {
    let arises = |slot: &SlotId| {
        view.zones()
            .filter_map(|zone| view.slot_outcome(zone, *slot))
            .any(|outcome| outcome.arises != Truth::No)
    };
    let slots = view.book.slots.iter().enumerate().filter(|(_, slot)| slot.picks == Picks::One);
    slots.map(|(index, _)| SlotId(index)).filter(arises).collect()
}

pub(super) fn zone_rows(view: View<'_>, stops: &Stops, slots: &[SlotId]) -> Vec<ZoneRow> {
    let rows = view.survey.zones.iter().enumerate().map(|(index, zone)| {
        let pick = |slot: &SlotId| {
            let outcome = view.slot_outcome(index, *slot).filter(|outcome| outcome.arises != Truth::No)?;
            outcome.pick.map(|pick| view.option_title(*slot, pick))
        };
        let open: Vec<SlotId> =
            slots.iter().copied().filter(|slot| pick(slot).is_some() && view.is_open(index, *slot)).collect();
        let standing = stops.standing_in(index);
        let mut notes = Vec::new();
        if !standing.is_empty() {
            notes.push(Note::After { stops: standing });
        }
        if !open.is_empty() {
            notes.push(view.provisional(index, &open));
        }
        ZoneRow {
            code: zone.code.clone(),
            name: zone.name.clone(),
            picks: slots.iter().map(|slot| pick(slot).unwrap_or_default()).collect(),
            notes,
        }
    });
    rows.collect()
}

/// The zones that stops hold back, those under the same stops together.
pub(super) fn barred(view: View<'_>, stops: &Stops) -> Vec<Barred> {
    let mut found: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for zone in view.zones() {
        let standing = stops.standing_in(zone);
        if standing.is_empty() {
            continue;
        }
        match found.iter_mut().find(|(known, _)| *known == standing) {
            Some((_, zones)) => zones.push(zone),
            None => found.push((standing, vec![zone])),
        }
    }
    found.into_iter().map(|(stops, zones)| Barred { extent: Extent::of(view, &zones), stops }).collect()
}

/// The choices of every slot, zones that chose alike together.
pub(super) fn choices(view: View<'_>, stops: &Stops) -> Vec<Choice> {
    let slots = view.book.slots.iter().enumerate();
    slots.flat_map(|(index, slot)| choices_of(view, stops, SlotId(index), slot)).collect()
}

fn choices_of(view: View<'_>, stops: &Stops, id: SlotId, slot: &Slot) -> Vec<Choice> {
    let mut found: Vec<(Vec<usize>, Choice)> = Vec::new();
    for zone in view.zones() {
        let Some(choice) = choice(view, stops, zone, id, slot) else { continue };
        let alike = found.iter_mut().find(|(_, known)| {
            (&known.picks, &known.others, &known.open, &known.stops)
                == (&choice.picks, &choice.others, &choice.open, &choice.stops)
        });
        match alike {
            Some((zones, _)) => zones.push(zone),
            None => found.push((vec![zone], choice)),
        }
    }
    found.into_iter().map(|(zones, choice)| Choice { extent: Extent::of(view, &zones), ..choice }).collect()
}

fn choice(view: View<'_>, stops: &Stops, zone: usize, id: SlotId, slot: &Slot) -> Option<Choice> {
    let outcome = view.slot_outcome(zone, id).filter(|outcome| outcome.arises != Truth::No)?;
    let in_order = slot.picks == Picks::InOrder;
    let picked: Vec<_> = if in_order { outcome.sequence.clone() } else { outcome.pick.into_iter().collect() };
    let chosen = |option: usize| outcome.options.get(option).map_or(Truth::No, |option| option.chosen);
    let possible = (0..outcome.options.len()).filter(|option| chosen(*option) == Truth::Unknown);
    let others = possible.map(OptionId).filter(|option| !picked.contains(option));
    Some(Choice {
        slot: spoken(&slot.name),
        extent: Extent::default(),
        certain: picked.iter().all(|option| chosen(option.0) == Truth::Yes),
        picks: picked.iter().map(|option| view.option_title(id, *option)).collect(),
        in_order,
        others: others.map(|option| view.option_title(id, option)).collect(),
        open: view.fact_list(&outcome.open),
        stops: stops.standing_in(zone),
    })
}
