//! Passages: what stands between two things that somebody may want to tell apart, with a name and a digest of its words.

use sha2::{Digest, Sha256};

/// Digits of sixteen of a digest that is kept.
const DIGITS: usize = 16;
/// The longest tag that a content control may have.
const LONGEST: usize = 64;

/// How the bookmark begins that bears the digest again, for programs that drop tags.
pub(crate) const SAID: &str = "_said_";

/// The name of a passage and a digest of the words that were written into it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Tag {
    /// The id of its first block; a very long one is cut and told apart by a digest.
    pub(crate) name: String,
    /// Of its words.
    pub(crate) digest: String,
}

impl Tag {
    /// The tag of a passage with these words.
    pub(crate) fn of(id: &str, words: &str) -> Self {
        let name = short(id);
        let digest = digest_of(&name, words);
        Self { name, digest }
    }

    /// Reads a tag that was written; `None` for one of somebody else's.
    pub(crate) fn read(written: &str) -> Option<Self> {
        let (name, digest) = written.rsplit_once(' ')?;
        let is_digest = digest.len() == DIGITS && digest.chars().all(|sign| sign.is_ascii_hexdigit());
        is_digest.then(|| Self { name: name.to_owned(), digest: digest.to_owned() })
    }
}

impl std::fmt::Display for Tag {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} {}", self.name, self.digest)
    }
}

/// An id as a tag can hold it.
pub(crate) fn short(id: &str) -> String {
    let room = LONGEST - DIGITS - 1;
    if id.chars().count() <= room {
        return id.to_owned();
    }
    let start: String = id.chars().take(room - DIGITS - 1).collect();
    format!("{start}-{}", digest(id))
}

/// The digest of the words of a passage of this name.
pub(crate) fn digest_of(name: &str, words: &str) -> String {
    digest(&format!("{name}\n{words}"))
}

/// The first digits of a digest of words.
fn digest(words: &str) -> String {
    let bytes = Sha256::digest(words.as_bytes());
    let digits = bytes.iter().flat_map(|byte| [byte >> 4, byte & 0xF]);
    digits.filter_map(|digit| char::from_digit(u32::from(digit), 16)).take(DIGITS).collect()
}

/// Words as they count: each paragraph with single spaces, empty ones left out.
pub(crate) fn said_as_one(said: &str) -> String {
    let lines = said.split('\n').map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

/// What the blocks of one clause have in common: the id without the number at its end.
pub(crate) fn stem(id: &str) -> &str {
    match id.rsplit_once('.') {
        Some((stem, number)) if number.chars().all(|sign| sign.is_ascii_digit()) => stem,
        _ => id,
    }
}
