//! A firm's book over the trade's.

use std::path::Path;
use std::sync::Arc;

use perpend::diagnostic::Source;
use perpend::rulebook::book::{Book, CellValue, Condition, EffectKind, LimitValue, Rule, TestKind};
use perpend::rulebook::{self};

use super::bad::with;
use super::folder;

fn below() -> (Vec<Arc<Source>>, Book) {
    let files = with(&[]);
    let book = rulebook::read(&files).0.unwrap();
    (files, book)
}

/// Reads a firm's book over the small one.
fn over(changes: &str) -> Book {
    let (files, book) = below();
    let head = format!(
        "house rulebook \"Ours\" edition 7 over \"A book for tests\" edition 1 digest {}\n\
         source own-jobs \"What we saw\", common practice\n{changes}",
        book.digest
    );
    let (book, found) = rulebook::read_over(&files, &[Source::new("house.rule", head)]);
    assert!(found.is_empty(), "{found:#?}");
    book.unwrap()
}

fn rule<'b>(book: &'b Book, name: &str) -> Option<&'b Rule> {
    book.rules.iter().find(|rule| rule.name == name)
}

const GROUND: &str = "  because \"We saw it.\"\n  per own-jobs\n";

#[test]
fn a_firms_book_gives_its_own_name_and_edition_and_another_digest() {
    let (_, below) = below();
    let book = over("");
    assert_eq!((book.title.as_str(), book.edition.as_str()), ("Ours", "7"));
    assert_ne!(book.digest, below.digest);
    assert_eq!(book.rules.len(), below.rules.len());
}

#[test]
fn a_changed_limit_stands_in_a_rule_of_the_firms_under_the_same_condition() {
    let book = over(&format!(
        "amend limit wash-pressure in old-wall-washed-softly from 300 psi to 200 psi\n{GROUND}"
    ));
    assert!(rule(&book, "old-wall-washed-softly").is_none());
    let changed = rule(&book, "old-wall-washed-softly-wash-pressure").unwrap();
    assert_eq!(changed.ground.because, "We saw it.");
    let EffectKind::Limit { value: LimitValue::Literal(value), .. } = &changed.effects[0].kind else {
        panic!()
    };
    assert_eq!(value.written(), "200 psi");
    let Condition::Test(test) = &changed.when else { panic!() };
    let TestKind::Finding(holds) = test.kind else { panic!() };
    assert_eq!(book.findings[holds.0].ground.because, "Old brick is soft behind its skin.");
}

#[test]
fn a_condition_is_narrowed_or_widened_by_a_finding_of_the_firms() {
    let narrowed = over(&format!("amend rule damp-wall-waits only where historic\n{GROUND}"));
    let Condition::All(parts) = &rule(&narrowed, "damp-wall-waits").unwrap().when else { panic!() };
    assert_eq!(parts.len(), 2);
    let widened = over(&format!("amend rule damp-wall-waits also where historic\n{GROUND}"));
    assert!(matches!(rule(&widened, "damp-wall-waits").unwrap().when, Condition::Any(_)));
    let finding =
        widened.findings.iter().find(|finding| finding.name == "damp-wall-waits-also-where").unwrap();
    assert_eq!(finding.ground.because, "We saw it.");
}

#[test]
fn a_changed_cell_carries_the_firms_source() {
    let book = over(&format!("amend paints acrylic sd from [0.1 m, 0.4 m] to [0.1 m, 0.5 m]\n{GROUND}"));
    let paints = &book.catalogues[0];
    let cell = paints.cell(paints.option("acrylic").unwrap(), paints.column("sd").unwrap()).unwrap();
    let CellValue::Measure(_, high) = &cell.value else { panic!() };
    assert_eq!(high.written(), "0.5 m");
    assert_eq!(book.sources[cell.per[0].source.0].name, "own-jobs");
    let worked = paints.cell(paints.option("acrylic").unwrap(), paints.column("permeance").unwrap()).unwrap();
    assert!(worked.per.iter().any(|per| book.sources[per.source.0].name == "own-jobs"));
}

const OIL: &str = "add row oil to paints, titled \"oil paint\"\n  with sd [0.3 m, 0.9 m], wait 24 h, binder organic, film yes\n";
const KEEPS: &str = "add column keeps to paints, titled \"keeps in the tin\", duration, worst low\n  \
                     with limewash 6 weeks, acrylic [1 year, 2 years], leave-bare none";

