//! How long it takes to decide: a zone's bare decisions, with everything answered and with 30 in 100 questions open, and
//! the way from a survey file to an outcome with marks, causes and ranked questions.

#![expect(
    clippy::panic,
    clippy::expect_used,
    reason = "the books and surveys are written here and have no mistakes"
)]

mod synthetic;

use divan::Bencher;
use mimalloc::MiMalloc;
use perpend::inference::decide::{Case, Reading, decide};
use perpend::inference::{Flat, Plan, Ready};
use perpend::rulebook::book::Book;
use perpend::wall::facts::ZoneFacts;
use perpend::{survey, wall};
use synthetic::Size;

const SIZE: Size = Size { rules: 500, facts: 120 };

/// The allocator of the program.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() {
    divan::main();
}

/// What 64 surveys answer that leave so many in a hundred questions open.
fn answers(book: &Book, open: u64) -> Vec<ZoneFacts> {
    let read = |throw: u64| survey::read(&synthetic::survey(SIZE, open, throw), book).0.expect("no mistake");
    (1..=64).flat_map(|throw| wall::work(&read(throw), book)).collect()
}

/// One sample is a turn of all 64 surveys.
#[divan::bench(args = [0, 30], sample_size = 64)]
fn bare_decisions(bencher: Bencher<'_, '_>, open_in_100: u64) {
    let book = synthetic::book(SIZE);
    let flat = Flat::of(&book, &Plan::of(&book));
    let answers = answers(&book, open_in_100);
    let mut slate = flat.slate();
    let mut turn = answers.iter().cycle();
    bencher.bench_local(|| {
        let facts = turn.next().expect("a cycle has no end");
        flat.read(Case::new(facts, &[]), &mut slate);
        slate.unsettled(&flat)
    });
}

/// The evaluator that keeps traces, for comparison.
#[divan::bench(args = [0, 30], sample_size = 64)]
fn traced_decisions(bencher: Bencher<'_, '_>, open_in_100: u64) {
    let book = synthetic::book(SIZE);
    let plan = Plan::of(&book);
    let answers = answers(&book, open_in_100);
    let mut turn = answers.iter().cycle();
    bencher.bench_local(|| {
        let facts = turn.next().expect("a cycle has no end");
        decide(&book, &plan, Case::new(facts, &[]), Reading::Open)
    });
}

/// With marks, causes and ranked questions; the book is ready.
#[divan::bench(args = [0, 30])]
fn survey_file_to_outcome(bencher: Bencher<'_, '_>, open_in_100: u64) {
    let book = synthetic::book(SIZE);
    let ready = Ready::of(&book);
    let source = synthetic::survey(SIZE, open_in_100, 1);
    bencher.bench_local(|| {
        let survey = survey::read(&source, &book).0.expect("no mistake");
        ready.infer(&survey, &wall::work(&survey, &book))
    });
}
