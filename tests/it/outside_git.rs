//! Rulebooks of a revision, read through git, which must be installed for these checks.

use std::path::Path;
use std::process::{Command, Output};

use crate::folders::copy;

fn git(folder: &Path, arguments: &[&str]) {
    let identity = ["-c", "user.name=Tester", "-c", "user.email=tester@example.invalid"];
    let quiet = ["-c", "init.defaultBranch=main", "-c", "commit.gpgsign=false", "-c", "tag.gpgsign=false"];
    let output = Command::new("git").current_dir(folder).args(identity).args(quiet).args(arguments).output();
    let output = output.unwrap_or_else(|error| panic!("`git` must be installed for these checks: {error}"));
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
}

fn compare(folder: &Path, old: &str, new: &str) -> Output {
    let arguments = ["compare", old, new, "--witnesses", "1"];
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(folder).args(arguments).output().unwrap()
}

/// A repository with the trade book at `v1`, a careless distance to live wires at `v2`, and the book moved since.
fn repository(folder: &Path) {
    let trade = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/trade");
    git(folder, &["init", "--quiet"]);
    copy(&trade, &folder.join("rules/trade"));
    std::fs::write(folder.join("notes.txt"), "Nothing here is a rule.").unwrap();
    git(folder, &["add", "."]);
    git(folder, &["commit", "--quiet", "--message", "First edition"]);
    git(folder, &["tag", "v1"]);
    let file = folder.join("rules/trade/conductors.rule");
    let text = std::fs::read_to_string(&file).unwrap();
    let changed =
        text.replace("conductor-clearance to at least 10 ft", "conductor-clearance to at least 3 ft");
    assert_ne!(text, changed);
    std::fs::write(&file, changed).unwrap();
    git(folder, &["commit", "--quiet", "--all", "--message", "Second edition"]);
    git(folder, &["tag", "v2"]);
    git(folder, &["mv", "rules", "books"]);
    git(folder, &["commit", "--quiet", "--message", "Move the book"]);
}

fn said(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).replace('\u{a0}', " ")
}

#[test]
fn a_book_is_compared_with_what_it_was_at_a_revision() {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path();
    repository(here);
    let within = said(&compare(here, "rules/trade@v1", "rules/trade@v2"));
    let trade = format!("{}/rules/trade@v1", here.display());
    let from_outside = said(&compare(Path::new(env!("CARGO_MANIFEST_DIR")), &trade, "rules/trade"));
    for words in ["Statements changed\n- rule ", "`conductor-clearance` is held to at least 10 ft"] {
        assert!(within.contains(words), "`{words}` is not in:\n{within}");
    }
    assert!(!from_outside.contains("Statements"), "{from_outside}");
    let moved = said(&compare(here, "rules/trade@v2", "books/trade"));
    assert!(moved.contains("things are proved to come out the same") && !moved.contains("Weaker"), "{moved}");
}

#[test]
fn a_revision_that_is_not_there_and_one_without_rules_are_mistakes() {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path();
    repository(here);
    for (old, code) in
        [("books/trade@v9", "CI014"), ("books/trade@v1", "CI015"), ("rules/trade@HEAD", "CI015")]
    {
        let output = compare(here, old, "books/trade");
        assert_eq!(output.status.code(), Some(2), "{old}");
        let told = String::from_utf8_lossy(&output.stderr);
        assert!(told.contains(code), "{old}: {told}");
    }
    let nowhere = tempfile::tempdir().unwrap();
    let output = compare(nowhere.path(), "rules/trade@v1", "rules/trade@v1");
    assert!(String::from_utf8_lossy(&output.stderr).contains("CI014"));
}
