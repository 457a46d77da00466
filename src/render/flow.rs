//! What composing hands to paging: rows of marks, stacked, with what must stay together.

use super::laid::Mark;
use super::tokens::Pt;

/// Whether a page may end behind a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keep {
    /// It may.
    Free,
    /// The next row stays on the same page.
    WithNext,
}

/// What a row is to the rows around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// A heading: two rows must follow on the page.
    Head,
    /// Anything else.
    Body,
}

/// Whether a bar stands beside a row, at the outer edge of the page, since its words are new.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Bar {
    /// It does.
    Beside,
    /// It does not.
    None,
}

/// A row of a table, which brings the head along when it opens a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct InTable {
    /// The head, by its place in [`Flow::heads`].
    pub(crate) head: usize,
}

/// The smallest thing that goes on a page whole. Its marks count from its upper left corner, down.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// Space over it, left out at the top of a page.
    pub(crate) before: Pt,
    /// Height.
    pub(crate) height: Pt,
    /// What is painted.
    pub(crate) marks: Vec<Mark>,
    /// Whether a page may end behind it.
    pub(crate) keep: Keep,
    /// Heading or not.
    pub(crate) role: Role,
    /// The table whose head comes before it at the top of a page.
    pub(crate) table: Option<InTable>,
    /// Blocks that start here.
    pub(crate) anchors: Vec<u32>,
    /// What stands beside it in the rail.
    pub(crate) beside: Option<Beside>,
    /// Whether its words are new.
    pub(crate) bar: Bar,
}

/// What stands in the rail beside a row. It is painted, and read, behind all rows of its block.
#[derive(Debug, Clone)]
pub(crate) struct Beside {
    /// The block it belongs to.
    pub(crate) block: u32,
    /// What is painted.
    pub(crate) marks: Vec<Mark>,
    /// How far it reaches under the row.
    pub(crate) under: Pt,
}

impl Row {
    /// A row of body text.
    pub(crate) fn new(height: Pt, marks: Vec<Mark>) -> Self {
        Self {
            before: 0.0,
            height,
            marks,
            keep: Keep::Free,
            role: Role::Body,
            table: None,
            anchors: Vec::new(),
            beside: None,
            bar: Bar::None,
        }
    }
}

/// The head of a table, as repeated at the top of a page.
#[derive(Debug, Clone)]
pub(crate) struct RepeatedHead {
    /// Height.
    pub(crate) height: Pt,
    /// What is painted.
    pub(crate) marks: Vec<Mark>,
}

/// The width rows are set to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Span {
    /// The text columns.
    Columns,
    /// Margin to margin.
    Full,
}

/// Rows of one span.
#[derive(Debug, Clone)]
pub(crate) struct Segment {
    /// Their span.
    pub(crate) span: Span,
    /// Where they start.
    pub(crate) start: Start,
    /// The rows.
    pub(crate) rows: Vec<Row>,
}

/// Where rows start.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Start {
    /// Behind what stands before them.
    #[default]
    Behind,
    /// On a page of their own.
    NewPage,
}

/// Everything to be put on pages.
#[derive(Debug, Clone, Default)]
pub(crate) struct Flow {
    /// Rows in order.
    pub(crate) segments: Vec<Segment>,
    /// Heads to repeat.
    pub(crate) heads: Vec<RepeatedHead>,
    /// Where the next rows start.
    next: Start,
    /// Whether the next rows open a segment, whatever their span.
    apart: bool,
}

impl Flow {
    /// Adds rows. Those that must stay with rows of another span move over to them.
    pub(crate) fn push(&mut self, span: Span, mut rows: Vec<Row>) {
        let start = std::mem::take(&mut self.next);
        let is_apart = std::mem::take(&mut self.apart) || start == Start::NewPage;
        match self.segments.last_mut() {
            _ if is_apart => self.segments.push(Segment { span, start, rows }),
            Some(last) if last.span == span => last.rows.append(&mut rows),
            Some(last) if span == Span::Full => {
                let kept = last.rows.iter().rev().take_while(|row| row.keep == Keep::WithNext).count();
                let mut moved = last.rows.split_off(last.rows.len() - kept);
                moved.append(&mut rows);
                let (emptied, opened) = (last.rows.is_empty(), last.start);
                let start = if emptied { opened } else { start };
                // What is left empty would part the moved rows from those before it.
                self.segments.pop_if(|_| emptied);
                match self.segments.last_mut().filter(|last| last.span == span && start == Start::Behind) {
                    Some(last) => last.rows.append(&mut moved),
                    None => self.segments.push(Segment { span, start, rows: moved }),
                }
            }
            _ => self.segments.push(Segment { span, start, rows }),
        }
    }

