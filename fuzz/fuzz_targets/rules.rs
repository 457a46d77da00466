//! Any text is read as rules or refused with places that lie in it, and what is
//! right and was tidied once stays as it is.
#![no_main]

use libfuzzer_sys::fuzz_target;
use perpend::diagnostic::Source;
use perpend::rulebook::syntax::ast::{ItemKind, Span};
use perpend::rulebook::syntax::{parse, tidy};

fuzz_target!(|text: &str| {
    let source = Source::new("case.rule", text);
    let (file, mistakes) = parse(&source);
    let lies_in = |start: usize, end: usize| {
        assert!(text.get(start..end).is_some(), "{start}..{end} is no stretch of the text");
    };
    for item in &file.items {
        match &item.kind {
            ItemKind::Statement(statement) => lies_in(statement.span.start, statement.span.end),
            ItemKind::Broken(Span { start, end }) => lies_in(*start, *end),
            ItemKind::Comment(_) => {}
        }
    }
    let broken = file.items.iter().any(|item| matches!(item.kind, ItemKind::Broken(_)));
    assert!(!broken || !mistakes.is_empty(), "refused without a word");
    for place in mistakes.iter().filter_map(|one| one.place.as_ref()) {
        lies_in(place.start, place.end);
    }
    // a file with a mistake is never tidied
    let (once, told) = tidy(&source);
    if told.is_empty() {
        let (twice, again) = tidy(&Source::new("case.rule", once.clone()));
        assert_eq!(once, twice);
        assert!(again.is_empty(), "{again:?}");
    }
});
