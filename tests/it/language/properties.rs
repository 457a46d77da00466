//! What holds for any text: the reader never panics, printing is stable, and order means nothing.

use std::path::Path;
use std::sync::{Arc, OnceLock};

use perpend::diagnostic::Source;
use perpend::rulebook::{self, syntax};
use proptest::prelude::*;

use super::bad::with;
use super::folder;

/// The trade's rule files.
fn trade() -> &'static [Arc<Source>] {
    static TRADE: OnceLock<Vec<Arc<Source>>> = OnceLock::new();
    TRADE.get_or_init(|| folder(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/rules/trade"))))
}

fn is_rules(file: &Source) -> bool {
    Path::new(&file.name).extension().is_some_and(|ending| ending == "rule")
}

fn trade_rules() -> impl Iterator<Item = &'static Arc<Source>> {
    trade().iter().filter(|file| is_rules(file))
}

/// The statements of the trade, as written, comments of their own included.
fn statements() -> Vec<String> {
    let mut statements: Vec<String> = Vec::new();
    for line in trade_rules().flat_map(|file| file.text.lines()) {
        let opens = line.starts_with(|first: char| first.is_ascii_alphabetic());
        match statements.last_mut() {
            Some(last) if !opens => last.extend([line, "\n"]),
            _ if opens => statements.push(format!("{line}\n")),
            _ => {}
        }
    }
    statements
}

/// A valid statement with something cut out, doubled, or put in.
fn mutated() -> impl Strategy<Value = String> {
    let pieces = [
        "",
        "\"",
        "(",
        ")",
        "--",
        "\n",
        "\n  ",
        ",",
        " and ",
        " or ",
        " not ",
        "over 5 mm",
        "[1 m, 2 m]",
        "é",
        "\\",
        "is one of a, b",
        "whose",
        "because \"x\"",
        "\u{a0}",
        "1,000 psi",
        "per x, y and z",
        "  where a\n",
    ];
    (
        prop::sample::select(statements()),
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        0..40usize,
    )
        .prop_flat_map(move |(statement, at, piece, cut)| {
            let ends: Vec<usize> =
                statement.char_indices().map(|(at, _)| at).chain([statement.len()]).collect();
            let from = at.index(ends.len());
            let to = (from + cut).min(ends.len() - 1);
            let piece = pieces[piece.index(pieces.len())];
            Just(format!(
                "{}{piece}{}",
                statement.get(..ends[from]).unwrap(),
                statement.get(ends[to]..).unwrap()
            ))
        })
}

