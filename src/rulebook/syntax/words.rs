//! The rules of the grammar in plain words, and what to say where none of them fits.

use pest::error::{Error, ErrorVariant, InputLocation};

use super::grammar::Rule;
use super::mistake::SyntaxMistake;
use crate::diagnostic::nearest;

/// Whether a rule is a keyword; they stand in one block at the end of the grammar.
pub(super) fn is_keyword(rule: Rule) -> bool {
    rule >= Rule::kw_a
}

/// The keyword of a rule, such as `hold-point`.
fn keyword(rule: Rule) -> Option<String> {
    let name = format!("{rule:?}");
    name.strip_prefix("kw_").map(|word| word.replace('_', "-"))
}

/// A rule in plain words.
fn plain(rule: Rule) -> String {
    if let Some(word) = keyword(rule) {
        return format!("`{word}`");
    }
    match rule {
        Rule::EOI => "the end of the statement",
        Rule::string | Rule::string_inner | Rule::title => "words in quotes",
        Rule::figure | Rule::cell | Rule::with_cell => "a value",
        Rule::condition | Rule::term | Rule::test | Rule::test_fact | Rule::negated => "a condition",
        Rule::joint => "`and`, `or`",
        Rule::comma => "a comma",
        Rule::date => "a date such as `2026-11-25`",
        Rule::digest => "a digest of hex digits",
        Rule::edition | Rule::edition_words => "an edition such as `2026.1`",
        Rule::country => "a country such as `US`",
        Rule::count => "a whole number",
        Rule::detail | Rule::detail_words => "a section, clause or table",
        Rule::measure => "a kind such as `yes or no`, `one of a, b`, `length`, `pressure`",
        _ => "a name",
    }
    .to_owned()
}

/// What pest found no way to read, in plain words, with the stretch of the statement concerned.
pub(super) fn explain(text: &str, error: &Error<Rule>) -> (SyntaxMistake, usize, usize) {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let fitting = match &error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives.as_slice(),
        ErrorVariant::CustomError { .. } => &[],
    };
    let rest = text.get(at..).unwrap_or_default();
    if let Some((mistake, length)) = odd_sign(rest) {
        return (mistake, at, at + length);
    }
    let found = word_at(rest);
    if found.is_empty() {
        let end = text.trim_end().len();
        let start = end - last_word(text).len();
        return (SyntaxMistake::EndsEarly { expected: expected(fitting) }, start, end);
    }
    let end = at + found.len();
    if let Some(meant) = misspelt(found, fitting) {
        return (SyntaxMistake::Misspelt { found: found.to_owned(), meant }, at, end);
    }
    before(text, at, found, fitting).unwrap_or_else(|| (unfit(found, fitting), at, end))
}

/// A sign that looks like one of the language and is not, with its length.
fn odd_sign(rest: &str) -> Option<(SyntaxMistake, usize)> {
    let sign = rest.chars().next()?;
    let mistake = match sign {
        '“' | '”' | '„' | '«' | '»' | '‘' | '’' => SyntaxMistake::OddQuote { found: sign },
        _ if sign.is_whitespace() && !sign.is_ascii() => SyntaxMistake::OddSpace,
        _ => return None,
    };
    Some((mistake, sign.len_utf8()))
}

/// A name just before the trouble may be a keyword misspelt: `refuse coating whoose permeance …`.
fn before(text: &str, at: usize, found: &str, fitting: &[Rule]) -> Option<(SyntaxMistake, usize, usize)> {
    if !found.starts_with(|first: char| first.is_ascii_alphanumeric() || first == '"') || fitting.is_empty() {
        return None;
    }
    let earlier = text.get(..at)?.trim_end();
    let word = last_word(earlier);
    let meant = nearest(word, KEYWORDS.iter().copied()).filter(|meant| close(word, meant))?;
    let found = SyntaxMistake::Misspelt { found: word.to_owned(), meant: meant.to_owned() };
    Some((found, earlier.len() - word.len(), earlier.len()))
}

/// Words that a misspelling may hide in the place of a name.
const KEYWORDS: [&str; 22] = [
    "and",
    "because",
    "before",
    "between",
    "caution",
    "chosen",
    "clause",
    "every",
    "hold-point",
    "limit",
    "measured",
    "only",
    "prefer",
    "promise",
    "refuse",
    "released",
    "require",
    "under",
    "until",
    "where",
    "whose",
    "taken",
];

/// Near, but not the word itself; short words must be nearer.
fn close(word: &str, meant: &str) -> bool {
    let distance = strsim::damerau_levenshtein(word, meant);
    distance > 0 && distance * 4 <= meant.len().max(4)
}

/// The keyword that a word is near to, among those that fit.
fn misspelt(found: &str, fitting: &[Rule]) -> Option<String> {
    let words: Vec<String> = fitting.iter().filter_map(|rule| keyword(*rule)).collect();
    let meant = nearest(found, words.iter().map(String::as_str))?;
    (meant != found).then(|| meant.to_owned())
}

/// A word that fits nowhere.
fn unfit(found: &str, fitting: &[Rule]) -> SyntaxMistake {
    let named = fitting.iter().any(|rule| plain(*rule) == "a name");
    if named
        && found.contains(|sign: char| sign == '_' || sign.is_ascii_alphanumeric())
        && found.contains('_')
    {
        return SyntaxMistake::NotAName { found: found.to_owned() };
    }
    SyntaxMistake::DoesNotFit { found: found.to_owned(), expected: expected(fitting) }
}

/// What would fit, as one sentence.
fn expected(fitting: &[Rule]) -> String {
    let mut words: Vec<String> = Vec::new();
    let ends = fitting.iter().filter(|rule| **rule == Rule::EOI);
    for rule in fitting.iter().filter(|rule| **rule != Rule::EOI).chain(ends) {
        let word = plain(*rule);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    match words.split_last() {
        None => "see the page of this statement in the rule language".to_owned(),
        Some((only, [])) => format!("here may stand {only}"),
        Some((last, others)) => format!("here may stand {} or {last}", others.join(", ")),
    }
}

/// The word, quoted words, number or sign with which a text begins.
fn word_at(text: &str) -> &str {
    let trimmed = text.trim_start();
    if trimmed.len() != text.len() {
        return if trimmed.is_empty() { "" } else { word_at(trimmed) };
    }
    let mut ends = text.char_indices().skip(1);
    let part = |sign: char| sign.is_alphanumeric() || matches!(sign, '-' | '_' | '.');
    let word = text.starts_with(part);
    let end = if word { ends.find(|(_, sign)| !part(*sign)) } else { ends.next() };
    text.get(..end.map_or(text.len(), |(at, _)| at)).unwrap_or_default()
}

/// The last word of a text, without the space after it.
fn last_word(text: &str) -> &str {
    text.trim_end().rsplit(|sign: char| sign.is_whitespace() || sign == ',').next().unwrap_or_default()
}
