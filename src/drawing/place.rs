//! Labels that would fall on each other, moved apart by arithmetic.

/// Moves labels along a line so that each has its room, in their order, as near to where they are wanted as can be, and
/// between two ends. Each is wanted around a middle and takes a length; both ends must lie as far apart as the
/// lengths together, else the last stand over the end.
pub(super) fn apart(wanted: &[(f64, f64)], from: f64, to: f64) -> Vec<f64> {
    let mut order: Vec<(usize, f64, f64)> =
        wanted.iter().enumerate().map(|(place, (middle, length))| (place, *middle, *length)).collect();
    order.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut runs: Vec<Run> = Vec::new();
    for (place, middle, length) in order {
        runs.push(Run {
            labels: vec![(place, length)],
            length,
            start: held(middle - length / 2.0, length, from, to),
        });
        while let [.., before, last] = runs.as_slice() {
            if before.start + before.length <= last.start {
                break;
            }
            let joined = before.joined(last, from, to);
            runs.truncate(runs.len() - 2);
            runs.push(joined);
        }
    }
    let mut placed = vec![0.0; wanted.len()];
    for run in &runs {
        let mut at = run.start;
        for (place, length) in &run.labels {
            if let Some(middle) = placed.get_mut(*place) {
                *middle = at + length / 2.0;
            }
            at += length;
        }
    }
    placed
}

fn held(start: f64, length: f64, from: f64, to: f64) -> f64 {
    start.min(to - length).max(from)
}

/// Labels that touch.
struct Run {
    labels: Vec<(usize, f64)>,
    length: f64,
    start: f64,
}

impl Run {
    /// Two runs as one whose middle lies between theirs, each counted by its labels.
    fn joined(&self, other: &Self, from: f64, to: f64) -> Self {
        let weight = |run: &Self| u32::try_from(run.labels.len()).map_or(1.0, f64::from);
        let middle = |run: &Self| run.start + run.length / 2.0;
        let both = weight(self) + weight(other);
        let length = self.length + other.length;
        let wanted = (middle(self) * weight(self) + middle(other) * weight(other)) / both;
        let labels = self.labels.iter().chain(&other.labels).copied().collect();
        Self { labels, length, start: held(wanted - length / 2.0, length, from, to) }
    }
}

#[cfg(test)]
mod tests {
    use super::apart;
    use proptest::prelude::*;

    #[test]
    fn labels_with_room_stay_where_they_are_wanted() {
        assert_eq!(apart(&[(30.0, 4.0), (10.0, 4.0)], 0.0, 40.0), [30.0, 10.0]);
    }

    #[test]
    fn labels_on_each_other_share_the_way() {
        assert_eq!(apart(&[(20.0, 4.0), (20.0, 4.0)], 0.0, 40.0), [18.0, 22.0]);
        assert_eq!(apart(&[(0.0, 4.0), (1.0, 4.0)], 0.0, 40.0), [2.0, 6.0]);
        assert_eq!(apart(&[(40.0, 4.0), (39.0, 4.0), (38.0, 4.0)], 0.0, 40.0), [38.0, 34.0, 30.0]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn none_overlaps_and_none_leaves(wanted in prop::collection::vec((-20.0..120.0f64, 1.0..8.0f64), 0..12)) {
            let placed = apart(&wanted, 0.0, 100.0);
            let mut frames: Vec<(f64, f64)> = placed.iter().zip(&wanted)
                .map(|(middle, (_, length))| (middle - length / 2.0, middle + length / 2.0)).collect();
            frames.sort_by(|a, b| a.0.total_cmp(&b.0));
            prop_assert!(frames.iter().all(|(low, high)| *low >= -1e-9 && *high <= 100.0 + 1e-9));
            prop_assert!(frames.windows(2).all(|pair| pair[0].1 <= pair[1].0 + 1e-9));
        }
    }
}
