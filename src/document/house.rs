//! What a firm's book changes of the trade's, what it weakens, and what this job loses by it; given to every paper as
//! `house`, and empty where no firm's book lies over the trade's.

use std::collections::BTreeSet;

use serde::Serialize;

use super::escape::escape;
use super::reasons::Cited;
use super::view::{Extent, View};
use crate::proof::{self, Against, Item, Shown, Weakening};
use crate::rulebook::{ChangeKind, House, HouseChange};

/// How hard the comparison is tried while papers are written, in dead ends: some two seconds' worth of a common machine,
/// of which a firm's book of some changes takes a few hundredths.
const DEAD_ENDS: u64 = 20_000;

/// The firm's book as papers print it.
#[derive(Debug, Serialize)]
pub(super) struct HouseShown {
    /// The book below.
    over: String,
    edition: String,
    /// The first twelve digits.
    digest: String,
    changes: Vec<ChangeShown>,
    lost: Vec<LostShown>,
}

/// One change.
#[derive(Debug, Serialize)]
struct ChangeShown {
    number: usize,
    /// In one line of the rule language.
    words: String,
    /// `amended`, `withdrawn`, `rule` or `declared`.
    kind: &'static str,
    because: Option<String>,
    sources: Vec<Cited>,
    /// What some survey loses by it, in Markdown.
    weakens: Vec<String>,
    /// A survey that shows one of these.
    witness: Option<WitnessShown>,
    /// What some survey may lose by it, for all that was found out within the budget.
    not_settled: Vec<String>,
    /// Whether some survey chooses otherwise by it; then what goes with an option comes and goes.
    moves_choice: bool,
    /// Whether this job loses something by it.
    here: bool,
}

/// What a survey says that loses something.
#[derive(Debug, Serialize)]
struct WitnessShown {
    /// What it loses, in Markdown.
    shows: String,
    /// Its answers.
    survey: String,
}

/// Something that this job loses against the trade book alone.
#[derive(Debug, Serialize)]
struct LostShown {
    /// In Markdown.
    what: String,
    #[serde(flatten)]
    extent: Extent,
    /// Whether it is gone, and not merely less sure.
    gone: bool,
    /// The numbers of the changes without one of which it would not be lost.
    by: Vec<usize>,
}

/// Holds a firm's book against the trade's for this job.
pub(super) fn against(view: View<'_>) -> Option<Against> {
    proof::against(view.book, view.survey, view.facts, DEAD_ENDS)
}

impl HouseShown {
    pub(super) fn of(view: View<'_>, against: &Against) -> Option<Self> {
        let house = view.book.house.as_deref()?;
        let changes = house.changes.iter().enumerate();
        Some(Self {
            over: house.below.title.clone(),
            edition: house.below.edition.clone(),
            digest: house.below.digest.chars().take(12).collect(),
            changes: changes.map(|(at, change)| shown(view, house, against, (at, change))).collect(),
            lost: lost(view, house, against),
        })
    }
}

fn shown(
    view: View<'_>,
    house: &House,
    against: &Against,
    (at, change): (usize, &HouseChange),
) -> ChangeShown {
    let own = |wanted: fn(&Weakening) -> bool| {
        let found = against.weakenings.found.iter().filter(|found| found.by.contains(&at) && wanted(found));
        found.map(|found| item(view, house, &found.item)).collect()
    };
    ChangeShown {
        number: at + 1,
        words: change.words.clone(),
        kind: match change.kind {
            ChangeKind::Amended | ChangeKind::Reworded => "amended",
            ChangeKind::Added => "added",
            ChangeKind::Withdrawn => "withdrawn",
            ChangeKind::Rule => "rule",
            ChangeKind::Declared => "declared",
        },
        because: change.because.clone(),
        sources: view.cited(&change.per),
        weakens: own(Weakening::is_shown),
        witness: witness(view, house, against, at),
        not_settled: own(|found| matches!(found.shown, Shown::NotSettled)),
        moves_choice: against.weakenings.moves.contains(&at),
        here: against.lost.iter().any(|lost| lost.by.contains(&at)),
    }
}

/// Of the losses of a change the one that the shortest survey shows.
fn witness(view: View<'_>, house: &House, against: &Against, at: usize) -> Option<WitnessShown> {
    let found = against.weakenings.found.iter().filter(|found| found.by.contains(&at));
    let shown = found.filter_map(|found| match &found.shown {
        Shown::By(witness) => Some((&found.item, proof::conditions(witness, view.system()))),
        Shown::Also | Shown::NotSettled | Shown::NotReplayed => None,
    });
    let (shows, survey) = shown.min_by_key(|(_, conditions)| conditions.len())?;
    Some(WitnessShown { shows: item(view, house, shows), survey: survey.join(", ") })
}

/// What is lost, each thing once with its zones.
fn lost(view: View<'_>, house: &House, against: &Against) -> Vec<LostShown> {
    let kinds: BTreeSet<(&Item, bool, &[usize])> =
        against.lost.iter().map(|lost| (&lost.turn.item, lost.is_gone(), lost.by.as_slice())).collect();
    let rows = kinds.into_iter().map(|(what, gone, by)| {
        let same = against
            .lost
            .iter()
            .filter(|lost| &lost.turn.item == what && lost.is_gone() == gone && lost.by.as_slice() == by);
        let zones: Vec<usize> = same.map(|lost| lost.zone).collect();
        LostShown {
            what: item(view, house, what),
            extent: Extent::of(view, &zones),
            gone,
            by: by.iter().map(|change| change + 1).collect(),
        }
    });
    rows.collect()
}

/// What is lost in Markdown: names in backticks stay so, everything else is shown as written.
fn item(view: View<'_>, house: &House, item: &Item) -> String {
    let words = item.in_words(&[&house.below, view.book], view.system());
    let mut text = Vec::new();
    for (number, part) in words.split('`').enumerate() {
        if number % 2 == 1 {
            text.extend(format!("`{part}`").into_bytes());
        } else if escape(part, &mut text).is_err() {
            return words;
        }
    }
    String::from_utf8(text).unwrap_or(words)
}
