//! Blocks as plain text for a terminal. Writing to a text in memory cannot fail, so what `write!` returns is let go.

use std::fmt::Write;

use super::block::{Align, BlockKind, Document, Inline, Table, plain};

/// Lines of words are no longer than this, in characters; a word or a row of a table that is longer stays whole.
const WIDTH: usize = 100;
/// Between two columns.
const GAP: &str = "  ";

/// The paper as plain text. The same paper gives the same bytes.
pub fn text(document: &Document) -> String {
    let mut out = format!("{}\n", document.title);
    if !document.subtitle.is_empty() {
        let _ = writeln!(out, "{}", document.subtitle);
    }
    for block in &document.blocks {
        match &block.kind {
            BlockKind::Heading { text, .. } => {
                let words = plain(text);
                let rule = "-".repeat(words.chars().count());
                let _ = writeln!(out, "\n{words}\n{rule}");
            }
            BlockKind::Item { label, text, .. } => {
                paragraph(&format!("{label} {}", plain(text)), "", &mut out);
            }
            BlockKind::Bullet { text, .. } => paragraph(&format!("- {}", plain(text)), "  ", &mut out),
            BlockKind::Paragraph(text) => {
                out.push('\n');
                paragraph(&plain(text), "", &mut out);
            }
            BlockKind::Caution { word, text } => {
                let text: Vec<String> = text.iter().map(|text| plain(text)).collect();
                paragraph(&format!("\n{word}: {}", text.join(" ")), "", &mut out);
            }
            BlockKind::Proof(lines) => {
                for line in lines {
                    paragraph(&format!("  {}: {}", line.key, plain(&line.text)), "    ", &mut out);
                }
            }
            BlockKind::Table(table) => put_table(table, &mut out),
            BlockKind::Figure(drawing) => {
                out.push('\n');
                for words in [&drawing.caption, &drawing.alt, &drawing.note]
                    .into_iter()
                    .filter(|words| !words.is_empty())
                {
                    paragraph(words, "", &mut out);
                }
            }
            BlockKind::NewPage => out.push('\n'),
            BlockKind::End(words) => {
                let _ = writeln!(out, "\n{words}");
            }
        }
    }
    out
}

/// Breaks words into lines; a hard space never ends one. Lines after the first begin with `indent`.
fn paragraph(words: &str, indent: &str, out: &mut String) {
    let mut line = String::new();
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        if !line.trim().is_empty() && line.chars().count() + 1 + word.chars().count() > WIDTH {
            let _ = writeln!(out, "{line}");
            indent.clone_into(&mut line);
        } else if !line.trim().is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    let _ = writeln!(out, "{line}");
}

fn put_table(table: &Table, out: &mut String) {
    out.push('\n');
    if !table.caption.is_empty() {
        paragraph(&plain(&table.caption), "", out);
    }
    let cells = |row: &[Vec<Inline>]| row.iter().map(|cell| plain(cell)).collect::<Vec<String>>();
    let rows: Vec<Vec<String>> =
        std::iter::once(&table.head).chain(&table.rows).map(|row| cells(row)).collect();
    let widths: Vec<usize> = (0..table.head.len())
        .map(|column| rows.iter().filter_map(|row| Some(row.get(column)?.chars().count())).max().unwrap_or(0))
        .collect();
    for (number, row) in rows.iter().enumerate() {
        put_row(row, &widths, &table.align, out);
        if number == 0 {
            let rules: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
            put_row(&rules, &widths, &table.align, out);
        }
    }
}

fn put_row(row: &[String], widths: &[usize], align: &[Align], out: &mut String) {
    let cells = row.iter().zip(widths).enumerate().map(|(column, (cell, width))| {
        let blank = " ".repeat(width.saturating_sub(cell.chars().count()));
        match align.get(column) {
            Some(Align::Right) => format!("{blank}{cell}"),
            _ => format!("{cell}{blank}"),
        }
    });
    let line = cells.collect::<Vec<_>>().join(GAP);
    let _ = writeln!(out, "  {}", line.trim_end());
}
