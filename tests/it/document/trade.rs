//! The wordings of the trade book: those that no demo prints are as sound as those that do.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use perpend::diagnostic::Source;
use perpend::document::check;
use perpend::rulebook;

use super::templates;

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() { files(&path, found) } else { found.push(path) }
    }
}

#[expect(clippy::disallowed_methods, reason = "the book is files")]
fn trade() -> Vec<Arc<Source>> {
    let mut found = Vec::new();
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/trade"), &mut found);
    found.sort();
    let read = |path: &PathBuf| Source::new(path.to_string_lossy(), std::fs::read_to_string(path).unwrap());
    found.iter().filter(|path| !path.ends_with("README.md")).map(read).collect()
}

#[test]
fn every_wording_of_the_trade_book_can_be_filled_and_set() {
    let book = rulebook::read(&trade()).0.expect("the trade book");
    assert!(book.clauses.len() > 60);
    assert_eq!(check(&book, &templates()), []);
}
