//! Documents on pages and in files.

#[cfg(feature = "outside-checks")]
#[path = "render/outside.rs"]
mod outside;
#[path = "render/read.rs"]
pub(crate) mod read;

use std::path::Path;

use perpend::diagnostic::Diagnostic;
use perpend::document::block::{
    Blank, Block, BlockKind, Breaks, Document, Inline, Paper, ProofLine, Reach, Ruled, Strong, Table,
    TextSize, Tick, Voice,
};
use perpend::drawing::Mm;
use perpend::render::{layout, pdf};
use proptest::prelude::*;
use rayon::prelude::*;

use crate::layout::{overlapping, sticking_out};

fn read_file(path: &Path) -> Document {
    read::document(&String::from_utf8(std::fs::read(path).unwrap()).unwrap())
}

fn sample(name: &str) -> Document {
    read_file(Path::new(&format!("tests/cases/render/{name}.json")))
}

pub(crate) fn with_blocks(kinds: Vec<BlockKind>) -> Document {
    let blocks = (1..).zip(kinds).map(|(number, kind)| Block { id: format!("b{number}"), kind });
    Document { blocks: blocks.collect(), ..sample("empty") }
}

fn lines(diagnostics: &[Diagnostic]) -> String {
    let line = |one: &Diagnostic| {
        format!("{}: {}\n  {}\n", one.code, one.message, one.help.as_deref().unwrap_or_default())
    };
    diagnostics.iter().map(line).collect()
}

#[test]
fn pages_look_as_they_did() {
    insta::with_settings!({ snapshot_path => "../cases/render", prepend_module_to_snapshot => false }, {
        insta::glob!("../cases/render", "*.json", |path| {
            insta::assert_snapshot!("pages", layout(&read_file(path)).unwrap().dump());
        });
    });
}

#[test]
fn every_input_has_a_snapshot_and_every_snapshot_an_input() {
    let files = |end: &str| {
        let entries = std::fs::read_dir("tests/cases/render").unwrap();
        let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
        let mut names: Vec<String> =
            names.filter_map(|name| name.strip_suffix(end).map(str::to_owned)).collect();
        names.sort();
        names
    };
    let inputs: Vec<String> = files(".json").iter().map(|name| format!("pages@{name}")).collect();
    assert_eq!(inputs, files(".json.snap"));
}

#[test]
fn nothing_sticks_out_of_the_margins() {
    for name in ["awkward", "empty", "long-table", "plain", "rail", "section", "tables"] {
        let laid = layout(&sample(name)).unwrap();
        assert_eq!(sticking_out(&laid), [], "{name}");
        assert_eq!(overlapping(&laid), [], "{name}");
    }
}

/// The rail is read behind the clause that it proves and what lies under it, and before the next.
#[test]
fn a_proof_stands_beside_its_clause_and_is_read_behind_it() {
    let laid = layout(&sample("rail")).unwrap();
    let words = laid.words();
    let at = |what: &str| words.find(what).unwrap_or_else(|| panic!("{what} in {words}"));
    assert!(at("a second point") < at("needle gauge") && at("needle gauge") < at("The next clause"));
    let lines: Vec<(f64, String)> = laid
        .dump()
        .lines()
        .filter_map(|line| Some((line.split_whitespace().nth(1)?.parse().ok()?, line.to_owned())))
        .collect();
    let level = |what: &str| lines.iter().find(|(_, line)| line.contains(what)).unwrap().0;
    let first = level("Hold the wash pressure");
    assert!((level("needle gauge") - first).abs() < 0.01, "the rail starts on the line of its clause");
    assert!(level("The next clause") < level("stop the pump"), "the next clause stands under the rail");
    assert!(
        level("not more than 300 psi") > level("stop the pump"),
        "a narrow table goes on beside the rail"
    );
}

