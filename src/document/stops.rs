//! Stops, numbered once for the whole set, released ones too.

use serde::Serialize;

use super::note::Note;
use super::view::{Extent, View};
use crate::inference::outcome::{StopCause, StopDuty};
use crate::inference::truth::Truth;
use crate::rulebook::book::EffectKind;
use crate::rulebook::words::spoken;

/// The stops of a job.
#[derive(Debug, Default)]
pub(super) struct Stops {
    found: Vec<(Key, Vec<(usize, StopDuty)>)>,
}

/// What makes two stops one.
#[derive(Debug, PartialEq, Eq)]
enum Key {
    Rule(usize, usize),
    NothingLeft(usize),
    Circle(usize),
    Clash(usize),
}

/// A stop as templates see it.
#[derive(Debug, Serialize)]
pub(super) struct Stop {
    number: usize,
    /// `rule`, `nothing-left`, `circle` or `clash`.
    kind: &'static str,
    /// The words of the rule, or what is at odds.
    what: String,
    until: String,
    released_by: String,
    rules: Vec<String>,
    #[serde(flatten)]
    extent: Extent,
    notes: Vec<Note>,
    /// The zones where it was released, with who, when and on which paper.
    releases: Vec<Released>,
    /// The zones where it stands.
    standing: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Released {
    zone: String,
    role: String,
    date: String,
    paper: String,
}

impl Stops {
    pub(super) fn of(view: View<'_>) -> Self {
        let mut found: Vec<(Key, Vec<(usize, StopDuty)>)> = Vec::new();
        for zone in view.zones() {
            for duty in view.zone(zone).map_or(&[][..], |outcome| &outcome.stops) {
                let key = key(&duty.cause);
                match found.iter_mut().find(|(known, _)| *known == key) {
                    Some((_, duties)) => duties.push((zone, duty.clone())),
                    None => found.push((key, vec![(zone, duty.clone())])),
                }
            }
        }
        Self { found }
    }

    /// The numbers of the stops that stand in a zone.
    pub(super) fn standing_in(&self, zone: usize) -> Vec<usize> {
        let stands = |duties: &[(usize, StopDuty)]| {
            duties.iter().any(|(at, duty)| *at == zone && duty.released.is_none())
        };
        self.found
            .iter()
            .enumerate()
            .filter(|(_, (_, duties))| stands(duties))
            .map(|(index, _)| index + 1)
            .collect()
    }

    /// What the stops say that rules state, of those of which some duty is wanted.
    pub(super) fn stated(&self, view: View<'_>, wanted: impl Fn(usize, &StopDuty) -> bool) -> Vec<String> {
        let one = |duties: &[(usize, StopDuty)]| {
            let (zone, duty) = duties.iter().find(|(zone, duty)| wanted(*zone, duty))?;
            let is_stated = matches!(duty.cause, StopCause::Rule(_));
            is_stated.then(|| words(view, *zone, &duty.cause).what.trim_end_matches('.').to_owned())
        };
        self.found.iter().filter_map(|(_, duties)| one(duties)).collect()
    }

    /// How many stand somewhere.
    pub(super) fn standing(&self) -> usize {
        let stands = |duties: &[(usize, StopDuty)]| duties.iter().any(|(_, duty)| duty.released.is_none());
        self.found.iter().filter(|(_, duties)| stands(duties)).count()
    }

    pub(super) fn shown(&self, view: View<'_>) -> Vec<Stop> {
        self.found.iter().enumerate().map(|(index, (_, duties))| stop(view, index + 1, duties)).collect()
    }
}

fn key(cause: &StopCause) -> Key {
    match cause {
        StopCause::Rule(cause) => Key::Rule(cause.rule.0, cause.effect),
        StopCause::NothingLeft(slot, _) => Key::NothingLeft(slot.0),
        StopCause::Circle(slot, _, _) => Key::Circle(slot.0),
        StopCause::Clash(quantity) => Key::Clash(quantity.0),
    }
}

fn stop(view: View<'_>, number: usize, duties: &[(usize, StopDuty)]) -> Stop {
    let zones: Vec<usize> = duties.iter().map(|(zone, _)| *zone).collect();
    let mut notes: Vec<Note> =
        duties.iter().filter_map(|(zone, duty)| view.note(*zone, &duty.mark)).collect();
    notes.dedup();
    let standing: Vec<usize> =
        duties.iter().filter(|(_, duty)| duty.released.is_none()).map(|(zone, _)| *zone).collect();
    let said = duties.first().map(|(zone, duty)| words(view, *zone, &duty.cause)).unwrap_or_default();
    Stop {
        number,
        kind: said.kind,
        what: said.what,
        until: said.until,
        released_by: said.released_by,
        rules: said.rules,
        extent: Extent::of(view, &zones),
        notes,
        releases: duties.iter().filter_map(|(zone, duty)| released(view, *zone, duty)).collect(),
        standing: view.codes(&standing),
    }
}

fn released(view: View<'_>, zone: usize, duty: &StopDuty) -> Option<Released> {
    let release = view.survey.releases.get(duty.released?)?;
    Some(Released {
        zone: view.code(zone),
        role: spoken(&release.role),
        date: release.date.clone(),
        paper: release.paper.clone(),
    })
}

#[derive(Default)]
struct Said {
    kind: &'static str,
    what: String,
    until: String,
    released_by: String,
    rules: Vec<String>,
}

fn words(view: View<'_>, zone: usize, cause: &StopCause) -> Said {
    match cause {
        StopCause::Rule(cause) => {
            let rules = vec![view.rule_name(cause.rule)];
            match view.effect(cause.rule, cause.effect) {
                Some(EffectKind::Stop { what, until, released_by }) => Said {
                    kind: "rule",
                    what: what.clone(),
                    until: until.clone(),
                    released_by: spoken(released_by),
                    rules,
                },
                _ => Said { kind: "rule", rules, ..Said::default() },
            }
        }
        StopCause::NothingLeft(slot, _) => {
            let options = view.slot_outcome(zone, *slot).map_or(&[][..], |outcome| &outcome.options);
            let refusals = options.iter().flat_map(|option| &option.refused_by);
            let mut rules: Vec<_> = refusals
                .filter(|cause| cause.truth != Truth::No)
                .map(|cause| view.rule_name(cause.rule))
                .collect();
            rules.sort();
            rules.dedup();
            Said { kind: "nothing-left", what: view.slot_words(*slot), rules, ..Said::default() }
        }
        StopCause::Circle(slot, _, rules) => Said {
            kind: "circle",
            what: view.slot_words(*slot),
            rules: rules.iter().map(|rule| view.rule_name(*rule)).collect(),
            ..Said::default()
        },
        StopCause::Clash(quantity) => {
            let clashes = view.zone(zone).map_or(&[][..], |outcome| &outcome.clashes);
            let clash = clashes.iter().find(|clash| clash.quantity == *quantity);
            let rules = clash.map(|clash| {
                [&clash.floor, &clash.ceiling].map(|entry| view.rule_name(entry.cause.rule)).to_vec()
            });
            let what = view
                .book
                .quantities
                .get(quantity.0)
                .map(|quantity| crate::rulebook::words::spoken(&quantity.name));
            Said {
                kind: "clash",
                what: what.unwrap_or_default(),
                rules: rules.unwrap_or_default(),
                ..Said::default()
            }
        }
    }
}
