//! Which rules surveys exercise, in words and as data.

use std::fmt::Write as _;
use std::path::PathBuf;

use serde_json::json;

use crate::cli::args::Telling;
use crate::cli::{Exit, Failure, Report, files, past};
use crate::inference::Truth;
use crate::proof::{self, Coverage};
use crate::rulebook::book::{Book, RuleId};
use crate::wall;

/// Reads the surveys and tells what they do with the rules.
pub(super) fn run(book: &Book, surveys: &[PathBuf], form: Telling) -> Result<Report, Failure> {
    let found = past::found(surveys)?;
    let mut zones = Vec::new();
    for past in &found {
        zones.push(wall::work(&past.read(book)?, book));
    }
    let coverage = proof::coverage(book, &zones);
    let paths: Vec<String> = found.iter().map(|past| files::shown(&past.path)).collect();
    let text = match form {
        Telling::Text => words(book, &paths, &coverage),
        Telling::Json => data(book, &paths, &coverage),
    };
    Ok(Report { text, remarks: Vec::new(), exit: Exit::Done })
}

fn words(book: &Book, paths: &[String], coverage: &Coverage) -> String {
    let mut text = format!("{}, edition {}\n", book.title, book.edition);
    let count = |truth| coverage.at_best(truth).count();
    let surveys =
        if paths.len() == 1 { "1 survey makes".to_owned() } else { format!("{} surveys make", paths.len()) };
    let _ = writeln!(
        text,
        "{surveys} {} of {} rules apply for certain, {} more while something is open",
        count(Truth::Yes),
        book.rules.len(),
        count(Truth::Unknown)
    );
    for (path, alone) in paths.iter().zip(&coverage.alone) {
        let _ = match alone.len() {
            0 => writeln!(text, "{path}: no rule by it alone"),
            1 => writeln!(text, "{path}: 1 rule by it alone"),
            rules => writeln!(text, "{path}: {rules} rules by it alone"),
        };
    }
    for (truth, heading) in [(Truth::Unknown, "only while something is open:"), (Truth::No, "never:")] {
        let names = names(book, coverage.at_best(truth));
        if !names.is_empty() {
            let _ = writeln!(text, "{heading}\n  {}", names.join("\n  "));
        }
    }
    text
}

fn data(book: &Book, paths: &[String], coverage: &Coverage) -> String {
    let alone = coverage.alone.iter().map(|rules| names(book, rules.iter().copied()));
    let surveys = paths.iter().zip(alone).map(|(path, alone)| json!({"file": path, "alone": alone}));
    let whole = json!({
        "rulebook": {"title": book.title, "edition": book.edition, "sha256": book.digest},
        "rules": book.rules.len(),
        "certain": names(book, coverage.at_best(Truth::Yes)),
        "open": names(book, coverage.at_best(Truth::Unknown)),
        "never": names(book, coverage.at_best(Truth::No)),
        "surveys": surveys.collect::<Vec<_>>(),
    });
    format!("{whole:#}\n")
}

fn names(book: &Book, rules: impl Iterator<Item = RuleId>) -> Vec<&str> {
    rules.filter_map(|rule| Some(book.rules.get(rule.0)?.name.as_str())).collect()
}
