//! Proofs against a solver from outside, z3.

use std::collections::BTreeMap;
use std::path::Path;

use perpend::proof::{self, About, Standing};
use perpend::rulebook::book::Book;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

use crate::outside_python::Python;
use crate::{proof as proofs, random_books};

/// Prints the name of each problem and what the solver says of it.
const PROGRAM: &str = r"
import os, sys, z3
for root, _, files in sorted(os.walk(sys.argv[1])):
    for name in sorted(files):
        solver = z3.Solver()
        solver.from_file(os.path.join(root, name))
        print(os.path.join(os.path.basename(root), name), solver.check())
";

/// What we say of each problem: whether some survey shows it. Problems may share what they ask, such as two limits that
/// cross for one option of a coat and not for another; what is said then holds for them together.
fn ours(book: &Book, folder: &Path) -> BTreeMap<String, (About, bool)> {
    std::fs::create_dir_all(folder).unwrap();
    let report = proof::prove(book, &proofs::terms(book));
    let mut found = BTreeMap::new();
    for problem in proof::problems(book, &perpend::wall::reach(book)) {
        // What follows from another remark is not said again.
        let mut answers = report.answers.iter().filter(|(about, _)| *about == problem.about).peekable();
        if answers.peek().is_none() {
            continue;
        }
        let shown = answers.fold(false, |shown, (_, standing)| match standing {
            Standing::Proved => shown,
            Standing::Shown(_) => true,
            other => panic!("{}: {other:?}", problem.name),
        });
        let file = format!("{}.smt2", problem.name);
        std::fs::write(folder.join(&file), &problem.text).unwrap();
        let book = folder.file_name().unwrap().to_string_lossy();
        found.insert(format!("{book}/{file}"), (problem.about, shown));
    }
    found
}

#[test]
fn z3_agrees_with_the_proofs() {
    let folder = tempfile::tempdir().unwrap();
    let problems = folder.path().join("problems");
    let trade = proofs::trade_book();
    let mut said = ours(&trade, &problems.join("trade"));
    let of_promises = said.values().filter(|(about, _)| matches!(about, About::Broken(_) | About::Unsure(_)));
    assert_eq!(of_promises.count(), 2 * trade.promises.len());
    assert!(said.values().all(|(_, shown)| !shown), "something is amiss in the trade book");
    let near = ("conductor-clearance to at least 10 ft", "conductor-clearance to at least 3 ft");
    let slipped = ours(&proofs::mutated("conductors.rule", &[near]), &problems.join("slipped"));
    assert!(slipped.values().any(|(about, shown)| *shown && matches!(about, About::Broken(_))));
    said.extend(slipped);
    let mut runner = TestRunner::deterministic();
    for number in 0..24 {
        let plan = random_books::plans().new_tree(&mut runner).unwrap().current();
        let book = random_books::book_with(&plan, &random_books::promises(&plan));
        said.extend(ours(&book, &problems.join(format!("random-{number}"))));
    }
    assert!(said.values().filter(|(_, shown)| *shown).count() > 20);

    let theirs = Python::with(&["z3-solver==4.15.4.0"]).says(PROGRAM, &[&problems]);
    let (mut ours, mut found) = (BTreeMap::new(), BTreeMap::new());
    for line in theirs.lines() {
        let (name, verdict) = line.rsplit_once(' ').unwrap();
        assert!(["sat", "unsat"].contains(&verdict), "{line}");
        let (about, shown) = &said[name];
        let asked = format!("{} {about:?}", name.split('/').next().unwrap());
        ours.insert(asked.clone(), *shown);
        *found.entry(asked).or_insert(false) |= verdict == "sat";
    }
    assert_eq!(ours, found);
    assert_eq!(theirs.lines().count(), said.len());
}
