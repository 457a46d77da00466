//! Numbers without gaps, and references that lead where they say.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use regex::bytes::Regex;

use super::found::Found;
use super::paper::{Kind, Paper, Passage};
use super::pattern::regex;
use super::reading::Reading;

/// No paragraph is numbered deeper.
const DEEPEST: u8 = 5;

/// What each number of a section stands for: `3.3` to the title, `3.3 F` to the subject.
#[derive(Debug, Default)]
pub(super) struct Numbers(BTreeMap<String, String>);

impl Numbers {
    pub(super) fn of(paper: &Paper) -> Self {
        let mut numbers = BTreeMap::new();
        for passage in &paper.passages {
            match &passage.kind {
                Kind::Heading { level: 2, number } if !number.is_empty() => {
                    numbers.insert(number.clone(), paper.words(passage).to_owned());
                }
                Kind::Item { depth: 1, .. } => {
                    numbers.insert(passage.clause.clone(), passage.subject.clone());
                }
                _ => {}
            }
        }
        Self(numbers)
    }

    pub(super) fn find(&self, number: &str) -> Option<&str> {
        self.0.get(number).map(String::as_str)
    }

    pub(super) fn all(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(number, title)| (number.as_str(), title.as_str()))
    }
}

/// Numbers and references of one paper; `section` knows those of the section, where the set has one.
pub(super) fn check(reading: Reading<'_>, section: Option<&Numbers>, found: &mut Found<'_>) {
    sequence(reading, found);
    headings(reading, found);
    tables(reading, found);
    if let Some(section) = section {
        references(reading, section, found);
    }
}

/// Parts, articles, paragraphs and points each in sequence from the first.
fn sequence(reading: Reading<'_>, found: &mut Found<'_>) {
    let (mut part, mut article, mut labels): (usize, usize, Vec<usize>) = (0, 0, Vec::new());
    let mut depth_before = 0;
    let mut of_standards = false;
    for passage in &reading.paper.passages {
        match &passage.kind {
            Kind::Heading { level, number } => {
                (labels, depth_before, of_standards) = (Vec::new(), 0, false);
                let last = number.rsplit([' ', '.']).next().and_then(|digits| digits.parse::<usize>().ok());
                let Some(last) = last else { continue };
                let expected = if *level == 1 { part + 1 } else { article + 1 };
                if *level == 1 {
                    (part, article) = (last, 0);
                } else {
                    article = last;
                }
                let belongs = *level == 1 || number.split('.').next() == Some(&part.to_string());
                if last != expected || !belongs {
                    let message = format!("“{number}” where number {expected} belongs");
                    found.at(reading, "number-gap", passage, message);
                }
            }
            Kind::Item { depth, label } => {
                if !of_standards && reading.lists_standards(passage) && *depth == 1 {
                    of_standards = true;
                }
                if *depth > DEEPEST || *depth > depth_before + 1 {
                    found.at(reading, "level-skipped", passage, format!("“{label}” lies a level too deep"));
                }
                depth_before = *depth;
                let Some(own) = counted(label) else { continue };
                labels.truncate(usize::from(*depth));
                while labels.len() < usize::from(*depth) {
                    labels.push(0);
                }
                if let Some(last) = labels.last_mut() {
                    if own != *last + 1 {
                        found.at(
                            reading,
                            "number-gap",
                            passage,
                            format!("“{label}” where number {} belongs", *last + 1),
                        );
                    }
                    *last = own;
                }
            }
            _ => {}
        }
    }
}

/// `A` is 1, `Z` 26, `AA` 27, `BB` 28; digits are themselves.
fn counted(label: &str) -> Option<usize> {
    let bare = label.trim_end_matches(['.', ')']);
    if let Ok(number) = bare.parse() {
        return Some(number);
    }
    let mut signs = bare.chars();
    let first = signs.next()?;
    let place = first.to_ascii_uppercase() as usize;
    let is_number = (65..=90).contains(&place) && signs.all(|sign| sign == first);
    is_number.then(|| (bare.len() - 1) * 26 + place - 64)
}

/// Levels of headings, headings that stand twice, articles in the wrong part.
fn headings(reading: Reading<'_>, found: &mut Found<'_>) {
    let (mut level_before, mut seen, mut part) = (0, BTreeSet::new(), "");
    for passage in &reading.paper.passages {
        let Kind::Heading { level, .. } = passage.kind else { continue };
        let title = reading.paper.words(passage);
        if level > level_before + 1 {
            found.at(reading, "level-skipped", passage, format!("“{title}” lies a level too deep"));
        }
        level_before = level;
        if level == 1 {
            part = title;
        }
        if !seen.insert(title) {
            found.at(reading, "heading-twice", passage, format!("“{title}” is a heading twice"));
        }
        let home =
            reading.rules.parts().find(|(_, articles)| articles.iter().any(|article| *article == title));
        if let Some((home, _)) = home
            && level == 2
            && home != part
        {
            found.at(reading, "wrong-part", passage, format!("“{title}” belongs in {home}"));
        }
    }
}

