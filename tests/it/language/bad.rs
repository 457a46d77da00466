//! Bad books: each case is a folder whose files are added to the small book, or take the place of its files.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use perpend::diagnostic::{Diagnostic, Place, Source};
use perpend::rulebook;

use super::{beside_the_case, folder, text};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The small book with these files added.
pub(super) fn with(extra: &[Arc<Source>]) -> Vec<Arc<Source>> {
    let mut files: BTreeMap<String, Arc<Source>> = BTreeMap::new();
    for file in folder(&root().join("tests/cases/books/language")).iter().chain(extra) {
        files.insert(file.name.clone(), Arc::clone(file));
    }
    files.into_values().collect()
}

/// The first twelve digits of the small book's digest; cases write twelve zeros for them.
fn digest() -> &'static str {
    static DIGEST: OnceLock<String> = OnceLock::new();
    DIGEST.get_or_init(|| rulebook::read(&with(&[])).0.unwrap().digest.chars().take(12).collect())
}

const ZEROS: &str = "000000000000";

/// Reads a case: a firm's book over the small book, or files among those of the small book.
fn read(code: &str, files: &[Arc<Source>]) -> (Option<rulebook::book::Book>, Vec<Diagnostic>) {
    if !code.starts_with("LA") {
        return rulebook::read(&with(files));
    }
    let house: Vec<Arc<Source>> =
        files.iter().map(|file| Source::new(file.name.clone(), file.text.replace(ZEROS, digest()))).collect();
    rulebook::read_over(&with(&[]), &house)
}

/// The folders of cases, by name.
fn cases() -> Vec<PathBuf> {
    let entries = std::fs::read_dir(root().join("tests/cases/rulebook-bad")).unwrap();
    let mut cases: Vec<PathBuf> =
        entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()).collect();
    cases.sort();
    cases
}

fn name(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

/// The line of a place with the stretch underlined.
fn drawn(place: &Place) -> String {
    let (number, column) = place.line_and_column();
    let line = place.source.text.lines().nth(number - 1).unwrap_or_default();
    let width = place.text().lines().next().unwrap_or_default().chars().count().max(1);
    let cut = |text: &str| text.chars().take(120).collect::<String>();
    let under = format!("{}{}", " ".repeat(column - 1), "^".repeat(width));
    format!("  | {}\n  | {}\n", cut(line), cut(&under))
}

/// A diagnostic as text.
fn told(one: &Diagnostic) -> String {
    let severity = if one.is_error() { "error" } else { "remark" };
    let place = one.place.as_ref().map(ToString::to_string).unwrap_or_default();
    let mut out = format!("{severity} {} {place}: {}\n", one.code, one.message);
    if let Some(place) = &one.place {
        out += &drawn(place);
    }
    if let Some(help) = &one.help {
        writeln!(out, "  help: {help}").unwrap();
    }
    for (place, why) in &one.also {
        write!(out, "  also {place}: {why}\n{}", drawn(place)).unwrap();
    }
    out
}

#[test]
fn the_small_book_has_no_mistake() {
    let (book, found) = rulebook::read(&with(&[]));
    assert!(found.is_empty() && book.is_some(), "{found:#?}");
}

#[test]
fn every_bad_book_draws_its_code() {
    for case in cases() {
        let name = name(&case);
        let code = name.split('-').next().unwrap().to_uppercase();
        let (book, found) = read(&code, &folder(&case));
        assert!(found.iter().any(|one| one.code == code), "{name}: {found:#?}");
        assert_eq!(book.is_none(), found.iter().any(Diagnostic::is_error), "{name}");
        let drawn: Vec<String> = found.iter().map(told).collect();
        beside_the_case("rulebook-bad", || {
            insta::assert_snapshot!(name, drawn.join("\n").replace(digest(), ZEROS));
        });
    }
}

/// The codes that the language gives, as its mistakes declare them.
fn declared() -> Vec<String> {
    let mut open = vec![root().join("src/rulebook")];
    let mut codes = Vec::new();
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(std::fs::read_dir(path).unwrap().map(|entry| entry.unwrap().path()));
        } else {
            let text = text(&path);
            let found = text.split("code(").skip(1).filter_map(|rest| rest.split(')').next());
            codes.extend(found.filter(|code| code.len() == 5).map(str::to_owned));
        }
    }
    codes.sort();
    codes
}

#[test]
fn every_code_has_a_page_and_a_bad_book() {
    let codes = declared();
    let once: BTreeSet<&String> = codes.iter().collect();
    assert_eq!(codes.len(), once.len(), "a code stands twice: {codes:?}");
    let shown: BTreeSet<String> =
        cases().iter().map(|case| name(case).split('-').next().unwrap().to_uppercase()).collect();
    let pages: BTreeSet<String> = std::fs::read_dir(root().join("docs/codes"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().replace(".md", ""))
        .filter(|page| ["RS", "RC", "CA", "CL", "LA"].iter().any(|layer| page.starts_with(layer)))
        .collect();
    let codes: BTreeSet<String> = codes.into_iter().collect();
    assert_eq!(shown, codes);
    assert_eq!(pages, codes);
}

/// A page cut into its case, the words it says are drawn, and what it puts in the stead of the case.
struct Page {
    case: Option<String>,
    words: String,
    mended: Option<String>,
}

fn page(code: &str) -> Page {
    let text = text(&root().join(format!("docs/codes/{code}.md")));
    assert!(text.starts_with(&format!("# {code}: ")) && text.contains("To mend it, "), "{code}");
    let block = |part: &str| {
        let (kind, inner) = part.split_once('\n').unwrap();
        (kind.to_owned(), inner.to_owned())
    };
    let blocks: Vec<(String, String)> = text.split("```").skip(1).step_by(2).map(block).collect();
    let at = blocks.iter().position(|(kind, _)| kind == "text").unwrap();
    Page {
        case: at.checked_sub(1).map(|case| blocks[case].1.clone()),
        words: blocks[at].1.trim_end().to_owned(),
        mended: blocks.get(at + 1).map(|(_, inner)| inner.clone()),
    }
}

#[test]
fn every_page_is_true() {
    for case in cases() {
        let code = name(&case).split('-').next().unwrap().to_uppercase();
        let files = folder(&case);
        let [file] = files.as_slice() else { panic!("{code}: a case is one file") };
        let page = page(&code);
        let (_, found) = read(&code, &files);
        assert!(found.iter().any(|one| one.code == code && one.message == page.words), "{code}: {found:#?}");
        if let Some(case) = page.case {
            assert_eq!(case, file.text, "{code}");
        }
        if let Some(mended) = page.mended {
            let (_, found) = read(&code, &[Source::new(file.name.clone(), mended)]);
            let left: Vec<&Diagnostic> = found.iter().filter(|one| one.code != "RC059").collect();
            assert!(left.is_empty(), "{code}: mended, yet {left:#?}");
        }
    }
}
