//! A survey and the book's material tables in; for every zone the answers as cells, and the worked facts, out.
//! Decides nothing.

pub mod facts;
