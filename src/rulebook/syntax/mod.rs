//! The text of the rule language and its tree. In: one `*.rule` file. Out: an [`ast::File`] with the place of every
//! word, and what is wrong with it; or the same file printed in its one layout. Knows no names beyond the
//! language's own words: whether a fact exists is the business of `check`.

pub mod ast;
mod build;
mod build_condition;
mod build_declaration;
mod build_effect;
mod build_house;
mod cut;
mod grammar;
mod mistake;
mod parse;
mod parts;
pub(crate) mod print;
mod print_declaration;
mod print_effect;
pub(crate) mod print_words;
mod tidy;
mod words;

pub use mistake::SyntaxMistake;
pub use parse::{citations, kind, parse};
pub(crate) use print_declaration::kind_in_words;
pub use tidy::tidy;
