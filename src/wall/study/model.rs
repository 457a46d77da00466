//! What is worked out of a zone: every figure with both its ends, or why there is none.

use num_rational::BigRational;

use super::figure::{Figure, Maybe};
use crate::physics::classes::{Edition, VapourClass, WaterClass};
use crate::physics::{RainCriterion, RainLimit, Wetting};
use crate::rulebook::book::OptionId;
use crate::survey::{Known, YesNoAnswer};

/// One zone in numbers.
#[derive(Debug, Clone)]
pub struct ZoneStudy {
    /// Code of the zone.
    pub code: String,
    /// Its name.
    pub name: String,
    /// The layers of the wall from outside to inside, or why there are none.
    pub layers: Maybe<Vec<LayerStudy>>,
    /// The old coats, outermost first, or why there are none.
    pub coats: Maybe<Vec<OldCoatStudy>>,
    /// The equivalent air layer of all old coats that stay.
    pub kept_sd: Maybe<Figure>,
    /// The outer zone that must be able to dry.
    pub face: Maybe<FaceStudy>,
    /// The vapour ladder, from inside to outside, old coats that stay included.
    pub ladder: Maybe<Vec<Rung>>,
    /// The wall as it stands, old coats that stay included, in each sum of condensation.
    pub as_it_stands: Vec<SumStudy>,
    /// The coats that the book offers, in its order.
    pub candidates: Vec<Candidate>,
    /// What was tested on this wall as a permeance, and what that says.
    pub quoted: Vec<String>,
    /// What was assumed, in sentences.
    pub assumptions: Vec<String>,
}

/// A layer of the wall.
#[derive(Debug, Clone)]
pub struct LayerStudy {
    /// The material as printed.
    pub title: String,
    /// Its thickness.
    pub thickness: Maybe<Figure>,
    /// How the layer is known, where that is said.
    pub known: Option<Known>,
    /// The vapour resistance factor.
    pub mu: Maybe<Figure>,
    /// Where the factor comes from.
    pub mu_from: String,
    /// The thermal conductivity, and where it comes from.
    pub lambda: Maybe<Figure>,
    /// Where the conductivity comes from.
    pub lambda_from: String,
    /// The water uptake of the bare material, where it is known.
    pub uptake: Maybe<Figure>,
    /// The thermal resistance.
    pub resistance: Maybe<Figure>,
    /// The equivalent air layer.
    pub sd: Maybe<Figure>,
    /// The permeance of the layer as thick as it stands.
    pub permeance: Maybe<Figure>,
}

/// An old coat.
#[derive(Debug, Clone)]
pub struct OldCoatStudy {
    /// The family as printed.
    pub title: String,
    /// How many layers, where counted.
    pub layers: Option<u32>,
    /// Whether it stays.
    pub kept: YesNoAnswer,
    /// Its equivalent air layer.
    pub sd: Maybe<Figure>,
}

/// The outer zone, paint left out.
#[derive(Debug, Clone)]
pub struct FaceStudy {
    /// How deep, as the book takes it.
    pub depth: Figure,
    /// Its equivalent air layer.
    pub sd: Figure,
    /// Its permeance, with each still air that is in use for it.
    pub permeances: Vec<NamedPermeance>,
    /// How it was worked out, at the most open end.
    pub working: String,
}

/// A permeance and the still air behind it.
#[derive(Debug, Clone)]
pub struct NamedPermeance {
    /// Where that still air is used.
    pub air: &'static str,
    /// Its permeability.
    pub permeability: Figure,
    /// The permeance.
    pub permeance: Figure,
}

/// A rung of the vapour ladder.
#[derive(Debug, Clone)]
pub struct Rung {
    /// The layer or old coat.
    pub title: String,
    /// Its own equivalent air layer.
    pub sd: Figure,
    /// That of it and all inside of it.
    pub so_far: Figure,
    /// Its permeance.
    pub permeance: Maybe<Figure>,
}

/// A coat that the book offers.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// The row of the catalogue.
    pub option: OptionId,
    /// Its name in the catalogue.
    pub name: String,
    /// As printed.
    pub title: String,
    /// Its figures; a reason for options that are no coat.
    pub coat: Maybe<CoatStudy>,
}

/// A coat in numbers.
#[derive(Debug, Clone)]
pub struct CoatStudy {
    /// Equivalent air layer of the coat alone.
    pub sd: Figure,
    /// Permeance of the coat alone, by the still air of the book.
    pub permeance: Maybe<Figure>,
    /// EN 1062-1, V, of the coat alone, at both ends.
    pub vapour_class: Maybe<(VapourClass, VapourClass)>,
    /// EN 1062-1, W, of the coat alone, at both ends.
    pub water_class: Maybe<(WaterClass, WaterClass)>,
    /// Water uptake of the coat alone.
    pub uptake: Maybe<Figure>,
    /// Equivalent air layer of everything outside the masonry with the coat on.
    pub total_sd: Maybe<Figure>,
    /// What of the resistance of coat, old coats and face together lies outside the face, in per cent.
    pub share: Maybe<Figure>,
    /// How the coat stands against the face.
    pub against_face: Maybe<AgainstFace>,
    /// Rain.
    pub rain: RainStudy,
    /// Each sum of condensation.
    pub sums: Vec<SumStudy>,
    /// Drying against that of the other coats.
    pub drying: Maybe<DryingStudy>,
}

