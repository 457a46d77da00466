//! Where references lead: bookmarks, and the numbers that fields print of them.

use std::collections::{BTreeMap, BTreeSet};

use crate::document::block::{BlockKind, Document, plain};

/// The longest name that a bookmark may have.
const LONGEST: usize = 40;

/// A block that may be referred to.
#[derive(Debug, Clone)]
pub(crate) struct Target {
    /// Its bookmark.
    pub(crate) bookmark: String,
    /// Its number as a field prints it: without a full stop at its end.
    pub(crate) number: String,
    /// The article it lies in: bookmark and number.
    pub(crate) article: Option<(String, String)>,
    /// The words of a heading.
    pub(crate) title: Option<String>,
}

/// Every block by its id.
pub(crate) fn targets(document: &Document) -> BTreeMap<String, Target> {
    let mut found = BTreeMap::new();
    let mut taken = BTreeSet::new();
    let mut article: Option<(String, String)> = None;
    for block in &document.blocks {
        let bookmark = bookmark(&block.id, &mut taken);
        let (number, title) = match &block.kind {
            BlockKind::Heading { number, text, .. } => {
                (number.clone().unwrap_or_default(), Some(plain(text)))
            }
            BlockKind::Item { label, .. } => (label.clone(), None),
            _ => (String::new(), None),
        };
        let number = number.trim_end_matches('.').to_owned();
        match &block.kind {
            BlockKind::Heading { level: 1, .. } => article = None,
            BlockKind::Heading { level: 2, .. } if !number.is_empty() => {
                article = Some((bookmark.clone(), number.clone()));
            }
            _ => {}
        }
        let lies_in = if title.is_none() { article.clone() } else { None };
        found.insert(block.id.clone(), Target { bookmark, number, article: lies_in, title });
    }
    found
}

/// A name fit for a bookmark: a letter first, then letters, digits and low lines.
fn bookmark(id: &str, taken: &mut BTreeSet<String>) -> String {
    let signs = id.chars().map(|sign| if sign.is_ascii_alphanumeric() { sign } else { '_' });
    let mut name: String = signs.take(LONGEST - 8).collect();
    if !name.starts_with(|sign: char| sign.is_ascii_alphabetic()) {
        name.insert(0, 'b');
    }
    let mut unique = name.clone();
    let mut count = 1;
    while !taken.insert(unique.to_lowercase()) {
        count += 1;
        unique = format!("{name}_{count}");
    }
    unique
}

/// A reference cut into words and fields.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Piece {
    /// Words.
    Words(String),
    /// The number of a bookmark.
    Number {
        /// The bookmark.
        bookmark: String,
        /// As printed now.
        printed: String,
    },
    /// The words of a bookmark.
    Title {
        /// The bookmark.
        bookmark: String,
        /// As printed now.
        printed: String,
    },
}

impl Target {
    /// The words of a reference with its numbers and the title as fields, as far as the words hold them in this order.
    pub(crate) fn pieces(&self, words: &str) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut rest = words;
        let own = (self.bookmark.clone(), self.number.clone());
        for (bookmark, number) in self.article.clone().into_iter().chain([own]) {
            if let Some((before, after)) = around(rest, &number) {
                pieces.push(Piece::Words(before.to_owned()));
                pieces.push(Piece::Number { bookmark, printed: number });
                rest = after;
            }
        }
        match &self.title {
            Some(title) if !title.is_empty() && rest.ends_with(title.as_str()) => {
                pieces.push(Piece::Words(rest.strip_suffix(title.as_str()).unwrap_or_default().to_owned()));
                pieces.push(Piece::Title { bookmark: self.bookmark.clone(), printed: title.clone() });
            }
            _ => pieces.push(Piece::Words(rest.to_owned())),
        }
        pieces.retain(|piece| !matches!(piece, Piece::Words(words) if words.is_empty()));
        pieces
    }
}

/// What stands before and behind a number that stands alone among words.
fn around<'a>(words: &'a str, number: &str) -> Option<(&'a str, &'a str)> {
    let places = words.match_indices(number).filter(|_| !number.is_empty());
    let mut cuts = places.filter_map(|(at, _)| {
        let (before, rest) = words.split_at_checked(at)?;
        Some((before, rest.strip_prefix(number)?))
    });
    let joins = |sign: char| sign.is_alphanumeric();
    cuts.find(|(before, after)| {
        let decimal =
            after.strip_prefix('.').is_some_and(|rest| rest.starts_with(|sign: char| sign.is_ascii_digit()));
        !before.ends_with(joins) && !before.ends_with('.') && !after.starts_with(joins) && !decimal
    })
}

#[cfg(test)]
mod tests {
    use super::{Piece, Target, around};

    #[test]
    fn numbers_are_found_where_they_stand_alone() {
        assert_eq!(around("article 3.2, paragraph B", "3.2"), Some(("article ", ", paragraph B")));
        assert_eq!(around("article 13.2 and 3.21", "3.2"), None);
        assert_eq!(around("Article A", "A"), Some(("Article ", "")));
        assert_eq!(around("1.3.2", "3.2"), None);
        assert_eq!(around("words", ""), None);
    }

    #[test]
    fn a_reference_falls_into_words_and_fields() {
        let target = Target {
            bookmark: "wash_1".to_owned(),
            number: "B".to_owned(),
            article: Some(("article_wash".to_owned(), "3.2".to_owned())),
            title: None,
        };
        let words = |words: &str| Piece::Words(words.to_owned());
        let number = |bookmark: &str, printed: &str| Piece::Number {
            bookmark: bookmark.to_owned(),
            printed: printed.to_owned(),
        };
        assert_eq!(
            target.pieces("article 3.2, paragraph B, Wash pressure"),
            [
                words("article "),
                number("article_wash", "3.2"),
                words(", paragraph "),
                number("wash_1", "B"),
                words(", Wash pressure")
            ]
        );
        assert_eq!(target.pieces("the wash"), [words("the wash")]);
    }
}
