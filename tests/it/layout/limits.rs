//! How many pages a paper may take, and how small its words may be.

use std::collections::BTreeSet;

use perpend::document::block::BlockKind;

use super::find::kind;
use super::sheets::{Sheets, words};

/// Pages of the sheet for the owner: one leaf.
const LEAF: usize = 2;

/// Identifiers are set smaller by a twelfth, so that their small letters match.
const CODE: f64 = 0.92;

/// The least size of running text, of cells and of all other words, by paper.
fn least(paper: &str) -> [f64; 3] {
    match paper {
        "section" | "reasons" => [11.0, 7.5, 7.5],
        "owner-sheet" | "findings-letter" => [11.0, 9.5, 8.0],
        "crew-sheets" => [10.0, 8.5, 8.0],
        _ => [10.0, 7.5, 7.5],
    }
}

pub(super) fn limits(sheets: &Sheets<'_>) -> Vec<String> {
    let paper = sheets.document.name.as_str();
    let mut found = Vec::new();
    if paper == "owner-sheet" && sheets.pages > LEAF {
        found.push(format!("T01 {} pages", sheets.pages));
    }
    if paper == "crew-sheets" {
        found.extend(crew_pages(sheets));
    }
    let [read, cells, any] = least(paper);
    let kinds = sheets.kinds();
    for mark in &sheets.marks {
        let Some(text) = words(mark) else { continue };
        let block = mark.block.as_deref().and_then(|block| kind(&kinds, block));
        let least = match block {
            Some(BlockKind::Table(_)) if mark.part.starts_with("cell") => cells,
            Some(BlockKind::End(_)) | None => any,
            Some(_) if mark.part == "text" => read,
            Some(_) => any,
        };
        if mark.height < least * CODE - 0.01 {
            found.push(format!("T01 page {}, {} pt: {text}", mark.page + 1, mark.height));
        }
    }
    found
}

/// Every sheet of the crew is one page, and every page one sheet.
fn crew_pages(sheets: &Sheets<'_>) -> Option<String> {
    let kinds = sheets.kinds();
    let is_head = |block: &str| matches!(kind(&kinds, block), Some(BlockKind::Heading { .. }));
    let heads: BTreeSet<(usize, &str)> = sheets
        .content()
        .filter(|(_, block, _)| is_head(block))
        .map(|(mark, block, _)| (mark.page, block))
        .collect();
    let pages: Vec<usize> = heads.iter().map(|(page, _)| *page).collect();
    let wanted: Vec<usize> = (0..sheets.pages).collect();
    (pages != wanted).then(|| format!("T01 {} pages, sheets on {pages:?}", sheets.pages))
}
