//! Hatching: slanting lines inside a shape, worked out here so that no writer need clip.

/// Places in millimetres.
type Place = (f64, f64);

/// More lines than this say no more.
const MOST: u32 = 400;

/// The pieces of lines, rising to the right at 45° and this far apart, that lie inside a shape.
pub(super) fn hatched(corners: &[Place], apart: f64) -> Vec<Vec<Place>> {
    // Along a line that rises to the right, x + y stays the same.
    let sum = |(x, y): &Place| x + y;
    let low = corners.iter().map(sum).fold(f64::INFINITY, f64::min);
    let high = corners.iter().map(sum).fold(f64::NEG_INFINITY, f64::max);
    let step = apart * std::f64::consts::SQRT_2;
    // Lines lie on one grid whatever the shape, so that shapes side by side match.
    let first = (low / step).ceil() * step;
    let lines = (0..MOST).map(|number| first + f64::from(number) * step).take_while(|line| *line < high);
    lines.flat_map(|line| inside(corners, line)).collect()
}

/// The pieces of the line `x + y = line` inside the shape, by the even-odd rule.
fn inside(corners: &[Place], line: f64) -> Vec<Vec<Place>> {
    let next = corners.iter().cycle().skip(1);
    let mut cuts: Vec<f64> =
        corners.iter().zip(next).filter_map(|(from, to)| crossing(*from, *to, line)).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2)
        .filter_map(|pair| if let [left, right] = pair { Some((*left, *right)) } else { None })
        .filter(|(left, right)| right - left > 0.05)
        .map(|(left, right)| vec![(left, line - left), (right, line - right)])
        .collect()
}

/// Where the side of a shape crosses the line; one end of the side belongs to it and the other does not.
fn crossing((x1, y1): Place, (x2, y2): Place, line: f64) -> Option<f64> {
    let (from, to) = (x1 + y1 - line, x2 + y2 - line);
    ((from < 0.0) != (to < 0.0)).then(|| x1 + (x2 - x1) * from / (from - to))
}

#[cfg(test)]
mod tests {
    use super::hatched;

    #[test]
    fn lines_stay_inside_and_leave_holes_open() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
        let lines = hatched(&square, 2.0);
        assert_eq!(lines.len(), 7);
        let inside = |at: &f64| (-1e-9..=10.0 + 1e-9).contains(at);
        assert!(lines.iter().flatten().all(|(x, y)| inside(x) && inside(y)));
        let notched = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 2.0), (0.0, 10.0)];
        assert!(hatched(&notched, 2.0).len() > 5);
        assert!(hatched(&notched, 2.0).iter().all(|line| line.len() == 2));
    }

    #[test]
    fn what_has_no_inside_has_no_lines() {
        assert_eq!(hatched(&[], 2.0), Vec::<Vec<_>>::new());
        assert_eq!(hatched(&[(1.0, 1.0), (5.0, 1.0)], 2.0), Vec::<Vec<_>>::new());
        assert_eq!(hatched(&[(f64::NAN, 1.0), (5.0, 1.0), (3.0, 4.0)], 2.0), Vec::<Vec<_>>::new());
    }
}
