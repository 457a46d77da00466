//! Numbers and references: empty articles drop out, the rest is numbered `PART 1`, `1.1`, `A.`, `1.`, `a.`, `1)`, and
//! references are turned into number and title.

use std::collections::BTreeMap;

use super::block::{Block, BlockKind, Inline, plain};
use super::inline::change_links;

/// Whether headings carry numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Numbers {
    /// Parts and articles.
    Parts,
    /// No heading; paragraphs `1`, `2` and so on below each.
    Steps,
    /// None.
    None,
}

/// Drops headings with nothing below them.
pub(super) fn drop_empty(blocks: Vec<Block>) -> Vec<Block> {
    let mut kept: Vec<Block> = Vec::new();
    for block in blocks.into_iter().rev() {
        if let BlockKind::Heading { level, .. } = block.kind {
            let mut below = kept.iter().rev().map(|next| &next.kind);
            let empty = match below.find(|kind| **kind != BlockKind::NewPage) {
                None | Some(BlockKind::End(_)) => true,
                Some(BlockKind::Heading { level: next, .. }) => *next <= level,
                Some(_) => false,
            };
            if empty {
                continue;
            }
        }
        kept.push(block);
    }
    kept.reverse();
    kept
}

/// Writes numbers and labels into the blocks.
pub(super) fn number(blocks: &mut [Block], numbers: Numbers, part_word: &str) {
    let mut headings = [0_usize; 3];
    let mut items = [0_usize; 4];
    for block in blocks {
        match &mut block.kind {
            BlockKind::Heading { level, number, .. } => {
                items = [0; 4];
                count(&mut headings, usize::from(*level));
                let [part, article, _] = headings;
                *number = match (numbers, level) {
                    (Numbers::Parts, 1) => Some(format!("{part_word} {part}")),
                    (Numbers::Parts, 2) => Some(format!("{part}.{article}")),
                    _ => None,
                };
            }
            BlockKind::Item { depth, label, .. } => {
                let count = count(&mut items, usize::from(*depth));
                *label = match depth {
                    1 if numbers == Numbers::Steps => count.to_string(),
                    1 => format!("{}.", letters(count, b'A')),
                    2 => format!("{count}."),
                    3 => format!("{}.", letters(count, b'a')),
                    _ => format!("{count})"),
                };
            }
            _ => {}
        }
    }
}

/// Counts one more at a level and starts the deeper levels again.
fn count(levels: &mut [usize], level: usize) -> usize {
    let mut now = 0;
    for (index, counter) in levels.iter_mut().enumerate() {
        if index + 1 == level {
            *counter += 1;
            now = *counter;
        } else if index + 1 > level {
            *counter = 0;
        }
    }
    now
}

/// 1 is `A`, 26 is `Z`, 27 is `AA`, 28 is `BB`: as word processors count on, so that their numbers are ours.
fn letters(count: usize, first: u8) -> String {
    let before = count.saturating_sub(1);
    let letter = char::from(first + u8::try_from(before % 26).unwrap_or(0));
    std::iter::repeat_n(letter, before / 26 + 1).collect()
}

/// Where a block stands, by its id.
#[derive(Debug, Default)]
pub(super) struct Places(BTreeMap<String, Standing>);

/// The numbers that lead to a block.
#[derive(Debug, Clone, Default)]
pub(super) struct Standing {
    /// `3.2`, if the document numbers.
    pub(super) article: Option<String>,
    /// `Removal`.
    pub(super) title: String,
    /// `B`, for a numbered paragraph of the first level.
    pub(super) paragraph: Option<String>,
    /// Which block of the document it is.
    pub(super) order: usize,
}

impl Places {
    pub(super) fn of(blocks: &[Block]) -> Self {
        let mut found = BTreeMap::new();
        let mut now = Standing::default();
        for (order, block) in blocks.iter().enumerate() {
            now.order = order;
            let mut here = now.clone();
            match &block.kind {
                BlockKind::Heading { level, number, text } if *level <= 2 => {
                    now = Standing { article: number.clone(), title: plain(text), paragraph: None, order };
                    here = now.clone();
                }
                BlockKind::Item { depth: 1, label, .. } => {
                    now.paragraph = Some(label.trim_end_matches('.').to_owned());
                    here.paragraph.clone_from(&now.paragraph);
                }
                _ => {}
            }
            found.insert(block.id.clone(), here);
        }
        Self(found)
    }

    /// The id and standing of what a name means: a block, a clause or an article.
    pub(super) fn find(&self, name: &str) -> Option<(&str, &Standing)> {
        [name.to_owned(), format!("{name}.1"), format!("article-{name}")]
            .iter()
            .find_map(|id| self.0.get_key_value(id.as_str()))
            .map(|(id, standing)| (id.as_str(), standing))
    }
}

/// How a reference is worded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Length {
    /// `article 3.2, paragraph B, Wash pressure`
    Full,
    /// `3.2 B Wash pressure`
    Short,
}

/// Turns every reference of the blocks into what `word` makes of its target's standing, in short for a target written
/// `=name`; a target that is not there leaves the words alone and is told to `missing` with the id of the block.
pub(super) fn refer(
    blocks: &mut [Block],
    word: &impl Fn(&str, &Standing, Length) -> Option<String>,
    missing: &mut impl FnMut(&str, &str),
) {
    let places = Places::of(blocks);
    for block in blocks {
        let id = block.id.clone();
        let mut change = |written: String, text: Vec<Inline>| {
            let (target, length) = match written.strip_prefix('=') {
                Some(target) => (target, Length::Short),
                None => (written.as_str(), Length::Full),
            };
            let Some((found, standing)) = places.find(target) else {
                missing(&id, target);
                return text;
            };
            let text = word(target, standing, length).map_or(text, |words| vec![Inline::Text(words)]);
            vec![Inline::Link { target: found.to_owned(), text }]
        };
        for text in texts(&mut block.kind) {
            *text = change_links(std::mem::take(text), &mut change);
        }
    }
}

/// Every run of words in a block.
fn texts(kind: &mut BlockKind) -> Vec<&mut Vec<Inline>> {
    match kind {
        BlockKind::Heading { text, .. }
        | BlockKind::Item { text, .. }
        | BlockKind::Bullet { text, .. }
        | BlockKind::Paragraph(text) => vec![text],
        BlockKind::Caution { text, .. } => text.iter_mut().collect(),
        BlockKind::Proof(lines) => lines.iter_mut().map(|line| &mut line.text).collect(),
        BlockKind::Table(table) => {
            let cells = table.head.iter_mut().chain(table.rows.iter_mut().flatten());
            std::iter::once(&mut table.caption).chain(cells).collect()
        }
        BlockKind::Figure(_) | BlockKind::NewPage | BlockKind::End(_) => Vec::new(),
    }
}
