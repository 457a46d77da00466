//! The register: what it lists is what lies in the folder, by name, pages and sum; it shows what a firm's book weakens,
//! and what changed since the issue before, and why.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use sha2::{Digest as _, Sha256};
use tempfile::TempDir;

use crate::folders::{reworded, root};

const WATCH_HOUSE: &str = "examples/watch-house/survey.yaml";

/// A folder to write sets of one job into.
pub(crate) struct Office(TempDir);

impl Office {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    /// Writes a set of the watch house with words of its survey changed.
    pub(crate) fn write(&self, changes: &[(&str, &str)], more: &[&str]) -> PathBuf {
        let text = std::fs::read_to_string(root().join(WATCH_HOUSE)).unwrap();
        let survey = self.0.path().join("survey.yaml");
        std::fs::write(&survey, reworded(&text, changes)).unwrap();
        let out = self.0.path().join("out").to_string_lossy().into_owned();
        let output = Command::new(env!("CARGO_BIN_EXE_perpend"))
            .current_dir(root())
            .args([&["write", &survey.to_string_lossy(), "--out", &out], more].concat())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        self.0.path().join("out/MW-07")
    }
}

fn sum(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

/// Files of a folder and of the folders in it, by their names from there.
fn files_of(folder: &Path, before: &str, files: &mut BTreeMap<String, Vec<u8>>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = format!("{before}{}", path.file_name().unwrap().to_string_lossy());
        if path.is_dir() {
            files_of(&path, &format!("{name}/"), files);
        } else {
            files.insert(name, std::fs::read(&path).unwrap());
        }
    }
}

pub(crate) fn set(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    files_of(folder, "", &mut files);
    files
}

fn register(folder: &Path) -> String {
    std::fs::read_to_string(folder.join("register.md")).unwrap().replace('\u{a0}', " ")
}

/// The rows of the register's list of files: name, pages, sum.
fn listed(register: &str) -> Vec<(String, String, String)> {
    let (_, list) = register.split_once("## Files").unwrap();
    let rows = list.lines().filter(|line| line.starts_with("| `"));
    rows.map(|row| {
        let cells: Vec<&str> = row.split('|').map(|cell| cell.trim().trim_matches('`')).collect();
        let [_, name, pages, sum, _] = cells.as_slice() else { panic!("{row}") };
        ((*name).to_owned(), (*pages).to_owned(), (*sum).to_owned())
    })
    .collect()
}

fn pages(pdf: &[u8]) -> usize {
    lopdf::Document::load_mem(pdf).unwrap().get_pages().len()
}

#[test]
fn every_file_is_listed_with_its_pages_and_the_sum_of_its_bytes_and_nothing_else() {
    let office = Office::new();
    for more in [&[][..], &["--format", "md"], &["--only", "visit"]] {
        let folder = office.write(&[], more);
        let mut files = set(&folder);
        let record: serde_json::Value =
            serde_json::from_slice(&files.remove("record.json").unwrap()).unwrap();
        let rows = listed(&register(&folder));
        let own: Vec<String> = files.keys().filter(|name| name.starts_with("register.")).cloned().collect();
        assert!(!own.is_empty());
        for name in own {
            let bytes = files.remove(&name).unwrap();
            let entry =
                record["files"].as_array().unwrap().iter().find(|entry| entry["file"] == name.as_str());
            assert_eq!(entry.unwrap()["sha256"], sum(&bytes), "the record holds the sum of the register");
        }
        let mut names: Vec<&String> = rows.iter().map(|(name, ..)| name).collect();
        names.sort();
        assert_eq!(names, files.keys().collect::<Vec<_>>(), "{more:?}");
        for (name, told, listed) in &rows {
            assert_eq!(*listed, sum(&files[name]), "{name}");
            let is_pdf = Path::new(name).extension().is_some_and(|kind| kind == "pdf");
            let counted = if is_pdf { pages(&files[name]).to_string() } else { String::new() };
            assert_eq!(*told, counted, "{name}");
        }
    }
}

#[test]
fn contract_papers_govern_in_their_order_and_no_other_paper_does() {
    let text = register(&Office::new().write(&[], &["--format", "md"]));
    let rows: Vec<&str> = text.lines().filter(|line| line.contains("| **")).collect();
    let governs = |row: &str| row.split('|').nth(1).map(|cell| cell.trim().to_owned()).unwrap();
    let contract: Vec<&&str> = rows.iter().filter(|row| row.contains("| Contract document |")).collect();
    assert_eq!(contract.iter().map(|row| governs(row)).collect::<Vec<_>>(), ["1", "2", "3"]);
    assert!(rows.iter().filter(|row| !row.contains("Contract document")).all(|row| governs(row).is_empty()));
    assert!(text.contains(
        "- Coating and repair of masonry; then: Elevation schedule; then: Inspection and test plan."
    ));
}

