//! Where a word of a small table cell may be parted.

use std::sync::OnceLock;

use hyphenation::{Hyphenator, Language, Load, Standard};

/// Whether words may be parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hyphens {
    /// Never: running text, titles, everything for people outside the trade.
    Never,
    /// English words of small cells.
    English,
}

/// Fewest letters left before and after the hyphen.
const LEAST: usize = 3;

/// Byte offsets where an English `word` may be parted. Only plain words are: no numbers, names of standards or capitals.
pub(crate) fn points(word: &str) -> Vec<usize> {
    let core = word.trim_end_matches(['.', ',', ';', ':', ')', '”', '’']);
    let start = core.len() - core.trim_start_matches(['(', '“', '‘']).len();
    let core = core.get(start..).unwrap_or_default();
    let is_plain = core.chars().all(|sign| sign.is_ascii_alphabetic())
        && core.chars().skip(1).all(|sign| sign.is_ascii_lowercase());
    if !is_plain || core.len() < 2 * LEAST {
        return Vec::new();
    }
    let Some(dictionary) = dictionary() else { return Vec::new() };
    let breaks = dictionary.hyphenate(core).breaks;
    breaks.into_iter().filter(|at| (LEAST..=core.len() - LEAST).contains(at)).map(|at| start + at).collect()
}

fn dictionary() -> Option<&'static Standard> {
    static ENGLISH: OnceLock<Option<Standard>> = OnceLock::new();
    ENGLISH.get_or_init(|| Standard::from_embedded(Language::EnglishUS).ok()).as_ref()
}

#[cfg(test)]
mod tests {
    use super::points;

    #[test]
    fn plain_words_part_and_identifiers_do_not() {
        assert_eq!(points("(permeability,"), [4, 6, 10]);
        for word in ["C1601", "ASTM", "lime", "MW-07", "wash-pressure"] {
            assert!(points(word).is_empty(), "{word}");
        }
    }
}
