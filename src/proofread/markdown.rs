//! Papers from Markdown, as `perpend write` prints it and as others may have edited it since.

use std::iter::Peekable;
use std::ops::Range;

use pulldown_cmark::{Event, HeadingLevel, OffsetIter, Options, Parser, Tag, TagEnd};

use super::paper::{Builder, Paper};
use crate::document::block::{Inline, plain};

/// Reads a paper. Any text is some Markdown, so nothing can be wrong with it here.
pub fn of_markdown(name: &str, text: &str) -> Paper {
    let events = Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter().peekable();
    let mut reader = Reader { text, events, at: 0, line: 1 };
    let mut pieces = Vec::new();
    while let Some(piece) = reader.piece() {
        pieces.push(piece);
    }
    built(name, pieces)
}

/// One block, with its line.
struct Piece {
    line: usize,
    kind: PieceKind,
}

enum PieceKind {
    Heading(u8, Vec<Inline>),
    Point(u8, Vec<Inline>),
    Paragraph(Vec<Inline>),
    Caution(Vec<Vec<Inline>>),
    Table(Vec<Vec<Inline>>, Vec<(Option<usize>, Vec<Vec<Inline>>)>),
    Picture(String),
    Rule,
}

struct Reader<'t> {
    text: &'t str,
    events: Peekable<OffsetIter<'t>>,
    /// How far lines are counted, and the line there.
    at: usize,
    line: usize,
}

impl<'t> Reader<'t> {
    fn next(&mut self) -> Option<(Event<'t>, Range<usize>)> {
        self.events.next()
    }

    fn line_of(&mut self, place: usize) -> usize {
        if place > self.at {
            let between = self.text.get(self.at..place).unwrap_or_default();
            self.line += between.bytes().filter(|byte| *byte == b'\n').count();
            self.at = place;
        }
        self.line
    }

    fn piece(&mut self) -> Option<Piece> {
        loop {
            let (event, range) = self.next()?;
            let line = self.line_of(range.start);
            let kind = match event {
                Event::Start(Tag::Heading { level, .. }) => {
                    PieceKind::Heading(rank(level), self.inline(TagEnd::Heading(level)))
                }
                Event::Start(Tag::Paragraph) => self.paragraph(),
                Event::Start(Tag::BlockQuote(_)) => PieceKind::Caution(self.quote()),
                Event::Start(Tag::Table(_)) => self.table(),
                Event::Start(Tag::Item) => {
                    let depth = 1 + self.indent(range.start) / 2;
                    PieceKind::Point(u8::try_from(depth).unwrap_or(u8::MAX), self.point())
                }
                Event::Rule => PieceKind::Rule,
                _ => continue,
            };
            return Some(Piece { line, kind });
        }
    }

    /// How many spaces stand before a place in its line.
    fn indent(&self, place: usize) -> usize {
        let before = self.text.get(..place).unwrap_or_default();
        before.len() - before.trim_end_matches(' ').len()
    }

    fn paragraph(&mut self) -> PieceKind {
        if let Some((Event::Start(Tag::Image { .. }), _)) = self.events.peek() {
            let _ = self.next();
            let words = plain(&self.inline(TagEnd::Image));
            let _ = self.inline(TagEnd::Paragraph);
            return PieceKind::Picture(words);
        }
        PieceKind::Paragraph(self.inline(TagEnd::Paragraph))
    }

    fn quote(&mut self) -> Vec<Vec<Inline>> {
        let mut paragraphs = Vec::new();
        while let Some((event, _)) = self.next() {
            match event {
                Event::Start(Tag::Paragraph) => paragraphs.push(self.inline(TagEnd::Paragraph)),
                Event::End(TagEnd::BlockQuote(_)) => break,
                _ => {}
            }
        }
        paragraphs
    }

    fn table(&mut self) -> PieceKind {
        let (mut head, mut rows, mut row, mut line) = (Vec::new(), Vec::new(), Vec::new(), None);
        while let Some((event, range)) = self.next() {
            match event {
                Event::Start(Tag::TableRow) => line = Some(self.line_of(range.start)),
                Event::Start(Tag::TableCell) => row.push(self.inline(TagEnd::TableCell)),
                Event::End(TagEnd::TableHead) => head = std::mem::take(&mut row),
                Event::End(TagEnd::TableRow) => rows.push((line, std::mem::take(&mut row))),
                Event::End(TagEnd::Table) => break,
                _ => {}
            }
        }
        PieceKind::Table(head, rows)
    }

