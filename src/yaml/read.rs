//! Reads one document from a text.

use std::sync::Arc;

use serde_yaml::granit_parser::{self, Event, Parser, ScalarStyle, Span, StructureStyle};

use super::mistake::YamlMistake;
use super::syntax::in_our_words;
use super::tree::{Sort, Style, Tree};
use super::{Node, Value};
use crate::diagnostic::{Diagnostic, Place, Source};

/// The largest text that is read, in bytes; also the most text that a tree may hold.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;
/// How many lists and records may stand in one another.
pub const MOST_DEPTH: usize = 64;
/// How many values a tree may hold, counting again what each `*name` stands for.
pub const MOST_NODES: usize = 200_000;

/// Reads one document. A tree comes back unless the text cannot be made out at all; it is whole only if no error
/// stands among the diagnostics. An empty text is an empty value.
pub fn read(source: &Arc<Source>) -> (Option<Node>, Vec<Diagnostic>) {
    if let Some(mistake) = unreadable(source) {
        return (None, vec![mistake]);
    }
    let options = granit_parser::options! {
        disallow_directives: true,
        emit_unresolved_aliases: true,
        flow_nesting_limit: MOST_DEPTH,
        block_nesting_limit: MOST_DEPTH,
    };
    let mut reader = Reader { source, tree: Tree::default(), documents: 0 };
    for step in Parser::new_from_str_with_options(&source.text, options) {
        let stop = match step {
            Ok((event, span)) => reader.take(event, &span).map_err(|mistake| (mistake, reader.place(&span))),
            Err(error) => {
                let at = error.marker().byte_offset().unwrap_or(source.text.len());
                Err((in_our_words(error.kind()), Place::new(source, at, at)))
            }
        };
        if let Err((mistake, place)) = stop {
            reader.tree.mistake(&mistake, &place);
            return (None, reader.tree.finish().1);
        }
    }
    let (root, mistakes) = reader.tree.finish();
    let nothing = || Node { place: Place::new(source, 0, 0), value: Value::Empty };
    (Some(root.unwrap_or_else(nothing)), mistakes)
}

/// Texts that are not even looked at.
fn unreadable(source: &Arc<Source>) -> Option<Diagnostic> {
    let bytes = source.text.len();
    if bytes > MOST_BYTES {
        return Some(Diagnostic::error(
            &YamlMistake::TooLarge { bytes, most: MOST_BYTES },
            Place::new(source, 0, 0),
        ));
    }
    let odd = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\u{85}');
    let (at, character) = source.text.char_indices().find(|(_, c)| odd(*c))?;
    let mistake = YamlMistake::NotText { code: format!("U+{:04X}", u32::from(character)) };
    Some(Diagnostic::error(&mistake, Place::new(source, at, at + character.len_utf8())))
}

struct Reader<'a> {
    source: &'a Arc<Source>,
    tree: Tree,
    documents: usize,
}

impl Reader<'_> {
    fn place(&self, span: &Span) -> Place {
        let offset = |marker: granit_parser::Marker| marker.byte_offset().unwrap_or(0);
        Place::new(self.source, offset(span.start), offset(span.end))
    }

    /// Takes one event; an error is one after which reading on makes no sense.
    fn take(&mut self, event: Event<'_>, span: &Span) -> Result<(), YamlMistake> {
        let place = self.place(span);
        self.refuse_tag(&event, span);
        match event {
            Event::DocumentStart(..) => self.document(),
            Event::Scalar(text, style, anchor, _) => {
                let value =
                    if is_nothing(&text, style) { Value::Empty } else { Value::Text(text.into_owned()) };
                self.tree.scalar(Node { place, value }, anchor)
            }
            Event::SequenceStart(style, anchor, _) => {
                self.tree.open(Sort::List, marked(style), anchor, place)
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

    fn document(&mut self) -> Result<(), YamlMistake> {
        self.documents += 1;
        if self.documents > 1 { Err(YamlMistake::SecondDocument) } else { Ok(()) }
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
