//! The layout tells the truth: arrows between modules run one way, and no file grows past what can be read.

use std::fs;
use std::path::{Path, PathBuf};

/// Lowest first. A module may use those before it. `planning` will be a sibling of `proof`.
const LAYERS: [&str; 14] = [
    "diagnostic",
    "units",
    "yaml",
    "physics",
    "drawing",
    "rulebook",
    "survey",
    "wall",
    "inference",
    "proof",
    "document",
    "proofread",
    "render",
    "cli",
];

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found.sort();
}

fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["src", "tests", "benches"] {
        if root.join(folder).exists() {
            rust_files(&root.join(folder), &mut files);
        }
    }
    files
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
            (name, fs::read_to_string(&path).unwrap())
        })
        .collect()
}

fn layer(name: &str) -> Option<usize> {
    LAYERS.iter().position(|layer| *layer == name)
}

/// The modules named after `crate::` in the code of a file, comments left out.
fn used(text: &str) -> Vec<&str> {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| line.split("crate::").skip(1))
        .map(|rest| rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').next().unwrap_or(""))
        .collect()
}

#[test]
fn arrows_run_one_way() {
    let mut breaches = Vec::new();
    let mut seen = 0;
    for (name, text) in sources().iter().filter(|(name, _)| name.starts_with("src/")) {
        let own = name.split('/').nth(1).and_then(|part| layer(part.trim_end_matches(".rs")));
        let Some(own) = own else { continue };
        for other in used(text) {
            let Some(rank) = layer(other) else { continue };
            seen += 1;
            if rank > own {
                breaches.push(format!("{name} uses {other}"));
            }
        }
    }
    assert!(breaches.is_empty(), "{breaches:#?}");
    assert!(seen > 100, "only {seen} uses were found: the test no longer reads the code");
}

#[test]
fn renderers_know_blocks_alone() {
    for (name, text) in sources().iter().filter(|(name, _)| name.starts_with("src/render/")) {
        for rest in text.split("crate::document::").skip(1) {
            assert!(rest.starts_with("block"), "{name} knows more of a document than its blocks");
        }
        for other in used(text) {
            let allowed =
                ["diagnostic", "drawing", "document", "render"].contains(&other) || layer(other).is_none();
            assert!(allowed, "{name} uses {other}");
        }
    }
}

#[test]
fn no_file_is_longer_than_600_lines() {
    let long: Vec<String> = sources()
        .iter()
        .map(|(name, text)| (name, text.lines().count()))
        .filter(|(_, lines)| *lines > 600)
        .map(|(name, lines)| format!("{name}: {lines}"))
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}
