//! Blocks to rows: walks a document once and gathers what is wrong with it.

use std::collections::{BTreeMap, BTreeSet};

use super::breaking::Room;
use super::flow::{Bar, Flow, Row, Span, sliced};
use super::font::{Face, Shaper};
use super::hyphen::Hyphens;
use super::laid::{About, Laid, Mark, Owner, Part, Ruling, Sort};
use super::line::{Line, lines};
use super::mistake::Mistake;
use super::rail::Rail;
use super::table::{Prepared, Width};
use super::tokens::{CAPITAL, Fit, Pt, SHEET, Tokens, Type};
use super::words::{Links, Words};
use super::{blank, furniture, paginate};
use crate::diagnostic::nearest;
use crate::document::block::{Block, BlockKind, Document, Voice};

/// Names given to what stands before the first block.
pub(crate) const TITLE_NAME: &str = "/title";
/// The title block.
pub(crate) const FIELDS_NAME: &str = "/title-block";
/// The contents.
pub(crate) const CONTENTS_NAME: &str = "/contents";
/// Number of the title among the names.
pub(crate) const TITLE: u32 = 0;
/// Number of the title block among the names.
pub(crate) const FIELDS: u32 = 1;
/// Number of the contents among the names.
pub(crate) const CONTENTS: u32 = 2;
/// Number of the first block among the names.
pub(crate) const FIRST: u32 = 3;

/// A heading as met, before it has a page.
pub(crate) struct Met {
    /// The block.
    pub(crate) block: u32,
    /// 1 to 3.
    pub(crate) level: u8,
    /// Number and words.
    pub(crate) title: String,
}

/// What setting a document needs and gathers.
pub(crate) struct Setter<'a> {
    pub(crate) document: &'a Document,
    pub(crate) tokens: Tokens,
    pub(crate) shaper: Shaper,
    pub(crate) links: Links,
    pub(crate) flow: Flow,
    pub(crate) headings: Vec<Met>,
    pub(crate) mistakes: Vec<Mistake>,
    /// What stands for each figure, by the number of its block.
    pub(crate) alternatives: BTreeMap<u32, String>,
    /// Tables that stand beside others and are not set yet, with the width they share.
    pub(crate) tables: BTreeMap<u32, (Width, Prepared)>,
    /// Span of the block after the one being set, as far as it never depends on its words.
    pub(crate) ahead: Span,
    /// The numbered paragraph of the first level that was set last.
    pub(crate) last_item: Option<u32>,
    /// A proof that reaches further down than the text beside it.
    pub(crate) rail: Option<Rail>,
    /// Blocks that stand from margin to margin.
    pub(crate) across: BTreeSet<u32>,
    /// How tables were divided.
    pub(crate) rulings: BTreeMap<u32, Ruling>,
    /// The segment that contents would stand before.
    pub(crate) contents_at: Option<usize>,
}

/// A document on pages, and what is wrong with it.
pub(crate) struct Set {
    pub(crate) laid: Laid,
    pub(crate) mistakes: Vec<Mistake>,
}

/// Sets a document; one in the plain voice a step smaller if that brings it back to one sheet or saves a page.
pub(crate) fn compose(document: &Document) -> Set {
    let roomy = fitted(document, Fit::Roomy);
    if document.style.voice != Voice::Plain || roomy.laid.pages.len() <= SHEET {
        return roomy;
    }
    let close = fitted(document, Fit::Close);
    if close.laid.pages.len() < roomy.laid.pages.len() { close } else { roomy }
}

fn fitted(document: &Document, fit: Fit) -> Set {
    let mut setter = Setter::new(document, fit);
    let (names, sorts) = (setter.names(), sorts(document));
    let date = setter.date();
    setter.check_fonts();
    setter.front();
    setter.blocks();
    let contents = setter.contents();
    setter.check_links(&names);
    setter.flow.bind_heads();
    let flow = std::mem::take(&mut setter.flow);
    let mut paged = paginate::paginate(flow, &setter.tokens, setter.body_top());
    setter.number_contents(&contents, &mut paged);
    furniture::furnish(&mut setter, &mut paged.pages);
    let about = About {
        name: document.name.clone(),
        title: document.title.clone(),
        subject: document.subtitle.clone(),
        language: document.language.clone(),
        date,
    };
    let anchors: BTreeMap<_, _> = paged
        .anchors
        .iter()
        .filter_map(|(block, spot)| Some((names.get(usize::try_from(*block).ok()?)?.clone(), *spot)))
        .collect();
    let outline = setter
        .headings
        .into_iter()
        .filter_map(|met| {
            let spot = *paged.anchors.get(&met.block)?;
            Some(super::laid::Entry { level: met.level, title: met.title, spot })
        })
        .collect();
    let paper = (setter.tokens.width, setter.tokens.height);
    let (links, alternatives) = (setter.links.0, setter.alternatives);
    let (tokens, across, rulings) = (setter.tokens, setter.across, setter.rulings);
    let pages = paged.pages;
    let laid = Laid {
        about,
        paper,
        pages,
        names,
        sorts,
        links,
        anchors,
        outline,
        alternatives,
        tokens,
        across,
        rulings,
        has_contents: !contents.is_empty(),
    };
    Set { laid, mistakes: setter.mistakes }
}

