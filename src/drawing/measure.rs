//! How much room words take, for laying out without a font: no less than in any ordinary sans-serif type. Widths are
//! those of a wide face of the desktop, measured, rounded up; the faces of the PDF are narrower by a fifth.

use super::mark::{Anchor, Bold, Drawing, Mark, Size, Text};

/// Millimetres in a point.
pub(super) const POINT: f64 = 25.4 / 72.0;

/// How much wider bold letters are.
const BOLD: f64 = 1.14;

/// Share of the size that letters reach over and under the baseline.
const ABOVE: f64 = 0.76;
const BELOW: f64 = 0.24;

/// The room that words take, in millimetres.
pub fn width_of(words: &str, size: Size, bold: Bold) -> f64 {
    let ems: f64 = words.chars().map(ems).sum();
    let wider = if bold == Bold::Yes { BOLD } else { 1.0 };
    ems * wider * size.points() * POINT
}

/// Width of a sign, as a share of the type size.
fn ems(sign: char) -> f64 {
    match sign {
        ' ' | '\u{a0}' => 0.32,
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | '·' => 0.35,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '-' | '²' | '³' => 0.45,
        '°' | '–' => 0.52,
        '0'..='9' | 'a'..='l' | 'n'..='v' | 'x'..='z' | 'µ' => 0.64,
        'w' | '−' | '+' | '=' | '<' | '>' | '≤' | '≥' | '×' | '≈' => 0.84,
        'A'..='L' | 'N'..='V' | 'X'..='Z' => 0.79,
        _ => 1.0,
    }
}

/// Height of a line of words, in millimetres.
pub(super) fn height_of(size: Size) -> f64 {
    (ABOVE + BELOW) * size.points() * POINT
}

/// Distance from the middle of the letters down to their baseline, in millimetres.
pub(super) fn half_height(size: Size) -> f64 {
    0.34 * size.points() * POINT
}

/// A level rectangle, in millimetres from the upper left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Frame {
    /// Whether the two share more than a hair.
    pub fn overlaps(&self, other: &Self) -> bool {
        const HAIR: f64 = 0.02;
        self.left + HAIR < other.right
            && other.left + HAIR < self.right
            && self.top + HAIR < other.bottom
            && other.top + HAIR < self.bottom
    }
}

impl Text {
    /// The room that the words take.
    pub fn frame(&self) -> Frame {
        let width = width_of(&self.words, self.size, self.bold);
        let (x, y) = (self.at.x.millimetres(), self.at.y.millimetres());
        let left = match self.anchor {
            Anchor::Start => x,
            Anchor::Middle => x - width / 2.0,
            Anchor::End => x - width,
        };
        let size = self.size.points() * POINT;
        Frame { left, top: y - ABOVE * size, right: left + width, bottom: y + BELOW * size }
    }
}

impl Drawing {
    /// Its words with the room that they take, in the order painted.
    pub fn texts(&self) -> Vec<(&Text, Frame)> {
        let texts =
            self.marks.iter().filter_map(|mark| if let Mark::Text(text) = mark { Some(text) } else { None });
        texts.map(|text| (text, text.frame())).collect()
    }
}

/// Words on lines no wider than this, in millimetres, broken at spaces and behind hyphens: no more lines than asked
/// for, the last ended with dots where words are left over.
pub(super) fn broken(words: &str, size: Size, bold: Bold, width: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in words.split_inclusive([' ', '-']) {
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line}{}", piece.trim_end()), size, bold) <= width => {
                line.push_str(piece);
            }
            _ => lines.push(piece.to_owned()),
        }
    }
    let over = lines.len() > most;
    lines.truncate(most);
    let count = lines.len();
    for (place, line) in lines.iter_mut().enumerate() {
        line.truncate(line.trim_end().len());
        if (over && place + 1 == count) || width_of(line, size, bold) > width {
            *line = cut(line, size, bold, width);
        }
    }
    lines
}

/// As much of a line as goes with dots behind it.
fn cut(line: &str, size: Size, bold: Bold, width: f64) -> String {
    let mut kept = line.to_owned();
    while !kept.is_empty() && width_of(&format!("{kept}…"), size, bold) > width {
        kept.pop();
    }
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::{broken, width_of};
    use crate::drawing::mark::{Bold, Size};

    #[test]
    fn words_break_and_the_last_line_says_that_more_was_there() {
        let lines = |words: &str, most| broken(words, Size::Small, Bold::No, 24.0, most);
        assert_eq!(lines("lime render", 2), ["lime render"]);
        assert_eq!(lines("two-component silicate paint", 3), ["two-component", "silicate paint"]);
        let narrow = broken("two-component silicate paint", Size::Small, Bold::No, 20.0, 4);
        assert_eq!(narrow, ["two-", "component", "silicate", "paint"]);
        for line in lines("two-component silicate paint over an older coat of oil", 2) {
            assert!(width_of(&line, Size::Small, Bold::No) <= 24.0, "{line}");
        }
        assert!(lines("dispersion silicate paint over an older coat of oil", 2)[1].ends_with('…'));
        assert!(lines("Donaudampfschiffahrt", 2)[0].ends_with('…'));
        assert_eq!(lines("", 2), Vec::<String>::new());
    }
}
