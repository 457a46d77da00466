//! Plain language, for those who live with the wall: short sentences, short words, safety first, each never with an
//! instead.

use super::found::Found;
use super::paper::{Kind, Passage};
use super::reading::Reading;
use super::sentence::{first_word, sentences, words};

/// Bounds of the Flesch-Kincaid grade: over the first a reason is wanted, over the second nobody reads on.
const GRADE: f64 = 6.0;
const HIGHEST_GRADE: f64 = 8.0;
const HIGHEST_OF_CHAPTER: f64 = 9.0;
/// A chapter of fewer words has no grade worth telling.
const CHAPTER: usize = 60;
const LONG: usize = 20;
const TOO_LONG: usize = 25;
const MEAN: f64 = 15.0;
const PARAGRAPH_SENTENCES: usize = 5;
const PARAGRAPH_WORDS: usize = 75;
const LIST: usize = 7;
/// The share of words of three syllables and more, in hundredths.
const LONG_WORDS: usize = 8;

/// Goes through a paper for people outside the trade.
pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    if !reading.is_for("hard-to-read") {
        return;
    }
    let told: Vec<&Passage> = reading.paper.passages.iter().filter(|passage| is_told(passage)).collect();
    let all: Vec<&str> = told.iter().flat_map(|passage| parts(reading.paper.words(passage))).collect();
    grades(reading, &told, &all, found);
    for passage in &told {
        paragraph(reading, passage, found);
        jargon(reading, passage, found);
        listed(reading, passage, found);
    }
    lists(reading, found);
    first(reading, found);
}

fn is_told(passage: &Passage) -> bool {
    matches!(passage.kind, Kind::Item { .. } | Kind::Bullet | Kind::Paragraph | Kind::Caution)
}

/// Sentences, cut at colons and semicolons too, each with a letter in it.
fn parts(text: &str) -> Vec<&str> {
    let parts = sentences(text).into_iter().flat_map(|sentence| sentence.split([':', ';']));
    parts.map(str::trim).filter(|part| part.contains(char::is_alphabetic)).collect()
}

