//! What is said beside a duty that is not certain, or not yet allowed: until what, after what, only if what. The words
//! stand in the templates.

use serde::Serialize;

use super::stops::Stops;
use super::view::View;
use crate::inference::outcome::Mark;
use crate::rulebook::book::{SlotId, StageId, Stops as HeldBy};

/// One reservation.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(super) enum Note {
    /// Not before these stops are released.
    After {
        /// Numbers of the stops.
        stops: Vec<usize>,
    },
    /// Applies until these facts are known.
    SafeSide {
        /// In words.
        facts: Vec<String>,
    },
    /// Applies only if one of these options is chosen.
    IfChosen {
        /// Their titles.
        options: Vec<String>,
    },
    /// Follows from the option picked for now; these facts settle the choice.
    Provisional {
        /// What is chosen, in words.
        slots: Vec<String>,
        /// In words.
        facts: Vec<String>,
    },
    /// A limit that is stricter than the certain one.
    Limit {
        /// What is limited, in words.
        quantity: String,
        /// Why it is not certain.
        why: Box<Note>,
        /// The limit that is certain in any case.
        certain: Option<String>,
    },
}

impl Note {
    /// Whether a reservation about a limit says nothing beyond this one: it hangs on the same facts and names no
    /// other limit.
    pub(super) fn says_more_than(&self, other: &Self) -> bool {
        let Self::Limit { why, certain: None, .. } = other else { return false };
        let facts = |note: &Self| match note {
            Self::SafeSide { facts } | Self::Provisional { facts, .. } => Some(facts.clone()),
            _ => None,
        };
        facts(self)
            .zip(facts(why))
            .is_some_and(|(mine, theirs)| theirs.iter().all(|fact| mine.contains(fact)))
    }
}

impl View<'_> {
    /// A mark in words; nothing for what is certain.
    pub(super) fn note(self, zone: usize, mark: &Mark) -> Option<Note> {
        match mark {
            Mark::Certain => None,
            Mark::Provisional => Some(self.provisional(zone, &self.open_slots(zone))),
            Mark::IfChosen(options) => Some(Note::IfChosen {
                options: options.iter().map(|(slot, option)| self.option_title(*slot, *option)).collect(),
            }),
            Mark::SafeSide(facts) => Some(Note::SafeSide { facts: self.fact_list(facts) }),
        }
    }

    /// The choice of these slots is made for now.
    pub(super) fn provisional(self, zone: usize, slots: &[SlotId]) -> Note {
        let mut facts = Vec::new();
        for slot in slots {
            let open = self.slot_outcome(zone, *slot).map_or(&[][..], |outcome| &outcome.open);
            facts.extend(self.fact_list(open));
        }
        facts.sort();
        facts.dedup();
        Note::Provisional { slots: slots.iter().map(|slot| self.slot_words(*slot)).collect(), facts }
    }

    /// The slots of one option whose choice is open in a zone.
    fn open_slots(self, zone: usize) -> Vec<SlotId> {
        let slots = self.zone(zone).map_or(&[][..], |zone| &zone.slots);
        slots.iter().filter(|slot| self.is_open(zone, slot.slot)).map(|slot| slot.slot).collect()
    }

    /// Whether an option is printed for a slot without being certain.
    pub(super) fn is_open(self, zone: usize, slot: SlotId) -> bool {
        use crate::inference::truth::Truth;
        self.slot_outcome(zone, slot).is_some_and(|outcome| {
            let pick = outcome.pick.and_then(|pick| outcome.options.get(pick.0));
            pick.is_some_and(|pick| pick.chosen != Truth::Yes)
        })
    }

    /// The stops that hold a stage back in a zone.
    pub(super) fn held(self, zone: usize, stage: Option<StageId>, stops: &Stops) -> Option<Note> {
        let stage = self.book.stages.get(stage?.0)?;
        let numbers = if stage.stops == HeldBy::HoldIt { stops.standing_in(zone) } else { Vec::new() };
        (!numbers.is_empty()).then_some(Note::After { stops: numbers })
    }
}