impl<'a> Setter<'a> {
    fn new(document: &'a Document, fit: Fit) -> Self {
        Self {
            document,
            tokens: Tokens::of(document.style, fit),
            shaper: Shaper::new(),
            links: Links::default(),
            flow: Flow::default(),
            headings: Vec::new(),
            mistakes: Vec::new(),
            alternatives: BTreeMap::new(),
            tables: BTreeMap::new(),
            ahead: Span::Columns,
            last_item: None,
            rail: None,
            across: BTreeSet::new(),
            rulings: BTreeMap::new(),
            contents_at: None,
        }
    }

    /// The names of everything that can own text.
    fn names(&mut self) -> Vec<String> {
        let mut names = [TITLE_NAME, FIELDS_NAME, CONTENTS_NAME].map(str::to_owned).to_vec();
        let mut seen = BTreeMap::new();
        for block in &self.document.blocks {
            let count = seen.entry(block.id.as_str()).or_insert(0);
            *count += 1;
            if *count == 2 {
                let document = self.document.name.clone();
                self.mistakes.push(Mistake::SameId { block: block.id.clone(), document });
            }
            names.push(block.id.clone());
        }
        names
    }

    fn date(&mut self) -> (i16, i8, i8) {
        let text = self.document.date.as_str();
        let date = Some(text)
            .filter(|text| text.len() == 10)
            .and_then(|text| text.parse::<jiff::civil::Date>().ok());
        if let Some(date) = date {
            return (date.year(), date.month(), date.day());
        }
        self.mistakes.push(Mistake::BadDate { date: text.to_owned(), document: self.document.name.clone() });
        (0, 0, 0)
    }

    fn check_fonts(&mut self) {
        let broken = Face::ALL.iter().filter(|face| face.font().is_none());
        self.mistakes.extend(broken.map(|face| Mistake::BrokenFont { font: face.name() }));
    }

    fn blocks(&mut self) {
        let document = self.document;
        self.tables = self.tables_beside();
        let mut blocks = (FIRST..).zip(&document.blocks).peekable();
        while let Some((number, block)) = blocks.next() {
            if !matches!(block.kind, BlockKind::Table(_)) {
                self.end_rail();
            }
            if matches!(block.kind, BlockKind::Heading { .. }) {
                self.mark_contents();
            }
            let run_in = blocks.peek().filter(|(_, next)| runs_in(block, next)).copied();
            if let Some((next, paragraph)) = run_in {
                self.run_in((number, block), (next, paragraph));
                blocks.next();
            } else {
                let next = blocks.peek().map(|(_, next)| &next.kind);
                let is_caution = matches!(next, Some(BlockKind::Caution { .. }));
                self.ahead = if is_caution { Span::Full } else { Span::Columns };
                self.block(number, block);
                let behind = usize::try_from(number - FIRST).unwrap_or(usize::MAX).saturating_add(1);
                let behind = document.blocks.get(behind..).unwrap_or_default();
                // In one of several columns it would be torn from its own lines.
                if self.tokens.is_one_column() && announces_table(block, behind) {
                    self.flow.bind_from(number);
                }
            }
            self.report(&format!("block `{}`", block.id));
        }
        self.end_rail();
    }

