//! Reads one document from a text.

use std::ops::Range;
use std::sync::Arc;

use serde_yaml::granit_parser::{self, Event, Parser, ScalarStyle, Span, StructureStyle};

use super::mistake::YamlMistake;
use super::resume::Levels;
use super::syntax::explain;
use super::tree::{Sort, Style, Tree};
use super::{Node, Value};
use crate::diagnostic::{Diagnostic, Place, Source};

/// The largest text that is read, in bytes; also the most text that a tree may hold.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;
/// How many lists and records may stand in one another.
pub const MOST_DEPTH: usize = 64;
/// How many values a tree may hold, counting again what each `*name` stands for.
pub const MOST_NODES: usize = 200_000;
/// How often reading is taken up again after a mistake that breaks the structure.
const MOST_RESUMED: usize = 20;

/// Reads one document. An empty text is an empty value. A tree comes back unless a mistake broke the structure; it
/// is whole only if no error stands among the diagnostics. After such a mistake the rest of the text is read for
/// further ones.
pub fn read(source: &Arc<Source>) -> (Option<Node>, Vec<Diagnostic>) {
    if let Some(mistake) = unreadable(source) {
        return (None, vec![mistake]);
    }
    let mut first = part(source, 0..source.text.len());
    let Some(mut stop) = first.stopped_at else { return (Some(first.root), first.mistakes) };
    let mut levels = first.levels;
    for _ in 0..MOST_RESUMED {
        let Some(next) = levels.next_part(&source.text, stop) else { break };
        let more = part(source, next.clone());
        let known_elsewhere = |mistake: &Diagnostic| mistake.code == "YA013";
        first.mistakes.extend(more.mistakes.into_iter().filter(|mistake| !known_elsewhere(mistake)));
        // The line feed before the end, so that the line that begins there is not passed over.
        stop = more.stopped_at.unwrap_or(next.end.saturating_sub(1));
        levels.add(more.levels);
    }
    (None, first.mistakes)
}

/// Texts that are not even looked at.
fn unreadable(source: &Arc<Source>) -> Option<Diagnostic> {
    let bytes = source.text.len();
    if bytes > MOST_BYTES {
        let mistake = YamlMistake::TooLarge { bytes, most: MOST_BYTES };
        return Some(Diagnostic::error(&mistake, Place::new(source, 0, 0)));
    }
    let odd = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\u{85}');
    let (at, character) = source.text.char_indices().find(|(_, c)| odd(*c))?;
    let mistake = YamlMistake::NotText { code: format!("U+{:04X}", u32::from(character)) };
    Some(Diagnostic::error(&mistake, Place::new(source, at, at + character.len_utf8())))
}

/// What one part of a text gave.
struct Part {
    root: Node,
    mistakes: Vec<Diagnostic>,
    /// Where a mistake broke the structure, if one did.
    stopped_at: Option<usize>,
    /// The levels that were open there.
    levels: Levels,
}

/// Why reading stops before the end.
struct Stop {
    why: Why,
    mistake: Box<Diagnostic>,
}

#[derive(Debug, Clone, Copy)]
enum Why {
    /// The structure is broken; the rest may be looked through for more mistakes.
    Broken,
    /// Too much to go on with at all.
    Refused,
    /// What follows is not wanted; what came before stands.
    Enough,
}

impl Stop {
    fn new(why: Why, mistake: Diagnostic) -> Self {
        Self { why, mistake: Box::new(mistake) }
    }
}

fn part(source: &Arc<Source>, range: Range<usize>) -> Part {
    let options = granit_parser::options! {
        disallow_directives: true,
        emit_unresolved_aliases: true,
        flow_nesting_limit: MOST_DEPTH,
        block_nesting_limit: MOST_DEPTH,
    };
    let start = range.start;
    let text = source.text.get(range).unwrap_or_default();
    let mut reader = Reader { source, start, tree: Tree::default(), documents: 0 };
    let steps = Parser::new_from_str_with_options(text, options);
    let stop = steps.map(|step| reader.step(step)).find_map(Result::err);
    let levels = Levels::new(&source.text, reader.tree.open_levels());
    let (root, mut mistakes) = reader.tree.finish();
    let nothing = || Node { place: Place::new(source, start, start), value: Value::Empty };
    let root = root.unwrap_or_else(nothing);
    let stopped_at = stop.as_ref().and_then(|stop| match stop.why {
        Why::Broken => Some(stop.mistake.place.as_ref().map_or(start, |place| place.start)),
        Why::Refused => Some(source.text.len()),
        Why::Enough => None,
    });
    mistakes.extend(stop.map(|stop| *stop.mistake));
    Part { root, mistakes, stopped_at, levels }
}

