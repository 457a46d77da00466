//! What nobody wrote by design: endless words, other writings, hundreds of zones, nothing at all, thousands of pages. Each
//! is set whole and in its place, or told with the sign and the block.

use perpend::document::block::{BlockKind, Breaks, Document, Inline, Reach, Strong, Table, TextSize, Voice};
use perpend::drawing::Mm;
use perpend::render::{layout, pdf};

use crate::layout::{overlapping, sticking_out};
use crate::render::with_blocks;

fn text(words: &str) -> Vec<Inline> {
    vec![Inline::Text(words.to_owned())]
}

fn table(rows: Vec<Vec<Vec<Inline>>>) -> BlockKind {
    let columns = rows[0].len();
    BlockKind::Table(Table {
        caption: text("Zones"),
        align: Vec::new(),
        head: vec![text("Zone"); columns],
        rows,
        row: Mm::default(),
        size: TextSize::Usual,
        strong: Strong::Level,
        reach: Reach::Column,
        breaks: Breaks::Rows,
    })
}

/// In each voice: nothing over an edge, nothing over anything else, and a file is made of it.
fn sound(mut document: Document) {
    for voice in [Voice::Contract, Voice::Plain, Voice::Sheet, Voice::Site] {
        document.style.voice = voice;
        let laid = layout(&document).unwrap();
        assert_eq!(sticking_out(&laid), [], "{voice:?}");
        assert_eq!(overlapping(&laid), [], "{voice:?}");
        assert!(pdf(&document).unwrap().starts_with(b"%PDF-1.7"), "{voice:?}");
    }
}

#[test]
fn endless_words_are_set() {
    let cell = "word ".repeat(400);
    let token = "unbreakable".repeat(19);
    assert!(token.len() > 200);
    let mut document = with_blocks(vec![
        table(vec![vec![text(&cell), text("short")], vec![text(&token), text(&cell)]]),
        BlockKind::Paragraph(text(&token)),
        BlockKind::Caution { word: "WARNING".to_owned(), text: vec![text(&token), text(&cell)] },
    ]);
    document.title = "Title of a wall that never ends ".repeat(10);
    assert!(document.title.len() > 300);
    document.furniture.head_left = document.title.clone();
    sound(document);
}

/// Signs that join, and words of two faces, are torn by what they take together.
#[test]
fn endless_words_that_join_or_change_face_are_set() {
    for piece in ["ffff", "λrt", "ffi", "AVAV", "fλ"] {
        let token = piece.repeat(300 / piece.len());
        let mut document = with_blocks(vec![
            table(vec![vec![text(&token), text("short")]]),
            BlockKind::Paragraph(text(&token)),
            BlockKind::Caution { word: "WARNING".to_owned(), text: vec![text(&token)] },
        ]);
        document.title.clone_from(&token);
        document.subtitle.clone_from(&token);
        document.furniture.foot_left = token;
        sound(document);
    }
}

#[test]
fn other_alphabets_that_the_faces_hold_are_set() {
    let words = ["Наружная стена, известковая штукатурка", "Τοίχος από πέτρα, 0,5 m"];
    sound(with_blocks(words.iter().map(|words| BlockKind::Paragraph(text(words))).collect()));
}

#[test]
fn signs_that_no_face_holds_are_named_with_their_block() {
    for words in ["never coat 🧱", "קיר אבן ישן", "جدار حجري قديم"] {
        let told = layout(&with_blocks(vec![BlockKind::Paragraph(text(words))])).unwrap_err();
        let sign = words.chars().find(|sign| !sign.is_ascii()).unwrap();
        assert!(told.iter().any(|one| one.message.contains(sign) && one.message.contains("b1")), "{told:?}");
    }
}

#[test]
fn an_empty_document_is_one_page() {
    let document = with_blocks(Vec::new());
    assert_eq!(layout(&document).unwrap().pages(), 1);
    sound(document);
}

#[test]
fn five_hundred_zones_are_set() {
    let codes: Vec<String> = (1..=500).map(|zone| format!("Q{zone}")).collect();
    let rows = codes.iter().map(|code| vec![text(code), text("common brick"), text("lime")]).collect();
    let list = format!("Coating (zones {}). Leave the masonry bare.", codes.join(", "));
    let item = BlockKind::Item { depth: 1, label: "A.".to_owned(), text: text(&list) };
    sound(with_blocks(vec![item, table(rows)]));
}

#[test]
fn three_hundred_pages_are_as_sound_as_three() {
    let words =
        "Rake each open joint to its depth, square at the back, and leave the units unmarked. ".repeat(8);
    let blocks = (0..2600).map(|_| BlockKind::Paragraph(text(&words)));
    let document = with_blocks(blocks.collect());
    let laid = layout(&document).unwrap();
    assert!(laid.pages() >= 300, "{}", laid.pages());
    assert_eq!(sticking_out(&laid), []);
    let file = lopdf::Document::load_mem(&pdf(&document).unwrap()).unwrap();
    assert_eq!(file.get_pages().len(), laid.pages());
}
