//! The figures of the set, drawn from what was decided and worked out: which zones share one, and their data.

mod aids;
mod elevation;
mod joint;
mod likeness;
mod owner;
mod path;
mod sequence;
mod wall;
mod weather;

use std::collections::{BTreeMap, BTreeSet};

use super::papers::Desk;
use super::view::View;
use crate::drawing::Drawing;
use crate::inference::outcome::LimitEntry;
use crate::rulebook::book::{Bound, QuantityId};
use crate::units::System;
use crate::wall::study::{Conditions, ZoneStudy, conditions, study};
use wall::Walls;

pub(super) use likeness::Likeness;

/// The figures of zones in numbers, before anything is decided, with every coat of the book.
pub fn wall_figures(zones: &[&ZoneStudy], conditions: &Conditions, system: System) -> Vec<Drawing> {
    zones.iter().flat_map(|study| wall::numbers::all(study, conditions, system)).collect()
}

/// The kinds of figure. Papers list those that they may show, and only those are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// Dew-point grids (C1).
    DewPoint,
    /// Vapour ladders (S3).
    Ladder,
    /// Condensation profiles (R2).
    Condensation,
    /// Drying curves.
    Drying,
    /// Elevations with their zones (S1).
    Elevation,
    /// The same, small, where something is kept off.
    KeepOff,
    /// A wall cut away, for its owner (O1).
    CutAway,
    /// Signs to watch for (O2).
    Signs,
    /// How the coating of zones was chosen (R1).
    RulePath,
    /// Joints that are repointed (C2).
    Joint,
    /// The sequence of the work (R3).
    Sequence,
}

impl Kind {
    /// The name of the list that a template prints.
    fn list(self) -> &'static str {
        match self {
            Self::DewPoint => "dew_point",
            Self::Ladder => "ladder",
            Self::Condensation => "condensation",
            Self::Drying => "drying",
            Self::Elevation => "elevation",
            Self::KeepOff => "keep_off",
            Self::CutAway => "cut_away",
            Self::Signs => "signs",
            Self::RulePath => "rule_path",
            Self::Joint => "joint",
            Self::Sequence => "sequence",
        }
    }
}

/// The figures of some kinds.
#[derive(Debug, Default)]
pub(super) struct Figures {
    drawings: BTreeMap<String, Drawing>,
    names: BTreeMap<Kind, Vec<String>>,
}

impl Figures {
    pub(super) fn of(desk: Desk<'_>, kinds: &BTreeSet<Kind>) -> Self {
        let view = desk.view;
        let mut figures = Self::default();
        let of_wall = [Kind::Ladder, Kind::Condensation, Kind::Drying];
        let walls = of_wall.iter().any(|kind| kinds.contains(kind)).then(|| Walls {
            view,
            zones: study(view.survey, view.book),
            conditions: conditions(view.survey, view.book),
        });
        for kind in kinds {
            let drawings = match (kind, &walls) {
                (Kind::DewPoint, _) => weather::grids(view),
                (Kind::Elevation, _) => elevation::keys(desk),
                (Kind::CutAway, _) => owner::wall(desk).into_iter().collect(),
                (Kind::Sequence, _) => sequence::of_job(view).into_iter().collect(),
                (Kind::Joint, _) => joint::joints(view),
                (Kind::RulePath, _) => path::paths(desk),
                (Kind::Signs, _) => owner::shown_signs(desk).into_iter().collect(),
                (Kind::KeepOff, _) => elevation::keep_off(desk).into_iter().collect(),
                (Kind::Ladder, Some(walls)) => walls.ladders(),
                (Kind::Condensation, Some(walls)) => walls.profiles(),
                (Kind::Drying, Some(walls)) => walls.dryings(),
                (_, None) => Vec::new(),
            };
            figures.add(*kind, drawings);
        }
        figures
    }

    fn add(&mut self, kind: Kind, drawings: Vec<Drawing>) {
        self.names.insert(kind, drawings.iter().map(|drawing| drawing.id.clone()).collect());
        self.drawings.extend(drawings.into_iter().map(|drawing| (drawing.id.clone(), drawing)));
    }

    /// The names of figures as a template sees them: a list for each kind, in the order of their zones.
    pub(super) fn names(&self, kinds: &[Kind]) -> BTreeMap<&'static str, &[String]> {
        let names = |kind: &Kind| self.names.get(kind).map_or(&[][..], Vec::as_slice);
        kinds.iter().map(|kind| (kind.list(), names(kind))).collect()
    }

    /// The figure of a name: one of the job, or one that any paper may show.
    pub(super) fn named(&self, name: &str) -> Option<Drawing> {
        self.drawings.get(name).cloned().or_else(|| aids::named(name))
    }
}

/// One figure for zones whose data are equal, in the order of the zones.
fn drawn<T: PartialEq>(
    view: View<'_>,
    kind: &str,
    data: impl Fn(usize) -> Option<T>,
    make: impl Fn(&T, String, Option<String>) -> Option<Drawing>,
) -> Vec<Drawing> {
    let groups = grouped(view, data).into_iter();
    let drawings = groups.enumerate().filter_map(|(place, (zones, data))| {
        make(&data, format!("{kind}-{}", place + 1), zones_words(view, &zones))
    });
    drawings.collect()
}

/// Zones whose data are equal, each group with its data, in the order of the zones.
fn grouped<T: PartialEq>(view: View<'_>, data: impl Fn(usize) -> Option<T>) -> Vec<(Vec<usize>, T)> {
    let mut groups: Vec<(Vec<usize>, T)> = Vec::new();
    for zone in view.zones() {
        let Some(own) = data(zone) else { continue };
        match groups.iter_mut().find(|(_, known)| *known == own) {
            Some((zones, _)) => zones.push(zone),
            None => groups.push((vec![zone], own)),
        }
    }
    groups
}

/// `zone Q1`, `zones Q1 and Q2`; `None` for all zones.
fn zones_words(view: View<'_>, zones: &[usize]) -> Option<String> {
    let codes = view.words.listed(&view.codes(zones), "and");
    match zones {
        all if all.len() == view.zones().len() => None,
        [_] => Some(format!("zone {codes}")),
        _ => Some(format!("zones {codes}")),
    }
}

/// The limits on a quantity in a zone from one side, strictest first.
fn limits<'a>(view: View<'a>, zone: usize, quantity: &str, bound: Bound) -> Option<&'a [LimitEntry]> {
    let id = view.book.quantities.iter().position(|known| known.name == quantity).map(QuantityId)?;
    let limits = &view.zone(zone)?.limits;
    let found = limits.iter().find(|limit| limit.quantity == id && limit.bound == bound)?;
    Some(&found.entries)
}
