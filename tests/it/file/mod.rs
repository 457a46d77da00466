//! What a PDF file must say of itself, read back with a reader of our own. The numbers follow the machine rules that
//! ISO 14289-1 sets for files that can be read aloud; a reader from outside holds the files against the whole standard
//! (`outside_standards`).

pub(crate) mod faults;
mod find;
mod read;

use std::path::PathBuf;

use find::{MOST, faults_in, faults_of, weight};
use rayon::prelude::*;
use read::Read;

use crate::document::sets::of;

fn kept() -> Vec<PathBuf> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/out/MW-07");
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|ending| ending == "pdf")).collect();
    files.sort();
    assert!(files.len() >= 7, "{files:?}");
    files
}

/// What a file lacks.
pub(crate) fn faults(file: &[u8]) -> Vec<String> {
    faults_of(&Read::of(lopdf::Document::load_mem(file).unwrap()))
}

/// The section of the first demo, sound.
pub(crate) fn section() -> lopdf::Document {
    let section = kept().into_iter().find(|path| path.ends_with("section.pdf")).unwrap();
    lopdf::Document::load(section).unwrap()
}

/// The papers of the first demo as they are kept, which a test of the jobs holds against what is written now.
#[test]
fn the_papers_of_the_first_demo_have_no_fault() {
    for path in kept() {
        let bytes = std::fs::read(&path).unwrap();
        let paper =
            of("watch-house").iter().find(|paper| path.ends_with(format!("{}.pdf", paper.name))).unwrap();
        let mut found = faults_in(&Read::of(lopdf::Document::load_mem(&bytes).unwrap()), paper);
        found.extend(weight(&bytes));
        assert_eq!(found, Vec::<String>::new(), "{}", path.display());
    }
}

/// The papers of the two other demos, as they are made now.
#[test]
fn the_papers_of_the_other_demos_have_no_fault() {
    let jobs = ["tithe-wall", "ferrier-lane-hall"].into_iter();
    let papers: Vec<_> = jobs.flat_map(|job| of(job).iter().map(move |paper| (job, paper))).collect();
    assert!(papers.len() >= 14, "{}", papers.len());
    let faults = papers.par_iter().filter_map(|(job, paper)| {
        let file = perpend::render::pdf(paper).unwrap();
        let mut found = faults_in(&Read::of(lopdf::Document::load_mem(&file).unwrap()), paper);
        found.extend(weight(&file));
        (!found.is_empty()).then(|| format!("{job}, {}: {found:?}", paper.name))
    });
    assert_eq!(faults.collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn a_file_too_large_to_send_is_found() {
    assert_eq!(weight(&vec![0; MOST - 1]), None);
    assert!(weight(&vec![0; MOST]).is_some_and(|fault| fault.starts_with("F18")));
}

/// Samples with what the papers lack: wide and awkward tables, lists in lists.
#[test]
fn the_samples_have_no_fault() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/render");
    for name in ["awkward", "long-table", "plain", "section", "tables"] {
        let text = std::fs::read_to_string(format!("{folder}/{name}.json")).unwrap();
        let file = perpend::render::pdf(&crate::render::read::document(&text)).unwrap();
        let read = Read::of(lopdf::Document::load_mem(&file).unwrap());
        let mut found = faults_of(&read);
        // The samples have no running heads.
        found.retain(|fault| !fault.starts_with("F06"));
        assert_eq!(found, Vec::<String>::new(), "{name}");
    }
}

#[test]
fn each_check_finds_its_fault_and_no_other() {
    let sound = section();
    let paper = of("watch-house").iter().find(|paper| paper.name == "section").unwrap();
    let missed = faults::FAULTS.par_iter().filter_map(|(check, what, spoil)| {
        let mut file = sound.clone();
        spoil(&mut file);
        let found = faults_in(&Read::of(file), paper);
        let is_exact = !found.is_empty() && found.iter().all(|fault| fault.starts_with(check));
        (!is_exact).then(|| format!("{check}, {what}: {found:?}"))
    });
    assert_eq!(missed.collect::<Vec<_>>(), Vec::<String>::new());
}
