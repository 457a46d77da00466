//! A witness as a survey file that `perpend why` reads: the answers that it stands on, and nothing else. What is worked
//! out cannot be answered and stands in a comment; what is worked out from one line of a survey stands as that line.

use std::fmt::Write as _;

use super::saying::{self, DAY};
use super::witness::{Answer, Rest, Witness};
use super::words::in_words;
use crate::rulebook::book::{Kind, Owner};
use crate::units::System;

/// The survey as text.
pub fn written(title: &str, witness: &Witness) -> String {
    let mut text = format!("# {title}\n#\n");
    for line in in_words(witness, System::UsFirst).lines() {
        let _ = writeln!(text, "# {line}");
    }
    let _ =
        write!(text, "survey: 1\njob:\n  code: W-1\n  name: A survey that shows it\n  issue-date: {DAY}\n");
    text.push_str(&answers(witness, Owner::Job, "  "));
    text.push_str("zones:\n  - code: A\n    name: A\n");
    text.push_str(&answers(witness, Owner::Zone, "    "));
    for line in witness.answers.iter().filter_map(stated) {
        let _ = writeln!(text, "    {line}");
    }
    if witness.rest == Rest::Anything {
        text.push_str("    # any other answer may be added\n");
    }
    text
}

fn answers(witness: &Witness, owner: Owner, indent: &str) -> String {
    let own = witness.answers.iter().filter(|answer| !answer.worked && answer.fact.owner == owner);
    own.filter_map(|answer| {
        let said = saying::answer(&answer.fact, answer.cells.first().copied()?)?;
        Some(format!("{indent}{}: {said}\n", answer.fact.name))
    })
    .collect()
}

/// The line of a zone that a worked fact is read off.
fn stated(answer: &Answer) -> Option<String> {
    let Kind::OneOf(words) = &answer.fact.kind else { return None };
    let word = words.get(answer.cells.first()?.iter().next()?)?;
    match (answer.fact.name.as_str(), word.as_str()) {
        ("old-coating", "none") => Some("coats: []".to_owned()),
        ("old-coating", family) => Some(format!("coats: [{{family: {family}, layers: 1, kept: no}}]")),
        ("substrate", material) => Some(format!("wall: [{{material: {material}, thickness: 100 mm}}]")),
        _ => None,
    }
}
