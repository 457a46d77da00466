//! A YAML text and a book in; a typed survey and diagnostics out. Every answer keeps its place and how it is known.
//! Works nothing out and decides nothing.

mod answer;
mod elevation;
mod fact;
mod job;
mod layer;
mod mistake;
mod model;
mod order;
mod over;
pub mod quoted;
mod read;
mod reader;
mod record;
mod release;
mod together;
mod vapour;
mod zone;

pub use answer::{Answer, AnswerValue, Answers, Known, Reading, Span};
pub use elevation::{Drawn, Elevation, Patch};
pub use layer::{FAILING, KNOWN, WATCHED};
pub use mistake::SurveyMistake;
pub use model::{
    Adjoining, AdjoiningKind, Crack, Cup, Departed, Failing, Indoor, Job, Layer, OldCoat, Opening, Pattern,
    Profile, Release, Released, SheetSize, Size, StatusAsked, Survey, Tested, Watched, Weather, YearOfMonths,
    YesNoAnswer, Zone,
};
pub use read::read;
pub use release::check_releases;
