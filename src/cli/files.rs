//! Reading files and folders, and writing a folder whole or not at all.

use std::collections::BTreeSet;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use include_dir::{Dir, include_dir};
use miette::Diagnostic as MietteDiagnostic;
use rayon::prelude::*;
use sha2::{Digest as _, Sha256};
use thiserror::Error;

use crate::diagnostic::{Diagnostic, Source};

static TRADE_BOOK: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/rules/trade");
static PROOFREADING: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/rules/proofreading");
static TEMPLATES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates/documents");

/// The largest text file that is read, bytes.
const LARGEST: u64 = 4 * 1024 * 1024;
/// The record of a set.
pub(super) const RECORD: &str = "record.json";
/// Begins the names of files that are kept as the office left them.
pub(super) const OFFICE: &str = "office/";
/// How deep a rulebook's folders may lie.
const DEEPEST: usize = 8;

/// What can go wrong between the program and the disk.
#[derive(Debug, Error, MietteDiagnostic)]
pub(super) enum FileMistake {
    #[error("`{0}` does not exist")]
    #[diagnostic(code(CI001), help("check the path; it is taken from the folder you are in"))]
    Missing(String),
    #[error("`{0}` is a folder, and a file is wanted")]
    #[diagnostic(code(CI002), help("name the file inside it, such as `{0}/survey.yaml`"))]
    IsFolder(String),
    #[error("`{0}` is not text: it holds bytes that are not UTF-8")]
    #[diagnostic(code(CI003), help("save it as plain UTF-8 text"))]
    NotText(String),
    #[error("`{0}` is larger than 4 MiB")]
    #[diagnostic(code(CI004), help("a survey or rule file is some kilobytes; is this the right file?"))]
    TooLarge(String),
    #[error("`{0}` cannot be read: {1}")]
    #[diagnostic(code(CI005), help("check that the file may be read"))]
    Unreadable(String, String),
    #[error("`{0}` cannot be written: {1}")]
    #[diagnostic(
        code(CI006),
        help(
            "check that the folder may be written and the disk is not full; what was there before is untouched"
        )
    )]
    Unwritable(String, String),
    #[error("`{0}` is not a folder, and a rulebook is one")]
    #[diagnostic(code(CI007), help("name the folder that holds the `*.rule` files"))]
    NotFolder(String),
    #[error("`{0}` holds files that perpend did not write, and no `{1}`")]
    #[diagnostic(code(CI008), help("move them away, or write into another folder"))]
    NotOurs(String, &'static str),
    #[error("`{0}` holds no `*.rule` file")]
    #[diagnostic(code(CI009), help("name the folder that holds the `*.rule` files"))]
    NoRules(String),
    #[error("the set has no document named `{0}`")]
    #[diagnostic(code(CI010), help("the documents are {1}"))]
    NoDocument(String, String),
    #[error("nothing can be drawn of zone `{0}`")]
    #[diagnostic(code(CI019), help("the same verb without `--format svg` says what is not known"))]
    NoFigure(String),
    #[error("`{0}` holds no paper of a set")]
    #[diagnostic(
        code(CI022),
        help("name the folder of a job that was written with `--format md`, such as `out/MW-07`")
    )]
    NoPapers(String),
    #[error("`{0}`, which is to be written again, is not a file for word processors: {1}")]
    #[diagnostic(
        code(CI023),
        help(
            "open it with what it was made by and save it as `.docx`, or move it away; nothing was written"
        )
    )]
    NotWord(String, String),
    #[error("no styles can be taken from `{0}`: {1}")]
    #[diagnostic(
        code(CI024),
        help("give a `.docx` of the office; `docs/word-styles.md` lists the names of our styles")
    )]
    NoStyles(String, String),
    #[error("`--style {0}` does not say which style stands for which")]
    #[diagnostic(code(CI025), help("write ours, `=`, theirs: `--style \"Clause level 1=Spec text A\"`"))]
    NoPair(String),
    #[error("the rulebook is not the one that is locked: its digest does not begin with `{0}`")]
    #[diagnostic(
        code(CI013),
        help(
            "its digest is {1}; look with `perpend compare` at what changed, then lock the new one, at least 12 digits of it"
        )
    )]
    OtherBook(String, String),
}

