//! A book in; what holds for every survey that can be written out: unknown answers and questions that do not arise
//! included. Proved, refuted with a survey that shows it, or not settled within the budget; never sampled. Knows no wall:
//! worked facts are free within their range, and a survey that leans on one says that it may not be reachable. `examples`
//! alone throws walls, and has them worked out.
//!
//! How it works, in the order of the files: `circuit` and `tri` are gates in three values; `space` and `sheet` are what
//! surveys can say; `compile` and `choice` turn a book into gates; `goal` says what is looked for; `sample` throws
//! surveys, `solve` asks the solver, `prover` does one after the other.

mod agree;
mod beside;
mod choice;
mod circuit;
mod compare;
mod compile;
mod count;
mod coverage;
mod diagram;
mod effects;
mod examples;
mod goal;
mod involved;
mod item;
mod kept;
mod matter;
mod mistake;
mod past;
mod prover;
mod question;
mod report;
mod ripple;
mod rows;
mod sample;
mod saying;
mod settle;
mod sheet;
mod smt;
mod solve;
mod space;
mod told;
mod tri;
mod weakened;
mod weakening;
mod witness;
mod words;
mod written;

pub use agree::disagreements;
pub use beside::Side;
pub use compare::{Change, Comparison, Shown, Statements, Way, compare, statements};
pub use count::{Count, Counted};
pub use coverage::{Coverage, coverage};
pub use examples::{Example, Examples, Missing, examples};
pub use item::Item;
pub use kept::broken_here;
pub use past::{Turn, turns};
pub use question::About;
pub use report::{Counting, Report, Standing, Terms, prove};
pub use smt::{Problem, problems};
pub use told::{called, told};
pub use weakened::{Against, LostHere, against, weakened};
pub use weakening::{Depth, Weakening, Weakenings, weakenings};
pub use witness::{Answer, Rest, Witness};
pub use words::{conditions, in_words};
pub use written::written;
