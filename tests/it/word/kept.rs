//! What an office changes in a file for word processors is kept when the paper is written again.

use std::io::{Cursor, Write};
use std::path::Path;
use std::process::{Command, Output};

use perpend::document::Document;
use perpend::render::{Left, Pages, Word};

use super::DEMOS;
use super::checks::faults;
use super::read::{Parts, elements, parts};

/// The parts as a file, as another program may write them.
pub(super) fn packed(parts: &Parts) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        zip.start_file(name.as_str(), zip::write::SimpleFileOptions::default()).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// A file with words of its text changed.
fn changed(file: &[u8], from: &str, to: &str) -> Vec<u8> {
    let mut parts = parts(file);
    let text = String::from_utf8(parts["word/document.xml"].clone()).unwrap();
    assert!(text.contains(from), "the file no longer holds {from}");
    parts.insert("word/document.xml".to_owned(), text.replacen(from, to, 1).into_bytes());
    packed(&parts)
}

fn section() -> &'static Document {
    &DEMOS.iter().find(|(name, ..)| name == "watch-house, section").unwrap().1
}

fn fresh(document: &Document) -> Vec<u8> {
    Pages::of(document).docx(None, None).unwrap().bytes
}

fn again(document: &Document, file: &[u8]) -> Word {
    Pages::of(document).docx(None, Some(&Left::read(file).unwrap())).unwrap()
}

fn text(file: &[u8]) -> String {
    let body = elements(&parts(file)["word/document.xml"]).unwrap();
    body.all("w:p").iter().map(|paragraph| paragraph.shown() + "\n").collect()
}

#[test]
fn a_file_that_nobody_changed_is_written_again_as_it_was() {
    for (name, paper, parts) in DEMOS.iter().filter(|(name, ..)| name.starts_with("watch-house")) {
        let word = again(paper, &packed(parts));
        assert_eq!(word.office, [], "{name}");
        assert_eq!(word.bytes, fresh(paper), "{name}");
    }
}

#[test]
fn changed_words_are_kept_with_the_proposed_ones_beside_them_as_often_as_it_is_written() {
    let file = changed(&fresh(section()), "Leave the masonry bare", "Leave all of this masonry bare");
    let word = again(section(), &file);
    let [own] = word.office.as_slice() else { panic!("{:?}", word.office) };
    assert_eq!(own.clause, "leave-bare.1");
    assert!(own.kept.contains("Leave all of this masonry bare"), "{own:?}");
    assert!(own.proposed.contains("Leave the masonry bare"), "{own:?}");
    let text = text(&word.bytes);
    let (kept, proposed) =
        (text.find("all of this masonry").unwrap(), text.find("Leave the masonry bare").unwrap());
    assert!(kept < proposed);
    let found = faults(&parts(&word.bytes), section());
    assert!(found.iter().all(|fault| fault.starts_with("words")), "{found:#?}");
    let third = again(section(), &word.bytes);
    assert_eq!(third.office, word.office);
    assert_eq!(third.bytes, word.bytes);
}

#[test]
fn words_that_another_program_saved_are_known_again() {
    // some programs drop the tags of controls and give them other numbers
    let tagged = changed(&fresh(section()), "Leave the masonry bare", "Leave all of this masonry bare");
    let mut parts = parts(&tagged);
    let document = String::from_utf8(parts["word/document.xml"].clone()).unwrap();
    let mut pieces = document.split("<w:tag ");
    let mut bare = pieces.next().unwrap().to_owned();
    for piece in pieces {
        bare.push_str(piece.split_once("/>").unwrap().1);
    }
    parts.insert("word/document.xml".to_owned(), bare.into_bytes());
    assert_eq!(again(section(), &packed(&parts)).office.len(), 1);
}

