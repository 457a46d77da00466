//! An office's own styles in the place of ours: names and looks are theirs, numbers and outline stay.

use std::path::Path;
use std::process::{Command, Output};

use perpend::document::Document;
use perpend::render::{Left, OfficeStyles, Pages};

use super::DEMOS;
use super::checks::{as_opened, faults};
use super::kept::packed;
use super::read::{Element, Parts, elements, parts};
use crate::revised::SECOND;

/// Styles as an office has them: faces from a theme, one style on another, a name of its own for paragraphs.
const STYLES: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<w:styles xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">
<w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:asciiTheme="minorHAnsi" w:hAnsiTheme="minorHAnsi"/><w:sz w:val="21"/><w:lang w:val="de-DE"/></w:rPr></w:rPrDefault></w:docDefaults>
<w:style w:type="paragraph" w:default="1" w:styleId="Standard"><w:name w:val="Normal"/></w:style>
<w:style w:type="paragraph" w:styleId="Kopf"><w:name w:val="Office head"/><w:basedOn w:val="Standard"/><w:pPr><w:spacing w:before="120"/><w:ind w:left="700"/></w:pPr><w:rPr><w:rFonts w:asciiTheme="majorHAnsi" w:hAnsiTheme="majorHAnsi"/><w:color w:val="2E74B5" w:themeColor="accent1" w:themeShade="BF"/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="berschrift2"><w:name w:val="heading 2"/><w:basedOn w:val="Kopf"/><w:pPr><w:jc w:val="center"/><w:outlineLvl w:val="5"/></w:pPr><w:rPr><w:b/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="SpecTextA"><w:name w:val="Spec text A"/><w:basedOn w:val="Standard"/><w:pPr><w:ind w:left="300"/><w:spacing w:after="60"/></w:pPr></w:style>
</w:styles>"#;

const THEME: &str = r#"<?xml version="1.0"?><a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><a:themeElements><a:fontScheme><a:majorFont><a:latin typeface="Office Serif"/></a:majorFont><a:minorFont><a:latin typeface="Office Sans"/></a:minorFont></a:fontScheme></a:themeElements></a:theme>"#;

fn section() -> &'static Document {
    &DEMOS.iter().find(|(name, ..)| name == "tithe-wall, section").unwrap().1
}

/// A file of an office.
fn office() -> Vec<u8> {
    let mut parts: Parts = parts(&Pages::of(section()).docx(None, None).unwrap().bytes);
    parts.insert("word/styles.xml".to_owned(), STYLES.as_bytes().to_vec());
    parts.insert("word/theme/theme1.xml".to_owned(), THEME.as_bytes().to_vec());
    packed(&parts)
}

fn pair(ours: &str, theirs: &str) -> (String, String) {
    (ours.to_owned(), theirs.to_owned())
}

fn style(parts: &Parts, id: &str) -> Element {
    let styles = elements(&parts["word/styles.xml"]).unwrap();
    let found = styles.all("w:style").into_iter().find(|style| style.attribute("w:styleId") == id);
    found.unwrap().clone()
}

#[test]
fn looks_and_names_are_the_offices_and_numbers_stay() {
    let styles = OfficeStyles::read(&office(), &[pair("Clause level 1", "Spec text A")]).unwrap();
    assert_eq!(styles.names().collect::<Vec<_>>(), ["heading 2", "Spec text A"]);
    let plain = parts(&Pages::of(section()).docx(None, None).unwrap().bytes);
    let word = Pages::of(section()).docx(Some(&styles), None).unwrap();
    let styled = parts(&word.bytes);
    assert_eq!(faults(&styled, section()), Vec::<String>::new());
    assert_eq!(as_opened(&styled), as_opened(&plain));

    let article = style(&styled, "Heading2");
    let (stands, looks) = (article.child("w:pPr").unwrap(), article.child("w:rPr").unwrap());
    assert_eq!(looks.child("w:rFonts").unwrap().attribute("w:ascii"), "Office Serif");
    assert_eq!(looks.value("w:color"), "2E74B5");
    assert_eq!(looks.child("w:color").unwrap().attribute("w:themeColor"), "");
    assert_eq!((looks.value("w:sz"), looks.child("w:lang").is_none()), ("21", true));
    assert_eq!((stands.value("w:jc"), stands.value("w:outlineLvl")), ("center", "1"));
    assert_eq!(stands.child("w:spacing").unwrap().attribute("w:before"), "120");
    assert!(stands.child("w:keepNext").is_some() && stands.child("w:numPr").is_some());
    let clause = style(&styled, "ClauseLevel1");
    assert_eq!(clause.value("w:name"), "Spec text A");
    let stands = clause.child("w:pPr").unwrap();
    assert!(stands.child("w:numPr").is_some() && stands.child("w:ind").is_none());
    let looks = clause.child("w:rPr").unwrap();
    assert_eq!(looks.child("w:rFonts").unwrap().attribute("w:ascii"), "Office Sans");
    assert_eq!(style(&styled, "ClauseLevel2").value("w:name"), "Clause level 2");

    // What was written so is known again, whatever its styles are called.
    let left = Left::read(&word.bytes).unwrap();
    let again = Pages::of(section()).docx(Some(&styles), Some(&left)).unwrap();
    assert_eq!((again.office, again.bytes), (Vec::new(), word.bytes));
}

