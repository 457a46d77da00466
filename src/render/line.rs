//! Words on lines: runs of glyphs with their places.

use std::borrow::Cow;

use super::breaking::{Atom, End, Room, atoms, ends};
use super::font::{Shaper, is_unseen};
use super::hyphen::Hyphens;
use super::laid::Run;
use super::tokens::Pt;
use super::words::{Stretch, Words};

/// The sign for a hyphen that stands there only because a line ends.
const SOFT_HYPHEN: char = '\u{ad}';

/// A line of text.
#[derive(Debug, Clone, Default)]
pub(crate) struct Line {
    /// Its runs, left to right.
    pub(crate) runs: Vec<Run>,
    /// Its width.
    pub(crate) width: Pt,
}

/// Sets words in lines.
pub(crate) fn lines(words: &Words, room: Room, hyphens: Hyphens, shaper: &mut Shaper) -> Vec<Line> {
    lines_of(words, &atoms(words, room, hyphens, shaper), room, shaper)
}

/// Sets words in lines, cut into atoms before; each atom must fit a line.
pub(crate) fn lines_of(words: &Words, atoms: &[Atom], room: Room, shaper: &mut Shaper) -> Vec<Line> {
    if words.is_blank() {
        return Vec::new();
    }
    let mut start = 0;
    let mut lines = Vec::new();
    for end in ends(atoms, room) {
        let on_line = atoms.get(start..end).unwrap_or_default();
        lines.push(line(words, on_line, end == atoms.len(), shaper));
        start = end;
    }
    lines
}

/// Sets words on one line, however wide.
pub(crate) fn one_line(words: &Words, shaper: &mut Shaper) -> Line {
    let room = Room { first: f64::MAX, rest: f64::MAX };
    lines(words, room, Hyphens::Never, shaper).into_iter().next().unwrap_or_default()
}

fn line(words: &Words, atoms: &[Atom], is_last: bool, shaper: &mut Shaper) -> Line {
    let mut line = Line::default();
    let (Some(first), Some(last)) = (atoms.first(), atoms.last()) else { return line };
    let mut from = 0;
    for stretch in &words.stretches {
        let (start, end) = (from.max(first.from), stretch.end.min(last.to));
        from = stretch.end;
        if let Some(text) = words.text.get(start..end).filter(|text| !text.is_empty()) {
            line.push(text, stretch, shaper);
        }
    }
    match last.end {
        End::Hyphen(_) if !is_last => line.part(shaper),
        End::Torn if !is_last => {}
        _ => line.hang_space(shaper),
    }
    line
}

impl Line {
    /// Adds text of one look as a run.
    fn push(&mut self, text: &str, stretch: &Stretch, shaper: &mut Shaper) {
        let mut run = Run {
            x: self.width,
            width: 0.0,
            look: stretch.look,
            glyphs: Vec::new(),
            text: String::new(),
            link: stretch.link,
            owner: stretch.owner,
            drawn: stretch.drawn,
        };
        if let Some(drawn) = run.drawn {
            run.width = drawn.width();
            self.width += run.width;
            self.runs.push(run);
            return;
        }
        for piece in text.split_inclusive(' ') {
            let word = piece.trim_end_matches(' ');
            add(&mut run, word, shaper);
            if word.len() < piece.len() {
                add(&mut run, " ", shaper);
            }
        }
        self.width += run.width;
        self.runs.push(run);
    }

    /// Parts a word: a hyphen is drawn that is none of its letters, so that it is read and copied whole.
    fn part(&mut self, shaper: &mut Shaper) {
        if let Some(run) = self.runs.last_mut() {
            let before = run.width;
            add(run, "-", shaper);
            self.width += run.width - before;
            run.text.pop();
            run.text.push(SOFT_HYPHEN);
            if let Some(glyph) = run.glyphs.last_mut() {
                glyph.to = u32::try_from(run.text.len()).unwrap_or(u32::MAX);
            }
        }
    }

    /// Ends the line with a space that takes no room, so that copied words stay apart.
    fn hang_space(&mut self, shaper: &mut Shaper) {
        if let Some(run) = self.runs.last_mut() {
            let before = run.width;
            add(run, " ", shaper);
            run.width = before;
        }
    }
}

/// Adds a word or a space to a run.
fn add(run: &mut Run, word: &str, shaper: &mut Shaper) {
    let start = u32::try_from(run.text.len()).unwrap_or(u32::MAX);
    let clean = clean(word);
    if clean.is_empty() {
        return;
    }
    run.text.push_str(&clean);
    let shaped = shaper.word(run.look.face, &clean);
    let mut advance = shaped.width;
    for glyph in &shaped.glyphs {
        let mut glyph = *glyph;
        glyph.from += start;
        glyph.to += start;
        glyph.advance += run.look.tracking;
        advance += run.look.tracking;
        run.glyphs.push(glyph);
    }
    run.width += f64::from(advance) * run.look.size / 1000.0;
}

/// Text without the signs that are never drawn.
fn clean(text: &str) -> Cow<'_, str> {
    if text.chars().any(is_unseen) {
        text.chars().filter(|sign| !is_unseen(*sign)).collect()
    } else {
        Cow::Borrowed(text)
    }
}

/// Width of the bytes `from..to` of some words, shaped look by look.
pub(crate) fn measure(words: &Words, from: usize, to: usize, shaper: &mut Shaper) -> Pt {
    let mut start = 0;
    let mut width = 0.0;
    for stretch in &words.stretches {
        if start >= to {
            break;
        }
        let (begin, end) = (start.max(from), stretch.end.min(to));
        start = stretch.end;
        let Some(text) = words.text.get(begin..end).filter(|text| !text.is_empty()) else { continue };
        if let Some(drawn) = stretch.drawn {
            width += drawn.width();
            continue;
        }
        let clean = clean(text);
        let spaces = i32::try_from(clean.matches(' ').count()).unwrap_or_default();
        let space = if spaces == 0 { 0 } else { shaper.space(stretch.look.face) };
        let mut advance = spaces * (space + stretch.look.tracking);
        for word in clean.split(' ').filter(|word| !word.is_empty()) {
            let shaped = shaper.word(stretch.look.face, word);
            let count = i32::try_from(shaped.glyphs.len()).unwrap_or_default();
            advance += shaped.width + count * stretch.look.tracking;
        }
        width += f64::from(advance) * stretch.look.size / 1000.0;
    }
    width
}
