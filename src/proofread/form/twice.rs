//! Requirements said twice, nearly twice, or with two figures.

use std::collections::{BTreeMap, BTreeSet};

use crate::proofread::found::Found;
use crate::proofread::paper::Passage;
use crate::proofread::reading::Reading;
use crate::proofread::sentence::words;

/// Fewer words say too little to be the same requirement.
const SHORTEST: usize = 6;
/// Runs of words that are compared.
const RUN: usize = 4;
/// The share of runs in common, in hundredths, from which two requirements are nearly one.
const NEAR: usize = 60;

struct Told<'p> {
    passage: &'p Passage,
    figures: Vec<String>,
    words: Vec<String>,
}

pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    let passages = reading.paper.passages.iter().filter(|passage| reading.is_requirement(passage));
    let told: Vec<Told<'_>> = passages
        .map(|passage| told(passage, reading.paper.words(passage)))
        .filter(|told| told.words.len() >= SHORTEST)
        .collect();
    let mut by_words: BTreeMap<&[String], &Told<'_>> = BTreeMap::new();
    for one in &told {
        if let Some(first) = by_words.insert(&one.words, one) {
            let place = &first.passage.clause;
            if first.figures == one.figures {
                found.at(reading, "said-twice", one.passage, format!("{place} says the same"));
            } else {
                let message = format!(
                    "{place} says the same with other figures: {} and {}",
                    first.figures.join(", "),
                    one.figures.join(", ")
                );
                found.at(reading, "two-values", one.passage, message);
            }
        }
    }
    nearly(reading, &told, found);
}

fn told<'p>(passage: &'p Passage, text: &str) -> Told<'p> {
    let (mut figures, mut kept) = (Vec::new(), Vec::new());
    for word in words(text) {
        if word.starts_with(|sign: char| sign.is_ascii_digit()) {
            figures.push(word.to_owned());
            kept.push("#".to_owned());
        } else {
            kept.push(word.to_lowercase());
        }
    }
    Told { passage, figures, words: kept }
}

fn nearly(reading: Reading<'_>, told: &[Told<'_>], found: &mut Found<'_>) {
    let runs: Vec<BTreeSet<&[String]>> = told.iter().map(|told| told.words.windows(RUN).collect()).collect();
    let mut holders: BTreeMap<&[String], Vec<usize>> = BTreeMap::new();
    for (at, own) in runs.iter().enumerate() {
        for run in own {
            holders.entry(run).or_default().push(at);
        }
    }
    let mut common: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for at in holders.values() {
        for (place, one) in at.iter().enumerate() {
            for other in at.iter().skip(place + 1) {
                *common.entry((*one, *other)).or_default() += 1;
            }
        }
    }
    for ((one, other), shared) in common {
        let (Some(first), Some(second), Some(a), Some(b)) =
            (told.get(one), told.get(other), runs.get(one), runs.get(other))
        else {
            continue;
        };
        let all = a.len() + b.len() - shared;
        if first.words != second.words && shared * 100 >= NEAR * all {
            let message = format!("{} says nearly the same", first.passage.clause);
            found.at(reading, "nearly-said-twice", second.passage, message);
        }
    }
}
