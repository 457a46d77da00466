//! What can be wrong with a written quantity.

use miette::Diagnostic;
use thiserror::Error;

/// A text that is not a quantity of the kind that is wanted.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum UnitMistake {
    /// Nothing but blanks.
    #[error("nothing is written where {wanted} is wanted")]
    #[diagnostic(code(UN001), help("write a number and a unit, such as `{example}`"))]
    Empty {
        /// The kind wanted, with its article.
        wanted: &'static str,
        /// A quantity of that kind.
        example: String,
    },
    /// No number at the start, or a number that cannot be read.
    #[error("`{written}` does not start with a number that can be read")]
    #[diagnostic(
        code(UN002),
        help(
            "write a whole number, a decimal with a point or a fraction, then the unit, such as `{example}`"
        )
    )]
    NotANumber {
        /// What was written.
        written: String,
        /// A quantity of the kind wanted.
        example: String,
    },
    /// A comma, which divides thousands in one country and decimals in another.
    #[error("the comma in `{written}` can be read in two ways")]
    #[diagnostic(code(UN003), help("{mend}"))]
    Comma {
        /// What was written.
        written: String,
        /// What to write in its stead.
        mend: String,
    },
    /// A bare number where a unit belongs.
    #[error("`{written}` has no unit; {wanted} is wanted")]
    #[diagnostic(code(UN004), help("add one of {units}"))]
    MissingUnit {
        /// What was written.
        written: String,
        /// The kind wanted, with its article.
        wanted: &'static str,
        /// Units of the kind.
        units: String,
    },
    /// A unit that nobody knows.
    #[error("`{unit}` is not a known unit; {wanted} is wanted")]
    #[diagnostic(code(UN005), help("{mend}"))]
    UnknownUnit {
        /// The unit written.
        unit: String,
        /// The kind wanted, with its article.
        wanted: &'static str,
        /// The nearest unit, or all of them.
        mend: String,
    },
    /// A known unit of another kind.
    #[error("`{unit}` is a unit of {found}; {wanted} is wanted")]
    #[diagnostic(code(UN006), help("{mend}"))]
    OtherKind {
        /// The unit written.
        unit: String,
        /// The kind it measures.
        found: String,
        /// The kind wanted, with its article.
        wanted: &'static str,
        /// What to write in its stead.
        mend: String,
    },
    /// Two numbers where one belongs.
    #[error("`{written}` is a range; one value is wanted here")]
    #[diagnostic(code(UN007), help("a range is written as a pair of values, such as `[{low}, {high}]`"))]
    Range {
        /// What was written.
        written: String,
        /// The lower end, with its unit.
        low: String,
        /// The upper end, with its unit.
        high: String,
    },
}
