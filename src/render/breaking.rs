//! Where lines may end, and where they end best over a whole paragraph.

use unicode_linebreak::{BreakOpportunity, linebreaks};

use super::font::{Shaper, is_mark, is_unseen};
use super::hyphen::{Hyphens, points};
use super::line::measure;
use super::tokens::Pt;
use super::words::{STANDS_IN, Words};

/// The smallest stretch that never parts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Atom {
    /// First byte.
    pub(crate) from: usize,
    /// One past the last byte, spaces left out.
    pub(crate) to: usize,
    /// Width of the bytes.
    pub(crate) width: Pt,
    /// Width of the space behind it.
    pub(crate) space: Pt,
    /// How a line ends behind it.
    pub(crate) end: End,
    /// What it costs to end a line there, beyond the line itself.
    pub(crate) cost: f64,
    /// Its letters and digits.
    pub(crate) letters: usize,
}

/// How a line may end behind an atom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum End {
    /// Between words, or behind a sign that allows it.
    Plain,
    /// Inside a word, with a hyphen of this width.
    Hyphen(Pt),
    /// Inside a word too long for any line.
    Torn,
    /// A line ends here whatever its length.
    Must,
}

impl End {
    /// Width of the hyphen that the line would end with.
    pub(crate) fn hyphen(self) -> Pt {
        if let Self::Hyphen(width) = self { width } else { 0.0 }
    }
}

/// Room for the lines of a paragraph.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    /// First line.
    pub(crate) first: Pt,
    /// Every other line.
    pub(crate) rest: Pt,
}

/// Cost of a line that is short by the whole measure; it grows with the cube of what is missing.
const SHORT: f64 = 100.0;
/// Cost of each line, so that a paragraph takes no line more than it needs.
const EACH: f64 = 0.3;
/// Cost of a hyphen.
const PARTED: f64 = 4.0;
/// Cost of a second hyphen right under the first.
const LADDER: f64 = 10.0;
/// Cost of a line that ends between a number and a short word, most likely its unit.
const SPLIT: f64 = 4.0;
/// Cost of a line that ends between words and the room to write behind them.
const ALONE: f64 = 4.0;
/// Letters of the longest word that is taken for a unit.
const UNIT: usize = 4;
/// Cost of a last line with hardly a word on it: worth leaving a third of a line above it empty.
const STUB: f64 = 4.0;
/// A last line of fewer letters is a stub.
const STUB_LETTERS: usize = 5;
/// A word that stands alone and still does not fit.
const OVERFULL: f64 = 1e6;

/// Cuts words into atoms no wider than a line.
pub(crate) fn atoms(words: &Words, room: Room, hyphens: Hyphens, shaper: &mut Shaper) -> Vec<Atom> {
    let text = words.text.as_str();
    let mut atoms = Vec::new();
    let mut from = 0;
    for (at, kind) in linebreaks(text) {
        let must = kind == BreakOpportunity::Mandatory;
        if !must && !may_end(text, from, at) {
            continue;
        }
        let to = from + text.get(from..at).unwrap_or_default().trim_end_matches([' ', '\n']).len();
        let space = if to < at && !must { measure(words, to, to + 1, shaper) } else { 0.0 };
        let end = if must { End::Must } else { End::Plain };
        let cost = if must { 0.0 } else { split_cost(words, to, at) };
        let atom = Atom { from, to, width: 0.0, space, end, cost, letters: 0 };
        part(atom, words, room, hyphens, shaper, &mut atoms);
        from = at;
    }
    atoms
}

/// Whether a line may end before byte `at`, beyond what the general rules say.
fn may_end(text: &str, from: usize, at: usize) -> bool {
    let before = text.get(from..at).unwrap_or_default();
    let after = text.get(at..).unwrap_or_default();
    let next_digit = after.starts_with(|sign: char| sign.is_ascii_digit());
    let long = after.split(' ').next().map_or(0, |word| word.chars().count()) + before.chars().count() > 30;
    match before.chars().next_back() {
        // Units and either-or pairs stay whole; only long addresses part behind a stroke.
        Some('/') => long,
        Some('–') => !next_digit,
        Some('-' | '\u{2010}') => {
            let letters = |word: &str| word.chars().take_while(|sign| sign.is_alphabetic()).count();
            let head = before.rsplit([' ', '-']).nth(1).unwrap_or_default();
            long || (head.chars().count() > 2 && head.chars().all(char::is_alphabetic) && letters(after) > 2)
        }
        Some(' ' | '—' | '\u{200b}') => true,
        _ => long,
    }
}

