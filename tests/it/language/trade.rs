//! The trade's own book.

use std::path::Path;

use perpend::rulebook;

use super::folder;

#[test]
fn the_trade_book_reads_without_a_mistake_or_remark() {
    let files = folder(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/rules/trade")));
    let (book, found) = rulebook::read(&files);
    assert!(found.is_empty(), "{found:#?}");
    let book = book.unwrap();
    assert!(book.rules.len() > 100 && book.clauses.len() > 100 && book.facts.len() > 50);
}
