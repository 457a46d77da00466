//! One integration binary; each module is one behaviour of the whole.
#![cfg(test)]

mod code_pages;
mod document;
mod hostile_yaml;
mod intervals;
mod language;
mod published;
mod render;
mod survey;
mod units;
mod wall;
mod yaml;
