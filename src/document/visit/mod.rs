//! The papers of the first visit: a survey sheet to fill in by hand, a programme of tests and trials, a letter of
//! findings; and when they are written instead of a section full of guesses. Questions come from the book, how and at how
//! many places they are found from its table `tests`, words for the owner from `visit.yaml`.

mod asked;
mod letter;
mod plain;
mod programme;
mod share;
mod sheet;
mod structure;

pub(super) use letter::LetterContext;
pub(super) use plain::Plain;
pub(super) use programme::ProgrammeContext;
pub use share::{Thin, thin};
pub(super) use sheet::SheetContext;
