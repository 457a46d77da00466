//! What a name on the command line means.

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use crate::cli::Failure;
use crate::cli::load::Decided;
use crate::diagnostic::{Diagnostic, nearest};
use crate::rulebook::book::{ClauseId, FactId, FindingId, OptionId, QuantityId, RuleId, SlotId};

/// Something that can be explained.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Target {
    Option(SlotId, OptionId),
    Slot(SlotId),
    Clause(ClauseId),
    Rule(RuleId),
    Limit(QuantityId),
    Finding(FindingId),
    Fact(FactId),
    /// Index of a zone.
    Zone(usize),
}

#[derive(Debug, Error, MietteDiagnostic)]
enum WhyMistake {
    #[error("nothing in this book or survey is named `{0}`")]
    #[diagnostic(code(CI011), help("{1}"))]
    NoSuchName(String, String),
}

/// Everything of this exact name; otherwise everything whose name has a word that starts with it.
pub(super) fn find(decided: &Decided, what: &str) -> Result<Vec<Target>, Failure> {
    let known = names(decided);
    let exact: Vec<Target> =
        known.iter().filter(|(name, _)| name == what).map(|(_, target)| *target).collect();
    if !exact.is_empty() {
        return Ok(exact);
    }
    let starts = |name: &str| {
        name.match_indices(what)
            .any(|(at, _)| at == 0 || name.get(..at).is_some_and(|before| before.ends_with('-')))
    };
    let near: Vec<Target> =
        known.iter().filter(|(name, _)| starts(name)).map(|(_, target)| *target).collect();
    // An option is what is mostly asked about; a part of a rule's name means the rule only when no option is meant.
    let options: Vec<Target> =
        near.iter().copied().filter(|target| matches!(target, Target::Option(..))).collect();
    match (options.is_empty(), near.is_empty()) {
        (false, _) => Ok(options),
        (true, false) => Ok(near),
        (true, true) => {
            let help = match nearest(what, known.iter().map(|(name, _)| name.as_str())) {
                Some(name) => format!("did you mean `{name}`?"),
                None => "name an option, clause, rule, limit, finding, fact or zone".to_owned(),
            };
            let mistake = WhyMistake::NoSuchName(what.to_owned(), help);
            Err(Failure::misused(vec![Diagnostic::error(&mistake, None)]))
        }
    }
}

fn names(decided: &Decided) -> Vec<(String, Target)> {
    let book = &decided.book;
    let mut names = Vec::new();
    for (index, slot) in book.slots.iter().enumerate() {
        names.push((slot.name.clone(), Target::Slot(SlotId(index))));
        let options = book.catalogues.get(slot.catalogue.0).map_or(&[][..], |catalogue| &catalogue.options);
        for (option, row) in options.iter().enumerate() {
            names.push((row.name.clone(), Target::Option(SlotId(index), OptionId(option))));
        }
    }
    let clauses =
        book.clauses.iter().enumerate().map(|(id, it)| (it.name.clone(), Target::Clause(ClauseId(id))));
    let rules = book.rules.iter().enumerate().map(|(id, it)| (it.name.clone(), Target::Rule(RuleId(id))));
    let limits =
        book.quantities.iter().enumerate().map(|(id, it)| (it.name.clone(), Target::Limit(QuantityId(id))));
    let findings =
        book.findings.iter().enumerate().map(|(id, it)| (it.name.clone(), Target::Finding(FindingId(id))));
    let facts = book.facts.iter().enumerate().map(|(id, it)| (it.name.clone(), Target::Fact(FactId(id))));
    let zones = decided.survey.zones.iter().enumerate().map(|(id, it)| (it.code.clone(), Target::Zone(id)));
    names.extend(clauses.chain(rules).chain(limits).chain(findings).chain(facts).chain(zones));
    names
}
