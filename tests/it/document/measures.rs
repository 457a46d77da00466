//! Measures that every set keeps: pages, reading grade, what is said first, what is never said, and arithmetic.

use perpend::document::block::{BlockKind, plain};
use perpend::document::{Document, markdown};
use perpend::render::layout;

use super::sets::{SETS, cells, paper, tables};
use crate::plain_words::{grade, sentences};
use crate::visit::claims;

/// Text without the signs that Markdown escapes, on one line.
fn said(paper: &Document) -> String {
    let text = markdown(paper).replace('\\', "").replace('\u{a0}', " ").replace('\u{2019}', "'");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_owners_sheet_is_two_pages_of_grade_six_and_opens_with_safety() {
    for (job, papers) in SETS.iter() {
        let owner = paper(papers, "owner-sheet");
        assert_eq!(layout(owner).unwrap().pages(), 2, "{job}");
        let grade = grade(&sentences(owner));
        assert!(grade <= 6.0, "{job}: grade {grade:.2}");
        // where no caution applies the list of safety comes first
        let first = &owner.blocks[0];
        assert!(
            matches!(&first.kind, BlockKind::Heading { text, .. } if plain(text) == "Safety first"),
            "{job}"
        );
        let first = &owner.blocks[1].kind;
        let is_warning = matches!(first, BlockKind::Caution { word, .. } if word == "WARNING");
        assert!(is_warning || matches!(first, BlockKind::Bullet { .. }), "{job}");
    }
}

#[test]
fn the_owner_washes_with_a_hose_alone() {
    for (job, papers) in SETS.iter() {
        let text = said(paper(papers, "owner-sheet")).to_lowercase();
        assert!(text.contains("never use a pressure washer; use a hose"), "{job}");
        for sentence in text.split(['.', '|']) {
            let forceful =
                ["pressure", "jet", "steam", "blast", "lance"].iter().any(|word| sentence.contains(word));
            let barred = sentence.contains("never") || sentence.contains("are barred");
            assert!(!forceful || barred, "{job}: {sentence}");
        }
    }
}

/// Words that promise how long something lasts, or set a day for the next coat.
const PROMISES: [&str; 8] =
    ["decade", "years of life", "life of", "will last", "lasts for", "recoat", "repaint", "guarantee"];

#[test]
fn the_owner_is_told_when_to_look_and_never_how_long_a_coat_lasts() {
    for (job, papers) in SETS.iter() {
        let text = said(paper(papers, "owner-sheet"));
        for promise in PROMISES {
            assert!(!text.to_lowercase().contains(promise), "{job}: {promise}");
        }
        for sentence in text.split('.') {
            let words: Vec<&str> = sentence.split_whitespace().collect();
            let counts_years = words
                .windows(2)
                .any(|two| two[0].chars().all(|sign| sign.is_ascii_digit()) && two[1].starts_with("year"));
            assert!(!counts_years || sentence.contains("Look at it up close after"), "{job}: {sentence}");
        }
    }
}

#[test]
fn a_zone_takes_two_pages_of_the_survey_sheet_and_the_job_one() {
    for (job, papers) in SETS.iter() {
        let sheet = paper(papers, "survey-sheet");
        let zones = sheet.blocks.iter().filter(|block| block.id.starts_with("zone-")).count();
        let pages = layout(sheet).unwrap().pages();
        assert!(
            zones > 0 && pages <= 2 * zones + 2,
            "{job}: {pages} pages for {zones} zones, the job, the words"
        );
    }
}

/// What no paper decides, each in the words of the papers, of the crew sheets or of what the owner reads.
const UNDECIDED: [(&str, [&str; 3]); 12] = [
    ("dry", ["a wall is dry", "the wall is dry", "wall is dry"]),
    ("sound", ["sound or stable", "dry, sound or stable", "dry, sound or stable"]),
    ("stable", ["sound or stable", "dry, sound or stable", "dry, sound or stable"]),
    ("lead", ["free of lead", "the paint free of lead", "free of lead"]),
    ("asbestos", ["of asbestos", "free of asbestos", "free of asbestos"]),
    ("cracks", ["a crack is still", "a crack still", "a crack is still"]),
    ("lines", ["a line is insulated", "a line insulated", "a line is insulated"]),
    ("consent", ["consent is not needed", "leave given", "need no consent"]),
    ("products", ["a product offered complies", "a product right", "a product is the right one"]),
    ("release", ["lapse of days", "Days and forecasts free no hold", "lapse of days"]),
    ("liability", ["who is liable", "Who may say so signs", "who pays"]),
    ("warranty", ["how long a warranty runs", "Who may say so signs", "how long a warranty runs"]),
];

/// The same in the words of the letter of a first visit.
const LETTER: [&str; 7] = [
    "does not say that the wall is dry or safe",
    "does not say that the paint is free of lead or the house free of asbestos",
    "does not say that a crack is still",
    "that a wire is safe",
    "that you need no consent",
    "does not say who pays",
    "no offer and no leave to start",
];

#[test]
fn every_paper_says_what_it_does_not_decide() {
    for (job, papers) in SETS.iter() {
        // the letter of a first visit, one page, says the same of what it speaks of
        let letter = said(paper(papers, "findings-letter"));
        for words in LETTER {
            assert!(letter.contains(words), "{job}: the letter does not say `{words}`");
        }
        for paper in papers.iter().filter(|paper| paper.name != "findings-letter") {
            let text = said(paper);
            for (what, [usual, crew, plain]) in UNDECIDED {
                let words = match paper.name.as_str() {
                    "crew-sheets" => crew,
                    "owner-sheet" => plain,
                    _ => usual,
                };
                assert!(text.contains(words), "{job}: {} does not say of {what}: `{words}`", paper.name);
            }
        }
        let crew = paper(papers, "crew-sheets");
        let sheets =
            crew.blocks.iter().filter(|block| matches!(block.kind, BlockKind::Heading { .. })).count();
        assert_eq!(said(crew).matches("Not said here:").count(), sheets, "{job}: each sheet says so");
    }
}

#[test]
fn no_paper_of_any_job_decides_what_only_others_may() {
    for (job, papers) in SETS.iter() {
        for paper in papers {
            assert_eq!(claims(&said(paper)), [""; 0], "{job}: {}", paper.name);
        }
    }
}

/// Neither days that passed nor a forecast nor a sum releases anything: only a release that the survey holds does.
#[test]
fn nothing_is_released_that_the_survey_does_not_release() {
    let mut without = 0;
    for (job, papers) in SETS.iter() {
        let survey = super::sets::survey_of(job);
        if survey.contains("releases:") && !survey.contains("releases: []") {
            continue;
        }
        without += 1;
        for paper in papers {
            let text = said(paper);
            for words in ["Released:", "Released in zone", ", released |"] {
                assert!(!text.contains(words), "{job}: {}: {words}", paper.name);
            }
        }
    }
    assert!(without >= 5);
}

/// Both ends of a figure in this unit: `143 to 200 µm` is 143 and 200.
fn ends(text: &str, unit: &str) -> (f64, f64) {
    let text = text.replace('\u{a0}', " ").replace(',', "");
    let (before, _) = text.split_once(&format!(" {unit}")).unwrap_or_else(|| panic!("no {unit} in {text}"));
    let before = before.rsplit('(').next().unwrap();
    let figure = |word: &str| word.trim().parse::<f64>().unwrap_or_else(|_| panic!("{word} in {text}"));
    match before.split_once(" to ") {
        Some((low, high)) => (figure(low), figure(high)),
        None => (figure(before), figure(before)),
    }
}

fn alike(one: f64, other: f64, what: &str) {
    assert!((one - other).abs() <= 0.02 * other, "{what}: {one} and {other}");
}

/// The gallon is 3.785 411 784 L and the foot 0.3048 m by definition.
const LITRES_PER_GALLON: f64 = 3.785_411_784;
const SQUARE_FEET: f64 = 0.3048 * 0.3048;

#[test]
fn spread_volume_pail_and_wet_film_of_the_coverage_card_agree() {
    let mut checked = 0;
    for (job, papers) in SETS.iter() {
        let card = tables(&paper(papers, "crew-sheets").blocks)
            .filter(|table| table.head.last().is_some_and(|head| plain(head) == "Wet film"))
            .flat_map(cells);
        for row in card {
            let [zone, _, area, spread, volume, pail, film] = row.as_slice() else { panic!("{row:?}") };
            let what = format!("{job}, {zone}");
            let (low, high) = ends(spread, "m²/L");
            let in_us = ends(spread, "sq ft/gal");
            alike(in_us.0 * SQUARE_FEET / LITRES_PER_GALLON, low, &what);
            alike(in_us.1 * SQUARE_FEET / LITRES_PER_GALLON, high, &what);
            let microns = ends(film, "µm");
            alike(microns.0, 1000.0 / high, &what);
            alike(microns.1, 1000.0 / low, &what);
            let pails = ends(pail, "m²");
            let size = if pail.replace('\u{a0}', " ").find("sq ft") < pail.find("m²") {
                5.0 * LITRES_PER_GALLON
            } else {
                15.0
            };
            alike(pails.0, size * low, &what);
            alike(pails.1, size * high, &what);
            if volume.is_empty() {
                continue;
            }
            let (least, most) = ends(area, "m²");
            let litres = ends(volume, "L");
            alike(litres.0, least / high, &what);
            alike(litres.1, most / low, &what);
            checked += 1;
        }
    }
    assert!(checked >= 8, "{checked} rows");
}
