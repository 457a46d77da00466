//! `perpend prove`: what holds for every survey that can be written.

mod coverage;
mod examples;
mod weakened;

use std::fmt::Write as _;
use std::path::Path;

use crate::cli::args::{Prove, Rulebook, Telling};
use crate::cli::{Exit, Failure, Report};
use crate::cli::{files, load};
use crate::diagnostic::Diagnostic;
use crate::proof::{self, About, Counting, Depth, Terms, Weakenings};
use crate::rulebook::House;
use crate::rulebook::book::Book;
use crate::units::System;
use crate::wall;

/// How many losses of a firm's book are told with a survey of their own.
const SHOWN: usize = 20;

/// Puts every question to a book and tells what came of them.
pub(super) fn run(prove: &Prove) -> Result<Report, Failure> {
    let (book, mut remarks) = load::book(&Rulebook { rulebook: Some(prove.rulebook.clone()) })?;
    if !prove.over.is_empty() {
        return coverage::run(&book, &prove.over, prove.format);
    }
    let terms = Terms {
        dead_ends: load::dead_ends(prove.budget),
        read_elsewhere: wall::read_by_worked(&book),
        reach: wall::reach(&book),
        counting: if prove.uncounted { Counting::LeftOut } else { Counting::Kinds },
    };
    if let Some(folder) = &prove.examples {
        return examples::run(&book, &terms, folder, prove.format);
    }
    let report = proof::prove(&book, &terms);
    let told = proof::told(&book, &report, System::UsFirst);
    if let Some(folder) = &prove.witness {
        write_witnesses(folder, &book, &report)?;
    }
    if let Some(folder) = &prove.smt {
        for problem in proof::problems(&book, &terms.reach) {
            files::write_beside(&folder.join(format!("{}.smt2", problem.name)), &problem.text)?;
        }
    }
    let over = book.house.as_deref().zip(proof::weakenings(&book, terms.dead_ends, Depth::Shown(SHOWN)));
    let weakened = over.as_ref().map(|(_, found)| proof::weakened(&book, found, System::UsFirst));
    let weakened = weakened.unwrap_or_default();
    if let (Some(folder), Some((house, found))) = (&prove.witness, &over) {
        weakened::write(folder, &book, house, found)?;
    }
    // What a firm weakens is its own to decide: it is said, and spoils nothing.
    let spoiled = !told.is_empty() || weakened.iter().any(Diagnostic::is_error);
    let exit = if spoiled { Exit::NothingMade } else { Exit::Done };
    let text = match prove.format {
        Telling::Text => summary(&book, &report, over.as_ref()),
        Telling::Json => {
            json::report(&book, &report, over.as_ref(), &[told.clone(), weakened.clone()].concat())
        }
    };
    if prove.format == Telling::Text {
        remarks.extend(told);
        remarks.extend(weakened);
    }
    Ok(Report { text, remarks, exit })
}

/// Writes a survey for each question that one shows against the book.
fn write_witnesses(folder: &Path, book: &Book, report: &proof::Report) -> Result<(), Failure> {
    for (about, standing) in &report.answers {
        let proof::Standing::Shown(witness) = standing else { continue };
        let Some((kind, name)) = proof::called(book, *about) else { continue };
        let text = proof::written(&format!("{kind} `{name}`"), witness);
        files::write_beside(&folder.join(format!("{kind}-{name}.yaml").replace(' ', "-")), &text)?;
    }
    Ok(())
}

/// A line for each kind of question: how many, and how many of them are as they should be.
fn summary(book: &Book, report: &proof::Report, over: Option<&Over<'_>>) -> String {
    let mut text = format!("{}, edition {}\n", book.title, book.edition);
    let good = |of: fn(&About) -> bool| {
        let asked = report.answers.iter().filter(|(about, _)| of(about));
        asked.clone().filter(|(_, standing)| standing.is_good()).count()
    };
    let promises = report.kept_promises();
    let mut line = |count: usize, of: usize, what: &str| {
        let said = if count == of { format!("all {of}") } else { format!("{count} of {of}") };
        let _ = writeln!(text, "{said} {what}");
    };
    line(promises, book.promises.len(), "promises are proved");
    line(good(|about| matches!(about, About::Applies(_))), book.rules.len(), "rules can apply");
    line(good(|about| matches!(about, About::Matters(_))), book.rules.len(), "rules matter");
    line(good(|about| matches!(about, About::Required(_))), book.clauses.len(), "clauses can be required");
    line(good(|about| matches!(about, About::Holds(_))), book.findings.len(), "findings can hold");
    line(good(|about| matches!(about, About::Fails(_))), book.findings.len(), "findings can fail");
    line(report.facts - report.idle.len(), report.facts, "questions settle something");
    line(
        good(|about| matches!(about, About::NothingLeft(_))),
        book.slots.len(),
        "choices are filled or stopped",
    );
    line(
        good(|about| matches!(about, About::Ring(_))),
        book.slots.len(),
        "choices have preferences in no circle",
    );
    let clashes = report.answers.iter().filter(|(about, _)| matches!(about, About::Clash(..))).count();
    line(good(|about| matches!(about, About::Clash(..))), clashes, "pairs of crossed limits never meet");
    if let Some((house, found)) = over {
        text.push_str(&weakened::summary(house, found));
    }
    text
}

/// The firm's layer of a book, and what it weakens.
type Over<'a> = (&'a House, Weakenings);

mod json {
    //! The same as data.

    use serde_json::json;

    use super::{Over, weakened};
    use crate::cli::data;
    use crate::diagnostic::Diagnostic;
    use crate::proof;
    use crate::rulebook::book::Book;

    /// The whole report.
    pub(super) fn report(
        book: &Book,
        report: &proof::Report,
        over: Option<&Over<'_>>,
        told: &[Diagnostic],
    ) -> String {
        let whole = json!({
            "rulebook": {"title": book.title, "edition": book.edition, "sha256": book.digest},
            "promises": {"asked": book.promises.len(), "proved": report.kept_promises()},
            "questions": {
                "asked": report.answers.len() + report.facts,
                "good": report.answers.iter().filter(|(_, standing)| standing.is_good()).count()
                    + report.facts - report.idle.len(),
            },
            "house": over.map(|(house, found)| weakened::as_data(book, house, found)),
            "told": data::diagnostics(told),
        });
        format!("{whole:#}\n")
    }
}
