//! Standards: cited and listed are one and the same, with title, issuer and edition, in order, none withdrawn, none
//! used for what it does not cover.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use regex::bytes::Regex;

use super::found::Found;
use super::paper::{Kind, Passage};
use super::pattern::regex;
use super::reading::Reading;

/// A standard in running words: body, number, part.
static CITED: LazyLock<Option<Regex>> = LazyLock::new(|| {
    let pattern = r"\b(?:(?:40|29) CFR (?:part )?\d+(?:\.\d+)?(?:\([a-z0-9]+\))*(?: subpart [A-Z]+)?|\d+ FR \d+|(?:ASTM|ISO|EN|BS EN|BS|DIN EN|DIN|ASHRAE|ANSI|ICRI|RILEM) [A-Z]{0,3}\.?[ ]?\d[\w./-]*\w(?::\d{4})?|(?:NPS )?Preservation Brief \d+|Technical Note \d+\w*|WTA leaflets? [\d-]+|HSE [A-Z]+\d+|Digest \d+)";
    regex(pattern).ok()
});

/// A standard that was found.
struct Cited<'p> {
    id: String,
    edition: Option<String>,
    passage: &'p Passage,
}

pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    let paper = reading.paper;
    if !paper.passages.iter().any(|passage| reading.lists_standards(passage)) {
        return standing(reading, found);
    }
    let Some(find) = CITED.as_ref() else { return };
    let (mut listed, mut cited): (Vec<Cited<'_>>, Vec<Cited<'_>>) = (Vec::new(), Vec::new());
    let mut titles: Vec<(&str, &Passage)> = Vec::new();
    for passage in &paper.passages {
        let text = paper.words(passage);
        if reading.lists_standards(passage) {
            titles.push((text, passage));
            listed.extend(standards(find, text.split(", ").next().unwrap_or(text), passage));
        } else {
            cited.extend(standards(find, text, passage));
            cited.extend(standards(find, &passage.aside, passage));
        }
    }
    let ids: BTreeSet<&str> = listed.iter().map(|one| one.id.as_str()).collect();
    let whole = |id: &str| ids.iter().any(|known| covers(known, id));
    for one in cited.iter().filter(|one| !whole(&one.id)) {
        found.at(reading, "cited-not-listed", one.passage, format!("{} is not among the references", one.id));
    }
    let words: String = paper
        .passages
        .iter()
        .filter(|passage| !reading.lists_standards(passage))
        .fold(String::new(), |words, passage| words + &passage.aside + " " + paper.words(passage) + "\n");
    for (text, passage) in &titles {
        let id = text.split(", ").next().unwrap_or(text).trim_end_matches('.');
        let by_number = standards(find, id, passage);
        let is_cited = if by_number.is_empty() {
            words.contains(id)
        } else {
            by_number.iter().any(|own| cited.iter().any(|one| covers(&own.id, &one.id)))
        };
        if !is_cited {
            found.at(reading, "listed-not-cited", passage, format!("no paragraph names {id}"));
        }
    }
    editions(reading, &listed, &cited, found);
    in_order(reading, &titles, found);
    titled(reading, &titles, found);
    standing(reading, found);
}

fn standards<'p>(find: &Regex, text: &str, passage: &'p Passage) -> Vec<Cited<'p>> {
    let all = find.find_iter(text.as_bytes()).filter_map(|hit| text.get(hit.range()));
    all.map(|said| {
        let said = said.replace('\u{a0}', " ");
        let (id, edition) = match said.split_once(':') {
            Some((id, edition)) => (id.to_owned(), Some(edition.to_owned())),
            None => (said, None),
        };
        let id = id.strip_prefix("NPS ").unwrap_or(&id).trim_end_matches(['.', '-']).to_owned();
        Cited { id, edition, passage }
    })
    .collect()
}

/// Whether a listed standard is the one cited: the same, or the whole of which a section or part is cited.
fn covers(listed: &str, cited: &str) -> bool {
    let part = |whole: &str, of: &str| {
        of.strip_prefix(whole).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '(', ' ', '/']))
    };
    part(listed, cited) || part(cited, listed)
}

