//! What laid pages must keep to, read from the places of their words before any file is written. The limits are those
//! of the design, typed here again so that a slip in the table of the design is found.

mod colour;
mod faults;
mod find;
mod limits;
mod lines;
mod places;
mod sheets;

use std::collections::BTreeMap;

use find::faults_of;
use lines::{Outside, lengths};
use perpend::document::Document;
use perpend::render::{What, layout};
pub(crate) use places::{overlapping, sticking_out};
use rayon::prelude::*;
use sheets::Sheets;

use crate::document::sets::{SETS, of};

/// Everything that the pages of a paper do not keep to.
pub(crate) fn faults(paper: &Document) -> Vec<String> {
    faults_of(&Sheets::of(paper, &layout(paper).unwrap()))
}

#[test]
fn the_papers_of_every_job_have_no_fault() {
    let papers: Vec<_> =
        SETS.iter().flat_map(|(job, papers)| papers.iter().map(move |one| (job, one))).collect();
    assert!(papers.len() >= 8 * 7, "{}", papers.len());
    let found = papers.par_iter().flat_map_iter(|(job, paper)| {
        faults(paper).into_iter().map(move |fault| format!("{job}, {}: {fault}", paper.name))
    });
    assert_eq!(found.collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn each_check_finds_its_fault_and_no_other() {
    let missed = faults::FAULTS.iter().filter_map(|(check, paper, what, spoil)| {
        let document = of("watch-house").iter().find(|one| one.name == *paper).unwrap();
        let mut sheets = Sheets::of(document, &layout(document).unwrap());
        spoil(&mut sheets);
        let found = faults_of(&sheets);
        let is_exact = !found.is_empty() && found.iter().all(|fault| fault.starts_with(check));
        (!is_exact).then(|| format!("{check}, {what}: {found:?}"))
    });
    assert_eq!(missed.collect::<Vec<_>>(), Vec::<String>::new());
}

/// The share, of a thousand, of paragraphs and cells with lines outside what reads best, by paper, in the order of
/// [`lines::lengths`]: none may grow. Columns of a sheet for the owner hold some 46 characters, its points fewer; tables
/// of five columns and more have narrow cells, and the answers among the facts of the reasons wide ones.
const NOTED: [(&str, [usize; 4]); 10] = [
    ("crew-sheets", [60, 0, 740, 60]),
    ("findings-letter", [580, 0, 0, 0]),
    ("owner-sheet", [360, 0, 0, 0]),
    ("reasons", [0, 0, 385, 35]),
    ("register", [0, 500, 520, 0]),
    ("schedule", [0, 700, 465, 340]),
    ("section", [0, 0, 390, 10]),
    ("survey-sheet", [250, 750, 240, 140]),
    ("test-plan", [60, 440, 400, 90]),
    ("tests-programme", [0, 800, 140, 0]),
];

fn noted(papers: impl Iterator<Item = Sheets<'static>>) -> BTreeMap<String, [Outside; 4]> {
    let mut found: BTreeMap<String, [Outside; 4]> = BTreeMap::new();
    for sheets in papers {
        let sums = found.entry(sheets.document.name.clone()).or_default();
        for (sum, own) in sums.iter_mut().zip(lengths(&sheets)) {
            *sum = sum.and(own);
        }
    }
    found
}

#[test]
fn lines_outside_what_reads_best_get_no_more() {
    let papers = SETS.iter().flat_map(|(_, papers)| papers);
    let found = noted(papers.map(|paper| Sheets::of(paper, &layout(paper).unwrap())));
    assert_eq!(found.len(), NOTED.len());
    for (paper, most) in NOTED {
        let shares = found[paper].map(Outside::share);
        let is_kept = shares.iter().zip(&most).all(|(share, most)| share <= most);
        assert!(is_kept, "{paper}: {shares:?} of a thousand, {most:?} at most");
    }
}

/// Each length out of its bounds is counted, and no sound one.
#[test]
fn a_length_out_of_its_bounds_is_noted() {
    let document = of("watch-house").iter().find(|one| one.name == "section").unwrap();
    let sound = Sheets::of(document, &layout(document).unwrap());
    let spoil = |part: &str, length: usize| {
        let mut sheets = sound.clone();
        for mark in sheets.marks.iter_mut().filter(|mark| mark.block.is_some() && mark.part.starts_with(part))
        {
            if let What::Words { text, .. } = &mut mark.what {
                *text = "n".repeat(length);
            }
        }
        lengths(&sheets)
    };
    assert_eq!(lengths(&sound)[0].outside + lengths(&sound)[1].outside, 0);
    for (at, part, length) in [(0, "text", 9), (1, "text", 81), (2, "cell", 3), (3, "cell", 61)] {
        let [before, after] = [lengths(&sound), spoil(part, length)].map(|all| all[at]);
        assert!(
            after.judged == before.judged && after.outside > before.outside,
            "{part} of {length}: {after:?}"
        );
        assert!(before.outside < before.judged, "{part}: {before:?}");
    }
}
