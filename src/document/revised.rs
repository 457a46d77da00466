//! What is new or worded otherwise in a numbered paper since the issue before: each paragraph of the first level with all
//! that belongs to it, and each paragraph of a warning, is held against the sums that the record of that issue keeps. Its
//! number does not count, nor do those of what it refers to: they only follow the numbering.

use std::collections::{BTreeMap, BTreeSet};

use sha2::{Digest as _, Sha256};

use super::block::{Block, BlockKind, Inline, Table};
use super::register::Issue;
use super::templates::Words;
use crate::survey::Survey;

/// Digits of sixteen that a sum keeps.
const DIGITS: usize = 16;

/// Sums of the words that a paper prints, by the name of the clause or of what else stands there.
pub type Sums = BTreeMap<String, Vec<String>>;

/// An issue beside the one before it.
pub(super) struct Since<'a> {
    /// What was printed then.
    then: &'a Sums,
    /// What marks a paragraph that was not.
    tag: String,
    /// The issue before, in words.
    before: String,
}

impl<'a> Since<'a> {
    /// Nothing where the record of the issue before does not hold the words of this paper.
    pub(super) fn of(before: &'a Issue, paper: &str, survey: &Survey, words: &Words) -> Option<Self> {
        let then = before.printed(paper)?;
        let (revision, date) = before.named();
        let job = &survey.job;
        // A letter that the issue before bears too tells the two apart no more.
        let own = job.revision.as_deref().filter(|own| revision != Some(*own));
        let before = match revision {
            Some(revision) => words.of("before-revision").replace("{revision}", revision),
            None => words.of("before-date").to_owned(),
        };
        Some(Self {
            then,
            tag: format!("[{}]", own.unwrap_or(&job.issue_date)),
            before: before.replace("{date}", date),
        })
    }

    /// Tags what is new or worded otherwise, says before the first heading what the tag means, and gives back the ids of
    /// the blocks to stand a bar beside.
    pub(super) fn mark(&self, blocks: &mut Vec<Block>, words: &Words) -> BTreeSet<String> {
        let mut revised = BTreeSet::new();
        for unit in units(blocks) {
            if self.then.get(&unit.name).is_some_and(|sums| sums.contains(&unit.sum)) {
                continue;
            }
            let own = blocks.iter_mut().skip(unit.first).take(unit.count);
            for (at, block) in own.enumerate() {
                revised.insert(block.id.clone());
                if at == 0 {
                    self.tag(&mut block.kind, unit.paragraph);
                }
            }
        }
        if !revised.is_empty() {
            let key = words.of("revised").replace("{tag}", &self.tag).replace("{before}", &self.before);
            let is_heading = |block: &Block| matches!(block.kind, BlockKind::Heading { .. });
            let at = blocks.iter().position(is_heading).unwrap_or(0);
            let kind = BlockKind::Paragraph(vec![Inline::Text(key)]);
            blocks.insert(at, Block { id: "revised.1".to_owned(), kind });
        }
        revised
    }

    /// Writes the tag behind the subject, or at the end of a paragraph that has none.
    fn tag(&self, kind: &mut BlockKind, paragraph: usize) {
        let text = match kind {
            BlockKind::Item { text, .. } => text,
            BlockKind::Caution { text, .. } => match text.get_mut(paragraph) {
                Some(text) => text,
                None => return,
            },
            _ => return,
        };
        let tag = format!(" {}", self.tag);
        match text.as_mut_slice() {
            [Inline::Strong(_), Inline::Text(behind), ..] => behind.insert_str(0, &tag),
            [.., Inline::Text(last)] => last.push_str(&tag),
            _ => text.push(Inline::Text(tag)),
        }
    }
}

/// The sums of everything that may be marked.
pub(super) fn sums(blocks: &[Block]) -> Sums {
    let mut sums = Sums::new();
    for unit in units(blocks) {
        sums.entry(unit.name).or_default().push(unit.sum);
    }
    sums
}

/// What is marked as one.
struct Unit {
    /// What its blocks are called after.
    name: String,
    /// Of its words.
    sum: String,
    /// Its first block, and how many they are.
    first: usize,
    count: usize,
    /// Which paragraph of a warning it is.
    paragraph: usize,
}

fn units(blocks: &[Block]) -> Vec<Unit> {
    let mut units = Vec::new();
    for (first, block) in blocks.iter().enumerate() {
        let name = stem(block);
        let unit = |said: &str, count, paragraph| {
            let sum = sum(said);
            Unit { name: name.to_owned(), sum, first, count, paragraph }
        };
        match &block.kind {
            BlockKind::Item { depth: 1, .. } => {
                let rest = blocks.get(first + 1..).unwrap_or_default();
                let belongs = |next: &&Block| stem(next) == name && !opens(next);
                let below = rest.iter().take_while(belongs).count();
                let own = blocks.iter().skip(first).take(below + 1);
                units.push(unit(&own.map(said).collect::<String>(), below + 1, 0));
            }
            BlockKind::Caution { text, .. } => {
                units.extend(text.iter().enumerate().map(|(at, text)| unit(&words(text), 1, at)));
            }
            _ => {}
        }
    }
    units
}

/// Whether a block is marked by itself.
fn opens(block: &Block) -> bool {
    matches!(block.kind, BlockKind::Item { depth: 1, .. } | BlockKind::Caution { .. })
}

/// What the blocks of one clause are called after.
fn stem(block: &Block) -> &str {
    block.id.rsplit_once('.').map_or(block.id.as_str(), |(stem, _)| stem)
}

fn sum(said: &str) -> String {
    let bytes = Sha256::digest(said.as_bytes());
    let digits = bytes.iter().flat_map(|byte| [byte >> 4, byte & 0xF]);
    digits.filter_map(|digit| char::from_digit(u32::from(digit), 16)).take(DIGITS).collect()
}

/// The words of a block, without its number.
fn said(block: &Block) -> String {
    let text = match &block.kind {
        BlockKind::Heading { text, .. }
        | BlockKind::Item { text, .. }
        | BlockKind::Bullet { text, .. }
        | BlockKind::Paragraph(text) => words(text),
        BlockKind::Proof(lines) => {
            lines.iter().map(|line| line.key.clone() + ": " + &words(&line.text) + "\n").collect()
        }
        BlockKind::Caution { text, .. } => text.iter().map(|text| words(text) + "\n").collect(),
        BlockKind::Table(table) => cells(table),
        BlockKind::Figure(drawing) => format!("{}\n{}\n{}", drawing.caption, drawing.alt, drawing.note),
        BlockKind::NewPage => String::new(),
        BlockKind::End(text) => text.clone(),
    };
    text + "\n"
}

fn cells(table: &Table) -> String {
    let rows = std::iter::once(&table.head).chain(&table.rows);
    let rows = rows.map(|row| row.iter().map(|cell| words(cell) + " | ").collect::<String>() + "\n");
    format!("{}\n{}", words(&table.caption), rows.collect::<String>())
}

/// Words without their dress; a reference is what it leads to.
fn words(text: &[Inline]) -> String {
    let word = |run: &Inline| match run {
        Inline::Text(words) | Inline::Code(words) => words.clone(),
        Inline::Strong(inner) | Inline::Emphasis(inner) => words(inner),
        Inline::Link { target, .. } => format!("#{target}"),
        Inline::Break => "\n".to_owned(),
        Inline::Tick(tick) => tick.sign().to_owned(),
        Inline::Blank(blank) => blank.sign().to_owned(),
    };
    text.iter().map(word).collect()
}
