//! What can be wrong with a catalogue.

use miette::Diagnostic;
use thiserror::Error;

/// A catalogue that cannot be used as it stands.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum CatalogueMistake {
    /// A list, a value or nothing where a record belongs, or the like.
    #[error("{what} stands where {wanted} is wanted")]
    #[diagnostic(code(CA001), help("a catalogue has `columns:` and `options:`, each a record of records"))]
    Shape {
        /// What stands there.
        what: &'static str,
        /// What is wanted.
        wanted: &'static str,
    },
    /// A name that nothing reads.
    #[error("`{name}` means nothing here")]
    #[diagnostic(code(CA002), help("{help}"))]
    UnknownKey {
        /// The name.
        name: String,
        /// The nearest, or all that mean something.
        help: String,
    },
    /// A part that is not there.
    #[error("`{of}` has no `{part}`")]
    #[diagnostic(code(CA003), help("{help}"))]
    Missing {
        /// What lacks it.
        of: String,
        /// The part.
        part: &'static str,
        /// How to give it.
        help: &'static str,
    },
    /// A cell left blank.
    #[error("`{option}` has no `{column}`")]
    #[diagnostic(code(CA004), help("fill in the cell, or write `none` where there is no such value"))]
    Blank {
        /// The row.
        option: String,
        /// The column.
        column: String,
    },
    /// A cell that does not fit its column.
    #[error("`{written}` does not fit the column `{column}`, which {kind}")]
    #[diagnostic(code(CA005), help("{help}"))]
    Cell {
        /// What the cell holds.
        written: String,
        /// The column.
        column: String,
        /// Its kind as a phrase.
        kind: String,
        /// What fits.
        help: String,
    },
    /// A range from high to low.
    #[error("the range runs from `{from}` down to `{to}`")]
    #[diagnostic(code(CA006), help("write the lower end first"))]
    Backwards {
        /// The first end.
        from: String,
        /// The second end.
        to: String,
    },
    /// A figure without a source.
    #[error("`{of}` names no source")]
    #[diagnostic(
        code(CA007),
        help("give the column a `per:`, or each of its cells one: `{{value: …, per: …}}`")
    )]
    NoSource {
        /// The column.
        of: String,
    },
    /// A column that cannot be worked out.
    #[error("`{column}` cannot be worked out from `{from}`: {why}")]
    #[diagnostic(
        code(CA008),
        help(
            "a permeance is worked out from an air layer (sd) by the book's `quantity air-permeability … taken as …`"
        )
    )]
    WorkedFrom {
        /// The column.
        column: String,
        /// The column it is worked from.
        from: String,
        /// What stands against it.
        why: &'static str,
    },
    /// Neither `high` nor `low`.
    #[error("`{written}` is no end of a range")]
    #[diagnostic(code(CA009), help("write `worst: high` or `worst: low`"))]
    Worst {
        /// What was written.
        written: String,
    },
    /// A name that a rule could not write.
    #[error("`{name}` is not written as a name")]
    #[diagnostic(
        code(CA010),
        help("names are words joined by hyphens, beginning with a letter: `sol-silicate`")
    )]
    NotAName {
        /// The name.
        name: String,
    },
    /// Two catalogues of one name.
    #[error("there are two catalogues `{name}`")]
    #[diagnostic(code(CA011), help("a catalogue is called as its file; rename one of them"))]
    Twice {
        /// The name.
        name: String,
    },
    /// A value in a column that is worked out.
    #[error("`{column}` is worked out and takes no value of its own")]
    #[diagnostic(code(CA012), help("take the value out, or take `worked-from` off the column"))]
    WorkedOut {
        /// The column.
        column: String,
    },
}
