//! Puts things in an order in which each stands after all that it waits for.

use std::collections::BTreeSet;

/// The order, or every ring found; `waits` lists for each thing those it waits for.
pub(super) fn sorted(waits: &[BTreeSet<usize>]) -> Result<Vec<usize>, Vec<Vec<usize>>> {
    let mut open: Vec<usize> = waits.iter().map(BTreeSet::len).collect();
    let mut followers: Vec<Vec<usize>> = vec![Vec::new(); waits.len()];
    for (thing, earlier) in waits.iter().enumerate() {
        for first in earlier {
            if let Some(list) = followers.get_mut(*first) {
                list.push(thing);
            }
        }
    }
    let mut ready: BTreeSet<usize> =
        open.iter().enumerate().filter(|(_, count)| **count == 0).map(|(thing, _)| thing).collect();
    let mut order = Vec::with_capacity(waits.len());
    while let Some(next) = ready.pop_first() {
        order.push(next);
        for follower in followers.get(next).into_iter().flatten() {
            if let Some(count) = open.get_mut(*follower) {
                *count -= 1;
                if *count == 0 {
                    ready.insert(*follower);
                }
            }
        }
    }
    if order.len() == waits.len() { Ok(order) } else { Err(rings(waits, &order)) }
}

/// Rings among the things that could not be put in order, no two of which share a thing.
fn rings(waits: &[BTreeSet<usize>], ordered: &[usize]) -> Vec<Vec<usize>> {
    let ordered: BTreeSet<usize> = ordered.iter().copied().collect();
    let mut seen = BTreeSet::new();
    let mut rings = Vec::new();
    for start in (0..waits.len()).filter(|thing| !ordered.contains(thing)) {
        let mut path: Vec<usize> = Vec::new();
        let mut next = Some(start);
        while let Some(thing) = next.filter(|thing| !seen.contains(thing)) {
            seen.insert(thing);
            path.push(thing);
            next = waits
                .get(thing)
                .and_then(|earlier| earlier.iter().find(|one| !ordered.contains(one)).copied());
        }
        if let Some(from) = next.and_then(|thing| path.iter().position(|one| *one == thing)) {
            rings.push(path.split_off(from));
        }
    }
    rings
}

/// A ring in words: `a → b → a`.
pub(super) fn told(ring: &[usize], name: impl Fn(usize) -> String) -> (String, String) {
    let mut names: Vec<String> = ring.iter().map(|thing| name(*thing)).collect();
    let first = names.first().cloned().unwrap_or_default();
    names.push(first.clone());
    (first, names.join(" → "))
}
