//! What can be wrong with a reason or a source.

use miette::Diagnostic;
use thiserror::Error;

/// A reason or source that is missing or not well given.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum GroundMistake {
    /// No `because`.
    #[error("`{name}` gives no reason")]
    #[diagnostic(code(RC040), help("add a line `because \"…\"` that says why, in words for an architect"))]
    NoReason {
        /// The statement.
        name: String,
    },
    /// No `per`.
    #[error("`{name}` names no source")]
    #[diagnostic(
        code(RC041),
        help("add a line `per SOURCE, section`; a habit of the trade is `per common-practice`")
    )]
    NoSource {
        /// The statement.
        name: String,
    },
    /// A source with a name alone.
    #[error("source `{name}` has no title")]
    #[diagnostic(
        code(RC042),
        help("put its designation and title in quotes after the name; only `common-practice` stands bare")
    )]
    NoTitle {
        /// The source.
        name: String,
    },
    /// A source that does not say how sure it is.
    #[error("source `{name}` does not say how sure it is")]
    #[diagnostic(
        code(RC043),
        help("add one of `read`, `second-hand`, `derived`, `from memory`, `common practice`")
    )]
    NoCertainty {
        /// The source.
        name: String,
    },
    /// Not a day, or not a month.
    #[error("`{written}` is no {what}")]
    #[diagnostic(code(RC044), help("write a day as `2026-11-25` and a month as `2027-05`"))]
    Date {
        /// What was written.
        written: String,
        /// `day` or `month`.
        what: &'static str,
    },
    /// The same thing said twice.
    #[error("`{what}` is said twice of `{name}`")]
    #[diagnostic(code(RC045), help("keep one"))]
    SaidTwice {
        /// What is said.
        what: String,
        /// Of what.
        name: String,
    },
}
