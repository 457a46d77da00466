//! Rows to pages: fills columns from the top, and never parts what must stay together if a page can hold it.

use std::collections::BTreeMap;

use super::flow::{Bar, Beside, Flow, Keep, RepeatedHead, Row, Segment, Span, Start};
use super::laid::{Mark, Page, Spot};
use super::tokens::{BAR_GAP, Colour, MARGIN_BOTTOM, MARGIN_SIDE, Pt, Tokens, WEIGHT_BAR};

/// Rounding that does not push a row to the next page.
const EASE: Pt = 0.01;

/// Pages with the places of their blocks.
pub(crate) struct Paged {
    /// The pages.
    pub(crate) pages: Vec<Page>,
    /// Where each block starts.
    pub(crate) anchors: BTreeMap<u32, Spot>,
}

/// Whether a column has text in it already.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fill {
    Empty,
    Begun,
}

struct Pager<'a> {
    tokens: &'a Tokens,
    heads: Vec<RepeatedHead>,
    top: Pt,
    /// Distance from the top of the paper to what is still free.
    y: Pt,
    paged: Paged,
}

/// Puts rows on pages whose text starts `top` under the edge of the paper.
pub(crate) fn paginate(flow: Flow, tokens: &Tokens, top: Pt) -> Paged {
    let paged = Paged { pages: vec![Page::default()], anchors: BTreeMap::new() };
    let mut pager = Pager { tokens, heads: flow.heads, top, y: top, paged };
    let mut segments = flow.segments.into_iter().peekable();
    while let Some(segment) = segments.next() {
        if segment.start == Start::NewPage && pager.fill() == Fill::Begun {
            pager.next_page();
        }
        let tail = segments.peek().map_or(0.0, |next| opening(&next.rows));
        pager.segment(segment, tail);
    }
    pager.paged
}

/// Height of the rows of a segment up to the first place where a page may end.
fn opening(rows: &[Row]) -> Pt {
    let kept = rows.iter().take_while(|row| row.keep == Keep::WithNext).count();
    rows.iter().take(kept + 1).map(|row| row.before + row.height).sum()
}