/// What it costs to part the words before `to` from those behind `at`.
fn split_cost(words: &Words, to: usize, at: usize) -> f64 {
    let behind = words.text.get(at..).unwrap_or_default();
    if behind.starts_with(STANDS_IN) {
        return if words.is_room(at) { ALONE } else { 0.0 };
    }
    let number =
        words.text.get(..to).is_some_and(|before| before.ends_with(|sign: char| sign.is_ascii_digit()));
    let next = behind.split([' ', '\n']).next().unwrap_or_default();
    let unit = next.trim_end_matches(['.', ',', ';', ':', ')']);
    let is_unit = !unit.is_empty()
        && unit.chars().count() <= UNIT
        && unit.starts_with(|sign: char| !sign.is_ascii_digit());
    if number && is_unit { SPLIT } else { 0.0 }
}

/// A word on its way into pieces.
struct Word<'a> {
    words: &'a Words,
    /// First byte.
    from: usize,
    /// Its width, where it has several pieces: what fits whole fits in pieces.
    whole: Option<Pt>,
    /// The narrowest line.
    narrow: Pt,
}

/// Adds an atom, parted where its word may be.
fn part(atom: Atom, words: &Words, room: Room, hyphens: Hyphens, shaper: &mut Shaper, out: &mut Vec<Atom>) {
    let text = words.text.get(atom.from..atom.to).unwrap_or_default();
    let cuts = match hyphens {
        Hyphens::Never => None,
        Hyphens::English => Some(shaper.parts(text, points)),
    };
    let is_parted = cuts.as_ref().is_some_and(|cuts| !cuts.is_empty());
    let whole = is_parted.then(|| measure(words, atom.from, atom.to, shaper));
    let word = Word { words, from: atom.from, whole, narrow: room.first.min(room.rest) };
    let mut from = atom.from;
    for cut in cuts.iter().flat_map(|cuts| cuts.iter()) {
        let to = atom.from + cut;
        let end = End::Hyphen(hyphen(words, to, shaper));
        tear(Atom { from, to, width: 0.0, space: 0.0, end, cost: 0.0, letters: 0 }, &word, shaper, out);
        from = to;
    }
    tear(Atom { from, ..atom }, &word, shaper, out);
}

/// Adds a piece of a word, letter by letter if no line can hold it.
fn tear(piece: Atom, word: &Word<'_>, shaper: &mut Shaper, out: &mut Vec<Atom>) {
    let hyphen = piece.end.hyphen();
    if word.whole.is_some_and(|whole| whole + hyphen <= word.narrow) {
        add(piece, None, word, shaper, out);
        return;
    }
    let text = word.words.text.get(piece.from..piece.to).unwrap_or_default();
    let mut from = piece.from;
    let alone = measure(word.words, piece.from, piece.to, shaper);
    if alone + hyphen > word.narrow {
        for at in tears(text) {
            let to = piece.from + at;
            let torn = Atom { from, to, width: 0.0, space: 0.0, end: End::Torn, cost: 0.0, letters: 0 };
            add(torn, None, word, shaper, out);
            from = to;
        }
    }
    add(Atom { from, ..piece }, (from == piece.from).then_some(alone), word, shaper, out);
}

/// Adds an atom with its width, kerned against what stands before it if no space lies between; behind a tear no less
/// than by itself, since signs that join in threes take more than in pairs. `alone` is its width by itself, where that
/// was measured.
fn add(atom: Atom, alone: Option<Pt>, word: &Word<'_>, shaper: &mut Shaper, out: &mut Vec<Atom>) {
    let words = word.words;
    let before = out.last().filter(|last| last.to == atom.from && last.end != End::Must).copied();
    let by_itself = |shaper: &mut Shaper| alone.unwrap_or_else(|| measure(words, atom.from, atom.to, shaper));
    let width = match before {
        // A torn word is long, and measuring it from its start each time would take long.
        Some(last) if last.end == End::Torn => {
            let beside =
                measure(words, last.from, atom.to, shaper) - measure(words, last.from, last.to, shaper);
            beside.max(by_itself(shaper))
        }
        Some(last) => {
            let start = last.from.min(word.from);
            measure(words, start, atom.to, shaper) - measure(words, start, last.to, shaper)
        }
        None => by_itself(shaper),
    };
    let text = words.text.get(atom.from..atom.to).unwrap_or_default();
    let letters = text.chars().filter(|sign| sign.is_alphanumeric()).count();
    out.push(Atom { width, letters, ..atom });
}