impl From<FileMistake> for Diagnostic {
    fn from(mistake: FileMistake) -> Self {
        Self::error(&mistake, None)
    }
}

/// Reads one text file.
pub(super) fn read(path: &Path) -> Result<Arc<Source>, FileMistake> {
    let name = shown(path);
    let unreadable = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::NotFound => FileMistake::Missing(name.clone()),
        _ => FileMistake::Unreadable(name.clone(), error.to_string()),
    };
    let about = fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(FileMistake::IsFolder(name));
    }
    let mut bytes = Vec::new();
    let file = fs::File::open(path).map_err(unreadable)?;
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST {
        return Err(FileMistake::TooLarge(name));
    }
    let text = String::from_utf8(bytes).map_err(|_| FileMistake::NotText(name.clone()))?;
    Ok(Source::new(name, text))
}

/// Reads a rulebook's folder: rules, catalogues and clauses, in the order of their names.
pub(super) fn read_rulebook(folder: &Path) -> Result<Vec<Arc<Source>>, Vec<Diagnostic>> {
    let mut paths = Vec::new();
    walk(folder, DEEPEST, &mut paths).map_err(|mistake| vec![mistake.into()])?;
    paths.sort();
    let (read, failed): (Vec<_>, Vec<_>) =
        paths.iter().filter(|path| belongs(path)).map(|path| read(path)).partition(Result::is_ok);
    let mistakes: Vec<Diagnostic> = failed.into_iter().filter_map(Result::err).map(Into::into).collect();
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let sources: Vec<Arc<Source>> = read.into_iter().filter_map(Result::ok).collect();
    if sources.iter().any(|source| has_ending(Path::new(&source.name), "rule")) {
        Ok(sources)
    } else {
        Err(vec![FileMistake::NoRules(shown(folder)).into()])
    }
}

/// The surveys under a folder, files that begin with `survey:` after comments, and the records of sets, in the order of
/// their names.
pub(super) fn surveys_and_records(folder: &Path) -> Result<Vec<PathBuf>, FileMistake> {
    let mut paths = Vec::new();
    walk(folder, DEEPEST, &mut paths)?;
    let is_record = |path: &Path| path.file_name().is_some_and(|name| name == RECORD);
    paths.retain(|path| {
        let may_be_survey = has_ending(path, "yaml");
        is_record(path) || (may_be_survey && read(path).is_ok_and(|source| is_survey(&source.text)))
    });
    paths.sort();
    Ok(paths)
}

fn is_survey(text: &str) -> bool {
    let first = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#'));
    first.is_some_and(|line| line.starts_with("survey:"))
}

fn walk(folder: &Path, depth: usize, paths: &mut Vec<PathBuf>) -> Result<(), FileMistake> {
    let name = shown(folder);
    let about = fs::metadata(folder).map_err(|_| FileMistake::Missing(name.clone()))?;
    if !about.is_dir() {
        return Err(FileMistake::NotFolder(name));
    }
    let unreadable = |error: std::io::Error| FileMistake::Unreadable(name.clone(), error.to_string());
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let entry = entry.map_err(unreadable)?;
        let kind = entry.file_type().map_err(unreadable)?;
        if kind.is_dir() && depth > 0 {
            walk(&entry.path(), depth - 1, paths)?;
        } else if kind.is_file() {
            paths.push(entry.path());
        }
    }
    Ok(())
}

fn belongs(path: &Path) -> bool {
    ["rule", "yaml", "md"].into_iter().any(|ending| has_ending(path, ending))
}

fn has_ending(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending))
}

/// The trade book that is built in.
pub(super) fn trade_book() -> Vec<Arc<Source>> {
    embedded(&TRADE_BOOK, "rules/trade")
}

