//! Documents on pages and in files.

#[path = "render/read.rs"]
mod read;

use perpend::render::{layout, pdf};

#[test]
fn pages_look_as_they_did() {
    insta::glob!("../cases/render", "*.json", |path| {
        let document = read::document(&std::fs::read_to_string(path).unwrap());
        insta::assert_snapshot!(layout(&document).unwrap().dump());
    });
}

#[test]
fn write_it() {
    let document = read::document(&std::fs::read_to_string("tests/cases/render/section.json").unwrap());
    let plain = read::document(&std::fs::read_to_string("tests/cases/render/plain.json").unwrap());
    std::fs::write("/tmp/tg/render/plain.pdf", pdf(&plain).unwrap()).unwrap();
    std::fs::write("/tmp/tg/render/section.pdf", pdf(&document).unwrap()).unwrap();
}
