//! Every paper of every job of the repository, made once: the three demos and the five jobs of the tests.

use std::path::PathBuf;
use std::sync::LazyLock;

use perpend::diagnostic::Source;
use perpend::document::block::{Block, BlockKind, Document, Table, plain};
use perpend::document::{Issue, Wanted, Written};
use perpend::render::{Laid, What};
use perpend::{survey, wall};

use super::{templates, written_since};
use crate::demos::BOOK;
use crate::folders::root;

/// Names of jobs, each with its papers: those of the set, of the first visit, and the register.
pub(crate) static SETS: LazyLock<Vec<(String, Vec<Document>)>> = LazyLock::new(|| {
    let jobs = jobs();
    assert_eq!(jobs.len(), 8);
    // one after the other: workers that wait for the book would keep it from being read by workers
    jobs.into_iter().map(|(job, path)| (job, papers(&path))).collect()
});

/// Every survey that is a job, by the name of its folder.
pub(crate) fn jobs() -> Vec<(String, PathBuf)> {
    let folders = ["examples", "tests/jobs"].map(|folder| std::fs::read_dir(root().join(folder)).unwrap());
    let paths = folders.into_iter().flatten().map(|entry| entry.unwrap().path().join("survey.yaml"));
    let mut jobs: Vec<(String, PathBuf)> = paths
        .filter(|path| path.exists())
        .map(|path| {
            (path.parent().unwrap().file_name().unwrap().to_string_lossy().into_owned(), path.clone())
        })
        .collect();
    jobs.sort();
    jobs
}

fn papers(path: &PathBuf) -> Vec<Document> {
    let text = std::fs::read_to_string(path).unwrap();
    since(text, &Wanted::named(&["set".to_owned(), "visit".to_owned()]).unwrap(), None).documents
}

/// The papers of a survey, behind another issue of it or not.
pub(crate) fn since(survey: String, wanted: &Wanted, before: Option<&Issue>) -> Written {
    let survey = survey::read(&Source::new("survey.yaml", survey), &BOOK).0.unwrap();
    let facts = wall::work(&survey, &BOOK);
    written_since(&templates(), (&BOOK, &survey, &facts), wanted, before).unwrap()
}

/// The text of the survey of a job.
pub(crate) fn survey_of(job: &str) -> String {
    let (_, path) = jobs().into_iter().find(|(name, _)| name == job).unwrap();
    std::fs::read_to_string(path).unwrap()
}

pub(crate) fn of(job: &str) -> &'static [Document] {
    &SETS.iter().find(|(name, _)| name == job).unwrap().1
}

pub(super) fn paper<'p>(papers: &'p [Document], name: &str) -> &'p Document {
    papers.iter().find(|paper| paper.name == name).unwrap()
}

/// The blocks below a heading, up to the next heading of its level or higher.
pub(super) fn below<'d>(paper: &'d Document, id: &str) -> &'d [Block] {
    let level = |block: &Block| if let BlockKind::Heading { level, .. } = block.kind { level } else { 9 };
    let Some(start) = paper.blocks.iter().position(|block| block.id == id) else { return &[] };
    let own = level(&paper.blocks[start]);
    let rest = &paper.blocks[start + 1..];
    &rest[..rest.iter().position(|block| level(block) <= own).unwrap_or(rest.len())]
}

pub(super) fn tables(blocks: &[Block]) -> impl Iterator<Item = &Table> {
    blocks
        .iter()
        .filter_map(|block| if let BlockKind::Table(table) = &block.kind { Some(table) } else { None })
}

pub(super) fn cells(table: &Table) -> Vec<Vec<String>> {
    table.rows.iter().map(|row| row.iter().map(|cell| plain(cell)).collect()).collect()
}

/// Number and name of every clause that the section prints: `1.5 B`, `submit-coating-data`.
pub(super) fn numbered(section: &Document) -> Vec<(String, String)> {
    let mut article = String::new();
    let mut found = Vec::new();
    for block in &section.blocks {
        match &block.kind {
            BlockKind::Heading { number, .. } => article = number.clone().unwrap_or_default(),
            BlockKind::Item { depth: 1, label, .. } => {
                if let Some(name) = block.id.strip_suffix(".1") {
                    found.push((format!("{article} {}", label.trim_end_matches('.')), name.to_owned()));
                }
            }
            _ => {}
        }
    }
    found
}

/// The contents of a paper, if it has any: every stretch of their words, with the part that it is of.
pub(crate) fn contents(laid: &Laid) -> Vec<(String, String)> {
    let own = laid.placed().into_iter().filter(|mark| mark.block.as_deref() == Some("/contents"));
    let words = own.filter_map(|mark| match mark.what {
        What::Words { text, .. } => Some((mark.part, text)),
        _ => None,
    });
    words.collect()
}

/// The contents of a long paper name every part and article, and the page on which each stands.
#[test]
fn contents_name_the_page_of_each_heading() {
    let mut with = 0;
    for (job, papers) in SETS.iter() {
        for paper in papers {
            let laid = perpend::render::layout(paper).unwrap();
            let listed: Vec<usize> = contents(&laid)
                .iter()
                .filter(|(part, _)| part.starts_with("cell ") && part.ends_with(".1"))
                .map(|(_, number)| number.trim().parse().unwrap())
                .collect();
            let mut stand: Vec<(String, usize)> = Vec::new();
            for mark in laid.placed() {
                let Some(id) = mark.block.filter(|_| ["heading 1", "heading 2"].contains(&&*mark.part))
                else {
                    continue;
                };
                if !stand.iter().any(|(known, _)| *known == id) {
                    stand.push((id, mark.page + 1));
                }
            }
            let is_long = laid.pages() > 7 && paper.furniture.contents.is_some();
            assert!(!is_long || !listed.is_empty(), "{job}: {}", paper.name);
            if !listed.is_empty() {
                with += 1;
                let pages: Vec<usize> = stand.iter().map(|(_, page)| *page).collect();
                assert_eq!(listed, pages, "{job}: {}", paper.name);
            }
        }
    }
    assert!(with >= 20, "{with}");
}
