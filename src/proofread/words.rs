//! Words that leave a duty open: the word lists, duties in the passive, verbs of supply without a meaning, names.

use super::found::Found;
use super::paper::{Kind, Passage};
use super::reading::Reading;
use super::sentence::{first_word, sentences, words};

/// Goes through the words of a paper.
pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    listed(reading, found);
    for passage in &reading.paper.passages {
        if reading.is_requirement(passage) {
            passive(reading, passage, found);
            supply(reading, passage, found);
        }
        if reading.is_ours(passage) {
            names(reading, passage, found);
        }
    }
}

/// Patterns of the word lists.
fn listed(reading: Reading<'_>, found: &mut Found<'_>) {
    let paper = reading.paper;
    for hit in reading.rules.patterns.hits(&paper.text) {
        let check = hit.pattern.check.as_str();
        if !reading.is_for(check) {
            continue;
        }
        let Some(passage) = paper.at(hit.range.start).filter(|passage| reading.is_ours(passage)) else {
            continue;
        };
        let Some(said) = paper.text.get(hit.range.clone()) else { continue };
        let drawn = matches!(passage.kind, Kind::Caption | Kind::Picture);
        if drawn && !reading.rules.lists("checks of captions", check) {
            continue;
        }
        if reading.defined.contains(&said.trim().to_lowercase()) {
            continue;
        }
        let finds = reading.rules.checks.get(check).map(|check| check.finds.as_str()).unwrap_or_default();
        let message = format!("“{}”: {finds}", said.trim());
        found.add(reading, check, Some(passage), message, Some((hit.pattern.weight, &hit.pattern.mend)));
    }
}

/// A sentence that opens with no order and says in the passive that something is done: nobody is told to do it.
fn passive(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    let is_participle = |word: &str| {
        word.len() > 4 && word.ends_with("ed") || reading.rules.lists("irregular participles", word)
    };
    for sentence in sentences(reading.paper.words(passage)) {
        if reading.opens_with_order(sentence) {
            continue;
        }
        let said: Vec<&str> = words(sentence).collect();
        let pair = said.windows(2).find(|pair| {
            matches!(pair, [be, done] if ["is", "are", "was", "were"].contains(be) && is_participle(done))
        });
        if let Some(pair) = pair {
            found.at(
                reading,
                "passive-duty",
                passage,
                format!("“{}”: it is not said who does it", pair.join(" ")),
            );
        }
    }
}

/// Verbs of supply that the definitions leave out.
fn supply(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    for sentence in sentences(reading.paper.words(passage)) {
        let verb = first_word(sentence);
        if reading.rules.lists("verbs of supply", &verb) && !reading.defined.contains(&verb) {
            found.at(
                reading,
                "undefined-supply-verb",
                passage,
                format!("“{verb}” has no meaning of its own here"),
            );
        }
    }
}

/// Words with a capital inside a sentence that are no name of the job and none that is known.
fn names(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    if matches!(passage.kind, Kind::Heading { .. } | Kind::End | Kind::Caption) || !reading.runs_on(passage) {
        return;
    }
    for sentence in
        reading.paper.words(passage).split(['.', ':', '?', '!', '(', ')', '“', ';', '\u{2611}', '\u{2610}'])
    {
        for word in words(sentence).skip(1) {
            let bare = word.split(['-', '/', '’']).next().unwrap_or(word);
            let capital = bare.chars().next().is_some_and(char::is_uppercase);
            let small = bare.chars().skip(1).all(char::is_lowercase) && bare.chars().count() > 2;
            let known = || reading.rules.lists("names", bare) || reading.given.contains(bare);
            if capital && small && bare.chars().all(char::is_alphabetic) && !known() {
                found.at(reading, "brand-like-word", passage, format!("“{bare}” reads like a name"));
            }
        }
    }
}
