//! Rule files, catalogues and clauses in; a checked [`book::Book`] and diagnostics out. Never reads a file and never
//! knows a survey.

pub mod book;
pub mod cells;
mod check;
pub mod clause;
mod layering;
pub mod syntax;
pub mod words;

pub use check::read;
pub use layering::{ChangeKind, House, HouseChange, is_house, read_over};
pub use syntax::tidy;