    /// Tables that follow each other without a word between, cut into atoms, with the width they share.
    fn tables_beside(&mut self) -> BTreeMap<u32, (Width, Prepared)> {
        let mut beside = BTreeMap::new();
        let mut number = FIRST;
        let is_table = |block: &Block| matches!(block.kind, BlockKind::Table(_));
        for run in self.document.blocks.chunk_by(|before, after| is_table(before) && is_table(after)) {
            let numbered = (number..).zip(run).filter(|_| run.len() > 1);
            let tables = numbered.filter_map(|(number, block)| match &block.kind {
                BlockKind::Table(table) => Some((number, self.prepare(number, table))),
                _ => None,
            });
            let (numbers, prepared): (Vec<u32>, Vec<Prepared>) = tables.unzip();
            let width = self.width_of_run(&prepared);
            beside.extend(numbers.into_iter().zip(prepared.into_iter().map(|table| (width, table))));
            number += u32::try_from(run.len()).unwrap_or_default();
        }
        self.shaper.take_missing();
        beside
    }

    fn block(&mut self, number: u32, block: &Block) {
        match &block.kind {
            BlockKind::Heading { level, number: label, text } => {
                self.heading(number, *level, label.as_deref(), text);
            }
            BlockKind::Item { depth, label, text } => self.item(number, *depth, label, text),
            BlockKind::Proof(lines) => self.proof(number, lines),
            BlockKind::Bullet { depth, text } => self.bullet(number, *depth, text),
            BlockKind::Paragraph(text) => self.paragraph(number, text),
            BlockKind::Caution { word, text } => self.caution(number, word, text),
            BlockKind::Table(table) => self.table(number, &block.id, table),
            BlockKind::Figure(drawing) => self.figure(number, drawing),
            BlockKind::NewPage => self.flow.start_page(),
            BlockKind::End(text) => self.end(number, text),
        }
    }

    /// Turns what the shaper missed into mistakes.
    pub(crate) fn report(&mut self, place: &str) {
        for missing in self.shaper.take_missing() {
            let mistake =
                Mistake::MissingSign { sign: missing.sign, word: missing.word, place: place.to_owned() };
            if !self.mistakes.contains(&mistake) {
                self.mistakes.push(mistake);
            }
        }
    }

    fn check_links(&mut self, names: &[String]) {
        let lost = self.links.0.iter().filter(|target| !names.contains(target));
        for target in lost {
            let ids = self.document.blocks.iter();
            let block = ids.clone().find(|block| links_to(block, target)).map_or("", |block| &block.id);
            self.mistakes.push(Mistake::LostLink {
                block: block.to_owned(),
                target: target.clone(),
                document: self.document.name.clone(),
                nearest: nearest(target, ids.map(|block| block.id.as_str())).map(str::to_owned),
            });
        }
    }

    /// Adds rows of a block, with the space over it and its anchor on the first.
    pub(crate) fn push(&mut self, span: Span, before: Pt, block: u32, rows: Vec<Row>) {
        if span == Span::Full {
            self.across.insert(block);
        }
        let page = self.body_height();
        let head = |row: &Row| {
            row.table.and_then(|table| self.flow.heads.get(table.head)).map_or(0.0, |head| head.height)
        };
        let mut rows: Vec<Row> = rows
            .into_iter()
            .flat_map(|row| {
                let highest = page - head(&row);
                sliced(row, highest)
            })
            .collect();
        if self.is_revised(block) {
            for row in &mut rows {
                row.bar = Bar::Beside;
            }
        }
        if let Some(first) = rows.first_mut() {
            first.before = before;
            first.anchors.push(block);
            self.flow.push(span, rows);
        }
    }

    /// Whether the words of a block are new since the issue before.
    fn is_revised(&self, block: u32) -> bool {
        let at = block.checked_sub(FIRST).and_then(|at| usize::try_from(at).ok());
        let block = at.and_then(|at| self.document.blocks.get(at));
        block.is_some_and(|block| self.document.revised.contains(&block.id))
    }

    /// Lines of words that start at one place and never part a word.
    pub(crate) fn lines(&mut self, words: &Words, width: Pt) -> Vec<Line> {
        lines(words, Room { first: width, rest: width }, Hyphens::Never, &mut self.shaper)
    }

    /// Height of the text area of a page.
    pub(crate) fn body_height(&self) -> Pt {
        self.tokens.height - self.body_top() - super::tokens::MARGIN_BOTTOM
    }

    /// Distance from the top of the paper to the text.
    pub(crate) fn body_top(&self) -> Pt {
        let strip = self.document.furniture.status_strip.as_ref().map_or(0.0, |_| super::tokens::STRIP_ROOM);
        super::tokens::MARGIN_TOP + strip
    }
}

