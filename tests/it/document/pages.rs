//! The pages of `docs/codes/` on documents: each code has one, its case draws that code with those words, and what the
//! page puts in its stead draws nothing.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use perpend::diagnostic::{Diagnostic, Place, Source};
use perpend::document::{Templates, Wanted};
use perpend::rulebook::book::Condition;
use perpend::rulebook::clause::{Clause, Reader, Wording};

use super::tiny::{self, CRACK, WASH_PRESSURE, book, clause, facts, is, survey};
use super::{washing, written_with};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[expect(clippy::disallowed_methods, reason = "the pages are files")]
fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A clause from the lines of a case: keys, then the words below `## reader`.
fn written(case: &str) -> Clause {
    let mut made = clause("case", "removal", &[], "");
    made.article = None;
    made.wording = BTreeMap::new();
    let (keys, words) = case.split_once("## ").unwrap();
    for (key, value) in keys.lines().filter_map(|line| line.split_once(": ")) {
        match key {
            "article" => made.article = Some(value.to_owned()),
            "care" => made.care = Some(value.to_owned()),
            "parameters" => made.parameters = clause("", "", &[(value, WASH_PRESSURE)], "").parameters,
            other => panic!("no key `{other}`"),
        }
    }
    let (reader, text) = words.split_once('\n').unwrap();
    let reader = if reader == "owner" { Reader::Owner } else { Reader::Section };
    let source = Source::new("case.md", text);
    made.wording.insert(reader, Wording { text: text.to_owned(), place: Place::new(&source, 0, text.len()) });
    made
}

/// Everything drawn by a case of this kind.
fn drawn(kind: &str, case: &str) -> Vec<Diagnostic> {
    let of_file = match kind {
        "section" => "section.md",
        "articles" => "articles.yaml",
        "visit" => "visit.yaml",
        "register" => "register.yaml",
        "site" => "site.yaml",
        "drawings" => "drawings.yaml",
        _ => "",
    };
    let files: Vec<_> = tiny::templates()
        .into_iter()
        .map(|file| if file.name == of_file { Source::new(of_file, case) } else { file })
        .collect();
    let templates = match Templates::read(&files) {
        Ok(templates) => templates,
        Err(found) => return found,
    };
    let lead = clause("lead-plan", "submittals", &[], "Submit the lead plan.");
    let mut clauses = vec![(washing(), Condition::Always), (lead, is(CRACK, 0, "crack"))];
    match kind {
        "clause" => clauses.push((written(case), Condition::Always)),
        "unlimited" => clauses = vec![(written(case), Condition::Always)],
        "articles" | "site" | "register" | "drawings" => clauses.clear(),
        _ => {}
    }
    let mut book = book(clauses);
    if kind == "unlimited" {
        book.rules.retain(|rule| !["any-wall", "soft-stone"].contains(&rule.name.as_str()));
    }
    let (survey, facts) = (survey(&["Q1"]), [facts(Some(0), Some(1), Some(1))]);
    match written_with(&templates, (&book, &survey, &facts), &Wanted::set()) {
        Ok(written) => written.remarks,
        Err(found) => found,
    }
}

#[test]
fn every_code_has_a_page_that_is_true() {
    let declared = text_of(&root().join("src/document/mistake.rs"));
    let codes: Vec<_> = declared.split("code(").skip(1).filter_map(|rest| rest.split(')').next()).collect();
    assert!(codes.len() > 10);
    for code in codes {
        let page = text_of(&root().join(format!("docs/codes/{code}.md")));
        assert!(page.starts_with(&format!("# {code}: ")) && page.contains("To mend it, "), "{code}");
        let blocks: Vec<_> =
            page.split("```").skip(1).step_by(2).filter_map(|block| block.split_once('\n')).collect();
        match blocks.as_slice() {
            // a missing file cannot be shown; what is too much to leave open is seen in `visit`
            [] => assert!(["DO012", "DO017"].contains(&code), "{code}"),
            [(kind, case), (_, words), (again, mended)] => {
                let found = drawn(kind, case.trim_end());
                let told: Vec<_> =
                    found.iter().map(|one| (one.code.as_str(), one.message.as_str())).collect();
                assert_eq!(told, [(code, words.trim_end())], "{code}");
                assert_eq!(drawn(again, mended.trim_end()), [], "{code}: mended");
            }
            other => panic!("{code}: a case, its words and its mending, not {} blocks", other.len()),
        }
    }
}
