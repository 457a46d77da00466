//! The checks. Each says which it is, where, and what it saw.

use std::collections::{BTreeMap, BTreeSet};

use perpend::document::block::{Align, Block, BlockKind, plain};
use perpend::drawing::{Mark, Mm, Spot};
use perpend::render::{Placed, What};

use super::colour::{alone, contrast};
use super::limits::limits;
use super::lines::{ladders, measure, rags};
use super::places::{out_of_margins, touching};
use super::sheets::{Sheets, words};

pub(super) fn faults_of(sheets: &Sheets<'_>) -> Vec<String> {
    let checks = [
        limits, measure, leading, ends, strands, tables, places, contrast, alone, ladders, rags, fill,
        glyphs, scale,
    ];
    checks.into_iter().flat_map(|check| check(sheets)).collect()
}

pub(super) fn kind<'d>(kinds: &BTreeMap<&str, &'d BlockKind>, block: &str) -> Option<&'d BlockKind> {
    kinds.get(block).copied()
}

/// Lines of one paragraph stand 1.2 to 1.45 times their size apart.
fn leading(sheets: &Sheets<'_>) -> Vec<String> {
    let kinds = sheets.kinds();
    let stretches = sheets.stretches();
    let read = |block: &str| {
        use BlockKind::{Bullet, Item, Paragraph};
        matches!(kind(&kinds, block), Some(Item { .. } | Bullet { .. } | Paragraph(_)))
    };
    let texts = stretches.iter().filter(|((block, part), _)| *part == "text" && read(block));
    let pairs = texts.flat_map(|(_, lines)| lines.iter()).flat_map(|lines| lines.windows(2));
    let loose = pairs.filter(|pair| {
        let size = pair[0].size.max(pair[1].size);
        !(1.19..=1.46).contains(&((pair[0].y - pair[1].y) / size))
    });
    loose.map(|pair| format!("T03 page {}: {}", pair[0].page + 1, pair[1].text)).collect()
}

/// No line of a paragraph alone at the head or foot of a page or a column.
fn ends(sheets: &Sheets<'_>) -> Vec<String> {
    let stretches = sheets.stretches();
    let parted = stretches.iter().filter(|((_, part), lines)| *part == "text" && lines.len() > 1);
    let alone = parted.flat_map(|(_, lines)| lines.iter().filter(|lines| lines.len() < 2));
    alone.map(|lines| format!("T04 page {}: {}", lines[0].page + 1, lines[0].text)).collect()
}

/// Under a heading two lines of its own at least, a caption with its table or figure, what opens a list or a form with it.
fn strands(sheets: &Sheets<'_>) -> Vec<String> {
    let kinds = sheets.kinds();
    let content: Vec<(&Placed, &str, &str)> = sheets.content().collect();
    let mut found = Vec::new();
    let is_head = |block: &str| matches!(kind(&kinds, block), Some(BlockKind::Heading { .. }));
    for (at, (mark, block, text)) in content.iter().enumerate() {
        let is_last_of_it = content.get(at + 1).is_none_or(|(_, next, _)| next != block);
        if !is_head(block) || !is_last_of_it {
            continue;
        }
        let rest = content[at + 1..].iter().skip_while(|(_, next, _)| is_head(next));
        let own: Vec<&Placed> =
            rest.take_while(|(_, next, _)| !is_head(next)).map(|(mark, ..)| *mark).collect();
        let lines = |marks: &[&Placed]| -> BTreeSet<(usize, u64)> {
            marks.iter().map(|mark| (mark.page, mark.y.to_bits())).collect()
        };
        let all = lines(&own).len();
        let here = own.iter().take_while(|next| next.page == mark.page && next.y < mark.y + 1.0).copied();
        let here = lines(&here.collect::<Vec<_>>()).len();
        if here < all.min(2) {
            found.push(format!("T05 page {}, {here} lines under: {text}", mark.page + 1));
        }
    }
    found.extend(captions(&content));
    let first = |block: &str| content.iter().find(|(_, own, _)| *own == block).map(|(mark, ..)| mark.page);
    let last = |block: &str| content.iter().rfind(|(_, own, _)| *own == block).map(|(mark, ..)| mark.page);
    for pair in sheets.document.blocks.windows(2) {
        let is_form =
            |kind: &BlockKind| matches!(kind, BlockKind::Table(table) if table.row != Mm::default());
        let opens = match &pair[0].kind {
            BlockKind::Paragraph(_) | BlockKind::Item { .. } if is_form(&pair[1].kind) => true,
            BlockKind::Paragraph(text) | BlockKind::Item { text, .. } | BlockKind::Bullet { text, .. } => {
                plain(text).trim_end().ends_with(':')
            }
            _ => false,
        };
        let pages = (last(&pair[0].id), first(&pair[1].id));
        if opens && pages.1.is_some() && pages.0 != pages.1 {
            found.push(format!("T05 page {:?}: the list of `{}` starts on the next", pages.0, pair[0].id));
        }
    }
    found
}

