//! The demos' PDFs, read back with programs from outside.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

fn run(program: &str, arguments: &[&str]) -> String {
    let output = Command::new(program).args(arguments).output();
    let output =
        output.unwrap_or_else(|error| panic!("`{program}` must be installed for these checks: {error}"));
    let said =
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert!(output.status.success(), "{program} {arguments:?}: {said}");
    said
}

/// Each PDF of each demo, with the Markdown of the same document beside it.
fn pdfs(out: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for job in ["watch-house", "tithe-wall", "ferrier-lane-hall"] {
        let survey = format!("{}/examples/{job}/survey.yaml", env!("CARGO_MANIFEST_DIR"));
        run(env!("CARGO_BIN_EXE_perpend"), &["write", &survey, "--out", &out.to_string_lossy()]);
    }
    for folder in std::fs::read_dir(out).unwrap() {
        for file in std::fs::read_dir(folder.unwrap().path()).unwrap() {
            let path = file.unwrap().path();
            if path.extension().is_some_and(|ending| ending == "pdf") {
                found.push(path);
            }
        }
    }
    found.sort();
    for demo in ["section", "owner-sheet", "reasons", "register"] {
        let named = found.iter().filter(|path| path.file_stem().is_some_and(|stem| stem == demo));
        assert_eq!(named.count(), 3, "one `{demo}` a demo");
    }
    assert!(found.iter().all(|path| path.with_extension("md").exists()), "{found:?}");
    found
}

#[test]
fn every_pdf_of_the_demos_is_sound() {
    let out = tempfile::tempdir().unwrap();
    let mut signs_seen = BTreeSet::new();
    for pdf in pdfs(out.path()) {
        let path = pdf.to_string_lossy();
        assert!(run("qpdf", &["--check", &path]).contains("No syntax or stream encoding errors"), "{path}");
        let fonts = run("pdffonts", &[&path]);
        let fonts: Vec<&str> = fonts.lines().skip(2).collect();
        assert!(!fonts.is_empty(), "{path}");
        for font in fonts {
            let words: Vec<&str> = font.split_whitespace().collect();
            assert!(font.get(..7).is_some_and(|tag| tag.ends_with('+')), "not a subset: {font}");
            assert!(
                words.iter().filter(|word| **word == "yes").count() == 3,
                "not embedded or not readable: {font}"
            );
        }
        let text = run("pdftotext", &["-layout", &path, "-"]);
        let markdown = std::fs::read_to_string(pdf.with_extension("md")).unwrap();
        for sign in ['≤', '≥', '°', 'µ', '√', '½', '–', '“', '”', '’', '²', '³', '·', '×', '\u{2212}']
        {
            if markdown.contains(sign) {
                signs_seen.insert(sign);
                assert!(text.contains(sign), "`{sign}` is lost in {path}");
            }
        }
        assert!(!text.contains('\u{fffd}'), "{path}");
        run("mutool", &["draw", "-q", "-o", "/dev/null", "-F", "text", &path]);
    }
    assert!(signs_seen.len() >= 5, "the demos hold only {signs_seen:?}");
}