/// A table goes on beside a proof only where a rail is kept free.
#[test]
fn a_proof_without_a_rail_is_read_over_the_table_behind_it() {
    for voice in [Voice::Plain, Voice::Sheet, Voice::Site] {
        let mut document = sample("rail");
        document.style.voice = voice;
        document.blocks.retain(|block| ["wash.4", "wash.5"].contains(&block.id.as_str()));
        assert_eq!(document.blocks.len(), 2);
        let laid = layout(&document).unwrap();
        assert_eq!(overlapping(&laid), [], "{voice:?}");
        let words = laid.words();
        let at = |what: &str| words.find(what).unwrap_or_else(|| panic!("{what} in {words}"));
        assert!(at("needle gauge") < at("300 psi"), "{voice:?}: {words}");
    }
}

#[test]
fn a_table_over_three_pages_repeats_its_head() {
    let laid = layout(&sample("long-table")).unwrap();
    assert_eq!(laid.pages(), 3);
    let dump = laid.dump();
    for page in dump.split("\npage ").skip(1) {
        assert_eq!(page.matches("Moisture by mass").count(), 1);
    }
    assert_eq!(dump.matches("(continued)").count(), 2);
    assert_eq!(laid.words().matches("Moisture by mass").count(), 1, "a repeated head is not read twice");
}

#[test]
fn a_row_stays_whole() {
    let laid = layout(&sample("long-table")).unwrap();
    for row in 1..=89 {
        let cell = format!("cell {row}.");
        let mut pages: Vec<usize> =
            laid.marked().iter().filter(|mark| mark.part.starts_with(&cell)).map(|mark| mark.page).collect();
        pages.dedup();
        assert_eq!(pages.len(), 1, "row {row}");
    }
}

