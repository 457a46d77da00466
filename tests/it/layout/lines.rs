//! How long the lines are, and how they end.

use perpend::document::block::{BlockKind, Inline};

use super::find::kind;
use super::sheets::{Line, Sheets};

/// Most characters that a line of running text may hold.
const LONGEST: usize = 95;

/// Running text.
pub(super) fn measure(sheets: &Sheets<'_>) -> Vec<String> {
    let stretches = sheets.stretches();
    let texts = stretches.iter().filter(|((_, part), _)| *part == "text");
    let lines = texts.flat_map(|(_, lines)| lines.iter().flatten());
    let long = lines.filter(|line| line.length() > LONGEST);
    long.map(|line| format!("T02 page {}: {}", line.page + 1, line.text)).collect()
}

/// Not more than two lines in a row that end in a hyphen.
pub(super) fn ladders(sheets: &Sheets<'_>) -> Vec<String> {
    let stretches = sheets.stretches();
    let threes = stretches.iter().flat_map(|(own, lines)| {
        lines.iter().flat_map(|lines| lines.windows(3)).map(move |three| (own, three))
    });
    let ladders = threes.filter(|(_, three)| three.iter().all(|line| line.text.ends_with('\u{ad}')));
    ladders
        .map(|((block, part), three)| {
            format!("T09 `{block}` {part}, page {}: {}", three[0].page + 1, three[2].text)
        })
        .collect()
}

/// Fewest letters and digits of a last line.
const LAST: usize = 5;
/// Share of the measure that a line may leave empty.
const GAP: f64 = 0.3;

/// A paragraph of more than one line ends with a word at least, and not more than one of its lines stops far short of the
/// longest.
pub(super) fn rags(sheets: &Sheets<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (block, lines) in paragraphs(sheets) {
        let Some((last, others)) = lines.split_last().filter(|(_, others)| !others.is_empty()) else {
            continue;
        };
        if last.text.chars().filter(|sign| sign.is_alphanumeric()).count() < LAST {
            found.push(format!("T09 `{block}`, page {}, a short last line: {}", last.page + 1, last.text));
        }
        let longest = lines.iter().map(Line::width).fold(0.0, f64::max);
        let short = others.iter().filter(|line| line.width() < (1.0 - GAP) * longest).count();
        if short > 1 {
            found.push(format!("T09 `{block}`, page {}, {short} short lines", last.page + 1));
        }
    }
    found
}

/// The lines of every paragraph, item and point that breaks its lines nowhere by itself.
fn paragraphs<'s>(sheets: &'s Sheets<'_>) -> Vec<(&'s str, Vec<Line>)> {
    let kinds = sheets.kinds();
    let runs_on = |block: &str| match kind(&kinds, block) {
        Some(BlockKind::Paragraph(text) | BlockKind::Item { text, .. } | BlockKind::Bullet { text, .. }) => {
            !text.contains(&Inline::Break)
        }
        _ => false,
    };
    let stretches = sheets.stretches().into_iter();
    let texts = stretches.filter(|((block, part), _)| *part == "text" && runs_on(block));
    texts.map(|((block, _), lines)| (block, lines.concat())).collect()
}

/// What is noted, not refused: how many lengths were judged, and how many lie outside what reads best.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Outside {
    pub(super) judged: usize,
    pub(super) outside: usize,
}

impl Outside {
    fn of(lengths: &[usize], is_outside: impl Fn(usize) -> bool) -> Self {
        Self { judged: lengths.len(), outside: lengths.iter().filter(|length| is_outside(**length)).count() }
    }

    pub(super) fn and(self, other: Self) -> Self {
        Self { judged: self.judged + other.judged, outside: self.outside + other.outside }
    }

    /// Of a thousand.
    pub(super) fn share(self) -> usize {
        (self.outside * 1000).div_ceil(self.judged.max(1))
    }
}

/// Characters of the longest line of each paragraph, and of each cell, that takes more lines than one: paragraphs of less
/// than 45, of more than 80, cells of less than 25, of more than 60.
pub(super) fn lengths(sheets: &Sheets<'_>) -> [Outside; 4] {
    let longest = |lines: &[Line]| lines.iter().map(Line::length).max().unwrap_or_default();
    let texts: Vec<usize> = paragraphs(sheets)
        .iter()
        .filter(|(_, lines)| lines.len() > 1)
        .map(|(_, lines)| longest(lines))
        .collect();
    let kinds = sheets.kinds();
    let runs_on = |block: &str, part: &str| {
        let Some(BlockKind::Table(table)) = kind(&kinds, block) else { return false };
        let Some((row, column)) = super::find::cell(part) else { return false };
        let cells = if row == 0 { None } else { table.rows.get(row - 1) };
        cells.and_then(|cells| cells.get(column)).is_some_and(|cell| !cell.contains(&Inline::Break))
    };
    let stretches = sheets.stretches();
    let cells = stretches.iter().filter(|((block, part), _)| runs_on(block, part));
    let cells = cells.map(|(_, lines)| lines.concat()).filter(|lines| lines.len() > 1);
    let cells: Vec<usize> = cells.map(|lines| longest(&lines)).collect();
    [
        Outside::of(&texts, |length| length < 45),
        Outside::of(&texts, |length| length > 80),
        Outside::of(&cells, |length| length < 25),
        Outside::of(&cells, |length| length > 60),
    ]
}