/// The tables of proofreading that are built in.
pub(super) fn proofreading() -> Vec<Arc<Source>> {
    embedded(&PROOFREADING, "rules/proofreading")
}

/// The Markdown files of a folder, not of the folders in it, in the order of their names.
pub(super) fn markdown_files(folder: &Path) -> Result<Vec<Arc<Source>>, FileMistake> {
    let mut paths = Vec::new();
    walk(folder, 0, &mut paths)?;
    paths.retain(|path| has_ending(path, "md"));
    paths.sort();
    paths.iter().map(|path| read(path)).collect()
}

/// The files of a set's folder but its record and what the office made of its files, each with its digest, in the order of their names.
pub(super) fn digests(folder: &Path) -> Result<Vec<(String, String)>, FileMistake> {
    let mut names = BTreeSet::new();
    list(folder, "", &mut names);
    names.remove(RECORD);
    names.retain(|name| !name.starts_with(OFFICE));
    let digest = |name: String| {
        let path = folder.join(&name);
        let unreadable = |error: std::io::Error| FileMistake::Unreadable(shown(&path), error.to_string());
        let bytes = fs::read(&path).map_err(unreadable)?;
        Ok((name, sha256(&bytes)))
    };
    names.into_iter().map(digest).collect()
}

/// The document templates that are built in.
pub(super) fn templates() -> Vec<Arc<Source>> {
    embedded(&TEMPLATES, "templates/documents")
}

fn embedded(folder: &Dir<'_>, name: &str) -> Vec<Arc<Source>> {
    let mut sources = Vec::new();
    gather(folder, name, &mut sources);
    sources.sort_by(|a, b| a.name.cmp(&b.name));
    sources
}

fn gather(folder: &Dir<'_>, name: &str, sources: &mut Vec<Arc<Source>>) {
    for file in folder.files() {
        if let Some(text) = file.contents_utf8() {
            sources.push(Source::new(format!("{name}/{}", shown(file.path())), text));
        }
    }
    for inner in folder.dirs() {
        gather(inner, name, sources);
    }
}

/// A path with forward slashes.
pub(super) fn shown(path: &Path) -> String {
    path.display().to_string().replace('\\', "/")
}

/// One file of a set.
#[derive(Debug)]
pub(super) struct OutFile {
    /// Its name inside the folder.
    pub(super) name: String,
    /// Its content.
    pub(super) bytes: Vec<u8>,
    /// Its pages, if it has any.
    pub(super) pages: Option<usize>,
    /// SHA-256 over its content.
    pub(super) sha256: String,
}

impl OutFile {
    /// A file of these bytes.
    pub(super) fn new(name: impl Into<String>, bytes: Vec<u8>) -> Self {
        Self { name: name.into(), sha256: sha256(&bytes), bytes, pages: None }
    }
}

/// SHA-256 as 64 hex digits.
pub(super) fn sha256(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    Sha256::digest(bytes).iter().fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

/// Writes a set into `folder`, whole or not at all: first into a folder beside it, then by renaming. Files that an
/// earlier set listed in its `record.json` give way; files that somebody added stay.
pub(super) fn write_set(folder: &Path, files: &[OutFile]) -> Result<(), FileMistake> {
    write_listed(folder, files, RECORD)
}

/// The same for files that are listed in one of them, called so.
pub(super) fn write_listed(
    folder: &Path,
    files: &[OutFile],
    listing: &'static str,
) -> Result<(), FileMistake> {
    let kept = kept_files(folder, files, listing)?;
    let unwritable = |path: &Path| {
        let name = shown(path);
        move |error: std::io::Error| FileMistake::Unwritable(name, error.to_string())
    };
    let parent = folder.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(parent).map_err(unwritable(parent))?;
    let fresh =
        tempfile::Builder::new().prefix(".perpend-").tempdir_in(parent).map_err(unwritable(parent))?;
    let put = |file: &OutFile| {
        let path = fresh.path().join(&file.name);
        make_folders_over(&path).and_then(|()| fs::write(&path, &file.bytes)).map_err(unwritable(&path))
    };
    let done: Vec<Result<(), FileMistake>> = files.par_iter().map(put).collect();
    done.into_iter().collect::<Result<(), FileMistake>>()?;
    for name in kept {
        let (from, to) = (folder.join(&name), fresh.path().join(&name));
        make_folders_over(&to).and_then(|()| copy(&from, &to)).map_err(unwritable(&to))?;
    }
    swap(fresh, parent, folder).map_err(unwritable(folder))
}

fn make_folders_over(path: &Path) -> std::io::Result<()> {
    path.parent().map_or(Ok(()), fs::create_dir_all)
}

fn copy(from: &Path, to: &Path) -> std::io::Result<()> {
    if !from.is_dir() {
        return fs::copy(from, to).map(|_| ());
    }
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        copy(&entry.path(), &to.join(entry.file_name()))?;
    }
    Ok(())
}

