//! What was decided and the wording of clauses in; papers as blocks, and their Markdown, out. Decides nothing: every
//! duty that is shown prints, marked as it was marked. Labels and titles stand in the templates, not here.

pub mod block;
mod choice;
mod clauses;
mod engine;
mod entries;
mod escape;
mod figure;
mod figures;
mod gaps;
mod head;
mod house;
mod inline;
mod job;
mod markdown;
mod mistake;
mod note;
mod numbering;
mod owner;
mod papers;
mod parameter;
mod places;
mod press;
mod reading;
mod reasons;
mod section;
mod set;
mod site;
mod stops;
mod templates;
mod text;
mod unconfirmed;
mod view;
mod visit;
mod wording;
mod words;

pub use block::Document;
pub use figures::wall_figures;
pub use markdown::{figure_file, markdown};
pub use mistake::DocumentMistake;
pub use papers::{Wanted, names};
pub use set::{Basis, ProgramInfo, Written, check, set, set_and_make};
pub use templates::Templates;
pub use text::text;
pub use visit::{Thin, thin};