#[test]
fn an_added_row_is_an_option_with_the_firms_source() {
    let refused = "rule oil-on-old-walls\n  where historic\n  refuse coating oil\n";
    let book = over(&format!("{OIL}{GROUND}{refused}{GROUND}"));
    let paints = &book.catalogues[0];
    let oil = paints.option("oil").unwrap();
    assert_eq!((paints.options[oil.0].title.as_str(), paints.options.len()), ("oil paint", 4));
    let CellValue::Measure(_, high) = &paints.cell(oil, paints.column("sd").unwrap()).unwrap().value else {
        panic!()
    };
    assert_eq!(high.written(), "0.9 m");
    let worked = paints.cell(oil, paints.column("permeance").unwrap()).unwrap();
    assert!(worked.per.iter().any(|per| book.sources[per.source.0].name == "own-jobs"));
    let change = &book.house.as_ref().unwrap().changes[0];
    assert_eq!(change.words, "add row oil to paints, titled \"oil paint\"");
    assert_eq!((change.because.as_deref(), change.per.len()), (Some("We saw it."), 1));
    assert!(change.kind.decides() && change.concerns.is_some());
}

#[test]
fn an_added_column_is_read_by_the_firms_own_rules() {
    let rule = "rule keeps-long\n  where chosen coating whose keeps at least 1 year\n  caution \"Keep a tin.\" for owner\n";
    let book = over(&format!("{KEEPS}\n{GROUND}{rule}{GROUND}"));
    let paints = &book.catalogues[0];
    let keeps = paints.column("keeps").unwrap();
    assert_eq!(paints.columns[keeps.0].title, "keeps in the tin");
    let bare = paints.cell(paints.option("leave-bare").unwrap(), keeps).unwrap();
    assert_eq!(bare.value, CellValue::None);
    // A row of the firm's own has a cell there too.
    let both = over(&format!("{KEEPS}, oil 3 years\n{GROUND}{OIL}{GROUND}"));
    let paints = &both.catalogues[0];
    let CellValue::Measure(low, _) =
        &paints.cell(paints.option("oil").unwrap(), paints.column("keeps").unwrap()).unwrap().value
    else {
        panic!()
    };
    assert_eq!(low.written(), "3 years");
}

#[test]
fn words_of_a_clause_are_changed_where_they_stand_once() {
    let change = "amend clause wait-until-dry in section\n    from \"while the\n      wall is damp\" to \"before the wall is dry\"\n";
    let book = over(&format!("{change}{GROUND}"));
    let clause = book.clauses.iter().find(|clause| clause.name == "wait-until-dry").unwrap();
    let words: Vec<&str> = clause.wording.values().map(|wording| wording.place.text().trim()).collect();
    assert_eq!(words, ["Apply no coat before the wall is dry."]);
    let (_, below) = below();
    assert_ne!(
        book.statement_digests["clause wait-until-dry"],
        below.statement_digests["clause wait-until-dry"]
    );
    let change = &book.house.as_ref().unwrap().changes[0];
    assert!(change.words.starts_with("amend clause wait-until-dry in section from"), "{}", change.words);
    assert!(!change.kind.decides() && change.concerns.is_some());
}

#[test]
fn additions_and_new_words_need_a_reason_and_a_source() {
    let (files, book) = below();
    for change in [
        OIL,
        &format!("{KEEPS}\n"),
        "amend clause wait-until-dry in section from \"no coat\" to \"no paint\"\n",
    ] {
        let text = format!(
            "house rulebook \"Ours\" edition 1 over \"A book for tests\" edition 1 digest {}\n{change}",
            book.digest
        );
        let (book, found) = rulebook::read_over(&files, &[Source::new("house.rule", text)]);
        assert!(book.is_none());
        let codes: Vec<&str> = found.iter().map(|found| found.code.as_str()).collect();
        for code in ["RC040", "RC041"] {
            assert!(codes.contains(&code), "{change}: {found:#?}");
        }
    }
}

#[test]
fn a_withdrawn_rule_is_gone_and_the_firm_may_state_its_own() {
    let own = "rule dry-wall\n  where damp-wall\n  require clause wait-until-dry\n";
    let book = over(&format!("withdraw rule damp-wall-waits\n{GROUND}{own}{GROUND}"));
    assert!(rule(&book, "damp-wall-waits").is_none() && rule(&book, "dry-wall").is_some());
}

