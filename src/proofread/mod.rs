//! Proofreading: the papers of a set in, as blocks or as Markdown that others may have edited, and what is wrong with
//! their words, numbers and references out, each finding with its place, its weight and how to mend it. It knows the
//! papers alone, never the book that they were made from, and so sees what a reader sees. Word lists, checks and
//! profiles are tables beside the rulebook. Writes and decides nothing.

mod across;
mod blocks;
mod figures;
mod finding;
mod form;
mod found;
mod markdown;
mod numbering;
mod paper;
mod pattern;
mod plain;
mod reading;
mod references;
mod rules;
mod sentence;
mod value;
mod waiver;
mod words;

use std::collections::BTreeSet;

use rayon::prelude::*;

pub use blocks::of_document;
pub use finding::{Audience, Finding, Weight};
pub use markdown::of_markdown;
pub use paper::{Kind, Paper, Passage, Table};
pub use plain::{grade, syllables};
pub use rules::{Check, Rules, RulesMistake};
pub use waiver::{Waiver, WaiverMistake, waivers};

use found::Found;
use numbering::Numbers;
use reading::Reading;

/// What is known of a set besides its papers.
#[derive(Debug, Clone, Default)]
pub struct About {
    /// The day of issue, `YYYY-MM-DD`; waivers end by it.
    pub date: String,
    /// Which system of units comes first, `us-first` or `si-first`.
    pub units: String,
    /// Names that the job brings along: its own, those of zones and places.
    pub given: Vec<String>,
    /// The files of the set with their digests, as its record lists them.
    pub listed: Vec<(String, String)>,
    /// The files that lie there, with their digests; empty while a set is only being written.
    pub there: Vec<(String, String)>,
}

/// Reads a set. Findings come in the order of readers, papers and places.
pub fn proofread(papers: &[Paper], about: &About, waivers: &[Waiver], rules: &Rules) -> Vec<Finding> {
    let given: BTreeSet<String> = about.given.iter().flat_map(|name| capitalised(name)).collect();
    let section = papers.iter().find(|paper| paper.name == SECTION);
    let defined = section.map(|section| defined(section, rules)).unwrap_or_default();
    let numbers = section.map(Numbers::of);
    let profiled = papers.iter().filter_map(|paper| Some((paper, rules.profile(&paper.name, &about.units)?)));
    let reading = |(paper, profile)| Reading { rules, paper, profile, defined: &defined, given: &given };
    let readings: Vec<Reading<'_>> = profiled.map(reading).collect();
    let by_paper: Vec<Vec<Finding>> = readings
        .par_iter()
        .map(|reading| {
            let mut found = Found::new(rules);
            words::check(*reading, &mut found);
            form::check(*reading, &mut found);
            references::check(*reading, &mut found);
            references::weak_grounds(*reading, &mut found);
            numbering::check(*reading, numbers.as_ref(), &mut found);
            figures::check(*reading, &mut found);
            plain::check(*reading, &mut found);
            found.all
        })
        .collect();
    let mut found = Found::new(rules);
    found.all = by_paper.concat();
    across::check(&readings, about, numbers.as_ref(), &mut found);
    for waiver in waivers.iter().filter(|waiver| waiver.is_over(&about.date)) {
        if let Some(reading) = readings.first() {
            let message =
                format!("the waiver of {} at {} ended on {}", waiver.check, waiver.clause, waiver.expires);
            found.whole(*reading, "waiver-expired", message);
        }
    }
    let mut findings = found.all;
    for finding in &mut findings {
        let covers = |waiver: &Waiver| waiver.covers(finding) && !waiver.is_over(&about.date);
        finding.waived = waivers.iter().position(covers);
    }
    let place = |finding: &Finding| papers.iter().position(|paper| paper.name == finding.paper);
    findings.sort_by_key(|finding| (finding.reader, place(finding)));
    findings
}

/// The paper whose numbers the others cite.
const SECTION: &str = "section";

/// The words that a section defines, in small letters: what stands before the colon of each definition.
fn defined(section: &Paper, rules: &Rules) -> BTreeSet<String> {
    let of_terms =
        section.passages.iter().filter(|passage| rules.lists("definition articles", &passage.article));
    let term = |passage: &Passage| Some(section.words(passage).split_once(':')?.0.to_lowercase());
    of_terms.filter_map(term).collect()
}

fn capitalised(name: &str) -> impl Iterator<Item = String> {
    name.split(|sign: char| !sign.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned)
}
