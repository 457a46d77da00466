//! The check rail: how a clause is proved, in a narrow column beside it, from its first line down. Where the clause is
//! shorter than its proof, a table in the text column goes on beside it; anything else waits below.

use std::collections::VecDeque;

use super::breaking::Room;
use super::compose::{Setter, baseline, marks, owner};
use super::flow::{Beside, Keep, Row, Span};
use super::laid::{Mark, Part};
use super::line::lines;
use super::table::small;
use super::tokens::{GUTTER, Pt, RAIL, RAIL_KEY, RAIL_KEY_TYPE, RAIL_TYPE, WHOLE_TABLE};
use super::words::Words;
use crate::document::block::{ProofLine, Voice};

/// A proof with no text beside it yet.
pub(crate) struct Rail {
    /// Its block.
    block: u32,
    /// Its lines from the top, each the marks of key and words.
    lines: VecDeque<Vec<Mark>>,
}

impl Setter<'_> {
    /// A proof: beside the last numbered paragraph where a rail is kept free, under it where none is.
    pub(crate) fn proof(&mut self, block: u32, proof: &[ProofLine]) {
        let beside = self.document.style.voice == Voice::Contract;
        let place = if beside { (-(RAIL + GUTTER), RAIL) } else { (0.0, self.tokens.measure) };
        let lines = self.rail_lines(block, proof, place);
        let mut rail = Rail { block, lines };
        if beside {
            // The first line of the rail stands on the first line of the text.
            let first = baseline(self.tokens.text) - baseline(RAIL_TYPE);
            let rows = self.flow.segments.last_mut().map(|segment| segment.rows.as_mut_slice());
            let item = self.last_item;
            let starts = |row: &Row| item.is_some_and(|item| row.anchors.contains(&item));
            if let Some(rows) = rows
                && let Some(rows) = rows.iter().rposition(starts).and_then(|from| rows.get_mut(from..))
            {
                rail.hang(rows, first);
            }
        }
        self.rail = Some(rail).filter(|rail| !rail.lines.is_empty());
        if !beside {
            self.end_rail();
        }
    }

    /// Goes on beside the last rows of the text column.
    pub(crate) fn rail_beside(&mut self, rows: usize) {
        let Some(rail) = &mut self.rail else { return };
        let Some(segment) = self.flow.segments.last_mut() else { return };
        let from = segment.rows.len().saturating_sub(rows);
        if let Some(rows) = segment.rows.get_mut(from..) {
            rail.hang(rows, 0.0);
        }
    }

    /// Gives what is left of a proof the room it needs.
    pub(crate) fn end_rail(&mut self) {
        let Some(Rail { block, lines }) = self.rail.take() else { return };
        if lines.is_empty() {
            return;
        }
        let last = lines.len() - 1;
        let is_short = small(lines.len()) * RAIL_TYPE.leading <= WHOLE_TABLE * self.body_height();
        let row = |(at, marks)| {
            let keep = if is_short && at < last { Keep::WithNext } else { Keep::Free };
            Row { keep, ..Row::new(RAIL_TYPE.leading, marks) }
        };
        let rows: Vec<Row> = lines.into_iter().enumerate().map(row).collect();
        if is_short {
            self.flow.bind();
        }
        self.push(Span::Columns, 0.0, block, rows);
    }

    fn rail_lines(&mut self, block: u32, proof: &[ProofLine], (x, width): (Pt, Pt)) -> VecDeque<Vec<Mark>> {
        let hyphens = self.hyphens();
        let base = baseline(RAIL_TYPE);
        let mut set = VecDeque::new();
        for (number, line) in (0u32..).zip(proof) {
            let key = Words::plain(&line.key, RAIL_KEY_TYPE, owner(block, Part::Key(number)));
            let text = Words::of(&line.text, RAIL_TYPE, owner(block, Part::Value(number)), &mut self.links);
            let column = |width| Room { first: width, rest: width };
            let keys = lines(&key, column(RAIL_KEY), hyphens, &mut self.shaper);
            let values = lines(&text, column(width - RAIL_KEY), hyphens, &mut self.shaper);
            let depth = keys.len().max(values.len());
            let (mut keys, mut values) = (keys.into_iter(), values.into_iter());
            for _ in 0..depth {
                let key = keys.next().into_iter().flat_map(|line| marks(line, x, base));
                let value = values.next().into_iter().flat_map(|line| marks(line, x + RAIL_KEY, base));
                set.push_back(key.chain(value).collect());
            }
        }
        set
    }
}

impl Rail {
    /// Hangs lines beside rows, the first `y` under the top of the first row.
    fn hang(&mut self, rows: &mut [Row], mut y: Pt) {
        let mut top = 0.0;
        for (at, row) in rows.iter_mut().enumerate() {
            top += if at == 0 { 0.0 } else { row.before };
            let bottom = top + row.height;
            let mut beside = Beside { block: self.block, marks: Vec::new(), under: 0.0 };
            while y < bottom
                && let Some(line) = self.lines.pop_front()
            {
                beside.marks.extend(line.into_iter().map(|mut mark| {
                    mark.lower(y - top);
                    mark
                }));
                y += RAIL_TYPE.leading;
                beside.under = (y - bottom).max(0.0);
            }
            row.beside = Some(beside);
            top = bottom;
        }
        if let Some(last) = rows.last_mut() {
            // What comes next stands clear of the last line.
            last.height += (y - top).max(0.0);
            if let Some(beside) = &mut last.beside {
                beside.under = 0.0;
            }
        }
    }
}