    /// The words of a point up to the list inside it, which follows as points of its own.
    fn point(&mut self) -> Vec<Inline> {
        let mut runs = Vec::new();
        loop {
            match self.events.peek() {
                None | Some((Event::Start(Tag::List(_) | Tag::Item), _)) => break,
                Some((Event::End(TagEnd::Item), _)) => {
                    let _ = self.next();
                    break;
                }
                Some((Event::Start(Tag::Paragraph), _)) => {
                    let _ = self.next();
                }
                Some((Event::End(TagEnd::Paragraph), _)) => {
                    let _ = self.next();
                    add(&mut runs, Inline::Text(" ".to_owned()));
                }
                Some(_) => {
                    if let Some((event, _)) = self.next() {
                        self.run(event, &mut runs);
                    }
                }
            }
        }
        runs
    }

    fn inline(&mut self, end: TagEnd) -> Vec<Inline> {
        let mut runs = Vec::new();
        while let Some((event, _)) = self.next() {
            match event {
                Event::End(tag) if tag == end => break,
                event => self.run(event, &mut runs),
            }
        }
        runs
    }

    fn run(&mut self, event: Event<'t>, runs: &mut Vec<Inline>) {
        match event {
            Event::Text(words) => add(runs, Inline::Text(words.into_string())),
            Event::Code(words) => add(runs, Inline::Code(words.into_string())),
            Event::SoftBreak => add(runs, Inline::Text(" ".to_owned())),
            Event::HardBreak => add(runs, Inline::Break),
            Event::InlineHtml(tag) | Event::Html(tag) if &*tag == "<br>" => add(runs, Inline::Break),
            Event::InlineHtml(tag) | Event::Html(tag) => add(runs, Inline::Text(tag.into_string())),
            Event::Start(Tag::Strong) => add(runs, Inline::Strong(self.inline(TagEnd::Strong))),
            Event::Start(Tag::Emphasis) => add(runs, Inline::Emphasis(self.inline(TagEnd::Emphasis))),
            Event::Start(Tag::Link { .. }) => {
                self.inline(TagEnd::Link).into_iter().for_each(|run| add(runs, run));
            }
            Event::Start(Tag::Image { .. }) => {
                self.inline(TagEnd::Image).into_iter().for_each(|run| add(runs, run));
            }
            _ => {}
        }
    }
}

fn add(runs: &mut Vec<Inline>, run: Inline) {
    match (runs.last_mut(), run) {
        (Some(Inline::Text(before)), Inline::Text(after)) => before.push_str(&after),
        (_, run) => runs.push(run),
    }
}

fn rank(level: HeadingLevel) -> u8 {
    match level {
        HeadingLevel::H1 => 0,
        HeadingLevel::H2 => 1,
        HeadingLevel::H3 => 2,
        _ => 3,
    }
}

/// The whole of a paragraph that is set in bold or in italics alone.
fn all_strong(text: &[Inline]) -> Option<String> {
    if let [Inline::Strong(inner)] = text { Some(plain(inner)) } else { None }
}

fn all_emphasis(text: &[Inline]) -> Option<String> {
    if let [Inline::Emphasis(inner)] = text { Some(plain(inner)) } else { None }
}

