//! A rule file in its one layout, comments kept. Printing what was printed changes nothing.

use std::sync::Arc;

use super::ast::{Comment, File, Gap, Item, ItemKind, Stands, Statement};
use super::parse::parse;
use super::print::{Line, lines};
use crate::diagnostic::{Diagnostic, Source};

/// Lines are broken at this many characters.
const WIDTH: usize = 100;

/// Prints a rule file in its one layout. Statements with a mistake stay as they were written.
pub fn tidy(source: &Arc<Source>) -> (String, Vec<Diagnostic>) {
    let (file, mistakes) = parse(source);
    (print(&file), mistakes)
}

/// The kind of thing last printed, as far as the space after it is concerned.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Shape {
    Comment,
    OneLine,
    Block,
}

fn print(file: &File) -> String {
    let mut out = String::new();
    let mut last = None;
    for item in &file.items {
        let (text, shape) = print_item(item, file);
        if last.is_some_and(|last| apart(last, shape, item.gap)) {
            out.push('\n');
        }
        out.push_str(&text);
        last = Some(shape);
    }
    out
}

/// Whether an empty line goes between two things: where there was one, and round every block.
fn apart(last: Shape, next: Shape, gap: Gap) -> bool {
    let block = last == Shape::Block || (next == Shape::Block && last != Shape::Comment);
    gap == Gap::Empty || block
}

fn print_item(item: &Item, file: &File) -> (String, Shape) {
    match &item.kind {
        ItemKind::Comment(text) => (format!("{text}\n"), Shape::Comment),
        ItemKind::Broken(span) => {
            let text = file.source.text.get(span.start..span.end).unwrap_or_default();
            let shape = if text.contains('\n') { Shape::Block } else { Shape::OneLine };
            let lines: Vec<&str> = text.lines().map(str::trim_ascii_end).collect();
            (lines.join("\n") + "\n", shape)
        }
        ItemKind::Statement(statement) => {
            let text = print_statement(statement);
            let shape = if text.trim_end().contains('\n') { Shape::Block } else { Shape::OneLine };
            (text, shape)
        }
    }
}

/// A line with the comments that belong to it.
struct Dressed {
    line: Line,
    before: Vec<String>,
    after: Option<String>,
}

fn print_statement(statement: &Statement) -> String {
    let (dressed, tail) = dress(statement);
    let mut out = String::new();
    for (number, part) in dressed.iter().enumerate() {
        let indent = if number == 0 { "" } else { "  " };
        for comment in &part.before {
            out.extend([indent, comment.as_str(), "\n"]);
        }
        out.push_str(&broken(&part.line, indent));
        if let Some(comment) = &part.after {
            out.extend(["  ", comment.as_str()]);
        }
        out.push('\n');
    }
    for comment in tail {
        out.extend(["  ", comment.as_str(), "\n"]);
    }
    out
}

/// Gives each comment to the line it stands on or before; what stands after the last line is returned apart.
fn dress(statement: &Statement) -> (Vec<Dressed>, Vec<String>) {
    let mut dressed: Vec<Dressed> = lines(&statement.body)
        .into_iter()
        .map(|line| Dressed { line, before: Vec::new(), after: None })
        .collect();
    if let Some(head) = dressed.first_mut() {
        head.line.span.start = statement.span.start;
    }
    let mut tail = Vec::new();
    for comment in &statement.comments {
        give(comment, &mut dressed, &mut tail);
    }
    (dressed, tail)
}

fn give(comment: &Comment, dressed: &mut [Dressed], tail: &mut Vec<String>) {
    let after = dressed.iter().any(|part| part.line.span.start > comment.start);
    let holder = dressed
        .iter_mut()
        .filter(|part| part.line.span.start <= comment.start)
        .max_by_key(|part| part.line.span.start);
    let Some(holder) = holder else { return };
    let inside = comment.start < holder.line.span.end;
    match comment.stands {
        Stands::After => {
            let earlier = holder.after.replace(comment.text.clone());
            holder.before.extend(earlier);
        }
        Stands::Alone if inside => holder.before.push(comment.text.clone()),
        Stands::Alone if after => {
            let next = dressed
                .iter_mut()
                .filter(|part| part.line.span.start > comment.start)
                .min_by_key(|part| part.line.span.start);
            if let Some(next) = next {
                next.before.push(comment.text.clone());
            }
        }
        Stands::Alone => tail.push(comment.text.clone()),
    }
}

/// Breaks a line at the width; what follows is indented by four.
fn broken(line: &Line, indent: &str) -> String {
    let mut out = indent.to_owned();
    let mut column = indent.len();
    let mut fresh = true;
    for chunk in &line.chunks {
        let length = chunk.chars().count();
        if !fresh && column + 1 + length > WIDTH {
            out.push_str("\n    ");
            column = 4;
        } else if !fresh {
            out.push(' ');
            column += 1;
        }
        out.push_str(chunk);
        column += length;
        fresh = false;
    }
    out
}
