//! A rulebook as it stood at a revision: `rules/trade@v2026.1`, read through git.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
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

/// The files of a folder at a revision, of the repository that the folder lies in.
pub(super) fn read(folder: &Path, revision: &str) -> Result<Vec<Arc<Source>>, Failure> {
    let shown = folder.to_string_lossy().replace('\\', "/");
    let failed = |why: String| {
        let mistake = RevisionMistake::Unreadable(shown.clone(), revision.to_owned(), why);
        Failure::misused(vec![Diagnostic::error(&mistake, None)])
    };
    let (base, inside) = still_there(folder);
    let listed = git(&base, &["ls-tree", "-r", "-z", revision, "--", &inside], "").map_err(failed)?;
    let listed = String::from_utf8(listed).map_err(|_| failed("a name in it is not UTF-8".to_owned()))?;
    // `MODE blob OBJECT<tab>NAME`, the name counted from the base
    let blobs = listed.split('\0').filter_map(|entry| {
        let (about, name) = entry.split_once('\t')?;
        Some((about.rsplit(' ').next()?, name))
    });
    let blobs: Vec<(&str, &str)> = blobs.filter(|(_, name)| belongs(name)).collect();
    let wanted = blobs.iter().fold(String::new(), |all, (object, _)| all + object + "\n");
    let contents = git(&base, &["cat-file", "--batch"], &wanted).map_err(failed)?;
    let texts = texts(&contents, blobs.len()).map_err(failed)?;
    let base = base.to_string_lossy().replace('\\', "/");
    let named = blobs.iter().zip(texts);
    let sources: Vec<Arc<Source>> =
        named.map(|((_, name), text)| Source::new(format!("{base}/{name}"), text)).collect();
    if sources.iter().any(|source| has_ending(&source.name, "rule")) {
        return Ok(sources);
    }
    let mistake = RevisionMistake::NoRules(shown, revision.to_owned());
    Err(Failure::misused(vec![Diagnostic::error(&mistake, None)]))
}

/// The folder itself, or the nearest folder above it that is still there, and the way down from it.
fn still_there(folder: &Path) -> (PathBuf, String) {
    let there = |above: &&Path| !above.as_os_str().is_empty() && above.is_dir();
    let base = folder.ancestors().find(there).unwrap_or(Path::new("."));
    let inside = folder.strip_prefix(base).unwrap_or(folder);
    let inside = inside.to_string_lossy().replace('\\', "/");
    (base.to_path_buf(), if inside.is_empty() { ".".to_owned() } else { inside })
}

fn belongs(name: &str) -> bool {
    ["rule", "yaml", "md"].into_iter().any(|ending| has_ending(name, ending))
}

fn has_ending(name: &str, wanted: &str) -> bool {
    Path::new(name).extension().is_some_and(|ending| ending.eq_ignore_ascii_case(wanted))
}

/// The texts that `git cat-file --batch` wrote: for each a line that ends with its length, its bytes, and a line end.
fn texts(mut contents: &[u8], count: usize) -> Result<Vec<String>, String> {
    let cut_short = || "git said less than it was asked for".to_owned();
    let mut texts = Vec::new();
    for _ in 0..count {
        let end = contents.iter().position(|byte| *byte == b'\n').ok_or_else(cut_short)?;
        let (line, rest) = contents.split_at(end);
        let length = String::from_utf8_lossy(line).rsplit(' ').next().and_then(|length| length.parse().ok());
        let (text, rest) = rest
            .get(1..)
            .zip(length)
            .and_then(|(rest, at)| rest.split_at_checked(at))
            .ok_or_else(cut_short)?;
        texts.push(String::from_utf8(text.to_vec()).map_err(|_| "it is not UTF-8".to_owned())?);
        contents = rest.get(1..).unwrap_or_default();
    }
    Ok(texts)
}

/// What git says in a folder when it is told this.
fn git(folder: &Path, arguments: &[&str], told: &str) -> Result<Vec<u8>, String> {
    let mut git = Command::new("git");
    git.arg("-C").arg(folder).args(arguments);
    git.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = git.spawn().map_err(|error| error.to_string())?;
    let input = child.stdin.take();
    let output = std::thread::scope(|scope| {
        // Written beside reading: git answers line by line, and both pipes are small.
        scope.spawn(move || input.map(|mut input| input.write_all(told.as_bytes())));
        child.wait_with_output()
    });
    let output = output.map_err(|error| error.to_string())?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(said.lines().next().unwrap_or("git failed").to_owned());
    }
    Ok(output.stdout)
}