/// Everything outside the masonry against the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AgainstFace {
    /// More open, whatever the product and the face within their ranges.
    MoreOpen,
    /// Either, by the product and the face.
    Either,
    /// As tight or tighter, whatever the product and the face.
    Tighter,
}

/// Rain on a coat.
#[derive(Debug, Clone)]
pub struct RainStudy {
    /// Whether it is meant to turn rain away.
    pub wetting: Maybe<Wetting>,
    /// Uptake times the equivalent air layer of everything outside the masonry.
    pub product: Maybe<Figure>,
    /// The criteria, for a coat that turns rain away.
    pub criteria: Vec<CriterionStudy>,
}

/// A criterion and how a coat stands to it.
#[derive(Debug, Clone)]
pub struct CriterionStudy {
    /// The criterion.
    pub criterion: RainCriterion,
    /// The limits that it misses where the range is at its best.
    pub missed_at_best: Vec<RainLimit>,
    /// The limits that it misses where the range is at its worst.
    pub missed_at_worst: Vec<RainLimit>,
}

/// A way to reckon condensation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Method {
    /// One winter and one summer.
    Din4108(Edition),
    /// A year month by month, in a climate of this name.
    Iso13788(String),
}

impl Method {
    /// The words in a heading.
    pub fn title(&self) -> String {
        match self {
            Self::Din4108(edition) => edition.name().to_owned(),
            Self::Iso13788(climate) => format!("ISO 13788, month by month, {climate}"),
        }
    }
}

/// One sum of condensation.
#[derive(Debug, Clone)]
pub struct SumStudy {
    /// How it was reckoned.
    pub method: Method,
    /// What came out.
    pub found: Maybe<SumFound>,
}

/// What a sum of condensation finds, at both ends of all ranges.
#[derive(Debug, Clone)]
pub struct SumFound {
    /// What condenses: in the winter, or at most at the end of a month. kg/m².
    pub condensed: Figure,
    /// How much more that is than on the wall as it stands. kg/m².
    pub increment: Figure,
    /// What does not dry off within the year. kg/m².
    pub left: Figure,
    /// What condenses in planes that border on a film, where the outermost coat is one. kg/m².
    pub at_film: Option<Figure>,
    /// The most that may condense by DIN 4108-3, and whether the ends are over it.
    pub limit: Option<(BigRational, Over)>,
    /// Whether cases were left out, for the air of the room condenses on the inner face itself.
    pub wet_inside: WetInside,
}

/// Whether the air of the room condenses on the inner face itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WetInside {
    /// In no case within the ranges.
    NoCase,
    /// In some cases; they say nothing of a coat, and the figures are those of the others.
    SomeCases,
}

/// How a range stands to a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Not over at either end.
    Neither,
    /// Over at the adverse end alone.
    AtWorst,
    /// Over at both ends.
    Both,
}

/// Drying through a coat, for comparison alone.
#[derive(Debug, Clone)]
pub struct DryingStudy {
    /// What passes a day while the wall behind is wet.
    pub flow: Figure,
    /// How long a kilogram takes by that flow.
    pub a_kilogram: Figure,
}

/// What a whole job is worked with.
#[derive(Debug, Clone)]
pub struct Conditions {
    /// Permeability of still air as the book takes it.
    pub air: Maybe<Figure>,
    /// Air inside for the sum by months, and how it is known.
    pub indoor: Maybe<Indoor>,
    /// The climate, or why there is none.
    pub climate: Maybe<Climate>,
    /// Still air that clings to the face.
    pub boundary: Maybe<Figure>,
    /// The difference of vapour pressure at which drying is compared.
    pub difference: Maybe<Figure>,
    /// The humidity that keeps a face 3 K above the dew point, by temperature.
    pub margins: Vec<MarginStudy>,
}

/// Air inside.
#[derive(Debug, Clone)]
pub struct Indoor {
    /// °C.
    pub temperature: Figure,
    /// Per cent.
    pub humidity: Figure,
    /// The sentence that says where it comes from.
    pub known: String,
}

/// Twelve months of air outside.
#[derive(Debug, Clone)]
pub struct Climate {
    /// Its name.
    pub name: String,
    /// Where it comes from.
    pub source: String,
    /// January first.
    pub months: Vec<MonthStudy>,
}

/// The air outside in a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthStudy {
    /// Mean temperature, °C.
    pub celsius: f64,
    /// Mean humidity, per cent.
    pub humidity: f64,
    /// Mean vapour pressure, Pa.
    pub pressure: f64,
    /// How long it lasts, s.
    pub seconds: f64,
}

/// The highest humidity at which a face keeps 3 K above the dew point.
#[derive(Debug, Clone)]
pub struct MarginStudy {
    /// Temperature of the air, °C.
    pub air: Figure,
    /// Humidity where the face is as warm as the air, per cent.
    pub as_warm: Maybe<Figure>,
    /// By how much a shaded face may be colder, K.
    pub colder: Figure,
    /// Humidity where the face is that much colder, per cent.
    pub if_colder: Maybe<Figure>,
}
