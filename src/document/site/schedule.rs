//! The values of the elevation schedule: what each zone is, how large, in what state it was found, what is done to it
//! and how much coat that takes. Quantities stand here and nowhere else.

use num_rational::BigRational;
use num_traits::Zero;
use serde::Serialize;

use super::coat::{Chosen, CoatRow, area, chosen, coats, litres, worked};
use super::data::Site;
use super::keep_off::things;
use crate::diagnostic::Diagnostic;
use crate::document::clauses::Setter;
use crate::document::section::clauses;
use crate::document::view::View;
use crate::inference::truth::Truth;
use crate::rulebook::book::{Kind, Picks, RuleId, SlotId};
use crate::rulebook::clause::Clause;
use crate::rulebook::words::spoken;
use crate::survey::{Crack, Failing, OldCoat, Opening, Pattern, Watched};
use crate::units::{Dimension, Quantity, print, print_range};
use crate::wall::facts::Given;

/// What the schedule prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct ScheduleContext {
    rows: Vec<ZoneShown>,
    /// Zones that no elevation of the survey shows.
    not_drawn: Vec<String>,
    coats: Vec<CoatRow>,
    /// All area that is coated, and the litres of each coating.
    totals: Vec<Total>,
    bare: Vec<BareZone>,
    /// How the work is reached, with the words of each answer.
    access: Vec<(String, String)>,
}

/// A zone.
#[derive(Debug, Serialize)]
struct ZoneShown {
    code: String,
    name: String,
    size: Option<(String, String)>,
    openings: Option<Vec<OpeningShown>>,
    not_coated: Option<String>,
    area: String,
    /// Layers from outside to inside.
    wall: Vec<String>,
    /// Old coats, outermost first; `None` where nobody said.
    old: Option<Vec<OldShown>>,
    cracks: Option<Vec<CrackShown>>,
    /// Other things found.
    found: Vec<Found>,
    /// Ways to take old coats off, in order.
    removal: Vec<String>,
    /// Subjects of the clauses of repair.
    repairs: Vec<String>,
    /// What is chosen, slot by slot.
    system: Vec<(String, String)>,
    stops: Vec<usize>,
    beside: Vec<String>,
}

#[derive(Debug, Serialize)]
struct OpeningShown {
    width: String,
    height: String,
    count: u32,
}

#[derive(Debug, Serialize)]
struct OldShown {
    title: String,
    layers: Option<u32>,
    failing: Option<&'static str>,
}

#[derive(Debug, Serialize)]
struct CrackShown {
    width: Option<String>,
    pattern: Option<String>,
    watched: &'static str,
}

/// A thing found.
#[derive(Debug, Serialize)]
struct Found {
    name: String,
    /// Empty where the answer is yes.
    value: String,
}

#[derive(Debug, Serialize)]
struct Total {
    title: String,
    zones: Vec<String>,
    area: String,
    volume: String,
}

/// A zone that gets no coat.
#[derive(Debug, Serialize)]
struct BareZone {
    code: String,
    name: String,
    what: String,
    area: String,
    /// Reasons of the rules that leave nothing else.
    because: Vec<String>,
}

impl ScheduleContext {
    pub(in crate::document) fn of(setter: Setter<'_>, site: &Site) -> Result<Self, Vec<Diagnostic>> {
        let view = setter.view;
        let mut mistakes = Vec::new();
        let repairs = clauses(setter, &mut mistakes, |clause| is_repair(view, site, clause));
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        let repairs_of = |code: &String| {
            let own = repairs.iter().filter(|clause| clause.extent.zones.contains(code));
            own.map(|clause| clause.subject.clone()).collect()
        };
        let rows = view.zones().filter_map(|zone| {
            let mut shown = zone_shown(setter, site, zone)?;
            shown.repairs = repairs_of(&shown.code);
            Some(shown)
        });
        Ok(Self {
            rows: rows.collect(),
            not_drawn: not_drawn(view),
            coats: view.zones().flat_map(|zone| coats(view, site, zone)).collect(),
            totals: totals(view, site),
            bare: view.zones().filter_map(|zone| bare(view, site, zone)).collect(),
            access: site.access.iter().filter_map(|name| access(view, name)).collect(),
        })
    }
}

