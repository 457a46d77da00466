//! A YAML tree and a book in; a typed survey and diagnostics out. Every answer keeps its place and how it is known.
//! Works nothing out and decides nothing.

mod answer;
mod model;

pub use answer::{Answer, AnswerValue, Answers, Known, Reading};
pub use model::{
    Adjoining, AdjoiningKind, Crack, Departed, Failing, Job, Layer, OldCoat, Opening, Pattern, Profile,
    Release, Released, SheetSize, Size, StatusAsked, Survey, Watched, YesNoAnswer, Zone,
};
