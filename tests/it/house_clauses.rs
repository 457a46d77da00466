//! What a firm gets wrong in its own clauses is told with its place before anything is written, also where the job at
//! hand does not need the clause.

use std::process::Command;

use crate::folders::{copy, reworded, root};

const CLAUSE: &str = "clauses/protection/ties-in-the-joints.md";

/// A job written with the firm's book of the repository and its clause changed; whether anything was written, and what
/// was told.
fn written(job: &str, survey: &[(&str, &str)], changes: &[(&str, &str)]) -> (bool, String) {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path().join("house");
    copy(&root().join("rules/house-example"), &house);
    let clause = reworded(&std::fs::read_to_string(house.join(CLAUSE)).unwrap(), changes);
    std::fs::write(house.join(CLAUSE), clause).unwrap();
    let text = std::fs::read_to_string(root().join(format!("examples/{job}/survey.yaml"))).unwrap();
    let path = folder.path().join("survey.yaml");
    std::fs::write(&path, reworded(&text, survey)).unwrap();
    let out = folder.path().join("out");
    let output = Command::new(env!("CARGO_BIN_EXE_perpend"))
        .current_dir(root())
        .arg("write")
        .arg(&path)
        .arg("--rulebook")
        .arg(&house)
        .arg("--out")
        .arg(&out)
        .args(["--format", "md", "--diagnostics", "json"])
        .output()
        .unwrap();
    assert_eq!(output.status.success(), out.exists(), "whole or not at all");
    (output.status.success(), String::from_utf8_lossy(&output.stderr).into_owned())
}

/// The hall with the firm's own question answered.
fn hall(ties: &str, changes: &[(&str, &str)]) -> (bool, String) {
    let answer = format!("    scaffold-ties: {ties}\n    adjoins:");
    written("ferrier-lane-hall", &[("    adjoins:", &answer)], changes)
}

/// What is told of a clause that the job does not need, when nothing was written.
fn told(changes: &[(&str, &str)]) -> String {
    let (is_written, told) = hall("none", changes);
    if is_written { String::new() } else { told }
}

/// A set to be issued is held back by what a proofreader may not let through; a set for review is written with it.
#[test]
fn words_that_a_proofreader_refuses_keep_a_set_from_being_issued() {
    let vague = [("in joints alone", "in adequate joints alone")];
    assert_eq!(hall("in-joints", &[]), (true, "[]\n".to_owned()));
    let (is_written, told) = hall("in-joints", &vague);
    assert!(!is_written, "{told}");
    for words in ["PF020", "adequate", "ties-in-the-joints.md", "\"error\""] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let (is_written, told) = written("watch-house", &[], &vague);
    assert!(is_written, "{told}");
    assert!(told.contains("PF020") && told.contains("adequate"), "{told}");
}

#[test]
fn each_fault_of_a_firms_clause_is_told_with_its_place_and_nothing_is_written() {
    assert_eq!(told(&[]), "", "the book as it stands");
    let cases = [
        ("Fix the ties", "<b>Fix</b> the ties", "DO003", "<b>"),
        ("Fix the ties", "{% include \"../../../secret.md\" %} Fix the ties", "CL017", "another file"),
        ("Fix the ties", "{{ tie_length }} Fix the ties", "CL006", "tie_length"),
        ("order: 60", "order: 60\nfigures: {hole: two inches}", "CL004", "two inches"),
        ("order: 60", "order: 60\ncites: [astm-d99999]", "RC002", "astm-d99999"),
        ("order: 60", "care: never\norder: 60", "CL012", "## owner"),
        ("article: protection", "article: protektion", "DO006", "protektion"),
        ("Fix the ties", "Fix, as [the lead plan](#led-plan) says, the ties", "DO004", "led-plan"),
    ];
    for (from, to, code, words) in cases {
        let told = told(&[(from, to)]);
        assert!(told.contains(code) && told.contains(words), "{code}, `{words}`: {told}");
        assert!(told.contains("ties-in-the-joints.md"), "{code}: {told}");
    }
}
