//! The survey as typed values. `None` for a list means the question is open; an empty list means there is none.

use std::sync::Arc;

use super::answer::{Answers, Known, Span};
use super::elevation::Elevation;
use crate::diagnostic::{Place, Source};
use crate::physics::CupClimate;
use crate::physics::climate::{MonthMean, Year};
use crate::rulebook::book::{OptionId, RuleId};
use crate::units::{Quantity, System};

/// A survey, read and checked against a book.
#[derive(Clone, Debug)]
pub struct Survey {
    /// What holds for the whole job.
    pub job: Job,
    /// The zones, in the order written.
    pub zones: Vec<Zone>,
    /// The elevations that are drawn.
    pub elevations: Vec<Elevation>,
    /// Where a professional departs from a rule.
    pub departures: Vec<Departed>,
    /// Stops and hold points released.
    pub releases: Vec<Release>,
    /// The text it was read from.
    pub source: Arc<Source>,
}

/// The job.
#[derive(Clone, Debug)]
pub struct Job {
    /// Short code, such as `MW-07`; names the output folder, so letters, digits, `-`, `_` and `.` only.
    pub code: String,
    /// Its name.
    pub name: String,
    /// The section's number in the owner's numbering, if known.
    pub section_number: Option<String>,
    /// Date of issue, `YYYY-MM-DD`.
    pub issue_date: String,
    /// Revision letter or number.
    pub revision: Option<String>,
    /// The status somebody asks for.
    pub status: Option<StatusAsked>,
    /// Units and sheet size of the documents.
    pub profile: Profile,
    /// A year of weather of its own.
    pub weather: Option<Weather>,
    /// The air inside, where somebody said.
    pub indoor: Indoor,
    /// Answers to the facts of the job.
    pub answers: Answers,
    /// Where it stands.
    pub place: Place,
}

/// A file with a year of weather beside the survey. Reading files is not for here: whoever read the survey reads this
/// one too and hands the year to [`Survey::with_weather`].
#[derive(Clone, Debug)]
pub struct Weather {
    /// The file's name.
    pub file: String,
    /// What its year says of the months, once it was read.
    pub year: Option<YearOfMonths>,
    /// Where the file is named.
    pub place: Place,
}

/// The months of a year of weather.
#[derive(Clone, Debug)]
pub struct YearOfMonths {
    /// The station, or the file.
    pub name: String,
    /// January first.
    pub months: Vec<MonthMean>,
    /// The text that it was read from.
    pub source: Arc<Source>,
}

/// The air inside; what nobody said is taken from the book.
#[derive(Clone, Debug, Default)]
pub struct Indoor {
    /// Its temperature.
    pub temperature: Option<Quantity>,
    /// Its relative humidity, not above 100 %.
    pub humidity: Option<Quantity>,
}

impl Survey {
    /// The same survey with the year that its weather file holds.
    #[must_use]
    pub fn with_weather(mut self, year: &Year, source: &Arc<Source>) -> Self {
        if let Some(weather) = &mut self.job.weather {
            let (name, source) = (year.name.clone(), Arc::clone(source));
            weather.year = year.months().map(|months| YearOfMonths { name, months, source });
        }
        self
    }
}

/// How the documents print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Profile {
    /// Which unit comes first.
    pub system: System,
    /// Which sheet.
    pub sheet: SheetSize,
}

/// Sheet sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetSize {
    /// 8.5 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
}

/// A status that a named role asks for on a date. The tool may only refuse it.
#[derive(Clone, Debug)]
pub struct StatusAsked {
    /// Such as `for-construction`.
    pub asked: String,
    /// Who asks.
    pub role: String,
    /// When, `YYYY-MM-DD`.
    pub date: String,
}

/// One stretch of wall of one material with one history.
#[derive(Clone, Debug)]
pub struct Zone {
    /// Code, such as `Q1a`.
    pub code: String,
    /// Name.
    pub name: String,
    /// Zones and things beside or below.
    pub adjoins: Option<Vec<Adjoining>>,
    /// Layers from outside to inside, without paint.
    pub wall: Option<Vec<Layer>>,
    /// Old coats, outermost first.
    pub coats: Option<Vec<OldCoat>>,
    /// Cracks.
    pub cracks: Option<Vec<Crack>>,
    /// Width and height.
    pub size: Option<Size>,
    /// Openings in it.
    pub openings: Option<Vec<Opening>>,
    /// Area left uncoated inside it; `None` when nobody said.
    pub not_coated: Option<Quantity>,
    /// Answers to the facts of the zone.
    pub answers: Answers,
    /// Where it stands.
    pub place: Place,
}

/// Something beside or below a zone.
#[derive(Clone, Debug)]
pub struct Adjoining {
    /// Zone or thing.
    pub kind: AdjoiningKind,
    /// Where it is named.
    pub place: Place,
}

/// A zone of this survey, or a row of the `neighbours` catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AdjoiningKind {
    /// Index of the zone.
    Zone(usize),
    /// Row of `neighbours`.
    Thing(OptionId),
}

