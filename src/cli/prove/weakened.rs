//! What a firm's book weakens of the trade's: a line of the summary, data, and a survey for each.

use std::path::Path;

use serde_json::{Value, json};

use crate::cli::{Failure, files};
use crate::proof::{self, Shown, Weakening, Weakenings, in_words};
use crate::rulebook::book::Book;
use crate::rulebook::{House, HouseChange};
use crate::units::System;

/// So many words of a name are enough to tell files apart.
const LONGEST_NAME: usize = 60;

/// Lines for the end of the summary.
pub(super) fn summary(house: &House, weakenings: &Weakenings) -> String {
    let weaken: Vec<&HouseChange> = house
        .changes
        .iter()
        .enumerate()
        .filter(|(change, _)| shown(weakenings).any(|weakening| weakening.by.contains(change)))
        .map(|(_, change)| change)
        .collect();
    let changes = match house.changes.len() {
        1 => "1 change".to_owned(),
        count => format!("{count} changes"),
    };
    let below = format!("{}, edition {}", house.below.title, house.below.edition);
    match weaken.len() {
        0 => format!("{changes} over {below}; none weakens it\n"),
        1 => format!("{changes} over {below}; 1 weakens the trade book\n"),
        count => format!("{changes} over {below}; {count} weaken the trade book\n"),
    }
}

fn shown(weakenings: &Weakenings) -> impl Iterator<Item = &Weakening> {
    weakenings.found.iter().filter(|weakening| weakening.is_shown())
}

/// The same as data.
pub(super) fn as_data(book: &Book, house: &House, weakenings: &Weakenings) -> Value {
    let changes = house.changes.iter().enumerate().map(|(number, change)| {
        let own = weakenings.found.iter().filter(|weakening| weakening.by.contains(&number));
        let loses: Vec<Value> = own.map(|weakening| lost(book, house, weakening)).collect();
        let per: Vec<&str> = change
            .per
            .iter()
            .filter_map(|citation| book.sources.get(citation.source.0))
            .map(|source| source.name.as_str())
            .collect();
        json!({
            "change": change.words,
            "because": change.because,
            "per": per,
            "place": change.place.to_string(),
            "weakens": shown(weakenings).any(|weakening| weakening.by.contains(&number)),
            "loses": loses,
            "moves-choice": weakenings.moves.contains(&number),
        })
    });
    let books = [&house.below, book];
    let with_choice = weakenings.with_choice.iter().map(|item| item.in_words(&books, System::UsFirst));
    json!({
        "over": {"title": house.below.title, "edition": house.below.edition, "sha256": house.below.digest},
        "changes": changes.collect::<Vec<_>>(),
        "lost-with-another-choice": with_choice.collect::<Vec<_>>(),
    })
}

fn lost(book: &Book, house: &House, weakening: &Weakening) -> Value {
    let shown = match &weakening.shown {
        Shown::By(witness) => json!(in_words(witness, System::UsFirst)),
        Shown::Also => json!({"also": true}),
        Shown::NotSettled => json!({"not": "settled"}),
        Shown::NotReplayed => json!({"not": "replayed"}),
    };
    json!({
        "what": weakening.item.in_words(&[&house.below, book], System::UsFirst),
        "together-with": weakening.by.len() - 1,
        "shown": shown,
    })
}

/// Writes a survey for each loss that is told with one.
pub(super) fn write(
    folder: &Path,
    book: &Book,
    house: &House,
    weakenings: &Weakenings,
) -> Result<(), Failure> {
    for (number, weakening) in weakenings.found.iter().enumerate() {
        let Shown::By(witness) = &weakening.shown else { continue };
        let what = weakening.item.in_words(&[&house.below, book], System::UsFirst);
        let words: Vec<&str> = weakening
            .by
            .iter()
            .filter_map(|change| house.changes.get(*change))
            .map(|change| change.words.as_str())
            .collect();
        let title = format!("the firm's book loses: {what}; by {}", words.join(" or by "));
        let name = format!("weakens-{}-{}.yaml", number + 1, in_a_name(&what));
        files::write_beside(&folder.join(name), &proof::written(&title, witness))?;
    }
    Ok(())
}

/// Words as part of a file's name.
fn in_a_name(words: &str) -> String {
    let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { ' ' };
    let spaced: String = words.chars().map(plain).collect();
    let mut name = spaced.split_whitespace().collect::<Vec<_>>().join("-");
    name.truncate(LONGEST_NAME);
    name.trim_end_matches('-').to_owned()
}