/// Tables that a paragraph announces and tables that stand there, one for one.
fn tables(reading: Reading<'_>, found: &mut Found<'_>) {
    let paper = reading.paper;
    let mut announced: Option<&Passage> = None;
    for (at, passage) in paper.passages.iter().enumerate() {
        if let Kind::Cell { table, row: None, column: 0 } = passage.kind {
            let captioned =
                at > 0 && paper.passages.get(at - 1).is_some_and(|before| before.kind == Kind::Caption);
            let of_paragraph = passage.clause.contains(' ');
            // Where a table only says when its paragraph holds, no word of the paragraph stands for it.
            let head = paper.tables.get(table).map(|table| table.head.as_slice()).unwrap_or_default();
            let is_of_marks = head.iter().map(String::as_str).eq(reading.rules.list("mark heads"));
            if announced.take().is_none() && captioned && of_paragraph && !is_of_marks {
                found.at(
                    reading,
                    "table-unmentioned",
                    passage,
                    "no paragraph before this table speaks of it",
                );
            }
        }
        if matches!(passage.kind, Kind::Item { .. } | Kind::Heading { .. } | Kind::End) {
            let is_missed = announced.is_some_and(|before| {
                matches!(passage.kind, Kind::Heading { .. } | Kind::End | Kind::Item { depth: 1, .. })
                    && before.clause != passage.clause
            });
            if let Some(before) = announced.filter(|_| is_missed) {
                found.at(reading, "table-missing", before, "the table that this speaks of does not follow");
                announced = None;
            }
            let words = paper.words(passage);
            if ["in the table", "of the table"].iter().any(|turn| words.contains(turn)) {
                announced = Some(passage);
            }
        }
    }
}

/// A reference in words, and one by number.
static LONG: LazyLock<Option<Regex>> =
    LazyLock::new(|| regex(r"\b[Aa]rticle (\d+\.\d+)(?:, paragraph ([A-Z]{1,2}))?(, )?([^.;:,)]*)").ok());
static SHORT: LazyLock<Option<Regex>> =
    LazyLock::new(|| regex(r"\b(\d\.\d{1,2}) ([A-Z]{1,2})\b((?:, [A-Z]{1,2}\b)*)").ok());

/// `article 3.3, paragraph F, Wash pressure`, `3.3 F`, `(1.12 A; 1.11 N)`.
fn references(reading: Reading<'_>, section: &Numbers, found: &mut Found<'_>) {
    let own = reading.paper.name == "section";
    let check = if own { "dead-reference" } else { "cites-no-clause" };
    let part = |text: &str, found: &regex::bytes::Captures<'_>, at: usize| {
        found.get(at).and_then(|part| text.get(part.range())).map(str::to_owned)
    };
    for passage in &reading.paper.passages {
        for text in [reading.paper.words(passage), passage.aside.as_str(), passage.subject.as_str()] {
            for hit in LONG.iter().flat_map(|find| find.captures_iter(text.as_bytes())) {
                let Some(article) = part(text, &hit, 1) else { continue };
                let number = match part(text, &hit, 2) {
                    Some(letter) => format!("{article} {letter}"),
                    None => article,
                };
                let title = part(text, &hit, 4).unwrap_or_default();
                match section.find(&number) {
                    None => found.at(reading, check, passage, format!("there is no {number}")),
                    Some(_) if part(text, &hit, 3).is_none() => {
                        found.at(
                            reading,
                            "bare-reference",
                            passage,
                            format!("{number} is cited without its title"),
                        );
                    }
                    Some(known) if !title.starts_with(known) => {
                        found.at(reading, check, passage, format!("{number} is “{known}” and not “{title}”"));
                    }
                    Some(_) => {}
                }
            }
            for hit in SHORT.iter().flat_map(|find| find.captures_iter(text.as_bytes())) {
                let (Some(article), Some(first)) = (part(text, &hit, 1), part(text, &hit, 2)) else {
                    continue;
                };
                let more = part(text, &hit, 3).unwrap_or_default();
                let letters = std::iter::once(first.as_str())
                    .chain(more.split(", ").filter(|letter| !letter.is_empty()));
                for letter in letters {
                    let number = format!("{article} {letter}");
                    if section.find(&number).is_none() {
                        found.at(reading, check, passage, format!("there is no {number}"));
                    }
                }
            }
        }
    }
    titles_in_tables(reading, section, check, found);
}

/// Cells that print a number with its subject, or beside a cell with it.
fn titles_in_tables(reading: Reading<'_>, section: &Numbers, check: &str, found: &mut Found<'_>) {
    for table in reading.tables_with("test heads") {
        let column = table.column("Paragraph").unwrap_or_default();
        for (row, cells) in table.rows.iter().enumerate() {
            let (Some(words), Some(passage)) = (cells.get(column), reading.cell(table, row, column)) else {
                continue;
            };
            let known = section.all().find(|(number, title)| {
                number.contains(' ')
                    && words.strip_prefix(number).is_some_and(|rest| rest.trim_start() == *title)
            });
            if known.is_none() {
                found.at(reading, check, passage, format!("“{words}” is no paragraph of the section"));
            }
        }
    }
    for table in reading.tables_with("plan heads") {
        let (Some(number), Some(name)) = (table.column("Section"), table.column("Check")) else { continue };
        for (row, cells) in table.rows.iter().enumerate() {
            let (Some(number), Some(words)) = (cells.get(number), cells.get(name)) else { continue };
            let number = number.split(' ').take(2).collect::<Vec<_>>().join(" ");
            let Some(passage) = reading.cell(table, row, name) else { continue };
            let title = section.find(&number).filter(|title| !number.is_empty() && !words.starts_with(title));
            if let Some(title) = title {
                found.at(reading, check, passage, format!("{number} is “{title}” and not “{words}”"));
            }
        }
    }
}
