//! Laid pages as the checks read them.

use std::borrow::Cow;
use std::collections::BTreeMap;

use perpend::document::block::{BlockKind, Document};
use perpend::render::{Laid, Placed, What};

/// The pages of a paper, and the paper.
#[derive(Clone)]
pub(super) struct Sheets<'d> {
    pub(super) document: Cow<'d, Document>,
    pub(super) paper: (f64, f64),
    pub(super) pages: usize,
    pub(super) marks: Vec<Placed>,
}

/// A line of words of one part of a block.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) page: usize,
    pub(super) y: f64,
    pub(super) size: f64,
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) text: String,
}

impl Line {
    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Characters, without the space at its end.
    pub(super) fn length(&self) -> usize {
        self.text.trim_end().chars().count()
    }
}

impl<'d> Sheets<'d> {
    pub(super) fn of(document: &'d Document, laid: &Laid) -> Self {
        Self {
            document: Cow::Borrowed(document),
            paper: laid.paper(),
            pages: laid.pages(),
            marks: laid.placed(),
        }
    }

    pub(super) fn kinds(&self) -> BTreeMap<&str, &BlockKind> {
        self.document.blocks.iter().map(|block| (block.id.as_str(), &block.kind)).collect()
    }

    /// The words that belong to blocks, in reading order.
    pub(super) fn content(&self) -> impl Iterator<Item = (&Placed, &str, &str)> {
        self.marks.iter().filter_map(|mark| Some((mark, mark.block.as_deref()?, words(mark)?)))
    }

    /// The lines of every part of every block, cut into stretches where a page or a column ends.
    pub(super) fn stretches(&self) -> BTreeMap<(&str, &str), Vec<Vec<Line>>> {
        let mut found: BTreeMap<(&str, &str), Vec<Vec<Line>>> = BTreeMap::new();
        for (mark, block, text) in self.content() {
            let stretches = found.entry((block, mark.part.as_str())).or_default();
            let (left, right) = (mark.left, mark.left + mark.width);
            let line =
                Line { page: mark.page, y: mark.y, size: mark.height, left, right, text: text.to_owned() };
            match stretches.last_mut().and_then(|stretch| stretch.last_mut()) {
                Some(last) if last.page == line.page && (last.y - line.y).abs() < 0.5 => {
                    last.text.push_str(text);
                    last.size = last.size.max(line.size);
                    (last.left, last.right) = (last.left.min(left), last.right.max(right));
                }
                Some(last) if last.page == line.page && last.y > line.y => {
                    stretches.last_mut().unwrap().push(line);
                }
                _ => stretches.push(vec![line]),
            }
        }
        found
    }
}

pub(super) fn words(mark: &Placed) -> Option<&str> {
    if let What::Words { text, .. } = &mark.what { Some(text) } else { None }
}
