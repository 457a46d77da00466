//! What a firm's book weakens of the trade's is found by comparison, and told everywhere it must be.

use std::fmt::Write as _;

use perpend::diagnostic::Source;
use perpend::proof::{self, Depth, Item, Shown, Weakenings};
use perpend::rulebook;
use perpend::rulebook::book::Book;
use perpend::units::System;
use proptest::prelude::*;

use crate::folders::{root, sources};
use crate::random_books;

fn whole<T>((value, found): (Option<T>, Vec<perpend::diagnostic::Diagnostic>)) -> T {
    let errors: Vec<_> = found.into_iter().filter(perpend::diagnostic::Diagnostic::is_error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    value.unwrap()
}

/// The small book with more statements, and a firm's book over it with these changes.
fn over_small(more: &str, changes: &str) -> Book {
    let mut below = sources(root(), "tests/cases/books/language");
    below.push(Source::new("more.rule", more));
    let digest = whole(rulebook::read(&below)).digest;
    let head = format!(
        "house rulebook \"Ours\" edition 7 over \"A book for tests\" edition 1 digest {digest}\n\
         source own-jobs \"What we saw\", common practice\n{changes}"
    );
    whole(rulebook::read_over(&below, &[Source::new("house.rule", head)]))
}

const GROUND: &str = "  because \"We saw it.\"\n  per own-jobs\n";

fn looked(book: &Book) -> Weakenings {
    proof::weakenings(book, 100_000, Depth::Shown(20)).unwrap()
}

/// What is lost, and by which changes, in words.
fn lost(book: &Book, found: &Weakenings) -> Vec<(String, Vec<String>)> {
    let house = book.house.as_deref().unwrap();
    let all = found.found.iter().map(|weakening| {
        assert!(weakening.is_shown(), "{weakening:?}");
        let by = weakening.by.iter().map(|change| house.changes[*change].words.clone()).collect();
        (weakening.item.in_words(&[&house.below, book], System::SiFirst), by)
    });
    all.collect()
}

const SOFT: &str = "rule old-wall-washed-softly";

#[test]
fn a_limit_that_is_loosened_weakens_and_one_that_is_tightened_does_not() {
    let change = |to: &str| {
        format!("amend limit wash-pressure in old-wall-washed-softly from 300 psi to {to}\n{GROUND}")
    };
    let looser = over_small("", &change("400 psi"));
    let by = "amend limit wash-pressure in old-wall-washed-softly from 300 psi to 400 psi".to_owned();
    let what = "`wash-pressure` is held to at most 2.07\u{a0}MPa (300\u{a0}psi)".to_owned();
    assert_eq!(lost(&looser, &looked(&looser)), [(what, vec![by])]);
    let tighter = over_small("", &change("200 psi"));
    assert_eq!(lost(&tighter, &looked(&tighter)), []);
}

#[test]
fn a_finding_that_is_widened_weakens_what_is_asked_for_where_it_does_not_hold() {
    let more = format!(
        "rule dry-wall-may-be-washed\n  where not damp-wall\n  caution \"Wash it.\" for crew\n{}",
        GROUND.replace("own-jobs", "common-practice")
    );
    let book = over_small(&more, &format!("amend finding damp-wall also where historic\n{GROUND}"));
    let found = looked(&book);
    let by = vec!["amend finding damp-wall also where historic".to_owned()];
    assert_eq!(lost(&book, &found), [("the caution \"Wash it.\" is given".to_owned(), by)]);
    let told = proof::weakened(&book, &found, System::UsFirst);
    let [told] = told.as_slice() else { panic!("{told:#?}") };
    assert!(!told.is_error());
    assert_eq!(told.code, "PR030");
    assert_eq!(told.message, "`amend finding damp-wall also where historic` weakens the trade book");
    let help = told.help.as_deref().unwrap();
    for words in ["We saw it.", "What we saw", "historic: yes", "the caution \"Wash it.\" is given"] {
        assert!(help.contains(words), "`{words}` is not in {help}");
    }
    assert!(told.place.as_ref().unwrap().text().starts_with("amend finding damp-wall"));
    assert!(told.also.iter().any(|(place, _)| place.text() == "finding damp-wall"));
}

#[test]
fn two_changes_that_each_suffice_are_named_together() {
    let changes = format!(
        "amend rule damp-wall-waits only where historic\n{GROUND}amend finding damp-wall only where historic\n{GROUND}"
    );
    let book = over_small("", &changes);
    let lost = lost(&book, &looked(&book));
    let [(what, by)] = lost.as_slice() else { panic!("{lost:#?}") };
    assert_eq!(what, "clause `wait-until-dry` is required");
    assert_eq!(by.len(), 2, "{by:?}");
}

#[test]
fn a_withdrawn_preference_moves_the_choice_and_a_withdrawn_limit_weakens() {
    let more = format!(
        "rule acrylic-first\n  where historic\n  prefer coating acrylic over every other\n{0}\
         rule acrylic-is-tended\n  where chosen coating is acrylic\n  caution \"Wash it.\" for owner\n{0}",
        GROUND.replace("own-jobs", "common-practice")
    );
    let book = over_small(&more, &format!("withdraw rule acrylic-first\n{GROUND}"));
    let found = looked(&book);
    assert_eq!(lost(&book, &found), []);
    assert_eq!(found.moves, [0]);
    assert_eq!(found.with_choice, [Item::Caution("Wash it.".to_owned())]);
    let told = proof::weakened(&book, &found, System::UsFirst);
    assert_eq!(told.iter().map(|told| told.code.as_str()).collect::<Vec<_>>(), ["PR031"]);
    let book = over_small(&more, &format!("withdraw {SOFT}\n{GROUND}"));
    assert_eq!(lost(&book, &looked(&book)).len(), 1);
}

#[test]
fn a_row_that_a_firm_adds_is_seen_as_another_choice_and_where_it_ends_a_stop() {
    let trade = GROUND.replace("own-jobs", "common-practice");
    let row =
        "add row oil to paints, titled \"oil paint\"\n  with sd 0.9 m, wait 24 h, binder organic, film yes\n";
    // Nothing is put on a damp wall by the trade; the firm's oil is refused by no rule of the trade's.
    let more = format!(
        "rule nothing-on-damp\n  where damp-wall\n  refuse coating limewash, acrylic, leave-bare\n{trade}"
    );
    let book = over_small(&more, &format!("{row}{GROUND}"));
    let found = looked(&book);
    let by = vec!["add row oil to paints, titled \"oil paint\"".to_owned()];
    assert_eq!(lost(&book, &found), [("the stop stands where every coating is refused".to_owned(), by)]);
    assert_eq!(found.moves, [0]);
    let prefer = format!("rule oil-first\n  prefer coating oil over every other\n{GROUND}");
    let book = over_small("", &format!("{row}{GROUND}{prefer}"));
    let found = looked(&book);
    assert_eq!((lost(&book, &found), found.moves), (Vec::new(), vec![0, 1]));
    // A column and other words of a clause change nothing that is decided.
    let column = "add column keeps to paints, titled \"keeps\", duration\n  with limewash 1 year, acrylic 1 year, leave-bare none\n";
    let words = "amend clause wait-until-dry in section from \"no coat\" to \"no paint\"\n";
    let book = over_small("", &format!("{column}{GROUND}{words}{GROUND}"));
    let found = looked(&book);
    assert_eq!((lost(&book, &found), found.moves), (Vec::new(), Vec::new()));
}

/// Facts and a condition that no survey makes true, for reasons that a solver finds only by going through nearly all
/// cases: more pigeons than holes, each in a hole of its own.
pub(crate) fn pigeons(count: usize) -> (String, String) {
    let name = |pigeon: usize, hole: usize| format!("pigeon-p{pigeon}-h{hole}");
    let (mut text, mut all) = (String::new(), Vec::new());
    for pigeon in 0..count {
        let holes: Vec<String> = (1..count).map(|hole| name(pigeon, hole)).collect();
        for hole in &holes {
            let _ = writeln!(text, "fact {hole} of zone, yes or no\n  ask \"Is it there?\"");
        }
        all.push(format!("({})", holes.join(" or ")));
    }
    for hole in 1..count {
        for (one, other) in (0..count).flat_map(|one| (0..one).map(move |other| (one, other))) {
            all.push(format!("not ({} and {})", name(one, hole), name(other, hole)));
        }
    }
    (text, all.join("\n    and "))
}

/// A rule with such a condition, left out while an answer is open.
fn crowded_loft(count: usize) -> String {
    let (facts, never) = pigeons(count);
    let ground = GROUND.replace("own-jobs", "common-practice");
    let unsure = "  if unsure leave out because \"Pigeons are seldom counted.\"\n";
    format!("{facts}rule crowded-loft\n  where {never}\n  caution \"Mind them.\" for crew\n{unsure}{ground}")
}

#[test]
fn what_is_not_settled_is_said_to_be_so() {
    let withdrawn = format!("withdraw rule crowded-loft\n{GROUND}");
    let book = over_small(&crowded_loft(9), &withdrawn);
    let found = proof::weakenings(&book, 500, Depth::Named).unwrap();
    let [weakening] = found.found.as_slice() else { panic!("{found:?}") };
    assert!(matches!(weakening.shown, Shown::NotSettled), "{weakening:?}");
    let told = proof::weakened(&book, &found, System::UsFirst);
    let [told] = told.as_slice() else { panic!("{told:#?}") };
    assert_eq!(told.code, "PR012");
    assert!(told.message.contains("Mind them.") && !told.is_error(), "{told:?}");
    let few = over_small(&crowded_loft(3), &withdrawn);
    assert!(proof::weakenings(&few, 500, Depth::Named).unwrap().found.is_empty());
}

/// The set of a demo job written with the firm's book of the repository: the reasons as Markdown, and the record.
fn written(survey: &str) -> (String, serde_json::Value, String) {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    let house =
        ["--rulebook", "rules/house-example", "--only", "reasons", "--format", "md", "--out", &folder];
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_perpend"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args([&["write", survey], house.as_slice()].concat())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let set = std::fs::read_dir(out.path()).unwrap().next().unwrap().unwrap().path();
    let read = |name: &str| std::fs::read_to_string(set.join(name)).unwrap();
    let record = serde_json::from_str(&read("record.json")).unwrap();
    (read("reasons.md"), record, String::from_utf8_lossy(&output.stdout).into_owned())
}

#[test]
fn the_reasons_say_what_the_firms_book_weakens_and_what_this_job_loses() {
    let (reasons, record, said) = written("examples/watch-house/survey.yaml");
    let lines = |with: &str| reasons.lines().filter(|line| line.contains(with)).collect::<Vec<_>>();
    let weakening = lines("weakens the trade book:");
    let [change] = weakening.as_slice() else { panic!("{weakening:#?}") };
    for words in [
        "`amend finding paint-comes-off only where not old-coating is limewash`",
        "There is no order of removal",
        "What this practice saw on its own jobs",
        "clause `removal-sequence` is required",
    ] {
        assert!(change.contains(words), "`{words}` is not in {change}");
    }
    for change in ["amend limit wash-pressure", "amend coatings limewash", "amend rule rain-drives"] {
        assert!(lines(change).iter().any(|line| line.contains("nothing is lost")), "{change}");
    }
    assert!(lines("withdraw rule").iter().any(|line| line.contains("another option may be chosen")));
    assert!(
        reasons.contains("| Clause `removal-sequence` is required | Q2 and Q3 | not here | 5 |"),
        "{reasons}"
    );
    assert!(said.contains("weaker than the trade book here: 6 of its duties are lost"), "{said}");
    let lost = record["house"]["lost"].as_array().unwrap();
    assert_eq!(lost.len(), 6);
    assert!(lost.iter().all(|lost| lost["changes"] == serde_json::json!([5])), "{lost:#?}");
}

#[test]
fn a_job_that_loses_nothing_says_so() {
    let (reasons, record, said) = written("examples/tithe-wall/survey.yaml");
    assert!(reasons.contains("no duty, refusal, stop or limit that it does not have here"), "{reasons}");
    assert!(!reasons.contains("What this job loses") && !said.contains("weaker"));
    assert_eq!(record["house"]["lost"], serde_json::json!([]));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Whatever one survey loses while it chooses the same is among what is told, and each thing told is shown by a
    /// survey that the evaluator reads, with the change to blame.
    #[test]
    fn no_weakening_is_missed_and_none_is_made_up(
        plan in random_books::plans(),
        changes in random_books::firm_changes(),
        surveys in prop::collection::vec(random_books::answers(), 8),
    ) {
        let book = random_books::firms_book(&plan, &changes);
        let house = book.house.as_deref().unwrap();
        let found = proof::weakenings(&book, 100_000, Depth::Named).unwrap();
        for weakening in &found.found {
            prop_assert!(weakening.is_shown(), "{weakening:?}");
        }
        for answers in &surveys {
            let before = random_books::facts(&house.below, answers);
            let after = random_books::facts(&book, answers);
            let turns = proof::turns((&house.below, &before), (&book, &after));
            if turns.iter().any(|turn| !turn.item.is_duty()) {
                continue;
            }
            for turn in turns.iter().filter(|turn| turn.after < turn.before) {
                let told = found.found.iter().any(|weakening| weakening.item == turn.item);
                prop_assert!(told, "{turn:?} of {answers:?} is not told");
            }
        }
    }
}
