//! Stages, quantities and slots.

use std::collections::BTreeSet;

use super::desk::{Desk, Index};
use super::gather::Stated;
use super::mistake_ground::GroundMistake;
use super::mistake_name::{NameMistake, listed, meant};
use super::mistake_order::OrderMistake;
use super::sorting::{sorted, told};
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::book::{
    CatalogueId, Condition, Departure, LimitedQuantity, QuantityId, Slot, SlotId, Stage, StageId, Stops,
};
use crate::rulebook::syntax::ast::{
    At, QuantityAttribute, QuantityDeclaration, SlotDeclaration, StageDeclaration, Word,
};
use crate::units::{Dimension, Quantity};

impl Desk {
    /// Reads the stages and puts them in an order that keeps every `after`.
    pub(super) fn stages(&mut self, stated: &[Stated<'_, StageDeclaration>]) {
        self.names.stages = Index::of(stated.iter().map(|stage| stage.said.name.value.as_str()));
        let mut waits: Vec<BTreeSet<usize>> = Vec::new();
        for stage in stated {
            let earlier = stage.said.after.iter().filter_map(|word| self.stage(word, stage.at(word.span)));
            waits.push(earlier.map(|stage| stage.0).collect());
        }
        let order = match sorted(&waits) {
            Ok(order) => order,
            Err(rings) => {
                self.stage_rings(stated, &rings);
                (0..stated.len()).collect()
            }
        };
        let mut place_of = vec![0; order.len()];
        for (place, thing) in order.iter().enumerate() {
            if let Some(slot) = place_of.get_mut(*thing) {
                *slot = place;
            }
        }
        let after = |thing: usize| -> Vec<StageId> {
            let earlier = waits.get(thing).into_iter().flatten();
            earlier.filter_map(|one| place_of.get(*one)).map(|place| StageId(*place)).collect()
        };
        let ordered: Vec<_> = order.iter().filter_map(|thing| Some((*thing, stated.get(*thing)?))).collect();
        self.book.stages = ordered.iter().map(|(thing, stage)| stage_of(stage, after(*thing))).collect();
        spread_stops(&mut self.book.stages);
        self.names.stages = Index::of(self.book.stages.iter().map(|stage| stage.name.as_str()));
    }

    fn stage_rings(&mut self, stated: &[Stated<'_, StageDeclaration>], rings: &[Vec<usize>]) {
        for ring in rings {
            let name = |thing: usize| {
                stated.get(thing).map_or_else(String::new, |stage| stage.said.name.value.clone())
            };
            let (first, ring_words) = told(ring, name);
            let at = ring.first().and_then(|thing| stated.get(*thing));
            if let Some(stage) = at {
                let mistake = OrderMistake::Stages { first, ring: ring_words };
                self.error(&mistake, stage.at(stage.said.name.span));
            }
        }
    }

    /// Finds a stage.
    pub(super) fn stage(&mut self, word: &Word, place: Place) -> Option<StageId> {
        let found = self.names.stages.get(&word.value);
        if found.is_none() {
            let names = &self.names.stages;
            let help = meant(&word.value, names.names(), || listed(names.names()));
            self.error(&NameMistake::Stage { name: word.value.clone(), help }, place);
        }
        found.map(StageId)
    }

    /// Reads the quantities.
    pub(super) fn quantities(&mut self, stated: &[Stated<'_, QuantityDeclaration>]) {
        let quantities: Vec<LimitedQuantity> =
            stated.iter().filter_map(|quantity| self.quantity_of(quantity)).collect();
        self.names.quantities = Index::of(quantities.iter().map(|quantity| quantity.name.as_str()));
        self.book.quantities = quantities;
    }

    fn quantity_of(&mut self, stated: &Stated<'_, QuantityDeclaration>) -> Option<LimitedQuantity> {
        let said = stated.said;
        let dimension = self.dimension(&said.dimension, stated.at(said.dimension.span))?;
        let mut quantity = LimitedQuantity {
            name: said.name.value.clone(),
            owner: said.owner,
            dimension,
            during: None,
            measured: None,
            taken_as: None,
            departure: Departure::Allowed,
            place: stated.place(),
        };
        let mut said_of = BTreeSet::new();
        for attribute in &said.attributes {
            let what = self.quantity_attribute(stated, attribute, &mut quantity);
            if !said_of.insert(what) {
                let mistake =
                    GroundMistake::SaidTwice { what: what.to_owned(), name: said.name.value.clone() };
                self.error(&mistake, stated.at(attribute.span));
            }
        }
        Some(quantity)
    }

    fn quantity_attribute(
        &mut self,
        stated: &Stated<'_, QuantityDeclaration>,
        attribute: &At<QuantityAttribute>,
        quantity: &mut LimitedQuantity,
    ) -> &'static str {
        match &attribute.value {
            QuantityAttribute::During(stage) => {
                quantity.during = self.stage(stage, stated.at(stage.span));
                "during"
            }
            QuantityAttribute::Measured(words) => {
                quantity.measured = Some(words.value.clone());
                "measured"
            }
            QuantityAttribute::TakenAs(value) => {
                let ground = self.ground(stated, &stated.said.name, &stated.said.ground);
                let value = self.measured(value, quantity.dimension, stated.at(value.span));
                quantity.taken_as = value.map(|value| (value, ground));
                "taken as"
            }
            QuantityAttribute::NoDeparture => {
                quantity.departure = Departure::Barred;
                "no departure"
            }
        }
    }

    /// Reads a figure with its unit.
    pub(super) fn measured(&mut self, word: &Word, dimension: Dimension, place: Place) -> Option<Quantity> {
        match Quantity::parse(&word.value, dimension) {
            Ok(quantity) => Some(quantity),
            Err(mistake) => {
                self.note(Diagnostic::error(&mistake, place));
                None
            }
        }
    }

    /// Finds a quantity.
    pub(super) fn quantity(&mut self, word: &Word, place: Place) -> Option<QuantityId> {
        let found = self.names.quantities.get(&word.value);
        if found.is_none() {
            let names = &self.names.quantities;
            let help = meant(&word.value, names.names(), || {
                format!("declare it with `quantity {} of zone, …`", word.value)
            });
            self.error(&NameMistake::Quantity { name: word.value.clone(), help }, place);
        }
        found.map(QuantityId)
    }

    /// Reads the slots; their conditions come later.
    pub(super) fn slots(&mut self, stated: &[Stated<'_, SlotDeclaration>]) {
        let mut slots = Vec::new();
        for slot in stated {
            let said = slot.said;
            let catalogue = self.catalogue(&said.catalogue, slot.at(said.catalogue.span));
            slots.push(Slot {
                name: said.name.value.clone(),
                picks: said.picks,
                catalogue: catalogue.unwrap_or(CatalogueId(usize::MAX)),
                only_where: None,
                place: slot.place(),
            });
        }
        self.names.slots = Index::of(slots.iter().map(|slot| slot.name.as_str()));
        self.book.slots = slots;
    }

    /// Compiles the conditions of the slots.
    pub(super) fn slot_conditions(&mut self, stated: &[Stated<'_, SlotDeclaration>]) {
        for (at, slot) in stated.iter().enumerate() {
            let condition: Option<Condition> =
                slot.said.only_where.as_ref().and_then(|condition| self.condition(slot, &condition.value));
            if let Some(slot) = self.book.slots.get_mut(at) {
                slot.only_where = condition;
            }
        }
    }

    /// Finds a slot.
    pub(super) fn slot(&mut self, word: &Word, place: Place) -> Option<SlotId> {
        let found = self.names.slots.get(&word.value);
        if found.is_none() {
            let names = &self.names.slots;
            let help = meant(&word.value, names.names(), || listed(names.names()));
            self.error(&NameMistake::Slot { name: word.value.clone(), help }, place);
        }
        found.map(SlotId)
    }

    /// Finds a catalogue.
    pub(super) fn catalogue(&mut self, word: &Word, place: Place) -> Option<CatalogueId> {
        let found = self.names.catalogues.get(&word.value);
        if found.is_none() {
            let names = &self.names.catalogues;
            let help = meant(&word.value, names.names(), || listed(names.names()));
            self.error(&NameMistake::Catalogue { name: word.value.clone(), help }, place);
        }
        found.map(CatalogueId)
    }
}

fn stage_of(stated: &Stated<'_, StageDeclaration>, after: Vec<StageId>) -> Stage {
    let said = stated.said;
    Stage { name: said.name.value.clone(), after, stops: said.stops, place: stated.place() }
}

/// What comes after a stage held by stops is held as well.
fn spread_stops(stages: &mut [Stage]) {
    for at in 0..stages.len() {
        let held = stages.get(at).is_some_and(|stage| {
            stage
                .after
                .iter()
                .any(|earlier| stages.get(earlier.0).is_some_and(|earlier| earlier.stops == Stops::HoldIt))
        });
        if let Some(stage) = stages.get_mut(at).filter(|_| held) {
            stage.stops = Stops::HoldIt;
        }
    }
}
