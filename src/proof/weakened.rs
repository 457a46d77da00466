//! What a firm's book weakens, told: as remarks on its changes, and held against one survey.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::compare::Shown;
use super::mistake::ProofMistake;
use super::past::{Turn, turns};
use super::weakening::{Depth, Weakening, Weakenings, weakenings};
use super::words::in_words;
use crate::diagnostic::{Diagnostic, Place};
use crate::inference::Truth;
use crate::rulebook::book::Book;
use crate::rulebook::{House, HouseChange};
use crate::survey::Survey;
use crate::units::System;
use crate::wall;
use crate::wall::facts::ZoneFacts;

/// A remark for each change that weakens the trade book or lets another option be chosen, and for what is not settled;
/// an error where the prover contradicts itself.
pub fn weakened(book: &Book, weakenings: &Weakenings, system: System) -> Vec<Diagnostic> {
    let Some(house) = book.house.as_deref() else { return Vec::new() };
    let telling = Telling { book, house, system };
    let mut by_change: BTreeMap<&[usize], Vec<&Weakening>> = BTreeMap::new();
    for weakening in &weakenings.found {
        by_change.entry(&weakening.by).or_default().push(weakening);
    }
    let mut told: Vec<Diagnostic> =
        by_change.iter().flat_map(|(changes, lost)| telling.of_changes(changes, lost)).collect();
    told.extend(telling.of_choice(weakenings));
    let perhaps = weakenings.perhaps_moves.iter().filter_map(|change| house.changes.get(*change));
    told.extend(perhaps.map(|change| {
        let what = format!("whether `{}` lets another option be chosen", change.words);
        Diagnostic::remark(&ProofMistake::NotSettled { what }, first_line(&change.place))
    }));
    told
}

struct Telling<'a> {
    book: &'a Book,
    house: &'a House,
    system: System,
}

impl Telling<'_> {
    fn of_changes(&self, changes: &[usize], lost: &[&Weakening]) -> Vec<Diagnostic> {
        let changes: Vec<&HouseChange> =
            changes.iter().filter_map(|change| self.house.changes.get(*change)).collect();
        let Some(first) = changes.first() else { return Vec::new() };
        let place = first_line(&first.place);
        let mut told = Vec::new();
        let shown: Vec<&Weakening> = lost.iter().copied().filter(|lost| lost.is_shown()).collect();
        if !shown.is_empty() {
            let words: Vec<String> = changes.iter().map(|change| format!("`{}`", change.words)).collect();
            let mistake = ProofMistake::Weakens { changes: words.join(" or ") };
            let mut remark = Diagnostic::remark(&mistake, place.clone());
            remark.help = Some(self.what_is_lost(&changes, &shown));
            for more in changes.iter().skip(1) {
                remark = remark.and(first_line(&more.place), "and so does this");
            }
            for below in changes.iter().filter_map(|change| change.concerns.as_ref()) {
                remark = remark.and(first_line(below), "changed here");
            }
            told.push(remark);
        }
        for weakening in lost.iter().filter(|lost| !lost.is_shown()) {
            let what = format!("whether some survey loses: {}", self.item(weakening));
            told.push(match weakening.shown {
                Shown::NotReplayed => Diagnostic::error(&ProofMistake::NotReplayed { what }, place.clone()),
                _ => Diagnostic::remark(&ProofMistake::NotSettled { what }, place.clone()),
            });
        }
        told
    }

    fn what_is_lost(&self, changes: &[&HouseChange], lost: &[&Weakening]) -> String {
        let mut text = "some survey loses:".to_owned();
        for weakening in lost {
            let _ = write!(text, "\n  {}", self.item(weakening));
        }
        for change in changes {
            let because = change.because.as_deref().unwrap_or("no reason given");
            let _ = write!(text, "\nthe firm's reason: {because}\nper {}", sources(self.book, change));
        }
        let witness = lost.iter().find_map(|lost| match &lost.shown {
            Shown::By(witness) => Some((lost, witness)),
            _ => None,
        });
        if let Some((lost, witness)) = witness {
            let _ = write!(text, "\n{}: {}", self.item(lost), in_words(witness, self.system));
        }
        text
    }

    /// A remark for each change that lets another option be chosen.
    fn of_choice(&self, weakenings: &Weakenings) -> Vec<Diagnostic> {
        let lost: Vec<String> =
            weakenings.with_choice.iter().map(|item| item.in_words(&self.books(), self.system)).collect();
        let moves = weakenings.moves.iter().filter_map(|change| self.house.changes.get(*change));
        moves
            .map(|change| {
                let mistake = ProofMistake::MovesChoice { change: change.words.clone() };
                let mut remark = Diagnostic::remark(&mistake, first_line(&change.place));
                let because = change.because.as_deref().unwrap_or("no reason given");
                let help = remark.help.take().unwrap_or_default();
                let mut text =
                    format!("{help}\nthe firm's reason: {because}\nper {}", sources(self.book, change));
                if let Some(first) = lost.first() {
                    let more = match lost.len() - 1 {
                        0 => String::new(),
                        more => format!(", and {more} more"),
                    };
                    let _ = write!(
                        text,
                        "\nwith another choice some survey no longer has, by all such changes: {first}{more}"
                    );
                }
                remark.help = Some(text);
                remark
            })
            .collect()
    }

    fn item(&self, weakening: &Weakening) -> String {
        weakening.item.in_words(&self.books(), self.system)
    }

    fn books(&self) -> [&Book; 2] {
        [&self.house.below, self.book]
    }
}