#[test]
fn a_change_that_is_also_proposed_now_is_no_longer_the_offices() {
    let mut other = section().clone();
    for block in &mut other.blocks {
        if let perpend::document::block::BlockKind::Item { text, .. } = &mut block.kind
            && block.id == "leave-bare.1"
        {
            text.push(perpend::document::block::Inline::Text(" Once more.".to_owned()));
        }
    }
    let word = again(section(), &fresh(&other));
    assert_eq!(word.office, [], "words that nobody touched give way to those of now");
    let kept = changed(&fresh(section()), "sealer or consolidant.", "sealer or consolidant. Once more.");
    assert_eq!(again(&other, &kept).office, []);
}

#[test]
fn what_was_added_or_whose_clause_is_gone_is_kept() {
    let paragraph =
        "<w:p><w:pPr><w:pStyle w:val=\"BodyText\"/></w:pPr><w:r><w:t>Added by the office.</w:t></w:r></w:p>";
    let marker = "<w:sdt><w:sdtPr><w:alias w:val=\"leave-bare.1\"/>";
    let file = changed(&fresh(section()), marker, &format!("{paragraph}{marker}"));
    let word = again(section(), &file);
    assert_eq!(word.office.len(), 1);
    assert!(text(&word.bytes).contains("Added by the office."));
    assert_eq!(again(section(), &word.bytes).bytes, word.bytes);

    let file = changed(&fresh(section()), "Leave the masonry bare", "Leave all of this masonry bare");
    let mut without = section().clone();
    without.blocks.retain(|block| block.id != "leave-bare.1");
    let word = again(&without, &file);
    assert_eq!(word.office.len(), 1);
    assert_eq!(word.office[0].proposed, "");
    assert!(text(&word.bytes).contains("Leave all of this masonry bare"));
    assert_eq!(again(&without, &word.bytes).bytes, word.bytes);
}

#[test]
fn a_file_that_is_none_is_refused() {
    for bytes in [&b"not a document"[..], b"", b"PK\x03\x04"] {
        assert!(Left::read(bytes).is_err());
    }
    let empty = Parts::from([("word/other.xml".to_owned(), b"<a/>".to_vec())]);
    assert!(Left::read(&packed(&empty)).is_err());
    let deep = format!("{}{}", "<a>".repeat(5000), "</a>".repeat(5000));
    let deep = Parts::from([("word/document.xml".to_owned(), deep.into_bytes())]);
    assert!(Left::read(&packed(&deep)).is_err());
}

fn write(out: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["write", "examples/watch-house/survey.yaml", "--only", "section,register", "--out"])
        .arg(out)
        .output()
        .unwrap()
}

#[test]
fn a_set_written_again_keeps_the_offices_words_lists_them_and_keeps_its_file() {
    let out = tempfile::tempdir().unwrap();
    assert!(write(out.path()).status.success());
    let folder = out.path().join("MW-07");
    let path = folder.join("section.docx");
    let office =
        changed(&std::fs::read(&path).unwrap(), "Leave the masonry bare", "Leave all of this masonry bare");
    std::fs::write(&path, &office).unwrap();
    let second = write(out.path());
    assert!(second.status.success(), "{}", String::from_utf8_lossy(&second.stderr));
    let said = String::from_utf8_lossy(&second.stdout).into_owned();
    assert!(said.contains("the office's text is kept: leave-bare.1 of section"), "{said}");
    let record: serde_json::Value =
        serde_json::from_slice(&std::fs::read(folder.join("record.json")).unwrap()).unwrap();
    assert_eq!(record["office-text"][0]["clause"], "leave-bare.1");
    let register = std::fs::read_to_string(folder.join("register.md")).unwrap();
    assert!(register.contains("Leave all of this masonry bare"), "{register}");
    let copies = || {
        let files = std::fs::read_dir(folder.join("office")).unwrap();
        files.map(|file| std::fs::read(file.unwrap().path()).unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(copies(), std::slice::from_ref(&office));
    let kept = std::fs::read(&path).unwrap();
    assert!(write(out.path()).status.success());
    assert_eq!(std::fs::read(&path).unwrap(), kept, "a third time changes nothing");
    assert_eq!(copies(), [office]);

    std::fs::write(&path, "not a document").unwrap();
    let refused = write(out.path());
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("CI023"));
    assert_eq!(std::fs::read(&path).unwrap(), b"not a document");
}
