//! The worked facts that the program supplies, by name and by pattern of name.

use super::facts::{FactAnswer, Given};
use super::found::{Worked, cells, unanswered};
use super::site::{Site, Table};
use super::{area, coat, crack, layer, neighbour, reading, sums, vapour};
use crate::rulebook::book::{Book, ColumnId, End, Fact, FactId, OptionId, Origin, SlotId};
use crate::survey::{Pattern, Watched};

/// A worked fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Supplied {
    /// `substrate`: the material of the outermost layer.
    Substrate,
    /// `substrate-COLUMN`
    SubstrateColumn(ColumnId),
    /// `masonry`: the outermost layer whose role is masonry.
    Masonry,
    /// `masonry-COLUMN`
    MasonryColumn(ColumnId),
    /// `wall-thickness`
    WallThickness,
    /// `old-coating`: the outermost coat.
    OldCoating,
    /// `any-old-coat-COLUMN`, and the same of the coats that stay or come off
    AnyOldCoat(coat::Which, ColumnId),
    /// `old-coating-failing`: the worst of the coats.
    OldCoatingFailing,
    /// `kept-sd`: the old coats that stay.
    KeptSd,
    /// `face-permeance`: the outer face-depth of masonry and render.
    FacePermeance,
    /// `face-sd`
    FaceSd,
    /// `widest-crack` and its kin; with a sort, only cracks of that sort.
    WidestCrack(Option<Watched>),
    /// `cracks-PATTERN`
    Cracks(Pattern),
    /// `softest-neighbour`
    SoftestNeighbour,
    /// `THING-adjoins`
    Adjoins(OptionId),
    /// `COLUMN-neighbour`: a column of neighbours, of materials, or of both.
    Neighbour(Option<ColumnId>, Option<ColumnId>),
    /// `net-area`
    NetArea,
    /// `highest-X`, `lowest-X`, `mean-X`
    Reading(reading::Which, FactId),
    /// `total-sd`, for each option
    TotalSd,
    /// `outer-permeance`, for each option
    OuterPermeance,
    /// `outer-over-face`, for each option: how many times as open as the face
    OuterOverFace,
    /// `share-of-face`, for each option: what of the resistance lies outside the face
    ShareOfFace,
    /// `rain-product`, for each option
    RainProduct,
    /// `condensation-increment` and its kin, for each option
    Condensation(sums::Condensate),
    /// `paint-disturbed-on-job`
    PaintDisturbedOnJob,
    /// `net-area-on-job`
    NetAreaOnJob,
    /// `painted-zones`: whether any zone has an old coat.
    PaintedZones,
}

/// The names that stand by themselves.
pub(super) const NAMES: [(&str, Supplied); 26] = [
    ("substrate", Supplied::Substrate),
    ("masonry", Supplied::Masonry),
    ("wall-thickness", Supplied::WallThickness),
    ("old-coating", Supplied::OldCoating),
    ("old-coating-failing", Supplied::OldCoatingFailing),
    ("kept-sd", Supplied::KeptSd),
    ("face-permeance", Supplied::FacePermeance),
    ("face-sd", Supplied::FaceSd),
    ("widest-crack", Supplied::WidestCrack(None)),
    ("widest-still-crack", Supplied::WidestCrack(Some(Watched::Still))),
    ("widest-moving-crack", Supplied::WidestCrack(Some(Watched::Moving))),
    ("widest-suspected-crack", Supplied::WidestCrack(Some(Watched::Suspected))),
    ("widest-unwatched-crack", Supplied::WidestCrack(Some(Watched::NotWatched))),
    ("softest-neighbour", Supplied::SoftestNeighbour),
    ("net-area", Supplied::NetArea),
    ("total-sd", Supplied::TotalSd),
    ("outer-permeance", Supplied::OuterPermeance),
    ("outer-over-face", Supplied::OuterOverFace),
    ("share-of-face", Supplied::ShareOfFace),
    ("rain-product", Supplied::RainProduct),
    ("condensation-increment", Supplied::Condensation(sums::Condensate::Increment)),
    ("condensation-left", Supplied::Condensation(sums::Condensate::Left)),
    ("condensation-at-film", Supplied::Condensation(sums::Condensate::AtFilm)),
    ("paint-disturbed-on-job", Supplied::PaintDisturbedOnJob),
    ("net-area-on-job", Supplied::NetAreaOnJob),
    ("painted-zones", Supplied::PaintedZones),
];

impl Supplied {
    /// The worked fact of a name, given the tables and questions of a book.
    pub(super) fn named(name: &str, book: &Book) -> Option<Self> {
        let alone = NAMES.iter().find(|(known, _)| *known == name).map(|(_, supplied)| *supplied);
        alone.or_else(|| after_a_prefix(name, book)).or_else(|| before_a_suffix(name, book))
    }
}

fn after_a_prefix(name: &str, book: &Book) -> Option<Supplied> {
    let column = |prefix: &str, table: Table| table.column(book, name.strip_prefix(prefix)?);
    let pattern = name.strip_prefix("cracks-").and_then(crack::pattern);
    column("substrate-", Table::Materials)
        .map(Supplied::SubstrateColumn)
        .or_else(|| column("masonry-", Table::Materials).map(Supplied::MasonryColumn))
        .or_else(|| of_old_coats(name, book))
        .or_else(|| pattern.map(Supplied::Cracks))
        .or_else(|| of_readings(name, book))
}

