//! What can be wrong with the text of a rule file.

use miette::Diagnostic;
use thiserror::Error;

/// A mistake in the writing of a rule file.
#[derive(Debug, Error, Diagnostic)]
pub enum SyntaxMistake {
    /// A word where none of its kind fits.
    #[error("`{found}` does not fit here")]
    #[diagnostic(code(RS001), help("{expected}"))]
    DoesNotFit {
        /// What stands there.
        found: String,
        /// What would fit.
        expected: String,
    },
    /// A line at the margin that opens no statement.
    #[error("no statement begins with `{found}`")]
    #[diagnostic(code(RS002), help("{help}"))]
    NoStatement {
        /// The first word.
        found: String,
        /// The nearest word, or all of them.
        help: String,
    },
    /// A word of the language, misspelt.
    #[error("`{found}` is no word of the rule language")]
    #[diagnostic(code(RS003), help("did you mean `{meant}`?"))]
    Misspelt {
        /// What stands there.
        found: String,
        /// The word that was meant.
        meant: String,
    },
    /// A quote that is never closed.
    #[error("the quote that opens here is never closed")]
    #[diagnostic(
        code(RS004),
        help("put a `\"` at its end; a quote mark inside quoted words is written `\\\"`")
    )]
    OpenQuote,
    /// An indented line before any statement.
    #[error("an indented line belongs to the statement above it, and there is none")]
    #[diagnostic(code(RS005), help("begin the statement at the margin"))]
    NoStatementAbove,
    /// `and` and `or` side by side.
    #[error("`and` and `or` are mixed without brackets")]
    #[diagnostic(code(RS006), help("put brackets round what belongs together: `a and (b or c)`"))]
    MixedJoints,
    /// `or` after a list.
    #[error("`or` after a list without brackets can be read in two ways")]
    #[diagnostic(
        code(RS007),
        help("put brackets round the test with the list: `(use is one of a, b) or damp`")
    )]
    OrAfterList,
    /// The same line twice in one statement.
    #[error("`{line}` is given twice in one statement")]
    #[diagnostic(code(RS008), help("keep one; conditions are joined by `and` or `or`"))]
    GivenTwice {
        /// The word that opens the line.
        line: String,
    },
    /// The statement stops too soon.
    #[error("the statement ends too early")]
    #[diagnostic(code(RS009), help("{expected}"))]
    EndsEarly {
        /// What would fit.
        expected: String,
    },
    /// Brackets in brackets, too many.
    #[error("brackets are nested more than {most} deep")]
    #[diagnostic(code(RS010), help("name a part of the condition as a `finding`"))]
    TooDeep {
        /// The most that is allowed.
        most: usize,
    },
    /// A name with a character that names do not have.
    #[error("`{found}` is not written as a name")]
    #[diagnostic(
        code(RS011),
        help("names are words joined by hyphens, beginning with a letter: `old-soft-face`")
    )]
    NotAName {
        /// What stands there.
        found: String,
    },
    /// A hard space or another that no keyboard gives.
    #[error("a space that is not a plain one stands here")]
    #[diagnostic(code(RS012), help("delete it and type it anew; it often comes in with pasted text"))]
    OddSpace,
    /// Quote marks of the printer.
    #[error("`{found}` is not a plain quote mark")]
    #[diagnostic(code(RS013), help("words stand between plain quote marks: `\"`"))]
    OddQuote {
        /// The mark.
        found: char,
    },
}
