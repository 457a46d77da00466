//! What a proof has to say against a book.

use miette::Diagnostic;
use thiserror::Error;

/// What is not as it should be, for some survey or for every one.
#[derive(Debug, Error, Diagnostic)]
pub(crate) enum ProofMistake {
    /// A survey breaks a promise.
    #[error("promise `{name}` is broken")]
    #[diagnostic(code(PR001), help("change the rules concerned, or promise less"))]
    Broken { name: String },
    /// A promise waits for an answer.
    #[error("promise `{name}` is not kept while something is not known")]
    #[diagnostic(
        code(PR002),
        help("let a rule read the facts that the promise reads, so that it applies while they are open")
    )]
    Unsure { name: String },
    /// No survey makes a rule apply.
    #[error("rule `{name}` can never apply")]
    #[diagnostic(
        code(PR003),
        help("its condition contradicts itself or another rule; mend it or take it out")
    )]
    NeverApplies { name: String },
    /// Dropping a rule changes nothing.
    #[error("rule `{name}` never matters: whatever it asks for, other rules ask for as surely")]
    #[diagnostic(
        code(PR004),
        help("take it out, or let it say what the others do not; `waive` says why it stays")
    )]
    NeverMatters { name: String },
    /// A clause that nothing requires.
    #[error("clause `{name}` is never required")]
    #[diagnostic(code(PR005), help("let a rule require it, or take it out"))]
    NeverRequired { name: String },
    /// A finding that no survey makes true.
    #[error("finding `{name}` never holds")]
    #[diagnostic(code(PR006), help("mend its condition, or take it out"))]
    NeverHolds { name: String },
    /// A finding that no survey makes false.
    #[error("finding `{name}` always holds")]
    #[diagnostic(code(PR007), help("mend its condition, or take it out of the rules that read it"))]
    AlwaysHolds { name: String },
    /// A question whose answer changes nothing.
    #[error("the question `{name}` settles nothing: whatever is answered, the same is decided")]
    #[diagnostic(code(PR008), help("let a rule read it, or ask it no more"))]
    SettlesNothing { name: String },
    /// A slot that may be left with nothing.
    #[error("every option of `{name}` can be refused, and no rule stops the work")]
    #[diagnostic(code(PR009), help("leave one option to take, or state a rule that stops the work there"))]
    NothingLeft { name: String },
    /// Preferences in a circle.
    #[error("the preferences of `{name}` can run in a circle, and then nothing is chosen")]
    #[diagnostic(code(PR010), help("withdraw one of the preferences, or narrow where it holds"))]
    Ring { name: String },
    /// A floor over a ceiling.
    #[error("two limits on `{name}` can hold together, and no figure satisfies both")]
    #[diagnostic(code(PR011), help("narrow where one of the rules holds, or change its figure"))]
    Clash { name: String },
    /// The budget ran out.
    #[error("{what}: not settled within the budget")]
    #[diagnostic(code(PR012), help("give it longer: `--budget 5min`"))]
    NotSettled { what: String },
    /// A waiver without a remark.
    #[error("`{words}` waives a remark that is not made")]
    #[diagnostic(code(PR014), help("take the waiver out"))]
    Stale { words: String },
    /// Gates and evaluator disagree.
    #[error("{what}: the survey that was found does not show it, so this proof cannot be trusted")]
    #[diagnostic(code(PR013), help("this is a mistake of the program; please report it with the rulebook"))]
    NotReplayed { what: String },
    /// A change of a firm's book lets some survey lose something of the trade's.
    #[error("{changes} weakens the trade book")]
    #[diagnostic(code(PR030), help("some survey loses a duty, a refusal, a stop or a tighter limit"))]
    Weakens { changes: String },
    /// A change of a firm's book lets some survey choose otherwise.
    #[error("`{change}` lets another option be chosen than the trade book chooses")]
    #[diagnostic(
        code(PR031),
        help("what goes with an option comes and goes with it; `perpend compare` shows each such survey")
    )]
    MovesChoice { change: String },
    /// The survey at hand breaks a promise.
    #[error("promise `{name}` is broken in zone `{zones}`")]
    #[diagnostic(
        code(PR020),
        help(
            "the rules decide against what the rulebook promises, so nothing is written; change the rules concerned, or \
             promise less; `perpend prove` shows which"
        )
    )]
    BrokenHere { name: String, zones: String },
    /// A departure breaks a promise.
    #[error("promise `{name}` is broken in zone `{zones}`, where a departure is on file")]
    #[diagnostic(
        code(PR021),
        help("the departure prints with its role, reason and date; whoever signs it answers for it")
    )]
    DepartedFrom { name: String, zones: String },
}
