//! For each check sound pages spoiled in one way.

use perpend::document::block::{BlockKind, plain};
use perpend::drawing::{Mark, Tone};
use perpend::render::{Placed, What};

use super::sheets::{Line, Sheets, words};

type Spoil = fn(&mut Sheets<'_>);

/// The check, the paper, what is done, and how.
pub(super) const FAULTS: [(&str, &str, &str, Spoil); 32] = [
    ("T01", "owner-sheet", "a third page", |sheets| sheets.pages = 3),
    ("T01", "section", "words too small to read", |sheets| body_cell(sheets).height = 6.0),
    ("T01", "crew-sheets", "a sheet on two pages", |sheets| sheets.pages += 1),
    ("T01", "crew-sheets", "a step too small to read with gloves on", |sheets| a_text(sheets).height = 8.5),
    ("T01", "crew-sheets", "a cell too small", |sheets| body_cell(sheets).height = 7.5),
    ("T02", "section", "a line too long", |sheets| {
        let What::Words { text, .. } = &mut a_text(sheets).what else { panic!() };
        text.push_str(&"and on ".repeat(14));
    }),
    ("T02", "register", "a line from margin to margin", |sheets| {
        let What::Words { text, .. } = &mut a_text(sheets).what else { panic!() };
        text.push_str(&"and on ".repeat(14));
    }),
    ("T03", "section", "a line too near the next", |sheets| {
        let line = long(sheets)[1].clone();
        on(sheets, &line, |mark| mark.y += 3.0);
    }),
    ("T04", "section", "a last line alone on the next page", |sheets| {
        let line = long(sheets).last().unwrap().clone();
        on(sheets, &line, |mark| mark.page += 1);
    }),
    ("T05", "section", "a heading at the foot of the page before", |sheets| {
        back(first(sheets, |mark| mark.part == "heading 2" && mark.page > 1));
    }),
    ("T05", "section", "a caption on the page before", |sheets| {
        back(first(sheets, |mark| mark.part == "caption" && mark.page > 1));
    }),
    ("T05", "section", "the paragraph over the schedule of tests on the page before", |sheets| {
        let is_own = |mark: &&mut Placed| mark.block.as_deref() == Some("schedule.1");
        let lowest = sheets.marks.iter_mut().filter(is_own).map(|mark| mark.y).fold(f64::MAX, f64::min);
        for mark in sheets.marks.iter_mut().filter(is_own) {
            mark.page -= 1;
            mark.y += 62.0 - lowest;
        }
    }),
    ("T05", "section", "what opens a list on the page before", |sheets| {
        let intro = opens_a_list(sheets);
        back(first(sheets, |mark| mark.block.as_ref() == Some(&intro)));
    }),
    ("T06", "test-plan", "no head on the next page", |sheets| {
        let top = sheets.paper.1 - 64.0;
        let is_strip = |mark: &Placed| mark.tone == Tone::Accent;
        let is_head =
            |mark: &Placed| mark.block.is_none() && mark.y < top && mark.y > 60.0 && !is_strip(mark);
        let page = first(sheets, |mark| {
            is_head(mark) && words(mark).is_some_and(|text| text.contains("(continued)"))
        })
        .page;
        sheets.marks.retain(|mark| mark.page != page || !is_head(mark) || words(mark).is_none());
    }),
    ("T06", "section", "a cell on the page before", |sheets| {
        back(first(sheets, |mark| mark.part == "cell 2.1" && mark.page > 1));
    }),
    ("T07", "section", "words over the margin", |sheets| a_text(sheets).left += 400.0),
    ("T07", "section", "a line of a figure over the margin", |sheets| {
        first(sheets, |mark| mark.what == What::Figure).left -= 200.0;
    }),
    ("T07", "section", "words on words", |sheets| {
        let at = sheets.marks.iter().position(is_body_cell).unwrap();
        sheets.marks.insert(at, sheets.marks[at].clone());
    }),
    ("T07", "section", "words over the rail", |sheets| {
        first(sheets, |mark| mark.part == "value 0" && mark.left < 180.0).width = 133.0;
    }),
    ("T07", "section", "words in the next cell", |sheets| {
        first(sheets, |mark| mark.part == "cell 1.0").width = 440.0;
    }),
    ("T08", "section", "faint words", |sheets| a_text(sheets).tone = Tone::Rule),
    ("T08", "section", "a tint without a word", |sheets| {
        let strip = first(sheets, |mark| mark.what == What::Fill && mark.tone == Tone::Tint).clone();
        let is_on = |mark: &Placed| mark.page == strip.page && (mark.y - strip.y).abs() < strip.height;
        sheets.marks.retain(|mark| words(mark).is_none() || !is_on(mark));
    }),
    ("T08", "crew-sheets", "a box of caution without its word", |sheets| {
        let boxed =
            sheets.document.blocks.iter().find(|block| matches!(block.kind, BlockKind::Caution { .. }));
        let id = boxed.map(|block| block.id.clone());
        sheets.marks.retain(|mark| mark.block != id || mark.part != "label");
    }),
    ("T08", "section", "a coat that is told by its colour alone", |sheets| {
        for block in &mut sheets.document.to_mut().blocks {
            let BlockKind::Figure(drawing) = &mut block.kind else { continue };
            for mark in &mut drawing.marks {
                if let Mark::Text(text) = mark {
                    text.tone = Tone::Ink;
                }
            }
        }
    }),
    ("T09", "section", "a last line of two letters", |sheets| {
        let line = long(sheets).last().unwrap().clone();
        on(sheets, &line, |mark| {
            let What::Words { text, .. } = &mut mark.what else { panic!() };
            *text = "no".to_owned();
        });
    }),
    ("T09", "section", "two lines that stop short", |sheets| {
        let lines = long(sheets);
        for line in &lines[..2] {
            on(sheets, line, |mark| (mark.left, mark.width) = (line.left, 0.6));
        }
    }),
    ("T09", "section", "three hyphens under each other", |sheets| {
        let lines = long(sheets);
        for line in &lines[..3] {
            on(sheets, line, |mark| {
                let What::Words { text, .. } = &mut mark.what else { panic!() };
                text.push('\u{ad}');
            });
        }
    }),
    ("T10", "section", "an empty page before the last", |sheets| sheets.pages += 2),
    ("T11", "section", "a sign that no type has", |sheets| {
        let What::Words { holes, .. } = &mut a_text(sheets).what else { panic!() };
        *holes = 1;
    }),
    ("T12", "test-plan", "forms without a bar", |sheets| {
        sheets.document.to_mut().blocks.retain(|block| !matches!(block.kind, BlockKind::Figure(_)));
    }),
    ("T12", "test-plan", "a bar of 97 mm over the forms", |sheets| {
        first(sheets, |mark| mark.what == What::Figure && (mark.width - 283.46).abs() < 0.1).width *= 0.97;
    }),
    ("T12", "owner-sheet", "a bar of 97 mm", |sheets| {
        first(sheets, |mark| mark.what == What::Figure && (mark.width - 283.46).abs() < 0.1).width *= 0.97;
    }),
];

fn first<'s>(sheets: &'s mut Sheets<'_>, wanted: impl Fn(&Placed) -> bool) -> &'s mut Placed {
    sheets.marks.iter_mut().find(|mark| wanted(mark)).unwrap()
}

fn a_text<'s>(sheets: &'s mut Sheets<'_>) -> &'s mut Placed {
    first(sheets, |mark| mark.part == "text" && mark.page > 0)
}

fn is_body_cell(mark: &Placed) -> bool {
    mark.part.starts_with("cell") && !mark.part.starts_with("cell 0")
}

fn body_cell<'s>(sheets: &'s mut Sheets<'_>) -> &'s mut Placed {
    first(sheets, is_body_cell)
}

/// Moves something to the foot of the page before.
fn back(mark: &mut Placed) {
    mark.page -= 1;
    mark.y = 62.0;
}

/// A point of one line, not on the first page, that ends in a colon.
fn opens_a_list(sheets: &Sheets<'_>) -> String {
    let stretches = sheets.stretches();
    let is_short = |id: &str| {
        let lines = stretches.get(&(id, "text")).map(|lines| lines.concat()).unwrap_or_default();
        lines.len() == 1 && lines[0].page > 0
    };
    let opens = |kind: &BlockKind| match kind {
        BlockKind::Paragraph(text) | BlockKind::Item { text, .. } => plain(text).ends_with(':'),
        _ => false,
    };
    let mut found = sheets.document.blocks.iter().filter(|block| opens(&block.kind) && is_short(&block.id));
    found.next().unwrap().id.clone()
}

/// The first four lines or more of one paragraph that follow each other.
fn long(sheets: &Sheets<'_>) -> Vec<Line> {
    let stretches = sheets.stretches();
    let texts = stretches.iter().filter(|((_, part), _)| *part == "text");
    let mut lines = texts.flat_map(|(_, all)| all.iter()).filter(|lines| lines.len() > 3);
    lines.next().unwrap().clone()
}

/// Changes the words of a line.
fn on(sheets: &mut Sheets<'_>, line: &Line, change: impl Fn(&mut Placed)) {
    for mark in &mut sheets.marks {
        if mark.page == line.page && (mark.y - line.y).abs() < 0.1 && mark.part == "text" {
            change(mark);
        }
    }
}