fn not_drawn(view: View<'_>) -> Vec<String> {
    let elevations = &view.survey.elevations;
    let is_drawn =
        |zone: &usize| elevations.iter().flat_map(|one| &one.zones).any(|(known, _)| known == zone);
    view.codes(&view.zones().filter(|zone| !is_drawn(zone)).collect::<Vec<_>>())
}

/// Whether a clause is work of repair: it is tested, in a stage and on a form of repair.
fn is_repair(view: View<'_>, site: &Site, clause: &Clause) -> bool {
    let stage = clause.stage.and_then(|stage| view.book.stages.get(stage.0));
    let is_in_stage = stage.is_some_and(|stage| site.repair_stages.contains(&stage.name));
    is_in_stage && clause.test.as_ref().is_some_and(|test| site.repair_forms.contains(&test.form))
}

fn zone_shown(setter: Setter<'_>, site: &Site, zone: usize) -> Option<ZoneShown> {
    let view = setter.view;
    let surveyed = view.survey.zones.get(zone)?;
    let shown = |quantity: &Quantity| print(quantity, view.system());
    let opening = |opening: &Opening| OpeningShown {
        width: shown(&opening.width),
        height: shown(&opening.height),
        count: opening.count,
    };
    let materials = view.book.catalogue_named("materials");
    let layers = surveyed.wall.as_deref().unwrap_or_default().iter();
    let wall = layers.filter_map(|layer| Some(materials?.options.get(layer.material.0)?.title.clone()));
    Some(ZoneShown {
        code: surveyed.code.clone(),
        name: surveyed.name.clone(),
        size: surveyed.size.as_ref().map(|size| (shown(&size.width), shown(&size.height))),
        openings: surveyed.openings.as_ref().map(|all| all.iter().map(opening).collect()),
        not_coated: surveyed.not_coated.as_ref().map(shown),
        area: area(view, zone),
        wall: wall.collect(),
        old: surveyed.coats.as_ref().map(|coats| coats.iter().map(|coat| old(view, coat)).collect()),
        cracks: surveyed.cracks.as_ref().map(|all| all.iter().map(|one| crack(view, one)).collect()),
        found: site.found.iter().filter_map(|name| found(view, site, zone, name)).collect(),
        removal: removal(view, zone),
        repairs: Vec::new(),
        system: system(view, zone),
        stops: setter.stops.standing_in(zone),
        beside: things(view, site, zone),
    })
}

fn old(view: View<'_>, coat: &OldCoat) -> OldShown {
    let families = view.book.catalogue_named("old-coats");
    let family = families.and_then(|catalogue| catalogue.options.get(coat.family.0));
    OldShown {
        title: family.map(|family| family.title.clone()).unwrap_or_default(),
        layers: coat.layers,
        failing: coat.failing.map(|failing| match failing {
            Failing::None => "none",
            Failing::Spots => "spots",
            Failing::Half => "half",
            Failing::Most => "most",
        }),
    }
}

fn crack(view: View<'_>, crack: &Crack) -> CrackShown {
    let pattern =
        |own: Pattern| Pattern::WORDS.iter().find(|(_, known)| *known == own).map(|(word, _)| *word);
    CrackShown {
        width: crack.width.as_ref().map(|width| {
            if width.low.value() == width.high.value() {
                print(&width.low, view.system())
            } else {
                print_range(&width.low, &width.high, view.system())
            }
        }),
        pattern: crack.pattern.and_then(pattern).map(spoken),
        watched: match crack.watched {
            Watched::NotWatched => "not-watched",
            Watched::Suspected => "suspected",
            Watched::Still => "still",
            Watched::Moving => "moving",
        },
    }
}

/// A fact as a thing found: nothing where nobody answered, or where the answer is that there is none.
fn found(view: View<'_>, site: &Site, zone: usize, name: &str) -> Option<Found> {
    let id = view.fact_named(name)?;
    let answer = view.answer(zone, id).filter(|answer| answer.given != Given::Unanswered)?;
    let is_yes_no = view.book.facts.get(id.0).is_some_and(|fact| fact.kind == Kind::YesNo);
    let is_nothing = answer.range.as_ref().is_some_and(|(_, high)| high.is_zero());
    let value = answer.shown.clone();
    let says_none = |word: &String| *word == value;
    if value.is_empty() || is_nothing || site.sound.iter().any(says_none) {
        return None;
    }
    if !is_yes_no {
        return Some(Found { name: spoken(name), value });
    }
    (value != view.words.of("no")).then(|| Found { name: spoken(name), value: String::new() })
}

