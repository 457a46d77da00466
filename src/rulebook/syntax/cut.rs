//! Cuts a rule file at the margin, so that a slip spoils one statement, and takes the comments out.

use std::sync::Arc;

use super::ast::{Comment, Gap, Span, Stands};
use super::mistake::SyntaxMistake;
use crate::diagnostic::{Diagnostic, Source};

/// The most brackets in brackets.
const DEEPEST: usize = 16;

/// One thing that stands at the margin.
pub(super) struct Piece {
    pub(super) kind: PieceKind,
    pub(super) gap: Gap,
}

/// What stands at the margin.
pub(super) enum PieceKind {
    /// A comment line.
    Comment(String),
    /// Indented lines under no statement.
    Stray(Span),
    /// A statement, its comments blanked; `spoilt` when it must not be parsed.
    Statement { span: Span, masked: String, comments: Vec<Comment>, spoilt: bool },
}

/// Cuts a file into statements and the comments between them.
pub(super) fn cut(source: &Arc<Source>) -> (Vec<Piece>, Vec<Diagnostic>) {
    let mut cutter = Cutter::new(source);
    let mut at = source.text.strip_prefix('\u{feff}').map_or(0, |_| '\u{feff}'.len_utf8());
    for line in source.text.get(at..).unwrap_or_default().split_inclusive('\n') {
        cutter.line(line.trim_end(), at);
        at += line.len();
    }
    cutter.close();
    (cutter.pieces, cutter.mistakes)
}

/// What has been seen so far.
struct Cutter<'s> {
    source: &'s Arc<Source>,
    pieces: Vec<Piece>,
    mistakes: Vec<Diagnostic>,
    /// The statement that is open, with the gap before it.
    open: Option<(Span, Gap)>,
    /// Comments at the margin that belong to the open statement only if an indented line follows.
    waiting: Vec<(String, Gap)>,
    gap: Gap,
    /// Indented lines that stand under no statement: a run of them is one mistake.
    stray: Option<Span>,
}

impl<'s> Cutter<'s> {
    fn new(source: &'s Arc<Source>) -> Self {
        let (pieces, mistakes, waiting) = (Vec::new(), Vec::new(), Vec::new());
        Self { source, pieces, mistakes, open: None, waiting, gap: Gap::Close, stray: None }
    }

    fn line(&mut self, line: &str, at: usize) {
        let end = at + line.len();
        if line.is_empty() {
            self.gap = Gap::Empty;
        } else if line.starts_with("--") {
            self.waiting.push((line.to_owned(), self.gap));
            self.gap = Gap::Close;
        } else if line.starts_with(char::is_whitespace) {
            self.indented(line, at, end);
        } else {
            self.close();
            self.open = Some((Span { start: at, end }, self.gap));
            self.gap = Gap::Close;
        }
    }

    fn indented(&mut self, line: &str, at: usize, end: usize) {
        let words = line.trim_start();
        if let Some((span, _)) = &mut self.open {
            span.end = end;
            self.waiting.clear();
        } else if let Some(span) = &mut self.stray {
            span.end = end;
            self.waiting.clear();
        } else if words.starts_with("--") {
            self.waiting.push((words.to_owned(), self.gap));
        } else {
            self.close();
            let span = Span { start: at + line.len() - words.len(), end };
            self.mistakes.push(Diagnostic::error(&SyntaxMistake::NoStatementAbove, span.place(self.source)));
            self.stray = Some(Span { start: at, end });
        }
        self.gap = Gap::Close;
    }

    /// Ends the open statement and lets go of the comments that waited.
    fn close(&mut self) {
        if let Some(span) = self.stray.take() {
            self.pieces.push(Piece { kind: PieceKind::Stray(span), gap: Gap::Empty });
        }
        if let Some((span, gap)) = self.open.take() {
            let kind = self.statement(span);
            self.pieces.push(Piece { kind, gap });
        }
        for (text, gap) in self.waiting.drain(..) {
            self.pieces.push(Piece { kind: PieceKind::Comment(text), gap });
        }
    }

    fn statement(&mut self, span: Span) -> PieceKind {
        let text = self.source.text.get(span.start..span.end).unwrap_or_default();
        let mut mask = Mask::new(text, span.start);
        mask.run();
        let spoilt = mask.trouble.is_some();
        if let Some((mistake, at)) = mask.trouble {
            let place = Span { start: at, end: at + 1 }.place(self.source);
            self.mistakes.push(Diagnostic::error(&mistake, place));
        }
        PieceKind::Statement { span, masked: mask.masked, comments: mask.comments, spoilt }
    }
}

/// Blanks the comments of one statement, byte for byte.
struct Mask<'t> {
    text: &'t str,
    base: usize,
    masked: String,
    comments: Vec<Comment>,
    trouble: Option<(SyntaxMistake, usize)>,
    deep: usize,
}

impl<'t> Mask<'t> {
    fn new(text: &'t str, base: usize) -> Self {
        let masked = String::with_capacity(text.len());
        Self { text, base, masked, comments: Vec::new(), trouble: None, deep: 0 }
    }

    fn run(&mut self) {
        let mut quote = None;
        let mut signs = self.text.char_indices().peekable();
        while let Some((at, sign)) = signs.next() {
            match (sign, quote) {
                ('\\', Some(_)) => {
                    self.masked.push(sign);
                    self.masked.extend(signs.next().map(|(_, next)| next));
                    continue;
                }
                ('"', Some(_)) => quote = None,
                ('"', None) => quote = Some(at),
                ('-', None) if signs.peek().is_some_and(|(_, next)| *next == '-') => {
                    let length = self.comment(at);
                    while signs.peek().is_some_and(|(next, _)| *next < at + length) {
                        signs.next();
                    }
                    continue;
                }
                (_, None) => self.bracket(sign, at),
                (_, Some(_)) => {}
            }
            self.masked.push(sign);
        }
        if let Some(at) = quote {
            self.trouble = Some((SyntaxMistake::OpenQuote, self.base + at));
        }
    }

    fn bracket(&mut self, sign: char, at: usize) {
        match sign {
            '(' => self.deep += 1,
            ')' => self.deep = self.deep.saturating_sub(1),
            _ => {}
        }
        if self.deep > DEEPEST && self.trouble.is_none() {
            self.trouble = Some((SyntaxMistake::TooDeep { most: DEEPEST }, self.base + at));
        }
    }

    /// Takes the comment that starts here; returns its length in bytes.
    fn comment(&mut self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        let line = rest.lines().next().unwrap_or_default();
        let before = self.text.get(..at).and_then(|text| text.rsplit('\n').next()).unwrap_or_default();
        let stands = if before.trim().is_empty() { Stands::Alone } else { Stands::After };
        self.comments.push(Comment { text: line.trim_end().to_owned(), start: self.base + at, stands });
        self.masked.extend(std::iter::repeat_n(' ', line.len()));
        line.len()
    }
}
