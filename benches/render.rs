//! How long setting and writing a document of some twelve pages takes.

#[expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "it reads one file of this repository")]
#[path = "../tests/it/render/read.rs"]
mod read;

use perpend::document::block::Document;
use perpend::render::{layout, pdf};

fn main() {
    divan::main();
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