fn editions(reading: Reading<'_>, listed: &[Cited<'_>], cited: &[Cited<'_>], found: &mut Found<'_>) {
    for one in cited {
        let other = listed.iter().find(|known| known.id == one.id && known.edition != one.edition);
        if let (Some(edition), Some(known)) = (&one.edition, other) {
            let told = known.edition.as_deref().unwrap_or("none");
            let message = format!("{} is cited as of {edition} and listed as of {told}", one.id);
            found.at(reading, "other-edition", one.passage, message);
        }
    }
    let says = |passage: &Passage| {
        reading.rules.lists("reference articles", &passage.article)
            && reading.paper.words(passage).contains("edition")
            && !passage.subject.is_empty()
    };
    if !reading.paper.passages.iter().any(says) {
        found.whole(reading, "other-edition", "nothing says which edition of a standard holds");
    }
}

fn in_order(reading: Reading<'_>, titles: &[(&str, &Passage)], found: &mut Found<'_>) {
    for two in titles.windows(2) {
        let [(before, _), (after, passage)] = two else { continue };
        if before == after {
            found.at(reading, "reference-list-order", passage, format!("“{after}” stands twice"));
        } else if before > after {
            found.at(reading, "reference-list-order", passage, format!("“{after}” stands behind “{before}”"));
        }
    }
}

/// Titles and issuers as the table of standards has them.
fn titled(reading: Reading<'_>, titles: &[(&str, &Passage)], found: &mut Found<'_>) {
    for line in reading.rules.standards() {
        let [id, title, issuer, ..] = line.as_slice() else { continue };
        for (text, passage) in titles {
            let Some(rest) = text.strip_prefix(id.as_str()).and_then(|rest| rest.strip_prefix(", ")) else {
                continue;
            };
            if !rest.starts_with(title.as_str()) || !rest.contains(issuer.as_str()) {
                let message = format!("{id} is “{title}” of {issuer}");
                found.at(reading, "other-title", passage, message);
            }
        }
    }
}

/// Standards that are withdrawn, and those used for what they do not cover.
fn standing(reading: Reading<'_>, found: &mut Found<'_>) {
    for line in reading.rules.standards() {
        let [id, _, _, status, misfit, _] = line.as_slice() else { continue };
        let (gone, unfit) = (status != "current", misfit != "-");
        if !gone && !unfit {
            continue;
        }
        let misfit = regex(misfit).ok().filter(|_| unfit);
        for passage in &reading.paper.passages {
            let text = reading.paper.words(passage);
            if !names(text, id) {
                continue;
            }
            if gone {
                found.at(reading, "withdrawn-standard", passage, format!("{id} is {status}"));
            }
            let is_listing = reading.lists_standards(passage) || matches!(passage.kind, Kind::Heading { .. });
            if misfit.as_ref().is_some_and(|misfit| misfit.is_match(text.as_bytes())) && !is_listing {
                found.at(reading, "test-outside-its-scope", passage, format!("{id} does not cover this"));
            }
        }
    }
}

/// Whether a text names a standard, and not one whose number only begins alike.
fn names(text: &str, id: &str) -> bool {
    text.match_indices(id).any(|(at, _)| {
        let rest = text.get(at + id.len()..).unwrap_or_default();
        !rest.starts_with(|sign: char| sign.is_alphanumeric())
            && !rest
                .strip_prefix('-')
                .is_some_and(|rest| rest.starts_with(|sign: char| sign.is_ascii_digit()))
    })
}

/// Stops that rest on memory alone, from the record of the reasons.
pub(super) fn weak_grounds(reading: Reading<'_>, found: &mut Found<'_>) {
    let stops: BTreeSet<String> = reading
        .tables_with("stop heads")
        .flat_map(|table| table.rows.iter().filter_map(|row| row.last().cloned()))
        .collect();
    for table in reading.tables_with("reason heads") {
        let (Some(reason), Some(source)) = (table.column("Reason and rule"), table.column("Source")) else {
            continue;
        };
        for (row, cells) in table.rows.iter().enumerate() {
            let (Some(said), Some(sources)) = (cells.get(reason), cells.get(source)) else { continue };
            let Some(passage) = reading.cell(table, row, source) else { continue };
            if sources.trim().is_empty() {
                found.at(reading, "source-unplaced", passage, "this reason has no source");
                continue;
            }
            let weak = sources.matches("from memory").count();
            let firm = sources.matches("(read").count()
                + sources.matches("second-hand").count()
                + sources.matches("derived").count()
                + sources.matches("Common practice").count();
            let stop = stops.iter().find(|rule| said.contains(rule.as_str()));
            if let (Some(rule), true) = (stop, weak > 0 && firm == 0) {
                found.at(
                    reading,
                    "source-unplaced",
                    passage,
                    format!("the stop `{rule}` rests on memory alone"),
                );
            }
        }
    }
}