/// The Flesch-Kincaid grade of some sentences: 0.39 words a sentence + 11.8 syllables a word - 15.59 (Kincaid 1975,
/// from memory). `None` without words.
pub fn grade(sentences: &[&str]) -> Option<f64> {
    let said: Vec<&str> = sentences
        .iter()
        .flat_map(|sentence| sentence.split_whitespace())
        .filter(|word| word.contains(char::is_alphabetic))
        .collect();
    if said.is_empty() {
        return None;
    }
    let sum: usize = said.iter().map(|word| syllables(word)).sum();
    let (words, of) = (count(said.len()), count(sentences.len()));
    Some(0.39 * words / of + 11.8 * count(sum) / words - 15.59)
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// Groups of vowels, a silent `e` at the end left out: one at least.
pub fn syllables(word: &str) -> usize {
    let signs: Vec<char> = word.to_lowercase().chars().filter(char::is_ascii_alphabetic).collect();
    let is_vowel = |sign: &char| "aeiouy".contains(*sign);
    let starts = signs.first().is_some_and(is_vowel);
    let groups = usize::from(starts)
        + signs.windows(2).filter(|two| matches!(two, [a, b] if !is_vowel(a) && is_vowel(b))).count();
    let silent = signs.len() > 2 && signs.ends_with(&['e']) && !signs.ends_with(&['l', 'e']);
    (groups.saturating_sub(usize::from(silent))).max(1)
}

fn grades(reading: Reading<'_>, told: &[&Passage], all: &[&str], found: &mut Found<'_>) {
    let Some(whole) = grade(all) else { return };
    if whole > HIGHEST_GRADE {
        found.whole(reading, "far-too-hard", format!("it reads at grade {whole:.1}"));
    } else if whole > GRADE {
        found.whole(reading, "hard-to-read", format!("it reads at grade {whole:.1}"));
    }
    let counts: Vec<usize> = all.iter().map(|part| words(part).count()).collect();
    let mean = count(counts.iter().sum()) / count(counts.len());
    if mean > MEAN {
        found.whole(reading, "long-sentence", format!("sentences have {mean:.0} words on the whole"));
    }
    let mut chapters: Vec<(&str, Vec<&str>)> = Vec::new();
    for passage in told {
        let own = parts(reading.paper.words(passage));
        match chapters.last_mut() {
            Some((title, parts)) if *title == passage.article => parts.extend(own),
            _ => chapters.push((&passage.article, own)),
        }
    }
    for (title, parts) in chapters {
        let long = parts.iter().map(|part| words(part).count()).sum::<usize>() >= CHAPTER;
        if let Some(own) = grade(&parts).filter(|own| long && *own > HIGHEST_OF_CHAPTER) {
            found.whole(reading, "far-too-hard", format!("“{title}” reads at grade {own:.1}"));
        }
    }
    let said: Vec<&str> = all.iter().flat_map(|part| words(part)).collect();
    let is_long = |word: &&&str| {
        syllables(word) > 2
            && !reading.rules.lists("explained words", &word.to_lowercase())
            && !reading.given.contains(**word)
    };
    let long = said.iter().filter(is_long).count();
    if long * 100 > said.len() * LONG_WORDS {
        let share = long * 100 / said.len().max(1);
        found.whole(reading, "long-words", format!("{share} of 100 words have three syllables or more"));
    }
}

fn paragraph(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    let text = reading.paper.words(passage);
    for part in parts(text) {
        let count = words(part).count();
        if count > TOO_LONG {
            found.at(reading, "endless-sentence", passage, format!("a sentence of {count} words"));
        } else if count > LONG {
            found.at(reading, "long-sentence", passage, format!("a sentence of {count} words"));
        }
    }
    let (sentences, count) = (sentences(text).len(), words(text).count());
    if sentences > PARAGRAPH_SENTENCES || count > PARAGRAPH_WORDS {
        found.at(reading, "long-paragraph", passage, format!("{sentences} sentences, {count} words"));
    }
}

/// Words of the trade; a gloss behind a colon, a comma or in brackets lets one pass.
fn jargon(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    for word in words(reading.paper.words(passage)) {
        if reading.rules.lists("jargon", &word.to_lowercase()) {
            found.at(reading, "jargon", passage, format!("“{word}” is a word of the trade"));
        }
    }
}

/// Points of the lists of what to do and what never to do.
fn listed(reading: Reading<'_>, passage: &Passage, found: &mut Found<'_>) {
    let text = reading.paper.words(passage);
    let is_never = reading.rules.lists("never lists", &passage.article);
    if !is_never && !reading.rules.lists("do lists", &passage.article) || passage.kind != Kind::Bullet {
        return;
    }
    let opens = if is_never {
        first_word(text) == "never"
    } else {
        reading.rules.lists("owner verbs", &first_word(text))
    };
    if !opens {
        found.at(reading, "point-without-verb", passage, format!("“{text}” does not open with what to do"));
    }
    if !text.contains(": ") {
        found.at(reading, "point-without-reason", passage, format!("“{text}” gives no reason"));
    }
    if is_never && !text.contains("; ") {
        found.at(reading, "never-without-instead", passage, format!("“{text}” says not what to do instead"));
    }
}

fn lists(reading: Reading<'_>, found: &mut Found<'_>) {
    let mut run = 0;
    for passage in &reading.paper.passages {
        run = if passage.kind == Kind::Bullet { run + 1 } else { 0 };
        if run == LIST + 1 {
            found.at(
                reading,
                "long-list",
                passage,
                format!("“{}” has more than {LIST} points", passage.article),
            );
        }
    }
}

/// Safety is the first thing told.
fn first(reading: Reading<'_>, found: &mut Found<'_>) {
    let first = reading.paper.passages.iter().find(|passage| {
        matches!(passage.kind, Kind::Heading { .. } | Kind::Paragraph | Kind::Caution | Kind::Bullet)
    });
    let Some(first) = first else { return };
    let title = reading.paper.words(first);
    if !reading.rules.lists("safety titles", title) && first.kind != Kind::Caution {
        found.at(reading, "safety-not-first", first, format!("“{title}” comes first"));
    }
}
