//! How long it takes to prove the trade book, and books of many rules that nobody wrote.

#![expect(
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "the books are written here and have no mistakes; the trade book is read from its files"
)]

use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use divan::Bencher;
use perpend::diagnostic::Source;
use perpend::proof::{Side, Terms, compare, prove};
use perpend::rulebook::{self, book::Book};
use perpend::wall;

fn main() {
    divan::main();
}

/// Numbers that look thrown and are the same in every run (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn throw(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % sides
    }
}

const OPTIONS: u64 = 10;
const CLAUSES: u64 = 100;

/// A test of one of the facts: a third of them yes or no, a third words, a third figures.
fn test(dice: &mut Dice, facts: u64) -> String {
    let fact = dice.throw(facts);
    match fact % 3 {
        0 => format!("fact-{fact} is {}", if dice.throw(2) == 0 { "yes" } else { "no" }),
        1 => format!("fact-{fact} is word-{}", dice.throw(4)),
        _ => format!("fact-{fact} over {}", 10 * (1 + dice.throw(4))),
    }
}

fn condition(dice: &mut Dice, facts: u64) -> String {
    let count = 1 + dice.throw(3);
    let tests: Vec<String> = (0..count).map(|_| test(dice, facts)).collect();
    if dice.throw(3) == 0 { tests.join(" or ") } else { tests.join(" and ") }
}

fn effect(dice: &mut Dice) -> String {
    let better = dice.throw(OPTIONS - 1);
    let worse = better + 1 + dice.throw(OPTIONS - 1 - better);
    match dice.throw(8) {
        0 => format!("refuse thing option-{}", 1 + dice.throw(OPTIONS - 1)),
        1 => format!("prefer thing option-{better} over option-{worse}"),
        2 => format!("limit amount to at most {} m", 20 + dice.throw(20)),
        3 => format!("limit amount to at least {} m", 1 + dice.throw(10)),
        _ => format!("require clause clause-{}", dice.throw(CLAUSES)),
    }
}

/// A book of so many rules over so many facts.
fn synthetic(rules: u64, facts: u64) -> Book {
    let mut dice = Dice(rules * 1_000_003 + facts);
    let mut text = String::from(
        "rulebook \"Synthetic\" edition 1\n\nsource somewhere \"Somewhere\", read\n\nstage work\n\n",
    );
    for fact in 0..facts {
        let kind = match fact % 3 {
            0 => "yes or no",
            1 => "one of word-0, word-1, word-2, word-3",
            _ => "number 0 to 100",
        };
        let _ = write!(text, "fact fact-{fact} of zone, {kind}\n  ask \"What of {fact}?\"\n\n");
    }
    text.push_str("quantity amount of zone, length\n\nslot thing of zone, pick one from things\n\n");
    for rule in 0..rules {
        let (when, effect) = (condition(&mut dice, facts), effect(&mut dice));
        let _ = write!(
            text,
            "rule rule-{rule}\n  where {when}\n  {effect}\n  because \"It is so.\"\n  per somewhere\n\n"
        );
    }
    let mut table =
        String::from("columns:\n  figure: {title: figure, kind: number, per: somewhere}\noptions:\n");
    for option in 0..OPTIONS {
        let _ = writeln!(table, "  option-{option}: {{title: Option {option}, figure: {option}}}");
    }
    let mut files = vec![Source::new("book/rules.rule", text), Source::new("book/things.yaml", table)];
    for clause in 0..CLAUSES {
        let text = format!(
            "---\nof: zone\narticle: summary\norder: {clause}\nsubject: Clause {clause}\n---\n## section\nDo the work.\n"
        );
        files.push(Source::new(format!("book/clauses/summary/clause-{clause}.md"), text));
    }
    rulebook::read(&files).0.expect("the book has no mistake")
}

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
    Terms { dead_ends: 300_000, read_elsewhere: wall::read_by_worked(book), reach: wall::reach(book) }
}

#[divan::bench]
fn prove_the_trade_book(bencher: Bencher<'_, '_>) {
    let book = trade();
    let terms = terms(&book);
    bencher.bench(|| prove(&book, &terms));
}

#[divan::bench(args = [(500, 120), (2000, 200)])]
fn prove_a_synthetic_book(bencher: Bencher<'_, '_>, (rules, facts): (u64, u64)) {
    let book = synthetic(rules, facts);
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
