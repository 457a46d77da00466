//! Surveys that make every rule apply, as files; in words and as data.

use std::fmt::Write as _;
use std::path::Path;

use serde_json::{Value, json};

use crate::cli::args::Telling;
use crate::cli::files::OutFile;
use crate::cli::{Exit, Failure, Report, files};
use crate::proof::{self, Examples, Missing, Terms};
use crate::rulebook::book::{Book, RuleId};

/// Lists the surveys that were written, and what each is there for.
const LISTING: &str = "examples.json";

/// Looks for the surveys and writes them, all or none.
pub(super) fn run(book: &Book, terms: &Terms, folder: &Path, form: Telling) -> Result<Report, Failure> {
    let examples = proof::examples(book, terms);
    let surveys = examples.surveys.iter().enumerate();
    let mut written: Vec<OutFile> =
        surveys.map(|(at, example)| OutFile::new(file(at), example.text.clone().into_bytes())).collect();
    let listing = format!("{:#}\n", listed(book, &examples));
    written.push(OutFile::new(LISTING.to_owned(), listing.clone().into_bytes()));
    files::write_listed(folder, &written, LISTING)?;
    let text = match form {
        Telling::Text => words(book, folder, &examples),
        Telling::Json => listing,
    };
    Ok(Report { text, remarks: Vec::new(), exit: Exit::Done })
}

fn file(at: usize) -> String {
    format!("example-{:02}.yaml", at + 1)
}

fn name(book: &Book, rule: RuleId) -> &str {
    book.rules.get(rule.0).map_or("", |rule| rule.name.as_str())
}

fn words(book: &Book, folder: &Path, examples: &Examples) -> String {
    let mut text = format!("{}, edition {}\n", book.title, book.edition);
    let surveys = match examples.surveys.len() {
        1 => "1 survey makes".to_owned(),
        count => format!("{count} surveys make"),
    };
    let reached = book.rules.len() - examples.missing.len();
    let _ = writeln!(
        text,
        "{}: {surveys} {reached} of {} rules apply; none can be dropped",
        files::shown(folder),
        book.rules.len()
    );
    for (at, example) in examples.surveys.iter().enumerate() {
        let _ = writeln!(
            text,
            "  {}: {}, {} by it alone",
            file(at),
            rules(example.rules.len()),
            example.alone.len()
        );
    }
    if !examples.missing.is_empty() {
        text.push_str("no survey was written that makes these apply:\n");
    }
    for (rule, why) in &examples.missing {
        let _ = writeln!(text, "  {}: {}", name(book, *rule), why_not(why));
    }
    text
}

fn rules(count: usize) -> String {
    if count == 1 { "1 rule".to_owned() } else { format!("{count} rules") }
}

fn why_not(why: &Missing) -> String {
    match why {
        Missing::CannotApply => "no survey does".to_owned(),
        Missing::NotSettled => "not settled within the budget".to_owned(),
        Missing::LeansOn(facts) if facts.is_empty() => {
            "answers alone would do, and none was found that can be written".to_owned()
        }
        Missing::LeansOn(facts) => format!(
            "it leans on what is worked out ({}), and no wall that was thrown comes out so: it may not be reachable",
            facts.join(", ")
        ),
    }
}

fn listed(book: &Book, examples: &Examples) -> Value {
    let names = |rules: &[RuleId]| rules.iter().map(|rule| name(book, *rule)).collect::<Vec<_>>();
    let surveys = examples.surveys.iter().enumerate().map(
        |(at, example)| json!({"file": file(at), "rules": names(&example.rules), "alone": names(&example.alone)}),
    );
    let missing = examples.missing.iter().map(|(rule, why)| {
        let leans_on = match why {
            Missing::LeansOn(facts) => facts.as_slice(),
            Missing::CannotApply | Missing::NotSettled => &[],
        };
        json!({"rule": name(book, *rule), "why": why_not(why), "leans-on": leans_on})
    });
    json!({
        "examples": 1,
        "rulebook": {"title": book.title, "edition": book.edition, "sha256": book.digest},
        "files": surveys.collect::<Vec<_>>(),
        "missing": missing.collect::<Vec<_>>(),
    })
}
