//! Papers for word processors, read back from their parts.

pub(crate) mod checks;
mod kept;
mod office_styles;
mod read;

use std::sync::LazyLock;

use perpend::document::Document;
use perpend::document::block::{BlockKind, Breaks, Inline, Reach, Strong, Table, TextSize, Voice};
use perpend::drawing::Mm;
use perpend::render::{Left, Pages};
use proptest::prelude::*;

use rayon::prelude::*;

use crate::document::sets::SETS;
use crate::render::{any_kind, with_blocks};
use checks::faults;
pub(crate) use read::parts;
use read::{Parts, elements};

/// The papers of every job, each with its file.
pub(crate) static DEMOS: LazyLock<Vec<(String, Document, Parts)>> = LazyLock::new(|| {
    let all: Vec<(&String, &Document)> =
        SETS.iter().flat_map(|(job, papers)| papers.iter().map(move |paper| (job, paper))).collect();
    let file = |(job, paper): (&String, &Document)| {
        let file = Pages::of(paper).docx(None, None).unwrap().bytes;
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
const SLIPS: [(&str, &str, &str, &str); 20] = [
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
    (
        "keeping",
        "word/document.xml",
        "<w:pStyle w:val=\"ClauseLevel2\"/><w:keepNext/>",
        "<w:pStyle w:val=\"ClauseLevel2\"/>",
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

/// What nobody thought of: other writings, emoji, words from right to left, endless titles, cells and words.
#[test]
fn awkward_words_make_sound_files_and_none_is_lost() {
    let words = [
        "Наружная стена, известковая штукатурка".to_owned(),
        "Τοίχος από πέτρα, 0,5 m".to_owned(),
        "🧱 ⛔ 👷🏽 never coat".to_owned(),
        "קיר אבן ישן، جدار حجري قديم".to_owned(),
        "word ".repeat(400),
        "unbreakable".repeat(19),
        "a < b & c > d \"quoted\" 'so' ]]>".to_owned(),
        "bell\u{7}, form feed\u{c}, none\u{0}, last\u{fffe}\u{ffff}.".to_owned(),
    ];
    let kinds = words.iter().flat_map(|words| {
        let text = vec![Inline::Strong(vec![Inline::Text(words.clone())])];
        let row = vec![text.clone(), Vec::new()];
        let table = Table {
            caption: text.clone(),
            align: Vec::new(),
            head: row.clone(),
            rows: vec![row],
            row: Mm::default(),
            size: TextSize::Usual,
            strong: Strong::Level,
            reach: Reach::Column,
            breaks: Breaks::Rows,
        };
        [BlockKind::Paragraph(text), BlockKind::Table(table)]
    });
    let mut document = with_blocks(kinds.collect());
    document.title = "Title of a wall that never ends ".repeat(10);
    let word = Pages::of(&document).docx(None, None).unwrap();
    let parts = parts(&word.bytes);
    for (name, bytes) in &parts {
        elements(bytes).unwrap_or_else(|reason| panic!("{name} {reason}"));
    }
    let shown = elements(&parts["word/document.xml"]).unwrap().shown();
    for words in &words {
        let held: String = words
            .chars()
            .filter(|sign| !sign.is_control() && !matches!(sign, '\u{fffe}' | '\u{ffff}'))
            .collect();
        assert_eq!(shown.matches(&held).count(), 4, "{held}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_document_makes_a_sound_file_that_is_known_again(
        kinds in prop::collection::vec(any_kind(), 1..12),
        title in "\\PC{0,300}",
        voice in prop_oneof![Just(Voice::Contract), Just(Voice::Plain), Just(Voice::Sheet), Just(Voice::Site)],
    ) {
        let mut document = with_blocks(kinds);
        document.style.voice = voice;
        document.title = title;
        let file = Pages::of(&document).docx(None, None).unwrap().bytes;
        for (name, bytes) in &parts(&file) {
            if !name.starts_with("word/media/") {
                let read = elements(bytes);
                prop_assert!(read.is_ok(), "{name}: {read:?}");
            }
        }
        let again = Pages::of(&document).docx(None, Some(&Left::read(&file).unwrap())).unwrap();
        prop_assert_eq!(again.office, []);
        prop_assert!(again.bytes == file);
    }
}
