//! `perpend compare`: what changes between two rulebooks, over every survey and over those that were made.

use std::fmt::Write as _;
use std::path::Path;

use serde_json::{Value, json};

use crate::cli::args::{Compare, CompareForm};
use crate::cli::files;
use crate::cli::load;
use crate::cli::past::{self, Past};
use crate::cli::revision;
use crate::cli::{Exit, Failure, Report};
use crate::inference::Truth;
use crate::proof::{self, Change, Comparison, Item, Shown, Side, Turn, Way};
use crate::rulebook::book::Book;
use crate::units::System;
use crate::wall;

/// What one survey has otherwise by the new book.
struct Decided {
    survey: String,
    /// What should be known of it: which book decided it then, what a book does not ask.
    notes: Vec<String>,
    /// By zone, its code first.
    zones: Vec<(String, Vec<Turn>)>,
}

/// Compares two books.
pub(super) fn run(compare: &Compare) -> Result<Report, Failure> {
    let past = past::found(&compare.surveys)?;
    let (old, new) = (book(&compare.old)?, book(&compare.new)?);
    let (old_reach, new_reach) = (wall::reach(&old), wall::reach(&new));
    let sides = [Side { book: &old, reach: &old_reach }, Side { book: &new, reach: &new_reach }];
    let [before, after] = sides;
    let found = proof::compare(before, after, load::dead_ends(compare.budget), compare.witnesses);
    let past: Vec<Decided> =
        past.iter().map(|past| decided(past, &old, &new)).collect::<Result<_, Failure>>()?;
    let books = [&old, &new];
    let text = match compare.format {
        CompareForm::Text => in_words(&books, &found, &past, Shape::Text),
        CompareForm::Md => in_words(&books, &found, &past, Shape::Markdown),
        CompareForm::Json => as_data(&books, &found, &past),
    };
    Ok(Report { text, remarks: Vec::new(), exit: Exit::Done })
}

/// A book from a folder, or from a revision of one: `rules/trade@v2026.1`.
fn book(path: &Path) -> Result<Book, Failure> {
    let sources = match revision::named(path) {
        Some((folder, revision)) => revision::read(&folder, &revision)?,
        None => files::read_rulebook(path).map_err(Failure::misused)?,
    };
    load::of_sources(&sources).map(|(book, _)| book)
}

fn decided(past: &Past, old: &Book, new: &Book) -> Result<Decided, Failure> {
    let (before, after, note) = past.by(old, new)?;
    let facts = (wall::work(&before, old), wall::work(&after, new));
    let zones = after.zones.iter().zip(facts.0.iter().zip(&facts.1));
    let zones = zones.map(|(zone, (was, is))| (zone.code.clone(), proof::turns((old, was), (new, is))));
    let mut notes: Vec<String> = note.into_iter().map(str::to_owned).collect();
    if let Some([title, edition, digest]) = past.record.as_ref().map(|record| &record.book)
        && *digest != old.digest
    {
        let digest: String = digest.chars().take(12).collect();
        notes.push(format!(
            "its set was written with {title}, edition {edition}, digest {digest}; here the old book decides it anew"
        ));
    }
    let zones = zones.filter(|(_, turns)| !turns.is_empty()).collect();
    Ok(Decided { survey: files::shown(&past.path), notes, zones })
}

/// Plain words, or Markdown.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Shape {
    Text,
    Markdown,
}

fn in_words(books: &[&Book; 2], found: &Comparison, past: &[Decided], shape: Shape) -> String {
    let mut text = String::new();
    let heading = |title: &str| match shape {
        Shape::Text => format!("\n{title}\n"),
        Shape::Markdown => format!("\n## {title}\n\n"),
    };
    let [old, new] = books;
    let _ = writeln!(text, "{}, edition {} → {}, edition {}", old.title, old.edition, new.title, new.edition);
    let statements = &found.statements;
    for (title, names) in [
        ("Statements added", &statements.added),
        ("Statements removed", &statements.removed),
        ("Statements changed", &statements.changed),
    ] {
        if !names.is_empty() {
            text.push_str(&heading(title));
            for name in names {
                let _ = writeln!(text, "- {name}");
            }
        }
    }
    for (title, wanted) in [
        (
            "Weaker: some survey loses this",
            (|change| change.way == Way::Lost && change.item.is_duty()) as Wanted,
        ),
        ("Stricter: some survey gains this", |change| change.way == Way::Gained && change.item.is_duty()),
        ("Chosen less", |change| change.way == Way::Lost && !change.item.is_duty()),
        ("Chosen more", |change| change.way == Way::Gained && !change.item.is_duty()),
    ] {
        let changes: Vec<&Change> = found.changes.iter().filter(|change| wanted(change)).collect();
        if !changes.is_empty() {
            text.push_str(&heading(title));
            for change in changes {
                text.push_str(&change_in_words(books, change, shape));
            }
        }
    }
    let _ = writeln!(text, "\n{} things are proved to come out the same for every survey", found.unchanged);
    text.push_str(&past_in_words(books, past, &heading));
    text
}