/// Every way of the slots that pick in order, in order.
fn removal(view: View<'_>, zone: usize) -> Vec<String> {
    let slots = slots(view, Picks::InOrder);
    let ways = slots.flat_map(|slot| {
        let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No);
        let sequence = outcome.map_or(&[][..], |outcome| &outcome.sequence);
        sequence.iter().map(move |option| view.option_title(slot, *option))
    });
    ways.collect()
}

fn system(view: View<'_>, zone: usize) -> Vec<(String, String)> {
    let picked = slots(view, Picks::One).filter_map(|slot| {
        let outcome = view.slot_outcome(zone, slot).filter(|outcome| outcome.arises != Truth::No)?;
        Some((view.slot_words(slot), view.option_title(slot, outcome.pick?)))
    });
    picked.collect()
}

fn slots(view: View<'_>, picks: Picks) -> impl Iterator<Item = SlotId> {
    let slots = view.book.slots.iter().enumerate();
    slots.filter(move |(_, slot)| slot.picks == picks).map(|(index, _)| SlotId(index))
}

/// Area and litres of each coating, where the area of each of its zones is known.
fn totals(view: View<'_>, site: &Site) -> Vec<Total> {
    let mut found: Vec<(String, Vec<usize>)> = Vec::new();
    for zone in view.zones() {
        let Some(Chosen::Coat(slot, option)) = chosen(view, site, zone) else { continue };
        let title = view.option_title(slot, option);
        match found.iter_mut().find(|(known, _)| *known == title) {
            Some((_, zones)) => zones.push(zone),
            None => found.push((title, vec![zone])),
        }
    }
    let total = |(title, zones): (String, Vec<usize>)| {
        let sum = |of: &dyn Fn(usize) -> Option<(BigRational, BigRational)>| {
            let start = (BigRational::zero(), BigRational::zero());
            zones.iter().try_fold(start, |(low, high), zone| {
                let (least, most) = of(*zone)?;
                Some((low + least, high + most))
            })
        };
        let said = |range: Option<_>, dimension| {
            range.map(|range| worked(view, &range, dimension)).unwrap_or_default()
        };
        Total {
            title,
            area: said(sum(&|zone| view.net_area(zone)), Dimension::Area),
            volume: said(sum(&|zone| litres(view, site, zone)), Dimension::Volume),
            zones: view.codes(&zones),
        }
    };
    found.into_iter().map(total).collect()
}

fn bare(view: View<'_>, site: &Site, zone: usize) -> Option<BareZone> {
    let Some(Chosen::Bare(slot, option)) = chosen(view, site, zone) else { return None };
    Some(BareZone {
        code: view.code(zone),
        name: view.survey.zones.get(zone)?.name.clone(),
        what: view.option_title(slot, option),
        area: area(view, zone),
        because: because(view, zone, slot),
    })
}

/// The reasons of the rules that certainly refuse most of the options.
fn because(view: View<'_>, zone: usize, slot: SlotId) -> Vec<String> {
    let options = view.slot_outcome(zone, slot).map_or(&[][..], |outcome| &outcome.options);
    let mut counted: Vec<(RuleId, usize)> = Vec::new();
    let refusals = options.iter().flat_map(|option| &option.refused_by);
    for cause in refusals.filter(|cause| cause.truth == Truth::Yes) {
        match counted.iter_mut().find(|(known, _)| *known == cause.rule) {
            Some((_, count)) => *count += 1,
            None => counted.push((cause.rule, 1)),
        }
    }
    let most = counted.iter().map(|(_, count)| *count).max().unwrap_or_default();
    let binding = counted.into_iter().filter(|(_, count)| *count == most && *count + 1 >= options.len());
    binding
        .filter_map(|(rule, _)| view.book.rules.get(rule.0))
        .map(|rule| rule.ground.because.clone())
        .collect()
}

/// A fact of the job with its answer.
fn access(view: View<'_>, name: &str) -> Option<(String, String)> {
    let id = view.fact_named(name)?;
    Some((spoken(name), view.shown(0, id)))
}
