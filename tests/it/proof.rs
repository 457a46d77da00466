//! The prover: its gates agree with the evaluator, and its proofs with going through every survey.

use perpend::proof;
use perpend::rulebook::book::Book;
use proptest::prelude::*;

use crate::random_books;

fn trade_book() -> Book {
    let mut files = Vec::new();
    gather(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/trade"), &mut files);
    let (book, _) = perpend::rulebook::read(&files);
    book.unwrap()
}

fn gather(folder: &std::path::Path, files: &mut Vec<std::sync::Arc<perpend::diagnostic::Source>>) {
    let mut entries: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            gather(&path, files);
        } else {
            let name = path.to_string_lossy().replace('\\', "/");
            files.push(perpend::diagnostic::Source::new(name, std::fs::read_to_string(&path).unwrap()));
        }
    }
}

#[test]
fn gates_and_evaluator_agree_on_the_trade_book() {
    assert_eq!(proof::disagreements(&trade_book(), 2, 7), Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is thrown at a book, its gates and the evaluator read the same.
    #[test]
    fn gates_and_evaluator_agree(plan in random_books::plans(), seed in 1..1000_u64) {
        let book = random_books::book(&plan);
        prop_assert_eq!(proof::disagreements(&book, 2, seed), Vec::<String>::new());
    }
}
