//! How hard a text is to read, by counting words, sentences and syllables.

use perpend::document::Document;
use perpend::document::block::{BlockKind, plain};

/// The words of bullets, cautions and paragraphs, sentence by sentence.
pub(crate) fn sentences(paper: &Document) -> Vec<String> {
    let mut found = Vec::new();
    for block in &paper.blocks {
        let texts = match &block.kind {
            BlockKind::Caution { text, .. } => text.iter().map(|text| plain(text)).collect(),
            BlockKind::Bullet { text, .. } | BlockKind::Paragraph(text) => vec![plain(text)],
            _ => Vec::new(),
        };
        for text in texts {
            let parts =
                text.split(['.', ':', '?']).map(str::trim).filter(|part| part.contains(char::is_alphabetic));
            found.extend(parts.map(str::to_owned));
        }
    }
    found
}

/// The Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59 (Kincaid 1975, from memory).
pub(crate) fn grade(sentences: &[String]) -> f64 {
    let words: Vec<&str> = sentences
        .iter()
        .flat_map(|sentence| sentence.split_whitespace())
        .filter(|word| word.contains(char::is_alphabetic))
        .collect();
    let count = |number: usize| f64::from(u32::try_from(number).unwrap());
    let syllables: usize = words.iter().map(|word| syllables(word)).sum();
    0.39 * count(words.len()) / count(sentences.len()) + 11.8 * count(syllables) / count(words.len()) - 15.59
}

/// Groups of vowels, a silent `e` at the end left out: one at least.
fn syllables(word: &str) -> usize {
    let word: String = word.to_lowercase().chars().filter(char::is_ascii_alphabetic).collect();
    let is_vowel = |sign: char| "aeiouy".contains(sign);
    let signs: Vec<char> = word.chars().collect();
    let groups = signs
        .iter()
        .enumerate()
        .filter(|(at, sign)| is_vowel(**sign) && (*at == 0 || !is_vowel(signs[at - 1])));
    let silent = word.len() > 2 && word.ends_with('e') && !word.ends_with("le");
    (groups.count() - usize::from(silent)).max(1)
}

#[test]
fn syllables_are_counted_as_by_hand() {
    let counted =
        [("wall", 1), ("water", 2), ("stone", 1), ("engineer", 3), ("asbestos", 3), ("table", 2), ("the", 1)];
    for (word, by_hand) in counted {
        assert_eq!(syllables(word), by_hand, "{word}");
    }
    let hard = vec!["The permeability of the substrate facilitates condensation".to_owned()];
    assert!(grade(&hard) > 12.0, "a hard sentence is told from a plain one");
}
