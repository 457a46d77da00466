//! `perpend prove --examples`: the surveys that are written make every rule apply that they are said to, and none of them
//! can be dropped.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Command, Output};

use perpend::diagnostic::{Diagnostic, Source};
use perpend::inference::{Truth, infer};
use perpend::proof::{self, About, Example, Missing, Standing};
use perpend::rulebook::book::{Book, RuleId};
use perpend::{survey, wall};
use proptest::prelude::*;

use crate::folders::root;
use crate::proof::{terms, trade_book};
use crate::random_books;

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

/// The rules that certainly apply in a survey, by the reader, the wall calculation and the evaluator that documents are
/// written with.
fn certain(book: &Book, text: &str) -> BTreeSet<RuleId> {
    let (survey, found) = survey::read(&Source::new("example.yaml", text), book);
    let errors: Vec<_> = found.iter().filter(|found| found.is_error()).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{text}");
    let survey = survey.unwrap();
    let outcome = infer(book, &survey, &wall::work(&survey, book));
    let rules = outcome.zones.iter().flat_map(|zone| zone.decisions.rules.iter().enumerate());
    rules.filter(|(_, truth)| **truth == Truth::Yes).map(|(rule, _)| RuleId(rule)).collect()
}

/// Each survey makes the rules apply that it is said to, and one at least that no other does; all of those that it alone
/// is said to.
fn as_claimed(book: &Book, surveys: &[Example]) -> BTreeSet<RuleId> {
    let each: Vec<BTreeSet<RuleId>> = surveys.iter().map(|example| certain(book, &example.text)).collect();
    for (at, (example, rules)) in surveys.iter().zip(&each).enumerate() {
        assert_eq!(*rules, example.rules.iter().copied().collect(), "{}", example.text);
        let others = each.iter().enumerate().filter(|(other, _)| *other != at);
        let others: BTreeSet<RuleId> = others.flat_map(|(_, rules)| rules).copied().collect();
        let alone: BTreeSet<RuleId> = rules.difference(&others).copied().collect();
        assert!(!alone.is_empty(), "nothing is lost without\n{}", example.text);
        assert_eq!(alone, example.alone.iter().copied().collect());
    }
    each.into_iter().flatten().collect()
}

fn names(data: &serde_json::Value) -> BTreeSet<String> {
    data.as_array().unwrap().iter().map(|name| name.as_str().unwrap().to_owned()).collect()
}

#[test]
fn the_surveys_written_for_the_trade_book_do_what_is_claimed_of_them() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("examples");
    let to = to.to_string_lossy();
    let output = perpend(&["prove", "rules/trade", "--examples", &to, "--format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let listed: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let book = trade_book();
    let id = |name: &String| RuleId(book.rules.iter().position(|rule| rule.name == *name).unwrap());
    let ids = |data: &serde_json::Value| names(data).iter().map(id).collect::<Vec<RuleId>>();
    let surveys: Vec<Example> = listed["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|file| Example {
            text: std::fs::read_to_string(Path::new(&*to).join(file["file"].as_str().unwrap())).unwrap(),
            rules: ids(&file["rules"]),
            alone: ids(&file["alone"]),
        })
        .collect();
    let reached = as_claimed(&book, &surveys);
    let missing: BTreeSet<RuleId> = listed["missing"]
        .as_array()
        .unwrap()
        .iter()
        .map(|missing| id(&missing["rule"].as_str().unwrap().to_owned()))
        .collect();
    assert!(reached.is_disjoint(&missing));
    assert_eq!(reached.len() + missing.len(), book.rules.len());
    // What is left leans on what is worked out, and says so.
    assert!(missing.len() * 50 < book.rules.len(), "{:#}", listed["missing"]);
    for missing in listed["missing"].as_array().unwrap() {
        assert!(!missing["leans-on"].as_array().unwrap().is_empty(), "{missing}");
        assert!(missing["why"].as_str().unwrap().contains("may not be reachable"), "{missing}");
    }
    the_program_reads_them(&to, &reached, &book);
}

/// What `--over` says of the folder, and that the papers of one can be written.
fn the_program_reads_them(folder: &str, reached: &BTreeSet<RuleId>, book: &Book) {
    let over = perpend(&["prove", "rules/trade", "--over", folder, "--format", "json"]);
    let over: serde_json::Value = serde_json::from_slice(&over.stdout).unwrap();
    let reached: BTreeSet<String> = reached.iter().map(|rule| book.rules[rule.0].name.clone()).collect();
    assert_eq!(names(&over["certain"]), reached);
    for survey in over["surveys"].as_array().unwrap() {
        assert!(!survey["alone"].as_array().unwrap().is_empty(), "{survey}");
    }
    let out = tempfile::tempdir().unwrap();
    let (survey, out) = (format!("{folder}/example-03.yaml"), out.path().to_string_lossy());
    let written = perpend(&["write", &survey, "--only", "set", "--format", "md", "--out", &out]);
    assert_eq!(written.status.code(), Some(0), "{}", String::from_utf8_lossy(&written.stderr));
}

