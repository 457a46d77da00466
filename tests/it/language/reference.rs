//! The reference of the language: every example on the page is run.

use std::path::Path;
use std::sync::Arc;

use perpend::diagnostic::{Diagnostic, Source};
use perpend::rulebook::{self, syntax};

use super::bad::with;
use super::text;

/// The fenced blocks of the page: kind, the rest of the fence's line, text.
fn blocks() -> Vec<(String, String, String)> {
    let page = text(&Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/rule-language.md"));
    let block = |part: &str| {
        let (fence, inner) = part.split_once('\n').unwrap();
        let (kind, rest) = fence.split_once(' ').unwrap_or((fence, ""));
        (kind.to_owned(), rest.to_owned(), inner.to_owned())
    };
    page.split("\n```").skip(1).step_by(2).map(block).collect()
}

fn read(name: &str, example: &str) -> Vec<Diagnostic> {
    let (_, found) = rulebook::read(&with(&[Source::new(name, example)]));
    // An example of a clause is required by no rule.
    found.into_iter().filter(|one| one.code != "RC082").collect()
}

#[test]
fn every_example_of_the_reference_is_true() {
    let blocks = blocks();
    assert!(blocks.len() > 20);
    for (kind, code, example) in blocks {
        let found = match kind.as_str() {
            "rule" | "rule-bad" => read("example.rule", &example),
            "rule-parsed" => syntax::parse(&Source::new("example.rule", example.clone())).1,
            "yaml" => read("example.yaml", &example),
            "clause" => read("clauses/cleaning/example.md", &example),
            other => panic!("`{other}` is no kind of example"),
        };
        if kind == "rule-bad" {
            assert!(found.iter().any(|one| one.code == code && one.is_error()), "{example}\n{found:#?}");
        } else {
            assert!(found.is_empty(), "{example}\n{found:#?}");
        }
    }
}

#[test]
fn every_word_that_opens_a_statement_stands_in_the_reference() {
    let page: Arc<str> = text(&Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/rule-language.md")).into();
    let slip = Source::new("slip.rule", "quarrel\n");
    let help = syntax::parse(&slip).1.remove(0).help.unwrap();
    let openers = help.trim_start_matches("a statement begins with one of ").split(", ");
    for opener in openers {
        assert!(
            [format!("`{opener} "), format!("`{opener}`")].iter().any(|word| page.contains(word)),
            "`{opener}` is not described"
        );
    }
}