/// What each block is, title and title block first. A heading stands one level under the one it belongs to, whatever
/// levels the document leaves out.
fn sorts(document: &Document) -> Vec<Sort> {
    let mut levels: Vec<u8> = Vec::new();
    let mut sort = |kind: &BlockKind| match kind {
        BlockKind::Heading { level, .. } => {
            levels.retain(|over| over < level);
            levels.push(*level);
            Sort::Heading(u8::try_from(levels.len() + 1).unwrap_or(u8::MAX))
        }
        BlockKind::Item { depth, .. } => Sort::Item(*depth),
        BlockKind::Bullet { depth, .. } => Sort::Point(*depth),
        BlockKind::Proof(lines) => Sort::Proof(u32::try_from(lines.len()).unwrap_or(u32::MAX)),
        BlockKind::Paragraph(_) | BlockKind::End(_) => Sort::Paragraph,
        BlockKind::Caution { .. } => Sort::Caution,
        BlockKind::Table(table) => {
            let count = |list: usize| u32::try_from(list).unwrap_or(u32::MAX);
            Sort::Table(count(table.rows.len()), count(table.head.len()))
        }
        BlockKind::Figure(_) => Sort::Figure,
        BlockKind::NewPage => Sort::Silent,
    };
    let blocks = document.blocks.iter().map(|block| sort(&block.kind)).collect::<Vec<_>>();
    [Sort::Title, Sort::Fields, Sort::Contents].into_iter().chain(blocks).collect()
}

/// Whether a paragraph, numbered or not, stands before a table, or before a form: one paragraph more at most, then a
/// table to write in.
pub(crate) fn announces_table(block: &Block, behind: &[Block]) -> bool {
    matches!(block.kind, BlockKind::Paragraph(_) | BlockKind::Item { .. }) && opens_table(behind)
}

fn opens_table(blocks: &[Block]) -> bool {
    let form = |block: &Block| matches!(&block.kind, BlockKind::Table(table) if table.is_form());
    match blocks {
        [next, ..] if matches!(next.kind, BlockKind::Table(_)) => true,
        [next, after, ..] => matches!(next.kind, BlockKind::Paragraph(_)) && form(after),
        _ => false,
    }
}

/// Whether a run-in head has a paragraph to run into.
fn runs_in(block: &Block, next: &Block) -> bool {
    matches!(block.kind, BlockKind::Heading { level: 3, .. }) && matches!(next.kind, BlockKind::Paragraph(_))
}

/// Whether a block holds a link to a target.
fn links_to(block: &Block, target: &str) -> bool {
    use crate::document::block::Inline;
    fn any(runs: &[Inline], wanted: &str) -> bool {
        runs.iter().any(|run| match run {
            Inline::Link { target, text } => target == wanted || any(text, wanted),
            Inline::Strong(inner) | Inline::Emphasis(inner) => any(inner, wanted),
            Inline::Text(_) | Inline::Code(_) | Inline::Break | Inline::Tick(_) | Inline::Blank(_) => false,
        })
    }
    match &block.kind {
        BlockKind::Heading { text, .. } | BlockKind::Item { text, .. } | BlockKind::Bullet { text, .. } => {
            any(text, target)
        }
        BlockKind::Paragraph(text) => any(text, target),
        BlockKind::Caution { text, .. } => text.iter().any(|text| any(text, target)),
        BlockKind::Proof(lines) => lines.iter().any(|line| any(&line.text, target)),
        BlockKind::Table(table) => {
            any(&table.caption, target)
                || table.head.iter().chain(table.rows.iter().flatten()).any(|cell| any(cell, target))
        }
        BlockKind::Figure(_) | BlockKind::NewPage | BlockKind::End(_) => false,
    }
}

/// Baseline of a line of text, from the top of its leading.
pub(crate) fn baseline(kind: Type) -> Pt {
    kind.leading.midpoint(CAPITAL * kind.size)
}

/// The marks of a line that starts at `x` on a baseline, which counts down.
pub(crate) fn marks(line: Line, x: Pt, y: Pt) -> impl Iterator<Item = Mark> {
    line.runs.into_iter().filter_map(move |run| match run.drawn {
        Some(drawn) => blank::drawn(drawn, (x + run.x, y), run.look),
        None => Some(Mark::Text { x: x + run.x, y, run }),
    })
}

/// A part of a block as an owner.
pub(crate) fn owner(block: u32, part: Part) -> Owner {
    Owner::Content(block, part)
}
