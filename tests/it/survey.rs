//! Surveys as people write them: what is read from them, and what is said about their slips.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use perpend::diagnostic::{Diagnostic, Source};
use perpend::rulebook::{self, book::Book};
use perpend::survey::{self, AdjoiningKind, AnswerValue, Known, Released, Survey, Tested, Watched};
use perpend::units::System;
use proptest::prelude::*;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[expect(clippy::disallowed_methods, reason = "books, cases and pages are files")]
fn text_of(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The book in `tests/cases/books/survey`.
static BOOK: LazyLock<Book> = LazyLock::new(|| read_book("survey"));

/// The book of the tests.
pub(crate) fn book() -> Book {
    BOOK.clone()
}

/// A book from a folder under `tests/cases/books`.
pub(crate) fn read_book(name: &str) -> Book {
    let folder = root().join("tests/cases/books").join(name);
    let mut files: Vec<_> = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let sources: Vec<Arc<Source>> = files
        .iter()
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            Source::new(name, text_of(path))
        })
        .collect();
    let (book, found) = rulebook::read(&sources);
    assert!(!found.iter().any(Diagnostic::is_error), "{}", told(&found));
    book.unwrap()
}

/// A survey that must have no mistake.
pub(crate) fn sound(text: &str, book: &Book) -> Survey {
    let (survey, found) = survey::read(&Source::new("survey.yaml", text), book);
    assert!(found.is_empty(), "{}", told(&found));
    survey.unwrap()
}

/// A survey of one zone, `A`, from further lines of the job and of the zone.
pub(crate) fn one_zone(job: &str, zone: &str) -> String {
    let indented = |lines: &str, by: &str| {
        lines.lines().map(|line| format!("{by}{}\n", line.trim_start())).collect::<Vec<_>>().concat()
    };
    format!(
        "survey: 1\njob:\n  code: T-01\n  name: Test wall\n  issue-date: 2027-03-01\n{}zones:\n  - code: A\n    name: First wall\n{}",
        indented(job, "  "),
        indented(zone, "    ")
    )
}

/// Diagnostics as plain text, one after the other.
fn told(found: &[Diagnostic]) -> String {
    found.iter().map(told_once).collect()
}

fn told_once(diagnostic: &Diagnostic) -> String {
    let place = diagnostic.place.as_ref().map(ToString::to_string).unwrap_or_default();
    let help = diagnostic.help.as_ref().map(|help| format!("    {help}\n")).unwrap_or_default();
    let also = diagnostic.also.iter().map(|(place, why)| format!("    {place}: {why}\n"));
    let also = also.collect::<Vec<_>>().concat();
    format!("{} {place}\n    {}\n{help}{also}", diagnostic.code, diagnostic.message)
}

fn mistakes(text: &str, book: &Book) -> Vec<Diagnostic> {
    let (survey, found) = survey::read(&Source::new("survey.yaml", text), book);
    assert_eq!(survey.is_none(), found.iter().any(Diagnostic::is_error));
    found
}

#[test]
fn every_slip_is_told_with_its_place_and_a_way_to_mend_it() {
    let book = book();
    insta::glob!(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/survey-bad"), "*.yaml", |path| {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let found = mistakes(&text_of(path), &book);
        let code = name.get(..5).filter(|code| code.starts_with("SU"));
        assert!(
            code.is_none_or(|code| found.iter().any(|diagnostic| diagnostic.code == code)),
            "{}",
            told(&found)
        );
        beside_the_cases("survey-bad", || insta::assert_snapshot!(name, told(&found)));
    });
}

/// Keeps a snapshot in a folder of `tests/cases`, under its own name.
pub(crate) fn beside_the_cases(folder: &str, assert: impl FnOnce()) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(root().join("tests/cases").join(folder));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.remove_snapshot_suffix();
    settings.bind(assert);
}

/// Codes whose bad case cannot be a survey alone; each has a test of its own below.
const OTHERWISE_TESTED: [&str; 2] = ["SU031", "SU032"];

