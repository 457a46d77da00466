//! The pages of `docs/codes/` on quantities and on YAML: each code has one, its case draws that code with those
//! words, and what the page puts in its stead draws nothing.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use perpend::diagnostic::{Diagnostic, Source};
use perpend::units::{Dimension, Quantity};
use perpend::yaml;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[expect(clippy::disallowed_methods, reason = "the pages are files")]
fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The codes that a layer gives, as its mistakes declare them.
fn declared(file: &str) -> Vec<String> {
    let text = text_of(&root().join(file));
    let codes = text.split("code(").skip(1).filter_map(|rest| rest.split(')').next());
    codes.map(str::to_owned).collect()
}

/// The fenced blocks of a page, with the word after the fence.
fn blocks(page: &str) -> Vec<(String, String)> {
    let parts = page.split("```").skip(1).step_by(2);
    parts.map(|part| part.split_once('\n').unwrap()).map(|(kind, text)| (kind.into(), text.into())).collect()
}

fn mistakes(kind: &str, text: &str) -> Vec<Diagnostic> {
    if kind == "yaml" {
        return yaml::read(&Source::new("case.yaml", text)).1;
    }
    let (dimension, text) = text.split_once(':').unwrap();
    let read = Quantity::parse(text, Dimension::from_name(dimension).unwrap());
    read.err().map(|mistake| Diagnostic::error(&mistake, None)).into_iter().collect()
}

fn check(layer: &str, file: &str, without_case: &[&str]) {
    let codes = declared(file);
    let pages = std::fs::read_dir(root().join("docs/codes")).unwrap();
    let pages = pages.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let pages: BTreeSet<_> = pages.filter(|name| name.starts_with(layer)).collect();
    let expected: BTreeSet<_> = codes.iter().map(|code| format!("{code}.md")).collect();
    assert_eq!(codes.len(), expected.len(), "a code stands twice");
    assert_eq!(pages, expected);
    for code in codes {
        let page = text_of(&root().join(format!("docs/codes/{code}.md")));
        assert!(page.starts_with(&format!("# {code}: ")), "{code}");
        assert!(page.contains("To mend it, "), "{code}");
        match blocks(&page).as_slice() {
            [] => assert!(without_case.contains(&code.as_str()), "{code} has no case"),
            [(kind, case), (_, words), (again, mended)] => {
                let drawn = mistakes(kind, case);
                let told: Vec<_> =
                    drawn.iter().map(|one| (one.code.as_str(), one.message.as_str())).collect();
                assert_eq!(told, [(code.as_str(), words.trim_end())], "{code}");
                assert_eq!(mistakes(again, mended), [], "{code}: mended");
            }
            other => panic!("{code}: a case, its words and its mending, not {} blocks", other.len()),
        }
    }
}

#[test]
fn every_code_of_a_quantity_has_a_page_that_is_true() {
    check("UN", "src/units/mistake.rs", &[]);
}

// Too large and too much do not fit on a page, and a control character cannot be shown; the hostile texts draw them.
#[test]
fn every_code_of_yaml_has_a_page_that_is_true() {
    check("YA", "src/yaml/mistake.rs", &["YA001", "YA002", "YA022"]);
}