#[test]
fn every_mistake_is_reported_at_once() {
    let documents = [
        ("a sign in the title", r#"{"title": "House 😀", "head_left": "→ 漢字"}"#),
        (
            "a sign in a cell",
            r#"{"blocks": [{"head": ["What"], "rows": [["stop ⛔ here"]]}, {"text": "a 😀 b 😀"}]}"#,
        ),
        (
            "a lost link",
            r#"{"blocks": [{"id": "wash", "text": "See [there](#wahs), [here](#wash) and [far](#attic)."}]}"#,
        ),
        (
            "one id twice",
            r#"{"blocks": [{"id": "a", "text": "x"}, {"id": "a", "text": "y"}, {"id": "a", "text": "z"}]}"#,
        ),
        (
            "an uneven row",
            r#"{"blocks": [{"id": "t", "head": ["a", "b"], "rows": [["1", "2"], ["1"], ["1", "2", "3"]]}]}"#,
        ),
        ("a bad date", r#"{"date": "2027-02-30"}"#),
        ("a date with a time", r#"{"date": "2027-02-03T10"}"#),
        (
            "all of it",
            r#"{"title": "😀", "date": "soon", "blocks": [{"text": "[x](#y)"}, {"id": "b1", "text": "😀"}]}"#,
        ),
    ];
    let report = |(name, json): (&str, &str)| {
        let diagnostics = layout(&read::document(json)).unwrap_err();
        format!("== {name}\n{}\n", lines(&diagnostics))
    };
    let reports: String = documents.into_iter().map(report).collect();
    insta::with_settings!({ snapshot_path => "../cases/render", prepend_module_to_snapshot => false }, {
        insta::assert_snapshot!("mistakes", reports);
    });
}

#[test]
fn the_same_document_gives_the_same_bytes_on_every_thread() {
    let document = sample("section");
    let first = pdf(&document).unwrap();
    assert!((0..8).into_par_iter().all(|_| pdf(&document).unwrap() == first));
}

#[test]
fn a_changed_word_changes_the_name_of_the_file() {
    let name = |document: &Document| {
        let file = lopdf::Document::load_mem(&pdf(document).unwrap()).unwrap();
        file.trailer.get(b"ID").unwrap().clone()
    };
    let before = sample("section");
    let mut after = before.clone();
    after.subtitle.push('!');
    assert_ne!(name(&before), name(&after));
}

#[test]
fn every_painted_word_is_numbered_once_and_every_number_is_in_the_file() {
    let document = sample("section");
    let marked = layout(&document).unwrap().marked();
    let file = lopdf::Document::load_mem(&pdf(&document).unwrap()).unwrap();
    for (page, id) in (0..).zip(file.get_pages().into_values()) {
        let content = lopdf::content::Content::decode(&file.get_page_content(id)).unwrap();
        let (mut depth, mut numbers) = (0, Vec::new());
        for operation in &content.operations {
            match operation.operator.as_str() {
                "BMC" => depth += 1,
                "BDC" => {
                    depth += 1;
                    let properties = operation.operands.get(1).unwrap().as_dict().unwrap();
                    numbers.extend(properties.get(b"MCID").ok().map(|number| number.as_i64().unwrap()));
                }
                "EMC" => depth -= 1,
                "TJ" | "Tj" | "S" | "f" | "b" | "B" => assert!(depth > 0, "painted outside marked content"),
                _ => {}
            }
        }
        let expected: Vec<i64> =
            marked.iter().filter(|mark| mark.page == page).map(|mark| i64::from(mark.mcid)).collect();
        assert_eq!(numbers, expected);
        assert_eq!(expected, (0..i64::try_from(expected.len()).unwrap()).collect::<Vec<_>>());
    }
}

#[test]
fn a_figure_is_one_stretch_with_words_for_those_who_cannot_see_it() {
    let drawings: Vec<_> = crate::figures::samples().into_iter().map(|(_, drawing)| drawing).collect();
    let document = with_blocks(drawings.iter().cloned().map(BlockKind::Figure).collect());
    let laid = layout(&document).unwrap();
    assert_eq!(sticking_out(&laid), []);
    let parts =
        |block: &str| laid.marked().into_iter().filter(|mark| mark.block == block).collect::<Vec<_>>();
    let file = lopdf::Document::load_mem(&pdf(&document).unwrap()).unwrap();
    let pages: Vec<lopdf::ObjectId> = file.get_pages().into_values().collect();
    for (number, drawing) in (1..).zip(&drawings) {
        let parts = parts(&format!("b{number}"));
        let names: Vec<&str> = parts.iter().map(|mark| mark.part.as_str()).collect();
        let note = (!drawing.note.is_empty()).then_some("note");
        let wanted: Vec<&str> = ["caption", "figure"].into_iter().chain(note).collect();
        assert_eq!(names, wanted, "{}", drawing.id);
        assert!(parts.iter().all(|mark| mark.page == parts[0].page), "{} is parted", drawing.id);
        let alternative = file.objects.values().find_map(|object| {
            let says = object.as_dict().ok().filter(|says| says.has(b"Alt"))?;
            let on_page = says.get(b"Pg").ok()?.as_reference().ok()? == pages[parts[1].page];
            let of_stretch = says.get(b"K").ok()?.as_array().ok()?.contains(&i64::from(parts[1].mcid).into());
            (on_page && of_stretch).then(|| says.get(b"Alt").unwrap().as_str().unwrap().to_vec())
        });
        let units: Vec<u16> =
            alternative.unwrap()[2..].chunks(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
        assert_eq!(
            String::from_utf16(&units).unwrap().replace('\u{a0}', " "),
            drawing.alt.replace('\u{a0}', " ")
        );
    }
}

#[test]
fn figures_keep_inside_the_margins_of_every_paper() {
    for paper in [Paper::Letter, Paper::A4] {
        for voice in [Voice::Contract, Voice::Plain] {
            let drawings =
                crate::figures::samples().into_iter().map(|(_, drawing)| BlockKind::Figure(drawing));
            let mut document = with_blocks(drawings.collect());
            document.style.paper = paper;
            document.style.voice = voice;
            assert_eq!(sticking_out(&layout(&document).unwrap()), [], "{paper:?}, {voice:?}");
        }
    }
}

#[test]
fn the_words_of_a_figure_take_no_more_room_than_was_reckoned() {
    for (name, drawing) in crate::figures::samples() {
        let texts =
            drawing.texts().into_iter().map(|(text, frame)| (text.words.clone(), frame.right - frame.left));
        let reckoned: Vec<(String, f64)> = texts.collect();
        let laid = layout(&with_blocks(vec![BlockKind::Figure(drawing)])).unwrap();
        let real = laid.figure_words();
        assert_eq!(real.len(), reckoned.len(), "{name}");
        for ((words, width), (set, room)) in reckoned.iter().zip(&real) {
            assert_eq!(words, set.trim_end(), "{name}");
            assert!(*room <= width * 72.0 / 25.4 + 0.01, "{name}: `{words}` takes {room} pt");
        }
    }
}

#[test]
fn a_heading_is_never_the_last_thing_on_a_page() {
    for over in 20..60 {
        let mut kinds = vec![BlockKind::Paragraph(vec![Inline::Text("Over it.".to_owned())]); over];
        let head =
            |level| BlockKind::Heading { level, number: None, text: vec![Inline::Text("HEAD".to_owned())] };
        kinds.extend([head(1), head(2)]);
        kinds.extend(vec![BlockKind::Paragraph(vec![Inline::Text("Under it.".to_owned())]); 3]);
        let laid = layout(&with_blocks(kinds)).unwrap();
        let page = |block: usize| {
            laid.marked().iter().find(|mark| mark.block == format!("b{block}")).map(|mark| mark.page)
        };
        assert_eq!(page(over + 1), page(over + 4), "{over} paragraphs over it");
    }
}

#[test]
fn a_paragraph_leaves_two_lines_on_each_page() {
    let long = "The wall takes up water and gives it back through its face when the air is dry. ".repeat(6);
    for over in 20..50 {
        let mut kinds = vec![BlockKind::Paragraph(vec![Inline::Text("Over it.".to_owned())]); over];
        kinds.push(BlockKind::Paragraph(vec![Inline::Text(long.clone())]));
        let dump = layout(&with_blocks(kinds)).unwrap().dump();
        let name = format!(" b{} text", over + 1);
        let lines = dump.split("\npage ").skip(1).map(|page| page.matches(&name).count());
        assert!(lines.filter(|lines| *lines > 0).all(|lines| lines >= 2), "{over} paragraphs over it");
    }
}

/// Words of every writing the types hold, with signs that steer line breaking.
fn held_words() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        6 => "[a-zA-Z0-9.,;:()/–—-]{1,14}",
        2 => "[a-z]{30,120}",
        1 => "[α-ωΑ-Ωа-яА-Я]{1,12}",
        1 => "[≤≥°µ√½“”×²³₂\u{a0}\u{ad}\u{200b}\u{2060}\u{301}\u{308}]{1,5}",
        1 => "[ \n\t]{1,3}",
    ];
    prop::collection::vec(word, 0..40).prop_map(|words| words.join(" "))
}

/// Mostly words that can be set, now and then any signs at all.
fn any_words() -> impl Strategy<Value = String> {
    prop_oneof![40 => held_words(), 1 => "\\PC{0,20}"]
}

fn any_inline() -> impl Strategy<Value = Inline> {
    let leaf = prop_oneof![
        4 => any_words().prop_map(Inline::Text),
        1 => "[a-z.-]{1,40}".prop_map(Inline::Code),
        1 => Just(Inline::Break),
        1 => prop_oneof![Just(Tick::Open), Just(Tick::Set)].prop_map(Inline::Tick),
        1 => (1..60u8, prop_oneof![Just(Ruled::Yes), Just(Ruled::No)])
            .prop_map(|(width, line)| Inline::Blank(Blank { width: Mm::of(f64::from(width)), line })),
    ];
    leaf.prop_recursive(3, 12, 4, |inner| {
        let inner = prop::collection::vec(inner, 0..4);
        prop_oneof![
            inner.clone().prop_map(Inline::Strong),
            inner.clone().prop_map(Inline::Emphasis),
            inner.prop_map(|text| Inline::Link { target: "b1".to_owned(), text }),
        ]
    })
}

pub(crate) fn any_kind() -> impl Strategy<Value = BlockKind> {
    let text = || prop::collection::vec(any_inline(), 0..4);
    prop_oneof![
        4 => text().prop_map(BlockKind::Paragraph),
        1 => (0..5u8, prop::option::of("[A-Z0-9. ]{0,12}"), text())
            .prop_map(|(level, number, text)| BlockKind::Heading { level, number, text }),
        2 => (0..6u8, "[a-zA-Z0-9.)]{0,30}", text())
            .prop_map(|(depth, label, text)| BlockKind::Item { depth, label, text }),
        1 => prop::collection::vec(("[a-z ]{0,24}", text()), 0..9).prop_map(|lines| {
            BlockKind::Proof(lines.into_iter().map(|(key, text)| ProofLine { key, text }).collect())
        }),
        1 => (0..6u8, text()).prop_map(|(depth, text)| BlockKind::Bullet { depth, text }),
        1 => ("[A-Z]{0,12}", prop::collection::vec(text(), 0..3))
            .prop_map(|(word, text)| BlockKind::Caution { word, text }),
        1 => any_table(),
        1 => any_figure(),
        1 => Just(BlockKind::NewPage),
        1 => any_words().prop_map(BlockKind::End),
    ]
}

/// A figure of figures.rs as a block, with any words around it.
fn any_figure() -> impl Strategy<Value = BlockKind> {
    let drawings = crate::figures::samples().into_iter().map(|(_, drawing)| drawing).collect::<Vec<_>>();
    (prop::sample::select(drawings), any_words(), any_words(), prop::bool::ANY).prop_map(
        |(drawing, caption, note, is_wide)| {
            let width = if is_wide { perpend::drawing::Mm::of(170.0) } else { drawing.width };
            BlockKind::Figure(perpend::drawing::Drawing { caption, note, width, ..drawing })
        },
    )
}

fn large_or_not(columns: usize) -> Strong {
    if columns.is_multiple_of(2) { Strong::Large } else { Strong::Level }
}

fn any_table() -> impl Strategy<Value = BlockKind> {
    use perpend::document::block::Align;
    (1..7usize, 0..12usize).prop_flat_map(|(columns, rows)| {
        let cell = prop::collection::vec(any_inline(), 0..2).boxed();
        let row = prop::collection::vec(cell.clone(), columns);
        let align = prop::collection::vec(prop_oneof![Just(Align::Left), Just(Align::Right)], 0..8);
        (cell, align, row.clone(), prop::collection::vec(row, rows)).prop_map(
            move |(caption, align, head, rows)| {
                let row = Mm::of(if rows.len() % 2 == 0 { 8.0 } else { 0.0 });
                let size = if rows.len() % 3 == 0 { TextSize::Small } else { TextSize::Usual };
                let rows_are_wide = rows.len() % 5 == 0;
                BlockKind::Table(Table {
                    caption,
                    align,
                    head,
                    rows,
                    row,
                    size,
                    strong: large_or_not(columns),
                    reach: if rows_are_wide { Reach::Margins } else { Reach::Column },
                    breaks: if rows_are_wide { Breaks::Never } else { Breaks::Rows },
                })
            },
        )
    })
}

/// The signs that reach the page: no white space, nothing that only steers line breaking, no hyphens, since one
/// may be added at the end of a line.
fn drawn(text: &str) -> String {
    let unseen = |sign: char| matches!(u32::from(sign), 0xAD | 0x200B..=0x200F | 0x202A..=0x202E | 0x2060..=0x2064 | 0xFE00..=0xFE0F | 0xFEFF);
    text.chars().filter(|sign| !sign.is_whitespace() && !unseen(*sign) && *sign != '-').collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_document_is_set_or_its_missing_signs_are_named(
        kinds in prop::collection::vec(any_kind(), 1..12),
        paper in prop_oneof![Just(Paper::Letter), Just(Paper::A4)],
        voice in prop_oneof![Just(Voice::Contract), Just(Voice::Plain), Just(Voice::Sheet), Just(Voice::Site)],
    ) {
        let mut document = with_blocks(kinds);
        document.style.paper = paper;
        document.style.voice = voice;
        match layout(&document) {
            Ok(laid) => {
                prop_assert!(sticking_out(&laid).is_empty(), "{:?}\n{}", sticking_out(&laid), laid.dump());
                prop_assert!(overlapping(&laid).is_empty(), "{:?}\n{}", overlapping(&laid), laid.dump());
                prop_assert!(pdf(&document).is_ok());
            }
            Err(diagnostics) => prop_assert!(diagnostics.iter().all(|one| one.code == "RE001"), "{diagnostics:?}"),
        }
    }

    #[test]
    fn no_word_is_lost_or_moved(texts in prop::collection::vec("[a-zA-Zα-ω0-9.,;()/– \u{ad}\u{200b}-]{0,300}", 1..8)) {
        let kinds = texts.iter().map(|text| BlockKind::Paragraph(vec![Inline::Text(text.clone())]));
        let laid = layout(&with_blocks(kinds.collect())).unwrap();
        prop_assert_eq!(drawn(&laid.words()), drawn(&texts.concat()));
    }
}

#[test]
fn a_word_longer_than_the_page_does_not_push_a_short_column_out() {
    let cell = |text: &str| vec![Inline::Text(text.to_owned())];
    let table = Table {
        caption: cell("A table"),
        head: ["", "", "", "", "A A"].map(cell).to_vec(),
        align: Vec::new(),
        rows: vec![["", "", &"w".repeat(105), "", ""].map(cell).to_vec()],
        row: Mm::default(),
        size: TextSize::Usual,
        strong: Strong::Level,
        reach: Reach::Column,
        breaks: Breaks::Rows,
    };
    let laid = layout(&with_blocks(vec![BlockKind::Table(table)])).unwrap();
    assert!(sticking_out(&laid).is_empty(), "{:?}\n{}", sticking_out(&laid), laid.dump());
}

#[test]
fn a_label_too_long_to_hang_stands_over_its_text() {
    let text = vec![Inline::Text("words beside a label".to_owned())];
    let item = |depth, label: &str| BlockKind::Item { depth, label: label.to_owned(), text: text.clone() };
    let mut document = with_blocks(vec![
        item(5, "))h8mqSk)WBTIRe9Msn)o3q)n.)g.B"),
        item(1, &"W".repeat(120)),
        item(1, "A."),
    ]);
    for voice in [Voice::Plain, Voice::Contract] {
        document.style.voice = voice;
        let laid = layout(&document).unwrap();
        assert!(sticking_out(&laid).is_empty(), "{:?}\n{}", sticking_out(&laid), laid.dump());
    }
}

#[test]
fn a_new_page_starts_even_behind_what_asks_for_company_and_none_stays_empty() {
    let heading = |words: &str| BlockKind::Heading {
        level: 1,
        number: None,
        text: vec![Inline::Text(words.to_owned())],
    };
    let text = || BlockKind::Paragraph(vec![Inline::Text("words".to_owned())]);
    for voice in [Voice::Plain, Voice::Contract, Voice::Sheet, Voice::Site] {
        let pages = |kinds: Vec<BlockKind>| {
            let mut document = with_blocks(kinds);
            document.style.voice = voice;
            layout(&document).unwrap().pages()
        };
        assert_eq!(pages(vec![text(), BlockKind::NewPage, text()]), 2);
        assert_eq!(pages(vec![heading("A"), BlockKind::NewPage, heading("B"), text()]), 2);
        assert_eq!(
            pages(vec![text(), BlockKind::NewPage, BlockKind::NewPage, text(), BlockKind::NewPage]),
            2
        );
    }
}

#[test]
fn rows_of_a_form_leave_room_for_handwriting_and_its_lines_are_as_long_as_asked() {
    let dump = layout(&sample("form")).unwrap().dump();
    let rules: Vec<f64> = dump
        .lines()
        .filter(|line| line.contains("rule") && line.ends_with("x 0.5 Rule"))
        .filter_map(|line| line.split_whitespace().nth(1)?.parse().ok())
        .collect();
    let apart: Vec<f64> = rules.windows(2).map(|pair| pair[0] - pair[1]).collect();
    assert!(apart.iter().filter(|height| **height >= 22.6 && **height < 60.0).count() >= 2, "{apart:?}");
    assert!(dump.contains("rule 85.04 x 0.5 Ink"), "30 mm is 85.04 pt:\n{dump}");
}