#[test]
fn every_code_has_a_page_whose_words_a_bad_case_draws() {
    let book = book();
    let text = text_of(&root().join("src/survey/mistake.rs"));
    let codes: BTreeSet<&str> = text.split("code(").skip(1).filter_map(|rest| rest.get(..5)).collect();
    assert_eq!(codes.len(), 42);
    let cases =
        fs::read_dir(root().join("tests/cases/survey-bad")).unwrap().map(|entry| entry.unwrap().path());
    let cases = cases.filter(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    let drawn: BTreeSet<(String, String)> = cases
        .flat_map(|path| mistakes(&text_of(&path), &book))
        .map(|diagnostic| (diagnostic.code, diagnostic.message))
        .collect();
    for code in codes {
        let page = page_words(code);
        let case = drawn.contains(&(code.to_owned(), page.clone()));
        assert!(case || OTHERWISE_TESTED.contains(&code), "no bad case of {code} draws: {page}");
    }
}

/// What the page of a code says that its case gives.
fn page_words(code: &str) -> String {
    let page = text_of(&root().join(format!("docs/codes/{code}.md")));
    assert!(page.starts_with(&format!("# {code}: ")) && page.contains("To mend it, "), "{code}");
    page.split("```text\n").nth(1).and_then(|rest| rest.split("\n```").next()).unwrap().to_owned()
}

#[test]
fn ten_different_mistakes_are_told_in_one_run() {
    let text = text_of(&root().join("tests/cases/survey-bad/ten-mistakes.yaml"));
    let found = mistakes(&text, &book());
    let mut codes: Vec<&str> = found.iter().map(|diagnostic| diagnostic.code.as_str()).collect();
    codes.sort_unstable();
    codes.dedup();
    assert!(codes.len() >= 10, "{codes:?}");
    assert!(found.iter().all(|diagnostic| diagnostic.place.is_some() && diagnostic.help.is_some()));
}

/// The files of a book in a folder, by their paths from the root, and in its folders.
fn sources_under(folder: &Path) -> Vec<Arc<Source>> {
    let mut found: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.sort();
    let of = |path: &PathBuf| {
        if path.is_dir() {
            return sources_under(path);
        }
        let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
        vec![Source::new(name, text_of(path))]
    };
    found.iter().flat_map(of).collect()
}

#[test]
fn the_demo_surveys_read_clean_with_the_trade_book() {
    let (book, found) = rulebook::read(&sources_under(&root().join("rules/trade")));
    let book = book.unwrap_or_else(|| panic!("{}", told(&found)));
    let worked = perpend::wall::check(&book);
    assert!(worked.is_empty(), "{}", told(&worked));
    for job in ["watch-house", "tithe-wall", "ferrier-lane-hall"] {
        let text = text_of(&root().join(format!("examples/{job}/survey.yaml")));
        let survey = sound(&text, &book);
        let zones = perpend::wall::work(&survey, &book);
        assert_eq!(zones.len(), survey.zones.len());
    }
}

#[test]
fn a_job_keeps_its_profile_and_its_answers() {
    let book = book();
    let survey = sound(&one_zone("country: UK\nbuilt: [1870, 1890]\nfreeze-thaw: unknown", ""), &book);
    assert_eq!(survey.job.code, "T-01");
    assert_eq!(survey.job.section_number, None);
    assert_eq!(survey.job.profile.system, System::UsFirst);
    let built = answer(&survey.job.answers, &book, "built");
    let AnswerValue::Range(span) = &built else { panic!("{built:?}") };
    assert_eq!((span.low.written(), span.high.written()), ("1870", "1890"));
    assert_eq!(answer(&survey.job.answers, &book, "freeze-thaw"), AnswerValue::Unknown);
}

#[test]
fn si_units_first_go_with_a4_unless_another_sheet_is_asked_for() {
    let book = book();
    let sheet = |job: &str| sound(&one_zone(job, ""), &book).job.profile.sheet;
    assert_eq!(sheet("units: si-first"), survey::SheetSize::A4);
    assert_eq!(sheet("units: si-first\npaper: letter"), survey::SheetSize::Letter);
}

#[test]
fn unknown_empty_and_left_out_are_all_unanswered() {
    let book = book();
    let survey = sound(&one_zone("", "wall: unknown\ncoats: ~\ncracks:\nmoisture: ~"), &book);
    let zone = &survey.zones[0];
    assert!(zone.wall.is_none() && zone.coats.is_none() && zone.cracks.is_none() && zone.openings.is_none());
    assert!(zone.answers.is_empty());
    let survey = sound(&one_zone("", "coats: []\ncracks: []\nopenings: []\nadjoins: []"), &book);
    let zone = &survey.zones[0];
    assert!(
        zone.coats.as_ref().is_some_and(Vec::is_empty) && zone.cracks.as_ref().is_some_and(Vec::is_empty)
    );
    assert!(zone.openings.as_ref().is_some_and(Vec::is_empty));
    assert!(zone.adjoins.as_ref().is_some_and(Vec::is_empty));
}

#[test]
fn a_reading_keeps_how_it_was_taken() {
    let book = book();
    let reading = "{value: 5.2 %, method: carbide, instrument: flask, depth: 1 1/4 in, place: bay 2, date: 2027-02-11, \
                   by: architect, known: measured, photo: 14, layers: all}";
    let survey = sound(&one_zone("", &format!("moisture: {reading}")), &book);
    let fact = book.facts.iter().position(|fact| fact.name == "moisture").unwrap();
    let reading = &survey.zones[0].answers[&rulebook::book::FactId(fact)].readings[0];
    assert_eq!(reading.method.as_deref(), Some("carbide"));
    assert_eq!(reading.instrument.as_deref(), Some("flask"));
    assert_eq!(reading.depth.as_deref(), Some("1 1/4 in"));
    assert_eq!(reading.location.as_deref(), Some("bay 2"));
    assert_eq!(reading.date.as_deref(), Some("2027-02-11"));
    assert_eq!(reading.by.as_deref(), Some("architect"));
    assert_eq!(reading.known, Some(Known::Measured));
    assert_eq!(reading.photo.as_deref(), Some("14"));
    assert_eq!(reading.more, [("layers".to_owned(), "all".to_owned())]);
}

#[test]
fn a_depth_is_one_length_or_a_stretch_of_two() {
    let book = book();
    let depth = |written: &str| {
        let zone = format!("hollow: {{value: 5 %, depth: {written}}}");
        let survey = sound(&one_zone("", &zone), &book);
        let answer = survey.zones[0].answers.values().next().unwrap();
        answer.readings[0].depth.clone().unwrap()
    };
    assert_eq!(depth("10 to 30 mm"), "10 to 30 mm");
    assert_eq!(depth("[10 mm, 1 in]"), "10 mm to 1 in");
    let wrong = mistakes(&one_zone("", "hollow: {value: 5 %, depth: 10 to 30 psi}"), &book);
    assert_eq!(wrong.len(), 1);
}

#[test]
fn us_and_si_units_mix_freely() {
    let book = book();
    let zone = "wall:\n- {material: brick, thickness: [4 in, 120 mm], mu: 12, known: drawn}\n\
                size: {width: 12 ft, height: 3 m}\nopenings: [{width: 3 ft, height: 2100 mm}]\nnot-coated: 10 sq ft";
    let survey = sound(&one_zone("", zone), &book);
    let zone = &survey.zones[0];
    let layer = &zone.wall.as_ref().unwrap()[0];
    assert_eq!(layer.thickness.as_ref().unwrap().low.written(), "4 in");
    assert!(matches!(layer.tested, Some(Tested::Mu(_))));
    assert_eq!(layer.known, Some(Known::Drawn));
    assert_eq!(zone.openings.as_ref().unwrap()[0].count, 1);
}

#[test]
fn a_crack_nobody_watched_is_neither_still_nor_moving() {
    let book = book();
    let survey = sound(&one_zone("", "cracks:\n- {width: 0.2 mm}\n- {watched: unknown}"), &book);
    let cracks = survey.zones[0].cracks.as_ref().unwrap();
    assert!(cracks.iter().all(|crack| crack.watched == Watched::NotWatched));
}

#[test]
fn zones_and_things_adjoin_by_name() {
    let book = book();
    let text = one_zone("", "adjoins: [B, glass, glass]") + "  - code: B\n    name: Second wall\n";
    let survey = sound(&text, &book);
    let kinds: Vec<_> = survey.zones[0].adjoins.iter().flatten().map(|adjoining| adjoining.kind).collect();
    assert_eq!(kinds.len(), 2);
    assert_eq!(kinds[0], AdjoiningKind::Zone(1));
    assert!(matches!(kinds[1], AdjoiningKind::Thing(_)));
}

const RELEASES: &str = "releases:
  - {stop: wide-moving-crack, zones: [A], role: engineer, date: 2027-02-20, paper: report 7}
  - {hold-point: dry-enough, zones: [A, B], role: inspector, date: 2027-02-20, paper: sheet 3}
";

#[test]
fn a_release_of_a_stop_that_does_not_stand_is_a_mistake() {
    let book = book();
    let text = one_zone("", "") + "  - code: B\n    name: Second wall\n" + RELEASES;
    let survey = sound(&text, &book);
    let all = survey::check_releases(&survey, &book, &|_, _| true);
    assert!(all.is_empty());
    let found = survey::check_releases(&survey, &book, &|zone, what| {
        zone == 0 && matches!(what, Released::HoldPoint(_))
    });
    let codes: Vec<&str> = found.iter().map(|diagnostic| diagnostic.code.as_str()).collect();
    assert_eq!(codes, ["SU031", "SU031"]);
    assert_eq!(found[0].message, page_words("SU031"));
    assert_eq!(found[1].message, "there is no hold point `dry-enough` in zone `B` to release");
}

#[test]
fn a_table_that_the_book_lacks_is_named() {
    let mut book = book();
    book.catalogues.retain(|catalogue| catalogue.name != "materials");
    let found = mistakes(&one_zone("", "wall: [{material: brick, thickness: 100 mm}]"), &book);
    assert_eq!(found[0].code, "SU032");
    assert_eq!(found[0].message, page_words("SU032"));
}

fn answer(answers: &survey::Answers, book: &Book, name: &str) -> AnswerValue {
    let fact = book.facts.iter().position(|fact| fact.name == name).unwrap();
    answers[&rulebook::book::FactId(fact)].readings[0].value.clone()
}

/// Pieces that surveys are made of, in any order and any depth.
fn piece() -> impl Strategy<Value = String> {
    let words = [
        "unknown",
        "~",
        "",
        "yes",
        "5 %",
        "[1, 2]",
        "[]",
        "{}",
        "{value: 3 mm}",
        "[a, [b]]",
        "2027-03-01",
        "22 perm",
        "A",
        "brick",
        "[{}]",
        "- x",
        "\"",
        "!!int 3",
        "&a 1",
        "*a",
        "0.2 mm",
        "[9 mm, 1 in]",
        "\u{feff}",
        "1e400 m",
    ];
    prop::sample::select(words.to_vec()).prop_map(str::to_owned)
}

fn key() -> impl Strategy<Value = String> {
    let keys = [
        "survey",
        "job",
        "zones",
        "code",
        "name",
        "issue-date",
        "status",
        "units",
        "built",
        "moisture",
        "lead-test",
        "wall",
        "coats",
        "cracks",
        "size",
        "openings",
        "not-coated",
        "adjoins",
        "elevations",
        "from-left",
        "from-base",
        "departures",
        "releases",
        "material",
        "thickness",
        "permeance",
        "mu",
        "layers",
        "width",
        "height",
        "count",
        "from",
        "stop",
        "hold-point",
        "role",
        "date",
        "paper",
    ];
    prop::sample::select(keys.to_vec()).prop_map(str::to_owned)
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}") {
        mistakes(&text, &book());
    }

    #[test]
    fn no_heap_of_keys_makes_the_reader_panic(lines in prop::collection::vec((0usize..5, any::<bool>(), key(), piece()), 0..40)) {
        let text = lines.iter().map(|(depth, item, key, value)| {
            let dash = if *item { "- " } else { "" };
            format!("{}{dash}{key}: {value}\n", "  ".repeat(*depth))
        }).collect::<Vec<_>>().concat();
        mistakes(&text, &book());
    }

    #[test]
    fn no_answer_makes_the_reader_panic(job in prop::collection::vec((key(), piece()), 0..5), zone in prop::collection::vec((key(), piece()), 0..8)) {
        let lines = |pairs: &[(String, String)]| pairs.iter().map(|(key, value)| format!("{key}: {value}\n")).collect::<Vec<_>>().concat();
        mistakes(&one_zone(&lines(&job), &lines(&zone)), &book());
    }
}
