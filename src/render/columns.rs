//! How wide the columns of a table are.

use super::tokens::Pt;

/// A word of a cell with the space behind it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Piece {
    /// Width of the word.
    pub(crate) width: Pt,
    /// Width of the space.
    pub(crate) space: Pt,
    /// What follows the word.
    pub(crate) then: Then,
}

/// What follows a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Then {
    /// More words of the same line, if they fit.
    More,
    /// A new line.
    Feed,
}

/// The words of one column, cell by cell, head first.
pub(crate) type Cells = Vec<Vec<Piece>>;

/// What one column asks for.
#[derive(Debug, Clone, Default)]
pub(crate) struct Want {
    /// Width that sets every cell on one line.
    pub(crate) natural: Pt,
    /// Width of the longest word.
    pub(crate) word: Pt,
    /// Width of the longest piece of a parted word.
    pub(crate) piece: Pt,
    /// Its words.
    pub(crate) cells: Cells,
}

/// Steps by which room moves from column to column.
const STEPS: [Pt; 4] = [32.0, 16.0, 8.0, 4.0];
/// Most moves for each step.
const MOVES: usize = 40;
/// At most so many rows are looked at, spread evenly over a long table.
const SAMPLE: usize = 48;
/// A line of the table counts as much as so many lines of single cells.
const ROW_WEIGHT: usize = 8;

/// Widths that fill `room` exactly: whole words where they fit, parted words where not, and the rest shared so
/// that the table is as low as can be found by moving room between columns.
pub(crate) fn widths(wants: &[Want], room: Pt) -> Vec<Pt> {
    let words: Vec<Pt> = wants.iter().map(|want| want.word.min(want.natural)).collect();
    let pieces: Vec<Pt> = wants.iter().map(|want| want.piece.min(want.natural)).collect();
    let floors = if sum(&words) <= room {
        words
    } else if sum(&pieces) <= room {
        between(&pieces, &words, room)
    } else {
        return torn(&pieces, room);
    };
    let start = fitted(share(wants, &floors, room), &floors, room);
    let natural: Pt = wants.iter().map(|want| want.natural).sum();
    if natural <= room { start } else { settle(wants, &floors, start) }
}

/// Widths brought down to the room by what they have over their floors, which the room can hold.
fn fitted(widths: Vec<Pt>, floors: &[Pt], room: Pt) -> Vec<Pt> {
    let (over, spare) = (sum(&widths) - room, sum(&widths) - sum(floors));
    if over <= 0.0 || spare <= 0.0 {
        return widths;
    }
    let keep = 1.0 - over / spare;
    widths.iter().zip(floors).map(|(width, floor)| floor + (width - floor) * keep).collect()
}

/// Widths where some words must be torn: columns whose pieces take less than a fair share keep them whole, and the
/// others share what is left by what they ask.
fn torn(pieces: &[Pt], room: Pt) -> Vec<Pt> {
    let mut order: Vec<Pt> = pieces.to_vec();
    order.sort_by(Pt::total_cmp);
    let (mut left, mut asked, mut count) = (room, sum(pieces), order.len());
    let mut whole = 0.0;
    for piece in order {
        let others = u32::try_from(count).map_or(1.0, f64::from);
        if piece > left / others {
            break;
        }
        (left, asked, count, whole) = (left - piece, asked - piece, count - 1, piece);
    }
    let scale = left / asked.max(1.0);
    pieces.iter().map(|piece| if *piece <= whole { *piece } else { piece * scale }).collect()
}

/// Lines of each cell of a column at a width.
fn lines(cells: &Cells, width: Pt) -> Vec<usize> {
    let step = cells.len().div_ceil(SAMPLE).max(1);
    cells.iter().step_by(step).map(|cell| depth(cell, width)).collect()
}

/// Lines of a cell at a width, filled one after the other.
fn depth(cell: &[Piece], width: Pt) -> usize {
    let mut count = 1;
    let mut used = 0.0;
    for piece in cell {
        if used > 0.0 && used + piece.width > width + 0.01 {
            count += 1;
            used = 0.0;
        }
        used += piece.width + piece.space;
        if piece.then == Then::Feed {
            count += 1;
            used = 0.0;
        }
    }
    count
}

