//! How long it takes to prove the trade book, and books of many rules that nobody wrote.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "the books are written here and have no mistakes; the trade book is read from its files"
)]

mod synthetic;

use std::path::Path;
use std::sync::Arc;

use divan::Bencher;
use perpend::diagnostic::Source;
use perpend::proof::{Counting, Side, Terms, compare, prove};
use perpend::rulebook::{self, book::Book};
use perpend::wall;
use synthetic::Size;

fn main() {
    divan::main();
}

const SIZES: [Size; 2] = [Size { rules: 500, facts: 120 }, Size { rules: 2000, facts: 200 }];

fn gather(folder: &Path, files: &mut Vec<Arc<Source>>) {
    let entries = std::fs::read_dir(folder).expect("the folder is there");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            gather(&path, files);
        } else {
            let text = std::fs::read_to_string(&path).expect("the file is text");
            files.push(Source::new(path.to_string_lossy().replace('\\', "/"), text));
        }
    }
}

fn trade() -> Book {
    let mut files = Vec::new();
    gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/trade"), &mut files);
    rulebook::read(&files).0.expect("the trade book has no mistake")
}

fn terms(book: &Book) -> Terms {
    Terms {
        dead_ends: 300_000,
        read_elsewhere: wall::read_by_worked(book),
        reach: wall::reach(book),
        counting: Counting::LeftOut,
    }
}

#[divan::bench]
fn prove_the_trade_book(bencher: Bencher<'_, '_>) {
    let book = trade();
    let terms = terms(&book);
    bencher.bench(|| prove(&book, &terms));
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn prove_a_synthetic_book(bencher: Bencher<'_, '_>, size: Size) {
    let book = synthetic::book(size);
    let terms = terms(&book);
    bencher.bench(|| prove(&book, &terms));
}

#[divan::bench]
fn compare_the_trade_book_with_itself(bencher: Bencher<'_, '_>) {
    let book = trade();
    let reach = wall::reach(&book);
    let side = Side { book: &book, reach: &reach };
    bencher.bench(|| compare(side, side, 300_000, 20));
}
