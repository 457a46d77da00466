//! Papers for word processors, read back from their parts.

mod checks;
mod read;

use std::sync::LazyLock;

use perpend::document::Document;
use perpend::render::Pages;

use rayon::prelude::*;

use crate::document::sets::SETS;
use checks::faults;
use read::{Parts, parts};

/// The papers of every job, each with its file.
static DEMOS: LazyLock<Vec<(String, Document, Parts)>> = LazyLock::new(|| {
    let all: Vec<(&String, &Document)> =
        SETS.iter().flat_map(|(job, papers)| papers.iter().map(move |paper| (job, paper))).collect();
    let file = |(job, paper): (&String, &Document)| {
        let file = Pages::of(paper).docx().unwrap();
        (format!("{job}, {}", paper.name), paper.clone(), parts(&file))
    };
    all.into_par_iter().map(file).collect()
});

fn demo(name: &str) -> &'static (String, Document, Parts) {
    DEMOS.iter().find(|(own, ..)| own == name).unwrap()
}

#[test]
fn every_paper_of_the_demos_is_sound() {
    assert!(DEMOS.len() >= 60);
    DEMOS.par_iter().for_each(|(name, paper, parts)| {
        assert_eq!(faults(parts, paper), Vec::<String>::new(), "{name}");
    });
}

/// A slip in one part, and the check that must find it.
const SLIPS: [(&str, &str, &str, &str); 19] = [
    ("numbers", "word/numbering.xml", "<w:pStyle w:val=\"ClauseLevel2\"/>", ""),
    ("numbers", "word/document.xml", "Extent of the work", "1. Extent of the work"),
    ("direct format", "word/document.xml", "<w:rPr>", "<w:rPr><w:b/>"),
    (
        "direct format",
        "word/document.xml",
        "<w:pStyle w:val=\"ClauseLevel1\"/>",
        "<w:pStyle w:val=\"ClauseLevel1\"/><w:jc w:val=\"left\"/>",
    ),
    ("direct format", "word/document.xml", "w:val=\"ClauseLevel1\"", "w:val=\"Clause\""),
    ("tables", "word/document.xml", "<w:cantSplit/><w:tblHeader/>", "<w:cantSplit/>"),
    ("tables", "word/document.xml", "<w:cantSplit/>", ""),
    ("headings", "word/styles.xml", "<w:outlineLvl w:val=\"1\"/>", ""),
    (
        "keeping",
        "word/styles.xml",
        "<w:next w:val=\"ClauseLevel1\"/><w:qFormat/><w:pPr><w:keepNext/>",
        "<w:next w:val=\"ClauseLevel1\"/><w:qFormat/><w:pPr>",
    ),
    (
        "keeping",
        "word/styles.xml",
        "<w:pPrDefault><w:pPr><w:widowControl w:val=\"1\"/></w:pPr></w:pPrDefault>",
        "",
    ),
    ("fields", "word/footer1.xml", " NUMPAGES ", " PAGES "),
    ("fields", "word/document.xml", " PAGEREF article_removal \\h ", " PAGEREF article_sequence \\h "),
    ("fields", "word/document.xml", " REF wash_pressure_1 \\n \\h ", " REF experience_1 \\n \\h "),
    ("language", "word/styles.xml", "<w:lang ", "<w:other "),
    ("language", "docProps/core.xml", "<dc:title>", "<dc:title>A "),
    ("language", "word/document.xml", " descr=\"", " descr=\"An image of "),
    ("package", "word/document.xml", "</w:body>", ""),
    ("package", "word/_rels/document.xml.rels", "rIdPicture1\"", "rIdPicture99\""),
    ("words", "word/document.xml", "Leave the masonry bare", "Leave the masonry"),
];

#[test]
fn each_check_finds_a_slip_of_its_kind() {
    let (_, paper, parts) = demo("watch-house, section");
    for (check, part, from, to) in SLIPS {
        let mut changed = parts.clone();
        let text = String::from_utf8(changed[part].clone()).unwrap();
        assert!(text.contains(from), "{part} no longer holds {from}");
        changed.insert(part.to_owned(), text.replacen(from, to, 1).into_bytes());
        let found = faults(&changed, paper);
        assert!(found.iter().any(|fault| fault.starts_with(check)), "{check}, {from}: {found:#?}");
    }
}
