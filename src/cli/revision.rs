//! A rulebook as it stood at a revision: `rules/trade@v2026.1`, read through git.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use miette::Diagnostic as MietteDiagnostic;
use thiserror::Error;

use crate::cli::Failure;
use crate::diagnostic::{Diagnostic, Source};

#[derive(Debug, Error, MietteDiagnostic)]
enum RevisionMistake {
    #[error("`{0}` cannot be read at revision `{1}`: {2}")]
    #[diagnostic(
        code(CI014),
        help("name a folder of a git repository and a revision of it, such as `rules/trade@v2026.1`")
    )]
    Unreadable(String, String, String),
    #[error("`{0}` held no `*.rule` file at revision `{1}`")]
    #[diagnostic(code(CI015), help("name the folder that held the `*.rule` files"))]
    NoRules(String, String),
}

/// The folder and the revision, where a path names both and no such path is there.
pub(super) fn named(path: &Path) -> Option<(PathBuf, String)> {
    if path.exists() {
        return None;
    }
    let text = path.to_str()?;
    let (folder, revision) = text.rsplit_once('@')?;
    (!folder.is_empty() && !revision.is_empty()).then(|| (PathBuf::from(folder), revision.to_owned()))
}

/// The files of a folder at a revision.
pub(super) fn read(folder: &Path, revision: &str) -> Result<Vec<Arc<Source>>, Failure> {
    let shown = folder.to_string_lossy().replace('\\', "/");
    let failed = |why: String| {
        let mistake = RevisionMistake::Unreadable(shown.clone(), revision.to_owned(), why);
        Failure::misused(vec![Diagnostic::error(&mistake, None)])
    };
    let listed = git(&["ls-tree", "-r", "--name-only", "-z", revision, "--", &shown]).map_err(failed)?;
    let names = listed.split('\0').filter(|name| !name.is_empty());
    let belongs = |name: &&str| {
        let ending = Path::new(name).extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        ["rule", "yaml", "md"].contains(&ending)
    };
    let mut sources = Vec::new();
    for name in names.filter(belongs) {
        let text = git(&["show", &format!("{revision}:./{name}")]).map_err(failed)?;
        sources.push(Source::new(name, text));
    }
    let is_rule =
        |source: &Arc<Source>| Path::new(&source.name).extension().is_some_and(|ending| ending == "rule");
    if sources.iter().any(is_rule) {
        return Ok(sources);
    }
    let mistake = RevisionMistake::NoRules(shown, revision.to_owned());
    Err(Failure::misused(vec![Diagnostic::error(&mistake, None)]))
}

fn git(arguments: &[&str]) -> Result<String, String> {
    let output = Command::new("git").args(arguments).output().map_err(|error| error.to_string())?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(said.lines().next().unwrap_or("git failed").to_owned());
    }
    String::from_utf8(output.stdout).map_err(|_| "it is not UTF-8".to_owned())
}
