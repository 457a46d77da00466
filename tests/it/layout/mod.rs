//! What laid pages must keep to, read from the places of their words before any file is written. The limits are those
//! of the design, typed here again so that a slip in the table of the design is found.

mod faults;
mod find;
mod places;
mod sheets;

use find::faults_of;
use perpend::document::Document;
use perpend::render::layout;
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
