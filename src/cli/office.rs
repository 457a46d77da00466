//! What an office made of the set that lies in a folder: read before the set is written again, so that no words of theirs
//! are lost.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read as _;
use std::path::Path;

use serde_json::Value;

use crate::cli::files::{self, FileMistake, OutFile, sha256};
use crate::diagnostic::Diagnostic;
use crate::document;
use crate::render::{Left, OfficeStyles};

/// The styles of an office with the sum of the file that they were taken from.
pub(super) struct Styled {
    pub(super) styles: OfficeStyles,
    /// Name of the file, without its folder.
    pub(super) file: String,
    pub(super) sha256: String,
}

/// Reads the styles of an office from a file, with pairs of names written `OURS=THEIRS`.
///
/// # Errors
/// A file that cannot be read or is none for word processors; each pair that names what is not there.
pub(super) fn styles(path: &Path, pairs: &[String]) -> Result<Styled, Vec<Diagnostic>> {
    let (mut known, mut mistakes) = (Vec::new(), Vec::new());
    for pair in pairs {
        match pair.split_once('=') {
            Some((ours, theirs)) => known.push((ours.trim().to_owned(), theirs.trim().to_owned())),
            None => mistakes.push(FileMistake::NoPair(pair.clone())),
        }
    }
    let refused = |reason| FileMistake::NoStyles(files::shown(path), reason);
    let taken = read(path).map_err(|mistake| vec![mistake]).and_then(|bytes| {
        let styles = OfficeStyles::read(&bytes, &known);
        let styles = styles.map_err(|reasons| reasons.into_iter().map(refused).collect::<Vec<_>>())?;
        let file = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        Ok(Styled { styles, file, sha256: sha256(&bytes) })
    });
    match taken {
        Ok(styled) if mistakes.is_empty() => Ok(styled),
        other => {
            mistakes.extend(other.err().unwrap_or_default());
            Err(mistakes.into_iter().map(Diagnostic::from).collect())
        }
    }
}

/// The largest file that is read, bytes.
const LARGEST: u64 = 64 * 1024 * 1024;
/// Digits of the sum in the name of such a file.
const DIGITS: usize = 8;

/// The files for word processors that lie in the folder of a set.
#[derive(Default)]
pub(super) struct Office {
    left: BTreeMap<String, Left>,
    /// Files that are not as they were written, as they are.
    touched: Vec<OutFile>,
}

impl Office {
    /// What an office left of a paper.
    pub(super) fn left(&self, paper: &str) -> Option<&Left> {
        self.left.get(paper)
    }

    /// Each file that somebody changed, to be kept beside the set under a name of its own.
    pub(super) fn touched(self) -> Vec<OutFile> {
        self.touched
    }
}

/// Reads what lies in the folder. A file that is as it was written, and in which no words of an office were kept then,
/// need not be read.
///
/// # Errors
/// Every file that cannot be read: it would be written over unread.
pub(super) fn found(folder: &Path) -> Result<Office, Vec<Diagnostic>> {
    let record = files::record_of(folder).unwrap_or_default();
    let mut office = Office::default();
    let mut mistakes = Vec::new();
    for paper in document::names() {
        let name = format!("{paper}.docx");
        let path = folder.join(&name);
        if !path.is_file() {
            continue;
        }
        match read(&path) {
            Ok(bytes) => {
                let sum = sha256(&bytes);
                let is_ours = recorded(&record, &name) == Some(sum.as_str());
                if is_ours && !keeps_words(&record, paper) {
                    continue;
                }
                match Left::read(&bytes) {
                    Ok(left) => drop(office.left.insert(paper.to_owned(), left)),
                    Err(reason) => mistakes.push(FileMistake::NotWord(files::shown(&path), reason).into()),
                }
                if !is_ours {
                    let digits: String = sum.chars().take(DIGITS).collect();
                    office
                        .touched
                        .push(OutFile::new(format!("{}{paper}-{digits}.docx", files::OFFICE), bytes));
                }
            }
            Err(mistake) => mistakes.push(mistake.into()),
        }
    }
    if mistakes.is_empty() { Ok(office) } else { Err(mistakes) }
}

fn read(path: &Path) -> Result<Vec<u8>, FileMistake> {
    let unreadable = |error: std::io::Error| FileMistake::Unreadable(files::shown(path), error.to_string());
    let mut bytes = Vec::new();
    let file = fs::File::open(path).map_err(unreadable)?;
    file.take(LARGEST).read_to_end(&mut bytes).map_err(unreadable)?;
    Ok(bytes)
}

/// The sum under which the record lists a file.
fn recorded<'r>(record: &'r Value, name: &str) -> Option<&'r str> {
    let listed = record.get("files")?.as_array()?;
    listed.iter().find(|listed| listed["file"] == name)?["sha256"].as_str()
}

/// Whether the record says that words of an office were kept in a paper.
fn keeps_words(record: &Value, paper: &str) -> bool {
    let kept = record.get("office-text").and_then(Value::as_array);
    kept.is_some_and(|kept| kept.iter().any(|kept| kept["paper"] == paper))
}