/// Where a word may be torn: before every sign but those that stand on the one before. Nothing stands on what is drawn.
fn tears(text: &str) -> impl Iterator<Item = usize> {
    let behind = text.chars().map(|sign| sign == STANDS_IN);
    text.char_indices()
        .skip(1)
        .zip(behind)
        .filter(|((_, sign), is_drawn)| *is_drawn || !is_mark(*sign) && !is_unseen(*sign))
        .map(|((at, _), _)| at)
}

fn hyphen(words: &Words, at: usize, shaper: &mut Shaper) -> Pt {
    let stretch = words.stretches.iter().find(|stretch| stretch.end >= at);
    stretch.map_or(0.0, |stretch| {
        f64::from(shaper.word(stretch.look.face, "-").width + stretch.look.tracking) * stretch.look.size
            / 1000.0
    })
}

/// The atoms that end a line each, as places one past them: the cheapest over each stretch up to a forced end.
pub(crate) fn ends(atoms: &[Atom], room: Room) -> Vec<usize> {
    let mut ends = Vec::new();
    let mut start = 0;
    for stretch in atoms.chunk_by(|before, _| before.end != End::Must) {
        let first = if start == 0 { room.first } else { room.rest };
        ends.extend(fit(stretch, Room { first, rest: room.rest }).into_iter().map(|end| start + end));
        start += stretch.len();
    }
    ends
}

/// A way to set the first atoms: its cost and where its last line starts.
#[derive(Clone, Copy)]
struct Way {
    cost: f64,
    from: usize,
}

fn fit(atoms: &[Atom], room: Room) -> Vec<usize> {
    let mut ways = vec![Way { cost: f64::INFINITY, from: 0 }; atoms.len() + 1];
    if let Some(way) = ways.first_mut() {
        way.cost = 0.0;
    }
    for from in 0..atoms.len() {
        let Some(so_far) = ways.get(from).map(|way| way.cost) else { break };
        if so_far.is_infinite() {
            continue;
        }
        let measure = if from == 0 { room.first } else { room.rest };
        let before = from.checked_sub(1).and_then(|at| atoms.get(at));
        let (mut width, mut letters) = (0.0, 0);
        for (to, atom) in atoms.iter().enumerate().skip(from) {
            let hyphen = atom.end.hyphen();
            width += atom.width;
            letters += atom.letters;
            let over = width > measure;
            if over && to > from {
                break;
            }
            if width + hyphen <= measure || to == from {
                let which = match (to + 1 == atoms.len(), letters < STUB_LETTERS) {
                    (true, true) => Which::Stub,
                    (true, false) => Which::Last,
                    (false, _) => Which::Other,
                };
                let cost = so_far + line_cost(before, atom, width + hyphen, measure, which);
                if let Some(way) = ways.get_mut(to + 1).filter(|way| cost < way.cost) {
                    *way = Way { cost, from };
                }
            }
            width += atom.space;
        }
    }
    trace(&ways)
}

fn is_parted(atom: &Atom) -> bool {
    matches!(atom.end, End::Hyphen(_))
}

/// Which line of a paragraph a cost is for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    Stub,
    Last,
    Other,
}

fn line_cost(before: Option<&Atom>, last: &Atom, width: Pt, measure: Pt, which: Which) -> f64 {
    let missing = (measure - width) / measure.max(1.0);
    let hyphen = match which {
        Which::Other if is_parted(last) && before.is_some_and(is_parted) => PARTED + LADDER,
        Which::Other if is_parted(last) => PARTED,
        Which::Other | Which::Last | Which::Stub => 0.0,
    };
    let short = match which {
        _ if missing < 0.0 => OVERFULL,
        Which::Stub => STUB,
        Which::Last => 0.0,
        Which::Other => SHORT * missing * missing * missing,
    };
    let split = if which == Which::Other { last.cost } else { 0.0 };
    EACH + short + hyphen + split
}

fn trace(ways: &[Way]) -> Vec<usize> {
    let mut ends = Vec::new();
    let mut at = ways.len() - 1;
    while at > 0 {
        ends.push(at);
        let Some(way) = ways.get(at) else { break };
        at = way.from.min(at - 1);
    }
    ends.reverse();
    ends
}
