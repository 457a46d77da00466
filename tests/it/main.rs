//! One integration binary; each module is one behaviour of the whole.
#![cfg(test)]
#![expect(clippy::disallowed_methods, reason = "tests read the files of the repository")]

mod architecture;
mod climate;
mod code_pages;
mod codes;
mod command_line;
mod condensation;
mod coverage;
mod demos;
mod dew_points;
mod document;
mod examples;
mod extremes;
mod figures;
mod file;
mod five_jobs;
mod folders;
mod formulae;
mod hostile_yaml;
mod house_clauses;
mod inference;
mod intervals;
mod jobs;
mod language;
mod layout;
mod no_permission;
#[cfg(feature = "outside-checks")]
mod outside_air;
#[cfg(feature = "outside-checks")]
mod outside_demos;
#[cfg(feature = "outside-checks")]
mod outside_git;
#[cfg(feature = "outside-checks")]
mod outside_python;
#[cfg(feature = "outside-checks")]
mod outside_solver;
#[cfg(feature = "outside-checks")]
mod outside_standards;
#[cfg(feature = "outside-checks")]
mod outside_word;
mod plain_words;
mod proof;
mod proofread;
mod prove_command;
mod published;
mod random_books;
mod register;
mod render;
mod revised;
mod safety_vectors;
mod spoiled_walls;
mod study;
mod survey;
mod units;
mod visit;
mod wall;
mod weakening;
mod word;
mod yaml;
