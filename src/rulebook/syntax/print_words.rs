//! Conditions, values and quoted words in their one layout.

use super::ast::{Compare, Condition, OrderWord, Sense, Test, Value, Whose, Word};
use crate::rulebook::book::{Audience, Bound, Certainty, End, Owner};

/// A term no longer than this is never broken.
const SHORT: usize = 70;

/// Words in quotes, with escapes.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// Adds a condition: short terms whole, long ones word by word.
pub(super) fn condition_chunks(condition: &Condition, chunks: &mut Vec<String>) {
    let (terms, joint) = match condition {
        Condition::All(terms) => (terms.as_slice(), "and"),
        Condition::Any(terms) => (terms.as_slice(), "or"),
        single => (std::slice::from_ref(single), ""),
    };
    for (number, term) in terms.iter().enumerate() {
        let more = if number + 1 == terms.len() { Follows::Nothing } else { Follows::More };
        let mut words = term_chunks(term, joint, more);
        if number > 0 {
            words.insert(0, joint.to_owned());
        }
        let whole = words.join(" ");
        if whole.chars().count() <= SHORT { chunks.push(whole) } else { chunks.append(&mut words) }
    }
}

/// The words of one term, in brackets where it would be read otherwise without.
fn term_chunks(term: &Condition, joint: &str, follows: Follows) -> Vec<String> {
    match term {
        Condition::Not(inner) => {
            let mut words = vec!["not".to_owned()];
            words.extend(term_chunks(inner, "not", Follows::Nothing));
            words
        }
        Condition::Test(test) => {
            let words = test_chunks(&test.value);
            if joint == "or" && follows == Follows::More && is_list(&test.value) {
                bracketed(words)
            } else {
                words
            }
        }
        Condition::All(_) | Condition::Any(_) if joint.is_empty() => {
            let mut words = Vec::new();
            condition_chunks(term, &mut words);
            words
        }
        Condition::All(_) | Condition::Any(_) => {
            let mut words = Vec::new();
            condition_chunks(term, &mut words);
            bracketed(words)
        }
    }
}

/// What follows a term in its list.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Follows {
    More,
    Nothing,
}

fn bracketed(mut words: Vec<String>) -> Vec<String> {
    if let Some(first) = words.first_mut() {
        first.insert(0, '(');
    }
    if let Some(last) = words.last_mut() {
        last.push(')');
    }
    words
}

fn is_list(test: &Test) -> bool {
    let compare = match test {
        Test::Bare(_) => return false,
        Test::Compared(_, compare) | Test::Chosen(_, compare) => compare,
        Test::ChosenWhose(_, whose) => &whose.compare,
    };
    matches!(&compare.value, Compare::Is(_, values) if values.len() > 1)
}

/// A test on one line.
pub(crate) fn test(test: &Test) -> String {
    test_chunks(test).join(" ")
}

fn test_chunks(test: &Test) -> Vec<String> {
    let mut chunks: Vec<String> = Vec::new();
    match test {
        Test::Bare(name) => chunks.push(name.value.clone()),
        Test::Compared(name, compare) => {
            chunks.push(name.value.clone());
            compare_chunks(&compare.value, &mut chunks);
        }
        Test::Chosen(slot, compare) => {
            chunks.extend(["chosen".to_owned(), slot.value.clone()]);
            compare_chunks(&compare.value, &mut chunks);
        }
        Test::ChosenWhose(slot, tested) => {
            chunks.extend(["chosen".to_owned(), slot.value.clone()]);
            whose_chunks(tested, &mut chunks);
        }
    }
    chunks
}

/// Adds `whose NAME …`.
pub(super) fn whose_chunks(whose: &Whose, chunks: &mut Vec<String>) {
    chunks.extend(["whose".to_owned(), whose.name.value.clone()]);
    compare_chunks(&whose.compare.value, chunks);
}

/// From the column's name on.
pub(crate) fn whose(whose: &Whose) -> String {
    let mut chunks = vec![whose.name.value.clone()];
    compare_chunks(&whose.compare.value, &mut chunks);
    chunks.join(" ")
}

fn compare_chunks(compare: &Compare, chunks: &mut Vec<String>) {
    let mut words = |words: &str| chunks.extend(words.split(' ').map(str::to_owned));
    match compare {
        Compare::Known => words("is known"),
        Compare::Unknown => words("is unknown"),
        Compare::Is(sense, values) => {
            words(if *sense == Sense::Is { "is" } else { "is not" });
            if values.len() > 1 {
                words("one of");
            }
            let count = values.len();
            chunks.extend(values.iter().enumerate().map(|(at, value)| {
                let comma = if at + 1 < count { "," } else { "" };
                format!("{}{comma}", value.word().value)
            }));
        }
        Compare::Ordered(order, value) => {
            words(order_words(*order));
            chunks.push(value.word().value.clone());
        }
        Compare::Between(low, high) => {
            words("between");
            chunks.extend([low.word().value.clone(), "and".to_owned(), high.word().value.clone()]);
        }
    }
}

/// The words of an order.
pub(crate) fn order_words(order: OrderWord) -> &'static str {
    match order {
        OrderWord::Over => "over",
        OrderWord::Under => "under",
        OrderWord::AtLeast => "at least",
        OrderWord::AtMost => "at most",
        OrderWord::Before => "before",
        OrderWord::After => "after",
    }
}

/// The words of a bound.
pub(super) fn bound(bound: Bound) -> &'static str {
    match bound {
        Bound::AtMost => "at most",
        Bound::AtLeast => "at least",
    }
}

/// The words of an owner.
pub(super) fn owner(owner: Owner) -> &'static str {
    match owner {
        Owner::Job => "job",
        Owner::Zone => "zone",
    }
}

/// The words of an end.
pub(crate) fn end(end: End) -> &'static str {
    match end {
        End::Low => "low",
        End::High => "high",
    }
}

/// The word of a reader.
pub(super) fn audience(audience: Audience) -> &'static str {
    match audience {
        Audience::Crew => "crew",
        Audience::Owner => "owner",
        Audience::Public => "public",
    }
}

/// The words of a certainty in the language.
pub(super) fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Read => "read",
        Certainty::SecondHand => "second-hand",
        Certainty::Derived => "derived",
        Certainty::FromMemory => "from memory",
        Certainty::CommonPractice => "common practice",
    }
}

/// A range of figures.
pub(super) fn range(range: Option<&(Word, Word)>) -> String {
    range.map_or_else(String::new, |(low, high)| format!(" {} to {}", low.value, high.value))
}

/// A value as written.
pub(super) fn value(value: &Value) -> &str {
    &value.word().value
}
