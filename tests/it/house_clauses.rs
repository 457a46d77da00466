//! What a firm gets wrong in its own clauses is told with its place before anything is written, also where the job at
//! hand does not need the clause.

use std::process::Command;

use crate::folders::{copy, root};

const CLAUSE: &str = "clauses/protection/ties-in-the-joints.md";

/// Writes a job with the firm's book of the repository and its clause changed: what is told, when nothing was written.
fn told(changes: &[(&str, &str)]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path().join("house");
    copy(&root().join("rules/house-example"), &house);
    let mut text = std::fs::read_to_string(house.join(CLAUSE)).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "the clause no longer says `{from}`");
        text = text.replacen(from, to, 1);
    }
    std::fs::write(house.join(CLAUSE), text).unwrap();
    let survey = std::fs::read_to_string(root().join("examples/ferrier-lane-hall/survey.yaml")).unwrap();
    let survey = survey.replace("    adjoins:", "    scaffold-ties: none\n    adjoins:");
    assert!(survey.contains("scaffold-ties: none"), "no tie, so that no clause on ties is needed");
    let path = folder.path().join("survey.yaml");
    std::fs::write(&path, survey).unwrap();
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
    if output.status.success() { String::new() } else { String::from_utf8_lossy(&output.stderr).into_owned() }
}

#[test]
fn each_fault_of_a_firms_clause_is_told_with_its_place_and_nothing_is_written() {
    assert_eq!(told(&[]), "", "the book as it stands");
    let cases = [
        ("Fix the ties", "<b>Fix</b> the ties", "DO003", "<b>"),
        ("Fix the ties", "{% include \"../../../secret.md\" %} Fix the ties", "CL017", "another file"),
        ("Fix the ties", "{{ tie_length }} Fix the ties", "CL006", "tie_length"),
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
