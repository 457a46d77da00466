//! The words of a block as one string with stretches of look, link and owner.

use super::laid::{Look, Owner};
use super::tokens::{CODE_SCALE, Colour, Pt, TICK_BOX, Type};
use crate::document::block::{Blank, Inline, Ruled, Tick};

/// A part of the string that looks alike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stretch {
    /// One past its last byte; it starts where the one before ends.
    pub(crate) end: usize,
    /// Look.
    pub(crate) look: Look,
    /// Link, by its place in the list of links.
    pub(crate) link: Option<u32>,
    /// Whom it belongs to.
    pub(crate) owner: Owner,
    /// What is drawn in place of its one sign.
    pub(crate) drawn: Option<Drawn>,
}

/// What is drawn among words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Drawn {
    /// A box to tick.
    Tick(Tick),
    /// Room to write in.
    Room {
        /// How wide.
        width: Pt,
        /// With a line or without.
        line: Ruled,
    },
}

impl Drawn {
    fn of(blank: Blank) -> Self {
        Self::Room { width: blank.width.points(), line: blank.line }
    }

    /// The room it takes on its line.
    pub(crate) fn width(self) -> Pt {
        match self {
            Self::Tick(_) => TICK_BOX,
            Self::Room { width, .. } => width,
        }
    }
}

/// The sign that stands for what is drawn: it may be parted from words around it as a picture may.
pub(crate) const STANDS_IN: char = '\u{fffc}';

/// Words to be broken into lines. A line feed is a forced break; no other white space but spaces is left.
#[derive(Debug, Clone, Default)]
pub(crate) struct Words {
    /// The text.
    pub(crate) text: String,
    /// Its stretches, in order.
    pub(crate) stretches: Vec<Stretch>,
}

/// Targets of links, each once.
#[derive(Debug, Default)]
pub(crate) struct Links(pub(crate) Vec<String>);

impl Links {
    fn number(&mut self, target: &str) -> Option<u32> {
        let at = self.0.iter().position(|known| known == target).unwrap_or(self.0.len());
        if at == self.0.len() {
            self.0.push(target.to_owned());
        }
        u32::try_from(at).ok()
    }
}

/// What a run inherits from the runs around it.
#[derive(Clone, Copy)]
struct Dress {
    look: Look,
    link: Option<u32>,
}

impl Words {
    /// Words without dress.
    pub(crate) fn plain(text: &str, kind: Type, owner: Owner) -> Self {
        let mut words = Self::default();
        words.push_plain(text, kind, owner);
        words
    }

    /// The words of inline runs.
    pub(crate) fn of(runs: &[Inline], kind: Type, owner: Owner, links: &mut Links) -> Self {
        let mut words = Self::default();
        words.push(runs, kind, owner, links);
        words
    }

    /// Adds words without dress.
    pub(crate) fn push_plain(&mut self, text: &str, kind: Type, owner: Owner) {
        self.add(text, Dress { look: look(kind), link: None }, owner);
    }

    /// Adds inline runs.
    pub(crate) fn push(&mut self, runs: &[Inline], kind: Type, owner: Owner, links: &mut Links) {
        self.dress(runs, kind, Dress { look: look(kind), link: None }, owner, links);
    }

    /// Whether there is nothing to set.
    pub(crate) fn is_blank(&self) -> bool {
        self.text.trim_matches([' ', '\n']).is_empty()
    }

    /// Whether the sign at a byte stands for room to write in.
    pub(crate) fn is_room(&self, at: usize) -> bool {
        let holds_it = self.stretches.iter().find(|stretch| stretch.end > at);
        holds_it.is_some_and(|stretch| matches!(stretch.drawn, Some(Drawn::Room { .. })))
    }

    fn dress(&mut self, runs: &[Inline], kind: Type, dress: Dress, owner: Owner, links: &mut Links) {
        for run in runs {
            match run {
                Inline::Text(text) => self.add(text, dress, owner),
                Inline::Code(text) => self.add(text, code(dress), owner),
                Inline::Break => self.feed(dress, owner),
                Inline::Tick(tick) => self.draw(Drawn::Tick(*tick), dress, owner),
                Inline::Blank(blank) => self.draw(Drawn::of(*blank), dress, owner),
                Inline::Strong(inner) => self.dress(inner, kind, strong(dress, kind), owner, links),
                Inline::Emphasis(inner) => self.dress(inner, kind, emphasis(dress, kind), owner, links),
                Inline::Link { target, text } => {
                    let look = Look { colour: Colour::Accent, ..dress.look };
                    let dress = Dress { look, link: links.number(target) };
                    self.dress(text, kind, dress, owner, links);
                }
            }
        }
    }

    /// Adds text, with every run of white space as one space and none at the start of a line.
    fn add(&mut self, text: &str, dress: Dress, owner: Owner) {
        for sign in text.chars() {
            let is_space = matches!(
                sign,
                ' ' | '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}'
            );
            if !is_space {
                self.text.push(sign);
            } else if !(self.text.is_empty() || self.text.ends_with([' ', '\n'])) {
                self.text.push(' ');
            }
        }
        self.close(dress, owner);
    }

    fn feed(&mut self, dress: Dress, owner: Owner) {
        self.text.truncate(self.text.trim_end_matches(' ').len());
        for stretch in &mut self.stretches {
            stretch.end = stretch.end.min(self.text.len());
        }
        self.text.push('\n');
        self.close(dress, owner);
    }

    fn draw(&mut self, drawn: Drawn, dress: Dress, owner: Owner) {
        self.text.push(STANDS_IN);
        self.close(dress, owner);
        if let Some(last) = self.stretches.last_mut() {
            last.drawn = Some(drawn);
        }
    }

    fn close(&mut self, dress: Dress, owner: Owner) {
        let from = self.stretches.last().map_or(0, |last| last.end);
        if self.text.len() > from {
            let (end, Dress { look, link }) = (self.text.len(), dress);
            self.stretches.push(Stretch { end, look, link, owner, drawn: None });
        }
    }
}

/// The look of words without dress.
pub(crate) fn look(kind: Type) -> Look {
    Look { face: kind.face, size: kind.size, colour: kind.colour, tracking: kind.tracking }
}

fn code(dress: Dress) -> Dress {
    let look =
        Look { face: super::font::Face::Code, size: dress.look.size * CODE_SCALE, tracking: 0, ..dress.look };
    Dress { look, ..dress }
}

fn strong(dress: Dress, kind: Type) -> Dress {
    let size = kind.large.unwrap_or(dress.look.size);
    Dress { look: Look { face: kind.bold, size, ..dress.look }, ..dress }
}

/// Italic; bold stays bold, since the faces have no bold italic.
fn emphasis(dress: Dress, kind: Type) -> Dress {
    let face = if dress.look.face == kind.bold { kind.bold } else { kind.italic };
    Dress { look: Look { face, ..dress.look }, ..dress }
}