fn captions(content: &[(&Placed, &str, &str)]) -> Vec<String> {
    let page = |block: &str, starts: [&str; 2]| {
        let own = content.iter().filter(|(_, own, _)| *own == block);
        let mut parts = own.filter(|(mark, ..)| starts.iter().any(|start| mark.part.starts_with(start)));
        parts.next().map(|(mark, ..)| mark.page)
    };
    let captions = content.iter().filter(|(mark, ..)| mark.part == "caption");
    let apart = captions
        .filter(|(mark, block, _)| page(block, ["cell", "figure"]).is_some_and(|page| page != mark.page));
    apart.map(|(mark, _, text)| format!("T05 page {}, a caption alone: {text}", mark.page + 1)).collect()
}

/// Row and column of a cell.
pub(super) fn cell(part: &str) -> Option<(usize, usize)> {
    let (row, column) = part.strip_prefix("cell ")?.split_once('.')?;
    Some((row.parse().ok()?, column.parse().ok()?))
}

/// Rows whole, the head repeated over every page's first row, and read once.
fn tables(sheets: &Sheets<'_>) -> Vec<String> {
    let mut found = Vec::new();
    let content: Vec<(&Placed, &str, &str)> = sheets.content().collect();
    for (id, block) in sheets.kinds() {
        let BlockKind::Table(table) = block else { continue };
        let own: Vec<(&Placed, usize)> = content
            .iter()
            .filter(|(_, block, _)| *block == id)
            .filter_map(|(mark, ..)| Some((*mark, cell(&mark.part)?.0)))
            .collect();
        let pages: BTreeSet<(usize, usize)> = own.iter().map(|(mark, row)| (*row, mark.page)).collect();
        let rows: BTreeSet<usize> = pages.iter().map(|(row, _)| *row).collect();
        if pages.len() > rows.len() {
            found.push(format!("T06 a row of `{id}` is split"));
        }
        let Some(first) = own.first().map(|(mark, _)| mark.page) else { continue };
        let later: BTreeSet<usize> =
            own.iter().map(|(mark, _)| mark.page).filter(|page| *page != first).collect();
        let said = |text: &str| text.split_whitespace().collect::<String>();
        let head: String = table.head.iter().map(|cell| said(&plain(cell))).collect();
        for page in later {
            let top =
                own.iter().filter(|(mark, _)| mark.page == page).map(|(mark, _)| mark.y).fold(0.0, f64::max);
            let over =
                sheets.marks.iter().filter(|mark| mark.block.is_none() && mark.page == page && mark.y > top);
            let over: String = over.filter_map(words).map(said).collect();
            // hyphens of narrow heads are no letters
            let over = over.replace('\u{ad}', "");
            if !over.ends_with(&head) {
                found.push(format!("T06 no head of `{id}` on page {}: {over}", page + 1));
            }
        }
    }
    found
}

/// The rail ends where the gutter starts.
const RAIL_END: f64 = 54.0 + 126.0;

/// Nothing over a margin, on other words, over the edge of its rail or in the next cell.
fn places(sheets: &Sheets<'_>) -> Vec<String> {
    let out = out_of_margins(sheets.paper, &sheets.marks).into_iter();
    let mut found: Vec<String> =
        out.map(|(page, what)| format!("T07 page {page}, over a margin: {what}")).collect();
    let touched = touching(&sheets.marks).into_iter();
    found.extend(touched.map(|(page, one, other)| format!("T07 page {page}: {one} touches {other}")));
    let kinds = sheets.kinds();
    let mut lefts: BTreeMap<(&str, usize), f64> = BTreeMap::new();
    for (mark, block, _) in sheets.content() {
        if let Some((_, column)) = cell(&mark.part) {
            let left = lefts.entry((block, column)).or_insert(f64::MAX);
            *left = left.min(mark.left);
        }
    }
    for (mark, block, text) in sheets.content() {
        let right = mark.left + mark.width;
        let is_rail = mark.part.starts_with("key") || mark.part.starts_with("value");
        if is_rail && mark.left < RAIL_END && right > RAIL_END + 0.5 {
            found.push(format!("T07 page {}, over the rail: {text}", mark.page + 1));
        }
        let (Some((_, column)), Some(BlockKind::Table(table))) = (cell(&mark.part), kind(&kinds, block))
        else {
            continue;
        };
        let is_left = table.align.get(column + 1).is_none_or(|align| *align == Align::Left);
        if let Some(next) = lefts.get(&(block, column + 1)).filter(|next| is_left && right > **next + 0.5) {
            found.push(format!(
                "T07 page {}, {right:.1} > {next:.1}, in the next cell: {text}",
                mark.page + 1
            ));
        }
    }
    found
}