/// One layer of the wall.
#[derive(Clone, Debug)]
pub struct Layer {
    /// Row of `materials`.
    pub material: OptionId,
    /// Thickness; `None` when unanswered.
    pub thickness: Option<Span>,
    /// What was tested on this very wall; otherwise the material's figures count.
    pub tested: Option<Tested>,
    /// How it is known.
    pub known: Option<Known>,
    /// Where it stands.
    pub place: Place,
}

/// How vapour passes a layer or film, as tested on this very wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tested {
    /// Diffusion resistance factor, a bare number.
    Mu(Span),
    /// Permeance as thick as it stands.
    Permeance(Span),
    /// Vapour transmission rate as thick as it stands, in the climate of a cup.
    Transmission(Span, Cup),
    /// Equivalent air layer of a film as thick as it stands.
    AirLayer(Span),
}

/// The climate in which a cup was weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cup {
    /// 23 °C, 93 % against 50 %.
    Wet,
    /// 23 °C, 50 % against a desiccant.
    Desiccant,
    /// 23 °C, water against 50 %.
    Water,
}

impl Cup {
    /// The climate in figures, with its source.
    pub fn climate(self) -> CupClimate {
        match self {
            Self::Wet => CupClimate::WET,
            Self::Desiccant => CupClimate::DESICCANT,
            Self::Water => CupClimate::WATER,
        }
    }
}

/// One family of old coat.
#[derive(Clone, Debug)]
pub struct OldCoat {
    /// Row of `old-coats`.
    pub family: OptionId,
    /// Whether the family is a guess by eye.
    pub looks_like: YesNoAnswer,
    /// How many layers.
    pub layers: Option<u32>,
    /// Thickness of all its layers together.
    pub thickness: Option<Span>,
    /// What was tested of all its layers together; otherwise the family's figures count.
    pub tested: Option<Tested>,
    /// How much of it fails.
    pub failing: Option<Failing>,
    /// Whether it stays on the wall.
    pub kept: YesNoAnswer,
    /// Where it stands.
    pub place: Place,
}

/// Yes, no, or not answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum YesNoAnswer {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Not answered.
    Unanswered,
}

/// How much of an old coat fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Failing {
    /// None of it.
    None,
    /// In spots.
    Spots,
    /// About half.
    Half,
    /// Most of it.
    Most,
}

/// A crack.
#[derive(Clone, Debug)]
pub struct Crack {
    /// Width; `None` when unanswered.
    pub width: Option<Span>,
    /// Its pattern, if said.
    pub pattern: Option<Pattern>,
    /// Whether it was watched, and what was seen.
    pub watched: Watched,
    /// Where it stands.
    pub place: Place,
}

/// What a crack looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// A net of fine cracks.
    Map,
    /// Along a joint, hairline.
    HairlineJoint,
    /// Through bricks or stones.
    ThroughUnits,
    /// In steps along the joints.
    Stepped,
    /// With a bulge.
    Bulging,
    /// From the corner of an opening.
    AtOpening,
    /// None of these.
    Other,
}

impl Pattern {
    /// The patterns by the words of a survey.
    pub const WORDS: [(&'static str, Self); 7] = [
        ("map", Self::Map),
        ("hairline-joint", Self::HairlineJoint),
        ("through-units", Self::ThroughUnits),
        ("stepped", Self::Stepped),
        ("bulging", Self::Bulging),
        ("at-opening", Self::AtOpening),
        ("other", Self::Other),
    ];
}

/// Whether a crack was watched. Not watched is neither still nor moving.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Watched {
    /// Nobody watched it.
    NotWatched,
    /// Movement is suspected.
    Suspected,
    /// Watched, and still.
    Still,
    /// Watched, and moving.
    Moving,
}

/// Width and height of a zone.
#[derive(Clone, Debug)]
pub struct Size {
    /// Width.
    pub width: Quantity,
    /// Height.
    pub height: Quantity,
}

/// Openings of one size.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Width.
    pub width: Quantity,
    /// Height.
    pub height: Quantity,
    /// How many.
    pub count: u32,
}

/// A departure from the refusals and limits of a rule.
#[derive(Clone, Debug)]
pub struct Departed {
    /// The rule.
    pub from: RuleId,
    /// Indices of the zones.
    pub zones: Vec<usize>,
    /// Why.
    pub reason: String,
    /// Who: a role.
    pub role: String,
    /// When, `YYYY-MM-DD`.
    pub date: String,
    /// Where it stands.
    pub place: Place,
}

/// A release.
#[derive(Clone, Debug)]
pub struct Release {
    /// What is released.
    pub what: Released,
    /// Indices of the zones.
    pub zones: Vec<usize>,
    /// Who: a role.
    pub role: String,
    /// When, `YYYY-MM-DD`.
    pub date: String,
    /// The paper on file.
    pub paper: String,
    /// Where it stands.
    pub place: Place,
}

/// What a release releases.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Released {
    /// The stops of a rule.
    Stop(RuleId),
    /// A hold point by name.
    HoldPoint(String),
}
