//! What one paragraph forbids and another orders.

use crate::proofread::found::Found;
use crate::proofread::paper::Passage;
use crate::proofread::reading::Reading;
use crate::proofread::sentence::sentences;

/// Openings that order the use of something, and those that forbid it.
const USES: [&str; 3] = ["Use ", "Provide ", "Apply "];
const BARS: [&str; 4] = ["Do not use ", "Use no ", "Never use ", "Do not apply "];
/// What a thing is used with, on or for.
const ENDS: [&str; 6] = [" on ", " with ", " in ", " for ", " of ", " as "];
/// A shorter name is no name of a thing.
const SHORTEST: usize = 4;

pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    let mut barred: Vec<(String, &Passage)> = Vec::new();
    let mut used: Vec<(String, &Passage)> = Vec::new();
    for passage in reading.paper.passages.iter().filter(|passage| reading.is_requirement(passage)) {
        for sentence in sentences(reading.paper.words(passage)) {
            if let Some(rest) = BARS.into_iter().find_map(|bar| sentence.strip_prefix(bar)) {
                let rest = rest.split(" on ").next().unwrap_or(rest);
                barred.extend(things(rest, &[]).map(|thing| (thing, passage)));
            } else if let Some(rest) = USES.into_iter().find_map(|use_of| sentence.strip_prefix(use_of)) {
                used.extend(things(rest, &ENDS).take(1).map(|thing| (thing, passage)));
            }
        }
    }
    for (thing, passage) in &used {
        if let Some((_, bar)) =
            barred.iter().find(|(barred, bar)| barred == thing && bar.clause != passage.clause)
        {
            let message = format!("“{thing}” is ordered here and forbidden in {}", bar.clause);
            found.at(reading, "contradiction", passage, message);
        }
    }
}

/// The things that a sentence begins with: `acid, or a cleaner with acid in it, on the zone`.
fn things<'t>(text: &'t str, ends: &'t [&str]) -> impl Iterator<Item = String> + 't {
    let parts = text.split([',', ';', '.', ':']).flat_map(|part| part.split(" or "));
    parts
        .map(move |part| {
            let part =
                part.trim().trim_start_matches("or ").trim_start_matches("a ").trim_start_matches("an ");
            let ends = ends.iter().filter_map(|end| part.find(end)).min();
            part.get(..ends.unwrap_or(part.len())).unwrap_or(part).trim().to_lowercase()
        })
        .filter(|thing| thing.len() >= SHORTEST)
}
