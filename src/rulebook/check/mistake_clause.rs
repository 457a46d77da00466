//! What can be wrong with a clause.

use miette::Diagnostic;
use thiserror::Error;

/// A clause that cannot be used as it stands.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum ClauseMistake {
    /// No front matter.
    #[error("the clause does not begin with its front matter")]
    #[diagnostic(
        code(CL001),
        help("begin the file with `---`, `of:`, `order:`, `subject:` and a closing `---`")
    )]
    NoFront,
    /// A name that nothing reads.
    #[error("`{name}` means nothing here")]
    #[diagnostic(code(CL002), help("{help}"))]
    UnknownKey {
        /// The name.
        name: String,
        /// The nearest, or all that mean something.
        help: String,
    },
    /// A part that is not there.
    #[error("the clause has no `{part}`")]
    #[diagnostic(code(CL003), help("{help}"))]
    Missing {
        /// The part.
        part: &'static str,
        /// How to give it.
        help: &'static str,
    },
    /// A part that does not fit.
    #[error("`{written}` does not fit `{part}`")]
    #[diagnostic(code(CL004), help("{help}"))]
    Unfit {
        /// What was written.
        written: String,
        /// The part.
        part: String,
        /// What fits.
        help: String,
    },
    /// A parameter that is no quantity, slot, column or fact.
    #[error("`{name}` is no quantity, slot, column or fact")]
    #[diagnostic(code(CL005), help("{help}"))]
    UnknownParameter {
        /// The parameter.
        name: String,
        /// The nearest.
        help: String,
    },
    /// A wording prints what is not listed.
    #[error("`{{{{ {name} }}}}` is not among the parameters of this clause")]
    #[diagnostic(code(CL006), help("{help}"))]
    Unlisted {
        /// The name in the wording.
        name: String,
        /// The nearest, or how to list it.
        help: String,
    },
    /// A parameter or a figure that no wording prints.
    #[error("no wording prints `{name}`")]
    #[diagnostic(code(CL007), help("take it off the list; zones are grouped by the parameters listed"))]
    Unprinted {
        /// The parameter.
        name: String,
    },
    /// A heading that is none of the four readers.
    #[error("`{found}` is no reader of a clause")]
    #[diagnostic(code(CL008), help("{help}"))]
    Reader {
        /// The heading.
        found: String,
        /// The nearest, or all.
        help: String,
    },
    /// No wording at all, or an empty one.
    #[error("{what} has no words")]
    #[diagnostic(
        code(CL009),
        help("write the requirement under `## section`, `## crew`, `## owner` or `## form`")
    )]
    NoWords {
        /// The clause, or the reader.
        what: String,
    },
    /// A test without all its parts.
    #[error("the test has no `{part}`")]
    #[diagnostic(
        code(CL010),
        help("a test has `method`, `frequency`, `accept`, `by`, `form` and `on-failure`")
    )]
    TestPart {
        /// The part.
        part: &'static str,
    },
    /// A clause of the job that prints what each zone has of its own.
    #[error("a clause of the job cannot print `{name}`, which each zone has of its own")]
    #[diagnostic(
        code(CL011),
        help("write `of: zone`, so that the clause prints once for each group of zones")
    )]
    ZoneInJob {
        /// The parameter.
        name: String,
    },
    /// A wording and the place it goes to, one without the other.
    #[error("the clause has {has} and no {lacks}")]
    #[diagnostic(code(CL012), help("{help}"))]
    OneWithoutOther {
        /// What is there.
        has: &'static str,
        /// What is not.
        lacks: &'static str,
        /// How to mend it.
        help: &'static str,
    },
    /// A template expression that is never closed.
    #[error("the `{opening}` that opens here is never closed")]
    #[diagnostic(code(CL013), help("put `{closing}` at its end"))]
    OpenExpression {
        /// `{{` or `{%`
        opening: &'static str,
        /// `}}` or `%}`
        closing: &'static str,
    },
    /// Words before the first heading.
    #[error("these words belong to no reader")]
    #[diagnostic(code(CL014), help("put them under `## section`, `## crew`, `## owner` or `## form`"))]
    NoReader,
    /// A clause that asks for a paper, and words that do not say when and what for.
    #[error("the clause asks for a paper, and no wording prints `{{{{ submit }}}}`")]
    #[diagnostic(
        code(CL016),
        help(
            "begin the words for the section with `{{{{ submit }}}}`, which says what the paper is for and when it is due"
        )
    )]
    Unsubmitted,
    /// A wording that would take in another file.
    #[error("a wording cannot take in another file")]
    #[diagnostic(
        code(CL017),
        help("write the words here, or refer to the other clause as `[words](#clause-name)`")
    )]
    TakenIn,
    /// Two wordings for one reader, or two clauses of one name.
    #[error("`{name}` is there twice")]
    #[diagnostic(code(CL015), help("keep one; a clause is called as its file, whatever folder it lies in"))]
    Twice {
        /// The heading or the clause.
        name: String,
    },
}
