//! One seeded fault for each check, a file each under `tests/cases/proofread/`: what is found in the changed set and was
//! not found before is that check and nothing unexpected.
//!
//! A case names its `job` (the watch house where it does not), the `paper`, and what to `find` and `put` there, as often
//! as need be; `also` lists other checks that the fault draws with it, `expired` a waiver whose day is past, `gone`,
//! `other` and `more` a file that is missing, differs or was added. `~` stands for a hard space, `¶` for a line break.

use std::collections::{BTreeMap, BTreeSet};

use perpend::proofread::{About, Finding, Paper, Waiver, of_markdown, proofread};
use rayon::prelude::*;

use super::sets::{DEMOS, RULES, Set};

#[derive(Default)]
struct Case {
    job: String,
    paper: String,
    changes: Vec<(String, String, String)>,
    also: BTreeSet<String>,
    about: About,
    waivers: Vec<Waiver>,
}

fn read(text: &str) -> Case {
    let mut case = Case { job: "watch-house".to_owned(), ..Case::default() };
    let mut find = String::new();
    for line in text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#')) {
        let (key, value) = line.split_once(": ").unwrap_or((line.trim_end_matches(':'), ""));
        let value = value.replace('~', "\u{a0}").replace('¶', "\n");
        match key {
            "job" => case.job = value,
            "paper" => case.paper = value,
            "find" => find = value,
            "put" => case.changes.push((case.paper.clone(), std::mem::take(&mut find), value)),
            "also" => case.also.extend(value.split(", ").map(str::to_owned)),
            "expired" => case.waivers.push(Waiver {
                check: value,
                clause: "1.1 A".to_owned(),
                reason: "a test".to_owned(),
                who: "architect".to_owned(),
                expires: "2000-01-01".to_owned(),
            }),
            "gone" => case.about.listed.push((value, "a".to_owned())),
            "other" => {
                case.about.listed.push((value.clone(), "a".to_owned()));
                case.about.there.push((value, "b".to_owned()));
            }
            "more" => case.about.there.push((value, "b".to_owned())),
            other => panic!("a case has no `{other}`"),
        }
    }
    case
}

fn changed(demo: &Set, case: &Case, name: &str) -> Vec<Paper> {
    let mut texts: BTreeMap<&str, String> = BTreeMap::new();
    for (paper, find, put) in &case.changes {
        let text = texts.entry(paper).or_insert_with(|| demo.markdown(paper).to_owned());
        assert!(text.contains(find.as_str()), "{name}: `{find}` is not in the {paper} of {}", demo.name);
        *text = text.replacen(find.as_str(), put, 1);
    }
    let paper = |paper: &Paper| match texts.get(paper.name.as_str()) {
        Some(text) => of_markdown(&paper.name, text),
        None => paper.clone(),
    };
    demo.papers.iter().map(paper).collect()
}

fn told(findings: &[Finding]) -> BTreeSet<(String, String)> {
    findings.iter().map(|finding| (finding.check.clone(), finding.message.clone())).collect()
}

#[test]
fn every_check_finds_its_seeded_fault_and_nothing_else() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/proofread");
    let files: BTreeMap<String, String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).unwrap())
        })
        .collect();
    let wanted: BTreeSet<&str> = RULES.checks().map(|check| check.name.as_str()).collect();
    let there: BTreeSet<&str> = files.keys().map(String::as_str).collect();
    let before: BTreeMap<&str, BTreeSet<(String, String)>> = DEMOS
        .par_iter()
        .map(|demo| (demo.name.as_str(), told(&proofread(&demo.papers, &demo.about, &[], &RULES))))
        .collect();
    let wrong: Vec<String> = files
        .par_iter()
        .filter_map(|(name, text)| {
            let case = read(text);
            let demo = DEMOS.iter().find(|demo| demo.name == case.job).unwrap();
            let papers = changed(demo, &case, name);
            let about = About {
                listed: case.about.listed.clone(),
                there: case.about.there.clone(),
                ..demo.about.clone()
            };
            let after = told(&proofread(&papers, &about, &case.waivers, &RULES));
            let fresh: Vec<_> = after.difference(&before[demo.name.as_str()]).collect();
            let checks: BTreeSet<&str> = fresh.iter().map(|(check, _)| check.as_str()).collect();
            let expected: BTreeSet<&str> =
                case.also.iter().map(String::as_str).chain([name.as_str()]).collect();
            (checks != expected).then(|| format!("{name}: {fresh:?}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), files.len(), wrong.join("\n"));
    assert_eq!(there, wanted, "a case for each check, and no other");
}
