//! Zones named on the command line.

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use crate::cli::Failure;
use crate::diagnostic::Diagnostic;
use crate::survey::Survey;

#[derive(Debug, Error, MietteDiagnostic)]
enum ZoneMistake {
    #[error("the survey has no zone `{0}`")]
    #[diagnostic(code(CI012), help("its zones are {1}"))]
    NoSuchZone(String, String),
}

/// The zones of these codes, in the survey's order; without a code, all of them.
pub(super) fn pick(survey: &Survey, codes: &[String]) -> Result<Vec<usize>, Failure> {
    let known: Vec<&str> = survey.zones.iter().map(|zone| zone.code.as_str()).collect();
    let unknown = codes.iter().filter(|code| !known.contains(&code.as_str()));
    let mistakes: Vec<Diagnostic> = unknown
        .map(|code| Diagnostic::error(&ZoneMistake::NoSuchZone(code.clone(), known.join(", ")), None))
        .collect();
    if !mistakes.is_empty() {
        return Err(Failure::misused(mistakes));
    }
    let wanted = known.iter().enumerate();
    let wanted = wanted.filter(|(_, known)| codes.is_empty() || codes.iter().any(|code| code == *known));
    Ok(wanted.map(|(index, _)| index).collect())
}
