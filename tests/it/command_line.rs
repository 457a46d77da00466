//! The program as people run it: bad input, exit codes, and the words of `why`.

use std::fmt::Write as _;
use std::process::{Command, Output};

use crate::folders::{reworded, root};

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

fn errors(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

const WATCH_HOUSE: &str = "examples/watch-house/survey.yaml";

/// The demo's survey with words changed, written to a file of its own; runs `write` on it.
fn write_changed(changes: &[(&str, &str)]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(root().join(WATCH_HOUSE)).unwrap();
    let survey = folder.path().join("survey.yaml");
    std::fs::write(&survey, reworded(&text, changes)).unwrap();
    let out = folder.path().join("out");
    let output =
        perpend(&["write", &survey.to_string_lossy(), "--out", &out.to_string_lossy(), "--format", "md"]);
    assert_eq!(out.exists(), output.status.success(), "a set is written whole or not at all");
    output
}

/// A file with these bytes as a survey: the exit code and what was said.
fn write_bytes(bytes: &[u8]) -> (Option<i32>, String) {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.yaml");
    std::fs::write(&survey, bytes).unwrap();
    let out = folder.path().join("out");
    let output = perpend(&["write", &survey.to_string_lossy(), "--out", &out.to_string_lossy()]);
    (output.status.code(), errors(&output))
}

#[track_caller]
fn refused(output: &Output, code: &str, words: &[&str]) {
    let errors = errors(output);
    assert_eq!(output.status.code(), Some(2), "{errors}");
    assert!(errors.contains(code), "{code} is not in:\n{errors}");
    for words in words {
        assert!(errors.contains(words), "`{words}` is not in:\n{errors}");
    }
}

#[test]
fn a_missing_file_and_a_folder_are_told_apart() {
    refused(&perpend(&["write", "no-such.yaml"]), "CI001", &["does not exist"]);
    refused(&perpend(&["write", "examples/watch-house"]), "CI002", &["is a folder", "survey.yaml"]);
}

#[test]
fn bytes_that_are_not_text_are_refused() {
    let (code, errors) = write_bytes(&[0xff, 0xfe, 0x00, 0x80, 0x81]);
    assert_eq!(code, Some(2));
    assert!(errors.contains("CI003"), "{errors}");
}

#[test]
fn a_hundred_megabytes_are_refused_unread() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.yaml");
    std::fs::File::create(&survey).unwrap().set_len(100 * 1024 * 1024).unwrap();
    refused(&perpend(&["write", &survey.to_string_lossy()]), "CI004", &["larger than 4 MiB"]);
}

#[test]
fn a_bomb_of_aliases_is_refused() {
    let mut bomb = String::from("a: &a [x, x, x, x, x, x, x, x, x, x]\n");
    for (name, inner) in [("b", "a"), ("c", "b"), ("d", "c"), ("e", "d"), ("f", "e"), ("g", "f"), ("h", "g")]
    {
        let ten = vec![format!("*{inner}"); 10].join(", ");
        let _ = writeln!(bomb, "{name}: &{name} [{ten}]");
    }
    let (code, errors) = write_bytes(bomb.as_bytes());
    assert_eq!(code, Some(2));
    assert!(errors.contains("YA0"), "{errors}");
}

#[test]
fn every_mistake_of_a_survey_is_told_in_one_run() {
    let output = write_changed(&[
        ("built: 1874", "built: 18 74"),
        ("freeze-thaw: yes", "freeze-thaw: sometimes"),
        ("salt-air: yes", "salt-aire: yes"),
        ("work-height: 12.4 m", "work-height: 12.4 psi"),
        ("material: common-brick, thickness: 440 mm", "material: comon-brick, thickness: 440 mm"),
        ("hollow-share: 0 %", "hollow-share: 140 %"),
    ]);
    let errors = errors(&output);
    assert_eq!(output.status.code(), Some(2));
    for words in ["18 74", "sometimes", "`salt-air`", "psi", "`common-brick`", "140"] {
        assert!(errors.contains(words), "{words} is not in:\n{errors}");
    }
    assert!(errors.contains("survey.yaml:"), "no place is given:\n{errors}");
}

