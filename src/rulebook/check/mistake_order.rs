//! What can be wrong with what reads what; and what is worth a remark.

use miette::Diagnostic;
use thiserror::Error;

/// Things that wait for each other, or that read what they may not.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum OrderMistake {
    /// Findings and slots in a ring.
    #[error("`{first}` depends on itself: {ring}")]
    #[diagnostic(code(RC070), help("let one of them read facts alone"))]
    Decisions {
        /// Where the ring is told from.
        first: String,
        /// The ring.
        ring: String,
    },
    /// Questions that wait for each other.
    #[error("the question `{first}` waits for itself: {ring}")]
    #[diagnostic(code(RC071), help("take the `only where` off one of them"))]
    Questions {
        /// Where the ring is told from.
        first: String,
        /// The ring.
        ring: String,
    },
    /// Stages that follow each other in a ring.
    #[error("stage `{first}` comes after itself: {ring}")]
    #[diagnostic(code(RC072), help("take one `after` out"))]
    Stages {
        /// Where the ring is told from.
        first: String,
        /// The ring.
        ring: String,
    },
    /// A question that waits for a decision.
    #[error("`only where` of a question reads facts alone, and `{words}` is a decision")]
    #[diagnostic(code(RC073), help("name the facts that the decision rests on"))]
    GuardReadsDecision {
        /// The test.
        words: String,
    },
}

/// What is allowed and worth saying.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum BookRemark {
    /// A test of whether there is an answer.
    #[error("`{words}` turns round when an answer comes in")]
    #[diagnostic(
        code(RC080),
        help("everywhere else a new answer never adds a duty; make sure that it may here")
    )]
    AsksForAnswer {
        /// The test.
        words: String,
    },
    /// A rule that is left out while its condition is unknown.
    #[error("rule `{name}` is left out while nobody knows whether it applies")]
    #[diagnostic(
        code(RC081),
        help("everywhere else the unknown keeps a duty; make sure that it may go here")
    )]
    LeftOut {
        /// The rule.
        name: String,
    },
    /// A clause that no rule requires.
    #[error("no rule requires clause `{name}`")]
    #[diagnostic(
        code(RC082),
        help("add `require clause {name}` to the rule that calls for it, or take the clause out")
    )]
    NeverRequired {
        /// The clause.
        name: String,
    },
}