/// Pieces as a paper: head and foot are told from the rest by where they stand.
fn built(name: &str, mut pieces: Vec<Piece>) -> Paper {
    let front = Front::taken(&mut pieces);
    let foot = foot(&mut pieces);
    let mut builder = Builder::new(name, &front.title);
    builder.surround(&front.strip, front.title_block, &foot);
    let mut pieces = pieces.into_iter().peekable();
    while let Some(Piece { line, kind }) = pieces.next() {
        builder.stand_at(Some(line), None);
        match kind {
            PieceKind::Heading(level, text) => builder.heading(level, "", &text),
            PieceKind::Point(depth, text) => point(depth, &text, &mut builder),
            PieceKind::Caution(text) => caution(text, &mut builder),
            PieceKind::Table(head, rows) => builder.table("", &head, &rows),
            PieceKind::Picture(alt) => builder.figure("", &alt, ""),
            PieceKind::Rule => {}
            PieceKind::Paragraph(text) => {
                let caption = all_emphasis(&text);
                match (caption, pieces.peek().map(|piece| &piece.kind)) {
                    (Some(caption), Some(PieceKind::Table(..))) => {
                        if let Some(Piece { kind: PieceKind::Table(head, rows), .. }) = pieces.next() {
                            builder.table(&caption, &head, &rows);
                        }
                    }
                    (Some(caption), Some(PieceKind::Picture(_))) => {
                        if let Some(Piece { kind: PieceKind::Picture(alt), .. }) = pieces.next() {
                            builder.figure(&caption, &alt, "");
                        }
                    }
                    _ => match all_strong(&text) {
                        Some(words) if words.chars().all(|sign| !sign.is_lowercase()) => builder.end(&words),
                        _ => builder.paragraph(&text),
                    },
                }
            }
        }
    }
    builder.finish()
}

/// What stands before the text.
#[derive(Default)]
struct Front {
    title: String,
    strip: String,
    title_block: Vec<(String, String)>,
}

impl Front {
    fn taken(pieces: &mut Vec<Piece>) -> Self {
        let mut front = Self::default();
        let mut taken = 0;
        let mut standing = false;
        for piece in pieces.iter() {
            match &piece.kind {
                PieceKind::Heading(0, text) if taken == 0 => front.title = plain(text),
                PieceKind::Paragraph(text) if all_strong(text).is_some() && taken > 0 => {
                    if standing {
                        front.strip = all_strong(text).unwrap_or_default();
                    }
                }
                PieceKind::Paragraph(text) if all_emphasis(text).is_some() && taken > 0 && !standing => {
                    standing = true;
                }
                PieceKind::Table(head, rows) if head.len() == 2 && head.iter().all(Vec::is_empty) => {
                    let cell = |row: &[Vec<Inline>], at: usize| row.get(at).map(|cell| plain(cell));
                    let field = |(_, row): &(_, Vec<Vec<Inline>>)| {
                        (cell(row, 0).unwrap_or_default(), cell(row, 1).unwrap_or_default())
                    };
                    front.title_block = rows.iter().map(field).collect();
                }
                _ => break,
            }
            taken += 1;
        }
        pieces.drain(..taken);
        front
    }
}

/// The foot, where the last paragraph names a book.
fn foot(pieces: &mut Vec<Piece>) -> String {
    let words = match pieces.last().map(|piece| &piece.kind) {
        Some(PieceKind::Paragraph(text)) => plain(text),
        _ => return String::new(),
    };
    if !words.contains(", book ") {
        return String::new();
    }
    pieces.pop();
    words
}

/// A numbered paragraph opens with its label in bold.
fn point(depth: u8, text: &[Inline], builder: &mut Builder) {
    if let [Inline::Strong(label), rest @ ..] = text {
        let label = plain(label);
        let bare = label.trim_end_matches(['.', ')']);
        let is_label = !bare.is_empty()
            && (bare.chars().all(|sign| sign.is_ascii_digit())
                || (bare.len() < 3 && label != bare && bare.chars().all(|sign| sign.is_ascii_alphabetic())));
        if is_label {
            let mut rest = rest.to_vec();
            if let Some(Inline::Text(first)) = rest.first_mut() {
                *first = first.trim_start_matches(' ').to_owned();
                if first.is_empty() {
                    rest.remove(0);
                }
            }
            return builder.item(depth, &label, &rest);
        }
    }
    builder.bullet(text);
}

/// The first paragraph of a box opens with its word in bold.
fn caution(mut text: Vec<Vec<Inline>>, builder: &mut Builder) {
    let mut word = String::new();
    if let Some(first) = text.first_mut()
        && let Some(Inline::Strong(inner)) = first.first()
    {
        word = plain(inner);
        first.remove(0);
        if let Some(Inline::Text(words)) = first.first_mut() {
            *words = words.trim_start_matches(' ').to_owned();
        }
    }
    text.retain(|paragraph| !plain(paragraph).is_empty());
    builder.caution(&word, &text);
}
