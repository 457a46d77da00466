//! `perpend tidy`: canonical printing of rule files.

use std::fs;
use std::path::Path;

use crate::cli::args::Tidy;
use crate::cli::files::{self, FileMistake, OutFile};
use crate::cli::{Exit, Failure, Report};
use crate::diagnostic::Diagnostic;
use crate::rulebook;

/// Tidies a file or every rule file of a folder; nothing is written while one of them has a mistake.
pub(super) fn run(tidy: &Tidy) -> Result<Report, Failure> {
    let sources = if tidy.rulebook.is_dir() {
        files::read_rulebook(&tidy.rulebook).map_err(Failure::misused)?
    } else {
        vec![files::read(&tidy.rulebook)?]
    };
    let rules =
        sources.iter().filter(|source| Path::new(&source.name).extension().is_some_and(|end| end == "rule"));
    let mut mistakes = Vec::new();
    let mut untidy = Vec::new();
    for source in rules {
        let (printed, diagnostics) = rulebook::tidy(source);
        if printed != source.text {
            untidy.push(OutFile::new(source.name.clone(), printed.into_bytes()));
        }
        mistakes.extend(diagnostics);
    }
    if mistakes.iter().any(Diagnostic::is_error) {
        return Err(Failure::misused(mistakes));
    }
    if !tidy.check {
        for file in &untidy {
            replace(file)?;
        }
    }
    let said = if tidy.check { "not tidy" } else { "tidied" };
    let lines: Vec<String> = untidy.iter().map(|file| format!("{said}: {}\n", file.name)).collect();
    let exit = if tidy.check && !untidy.is_empty() { Exit::NothingMade } else { Exit::Done };
    Ok(Report { text: lines.concat(), remarks: mistakes, exit })
}

/// Writes beside the file, then renames over it.
fn replace(file: &OutFile) -> Result<(), FileMistake> {
    let path = Path::new(&file.name);
    let unwritable = |error: std::io::Error| FileMistake::Unwritable(file.name.clone(), error.to_string());
    let beside = path.with_extension("rule.perpend-new");
    fs::write(&beside, &file.bytes).map_err(unwritable)?;
    fs::rename(&beside, path).map_err(unwritable)
}
