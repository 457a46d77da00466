//! From text to tree: a whole file, or a kind or citation that stands in a catalogue or clause.

use std::sync::Arc;

use pest::Parser;

use super::ast::{At, Body, CitationWords, File, Item, ItemKind, KindWords, Span, Statement};
use super::build::Builder;
use super::cut::{Piece, PieceKind, cut};
use super::grammar::{Grammar, Rule};
use super::mistake::SyntaxMistake;
use super::parts::Node;
use super::words::explain;
use crate::diagnostic::{Diagnostic, Place, Source, nearest};

/// The words that open a statement.
const OPENERS: [(&str, Rule); 15] = [
    ("rulebook", Rule::rulebook_statement),
    ("house", Rule::house_statement),
    ("source", Rule::source_statement),
    ("stage", Rule::stage_statement),
    ("fact", Rule::fact_statement),
    ("worked", Rule::worked_statement),
    ("quantity", Rule::quantity_statement),
    ("slot", Rule::slot_statement),
    ("finding", Rule::finding_statement),
    ("rule", Rule::rule_statement),
    ("promise", Rule::promise_statement),
    ("waive", Rule::waive_statement),
    ("amend", Rule::amend_statement),
    ("withdraw", Rule::withdraw_statement),
    ("add", Rule::add_statement),
];

/// Reads a rule file. A statement with a mistake is kept as a broken one; the others are read.
pub fn parse(source: &Arc<Source>) -> (File, Vec<Diagnostic>) {
    let (pieces, mut mistakes) = cut(source);
    let items = pieces.into_iter().map(|piece| item(source, piece, &mut mistakes)).collect();
    mistakes.sort_by(|one, other| one.place.cmp(&other.place));
    (File { source: Arc::clone(source), items }, mistakes)
}

fn item(source: &Arc<Source>, piece: Piece, mistakes: &mut Vec<Diagnostic>) -> Item {
    let kind = match piece.kind {
        PieceKind::Comment(text) => ItemKind::Comment(text),
        PieceKind::Stray(span) | PieceKind::Statement { span, spoilt: true, .. } => ItemKind::Broken(span),
        PieceKind::Statement { span, masked, comments, .. } => {
            match statement(source, span, &masked, mistakes) {
                Some(body) => ItemKind::Statement(Box::new(Statement { span, body, comments })),
                None => ItemKind::Broken(span),
            }
        }
    };
    Item { kind, gap: piece.gap }
}

/// Reads one statement from its blanked text.
fn statement(source: &Arc<Source>, span: Span, masked: &str, mistakes: &mut Vec<Diagnostic>) -> Option<Body> {
    let first = masked.split(|sign: char| !sign.is_alphanumeric() && sign != '-' && sign != '_').next()?;
    let Some((_, rule)) = OPENERS.iter().find(|(word, _)| *word == first) else {
        mistakes.push(no_statement(source, span, masked, first));
        return None;
    };
    let mut pairs = match Grammar::parse(*rule, masked) {
        Ok(pairs) => pairs,
        Err(error) => {
            let (mistake, start, end) = explain(masked, &error);
            let place = Span { start: span.start + start, end: span.start + end }.place(source);
            mistakes.push(Diagnostic::error(&mistake, place));
            return None;
        }
    };
    let before = mistakes.len();
    let body = Builder { source, mistakes }.statement(Node::new(pairs.next()?, span.start));
    if mistakes.len() > before { None } else { body }
}

fn no_statement(source: &Arc<Source>, span: Span, masked: &str, first: &str) -> Diagnostic {
    let words = OPENERS.iter().map(|(word, _)| *word);
    let help = match nearest(first, words.clone()) {
        Some(meant) => format!("did you mean `{meant}`?"),
        None => format!("a statement begins with one of {}", words.collect::<Vec<_>>().join(", ")),
    };
    let line = masked.lines().next().unwrap_or_default();
    let found = if first.is_empty() { line.split_whitespace().next().unwrap_or(line) } else { first };
    let end = span.start + found.len();
    let mistake = SyntaxMistake::NoStatement { found: found.to_owned(), help };
    Diagnostic::error(&mistake, Span { start: span.start, end }.place(source))
}

/// Reads the kind of a column, such as `one of silicate, lime`.
pub fn kind(text: &str, place: &Place) -> Result<At<KindWords>, Box<Diagnostic>> {
    let node = alone(text, place, Rule::kind_alone)?;
    node.parts().next().and_then(super::build_declaration::kind).ok_or_else(|| Box::new(unread(text, place)))
}

/// Reads citations that stand alone, such as `nps-brief-1, section 3 and common-practice`.
pub fn citations(text: &str, place: &Place) -> Result<Vec<CitationWords>, Box<Diagnostic>> {
    let node = alone(text, place, Rule::citations_alone)?;
    Ok(node.parts().filter_map(super::build::citation).collect())
}

/// Parses a text of its own; spans count from the start of its place.
fn alone<'t>(text: &'t str, place: &Place, rule: Rule) -> Result<Node<'t>, Box<Diagnostic>> {
    let mut pairs = Grammar::parse(rule, text)
        .map_err(|error| Box::new(Diagnostic::error(&explain(text, &error).0, place.clone())))?;
    let pair = pairs.next().ok_or_else(|| Box::new(unread(text, place)))?;
    Ok(Node::new(pair, place.start))
}

fn unread(text: &str, place: &Place) -> Diagnostic {
    let expected = "see the rule language".to_owned();
    let mistake = SyntaxMistake::DoesNotFit { found: text.to_owned(), expected };
    Diagnostic::error(&mistake, place.clone())
}