#[test]
fn the_order_of_changes_means_nothing() {
    let limit =
        format!("amend limit wash-pressure in old-wall-washed-softly from 300 psi to 200 psi\n{GROUND}");
    let narrow = format!("amend rule old-wall-washed-softly only where historic\n{GROUND}");
    assert_eq!(over(&format!("{limit}{narrow}")).digest, over(&format!("{narrow}{limit}")).digest);
}

/// The file with the digest it names replaced, so that the trade may change between two editions of the example.
fn over_digest(file: &Source, digest: &str) -> Arc<Source> {
    let text = match file.text.split_once("digest ") {
        Some((before, after)) => {
            let rest = after.trim_start_matches(|sign: char| sign.is_ascii_hexdigit());
            format!("{before}digest {digest}{rest}")
        }
        None => file.text.clone(),
    };
    Source::new(file.name.clone(), text)
}

#[test]
fn the_example_of_a_firms_book_reads_over_the_trade() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let trade = folder(&root.join("rules/trade"));
    let digest = rulebook::read(&trade).0.unwrap().digest;
    let house: Vec<Arc<Source>> =
        folder(&root.join("rules/house-example")).iter().map(|file| over_digest(file, &digest)).collect();
    let (book, found) = rulebook::read_over(&trade, &house);
    assert!(found.is_empty(), "{found:#?}");
    assert!(book.unwrap().title.starts_with("Two-person practice"));
}

/// The codes of what stands against a firm's book that begins and goes on like this.
fn refused(below: &[Arc<Source>], text: &str) -> Vec<String> {
    let (book, found) = rulebook::read_over(below, &[Source::new("house.rule", text)]);
    assert!(book.is_none(), "{text}");
    found.iter().filter(|found| found.is_error()).map(|found| found.code.clone()).collect()
}

#[test]
fn a_firms_book_stands_neither_on_itself_nor_on_another_firms() {
    let (files, book) = below();
    let head = |title: &str, over: &str| {
        format!("house rulebook \"{title}\" edition 1 over \"{over}\" edition 1 digest {}\n", book.digest)
    };
    assert_eq!(refused(&files, &head("Ours", "Ours")), ["LA001"]);
    // Two firms, each over the other: there is no book at the bottom.
    let theirs = [Source::new("theirs.rule", head("Theirs", "Ours"))];
    assert_eq!(refused(&theirs, &head("Ours", "Theirs")), ["RC059"]);
}

#[test]
fn a_book_below_that_is_missing_or_of_another_edition_is_named_with_what_was_wanted() {
    let (files, book) = below();
    let over = |edition: &str, digest: &str| {
        format!(
            "house rulebook \"Ours\" edition 1 over \"A book for tests\" edition {edition} digest {digest}\n"
        )
    };
    assert_eq!(refused(&files, &over("2", &book.digest)), ["LA001"]);
    assert_eq!(refused(&files, &over("1", "0123456789ab")), ["LA002"]);
    let (nothing, found) = rulebook::read_over(&[], &[Source::new("house.rule", over("1", &book.digest))]);
    assert!(nothing.is_none() && found.iter().any(perpend::diagnostic::Diagnostic::is_error));
}

#[test]
fn a_finding_cannot_be_made_to_wait_for_itself() {
    let (files, book) = below();
    let text = format!(
        "house rulebook \"Ours\" edition 1 over \"A book for tests\" edition 1 digest {}\n\
         source own-jobs \"What we saw\", common practice\n\
         amend finding damp-wall only where damp-wall\n{GROUND}",
        book.digest
    );
    assert_eq!(refused(&files, &text), ["RC070"]);
}

#[test]
fn what_is_withdrawn_is_neither_changed_nor_withdrawn_again() {
    let (files, book) = below();
    let with = |changes: &str| {
        format!(
            "house rulebook \"Ours\" edition 1 over \"A book for tests\" edition 1 digest {}\n\
             source own-jobs \"What we saw\", common practice\nwithdraw rule damp-wall-waits\n{GROUND}{changes}{GROUND}",
            book.digest
        )
    };
    assert_eq!(refused(&files, &with("amend rule damp-wall-waits only where historic\n")), ["LA009"]);
    assert_eq!(refused(&files, &with("withdraw rule damp-wall-waits\n")), ["LA007"]);
}
