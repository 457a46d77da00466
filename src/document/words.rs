//! Names turned into words, and values into the words that print.

/// `wash-pressure` as `wash pressure`.
pub(super) fn from_kebab(name: &str) -> String {
    name.replace('-', " ")
}

/// The first letter in upper case.
pub(super) fn upper_first(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The first letter in lower case.
pub(super) fn lower_first(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
