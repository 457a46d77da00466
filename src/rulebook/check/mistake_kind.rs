//! What can be wrong with a comparison or a value: it does not fit the kind.

use miette::Diagnostic;
use thiserror::Error;

/// A fact, column or value used out of its kind.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum KindMistake {
    /// The comparison does not fit the kind.
    #[error("`{name}` {kind}; `{compare}` does not fit it")]
    #[diagnostic(code(RC020), help("{help}"))]
    Compare {
        /// The fact or column.
        name: String,
        /// Its kind as a phrase: `is a pressure`.
        kind: String,
        /// The comparison as written.
        compare: String,
        /// What fits.
        help: String,
    },
    /// The value lies outside what the fact can be.
    #[error("`{value}` lies outside what `{name}` can be")]
    #[diagnostic(code(RC021), help("{help}"))]
    OutOfRange {
        /// The value.
        value: String,
        /// The fact.
        name: String,
        /// The range.
        help: String,
    },
    /// A fact compared with a fact.
    #[error("`{name}` and `{other}` are both facts; a fact is compared with a value")]
    #[diagnostic(code(RC022), help("write a figure, or let the wall calculation work out the difference"))]
    TwoFacts {
        /// The fact on the left.
        name: String,
        /// The fact on the right.
        other: String,
    },
    /// A fact that stands bare and is not a yes or no.
    #[error("`{name}` {kind} and cannot stand alone")]
    #[diagnostic(
        code(RC023),
        help("compare it: `{name} is …`, `{name} over …`; only yes-or-no facts and findings stand alone")
    )]
    Bare {
        /// The fact.
        name: String,
        /// Its kind as a phrase.
        kind: String,
    },
    /// A fact that each option has of its own, outside `whose`.
    #[error("each option of `{slot}` has a `{name}` of its own")]
    #[diagnostic(code(RC024), help("ask for that of the option chosen: `chosen {slot} whose {name} …`"))]
    OwnOfOption {
        /// The fact.
        name: String,
        /// The slot.
        slot: String,
    },
    /// A range written from high to low.
    #[error("the range runs from `{from}` down to `{to}`")]
    #[diagnostic(code(RC025), help("write the lower end first"))]
    Backwards {
        /// The first end.
        from: String,
        /// The second end.
        to: String,
    },
    /// A limit of another kind than its quantity.
    #[error("`{value}` {kind}, but `{quantity}` is {wanted}")]
    #[diagnostic(code(RC026), help("limit a quantity by a value, fact or column of its own kind"))]
    Limit {
        /// The fact or column.
        value: String,
        /// Its kind as a phrase.
        kind: String,
        /// The quantity.
        quantity: String,
        /// The kind of the quantity.
        wanted: String,
    },
    /// A column with ranges that does not say which end is the adverse one.
    #[error("`{column}` holds ranges and does not say which end is the worst")]
    #[diagnostic(
        code(RC027),
        help("add `worst: high` or `worst: low` to the column; a range is decided on its adverse end")
    )]
    NoWorst {
        /// The column.
        column: String,
    },
    /// More cells than a set can hold.
    #[error("`{name}` would be cut into {count} cells; the most is {most}")]
    #[diagnostic(code(RC028), help("list fewer words, or compare it with fewer different figures"))]
    TooManyCells {
        /// The fact.
        name: String,
        /// How many.
        count: usize,
        /// The most.
        most: usize,
    },
    /// A word listed twice.
    #[error("`{word}` is listed twice")]
    #[diagnostic(code(RC029), help("take one out"))]
    ListedTwice {
        /// The word.
        word: String,
    },
    /// A word that means something of its own.
    #[error("`{word}` cannot be one of the words of a fact")]
    #[diagnostic(
        code(RC030),
        help(
            "`is known` and `is unknown` ask whether there is an answer; leave the question unanswered to say that nobody knows"
        )
    )]
    NotAWord {
        /// The word.
        word: String,
    },
    /// A number that is not a sensible count.
    #[error("`{written}` is no number of {what}")]
    #[diagnostic(code(RC031), help("write a whole number from 1 to 36500"))]
    Count {
        /// What was written.
        written: String,
        /// What it counts.
        what: &'static str,
    },
    /// A fact compared with a fact that each option has of its own.
    #[error("`{name}` is worked out for each option and cannot be compared with another fact")]
    #[diagnostic(code(RC032), help("compare it with a figure, or compare a column with the fact"))]
    OwnWithFact {
        /// The worked fact.
        name: String,
    },
    /// A question that cannot be answered beside another.
    #[error("`{name}` cannot be told with `{fact}`")]
    #[diagnostic(
        code(RC033),
        help("name another question of the same zone or of the job; what is worked out is never asked")
    )]
    NotBeside {
        /// What was named.
        name: String,
        /// The question.
        fact: String,
    },
    /// A formula that does not fit together.
    #[error("`{name}` does not fit into the formula of `{fact}`: {why}")]
    #[diagnostic(
        code(RC034),
        help("write `as 10 ft plus 0.4 in. for each 1 kV of FACT over 50 kV`, or `as FACT divided by FACT`")
    )]
    NotInFormula {
        /// What was named.
        name: String,
        /// The worked fact.
        fact: String,
        /// What is wrong.
        why: &'static str,
    },
}
