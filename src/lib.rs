//! perpend turns the survey of an old masonry wall and a rulebook into decisions with reasons, and the
//! decisions into a specification section, an owner's care sheet and a record of reasons.
//!
//! The modules are the pipeline, lowest first; each may use those before it, never those after.

pub mod cli;
pub mod diagnostic;
pub mod document;
pub mod drawing;
pub mod inference;
pub mod physics;
pub mod proof;
pub mod proofread;
pub mod render;
pub mod rulebook;
pub mod survey;
pub mod units;
pub mod wall;
pub mod yaml;