/// Which changes belong under a heading.
type Wanted = fn(&Change) -> bool;

fn change_in_words(books: &[&Book; 2], change: &Change, shape: Shape) -> String {
    let said = change.item.in_words(books, System::UsFirst);
    let shown = match &change.shown {
        Shown::By(witness) => proof::in_words(witness, System::UsFirst),
        Shown::Also => return format!("- {said}\n"),
        Shown::NotSettled => "whether this changes was not settled within the budget".to_owned(),
        Shown::NotReplayed => "the survey that was found does not show it: please report this".to_owned(),
    };
    match shape {
        Shape::Text => format!("- {said}\n    {}\n", shown.replace('\n', "\n    ")),
        Shape::Markdown => format!("- {said}\n\n  ```text\n  {}\n  ```\n", shown.replace('\n', "\n  ")),
    }
}

fn past_in_words(books: &[&Book; 2], past: &[Decided], heading: &dyn Fn(&str) -> String) -> String {
    if past.is_empty() {
        return String::new();
    }
    let changed: Vec<&Decided> = past.iter().filter(|past| !past.zones.is_empty()).collect();
    let mut text = heading(&format!("{} of {} surveys come out otherwise", changed.len(), past.len()));
    for past in changed {
        let _ = writeln!(text, "- {}", past.survey);
        for note in &past.notes {
            let _ = writeln!(text, "  - {note}");
        }
        for (zone, turns) in &past.zones {
            for turn in turns {
                let said = turn.item.in_words(books, System::UsFirst);
                let _ = writeln!(text, "  - {zone}: {said}: {} → {}", turn.before.word(), turn.after.word());
            }
        }
    }
    text
}

fn as_data(books: &[&Book; 2], found: &Comparison, past: &[Decided]) -> String {
    let [old, new] = books;
    let named = |book: &Book| json!({"title": book.title, "edition": book.edition, "sha256": book.digest});
    let statements = &found.statements;
    let changes = found.changes.iter().map(|change| {
        let shown = match &change.shown {
            Shown::By(witness) => json!(proof::in_words(witness, System::UsFirst)),
            Shown::Also => json!({"also": true}),
            Shown::NotSettled => json!({"not": "settled"}),
            Shown::NotReplayed => json!({"not": "replayed"}),
        };
        json!({
            "what": change.item.in_words(books, System::UsFirst),
            "way": if change.way == Way::Lost { "lost" } else { "gained" },
            "weakens": change.weakens(),
            "shown": shown,
        })
    });
    let whole = json!({
        "old": named(old),
        "new": named(new),
        "statements": {"added": statements.added, "removed": statements.removed, "changed": statements.changed},
        "changes": changes.collect::<Vec<_>>(),
        "unchanged": found.unchanged,
        "surveys": past.iter().map(|past| past_as_data(books, past)).collect::<Vec<_>>(),
    });
    format!("{whole:#}\n")
}

fn past_as_data(books: &[&Book; 2], past: &Decided) -> Value {
    let turns = past.zones.iter().flat_map(|(zone, turns)| turns.iter().map(move |turn| (zone, turn)));
    let turns = turns.map(|(zone, turn)| {
        json!({
            "zone": zone,
            "what": in_item(books, &turn.item),
            "before": word(turn.before),
            "after": word(turn.after),
        })
    });
    json!({"survey": past.survey, "notes": past.notes, "turns": turns.collect::<Vec<_>>()})
}

fn in_item(books: &[&Book; 2], item: &Item) -> String {
    item.in_words(books, System::UsFirst)
}

fn word(truth: Truth) -> &'static str {
    truth.word()
}
