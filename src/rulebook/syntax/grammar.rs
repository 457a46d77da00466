//! The parser that pest makes from `grammar/rulebook.pest`.
#![allow(missing_docs, reason = "the rules are documented in the grammar")]

/// The grammar.
#[derive(pest_derive::Parser)]
#[grammar = "../grammar/rulebook.pest"]
pub(super) struct Grammar;
