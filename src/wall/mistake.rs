//! What can be wrong with the worked facts that a book declares.

use miette::Diagnostic;
use thiserror::Error;

/// A declaration that the wall calculation cannot fill.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum WallMistake {
    /// No such worked fact.
    #[error("the program does not work out `{name}`")]
    #[diagnostic(code(WA001), help("{mend}"))]
    Unknown {
        /// The name declared.
        name: String,
        /// The nearest name, or where they are listed.
        mend: String,
    },
    /// Declared of the job, and worked out for a zone, or the like.
    #[error("`{name}` is worked out {right}, but is declared {wrong}")]
    #[diagnostic(code(WA002), help("write `worked {name} {declaration}`"))]
    Owner {
        /// The name.
        name: String,
        /// What it belongs to.
        right: &'static str,
        /// What it is declared of.
        wrong: &'static str,
        /// The words after the name.
        declaration: &'static str,
    },
    /// Declared as another kind than the value has.
    #[error("`{name}` is {right}, but is declared {wrong}")]
    #[diagnostic(code(WA003), help("declare `{name}` as {right}"))]
    Kind {
        /// The name.
        name: String,
        /// The kind it has.
        right: String,
        /// The kind declared.
        wrong: String,
    },
    /// A word that may be found and that the declaration lacks.
    #[error("`{name}` can be `{word}`, which its declaration does not list")]
    #[diagnostic(code(WA004), help("{mend}"))]
    Word {
        /// The name.
        name: String,
        /// The word.
        word: String,
        /// How to list it.
        mend: String,
    },
    /// Something of the book that the calculation needs.
    #[error("`{name}` cannot be worked out, for the rulebook has no {lacks}")]
    #[diagnostic(code(WA005), help("add it, or leave `{name}` out"))]
    Lacks {
        /// The name.
        name: String,
        /// What is not there.
        lacks: String,
    },
}