#[test]
fn a_permeance_of_masonry_without_its_thickness_is_refused_with_the_reason() {
    let layer = "{material: common-brick, thickness: 440 mm, known: measured}";
    let output = write_changed(&[(layer, "{material: common-brick, permeance: 22 perm, known: told}")]);
    refused(&output, "SU0", &["thickness"]);
}

#[test]
fn a_zone_code_twice_is_refused() {
    refused(&write_changed(&[("- code: Q1b", "- code: Q1a")]), "SU0", &["Q1a"]);
}

#[test]
fn a_release_of_a_stop_that_does_not_stand_is_refused() {
    let release =
        "releases: [{stop: moving-crack, zones: [Q1a], role: engineer, date: 2027-02-20, paper: report 1}]";
    let output = write_changed(&[("releases: []", release)]);
    refused(&output, "SU0", &["Q1a"]);
}

#[test]
fn a_stop_is_released_by_its_role_alone_and_then_no_longer_stands() {
    let release = |role: &str| {
        format!(
            "releases: [{{stop: moving-crack, zones: [Q2], role: {role}, date: 2027-02-20, paper: report 1}}]"
        )
    };
    refused(&write_changed(&[("releases: []", &release("owner"))]), "SU0", &["engineer"]);
    let with = write_changed(&[("releases: []", &release("engineer"))]);
    assert!(with.status.success(), "{}", errors(&with));
    let without = write_changed(&[]);
    assert_ne!(said(&with).lines().last(), said(&without).lines().last());
}

#[test]
fn a_broken_rulebook_is_refused_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("a.rule"), "rulebook \"A\" edition 1\n\nrule x\n  requir clause y\n")
        .unwrap();
    let output = perpend(&["write", WATCH_HOUSE, "--rulebook", &folder.path().to_string_lossy()]);
    refused(&output, "RS0", &["a.rule:4", "require"]);
}

#[test]
fn a_firms_book_is_read_over_the_trades() {
    let limit = |more: &[&str]| {
        let mut arguments = vec!["why", WATCH_HOUSE, "old-work"];
        arguments.extend(more);
        let output = perpend(&arguments);
        assert!(output.status.success(), "{}", errors(&output));
        said(&perpend(&[&["why", WATCH_HOUSE, "wash-pressure", "--zone", "Q2"], more].concat()))
    };
    assert!(!limit(&[]).contains("200"), "{}", limit(&[]));
    assert!(limit(&["--rulebook", "rules/house-example"]).contains("200"));
}

#[test]
fn an_unknown_document_is_refused_with_the_names_there_are() {
    let out = tempfile::tempdir().unwrap();
    let output =
        perpend(&["write", WATCH_HOUSE, "--only", "sektion", "--out", &out.path().to_string_lossy()]);
    refused(&output, "CI010", &["section", "owner-sheet", "reasons"]);
}

#[test]
fn why_names_rule_reason_source_figures_and_what_would_change_it() {
    let output = perpend(&["why", WATCH_HOUSE, "silicone-resin", "--zone", "Q1a"]);
    assert!(output.status.success(), "{}", errors(&output));
    let said = said(&output);
    for words in [
        "refused",
        "solid-old-wall",
        "because",
        "EN 1062-1",
        "total-sd",
        "0.14",
        "it has",
        "What would change this",
    ] {
        assert!(said.contains(words), "`{words}` is not in:\n{said}");
    }
}

#[test]
fn why_suggests_the_nearest_name() {
    refused(&perpend(&["why", WATCH_HOUSE, "wash-presure"]), "CI011", &["did you mean `wash-pressure`?"]);
    refused(&perpend(&["why", WATCH_HOUSE, "acrylic", "--zone", "Q9"]), "CI012", &["Q1a"]);
}

#[test]
fn tidy_leaves_the_trade_book_as_it_is() {
    let output = perpend(&["tidy", "--check", "rules/trade"]);
    assert!(output.status.success(), "{}{}", said(&output), errors(&output));
}