#[test]
fn a_first_issue_says_so_and_a_firms_book_is_told_with_what_it_weakens_and_a_survey_that_shows_it() {
    let office = Office::new();
    let text = register(&office.write(&[], &["--format", "md"]));
    assert!(text.contains("This is the first issue of which there is a record."));
    assert!(text.contains("No firm’s book lies over it"));
    let text = register(&office.write(&[], &["--format", "md", "--rulebook", "rules/house-example"]));
    for words in [
        "Two-person practice, coats on old masonry, edition 2026.1, stands over Coats on old masonry",
        "**weakens the trade book:** some survey loses: clause `removal-sequence` is required",
        "such a survey, for clause `removal-sequence` is required: old-coating: limewash (worked out), any answer to",
        "| Clause `removal-sequence` is required | Q2 and Q3 | not here | 5 |",
    ] {
        assert!(text.contains(words), "`{words}` is not in\n{text}");
    }
}

/// What the register says that changed: the lines of its tables.
fn changed(text: &str) -> Vec<String> {
    let (_, from) = text.split_once("## Since the issue before").unwrap();
    let (since, _) = from.split_once("## Files").unwrap();
    let rows = since.lines().filter(|line| line.starts_with('|') && !line.starts_with("| ---"));
    rows.map(str::to_owned).collect()
}

pub(crate) const REVISED: (&str, &str) = ("revision: A", "revision: B");
/// The engineer has looked, and says that the crack in Q2 rests.
pub(crate) const STILL: (&str, &str) = ("watched-moving", "watched-still");

#[test]
fn a_revision_lists_what_changed_and_says_that_a_fact_did_it() {
    let office = Office::new();
    let md = ["--format", "md"];
    office.write(&[], &md);
    let again = register(&office.write(&[STILL], &md));
    assert_eq!(changed(&again), Vec::<String>::new(), "the same revision and date is no new issue");
    let folder = office.write(&[REVISED], &md);
    let text = register(&folder);
    assert!(text.contains("Held against revision A of 2027-03-01. The rulebook is the same."), "{text}");
    let rows = changed(&text);
    let stop = rows.iter().find(|row| row.starts_with("| Stop `moving-crack`"));
    assert!(stop.is_some_and(|row| row.contains("| Q2 |  | stands | a fact |")), "{rows:#?}");
    assert!(rows.iter().all(|row| !row.contains("the rulebook")), "{rows:#?}");
    let first = set(&folder);
    assert_eq!(set(&office.write(&[REVISED], &md)), first, "the same survey again gives the same bytes");
    let third = register(&office.write(&[("revision: A", "revision: C")], &md));
    assert!(third.contains("Held against revision B"), "{third}");
    assert!(third.contains("No fact and no outcome changed."), "{third}");
}

#[test]
fn a_revision_tells_apart_what_a_fact_changed_and_what_the_rulebook_did() {
    let office = Office::new();
    let md = ["--format", "md"];
    let house = ["--format", "md", "--rulebook", "rules/house-example"];
    office.write(&[], &md);
    let text = register(&office.write(&[REVISED, STILL], &house));
    let rows = changed(&text);
    assert!(text.contains("Then the rulebook was Coats on old masonry, edition 2026.1, digest"), "{text}");
    let row = |with: &str| {
        rows.iter().find(|row| row.starts_with(with)).unwrap_or_else(|| panic!("no `{with}` in {rows:#?}"))
    };
    assert!(row("| Limit: wash pressure at most").ends_with("| the rulebook |"));
    assert!(row("| Stop `moving-crack`").contains("| Q2 | stands |  | a fact |"));
    assert!(row("| Clause `removal-sequence`").ends_with("| the rulebook |"));
    let asked = ("    drain-works: unknown ", "    scaffold-ties: in-units\n    drain-works: unknown ");
    office.write(&[asked], &house);
    let back = changed(&register(&office.write(&[REVISED], &md)));
    assert!(
        back.iter()
            .any(|row| row.contains("| not told apart: the book of now cannot read the survey of then |"))
    );
}
