//! Rule files, catalogues and clauses in; a checked [`book::Book`] and diagnostics out. Never reads a file and never
//! knows a survey.

pub mod book;
pub mod cells;
pub mod clause;
pub mod syntax;
pub mod words;