struct Reader<'a> {
    source: &'a Arc<Source>,
    /// Where the part begins in the source.
    start: usize,
    tree: Tree,
    documents: usize,
}

impl Reader<'_> {
    fn offset(&self, marker: granit_parser::Marker) -> usize {
        self.start + marker.byte_offset().unwrap_or(0)
    }

    fn place(&self, span: &Span) -> Place {
        Place::new(self.source, self.offset(span.start), self.offset(span.end))
    }

    fn step(&mut self, step: granit_parser::ParseResult<'_>) -> Result<(), Stop> {
        match step {
            Ok((Event::DocumentStart(..), span)) => self.document(&span),
            Ok((event, span)) => self
                .take(event, &span)
                .map_err(|mistake| Stop::new(Why::Refused, Diagnostic::error(&mistake, self.place(&span)))),
            Err(error) => {
                let at = self.offset(*error.marker());
                Err(Stop::new(Why::Broken, explain(&error, at, self.tree.open_bracket(), self.source)))
            }
        }
    }

    /// Takes one event; an error is one after which reading on makes no sense.
    fn take(&mut self, event: Event<'_>, span: &Span) -> Result<(), YamlMistake> {
        let place = self.place(span);
        self.refuse_tag(&event, span);
        match event {
            Event::Scalar(text, style, anchor, _) => {
                let nothing = is_nothing(&text, style);
                let value = if nothing { Value::Empty } else { Value::Text(text.into_owned()) };
                self.tree.scalar(Node { place, value }, anchor)
            }
            Event::SequenceStart(style, anchor, _) => {
                self.tree.open(Sort::List, marked(style), anchor, from_dash(place, style))
            }
            Event::MappingStart(style, anchor, _) => self.tree.open(Sort::Map, marked(style), anchor, place),
            Event::SequenceEnd | Event::MappingEnd => self.tree.close(place.end),
            Event::Alias(anchor) => self.tree.alias(anchor, place),
            Event::UnresolvedAlias(name) => {
                self.tree.mistake(&YamlMistake::UnknownAlias { name: name.into_owned() }, &place);
                self.tree.scalar(Node { place, value: Value::Empty }, 0)
            }
            _ => Ok(()),
        }
    }

    fn document(&mut self, span: &Span) -> Result<(), Stop> {
        self.documents += 1;
        if self.documents == 1 {
            return Ok(());
        }
        Err(Stop::new(Why::Enough, Diagnostic::error(&YamlMistake::SecondDocument, self.place(span))))
    }

    fn refuse_tag(&mut self, event: &Event<'_>, span: &Span) {
        if event.tag().is_none() {
            return;
        }
        let place = span.tag_span().map_or_else(|| self.place(span), |tag| self.place(&tag));
        self.tree.mistake(&YamlMistake::Tag { tag: place.text().to_owned() }, &place);
    }
}

fn is_nothing(text: &str, style: ScalarStyle) -> bool {
    style == ScalarStyle::Plain && matches!(text, "" | "~" | "null" | "Null" | "NULL")
}

fn marked(style: StructureStyle) -> Style {
    match style {
        StructureStyle::Flow => Style::Brackets,
        StructureStyle::Block => Style::Lines,
    }
}

/// A list at the level of its name starts, for the parser, after its first dash; here it starts with the dash.
fn from_dash(place: Place, style: StructureStyle) -> Place {
    let text = &place.source.text;
    let after = text.get(place.start..).unwrap_or_default().strip_prefix('-');
    let has_dash = after.is_some_and(|rest| rest.is_empty() || rest.starts_with(char::is_whitespace));
    let before = text.get(..place.start).unwrap_or_default();
    let dash = before.trim_end_matches(' ').strip_suffix('-').map(str::len);
    match dash {
        Some(dash) if style == StructureStyle::Block && !has_dash => Place { start: dash, ..place },
        _ => place,
    }
}