/// The old folder steps aside, the new one takes its name, the old one goes; back if the middle step fails.
fn swap(fresh: tempfile::TempDir, parent: &Path, folder: &Path) -> std::io::Result<()> {
    let aside = tempfile::Builder::new().prefix(".perpend-").tempdir_in(parent)?;
    let old = aside.path().join("old");
    let had_old = folder.exists();
    if had_old {
        fs::rename(folder, &old)?;
    }
    let fresh = fresh.keep();
    make_readable(&fresh)?;
    if let Err(error) = fs::rename(&fresh, folder) {
        if had_old {
            fs::rename(&old, folder)?;
        }
        fs::remove_dir_all(&fresh)?;
        return Err(error);
    }
    Ok(())
}

/// A temporary folder is private to its maker; a set is for the office.
#[cfg(unix)]
fn make_readable(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn make_readable(_folder: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Names in the folder that the last set did not write and the new one does not.
fn kept_files(
    folder: &Path,
    files: &[OutFile],
    listing: &'static str,
) -> Result<BTreeSet<String>, FileMistake> {
    let mut there = BTreeSet::new();
    list(folder, "", &mut there);
    if there.is_empty() {
        return Ok(there);
    }
    let written =
        written_before(folder, listing).ok_or_else(|| FileMistake::NotOurs(shown(folder), listing))?;
    let new: BTreeSet<&str> = files.iter().map(|file| file.name.as_str()).collect();
    Ok(there.into_iter().filter(|name| !written.contains(name) && !new.contains(name.as_str())).collect())
}

/// The files below a folder by their names from there, and what else holds no file of its own: empty folders, links.
fn list(folder: &Path, before: &str, there: &mut BTreeSet<String>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = format!("{before}{}", entry.file_name().to_string_lossy());
        let count = there.len();
        if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            list(&entry.path(), &format!("{name}/"), there);
        }
        if there.len() == count {
            there.insert(name);
        }
    }
}

/// The record of the set that lies in a folder, if one does and can be read.
pub(super) fn record_of(folder: &Path) -> Option<serde_json::Value> {
    serde_json::from_slice(&fs::read(folder.join(RECORD)).ok()?).ok()
}

/// The files that the listing of the last set names, itself included.
fn written_before(folder: &Path, listing: &str) -> Option<BTreeSet<String>> {
    let record = fs::read(folder.join(listing)).ok()?;
    let record: Earlier = serde_json::from_slice(&record).ok()?;
    let names = record.files.into_iter().map(|listed| listed.file);
    Some(names.chain([listing.to_owned()]).collect())
}

/// What is read of the record of an earlier set.
#[derive(serde::Deserialize)]
struct Earlier {
    files: Vec<Listed>,
}

#[derive(serde::Deserialize)]
struct Listed {
    file: String,
}

/// Writes one text file, its folder made where it is missing.
pub(super) fn write_beside(path: &Path, text: &str) -> Result<(), FileMistake> {
    let unwritable = |error: std::io::Error| FileMistake::Unwritable(shown(path), error.to_string());
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(unwritable)?;
    }
    fs::write(path, text).map_err(unwritable)
}
