//! Proofreading: the papers of the demos are clean, and what is seeded is found.

mod cases;
mod mutants;
mod sets;

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Output};

use perpend::proofread::{of_document, of_markdown, proofread};

use sets::{DEMOS, RULES, Set};

#[test]
fn blocks_and_their_markdown_are_the_same_paper() {
    for demo in DEMOS.iter() {
        for (document, markdown) in &demo.documents {
            let blocks = of_document(document);
            let mut read = of_markdown(&document.name, markdown);
            for passage in &mut read.passages {
                passage.line = None;
            }
            let names = |paper: &perpend::proofread::Paper| {
                paper.passages.iter().map(|passage| (passage.name.clone(), passage.line)).collect::<Vec<_>>()
            };
            assert!(names(&blocks).iter().all(|(_, line)| line.is_none()));
            let without = |mut paper: perpend::proofread::Paper| {
                for passage in &mut paper.passages {
                    passage.name = None;
                }
                paper
            };
            let (blocks, read) = (without(blocks), without(read));
            let first = blocks.passages.iter().zip(&read.passages).find(|(one, other)| one != other);
            let shown = first.map(|(one, other)| (blocks.words(one), read.words(other), one, other));
            assert!(shown.is_none(), "{} {}: {shown:#?}", demo.name, document.name);
            assert_eq!(blocks.text, read.text, "{} {}", demo.name, document.name);
            assert!(blocks == read, "{} {}", demo.name, document.name);
        }
    }
}

#[test]
fn the_demos_come_out_clean() {
    let mut shown = String::new();
    for demo in DEMOS.iter() {
        for finding in proofread(&demo.papers, &demo.about, &[], &RULES) {
            let (place, check) = (finding.place(), &finding.check);
            let _ = writeln!(shown, "{}: {place}: {} [{check}]", demo.name, finding.message);
        }
    }
    assert!(shown.is_empty(), "{shown}");
}

#[test]
fn a_vague_word_in_a_clause_is_found_at_its_place() {
    let demo: &Set = &DEMOS[0];
    let mut papers = demo.papers.clone();
    let text = demo.markdown("section").replacen("Keep the panel until", "Keep any panel until", 1);
    papers[0] = of_markdown("section", &text);
    let findings = proofread(&papers, &demo.about, &[], &RULES);
    let [finding] = findings.as_slice() else { panic!("{findings:#?}") };
    assert_eq!(
        (finding.check.as_str(), finding.clause.as_str(), finding.reader.word(), finding.blocks()),
        ("vague-word", "1.7 C 3", "bidder", true)
    );
    let line = text.lines().nth(finding.line.unwrap() - 1).unwrap();
    assert!(line.contains("Keep any panel"), "{line}");
}

fn perpend(arguments: &[&str]) -> Output {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root).args(arguments).output().unwrap()
}

#[test]
fn the_command_reads_a_folder_and_its_exit_tells_whether_the_set_may_go_out() {
    let clean = perpend(&["proofread", "out/MW-07"]);
    assert_eq!(clean.status.code(), Some(0), "{}", String::from_utf8_lossy(&clean.stdout));
    assert!(String::from_utf8_lossy(&clean.stdout).contains("nothing found"));
    let folder = tempfile::tempdir().unwrap();
    let section = DEMOS[0].markdown("section").replacen("Keep the panel", "Keep any panel", 1);
    std::fs::write(folder.path().join("section.md"), section).unwrap();
    let path = folder.path().to_string_lossy().into_owned();
    let spoiled = perpend(&["proofread", &path]);
    assert_eq!(spoiled.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&spoiled.stdout).contains("vague-word (blocks issue)"));
    let waivers = folder.path().join("waivers.yaml");
    let waiver = "waivers:\n  - {check: vague-word, clause: 1.7 C, reason: a test, who: architect, expires: 2099-12-31}\n";
    std::fs::write(&waivers, waiver).unwrap();
    let waived = perpend(&["proofread", &path, "--waivers", &waivers.to_string_lossy()]);
    assert_eq!(waived.status.code(), Some(0));
    let said = String::from_utf8_lossy(&waived.stdout).into_owned();
    assert!(said.contains("a test (architect, until 2099-12-31)"), "{said}");
    assert_eq!(perpend(&["proofread", "examples"]).status.code(), Some(2));
}

#[test]
fn the_page_tells_every_check_with_its_weight_and_how_to_mend_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = std::fs::read_to_string(root.join("docs/proofreading.md")).unwrap();
    for check in RULES.checks() {
        let row = format!("| `{}` | {} | ", check.name, check.weight.words());
        let line = page.lines().find(|line| line.starts_with(&row));
        assert!(line.is_some_and(|line| line.ends_with(&format!("{} |", check.mend))), "{}", check.name);
    }
    let rows = page.lines().filter(|line| line.starts_with("| `")).count();
    assert_eq!(rows, RULES.checks().count());
}
