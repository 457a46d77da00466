//! The figures of the demo jobs: where they stand, and what goes with them.

use perpend::diagnostic::Source;
use perpend::document::block::{BlockKind, Document};
use perpend::document::{figure_file, markdown};
use perpend::drawing::Drawing;
use perpend::{survey, wall};

use super::written;
use crate::demos::BOOK;
use crate::figures::faults;

/// The papers of a demo.
pub(super) fn papers(job: &str) -> Vec<Document> {
    let path = format!("{}/examples/{job}/survey.yaml", env!("CARGO_MANIFEST_DIR"));
    papers_of(String::from_utf8(std::fs::read(path).unwrap()).unwrap())
}

/// The papers of a text of a survey.
fn papers_of(text: String) -> Vec<Document> {
    let survey = survey::read(&Source::new("survey.yaml", text), &BOOK).0.unwrap();
    let facts = wall::work(&survey, &BOOK);
    written(&BOOK, &survey, &facts).unwrap().documents
}

/// Each figure of a paper with the id of the heading over it.
fn figures(paper: &Document) -> Vec<(String, &Drawing)> {
    let mut under = String::new();
    let mut found = Vec::new();
    for block in &paper.blocks {
        match &block.kind {
            BlockKind::Heading { .. } => under.clone_from(&block.id),
            BlockKind::Figure(drawing) => found.push((under.clone(), drawing)),
            _ => {}
        }
    }
    found
}

#[test]
fn figures_stand_where_their_readers_look() {
    for (job, zones_with_coats) in [("watch-house", true), ("tithe-wall", false), ("ferrier-lane-hall", true)]
    {
        let papers = papers(job);
        let kinds = |name: &str| {
            let paper = papers.iter().find(|paper| paper.name == name).unwrap();
            let kind = |id: &str| id.rsplit_once('-').unwrap().0.to_owned();
            let mut kinds: Vec<(String, String)> =
                figures(paper).into_iter().map(|(under, drawing)| (under, kind(&drawing.id))).collect();
            kinds.dedup();
            kinds
        };
        let at = |under: &str, kind: &str| (under.to_owned(), kind.to_owned());
        let (in_section, on_sheets, in_reasons) = if zones_with_coats {
            (
                vec![at("article-sequence", "sequence"), at("article-performance", "vapour-ladder")],
                vec![at("task-weather", "dew-point")],
                vec![at("paths", "rule-path"), at("compared", "condensation"), at("compared", "drying")],
            )
        } else {
            (vec![at("article-sequence", "sequence")], Vec::new(), vec![at("paths", "rule-path")])
        };
        let drawn = job == "watch-house";
        // joints stand open in both walls of old masonry
        let in_section: Vec<_> = in_section
            .into_iter()
            .chain((job != "ferrier-lane-hall").then(|| at("article-repointing", "joint")))
            .collect();
        let in_schedule = if drawn { "elevation" } else { "sketch-grid" };
        let mut on_sheets = on_sheets;
        on_sheets.splice(0..0, drawn.then(|| at("task-protect", "keep-off")));
        assert_eq!(kinds("schedule"), [at("key", in_schedule)], "{job}");
        assert_eq!(kinds("section"), in_section, "{job}");
        assert_eq!(kinds("crew-sheets"), on_sheets, "{job}");
        let for_owner = [at("list-why", "cut-away"), at("list-signs", "signs"), at("undecided", "crack")];
        assert_eq!(kinds("owner-sheet"), for_owner, "{job}");
        assert_eq!(kinds("reasons"), in_reasons, "{job}");
    }
}