fn stable(text: &str) -> Result<(), TestCaseError> {
    let (once, mistakes) = syntax::tidy(&Source::new("case.rule", text));
    let (twice, again) = syntax::tidy(&Source::new("case.rule", once.clone()));
    prop_assert_eq!(&once, &twice);
    let codes = |mistakes: &[perpend::diagnostic::Diagnostic]| {
        mistakes.iter().map(|one| one.code.clone()).collect::<Vec<_>>()
    };
    prop_assert_eq!(codes(&mistakes), codes(&again));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,200}") {
        let _ = rulebook::read(&with(&[Source::new("case.rule", text.clone())]));
        let _ = rulebook::read(&with(&[Source::new("case.yaml", text.clone())]));
        let _ = rulebook::read(&with(&[Source::new("clauses/a/case.md", format!("---\nof: zone\n---\n{text}"))]));
    }

    #[test]
    fn text_of_the_words_of_the_language_is_read_or_refused(
        words in prop::collection::vec(prop::sample::select(vec![
            "rule", "\nrule ", "finding", "\nfact ", "where", "not", "and", "or", "(", ")", "is", "one", "of", "a-b",
            "over", "5 mm", "chosen", "coating", "whose", "sd", "limit", "to", "at", "most", "because", "\"x\"", "per",
            "common-practice", ",", "\n  ", "--", "\"", "1500", "between", "promise", "never", "holds", "stop", "until",
        ]), 0..60)
    ) {
        let text = words.join(" ");
        let _ = rulebook::read(&with(&[Source::new("case.rule", text.clone())]));
        stable(&text)?;
    }

    #[test]
    fn a_rule_with_a_slip_is_read_or_refused(text in mutated()) {
        let _ = rulebook::read(&with(&[Source::new("case.rule", text)]));
    }

    #[test]
    fn printing_what_was_printed_changes_nothing(text in mutated()) {
        stable(&text)?;
    }

    #[test]
    fn comments_are_kept(
        text in prop::sample::select(statements()),
        places in prop::collection::vec(any::<prop::sample::Index>(), 1..4)
    ) {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        for (number, place) in places.iter().enumerate() {
            let ends = ends_outside_words(&lines);
            let at = ends[place.index(ends.len())];
            lines.insert(at + 1, format!("  -- kept {number}"));
            lines[at].extend([" -- beside ", &number.to_string()]);
        }
        let commented = lines.join("\n");
        let (tidied, mistakes) = syntax::tidy(&Source::new("case.rule", commented.clone()));
        prop_assert!(mistakes.is_empty());
        for number in 0..places.len() {
            let (alone, beside) = (format!("-- kept {number}"), format!("-- beside {number}"));
            prop_assert!(tidied.contains(&alone) && tidied.contains(&beside), "{}", tidied);
        }
        stable(&commented)?;
    }
}

/// The lines at whose end no quoted words stand open: two dashes inside them are no comment.
fn ends_outside_words(lines: &[String]) -> Vec<usize> {
    let mut quotes = 0;
    let mut ends = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        quotes += line.matches('"').count();
        if quotes % 2 == 0 {
            ends.push(number);
        }
    }
    ends
}

/// A book without its places, as text.
fn shape(files: &[Arc<Source>]) -> String {
    let text = format!("{:?}", rulebook::read(files).0.unwrap());
    let mut parts = text.split("place: ");
    let first = parts.next().unwrap_or_default().to_owned();
    // A place is drawn as file, line and column, without spaces.
    parts.fold(first, |out, part| out + part.trim_start_matches(|sign| !matches!(sign, ',' | ' ' | '}')))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4))]
    #[test]
    fn neither_the_order_of_files_nor_of_statements_means_anything(seed in any::<u64>()) {
        let mut files: Vec<Arc<Source>> =
            trade().iter().filter(|file| !is_rules(file)).cloned().collect();
        let mut statements = statements();
        let mut state = seed | 1;
        let mut shuffle = |length: usize| {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            usize::try_from(state % length as u64).unwrap()
        };
        for at in (1..statements.len()).rev() {
            statements.swap(at, shuffle(at + 1));
        }
        files.push(Source::new("one.rule", statements.concat()));
        for at in (1..files.len()).rev() {
            files.swap(at, shuffle(at + 1));
        }
        let mut plain: Vec<Arc<Source>> =
            trade().iter().filter(|file| !is_rules(file)).cloned().collect();
        let texts: Vec<&str> = trade_rules().map(|file| file.text.as_str()).collect();
        plain.push(Source::new("one.rule", texts.join("\n")));
        prop_assert_eq!(shape(&files), shape(&plain));
    }
}

#[test]
fn every_file_of_the_trade_tidies_and_reads_the_same() {
    let mut tidied = Vec::new();
    for file in trade() {
        if is_rules(file) {
            let (text, mistakes) = syntax::tidy(file);
            assert!(mistakes.is_empty());
            stable(&text).unwrap();
            tidied.push(Source::new(file.name.clone(), text));
        } else {
            tidied.push(Arc::clone(file));
        }
    }
    let digest = |files: &[Arc<Source>]| rulebook::read(files).0.unwrap().digest;
    assert_eq!(digest(&tidied), digest(trade()));
}
