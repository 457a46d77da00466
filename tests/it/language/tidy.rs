//! A rule file in its one layout.

use perpend::diagnostic::Source;
use perpend::rulebook::syntax;

use super::{beside_the_case, text};

#[test]
fn every_case_tidies_as_its_snapshot_and_printing_again_changes_nothing() {
    insta::glob!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/tidy"), "*.rule", |path| {
        let (tidied, mistakes) = syntax::tidy(&Source::new("case.rule", text(path)));
        assert!(mistakes.is_empty(), "{mistakes:#?}");
        let (again, _) = syntax::tidy(&Source::new("case.rule", tidied.clone()));
        assert_eq!(again, tidied);
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        beside_the_case("tidy", || insta::assert_snapshot!(name, tidied));
    });
}

#[test]
fn a_statement_with_a_slip_stays_as_it_was_written() {
    let text = "  stray\n\nrule wet\n  where moisture\u{a0}\n     over over\n";
    let (tidied, mistakes) = syntax::tidy(&Source::new("case.rule", text));
    assert_eq!(mistakes.len(), 2);
    assert_eq!(tidied, text);
}

/// The grammar takes the control signs between tab and space for white space, and so does what is made of them.
#[test]
fn a_control_sign_is_white_space_wherever_words_are_parted() {
    let text = "source brief \"On\u{1f}walls\", read, checked\u{1c}2026-11-25\n";
    let (tidied, mistakes) = syntax::tidy(&Source::new("case.rule", text));
    assert!(mistakes.is_empty(), "{mistakes:?}");
    assert_eq!(tidied, "source brief \"On walls\", read, checked 2026-11-25\n");
}

/// What would be read as the next citation keeps its quotes.
#[test]
fn a_place_in_a_source_keeps_the_quotes_that_it_needs() {
    for place in ["2 and'", "2 and(f)", "1 per\u{b7}cent", "no'departure"] {
        let text = format!("rule wet\n  per brief, \"{place}\"\n");
        let (tidied, mistakes) = syntax::tidy(&Source::new("case.rule", text));
        assert!(mistakes.is_empty() && tidied.contains(&format!("\"{place}\"")), "{tidied} {mistakes:?}");
    }
    let (tidied, _) = syntax::tidy(&Source::new("case.rule", "rule wet\n  per brief, \"table 2-and\"\n"));
    assert!(tidied.ends_with("per brief, table 2-and\n"), "{tidied}");
}
