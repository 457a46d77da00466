//! How wide the columns of a table are.

use super::tokens::Pt;

/// What one column asks for.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Want {
    /// Width that sets every cell on one line.
    pub(crate) natural: Pt,
    /// Width of the longest word.
    pub(crate) word: Pt,
    /// Width of the longest piece of a parted word.
    pub(crate) piece: Pt,
}

/// Widths that fill `room` exactly: whole words where they fit, parted words where not, and the rest shared so
/// that the longest columns get most.
pub(crate) fn widths(wants: &[Want], room: Pt) -> Vec<Pt> {
    let words: Vec<Pt> = wants.iter().map(|want| want.word.min(want.natural)).collect();
    let pieces: Vec<Pt> = wants.iter().map(|want| want.piece.min(want.natural)).collect();
    let floors = if sum(&words) <= room {
        words
    } else if sum(&pieces) <= room {
        between(&pieces, &words, room)
    } else {
        let scale = room / sum(&pieces).max(1.0);
        return pieces.iter().map(|piece| piece * scale).collect();
    };
    share(wants, &floors, room)
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
    use super::{Want, widths};

    fn want(natural: f64, word: f64) -> Want {
        Want { natural, word, piece: word / 2.0 }
    }

    #[test]
    fn widths_fill_the_room() {
        for wants in [
            vec![want(40.0, 30.0), want(900.0, 60.0)],
            vec![want(40.0, 30.0), want(50.0, 20.0)],
            vec![want(400.0, 300.0), want(500.0, 200.0)],
            vec![want(4000.0, 3000.0), want(5000.0, 2000.0)],
        ] {
            let total: f64 = widths(&wants, 360.0).iter().sum();
            assert!((total - 360.0).abs() < 1e-6, "{wants:?} gave {total}");
        }
    }

    #[test]
    fn a_short_column_keeps_its_line() {
        let widths = widths(&[want(40.0, 30.0), want(900.0, 60.0)], 360.0);
        assert!((widths[0] - 40.0).abs() < 1e-6);
    }
}