#[test]
fn a_zone_that_no_elevation_shows_is_named_over_a_frame_to_sketch_it_in() {
    let path = format!("{}/examples/watch-house/survey.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = String::from_utf8(std::fs::read(path).unwrap()).unwrap();
    let (before, rest) = text.split_once("  - code: E\n").unwrap();
    let after = rest.split_once("\ndepartures:").unwrap().1;
    let papers = papers_of(format!("{before}\ndepartures:{after}"));
    let schedule = papers.iter().find(|paper| paper.name == "schedule").unwrap();
    let drawn: Vec<&str> = figures(schedule).iter().map(|(_, drawing)| drawing.id.as_str()).collect();
    assert_eq!(drawn, ["elevation-1", "sketch-grid-40"]);
    assert!(markdown(schedule).contains("No elevation of the survey shows Q2 and Q3."));
}

#[test]
fn six_paths_of_a_decision_are_drawn_and_the_last_counts_the_others() {
    let path = format!("{}/examples/watch-house/survey.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = String::from_utf8(std::fs::read(path).unwrap()).unwrap();
    let (before, rest) = text.split_once("  - code: Q1a\n").unwrap();
    let (zone, after) = rest.split_once("  - code: Q1b\n").unwrap();
    // renders of other thicknesses let other amounts of vapour through, which the path shows
    let more = (0..5).map(|number| {
        let thickness = format!("lime-render, thickness: {} mm", 30 + 10 * (number / 2));
        let zone = zone.replacen("lime-render, thickness: 20 mm", &thickness, 1);
        format!("  - code: X{number}\n{zone}")
    });
    let more = more.collect::<String>();
    let papers = papers_of(format!("{before}  - code: Q1a\n{zone}{more}  - code: Q1b\n{after}"));
    let reasons = papers.iter().find(|paper| paper.name == "reasons").unwrap();
    let paths = figures(reasons).into_iter().filter(|(_, drawing)| drawing.id.starts_with("rule-path"));
    let captions: Vec<&str> = paths.map(|(_, drawing)| drawing.caption.as_str()).collect();
    let counted = captions.iter().map(|caption| caption.contains("No figure shows"));
    assert_eq!(counted.collect::<Vec<_>>(), [false, false, false, false, false, true], "{captions:#?}");
    assert!(
        captions[5].ends_with("No figure shows the 2 paths of 2 more zones: the tables below hold them."),
        "{captions:#?}"
    );
}

#[test]
fn every_figure_is_sound_and_its_markdown_shows_the_file_beside_it() {
    for job in ["watch-house", "ferrier-lane-hall"] {
        let papers = papers(job);
        let mut ids = Vec::new();
        for paper in &papers {
            let text = markdown(paper);
            for (_, drawing) in figures(paper) {
                assert_eq!(faults(drawing), Vec::<String>::new(), "{}", drawing.id);
                assert!(text.contains(&format!("]({})", figure_file(drawing))), "{}", drawing.id);
                ids.push(drawing.id.clone());
            }
        }
        let count = ids.len();
        ids.sort();
        ids.dedup();
        assert_eq!(ids.len(), count, "{job}");
    }
}

#[test]
fn no_figure_permits_a_coat_or_sets_a_wait() {
    for job in ["watch-house", "ferrier-lane-hall"] {
        for (_, drawing) in papers(job).iter().flat_map(figures) {
            let kind = drawing.id.rsplit_once('-').unwrap().0;
            let words = match kind {
                "condensation" => "a pass is never permission to coat",
                "drying" => "it sets no waiting time and releases none",
                "vapour-ladder" => "it may refuse a coat and never permits one",
                "dew-point" => "Every other limit stands beside this one",
                "elevation" => "by the sizes in the survey",
                "keep-off" => "Not to measure from",
                "crack" | "check" => "To scale only if the bar measures 100 mm",
                "sequence" => "until the named party has signed",
                "joint" => "but for the width of the joint",
                "rule-path" => "a broken edge is not certain",
                "cut-away" => "Not to scale",
                "sketch-grid" | "signs" => continue,
                other => panic!("{other} is not known here"),
            };
            assert!(drawing.note.contains(words), "{}: {}", drawing.id, drawing.note);
            for day in [" days", " d ", " weeks"] {
                let texts = drawing.texts();
                assert!(
                    !texts
                        .iter()
                        .any(|(text, _)| text.words.contains(day) && !text.words.contains("no days"))
                );
            }
        }
    }
}