/// Share of the height of a page that is filled at least, but for the last and those that were asked to end.
const FILLED: f64 = 0.15;

fn fill(sheets: &Sheets<'_>) -> Vec<String> {
    let after_break: BTreeSet<&str> = sheets
        .document
        .blocks
        .windows(2)
        .filter(|pair| matches!(pair[0].kind, BlockKind::NewPage))
        .map(|pair| pair[1].id.as_str())
        .collect();
    let mut found = Vec::new();
    for page in 0..sheets.pages.saturating_sub(1) {
        let next = sheets.content().find(|(mark, ..)| mark.page == page + 1);
        let is_asked = next.is_some_and(|(_, block, _)| after_break.contains(block));
        let own = sheets.marks.iter().filter(|mark| mark.page == page && mark.block.is_some());
        let lowest = own.map(|mark| mark.y).fold(sheets.paper.1, f64::min);
        let (top, bottom) = (sheets.paper.1 - 64.0, 60.0);
        if !is_asked && (top - lowest) / (top - bottom) < FILLED {
            found.push(format!("T10 page {} is nearly empty", page + 1));
        }
    }
    found
}

fn glyphs(sheets: &Sheets<'_>) -> Vec<String> {
    let empty = sheets.marks.iter().filter_map(|mark| match &mark.what {
        What::Words { text, holes } if *holes > 0 => Some((mark.page, text)),
        _ => None,
    });
    empty.map(|(page, text)| format!("T11 page {}: {text}", page + 1)).collect()
}

/// The papers that are printed to be filled in by hand, and the figures that hold the bar.
const FORMS: [&str; 2] = ["survey-sheet", "test-plan"];
const BARS: [&str; 3] = ["check-bar", "crack-card", "crack-gauge"];

/// Width and height of each mark of a figure, as drawn on its page, are those of its drawing in points of 1/72 in; and
/// the bar to check a print by is 100 mm.
fn scale(sheets: &Sheets<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (id, block) in sheets.kinds() {
        let BlockKind::Figure(drawing) = block else { continue };
        let drawn: Vec<(f64, f64)> = sheets
            .marks
            .iter()
            .filter(|mark| mark.block.as_deref() == Some(id) && mark.what == What::Figure)
            .map(|mark| (mark.width, mark.height))
            .collect();
        let meant: Vec<(f64, f64)> = drawing.marks.iter().filter_map(size).collect();
        let is_true = drawn.len() == meant.len()
            && drawn.iter().zip(&meant).all(|(a, b)| (a.0 - b.0).abs() < 0.01 && (a.1 - b.1).abs() < 0.01);
        if !is_true {
            found.push(format!("T12 `{id}` is not at its scale"));
        }
        if BARS.contains(&drawing.id.as_str())
            && !drawn.iter().any(|(width, _)| (width - 283.46).abs() < 0.05)
        {
            found.push(format!("T12 no bar of 100 mm in `{id}`: {drawn:?}"));
        }
    }
    let has_bar = |block: &Block| matches!(&block.kind, BlockKind::Figure(drawing) if BARS.contains(&drawing.id.as_str()));
    if FORMS.contains(&sheets.document.name.as_str()) && !sheets.document.blocks.iter().any(has_bar) {
        found.push("T12 no bar to check the print of the forms by".to_owned());
    }
    found
}

/// Width and height in points of lines and areas.
fn size(mark: &Mark) -> Option<(f64, f64)> {
    let spots: Vec<&Spot> = match mark {
        Mark::Lines { lines, .. } => lines.iter().flatten().collect(),
        Mark::Area { corners, .. } => corners.iter().collect(),
        Mark::Text(_) => return None,
    };
    let span = |of: fn(&Spot) -> f64| {
        let (low, high) = spots
            .iter()
            .fold((f64::MAX, f64::MIN), |(low, high), spot| (low.min(of(spot)), high.max(of(spot))));
        (high - low).max(0.0) * 72.0 / 25.4
    };
    Some((span(|spot| spot.x.millimetres()), span(|spot| spot.y.millimetres())))
}