#[test]
fn what_cannot_be_taken_is_told_all_at_once() {
    let told = |bytes: &[u8], pairs: &[(String, String)]| OfficeStyles::read(bytes, pairs).unwrap_err();
    assert_eq!(told(b"not a document", &[]).len(), 1);
    let pairs = [
        pair("Clause levl 1", "Spec text A"),
        pair("Clause level 1", "Spec text B"),
        pair("Clause level 2", "Spec text A"),
        pair("Clause level 3", "spec text a"),
        pair("Ahead of table", "Spec text A"),
    ];
    let told_all = told(&office(), &pairs).join("\n");
    for words in [
        "`Clause levl 1` is no style of ours; did you mean `Clause level 1`?",
        "`Spec text B` is no style of the file; did you mean `Spec text A`?",
        "`Spec text A` would stand for two styles of ours",
        "`Ahead of table` is no style of ours",
    ] {
        assert!(told_all.contains(words), "{words}: {told_all}");
    }
    let mut strange = parts(&office());
    let text = STYLES.replace("heading 2", "Heading of ours");
    strange.insert("word/styles.xml".to_owned(), text.into_bytes());
    assert!(told(&packed(&strange), &[]).join("").contains("none of its styles"));
}

fn write(out: &Path, more: &[&str]) -> Output {
    let args = ["write", "examples/tithe-wall/survey.yaml", "--only", "section", "--format", "docx", "--out"];
    let mut command = Command::new(env!("CARGO_BIN_EXE_perpend"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(args).arg(out).args(more).output().unwrap()
}

#[test]
fn the_record_says_whose_styles_they_are_and_a_file_that_is_none_keeps_the_set_from_being_written() {
    let out = tempfile::tempdir().unwrap();
    let (file, none) = (out.path().join("office.docx"), out.path().join("letter.docx"));
    std::fs::write(&file, office()).unwrap();
    std::fs::write(&none, "not a document").unwrap();
    let set = out.path().join("set");
    let styles = ["--styles", none.to_str().unwrap(), "--style", "Clause level 1"];
    let refused = write(&set, &styles);
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert_eq!((refused.status.code(), set.exists()), (Some(2), false), "{told}");
    assert!(told.contains("CI024") && told.contains("CI025"), "{told}");

    let named = ["--styles", file.to_str().unwrap(), "--style", "Clause level 1=Spec text A"];
    let done = write(&set, &named);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let folder = set.join("TW-02");
    let record: serde_json::Value =
        serde_json::from_slice(&std::fs::read(folder.join("record.json")).unwrap()).unwrap();
    assert_eq!(record["office-styles"]["file"], "office.docx");
    assert_eq!(record["office-styles"]["styles"], serde_json::json!(["heading 2", "Spec text A"]));
    let written = parts(&std::fs::read(folder.join("section.docx")).unwrap());
    assert_eq!(style(&written, "ClauseLevel1").value("w:name"), "Spec text A");
}

#[test]
fn the_page_of_styles_lists_every_style_that_can_be_taken() {
    let page = include_str!("../../../docs/word-styles.md");
    let listed: Vec<&str> =
        page.lines().filter_map(|line| line.strip_prefix("| ")?.split(" | ").next()).skip(2).collect();
    // a paper in which something is new has those of the others, and a few more
    let file = Pages::of(&SECOND).docx(None, None).unwrap().bytes;
    let styles = elements(&parts(&file)["word/styles.xml"]).unwrap();
    let first = String::from_utf8_lossy(&DEMOS[0].2["word/styles.xml"]).into_owned();
    assert!(!first.contains("revised"), "a first issue has no styles for what is new");
    let ours = styles.all("w:style").into_iter().filter(|style| {
        style.attribute("w:type") == "paragraph"
            && !["Normal", "Ahead of table", "Behind table", "Column break line", "New page line"]
                .contains(&style.value("w:name"))
    });
    assert_eq!(listed, ours.map(|style| style.value("w:name")).collect::<Vec<_>>());
}