const TINY: &str = "\
rulebook \"Tiny\" edition 1

source common-practice

fact historic of zone, yes or no
  ask \"Is it historic?\"
fact floors of job, number 1 to 40
  ask \"How many floors?\"
worked widest-moving-crack of zone, length

";

/// A small book with rules that cannot apply together, one that no wall makes apply, and one that nothing does.
fn tiny() -> String {
    let rule = |name: &str, when: &str| {
        format!(
            "rule {name}\n  where {when}\n  caution \"Mind {name}.\" for crew\n  because \"It is so.\"\n  per common-practice\n\n"
        )
    };
    let rules = [
        ("old", "historic"),
        ("new", "not historic"),
        ("old-and-high", "historic and floors over 4"),
        ("moving", "widest-moving-crack over 2 mm"),
        ("neither", "historic and not historic"),
    ];
    rules.iter().fold(TINY.to_owned(), |text, (name, when)| text + &rule(name, when))
}

#[test]
fn a_folder_is_written_whole_the_same_each_time_and_never_over_somebody_elses_files() {
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("tiny");
    std::fs::create_dir(&book).unwrap();
    std::fs::write(book.join("tiny.rule"), tiny()).unwrap();
    let to = folder.path().join("examples");
    let write = || perpend(&["prove", &book.to_string_lossy(), "--examples", &to.to_string_lossy()]);
    let read = || -> Vec<(String, String)> {
        let mut files: Vec<(String, String)> = std::fs::read_dir(&to)
            .unwrap()
            .map(|file| file.unwrap().path())
            .map(|path| {
                let name = path.file_name().unwrap().to_string_lossy().into_owned();
                (name, std::fs::read_to_string(path).unwrap())
            })
            .collect();
        files.sort();
        files
    };
    let first = write();
    assert_eq!(first.status.code(), Some(0), "{}", String::from_utf8_lossy(&first.stderr));
    let said = String::from_utf8_lossy(&first.stdout).into_owned();
    assert!(
        said.contains("2 surveys make 4 of 5 rules apply") && said.contains("neither: no survey does"),
        "{said}"
    );
    let before = read();
    assert_eq!(before.len(), 3);
    assert!(before.iter().any(|(_, text)| text.contains("watched: watched-moving")), "{before:#?}");
    assert_eq!(write().stdout, first.stdout);
    assert_eq!(read(), before);
    std::fs::remove_file(to.join("examples.json")).unwrap();
    let refused = write();
    assert_eq!(refused.status.code(), Some(2));
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(told.contains("CI008") && told.contains("examples.json"), "{told}");
}

#[test]
fn a_rule_that_no_wall_makes_apply_is_named_with_what_it_leans_on() {
    let text = tiny().replace(
        "widest-moving-crack over 2 mm",
        "widest-crack over 2 mm and widest-moving-crack over 2 mm and not cracks-map and not cracks-stepped \
         and not cracks-bulging and not cracks-through-units and not cracks-hairline-joint and not cracks-at-opening \
         and not cracks-other",
    );
    let patterns = ["map", "stepped", "bulging", "through-units", "hairline-joint", "at-opening", "other"];
    let worked = patterns.map(|pattern| format!("worked cracks-{pattern} of zone, yes or no\n")).concat();
    let text = text.replace(
        "worked widest-moving-crack",
        &format!("{worked}worked widest-crack of zone, length\nworked widest-moving-crack"),
    );
    let (book, found) = perpend::rulebook::read(&[Source::new("tiny.rule", text)]);
    assert!(!found.iter().any(Diagnostic::is_error), "{found:#?}");
    let book = book.unwrap();
    let found = proof::examples(&book, &terms(&book));
    as_claimed(&book, &found.surveys);
    let moving = book.rules.iter().position(|rule| rule.name == "moving").map(RuleId).unwrap();
    let (_, why) = found.missing.iter().find(|(rule, _)| *rule == moving).unwrap();
    let Missing::LeansOn(facts) = why else { panic!("{why:?}") };
    assert!(facts.contains(&"widest-moving-crack".to_owned()), "{facts:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Every rule that a proof says can apply applies in some survey that is written, and no other does.
    #[test]
    fn every_rule_that_can_apply_does(plan in random_books::small_plans()) {
        let book = random_books::book(&plan);
        let terms = terms(&book);
        let report = proof::prove(&book, &terms);
        let can = report.answers.iter().filter_map(|(about, standing)| match (about, standing) {
            (About::Applies(rule), Standing::Proved) => Some(*rule),
            _ => None,
        });
        let found = proof::examples(&book, &terms);
        prop_assert_eq!(as_claimed(&book, &found.surveys), can.collect::<BTreeSet<RuleId>>());
        let told = found.missing.iter().all(|(_, why)| *why == Missing::CannotApply);
        prop_assert!(told, "{:?}", found.missing);
    }
}