/// The sources of a change, in words.
fn sources(book: &Book, change: &HouseChange) -> String {
    let titles = change.per.iter().filter_map(|citation| {
        let title = book.sources.get(citation.source.0)?.title.clone();
        Some(match &citation.detail {
            Some(detail) => format!("{title}, {detail}"),
            None => title,
        })
    });
    titles.collect::<Vec<_>>().join("; ")
}

/// The line that names a statement.
fn first_line(place: &Place) -> Place {
    let length = place.text().lines().next().map_or(0, str::len);
    Place::new(&place.source, place.start, place.start + length)
}

/// Something that a zone of one survey would have by the trade's book, and by the firm's not, or less surely.
#[derive(Clone, Debug)]
pub struct LostHere {
    /// Which zone.
    pub zone: usize,
    /// What.
    pub turn: Turn,
    /// The changes without one of which it would not be lost.
    pub by: Vec<usize>,
}

/// A firm's book held against the trade's for one survey.
#[derive(Clone, Debug)]
pub struct Against {
    /// What it weakens, for some survey or other.
    pub weakenings: Weakenings,
    /// What this survey loses.
    pub lost: Vec<LostHere>,
}

/// What a firm's book weakens, and what one survey loses by it; nothing if it is no firm's book.
pub fn against(book: &Book, survey: &Survey, facts: &[ZoneFacts], dead_ends: u64) -> Option<Against> {
    let weakenings = weakenings(book, dead_ends, Depth::Witnessed)?;
    let lost = lost_here(book, survey, facts, &weakenings);
    Some(Against { weakenings, lost })
}

/// What one survey loses by a firm's book against the trade's alone; departures and releases are left out of account.
fn lost_here(book: &Book, survey: &Survey, facts: &[ZoneFacts], weakenings: &Weakenings) -> Vec<LostHere> {
    let Some(house) = book.house.as_deref() else { return Vec::new() };
    let by_trade = facts_by((book, survey, facts), &house.below);
    let zones = by_trade.iter().zip(facts).enumerate();
    let lost = zones.flat_map(|(zone, (was, is))| {
        let turns = turns((&house.below, was), (book, is)).into_iter();
        turns.filter(|turn| turn.item.is_duty() && turn.after < turn.before).map(move |turn| (zone, turn))
    });
    let lost: Vec<(usize, Turn)> = lost.collect();
    if lost.is_empty() {
        return Vec::new();
    }
    let kept: Vec<(usize, Vec<(usize, Turn)>)> =
        weakenings.less.iter().map(|(change, less)| (*change, gained((book, survey, facts), less))).collect();
    let blamed = |zone: usize, turn: &Turn| {
        let by = kept.iter().filter(|(_, gained)| {
            gained.iter().any(|(other, gained)| {
                *other == zone && gained.item == turn.item && gained.after >= turn.before
            })
        });
        by.map(|(change, _)| *change).collect()
    };
    lost.into_iter().map(|(zone, turn)| LostHere { zone, by: blamed(zone, &turn), turn }).collect()
}

/// What the zones would have more surely by the firm's book without one of its changes.
fn gained(here: (&Book, &Survey, &[ZoneFacts]), less: &Book) -> Vec<(usize, Turn)> {
    let facts = facts_by(here, less);
    let zones = here.2.iter().zip(&facts).enumerate();
    let all = zones.flat_map(|(zone, (with, without))| {
        turns((here.0, with), (less, without)).into_iter().map(move |turn| (zone, turn))
    });
    all.filter(|(_, turn)| turn.before < turn.after).collect()
}

/// The facts of a survey as another book takes them.
fn facts_by((book, survey, facts): (&Book, &Survey, &[ZoneFacts]), other: &Book) -> Vec<ZoneFacts> {
    let alike =
        book.facts.len() == other.facts.len()
            && book.facts.iter().zip(&other.facts).all(|(one, other)| {
                one.name == other.name && one.cells == other.cells && one.kind == other.kind
            })
            && tables(book).eq(tables(other));
    if alike {
        return facts.to_vec();
    }
    wall::work(&survey.over(book, other), other)
}

/// The digests of what the wall calculation reads in a book.
fn tables(book: &Book) -> impl Iterator<Item = (&String, &String)> {
    let read = ["catalogue ", "quantity ", "worked ", "fact "];
    book.statement_digests.iter().filter(move |(name, _)| read.iter().any(|kind| name.starts_with(kind)))
}

impl LostHere {
    /// Whether it is gone, and not merely less sure.
    pub fn is_gone(&self) -> bool {
        self.turn.after == Truth::No
    }
}