/// A column while room is moved: its width, and the lines of its cells now, narrower and wider by one step.
struct Moving {
    width: Pt,
    now: Vec<usize>,
    less: Option<Vec<usize>>,
    more: Vec<usize>,
}

impl Moving {
    fn new(want: &Want, floor: Pt, width: Pt, step: Pt) -> Self {
        let less = (width - step >= floor).then(|| lines(&want.cells, width - step));
        Self { width, now: lines(&want.cells, width), less, more: lines(&want.cells, width + step) }
    }
}

/// Moves room between columns as long as the table gets lower.
fn settle(wants: &[Want], floors: &[Pt], start: Vec<Pt>) -> Vec<Pt> {
    let mut widths = start;
    for step in STEPS {
        for _ in 0..MOVES {
            let columns: Vec<Moving> = wants
                .iter()
                .zip(floors)
                .zip(&widths)
                .map(|((want, floor), width)| Moving::new(want, *floor, *width, step))
                .collect();
            let Some((from, to)) = best_move(&columns) else { break };
            let moved = |(at, column): (usize, &Moving)| match at {
                _ if at == from => column.width - step,
                _ if at == to => column.width + step,
                _ => column.width,
            };
            widths = columns.iter().enumerate().map(moved).collect();
        }
    }
    widths
}

/// The move that makes the table lowest, if any makes it lower.
fn best_move(columns: &[Moving]) -> Option<(usize, usize)> {
    let now: Vec<&[usize]> = columns.iter().map(|column| column.now.as_slice()).collect();
    let mut best = (cost(&now), None);
    for (from, giver) in columns.iter().enumerate() {
        let Some(less) = &giver.less else { continue };
        for (to, taker) in columns.iter().enumerate().filter(|(to, _)| *to != from) {
            let mut trial = now.clone();
            if let Some(place) = trial.get_mut(from) {
                *place = less;
            }
            if let Some(place) = trial.get_mut(to) {
                *place = &taker.more;
            }
            let cost = cost(&trial);
            if cost < best.0 {
                best = (cost, Some((from, to)));
            }
        }
    }
    best.1
}

/// Height of the table in lines, with the lines of all cells as a lesser matter.
fn cost(columns: &[&[usize]]) -> usize {
    let rows = columns.first().map_or(0, |column| column.len());
    let mut cost = 0;
    for row in 0..rows {
        let cells = columns.iter().filter_map(|column| column.get(row));
        cost += ROW_WEIGHT * cells.clone().max().unwrap_or(&0) + cells.sum::<usize>();
    }
    cost
}

/// As much of the way from narrow to broad as there is room for.
fn between(narrow: &[Pt], broad: &[Pt], room: Pt) -> Vec<Pt> {
    let gap = sum(broad) - sum(narrow);
    let part = if gap > 0.0 { (room - sum(narrow)) / gap } else { 0.0 };
    narrow.iter().zip(broad).map(|(narrow, broad)| narrow + (broad - narrow) * part).collect()
}

/// Shares what is left over the floors: columns that ask for little get all of it first.
fn share(wants: &[Want], floors: &[Pt], room: Pt) -> Vec<Pt> {
    let mut widths = floors.to_vec();
    let mut open: Vec<usize> = (0..wants.len()).collect();
    loop {
        let taken: Pt = sum(&widths) - open.iter().filter_map(|at| widths.get(*at)).sum::<Pt>();
        let asked: Pt = open.iter().filter_map(|at| wants.get(*at)).map(|want| want.natural).sum();
        let left = room - taken;
        if asked <= left {
            return spread(wants, widths, &open, left - asked);
        }
        let count = u32::try_from(open.len()).map_or(1.0, f64::from);
        let modest = |at: &usize| wants.get(*at).is_some_and(|want| want.natural <= left / count);
        let (settled, rest): (Vec<usize>, Vec<usize>) = open.iter().partition(|at| modest(at));
        if settled.is_empty() {
            return proportion(wants, widths, &rest, left);
        }
        for at in settled {
            if let (Some(width), Some(want)) = (widths.get_mut(at), wants.get(at)) {
                *width = want.natural;
            }
        }
        open = rest;
    }
}