fn of_old_coats(name: &str, book: &Book) -> Option<Supplied> {
    coat::PREFIXES.iter().find_map(|(prefix, which)| {
        let column = Table::OldCoats.column(book, name.strip_prefix(prefix)?)?;
        Some(Supplied::AnyOldCoat(*which, column))
    })
}

fn of_readings(name: &str, book: &Book) -> Option<Supplied> {
    let (which, fact) = reading::PREFIXES.iter().find_map(|(prefix, which)| {
        let asked = name.strip_prefix(prefix)?;
        let is_it = |fact: &Fact| fact.name == asked && matches!(fact.origin, Origin::Asked(_));
        Some((*which, book.facts.iter().position(is_it)?))
    })?;
    Some(Supplied::Reading(which, FactId(fact)))
}

fn before_a_suffix(name: &str, book: &Book) -> Option<Supplied> {
    if let Some(thing) = name.strip_suffix("-adjoins") {
        return Table::Neighbours.of(book)?.option(thing).map(Supplied::Adjoins);
    }
    let column = name.strip_suffix("-neighbour")?;
    let things = Table::Neighbours.column(book, column);
    let materials = Table::Materials.column(book, column);
    (things.is_some() || materials.is_some()).then_some(Supplied::Neighbour(things, materials))
}

/// The answer to a worked fact, as declared.
pub(super) fn answer(
    site: &Site<'_>,
    supplied: Supplied,
    fact: &Fact,
    (per_option_of, worst): (Option<SlotId>, Option<End>),
) -> FactAnswer {
    match per_option_of {
        Some(slot) => match of_option(site, supplied, slot, worst) {
            Some(found) => by_option(fact, found),
            None => unanswered(Vec::new()),
        },
        None => worked(site, supplied, worst).into_answer(fact),
    }
}

/// What each option of a slot makes of a fact; `None` for facts that have no value of each option.
fn of_option(
    site: &Site<'_>,
    supplied: Supplied,
    slot: SlotId,
    worst: Option<End>,
) -> Option<vapour::ByOption> {
    let worst_or = |usual: End| worst.unwrap_or(usual);
    Some(match supplied {
        Supplied::TotalSd => vapour::total_sd(site, slot, worst_or(End::High)),
        Supplied::OuterPermeance => vapour::outer_permeance(site, slot, worst_or(End::Low)),
        Supplied::OuterOverFace => vapour::outer_over_face(site, slot, worst_or(End::Low)),
        Supplied::ShareOfFace => sums::share_of_face(site, slot, worst_or(End::High)),
        Supplied::RainProduct => sums::rain_product(site, slot, worst_or(End::High)),
        Supplied::Condensation(which) => sums::condensation(site, slot, which),
        _ => return None,
    })
}

impl Supplied {
    /// Whether it has a value of its own for each option of a slot.
    pub(super) fn is_of_option(self) -> bool {
        matches!(
            self,
            Self::TotalSd
                | Self::OuterPermeance
                | Self::OuterOverFace
                | Self::ShareOfFace
                | Self::RainProduct
                | Self::Condensation(_)
        )
    }
}

fn worked(site: &Site<'_>, supplied: Supplied, worst: Option<End>) -> Worked {
    match supplied {
        Supplied::Substrate => layer::material(site, layer::Which::Outermost),
        Supplied::SubstrateColumn(column) => layer::column(site, layer::Which::Outermost, column, worst),
        Supplied::Masonry => layer::material(site, layer::Which::Masonry),
        Supplied::MasonryColumn(column) => layer::column(site, layer::Which::Masonry, column, worst),
        Supplied::WallThickness => layer::thickness(site),
        Supplied::OldCoating => coat::outermost(site),
        Supplied::AnyOldCoat(which, column) => coat::any(site, which, column),
        Supplied::OldCoatingFailing => coat::failing(site),
        Supplied::KeptSd => coat::kept_sd(site, worst.unwrap_or(End::High)),
        Supplied::FacePermeance => vapour::face_permeance(site, worst.unwrap_or(End::High)),
        Supplied::FaceSd => vapour::face_sd(site, worst.unwrap_or(End::Low)),
        Supplied::WidestCrack(sort) => crack::widest(site, sort),
        Supplied::Cracks(pattern) => crack::any(site, pattern),
        Supplied::SoftestNeighbour => neighbour::softest(site),
        Supplied::Adjoins(thing) => neighbour::adjoins(site, thing),
        Supplied::Neighbour(things, materials) => neighbour::any(site, things, materials),
        Supplied::NetArea => area::net(site),
        Supplied::Reading(which, fact) => reading::of(site, which, fact),
        Supplied::PaintDisturbedOnJob => area::paint_disturbed(site),
        Supplied::NetAreaOnJob => area::net_on_job(site),
        Supplied::PaintedZones => coat::any_zone(site),
        Supplied::TotalSd
        | Supplied::OuterPermeance
        | Supplied::OuterOverFace
        | Supplied::ShareOfFace
        | Supplied::RainProduct
        | Supplied::Condensation(_) => Worked::open(Vec::new()),
    }
}

/// The answer to a fact that has a value of its own for each option.
fn by_option(fact: &Fact, worked: vapour::ByOption) -> FactAnswer {
    let own = worked.options.iter().map(|(found, _)| cells(found, fact).unwrap_or_else(|| fact.cells.all()));
    FactAnswer {
        given: Given::ByOption(own.collect()),
        ranges_by_option: worked.options.iter().map(|(found, _)| found.range()).collect(),
        shown_by_option: worked.options.iter().map(|(_, shown)| shown.clone()).collect(),
        working: worked.working,
        ..unanswered(worked.missing)
    }
}
