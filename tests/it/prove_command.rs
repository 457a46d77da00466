//! `perpend prove` and `perpend compare` as people run them.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).replace('\u{a0}', " ")
}

fn errors(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).replace('\u{a0}', " ")
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &target);
        } else {
            std::fs::copy(&path, &target).unwrap();
        }
    }
}

/// The trade book in a folder of its own, with the distance to live wires cut down.
fn careless(folder: &Path) -> PathBuf {
    let book = folder.join("careless");
    copy(&root().join("rules/trade"), &book);
    let file = book.join("conductors.rule");
    let text = std::fs::read_to_string(&file).unwrap();
    let changed =
        text.replace("conductor-clearance to at least 10 ft", "conductor-clearance to at least 3 ft");
    assert_ne!(text, changed);
    std::fs::write(file, changed).unwrap();
    book
}

#[test]
fn the_trade_book_is_proved() {
    let output = perpend(&["prove", "rules/trade"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert!(said(&output).contains("promises are proved"), "{}", said(&output));
}

#[test]
fn a_broken_promise_is_shown_by_a_survey_that_why_reads() {
    let folder = tempfile::tempdir().unwrap();
    let book = careless(folder.path());
    let (book, witness) = (book.to_string_lossy(), folder.path().join("witness"));
    let output = perpend(&["prove", &book, "--witness", &witness.to_string_lossy()]);
    assert_eq!(output.status.code(), Some(1), "{}", errors(&output));
    for words in
        ["PR001", "promise `lines-taken-as-bare` is broken", "conductors-near: yes", "kinds of survey"]
    {
        assert!(errors(&output).contains(words), "`{words}` is not in:\n{}", errors(&output));
    }
    let survey = witness.join("promise-lines-taken-as-bare.yaml");
    let text = std::fs::read_to_string(&survey).unwrap();
    assert!(text.contains("conductors-near: {value: yes"), "{text}");
    let output = perpend(&["why", &survey.to_string_lossy(), "conductor-clearance", "--rulebook", &book]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert!(said(&output).contains("3 ft"), "{}", said(&output));
}

#[test]
fn a_comparison_tells_what_some_survey_loses_and_which_past_survey_does() {
    let folder = tempfile::tempdir().unwrap();
    let book = careless(folder.path());
    let output =
        perpend(&["compare", "rules/trade", &book.to_string_lossy(), "examples/watch-house/survey.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let said = said(&output);
    for words in [
        "rule line-taken-as-bare",
        "Weaker: some survey loses this",
        "`conductor-clearance` is held to at least 10 ft",
        "conductors-near: yes",
        "1 of 1 surveys come out otherwise",
    ] {
        assert!(said.contains(words), "`{words}` is not in:\n{said}");
    }
    let same = perpend(&["compare", "rules/trade", "rules/trade", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_slice(&same.stdout).unwrap();
    assert_eq!(data["changes"], serde_json::json!([]));
}

#[test]
fn what_the_firms_book_weakens_is_told_with_reason_source_and_a_survey_that_why_reads() {
    let folder = tempfile::tempdir().unwrap();
    let witness = folder.path().to_string_lossy().into_owned();
    let output = perpend(&["prove", "rules/house-example", "--witness", &witness]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    for words in ["promises are proved", "1 weakens the trade book"] {
        assert!(said(&output).contains(words), "{}", said(&output));
    }
    let told = errors(&output);
    for words in [
        "PR030",
        "`amend finding paint-comes-off only where not old-coating is limewash` weakens the trade book",
        "rules/trade/removal.rule",
        "clause `removal-sequence` is required",
        "There is no order of removal",
        "What this practice saw on its own jobs",
        "old-coating: limewash",
        "PR031",
        "`withdraw rule sheltered-lime-render` lets another option be chosen",
    ] {
        assert!(told.contains(words), "`{words}` is not in:\n{told}");
    }
    let survey = folder.path().join("weakens-1-clause-removal-sequence-is-required.yaml");
    let why = |book: &[&str]| {
        let survey = survey.to_string_lossy().into_owned();
        said(&perpend(&[&["why", &survey, "removal-sequence"], book].concat()))
    };
    assert!(why(&[]).contains("required"), "{}", why(&[]));
    let by_firm = why(&["--rulebook", "rules/house-example"]);
    assert!(by_firm.contains("not required"), "{by_firm}");
}

#[test]
fn what_the_firms_book_weakens_is_data_too() {
    let output = perpend(&["prove", "rules/house-example", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let changes = data["house"]["changes"].as_array().unwrap();
    let weakening: Vec<&str> = changes
        .iter()
        .filter(|change| change["weakens"] == true)
        .map(|change| change["change"].as_str().unwrap())
        .collect();
    assert_eq!(weakening, ["amend finding paint-comes-off only where not old-coating is limewash"]);
    for change in changes.iter().filter(|change| change["change"].as_str().unwrap().starts_with("amend")) {
        assert!(!change["because"].as_str().unwrap().is_empty(), "{change}");
        assert_eq!(change["per"], serde_json::json!(["own-jobs"]));
    }
}
