//! The parts of one pest pair, keywords and commas left out.

use pest::iterators::Pair;

use super::ast::{At, Span, Text, Word};
use super::grammar::Rule;
use super::words::is_keyword;

/// A pair with the place of its statement in the file.
#[derive(Clone)]
pub(super) struct Node<'i> {
    pair: Pair<'i, Rule>,
    base: usize,
}

impl<'i> Node<'i> {
    pub(super) fn new(pair: Pair<'i, Rule>, base: usize) -> Self {
        Self { pair, base }
    }

    pub(super) fn rule(&self) -> Rule {
        self.pair.as_rule()
    }

    /// The text, without the spaces that pest leaves at its end.
    pub(super) fn text(&self) -> &'i str {
        self.pair.as_str().trim_end()
    }

    pub(super) fn span(&self) -> Span {
        let start = self.base + self.pair.as_span().start();
        Span { start, end: start + self.text().len() }
    }

    pub(super) fn at<T>(&self, value: T) -> At<T> {
        At { value, span: self.span() }
    }

    pub(super) fn words(&self) -> impl DoubleEndedIterator<Item = &'i str> {
        words(self.text())
    }

    pub(super) fn first_word(&self) -> &'i str {
        self.words().next().unwrap_or_default()
    }

    pub(super) fn last_word(&self) -> &'i str {
        self.words().next_back().unwrap_or_default()
    }

    /// The text with single spaces.
    pub(super) fn word(&self) -> Word {
        self.at(fold(self.text()))
    }

    /// Quoted words without their quotes; the span is that of the quotes. A pair that only wraps quoted words counts
    /// as those words.
    pub(super) fn quoted(&self) -> Text {
        let inner = self.text().trim_start_matches(|sign| sign != '"');
        let inner = inner.strip_prefix('"').unwrap_or(inner);
        self.at(fold(&unescape(inner.strip_suffix('"').unwrap_or(inner))))
    }

    pub(super) fn parts(self) -> Parts<'i> {
        let base = self.base;
        let mut list: Vec<Node<'i>> = self
            .pair
            .into_inner()
            .filter(|part| {
                let rule = part.as_rule();
                !is_keyword(rule) && rule != Rule::comma && rule != Rule::EOI
            })
            .map(|part| Node::new(part, base))
            .collect();
        list.reverse();
        Parts { list }
    }
}

/// What is left of the parts, the next one last.
pub(super) struct Parts<'i> {
    list: Vec<Node<'i>>,
}

impl<'i> Parts<'i> {
    /// The next part if it is of this rule.
    pub(super) fn pick(&mut self, rule: Rule) -> Option<Node<'i>> {
        self.list.pop_if(|part| part.rule() == rule)
    }

    /// The next part if it is of one of these rules.
    pub(super) fn pick_any(&mut self, rules: &[Rule]) -> Option<Node<'i>> {
        self.list.pop_if(|part| rules.contains(&part.rule()))
    }

    /// The name that comes next.
    pub(super) fn name(&mut self) -> Option<Word> {
        self.pick(Rule::name).map(|part| part.word())
    }

    /// The figure that comes next.
    pub(super) fn figure(&mut self) -> Option<Word> {
        self.pick(Rule::figure).map(|part| part.word())
    }

    /// The quoted words that come next.
    pub(super) fn quoted(&mut self) -> Option<Text> {
        self.pick(Rule::string).map(|part| part.quoted())
    }
}

impl<'i> Iterator for Parts<'i> {
    type Item = Node<'i>;

    fn next(&mut self) -> Option<Node<'i>> {
        self.list.pop()
    }
}

/// Folds every stretch of spaces and line ends into one space. A hard space stays.
fn fold(text: &str) -> String {
    words(text).collect::<Vec<_>>().join(" ")
}

/// The words of a text, parted where the grammar has white space: the control signs in it too.
fn words(text: &str) -> impl DoubleEndedIterator<Item = &str> {
    text.split(|sign: char| ('\t'..=' ').contains(&sign)).filter(|word| !word.is_empty())
}

/// Takes the backslash off escaped signs.
fn unescape(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut signs = text.chars();
    while let Some(sign) = signs.next() {
        plain.extend(if sign == '\\' { signs.next() } else { Some(sign) });
    }
    plain
}
