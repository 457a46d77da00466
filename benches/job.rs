//! How long the main job takes: the whole process for the first demo, and its parts.

#![expect(
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a bench that cannot read its files should say so and stop"
)]

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, LazyLock};

use divan::Bencher;
use mimalloc::MiMalloc;
use perpend::diagnostic::Source;
use perpend::inference::decide::{Case, Reading, decide};
use perpend::inference::{Plan, infer};
use perpend::rulebook::{self, book::Book};
use perpend::survey::{self, Survey};
use perpend::wall::{self, facts::ZoneFacts};

/// The allocator of the program.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() {
    divan::main();
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("the trade book is there") {
        let path = entry.expect("a folder entry can be read").path();
        if path.is_dir() { files(&path, found) } else { found.push(path) }
    }
    found.sort();
}

static SOURCES: LazyLock<Vec<Arc<Source>>> = LazyLock::new(|| {
    let mut paths = Vec::new();
    files(&root().join("rules/trade"), &mut paths);
    let text = |path: &PathBuf| std::fs::read_to_string(path).expect("rule files are text");
    paths.iter().map(|path| Source::new(path.to_string_lossy(), text(path))).collect()
});

static BOOK: LazyLock<Book> = LazyLock::new(|| rulebook::read(&SOURCES).0.expect("the trade book is sound"));

static SURVEY_TEXT: LazyLock<Arc<Source>> = LazyLock::new(|| {
    let path = root().join("examples/watch-house/survey.yaml");
    Source::new("survey.yaml", std::fs::read_to_string(path).expect("the demo is there"))
});

static SURVEY: LazyLock<Survey> =
    LazyLock::new(|| survey::read(&SURVEY_TEXT, &BOOK).0.expect("the demo is sound"));

static FACTS: LazyLock<Vec<ZoneFacts>> = LazyLock::new(|| wall::work(&SURVEY, &BOOK));

/// Runs the program on the first demo.
fn write(bencher: Bencher, more: &[&str]) {
    let out = tempfile::tempdir().expect("a temporary folder can be made");
    bencher.bench_local(|| {
        let status = Command::new(env!("CARGO_BIN_EXE_perpend"))
            .current_dir(root())
            .args(["write", "examples/watch-house/survey.yaml", "--out"])
            .arg(out.path())
            .args(more)
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .status();
        assert!(status.expect("the program runs").success());
    });
}

/// The whole process: section, owner's sheet and reasons record, as Markdown and PDF. Held to 150 ms.
#[divan::bench]
fn whole_process_three_documents_two_forms(bencher: Bencher) {
    write(bencher, &["--only", "section,owner-sheet,reasons", "--format", "md,pdf"]);
}

/// The whole process with every paper of the set.
#[divan::bench]
fn whole_process_whole_set_two_forms(bencher: Bencher) {
    write(bencher, &["--format", "md,pdf"]);
}

/// The same with a file for word processors of each. Meant to take less than 250 ms.
#[divan::bench]
fn whole_process_whole_set_three_forms(bencher: Bencher) {
    write(bencher, &[]);
}

#[divan::bench]
fn read_the_trade_book() -> Option<Book> {
    rulebook::read(&SOURCES).0
}

#[divan::bench]
fn read_the_survey() -> Option<Survey> {
    survey::read(&SURVEY_TEXT, &BOOK).0
}

#[divan::bench]
fn work_out_the_wall() -> Vec<ZoneFacts> {
    wall::work(&SURVEY, &BOOK)
}

/// The bare decisions of one zone. Held to 50 µs.
#[divan::bench]
fn evaluate_one_zone(bencher: Bencher) {
    let plan = Plan::of(&BOOK);
    let facts = FACTS.get(1).expect("the demo has zones");
    bencher.bench_local(|| decide(&BOOK, &plan, Case::new(facts, &[]), Reading::Open));
}

/// Every zone with marks, causes, and ranked questions.
#[divan::bench]
fn decide_the_whole_job() -> usize {
    infer(&BOOK, &SURVEY, &FACTS).zones.len()
}
