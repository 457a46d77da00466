//! Clauses and templates in, blocks and Markdown out. Never decides anything.

pub mod block;