/// The first command of the README, run as it stands there, but into another folder.
#[test]
fn the_readme_writes_the_demo() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let command = readme.lines().find_map(|line| line.strip_prefix("$ cargo run --release -- ")).unwrap();
    let out = tempfile::tempdir().unwrap();
    let out_folder = out.path().to_string_lossy().into_owned();
    let mut arguments: Vec<&str> = command.split_whitespace().collect();
    arguments.extend(["--out", &out_folder]);
    let output = perpend(&arguments);
    assert!(output.status.success(), "{}", errors(&output));
    assert!(out.path().join("MW-07/section.pdf").exists());
}

#[test]
fn a_locked_book_is_the_only_one_that_is_written_with() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_string_lossy().into_owned();
    let write = |locked: &str| {
        perpend(&[
            "write",
            WATCH_HOUSE,
            "--locked",
            locked,
            "--format",
            "md",
            "--only",
            "owner-sheet",
            "--out",
            &out,
        ])
    };
    let other = write("0123456789ab");
    refused(&other, "CI013", &["`0123456789ab`"]);
    let told = errors(&other);
    let digest = told.split("its digest is ").nth(1).and_then(|rest| rest.split(';').next()).unwrap();
    assert_eq!(digest.len(), 64);
    refused(&write(digest.get(..11).unwrap()), "CI013", &["at least 12 digits"]);
    assert!(
        std::fs::read_dir(folder.path()).unwrap().next().is_none(),
        "nothing is written with another book"
    );
    assert_eq!(write(digest.get(..12).unwrap()).status.code(), Some(0));
    assert_eq!(write(digest).status.code(), Some(0));
}

/// A book that promises what its rules do not keep.
#[test]
fn a_promise_that_the_survey_breaks_keeps_the_set_from_being_written() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path().join("house");
    std::fs::create_dir(&house).unwrap();
    let example = std::fs::read_to_string(root().join("rules/house-example/house.rule")).unwrap();
    let head: String = example.split_once("\nsource").map(|(head, _)| head.to_owned()).unwrap();
    let promise = "\npromise no-silicate\n  where built before 1950\n  coating sol-silicate is refused\n  \
                   because \"For the test.\"\n  per common-practice\n";
    std::fs::write(house.join("house.rule"), head + promise).unwrap();
    let out = folder.path().join("out");
    let output = perpend(&[
        "write",
        WATCH_HOUSE,
        "--rulebook",
        &house.to_string_lossy(),
        "--out",
        &out.to_string_lossy(),
        "--format",
        "md",
    ]);
    assert_eq!(output.status.code(), Some(1), "{}", errors(&output));
    assert!(errors(&output).contains("PR020"), "{}", errors(&output));
    assert!(errors(&output).contains("no-silicate"), "{}", errors(&output));
    assert!(!out.exists());
}

#[test]
fn mistakes_are_told_as_data_with_the_bytes_they_stand_on() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.yaml");
    let text = "survey: 1\njob: {code: é, name: A, issue-date: 2027-03-01}\nzones: [{code: A, name: B, wood: yes}]\n";
    std::fs::write(&survey, text).unwrap();
    let output = perpend(&["write", &survey.to_string_lossy(), "--diagnostics", "json"]);
    assert_eq!(output.status.code(), Some(2));
    let told: serde_json::Value = serde_json::from_str(&errors(&output)).unwrap();
    let told = told.as_array().unwrap();
    assert_eq!(told.len(), 2);
    for (mistake, code, stands_on) in [(&told[0], "SU013", "é"), (&told[1], "SU004", "wood")] {
        assert_eq!(mistake["severity"], "error");
        let bytes = mistake["place"]["bytes"].as_array().unwrap();
        let [from, to] = [&bytes[0], &bytes[1]].map(|byte| usize::try_from(byte.as_u64().unwrap()).unwrap());
        assert_eq!((mistake["code"].as_str().unwrap(), text.get(from..to).unwrap()), (code, stands_on));
    }
    let clean = perpend(&["tidy", "rules/trade", "--check", "--diagnostics", "json"]);
    assert_eq!(errors(&clean).trim(), "[]");
}
