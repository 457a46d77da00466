//! A condensation sum can speak against a coat and never for one: no paper of any demo, and no word of `perpend wall`,
//! says that a sum that comes out well permits coating.

use std::path::{Path, PathBuf};
use std::process::Command;

const DEMOS: [&str; 3] = ["watch-house", "tithe-wall", "ferrier-lane-hall"];

/// Words that speak of the sum.
const SUM: [&str; 7] =
    ["condens", "saturation", "glaser", "din 4108", "iso 13788", "steady state", "steady-state"];

/// Words that would make a permission of it.
const LEAVE: [&str; 17] = [
    "may be coated",
    "can be coated",
    "may coat",
    "can coat",
    "is permitted",
    "permits",
    "permission",
    "is allowed",
    "allows the coat",
    "is safe",
    "safe to",
    "is suitable",
    "complies",
    "approved",
    "leave to",
    "fit to be coated",
    "passes the",
];

/// Words that take the permission back where it is named.
const TAKEN_BACK: [&str; 4] =
    ["never permission", "never permits", "no result of it is leave", "never for one"];

/// The sentences that make a permission of a condensation sum.
fn permissions(text: &str) -> Vec<String> {
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let sentences = plain.split(['.', ';', '|']).map(str::to_owned);
    let speaks = |sentence: &String, of: &[&str]| of.iter().any(|words| sentence.contains(words));
    let permits = |sentence: &String| {
        speaks(sentence, &SUM) && speaks(sentence, &LEAVE) && !speaks(sentence, &TAKEN_BACK)
    };
    sentences.filter(permits).collect()
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every paper and figure kept of the demos; what is kept is what is written (see `jobs`).
fn papers(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            papers(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "md" || ending == "svg") {
            found.push(path);
        }
    }
    found.sort();
}

#[test]
fn a_permission_would_be_found() {
    assert_eq!(permissions("No condensation forms, so the wall may be coated. The sky is blue.").len(), 1);
    assert_eq!(permissions("By DIN 4108-3 this coat is suitable").len(), 1);
    assert_eq!(
        permissions("Steady state, no rain; a pass of the condensation sum is never permission to coat")
            .len(),
        0
    );
}

#[test]
fn no_paper_makes_a_permission_of_a_condensation_sum() {
    let mut found = Vec::new();
    papers(&root().join("out"), &mut found);
    papers(&root().join("tests/jobs"), &mut found);
    let mut spoke = 0;
    for path in found {
        let text = std::fs::read_to_string(&path).unwrap();
        spoke += usize::from(SUM.iter().any(|words| text.to_lowercase().contains(words)));
        assert_eq!(permissions(&text), [""; 0], "{}", path.display());
    }
    assert!(spoke >= 3, "only {spoke} papers speak of condensation at all, so this proves little");
}

#[test]
fn the_wall_in_numbers_gives_its_caveat_and_no_permission() {
    for demo in DEMOS {
        let survey = format!("examples/{demo}/survey.yaml");
        for form in ["text", "md", "json"] {
            let arguments = ["wall", survey.as_str(), "--format", form];
            let output = Command::new(env!("CARGO_BIN_EXE_perpend"))
                .current_dir(root())
                .args(arguments)
                .output()
                .unwrap();
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
            let text = String::from_utf8(output.stdout).unwrap();
            assert_eq!(permissions(&text), [""; 0], "{demo} as {form}");
            let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(plain.contains(perpend::physics::condensation::CAVEAT), "{demo} as {form}");
            assert!(!text.contains("NaN") && !text.contains("inf "), "{demo} as {form}");
        }
    }
}
