//! Blocks as Markdown, with every number written out, so that the text agrees with the other forms of the paper.
//! Writing to a text in memory cannot fail, so what `write!` returns is let go.

use std::fmt::Write;

use super::block::{Align, Block, BlockKind, Document, Inline, Table, plain};
use crate::drawing::Drawing;

/// The paper as Markdown. The same paper gives the same bytes.
pub fn markdown(document: &Document) -> String {
    let mut out = format!("# {}\n\n", words(&document.title));
    let furniture = &document.furniture;
    if !document.subtitle.is_empty() {
        let _ = writeln!(out, "**{}**\n", words(&document.subtitle));
    }
    let _ = writeln!(out, "*{}*\n", words(document.standing.words()));
    if let Some(strip) = &furniture.status_strip {
        let _ = writeln!(out, "**{}**\n", words(strip));
    }
    if !furniture.title_block.is_empty() {
        out += "| | |\n| --- | --- |\n";
        for (label, value) in &furniture.title_block {
            let value = value.as_deref().map(in_cell).unwrap_or_default();
            let _ = writeln!(out, "| {} | {value} |", in_cell(label));
        }
        out.push('\n');
    }
    let mut before = None;
    for block in &document.blocks {
        if before.is_some_and(|kind| !runs_on(kind, &block.kind)) {
            out.push('\n');
        }
        put(block, &mut out);
        before = Some(&block.kind);
    }
    if !furniture.foot_left.is_empty() {
        let _ = writeln!(out, "\n{}", words(&furniture.foot_left));
    }
    out
}

/// Points of one list stand without a blank line between them.
fn runs_on(before: &BlockKind, now: &BlockKind) -> bool {
    let point = |kind: &BlockKind| {
        matches!(kind, BlockKind::Item { .. } | BlockKind::Bullet { .. } | BlockKind::Proof(_))
    };
    point(before) && point(now)
}

fn put(block: &Block, out: &mut String) {
    match &block.kind {
        BlockKind::Heading { level, number, text } => {
            let marks = "#".repeat(usize::from(*level) + 1);
            let number = number.as_ref().map(|number| format!("{} ", words(number))).unwrap_or_default();
            let _ = writeln!(out, "{marks} {number}{}", line(text));
        }
        BlockKind::Item { depth, label, text } => {
            let indent = "  ".repeat(usize::from(*depth).saturating_sub(1));
            let _ = writeln!(out, "{indent}- **{}** {}", words(label), line(text));
        }
        BlockKind::Bullet { depth, text } => {
            let indent = "  ".repeat(usize::from(*depth).saturating_sub(1));
            let _ = writeln!(out, "{indent}- {}", line(text));
        }
        BlockKind::Proof(lines) => {
            for proof in lines {
                let _ = writeln!(out, "  - *{}:* {}", words(&proof.key), line(&proof.text));
            }
        }
        BlockKind::Paragraph(text) => put_line(&at_start(&line(text)), out),
        BlockKind::Caution { word, text } => {
            let mut text = text.iter().map(|paragraph| line(paragraph));
            let first = text.next().unwrap_or_default();
            let _ = writeln!(out, "> **{}** {first}", words(word));
            for paragraph in text {
                let _ = writeln!(out, ">\n> {}", at_start(&paragraph));
            }
        }
        BlockKind::Table(table) => put_table(table, out),
        BlockKind::Figure(drawing) => put_figure(drawing, out),
        BlockKind::NewPage => put_line("---", out),
        BlockKind::End(text) => put_line(&format!("**{}**", words(text)), out),
    }
}

fn put_line(line: &str, out: &mut String) {
    out.push_str(line);
    out.push('\n');
}

/// The file of a figure, beside the Markdown that shows it.
pub fn figure_file(drawing: &Drawing) -> String {
    format!("figures/{}.svg", drawing.id)
}

fn put_figure(drawing: &Drawing, out: &mut String) {
    let _ = writeln!(out, "*{}*\n", words(&drawing.caption));
    let _ = writeln!(out, "![{}]({})", words(&drawing.alt), figure_file(drawing));
    if !drawing.note.is_empty() {
        let _ = writeln!(out, "\n{}", at_start(&words(&drawing.note)));
    }
}

fn put_table(table: &Table, out: &mut String) {
    if !table.caption.is_empty() {
        let _ = writeln!(out, "*{}*\n", words(&plain(&table.caption)));
    }
    put_row(&table.head, out);
    let rules: Vec<_> = table
        .align
        .iter()
        .map(|align| match align {
            Align::Left => "---",
            Align::Right => "---:",
        })
        .collect();
    let _ = writeln!(out, "| {} |", rules.join(" | "));
    for row in &table.rows {
        put_row(row, out);
    }
}

fn put_row(cells: &[Vec<Inline>], out: &mut String) {
    let cells: Vec<_> = cells.iter().map(|cell| run(cell, Home::Cell)).collect();
    let _ = writeln!(out, "| {} |", cells.join(" | "));
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Home {
    Line,
    Cell,
}

fn line(text: &[Inline]) -> String {
    run(text, Home::Line)
}

fn run(text: &[Inline], home: Home) -> String {
    text.iter()
        .map(|run_of| match run_of {
            Inline::Text(text) if home == Home::Cell => in_cell(text),
            Inline::Text(text) => words(text),
            Inline::Strong(inner) => format!("**{}**", run(inner, home)),
            Inline::Emphasis(inner) => format!("*{}*", run(inner, home)),
            Inline::Code(text) => format!("`{text}`"),
            // the Markdown carries no anchors, so a reference is its words, which hold the number and the title
            Inline::Link { text, .. } => run(text, home),
            Inline::Break if home == Home::Cell => "<br>".to_owned(),
            Inline::Break => "\\\n".to_owned(),
            Inline::Tick(tick) => tick.sign().to_owned(),
            Inline::Blank(blank) => blank.sign().to_owned(),
        })
        .collect()
}

/// Words with the signs escaped that Markdown would take for its own.
fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        if "\\`*_[]<".contains(sign) {
            out.push('\\');
        }
        out.push(sign);
    }
    out
}

fn in_cell(text: &str) -> String {
    words(text).replace('|', "\\|")
}

/// The start of a paragraph must not look like a list, a heading or a quote.
fn at_start(line: &str) -> String {
    let digits = line.chars().take_while(char::is_ascii_digit).count();
    let after = line.chars().nth(digits);
    if digits > 0 && matches!(after, Some('.' | ')')) {
        let (number, rest) = line.split_at_checked(digits).unwrap_or((line, ""));
        return format!("{number}\\{rest}");
    }
    if digits == 0 && matches!(after, Some('#' | '>' | '-' | '+' | '=' | '_')) {
        format!("\\{line}")
    } else {
        line.to_owned()
    }
}
