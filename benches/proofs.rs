//! How long it takes to prove the trade book, and books of many rules that nobody wrote.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "the books are written here and have no mistakes; the trade book is read from its files"
)]

mod synthetic;

use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;

use divan::Bencher;
use mimalloc::MiMalloc;
use perpend::diagnostic::Source;
use perpend::proof::{Counting, Side, Terms, compare, prove};
use perpend::rulebook::{self, book::Book};
use perpend::wall;
use synthetic::Size;

/// The allocator of the program.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() {
    divan::main();
    if std::env::args().any(|argument| argument == "--bench") {
        SIZES.into_iter().for_each(beside);
    }
}

/// Prints the peak memory of the program on a book, and the time of a solver from outside on the same problems.
fn beside(size: Size) {
    let folder = tempfile::tempdir().expect("a temporary folder can be made");
    for file in synthetic::files(size) {
        write(&folder.path().join(&file.name), &file.text);
    }
    let memory = peak_memory(&folder.path().join("book"));
    println!("{size}: peak memory of the whole program {memory} kB");
    let book = synthetic::book(size);
    let problems = folder.path().join("problems");
    for problem in perpend::proof::problems(&book, &wall::reach(&book)) {
        write(&problems.join(format!("{}.smt2", problem.name)), &problem.text);
    }
    let asked = Command::new("python3").args(["-c", SOLVER]).arg(&problems).output();
    match asked {
        Ok(output) if output.status.success() => {
            print!("{size}: {}", String::from_utf8_lossy(&output.stdout));
        }
        _ => println!("{size}: python3 has no z3 to compare with (`pip install z3-solver`)"),
    }
}

/// Reads and solves every problem of a folder, and prints how long the solving took.
const SOLVER: &str = r#"
import os, sys, time, z3
took = 0.0
names = sorted(os.listdir(sys.argv[1]))
for name in names:
    solver = z3.Solver()
    solver.from_file(os.path.join(sys.argv[1], name))
    start = time.perf_counter()
    solver.check()
    took += time.perf_counter() - start
print(f"z3 took {took * 1000:.0f} ms for the {len(names)} things that no survey may show")
"#;

fn write(path: &Path, text: &str) {
    std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("folders can be made");
    std::fs::write(path, text).expect("the disk takes it");
}

/// The high-water mark that the system keeps of a process (`VmHWM`, proc(5)), looked at until it ends.
fn peak_memory(book: &Path) -> String {
    let mut child = Command::new(env!("CARGO_BIN_EXE_perpend"))
        .args(["prove", "--uncounted", "--diagnostics", "json"])
        .arg(book)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program runs");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = "unknown".to_owned();
    while child.try_wait().expect("it can be waited for").is_none() {
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        if let Some(line) = line {
            line.trim().trim_end_matches(" kB").clone_into(&mut peak);
        }
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
    peak
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
