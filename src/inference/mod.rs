//! A book and the facts of each zone in; decisions with the trace of every consequence out. Three-valued throughout:
//! what is not known is neither yes nor no. Reads no survey text and writes no words of its own.

pub mod outcome;
pub mod truth;

pub use outcome::Outcome;
pub use truth::Truth;
