//! `perpend prove` and `perpend compare` as people run them.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::folders::{copy, root};

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).replace('\u{a0}', " ")
}

fn errors(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).replace('\u{a0}', " ")
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
        ["PR001", "promise `lines-taken-as-bare` is broken", "service-entrance: yes", "kinds of survey"]
    {
        assert!(errors(&output).contains(words), "`{words}` is not in:\n{}", errors(&output));
    }
    let survey = witness.join("promise-lines-taken-as-bare.yaml");
    let text = std::fs::read_to_string(&survey).unwrap();
    assert!(text.contains("service-entrance: yes"), "{text}");
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
        "service-entrance: yes",
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
    let output = perpend(&["prove", "rules/house-example", "--witness", &witness, "--format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(data["promises"]["asked"], data["promises"]["proved"]);
    let changes = data["house"]["changes"].as_array().unwrap();
    let weakening = changes.iter().filter(|change| change["weakens"] == true);
    let weakening: Vec<&str> = weakening.map(|change| change["change"].as_str().unwrap()).collect();
    assert_eq!(weakening, ["amend finding paint-comes-off only where not old-coating is limewash"]);
    for change in changes.iter().filter(|change| change["change"].as_str().unwrap().starts_with("amend")) {
        assert!(!change["because"].as_str().unwrap().is_empty(), "{change}");
        assert_eq!(change["per"], serde_json::json!(["own-jobs"]));
    }
    let told = data["told"].to_string().replace('\u{a0}', " ");
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

/// What a comparison says of the surveys and records named, as data.
fn turns(old: &str, new: &str, past: &[&str]) -> Vec<serde_json::Value> {
    let fixed = ["compare", old, new, "--format", "json", "--witnesses", "0"];
    let output = perpend(&[&fixed, past].concat());
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    data["surveys"].as_array().unwrap().clone()
}

#[test]
fn a_record_is_compared_as_the_survey_that_it_was_written_from() {
    let folder = tempfile::tempdir().unwrap();
    let (book, out) = (careless(folder.path()), folder.path().join("sets"));
    let (book, out) = (book.to_string_lossy(), out.to_string_lossy());
    let survey = "examples/watch-house/survey.yaml";
    let written = perpend(&["write", survey, "--only", "section", "--format", "md", "--out", &out]);
    assert_eq!(written.status.code(), Some(0), "{}", errors(&written));
    let both = turns("rules/trade", &book, &[survey, &out]);
    let [survey, record] = both.as_slice() else { panic!("{both:#?}") };
    assert_eq!(survey["turns"], record["turns"]);
    assert!(record["survey"].as_str().unwrap().ends_with("record.json"), "{record}");
    assert_eq!(record["notes"], serde_json::json!([]));
    assert!(!survey["turns"].as_array().unwrap().is_empty());
    let record = format!("{out}/MW-07/record.json");
    let other = turns(&book, "rules/trade", &[&record]);
    let notes = other[0]["notes"].to_string();
    assert!(notes.contains("its set was written with Coats on old masonry"), "{notes}");
}

#[test]
fn a_survey_that_answers_a_firms_own_question_is_compared_with_the_trade_book() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.yaml");
    let text = std::fs::read_to_string(root().join("examples/watch-house/survey.yaml")).unwrap();
    let answered =
        text.replacen("    damp-source: splash", "    scaffold-ties: in-units\n    damp-source: splash", 1);
    assert_ne!(text, answered);
    std::fs::write(&survey, answered).unwrap();
    let told = turns("rules/trade", "rules/house-example", &[&survey.to_string_lossy()]);
    let told = told[0].to_string();
    for words in ["ties-in-the-joints", "removal-sequence", "it answers what the old book does not ask"] {
        assert!(told.contains(words), "{told}");
    }
}

#[test]
fn a_record_without_its_survey_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let record = folder.path().join("record.json");
    for (text, why) in [
        ("{\"record\": 1}", "it holds no text"),
        ("{\"survey\": {\"text\": \"\"}}", "does not begin"),
        ("{", "EOF"),
    ] {
        std::fs::write(&record, text).unwrap();
        let output = perpend(&["compare", "rules/trade", "rules/trade", &record.to_string_lossy()]);
        assert_eq!(output.status.code(), Some(2));
        let told = errors(&output);
        assert!(told.contains("CI021") && told.contains(why), "{told}");
    }
}

#[test]
fn a_proof_that_would_run_away_is_given_up_and_not_called_proved() {
    let folder = tempfile::tempdir().unwrap();
    let (facts, never) = crate::weakening::pigeons(10);
    let book = format!(
        "rulebook \"Loft\" edition 1\n\nsource common-practice\n\n{facts}\npromise never-crowded\n  {never} never holds\n  \
         because \"There are too few holes.\"\n  per common-practice\n"
    );
    std::fs::write(folder.path().join("loft.rule"), book).unwrap();
    let output = perpend(&["prove", &folder.path().to_string_lossy(), "--budget", "1s"]);
    assert_eq!(output.status.code(), Some(1), "{}", errors(&output));
    assert!(said(&output).contains("0 of 1 promises are proved"), "{}", said(&output));
    assert!(errors(&output).contains("promise `never-crowded`: not settled"), "{}", errors(&output));
}

#[test]
fn coverage_tells_which_rules_surveys_exercise() {
    let output = perpend(&["prove", "rules/trade", "--over", "examples", "--format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let count = |key: &str| data[key].as_array().unwrap().len();
    let sum = count("certain") + count("open") + count("never");
    assert_eq!(data["rules"].as_u64().unwrap(), sum as u64);
    assert!(count("certain") > 20 && count("surveys") > 2, "{data:#}");
    let one = perpend(&["prove", "rules/trade", "--over", "examples/tithe-wall/survey.yaml"]);
    let said = said(&one);
    assert!(said.contains("1 survey makes") && said.contains("never:"), "{said}");
}

#[test]
fn problems_for_a_solver_from_outside_are_written() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("smt");
    let output = perpend(&["prove", "rules/trade", "--smt", &to.to_string_lossy()]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let files: Vec<PathBuf> = std::fs::read_dir(&to).unwrap().map(|entry| entry.unwrap().path()).collect();
    assert!(files.len() > 60, "{} files", files.len());
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        assert!(text.contains("(assert ") && text.ends_with("(check-sat)\n"), "{}", file.display());
        assert!(text.is_ascii(), "{}", file.display());
    }
}