impl Pager<'_> {
    fn bottom(&self) -> Pt {
        self.tokens.height - MARGIN_BOTTOM
    }

    fn fill(&self) -> Fill {
        if self.y > self.top { Fill::Begun } else { Fill::Empty }
    }

    fn segment(&mut self, segment: Segment, tail: Pt) {
        let columns = match segment.span {
            Span::Columns => self.tokens.columns.clone(),
            Span::Full => vec![MARGIN_SIDE],
        };
        // What the last row is kept with opens the next segment.
        let is_open = segment.rows.last().is_some_and(|row| row.keep == Keep::WithNext);
        let tail = if is_open { tail } else { 0.0 };
        let mut rows = segment.rows;
        while !rows.is_empty() {
            let over = match self.fill() {
                Fill::Begun => rows.first().map_or(0.0, |row| row.before),
                Fill::Empty => 0.0,
            };
            let begun = self.y + over;
            let height = self.level(&rows, columns.len(), self.bottom() - begun, tail);
            let mut lowest = self.y;
            let mut taken = 0;
            for x in &columns {
                let count = self.take(&rows, height, self.fill(), tail);
                let rest = rows.split_off(count);
                lowest = lowest.max(self.place(rows, *x, begun));
                taken += count;
                rows = rest;
            }
            self.y = lowest;
            if !rows.is_empty() || taken == 0 {
                self.next_page();
            }
        }
    }

    fn next_page(&mut self) {
        self.paged.pages.push(Page::default());
        self.y = self.top;
    }

    /// The height to fill columns to: all there is, or the least that holds everything side by side.
    fn level(&self, rows: &[Row], columns: usize, room: Pt, tail: Pt) -> Pt {
        if columns < 2 || !self.holds(rows, columns, room, tail) {
            return room;
        }
        let (mut short, mut enough) = (0.0, room);
        while enough - short > 1.0 {
            let middle = f64::midpoint(short, enough);
            if self.holds(rows, columns, middle, tail) {
                enough = middle;
            } else {
                short = middle;
            }
        }
        enough
    }

    fn holds(&self, rows: &[Row], columns: usize, height: Pt, tail: Pt) -> bool {
        let mut rest = rows;
        for _ in 0..columns {
            let count = self.take(rest, height, Fill::Begun, tail);
            rest = rest.get(count..).unwrap_or_default();
        }
        rest.is_empty()
    }

    /// How many rows go into a column of this height.
    fn take(&self, rows: &[Row], height: Pt, fill: Fill, tail: Pt) -> usize {
        let mut used = rows.first().map_or(0.0, |row| self.repeated(row).map_or(0.0, |head| head.height));
        let mut fitting = 0;
        for (at, row) in rows.iter().enumerate() {
            let before = if at == 0 { 0.0 } else { row.before };
            let behind = if at + 1 == rows.len() { tail } else { 0.0 };
            let behind = row.beside.as_ref().map_or(behind, |beside| beside.under.max(behind));
            if used + before + row.height + behind > height + EASE {
                return match fill {
                    Fill::Empty if fitting == 0 => at.max(1),
                    Fill::Empty | Fill::Begun => fitting,
                };
            }
            used += before + row.height;
            if row.keep == Keep::Free {
                fitting = at + 1;
            }
        }
        rows.len()
    }

    fn repeated(&self, row: &Row) -> Option<&RepeatedHead> {
        self.heads.get(row.table?.head)
    }

    /// Paints rows into a column from `y` down, and says how far they reach.
    fn place(&mut self, rows: Vec<Row>, x: Pt, mut y: Pt) -> Pt {
        if rows.is_empty() {
            return self.y;
        }
        let page = self.paged.pages.len() - 1;
        let paper = self.tokens.height;
        let head = rows.first().and_then(|row| self.repeated(row)).cloned();
        let Some(sheet) = self.paged.pages.last_mut() else { return y };
        let mut bars = Bars { starts: y, ..Bars::default() };
        if let Some(head) = head {
            sheet.marks.extend(head.marks.into_iter().map(|mark| mark.placed(x, paper - y)));
            y += head.height;
        }
        let mut beside: Option<Beside> = None;
        for (at, row) in rows.into_iter().enumerate() {
            if at > 0 {
                y += row.before;
                bars.starts = y;
            }
            for block in row.anchors {
                self.paged.anchors.entry(block).or_insert(Spot { page, y: paper - y });
            }
            let own = row.beside.map(|own| Beside {
                marks: own.marks.into_iter().map(|mark| mark.placed(x, paper - y)).collect(),
                ..own
            });
            match (&mut beside, own) {
                (Some(open), Some(own)) if open.block == own.block => open.marks.extend(own.marks),
                (open, own) => {
                    let ended = std::mem::replace(open, own);
                    sheet.marks.extend(ended.into_iter().flat_map(|ended| ended.marks));
                }
            }
            sheet.marks.extend(row.marks.into_iter().map(|mark| mark.placed(x, paper - y)));
            y += row.height;
            bars.see(row.bar, y);
        }
        sheet.marks.extend(beside.into_iter().flat_map(|open| open.marks));
        let outer = self.tokens.width - MARGIN_SIDE + BAR_GAP;
        sheet.marks.extend(bars.drawn(outer).map(|mark| mark.placed(0.0, paper)));
        y
    }
}

/// The bars beside rows of one column, each as long as the rows that follow each other. Heights count down.
#[derive(Default)]
struct Bars {
    /// Top of the row that is seen next.
    starts: Pt,
    /// The bar that is still open.
    open: Option<(Pt, Pt)>,
    done: Vec<(Pt, Pt)>,
}

impl Bars {
    /// A row that ends here.
    fn see(&mut self, bar: Bar, ends: Pt) {
        match (&mut self.open, bar) {
            (Some((_, bottom)), Bar::Beside) => *bottom = ends,
            (open @ None, Bar::Beside) => *open = Some((self.starts, ends)),
            (open, Bar::None) => self.done.extend(open.take()),
        }
    }

    /// Fills `x` from the left edge of the paper.
    fn drawn(self, x: Pt) -> impl Iterator<Item = Mark> {
        self.done.into_iter().chain(self.open).map(move |(top, bottom)| Mark::Fill {
            x,
            y: top,
            width: WEIGHT_BAR,
            height: bottom - top,
            colour: Colour::Accent,
        })
    }
}
