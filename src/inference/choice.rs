//! Choosing one option, or a sequence, when refusals and preferences are three-valued.
//!
//! The choice is the first option of the catalogue that is left and that no option left is preferred to. Preferences
//! are closed over the whole catalogue before refusals; where they run in a circle nothing is chosen. Every step is
//! monotone: as answers narrow, a truth may only move from unknown to yes or no.

use crate::inference::truth::Truth;

/// What was settled about one slot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Choice {
    /// For each option.
    pub(crate) chosen: Vec<Truth>,
    /// Whether the slot gets something.
    pub(crate) filled: Truth,
    /// Whether the preferences run in a circle.
    pub(crate) circular: Truth,
    /// For each option, each option preferred to it: `beats[better][worse]`, closed.
    pub(crate) beats: Vec<Vec<Truth>>,
}

/// Closes `better over worse` transitively: yes along certain steps, unknown where a step is.
pub(crate) fn closed(mut beats: Vec<Vec<Truth>>) -> Vec<Vec<Truth>> {
    let count = beats.len();
    for middle in 0..count {
        let Some(onward) = beats.get(middle) else { continue };
        if onward.iter().all(|next| *next == Truth::No) {
            continue;
        }
        let onward = onward.clone();
        for row in &mut beats {
            let to_middle = row.get(middle).copied().unwrap_or(Truth::No);
            if to_middle == Truth::No {
                continue;
            }
            for (cell, next) in row.iter_mut().zip(&onward) {
                *cell = cell.or(to_middle.and(*next));
            }
        }
    }
    beats
}

/// Picks one. `beats` must be closed.
pub(crate) fn pick_one(arises: Truth, refused: &[Truth], beats: Vec<Vec<Truth>>) -> Choice {
    let circular = circle(&beats);
    let open = arises.and(circular.negated());
    let best = undefeated(refused, &beats);
    let mut earlier = Truth::No;
    let chosen = best
        .iter()
        .map(|best| {
            let chosen = open.and(*best).and(earlier.negated());
            earlier = earlier.or(*best);
            chosen
        })
        .collect();
    let filled = refused.iter().fold(Truth::No, |any, refused| any.or(refused.negated())).and(open);
    Choice { chosen, filled, circular, beats }
}

/// Every option that is left, in order.
pub(crate) fn sequence(arises: Truth, refused: &[Truth]) -> Choice {
    let chosen: Vec<Truth> = refused.iter().map(|refused| arises.and(refused.negated())).collect();
    let filled = chosen.iter().fold(Truth::No, |any, chosen| any.or(*chosen));
    Choice { chosen, filled, circular: Truth::No, beats: Vec::new() }
}

/// The one to print for now: an option whose refusal is unsure only when no other is left; an unsure preference does
/// not count. `None` when every option is certainly refused or the circle is certain.
pub(crate) fn provisional_pick(choice: &Choice, refused: &[Truth]) -> Option<usize> {
    if let Some(certain) = choice.chosen.iter().position(|chosen| *chosen == Truth::Yes) {
        return Some(certain);
    }
    let sure: Vec<Vec<Truth>> = choice
        .beats
        .iter()
        .map(|row| row.iter().map(|cell| Truth::from(*cell == Truth::Yes)).collect())
        .collect();
    [Truth::Yes, Truth::No].into_iter().find_map(|unsure_refusal| {
        let settled: Vec<Truth> = refused
            .iter()
            .map(|refused| if refused.is_settled() { *refused } else { unsure_refusal })
            .collect();
        let best = undefeated(&settled, &sure);
        best.iter().zip(&choice.chosen).position(|(best, chosen)| *best == Truth::Yes && chosen.is_shown())
    })
}

fn circle(beats: &[Vec<Truth>]) -> Truth {
    beats
        .iter()
        .enumerate()
        .fold(Truth::No, |any, (option, row)| any.or(row.get(option).copied().unwrap_or(Truth::No)))
}

/// For each option: is it left, and is no option that is left preferred to it?
fn undefeated(refused: &[Truth], beats: &[Vec<Truth>]) -> Vec<Truth> {
    refused
        .iter()
        .enumerate()
        .map(|(option, own)| {
            let beaten = beats.iter().zip(refused).enumerate().filter(|(other, _)| *other != option).fold(
                Truth::No,
                |any, (_, (row, refused))| {
                    any.or(refused.negated().and(row.get(option).copied().unwrap_or(Truth::No)))
                },
            );
            own.negated().and(beaten.negated())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use Truth::{No, Unknown, Yes};

    fn beats(count: usize, pairs: &[(usize, usize, Truth)]) -> Vec<Vec<Truth>> {
        let mut table = vec![vec![No; count]; count];
        for (better, worse, truth) in pairs {
            table[*better][*worse] = *truth;
        }
        closed(table)
    }

    #[test]
    fn catalogue_order_breaks_ties() {
        let choice = pick_one(Yes, &[Yes, No, No], beats(3, &[]));
        assert_eq!(choice.chosen, [No, Yes, No]);
    }

    #[test]
    fn a_preference_through_a_refused_option_still_counts() {
        let choice = pick_one(Yes, &[No, Yes, No], beats(3, &[(2, 1, Yes), (1, 0, Yes)]));
        assert_eq!(choice.chosen, [No, No, Yes]);
    }

    #[test]
    fn an_unsure_refusal_leaves_two_options_possible_and_the_safe_one_is_printed() {
        let refused = [Unknown, No];
        let choice = pick_one(Yes, &refused, beats(2, &[]));
        assert_eq!(choice.chosen, [Unknown, Unknown]);
        assert_eq!(choice.filled, Yes);
        assert_eq!(provisional_pick(&choice, &refused), Some(1));
    }

    #[test]
    fn a_certain_circle_chooses_nothing() {
        let choice = pick_one(Yes, &[No, No], beats(2, &[(0, 1, Yes), (1, 0, Yes)]));
        assert_eq!(choice.circular, Yes);
        assert_eq!(choice.chosen, [No, No]);
        assert_eq!(choice.filled, No);
    }
}