    /// Ends the page; what comes next starts on a new one.
    pub(crate) fn start_page(&mut self) {
        if let Some(row) = self.segments.last_mut().and_then(|segment| segment.rows.last_mut()) {
            row.keep = Keep::Free;
            self.next = Start::NewPage;
        }
    }

    /// Lets the next rows open a segment, and says which.
    pub(crate) fn part(&mut self) -> usize {
        self.apart = true;
        self.segments.len()
    }

    /// Height of all that was pushed, in one column.
    pub(crate) fn height(&self) -> Pt {
        self.segments.iter().flat_map(|segment| &segment.rows).map(|row| row.before + row.height).sum()
    }

    /// Whether the last row is a heading.
    pub(crate) fn ends_with_head(&self) -> bool {
        let last = self.segments.last().and_then(|segment| segment.rows.last());
        last.is_some_and(|row| row.role == Role::Head)
    }

    /// Keeps all rows from the first of a block together, and with whatever comes next, if they are few.
    pub(crate) fn bind_from(&mut self, block: u32) {
        const FEW: usize = 8;
        let rows = self.segments.last_mut().map_or(&mut [][..], |segment| segment.rows.as_mut_slice());
        let from = rows.iter().rposition(|row| row.anchors.contains(&block)).unwrap_or(rows.len());
        let rows = rows.get_mut(from..).unwrap_or_default();
        let whole = if rows.len() <= FEW { rows.len() } else { 1 };
        for row in rows.iter_mut().rev().take(whole) {
            row.keep = Keep::WithNext;
        }
    }

    /// Keeps the last row together with whatever comes next.
    pub(crate) fn bind(&mut self) {
        if let Some(row) = self.segments.last_mut().and_then(|segment| segment.rows.last_mut()) {
            row.keep = Keep::WithNext;
        }
    }

    /// Binds each heading to the two rows that follow it.
    pub(crate) fn bind_heads(&mut self) {
        for segment in &mut self.segments {
            let heads: Vec<bool> = segment.rows.iter().map(|row| row.role == Role::Head).collect();
            for (row, was_head) in segment.rows.iter_mut().skip(1).zip(heads) {
                if was_head && row.role == Role::Body {
                    row.keep = Keep::WithNext;
                }
            }
            if let Some(last) = segment.rows.last_mut().filter(|row| row.role == Role::Body) {
                last.keep = Keep::Free;
            }
        }
    }
}

/// Forbids page ends behind the first and before the last line of a paragraph.
pub(crate) fn guard_ends(rows: &mut [Row]) {
    let lines = rows.len();
    for (at, row) in rows.iter_mut().enumerate() {
        if (at == 0 && lines > 1) || at + 2 == lines {
            row.keep = Keep::WithNext;
        }
    }
}

/// Share of the distance between two baselines that lies under the upper one when a row is cut there.
const UNDER: f64 = 0.3;

/// A row, cut between its lines if no page can hold it.
pub(crate) fn sliced(row: Row, highest: Pt) -> Vec<Row> {
    if row.height <= highest {
        return vec![row];
    }
    let mut baselines: Vec<Pt> = row
        .marks
        .iter()
        .filter_map(|mark| if let Mark::Text { y, .. } = mark { Some(*y) } else { None })
        .collect();
    baselines.sort_by(Pt::total_cmp);
    let gaps = baselines.iter().zip(baselines.iter().skip(1)).filter(|(upper, lower)| *lower - *upper > 1.0);
    let mut ends: Vec<Pt> = gaps.map(|(upper, lower)| upper + UNDER * (lower - upper)).collect();
    ends.push(row.height);
    let (before, keep, role, table) = (row.before, row.keep, row.role, row.table);
    let (mut start, mut left) = (0.0, row.marks);
    let mut rows: Vec<Row> = Vec::new();
    for end in ends {
        let (mut marks, rest): (Vec<Mark>, Vec<Mark>) = left.into_iter().partition(|mark| mark.y() <= end);
        for mark in &mut marks {
            mark.lower(-start);
        }
        rows.push(Row { table, ..Row::new(end - start, marks) });
        (start, left) = (end, rest);
    }
    if let Some(last) = rows.last_mut() {
        (last.keep, last.role) = (keep, role);
    }
    if let Some(first) = rows.first_mut() {
        (first.before, first.anchors, first.beside) = (before, row.anchors, row.beside);
    }
    rows
}
