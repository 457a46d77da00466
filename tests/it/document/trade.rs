//! The wordings of the trade book: those that no demo prints are as sound as those that do.

use perpend::document::check;
use perpend::rulebook;

use super::templates;
use crate::folders::{root, sources};

#[test]
fn every_wording_of_the_trade_book_can_be_filled_and_set() {
    let book = rulebook::read(&sources(root(), "rules/trade")).0.expect("the trade book");
    assert!(book.clauses.len() > 60);
    assert_eq!(check(&book, &templates()), []);
}
