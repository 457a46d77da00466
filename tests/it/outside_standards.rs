//! Every paper of the demos and jobs against PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2), by a checker from outside:
//! `page-validation`, which holds 104 and 154 machine rules of the two and is itself held against public collections of
//! good and bad files. What only a person can judge, such as whether the words of a figure say what it shows, no program
//! checks.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use rayon::prelude::*;

use crate::document::sets::SETS;
use crate::file::{faults::FAULTS, section};
use crate::outside_python::Python;
use crate::revised::SECOND;

/// Prints for each file of a folder and each standard how many rules were held against it, then the rules it breaks.
const PROGRAM: &str = r#"
import os, sys, page
for name in sorted(os.listdir(sys.argv[1])):
    for profile in ("ua1", "2a"):
        report = page.validate_pdf(os.path.join(sys.argv[1], name), profile=profile)
        print(name, profile, report.rules.total, *sorted({failure.rule_id for failure in report.failures}))
"#;

/// By file and standard, the rules that are broken.
fn broken(python: &Python, folder: &Path) -> BTreeMap<(String, String), BTreeSet<String>> {
    let said = python.says(PROGRAM, &[folder]);
    let lines = said.lines().map(|line| {
        let mut words = line.split(' ').map(str::to_owned);
        let (file, standard) = (words.next().unwrap(), words.next().unwrap());
        let rules: usize = words.next().unwrap().parse().unwrap();
        assert!(rules >= 100, "{line}");
        ((file, standard), words.collect())
    });
    lines.collect()
}

#[test]
fn every_paper_keeps_the_standards_that_it_claims() {
    let python = Python::with(&["page-validation==0.11.0"]);
    let folder = tempfile::tempdir().unwrap();
    let papers = SETS.iter().flat_map(|(job, papers)| papers.iter().map(move |paper| (job.as_str(), paper)));
    // with the marks of what is new since the issue before
    let papers: Vec<_> = papers.chain([("second-issue", &*SECOND)]).collect();
    papers.par_iter().for_each(|(job, paper)| {
        let file = perpend::render::pdf(paper).unwrap();
        std::fs::write(folder.path().join(format!("{job}-{}.pdf", paper.name)), file).unwrap();
    });
    let found = broken(&python, folder.path());
    assert_eq!(found.len(), 2 * papers.len());
    assert!(papers.len() >= 60, "{}", papers.len());
    let faulty: Vec<_> = found.iter().filter(|(_, rules)| !rules.is_empty()).collect();
    assert_eq!(faulty, Vec::<(&_, &_)>::new());
    spoiled(&python);
}

/// The checker can fail: it finds the faults of ours that break a rule of either standard.
fn spoiled(python: &Python) {
    let folder = tempfile::tempdir().unwrap();
    for (number, (_, _, spoil)) in FAULTS.iter().enumerate() {
        let mut file = section();
        spoil(&mut file);
        file.save(folder.path().join(format!("{number:02}.pdf"))).unwrap();
    }
    section().save(folder.path().join("sound.pdf")).unwrap();
    let found = broken(python, folder.path());
    assert!(found.iter().all(|((file, _), rules)| file != "sound.pdf" || rules.is_empty()));
    let missed: Vec<&str> = FAULTS
        .iter()
        .enumerate()
        .filter(|(number, _)| {
            let of = |standard: &str| found[&(format!("{number:02}.pdf"), standard.to_owned())].is_empty();
            of("ua1") && of("2a")
        })
        .map(|(_, (_, what, _))| *what)
        .collect();
    // These break a rule of ours or of the file format, or one that the checker leaves to a person.
    let left = [
        "no title",
        "a person named",
        "no outline",
        "a line to another page",
        "a line over the page",
        "a link out of the file",
        "a link to nowhere",
        "words that say nothing",
        "two alike",
        "a page that does not say which it is",
        "a page that does not name its paper",
        "a stretch of no element",
        "an element of no stretch",
        "a page in another order",
        "a clock",
        "faint words",
    ];
    assert_eq!(missed, left);
}
