//! How long setting and writing a document of some twelve pages takes; and how much memory one of three thousand.

#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "it prints what it measures of its own process"
)]

#[expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "it reads one file of this repository")]
#[path = "../tests/it/render/read.rs"]
mod read;

use perpend::document::block::Document;
use perpend::render::{layout, pdf};

fn main() {
    thousands();
    divan::main();
}

/// Sets and writes three thousand pages once, and prints pages a second and the most memory that the process held
/// (`VmHWM`, proc(5)), with that of three hundred beside it.
fn thousands() {
    for times in [30, 300] {
        let once = twelve_pages();
        let mut document = once.clone();
        for round in 2..=times {
            document.blocks.extend(once.blocks.iter().cloned().map(|mut block| {
                block.id = format!("{}-x{round}", block.id);
                block
            }));
        }
        let start = std::time::Instant::now();
        let pages = layout(&document).map(|laid| laid.pages()).unwrap_or_default();
        let set = start.elapsed().as_secs_f64();
        let peak_set = peak();
        let start = std::time::Instant::now();
        let bytes = pdf(&document).map(|file| file.len()).unwrap_or_default();
        let written = start.elapsed().as_secs_f64();
        let peak = peak();
        println!(
            "{pages} pages: set {:.0} a second, set and written {:.0} a second, {bytes} bytes, peak {peak_set} set, {peak} written",
            f64::from(u32::try_from(pages).unwrap_or_default()) / set,
            f64::from(u32::try_from(pages).unwrap_or_default()) / written,
        );
    }
}

/// The most memory that this process has held.
fn peak() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.unwrap_or("unknown").trim().to_owned()
}

/// The sample section four times over, each block under a name of its own.
fn twelve_pages() -> Document {
    let mut document = read::document(include_str!("../tests/cases/render/section.json"));
    let once = document.blocks.clone();
    for round in 2..=5 {
        document.blocks.extend(once.iter().cloned().map(|mut block| {
            block.id = format!("{}-{round}", block.id);
            block
        }));
    }
    document
}

#[divan::bench]
fn set(bencher: divan::Bencher<'_, '_>) {
    let document = twelve_pages();
    bencher.bench(|| layout(&document).map(|laid| laid.pages()));
}

#[divan::bench]
fn set_and_write(bencher: divan::Bencher<'_, '_>) {
    let document = twelve_pages();
    bencher.bench(|| pdf(&document).map(|bytes| bytes.len()));
}
