//! The index: for each column and cell, the rows that a test of the column rules out there.

use super::bits;
use super::row::{Node, Sense, Test};

/// Which rows are ruled out where.
#[derive(Clone, Debug)]
pub(super) struct Index {
    /// Words a set of rows takes.
    words: usize,
    /// For each column: where its sets start, how many cells it has, and whether any row tests it.
    columns: Vec<Column>,
    /// For each column that rows test: first the rows that do, then for each cell the rows ruled out there.
    sets: Vec<u64>,
    /// Rows whose tests all stand in the index: where every column has one cell, they apply unless they are ruled out.
    plain: Vec<u64>,
}

#[derive(Clone, Copy, Debug)]
struct Column {
    start: usize,
    cells: usize,
}

impl Index {
    /// The index of these rows; `cells` says how many each column has.
    pub(super) fn of(rows: &[Vec<Node>], cells: &[usize]) -> Self {
        let words = bits::words(rows.len());
        let mut tests: Vec<Vec<(usize, Test)>> = vec![Vec::new(); cells.len()];
        let mut plain = bits::none(rows.len());
        for (row, nodes) in rows.iter().enumerate() {
            let mut left_over = false;
            for node in outermost(nodes) {
                let column = match node {
                    Node::Test(test) => tests.get_mut(test.column as usize).map(|column| (column, test)),
                    Node::All(_) | Node::Any(_) => None,
                };
                match column {
                    // A second test of a column is no longer settled cell by cell.
                    Some((column, test)) if column.last().is_none_or(|(last, _)| *last != row) => {
                        column.push((row, *test));
                    }
                    _ => left_over = true,
                }
            }
            if !left_over {
                bits::set(&mut plain, row);
            }
        }
        let mut index = Self { words, columns: Vec::new(), sets: Vec::new(), plain };
        for (tests, cells) in tests.iter().zip(cells) {
            index.add(tests, *cells);
        }
        index
    }

    fn add(&mut self, tests: &[(usize, Test)], cells: usize) {
        if tests.is_empty() {
            self.columns.push(Column { start: 0, cells: 0 });
            return;
        }
        self.columns.push(Column { start: self.sets.len(), cells });
        let mut tested = vec![0; self.words];
        for (row, _) in tests {
            bits::set(&mut tested, *row);
        }
        self.sets.extend(tested);
        for cell in 0..cells {
            let mut out = vec![0; self.words];
            for (row, test) in tests {
                let holds = (test.cells & (1 << cell) != 0) == (test.sense == Sense::Straight);
                if !holds {
                    bits::set(&mut out, *row);
                }
            }
            self.sets.extend(out);
        }
    }

    /// Takes out of `alive` the rows that a column with these cells possible rules out, and puts into `unsure` those
    /// that it neither rules out nor settles.
    pub(super) fn apply(&self, column: usize, possible: u64, alive: &mut [u64], unsure: &mut [u64]) {
        let Some(column) = self.columns.get(column).filter(|column| column.cells > 0) else { return };
        if possible.is_power_of_two() {
            let out = self.set(*column, possible.trailing_zeros() as usize);
            alive.iter_mut().zip(out).for_each(|(alive, out)| *alive &= !out);
            return;
        }
        unsure.iter_mut().zip(self.tested(*column)).for_each(|(unsure, tested)| *unsure |= tested);
        // Where every cell is possible nothing is ruled out; where none is, the row itself is read.
        if possible.count_ones() as usize == column.cells || possible == 0 {
            return;
        }
        for (word, alive) in alive.iter_mut().enumerate() {
            let out = bits::of(possible)
                .fold(u64::MAX, |out, cell| out & self.set(*column, cell).get(word).copied().unwrap_or(0));
            *alive &= !out;
        }
    }

    /// Rows whose tests all stand in the index.
    pub(super) fn plain(&self) -> &[u64] {
        &self.plain
    }

    fn tested(&self, column: Column) -> &[u64] {
        self.sets.get(column.start..column.start + self.words).unwrap_or_default()
    }

    fn set(&self, column: Column, cell: usize) -> &[u64] {
        let start = column.start + (cell + 1) * self.words;
        self.sets.get(start..start + self.words).filter(|_| cell < column.cells).unwrap_or_default()
    }
}

/// The nodes of a row that are not parts of others.
fn outermost(nodes: &[Node]) -> Vec<&Node> {
    let mut found = Vec::new();
    let mut rest = nodes;
    while let Some((node, after)) = rest.split_first() {
        found.push(node);
        rest = match node {
            Node::Test(_) => after,
            Node::All(count) | Node::Any(count) => after.get(*count as usize..).unwrap_or_default(),
        };
    }
    found
}
