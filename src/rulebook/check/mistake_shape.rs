//! What can be wrong with a statement or the book as a whole.

use miette::Diagnostic;
use thiserror::Error;

/// A statement or book that lacks a part, or has one too many.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum ShapeMistake {
    /// No name and edition.
    #[error("the book has no name and edition")]
    #[diagnostic(code(RC050), help("begin one of its files with `rulebook \"…\" edition 2026.1`"))]
    NoHead,
    /// Two names and editions.
    #[error("the book is named twice")]
    #[diagnostic(code(RC051), help("keep one `rulebook` statement"))]
    TwoHeads,
    /// A rule without effects.
    #[error("rule `{name}` does nothing")]
    #[diagnostic(
        code(RC052),
        help(
            "say what follows: `limit`, `require clause`, `refuse`, `prefer`, `stop`, `hold-point` or `caution`"
        )
    )]
    NoEffect {
        /// The rule.
        name: String,
    },
    /// A finding without a condition.
    #[error("finding `{name}` does not say when it holds")]
    #[diagnostic(code(RC053), help("add a line `where …`"))]
    NoCondition {
        /// The finding.
        name: String,
    },
    /// An option preferred over itself.
    #[error("`{option}` is preferred over itself")]
    #[diagnostic(code(RC054), help("name two options, or write `over every other`"))]
    OverItself {
        /// The option.
        option: String,
    },
    /// Two hold points of one name that differ.
    #[error("hold point `{name}` is given in two ways")]
    #[diagnostic(
        code(RC055),
        help("the same stage, role, notice and form belong to one name; call one of them otherwise")
    )]
    HoldPointDiffers {
        /// The hold point.
        name: String,
    },
    /// A change to a book below, in a book that stands on none.
    #[error("`{word}` changes the book below, and this book stands on none")]
    #[diagnostic(
        code(RC056),
        help("change the statement itself, or begin the book with `house rulebook … over …`")
    )]
    NothingBelow {
        /// `amend`, `add` or `withdraw`.
        word: &'static str,
    },
    /// A change that changes nothing.
    #[error("the old and the new value are the same")]
    #[diagnostic(code(RC057), help("write the value of the book below after `from` and yours after `to`"))]
    NoChange,
    /// Not a digest.
    #[error("`{written}` is no digest")]
    #[diagnostic(
        code(RC058),
        help("write the first twelve hex digits that the book below prints, or all sixty-four")
    )]
    Digest {
        /// What was written.
        written: String,
    },
    /// A firm's book without the book it stands on.
    #[error("this is a firm's book; it can be read only over `{over}`")]
    #[diagnostic(code(RC059), help("read it together with the book that it changes"))]
    HouseAlone {
        /// The book below.
        over: String,
    },
}