/// Gives every column what it asks for and the same share of what is left.
fn spread(wants: &[Want], mut widths: Vec<Pt>, open: &[usize], left: Pt) -> Vec<Pt> {
    for at in open {
        if let (Some(width), Some(want)) = (widths.get_mut(*at), wants.get(*at)) {
            *width = want.natural;
        }
    }
    let count = u32::try_from(widths.len()).map_or(1.0, f64::from).max(1.0);
    widths.iter().map(|width| width + left / count).collect()
}

/// Shares room by what is asked, but never under the floors.
fn proportion(wants: &[Want], mut widths: Vec<Pt>, open: &[usize], mut room: Pt) -> Vec<Pt> {
    let mut open = open.to_vec();
    loop {
        let asked: Pt = open.iter().filter_map(|at| wants.get(*at)).map(|want| want.natural).sum();
        let share = |at: usize| wants.get(at).map_or(0.0, |want| room * want.natural / asked.max(1.0));
        let floored = open.iter().position(|at| widths.get(*at).is_some_and(|floor| share(*at) < *floor));
        let Some(place) = floored else {
            for at in &open {
                let width = share(*at);
                if let Some(place) = widths.get_mut(*at) {
                    *place = width;
                }
            }
            return widths;
        };
        let at = open.remove(place);
        room -= widths.get(at).copied().unwrap_or_default();
    }
}

fn sum(widths: &[Pt]) -> Pt {
    widths.iter().sum()
}

#[cfg(test)]
mod tests {
    use super::{Piece, Then, Want, widths};

    fn want(natural: f64, word: f64) -> Want {
        Want { natural, word, piece: word / 2.0, cells: Vec::new() }
    }

    /// A column whose cells have so many words of 30 pt each.
    fn worded(cells: &[usize]) -> Want {
        let piece = Piece { width: 30.0, space: 3.0, then: Then::More };
        let cells: Vec<Vec<Piece>> = cells.iter().map(|count| vec![piece; *count]).collect();
        let most = u32::try_from(cells.iter().map(Vec::len).max().unwrap()).unwrap();
        Want { natural: f64::from(most) * 33.0 - 3.0, word: 30.0, piece: 30.0, cells }
    }

    #[test]
    fn one_long_cell_does_not_starve_the_columns_beside_it() {
        let busy = worded(&[1, 5, 5, 5, 5, 5, 5, 5]);
        let idle = worded(&[1, 0, 0, 0, 24, 0, 0, 0]);
        let widths = widths(&[busy, idle], 360.0);
        assert!(widths[0] >= 5.0 * 33.0 - 3.0, "{widths:?}");
        assert!((widths.iter().sum::<f64>() - 360.0).abs() < 1e-6);
    }

    #[test]
    fn widths_fill_the_room() {
        for wants in [
            vec![want(40.0, 30.0), want(900.0, 60.0)],
            vec![want(40.0, 30.0), want(50.0, 20.0)],
            vec![want(400.0, 300.0), want(500.0, 200.0)],
            vec![want(4000.0, 3000.0), want(5000.0, 2000.0)],
            // the first word leaves less than its share to a column that would else stand on one line
            vec![want(410.0, 270.0), want(94.0, 84.5)],
        ] {
            let total: f64 = widths(&wants, 360.0).iter().sum();
            assert!((total - 360.0).abs() < 1e-6, "{wants:?} gave {total}");
        }
    }

    #[test]
    fn a_word_longer_than_the_page_leaves_a_short_column_its_letters() {
        let widths = widths(&[want(12.0, 5.0), want(900.0, 1800.0), want(0.0, 0.0)], 360.0);
        assert!((widths[0] - 2.5).abs() < 1e-6 && (widths[1] - 357.5).abs() < 1e-6, "{widths:?}");
    }

    #[test]
    fn a_short_column_keeps_its_line() {
        let widths = widths(&[want(40.0, 30.0), want(900.0, 60.0)], 360.0);
        assert!((widths[0] - 40.0).abs() < 1e-6);
    }
}
