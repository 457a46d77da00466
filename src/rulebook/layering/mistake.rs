//! What can be wrong with a firm's book over the book it changes.

use miette::Diagnostic;
use thiserror::Error;

/// A firm's book that does not fit the book below.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum LayeringMistake {
    /// It names another book.
    #[error("this book stands over `{wanted}`, and the book below is `{below}`")]
    #[diagnostic(
        code(LA001),
        help("read it over the book that it names, or look through its changes and name this one")
    )]
    OtherBook {
        /// Title and edition named.
        wanted: String,
        /// Title and edition found.
        below: String,
    },
    /// The book below has changed.
    #[error("the book below has changed since this book was written over it")]
    #[diagnostic(
        code(LA002),
        help("its digest is now `{digest}`; look through what changed, then write the new digest")
    )]
    Changed {
        /// The first twelve digits of what it is.
        digest: String,
    },
    /// A change to a rule or finding that is not there.
    #[error("the book below has no {what} `{name}`")]
    #[diagnostic(code(LA003), help("{help}"))]
    NoStatement {
        /// `rule` or `finding`.
        what: &'static str,
        /// Its name.
        name: String,
        /// The nearest.
        help: String,
    },
    /// A rule without such a limit.
    #[error("rule `{rule}` does not limit `{quantity}`")]
    #[diagnostic(code(LA004), help("{help}"))]
    NoLimit {
        /// The rule.
        rule: String,
        /// The quantity.
        quantity: String,
        /// What it limits.
        help: String,
    },
    /// An old value that is not the book's.
    #[error("the book below says `{below}`, not `{quoted}`")]
    #[diagnostic(code(LA005), help("quote what it says now; see whether the change is still wanted"))]
    OldValue {
        /// What the book says.
        below: String,
        /// What the change quotes.
        quoted: String,
    },
    /// A cell that is not there.
    #[error("the book below has no {what} `{name}`")]
    #[diagnostic(code(LA006), help("{help}"))]
    NoCell {
        /// Catalogue, row or column.
        what: &'static str,
        /// Its name.
        name: String,
        /// The nearest, or all.
        help: String,
    },
    /// Two changes of one thing.
    #[error("`{what}` is changed twice")]
    #[diagnostic(code(LA007), help("keep one change"))]
    Twice {
        /// What is changed.
        what: String,
    },
    /// A change to a rule that is withdrawn.
    #[error("rule `{name}` is withdrawn, and what is withdrawn cannot be changed")]
    #[diagnostic(code(LA009), help("keep the change or the withdrawal"))]
    Withdrawn {
        /// The rule.
        name: String,
    },
    /// A reader for whom a clause has no words.
    #[error("clause `{clause}` has no words for `{reader}`")]
    #[diagnostic(code(LA010), help("{help}"))]
    NoWords {
        /// The clause.
        clause: String,
        /// The reader.
        reader: String,
        /// Whom it has words for.
        help: String,
    },
    /// Old words that a clause does not say.
    #[error("clause `{clause}` does not say this")]
    #[diagnostic(
        code(LA011),
        help("quote what it says now, to the letter; see whether the change is still wanted")
    )]
    NotSaid {
        /// The clause.
        clause: String,
    },
    /// Old words that a clause says more often than once.
    #[error("clause `{clause}` says this {count} times")]
    #[diagnostic(code(LA012), help("quote more of it, so that it is plain which is meant"))]
    SaidOften {
        /// The clause.
        clause: String,
        /// How often.
        count: usize,
    },
    /// A row or column that is there.
    #[error("`{catalogue}` has a {what} `{name}` already")]
    #[diagnostic(
        code(LA013),
        help("change its cells with `amend {catalogue} … from … to …`, or call yours otherwise")
    )]
    ThereAlready {
        /// The catalogue.
        catalogue: String,
        /// Row or column.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// A new column that leaves a row blank.
    #[error("the new column `{column}` says nothing of `{row}`")]
    #[diagnostic(code(LA014), help("every row has a cell; write `none` where there is no value"))]
    NoCellFor {
        /// The column.
        column: String,
        /// The row.
        row: String,
    },
    /// No firm's book among the files.
    #[error("no file of the firm's book begins with `house rulebook`")]
    #[diagnostic(
        code(LA008),
        help("begin one with `house rulebook \"…\" edition 1 over \"…\" edition … digest …`")
    )]
    NoHead,
}
