//! What can be wrong with a name: nobody knows it, or two things bear it.

use miette::Diagnostic;
use thiserror::Error;

use crate::diagnostic::nearest;

/// A name that leads nowhere, or to two things.
#[derive(Debug, Error, Diagnostic)]
pub(super) enum NameMistake {
    /// No fact or finding has it.
    #[error("no fact or finding is called `{name}`")]
    #[diagnostic(code(RC001), help("{help}"))]
    Fact {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No source has it.
    #[error("no source is called `{name}`")]
    #[diagnostic(code(RC002), help("{help}"))]
    Source {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No stage has it.
    #[error("no stage is called `{name}`")]
    #[diagnostic(code(RC003), help("{help}"))]
    Stage {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No catalogue has it.
    #[error("no catalogue is called `{name}`")]
    #[diagnostic(code(RC004), help("{help}"))]
    Catalogue {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No slot has it.
    #[error("no slot is called `{name}`")]
    #[diagnostic(code(RC005), help("{help}"))]
    Slot {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No quantity has it.
    #[error("no quantity is called `{name}`")]
    #[diagnostic(code(RC006), help("{help}"))]
    Quantity {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No clause has it.
    #[error("no clause is called `{name}`")]
    #[diagnostic(code(RC007), help("{help}"))]
    Clause {
        /// The name.
        name: String,
        /// The nearest name, or how to declare it.
        help: String,
    },
    /// No column has it.
    #[error("`{catalogue}` has no column `{name}`")]
    #[diagnostic(code(RC008), help("{help}"))]
    Column {
        /// The name.
        name: String,
        /// The catalogue.
        catalogue: String,
        /// The nearest name, or all of them.
        help: String,
    },
    /// The word is none of those that are possible.
    #[error("`{name}` is no value of `{of}`")]
    #[diagnostic(code(RC009), help("{help}"))]
    Value {
        /// The word.
        name: String,
        /// What it was compared with.
        of: String,
        /// The nearest word, or all of them.
        help: String,
    },
    /// No kind has it.
    #[error("no kind is called `{name}`")]
    #[diagnostic(code(RC010), help("{help}"))]
    Kind {
        /// The name.
        name: String,
        /// The nearest name, or all of them.
        help: String,
    },
    /// Two things bear it.
    #[error("`{name}` is declared twice")]
    #[diagnostic(
        code(RC011),
        help("facts, findings, quantities and slots share their names; call one of them otherwise")
    )]
    Twice {
        /// The name.
        name: String,
    },
    /// A column and a worked fact bear it.
    #[error("`{name}` is a column of `{catalogue}` and a worked fact of its options")]
    #[diagnostic(
        code(RC012),
        help("call one of them otherwise, so that `whose {name}` can be read in one way")
    )]
    ColumnAndFact {
        /// The name.
        name: String,
        /// The catalogue.
        catalogue: String,
    },
    /// A waiver names what is not there.
    #[error("no {kind} is called `{name}`, so there is nothing to waive")]
    #[diagnostic(code(RC013), help("{help}"))]
    Waived {
        /// Rule, finding or fact.
        kind: &'static str,
        /// The name.
        name: String,
        /// The nearest name, or what to do.
        help: String,
    },
}

/// `did you mean …`, or the words to say instead.
pub(super) fn meant<'a>(
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
    otherwise: impl FnOnce() -> String,
) -> String {
    nearest(name, known).map_or_else(otherwise, |meant| format!("did you mean `{meant}`?"))
}

/// A list of words for a help text, cut short where it is long.
pub(super) fn listed<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let all: Vec<&str> = words.into_iter().collect();
    let shown: Vec<String> = all.iter().take(12).map(|word| format!("`{word}`")).collect();
    let more = if all.len() > 12 { format!(" and {} more", all.len() - 12) } else { String::new() };
    if shown.is_empty() {
        "there is none yet".to_owned()
    } else {
        format!("there are {}{more}", shown.join(", "))
    }
}
