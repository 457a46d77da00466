//! Sentences and words of a passage.

/// Ends of words that look like ends of sentences.
const SHORT: [&str; 6] = ["No", "no", "approx", "cf", "vs", "nos"];

/// The sentences of a text, without the spaces around them. A stop ends one where a capital, a digit or nothing follows.
pub(super) fn sentences(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut start = 0;
    for (at, sign) in text.char_indices().filter(|(_, sign)| ".?!".contains(*sign)) {
        let end = at + sign.len_utf8();
        let (before, after) = (text.get(start..at).unwrap_or_default(), text.get(end..).unwrap_or_default());
        let follows = after.strip_prefix([' ', '\u{a0}']).map(str::trim_start);
        let ends = after.trim().is_empty()
            || follows.is_some_and(|rest| rest.starts_with(|next: char| next.is_uppercase() || next == '“'));
        let last = before.rsplit([' ', '\u{a0}']).next().unwrap_or_default();
        if ends && !SHORT.contains(&last) {
            found.push(text.get(start..end).unwrap_or_default().trim());
            start = end;
        }
    }
    let rest = text.get(start..).unwrap_or_default().trim();
    if !rest.is_empty() {
        found.push(rest);
    }
    found
}

/// The words of a text: runs between spaces that hold a letter or a digit, without the signs around them.
pub(super) fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|sign: char| sign.is_whitespace())
        .map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric()))
        .filter(|word| !word.is_empty())
}

/// The first word, in small letters.
pub(super) fn first_word(text: &str) -> String {
    words(text).next().unwrap_or_default().to_lowercase()
}
