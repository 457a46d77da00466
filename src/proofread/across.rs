//! The set as a whole: what one paper says the others say too.

use std::collections::{BTreeMap, BTreeSet};

use super::About;
use super::found::Found;
use super::numbering::Numbers;
use super::paper::{Kind, Paper, Passage};
use super::reading::Reading;

/// Holds the papers of a set against each other.
pub(super) fn check(
    readings: &[Reading<'_>],
    about: &About,
    section: Option<&Numbers>,
    found: &mut Found<'_>,
) {
    title_blocks(readings, found);
    hold_points(readings, found);
    for reading in readings {
        if let Some(section) = section {
            reasons(*reading, section, found);
        }
        record_box(*reading, found);
    }
    let section = readings.iter().find(|reading| reading.paper.name == "section");
    if let Some(section) = section {
        submittals(*section, found);
        limits_of_tests(*section, found);
        for other in readings.iter().filter(|reading| reading.paper.name != "section") {
            tests(*section, *other, found);
            due(*section, *other, found);
            crew(readings, *other, found);
            zones(*section, *other, found);
            lead(*section, *other, found);
        }
    }
    files(readings, about, found);
}

/// Fields that two papers share say the same; feet name one book.
fn title_blocks(readings: &[Reading<'_>], found: &mut Found<'_>) {
    const SHARED: [&str; 4] = ["Revision", "Date of issue", "Rulebook", "Owner"];
    let Some(first) = readings.first() else { return };
    let field = |paper: &Paper, label: &str| {
        paper.title_block.iter().find(|(own, _)| own == label).map(|(_, value)| value.clone())
    };
    let job = |paper: &Paper| {
        let number =
            field(paper, "Document number").or_else(|| paper.foot.split(", ").next().map(str::to_owned));
        number.and_then(|number| Some(number.rsplit_once('-')?.0.to_owned())).filter(|job| !job.is_empty())
    };
    let book = |paper: &Paper| paper.foot.split_once(", ").map(|(_, book)| book.to_owned());
    for reading in readings.iter().skip(1) {
        let mut differs = |what: &str, one: Option<String>, other: Option<String>| {
            if let (Some(one), Some(other)) = (one, other)
                && one != other
            {
                let message = format!("{what} is “{other}” here and “{one}” in {}", first.paper.name);
                found.whole(*reading, "title-block-differs", message);
            }
        };
        for label in SHARED {
            differs(label, field(first.paper, label), field(reading.paper, label));
        }
        differs("the job", job(first.paper), job(reading.paper));
        differs("the book in the foot", book(first.paper), book(reading.paper));
    }
    for reading in readings {
        let words = |passage: &Passage| reading.paper.words(passage).to_owned();
        let own = field(reading.paper, "Revision").filter(|own| !own.is_empty());
        for passage in &reading.paper.passages {
            for said in words(passage).split(", revision ").skip(1) {
                let said = said.split([' ', ',', '.', ';', ')']).next().unwrap_or_default();
                if own.as_ref().is_some_and(|own| own != said) {
                    let message = format!("revision {said} is cited, and the set is another");
                    found.at(*reading, "reference-to-other-revision", passage, message);
                }
            }
        }
    }
}

/// Hold points by their numbers: before what, who releases, notice, form.
fn hold_points(readings: &[Reading<'_>], found: &mut Found<'_>) {
    let Some(section) = readings.iter().find(|reading| reading.paper.name == "section") else { return };
    let mut known: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for table in section.tables_with("hold point heads") {
        for row in &table.rows {
            let label = row.first().and_then(|cell| cell.split(' ').next()).unwrap_or_default();
            known.insert(label.to_owned(), row.clone());
        }
    }
    for other in
        readings.iter().filter(|reading| ["test-plan", "crew-sheets"].contains(&reading.paper.name.as_str()))
    {
        let mut seen = BTreeSet::new();
        for table in &other.paper.tables {
            for (row, cells) in table.rows.iter().enumerate() {
                let label = cells.iter().take(2).find_map(|cell| {
                    let label = cell.split([' ', ',']).next()?;
                    let number = label.strip_prefix("HP")?;
                    (!number.is_empty() && number.chars().all(|sign| sign.is_ascii_digit())).then_some(label)
                });
                let (Some(label), Some(passage)) = (label, other.cell(table, row, 0)) else { continue };
                seen.insert(label.to_owned());
                let Some(told) = known.get(label) else {
                    found.at(*other, "hold-point-differs", passage, format!("the section has no {label}"));
                    continue;
                };
                let line = cells.join(" ").to_lowercase();
                let wanted = told.iter().skip(2).take(3).map(|cell| cell.to_lowercase());
                for word in wanted.filter(|word| !word.is_empty() && !line.contains(word.as_str())) {
                    found.at(
                        *other,
                        "hold-point-differs",
                        passage,
                        format!("{label} has “{word}” in the section"),
                    );
                }
            }
        }
        if other.paper.name == "test-plan" {
            for missing in known.keys().filter(|label| !seen.contains(*label)) {
                found.whole(*other, "hold-point-differs", format!("{missing} of the section has no row"));
            }
        }
    }
}

/// Every test of the section has a row and a form, word for word, and no other has.
fn tests(section: Reading<'_>, plan: Reading<'_>, found: &mut Found<'_>) {
    if plan.paper.name != "test-plan" {
        return;
    }
    let mut tests: BTreeMap<String, Test> = BTreeMap::new();
    for table in section.tables_with("test heads") {
        for row in &table.rows {
            let [name, method, passes, by, ..] = row.as_slice() else { continue };
            if let Some(number) = number_of(name) {
                let (method, passes, by) = (method.clone(), passes.clone(), by.clone());
                tests.insert(number, Test { method, passes, by });
            }
        }
    }
    let mut seen = BTreeSet::new();
    for table in plan.tables_with("plan heads") {
        for (row, cells) in table.rows.iter().enumerate() {
            let [number, _, method, passes, by, ..] = cells.as_slice() else { continue };
            let Some(passage) = plan.cell(table, row, 1) else { continue };
            let Some(number) = number_of(number) else { continue };
            match tests.get(&number) {
                None => {
                    found.at(plan, "unmatched-test", passage, format!("the section has no test at {number}"));
                }
                Some(test)
                    if test.method != *method || !passes.starts_with(&test.passes) || test.by != *by =>
                {
                    found.at(
                        plan,
                        "test-differs",
                        passage,
                        format!("the section tells the test of {number} otherwise"),
                    );
                }
                Some(_) => {}
            }
            seen.insert(number);
        }
    }
    for missing in tests.keys().filter(|number| !seen.contains(*number)) {
        found.whole(plan, "unmatched-test", format!("the test of {missing} has no row"));
    }
    forms(plan, &tests, found);
}

/// A test as the section's schedule tells it.
struct Test {
    method: String,
    passes: String,
    by: String,
}

/// `3.3 F` of a cell that begins with it.
fn number_of(cell: &str) -> Option<String> {
    let mut said = cell.split([' ', '\u{a0}']);
    let (article, letter) = (said.next()?, said.next()?);
    let is_article =
        article.contains('.') && article.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    is_article.then(|| format!("{article} {letter}"))
}

/// Each test has a form of its own or a line on a sheet, with no other figure than the section's, and rows from the first.
fn forms(plan: Reading<'_>, tests: &BTreeMap<String, Test>, found: &mut Found<'_>) {
    let places: Vec<(String, &Passage)> = plan
        .paper
        .passages
        .iter()
        .filter(|passage| {
            matches!(passage.kind, Kind::Heading { .. } | Kind::Cell { column: 0, row: Some(_), .. })
        })
        .map(|passage| (plan.paper.words(passage).to_lowercase(), passage))
        .collect();
    for (number, test) in tests {
        let form = test.by.rsplit_once(", ").map_or(test.by.as_str(), |(_, form)| form).to_lowercase();
        let is_own =
            |words: &str| words.strip_prefix(form.as_str()).is_some_and(|rest| rest.starts_with([':', ',']));
        let Some((_, place)) = places.iter().find(|(words, _)| is_own(words)) else {
            found.whole(
                plan,
                "test-without-form-page",
                format!("the form {form} of the test of {number} is not here"),
            );
            continue;
        };
        let known: BTreeSet<(String, String)> = figures_in(plan, &format!("{} {}", test.method, test.passes));
        let own = match place.kind {
            Kind::Heading { .. } => plan
                .paper
                .passages
                .iter()
                .filter(|other| other.article == plan.paper.words(place) && other.kind == Kind::Paragraph)
                .collect(),
            _ => vec![*place],
        };
        for passage in own.into_iter().filter(|passage| plan.paper.words(passage).contains("Passes when")) {
            for (number_said, unit) in figures_in(plan, plan.paper.words(passage)) {
                if !known.contains(&(number_said.clone(), unit.clone())) {
                    let message =
                        format!("the form says {number_said} {unit}, the test of {number} does not");
                    found.at(plan, "test-differs", passage, message);
                }
            }
        }
    }
    for table in plan.paper.tables.iter().filter(|table| table.head.first().is_some_and(|head| head == "No."))
    {
        let columns: Vec<usize> =
            table.head.iter().enumerate().filter(|(_, head)| *head == "No.").map(|(at, _)| at).collect();
        let numbers: Vec<usize> = table
            .rows
            .iter()
            .flat_map(|row| columns.iter().filter_map(|at| row.get(*at)?.parse().ok()))
            .collect();
        let is_gap = numbers.iter().enumerate().any(|(at, number)| *number != at + 1);
        if let Some(passage) =
            plan.paper.passages.get(table.first).filter(|_| is_gap || table.rows.is_empty())
        {
            found.at(plan, "form-without-rows", passage, "a row of the form is gone");
        }
    }
}

/// Figures of a crew sheet stand in a paper of the contract too.
fn crew(readings: &[Reading<'_>], sheets: Reading<'_>, found: &mut Found<'_>) {
    if sheets.paper.name != "crew-sheets" {
        return;
    }
    let contract = readings.iter().filter(|reading| reading.is_for("not-an-order"));
    let known: BTreeSet<(String, String)> = contract.flat_map(|reading| figures_of(*reading)).collect();
    for passage in &sheets.paper.passages {
        if !matches!(passage.kind, Kind::Item { .. } | Kind::Cell { .. }) {
            continue;
        }
        let text = sheets.paper.words(passage);
        if sheets.rules.list("words of the mix card").any(|word| text.contains(word)) {
            continue;
        }
        for figure in sheets.rules.units.figures(text) {
            for number in std::iter::once(&figure.low).chain(&figure.high) {
                if !known.contains(&(number.said.clone(), figure.unit.sign.clone()))
                    && !["area", "film"].contains(&figure.unit.kind.as_str())
                {
                    let message =
                        format!("{} {} is in no paper of the contract", number.said, figure.unit.sign);
                    found.at(sheets, "value-differs", passage, message);
                }
            }
        }
    }
}

fn figures_of(reading: Reading<'_>) -> BTreeSet<(String, String)> {
    figures_in(reading, &reading.paper.text)
}

fn figures_in(reading: Reading<'_>, text: &str) -> BTreeSet<(String, String)> {
    let mut known = BTreeSet::new();
    for figure in reading.rules.units.figures(text) {
        for number in std::iter::once(&figure.low).chain(&figure.high) {
            known.insert((number.said.clone(), figure.unit.sign.clone()));
        }
    }
    known
}

/// Limits that a test prints stand in the paragraph that it proves, or in the table below it.
fn limits_of_tests(section: Reading<'_>, found: &mut Found<'_>) {
    let mut by_clause: BTreeMap<&str, BTreeSet<(String, String)>> = BTreeMap::new();
    for passage in &section.paper.passages {
        let clause: &str = match passage.clause.match_indices(' ').nth(1) {
            Some((at, _)) => passage.clause.get(..at).unwrap_or(&passage.clause),
            None => &passage.clause,
        };
        let own = by_clause.entry(clause).or_default();
        for figure in section.rules.units.figures(section.paper.words(passage)) {
            for number in std::iter::once(&figure.low).chain(&figure.high) {
                own.insert((number.said.clone(), figure.unit.sign.clone()));
            }
        }
    }
    for table in section.tables_with("test heads") {
        for (row, cells) in table.rows.iter().enumerate() {
            let (Some(name), Some(passes)) = (cells.first(), cells.get(2)) else { continue };
            let number = name.split(' ').take(2).collect::<Vec<_>>().join(" ");
            let (Some(known), Some(passage)) = (by_clause.get(number.as_str()), section.cell(table, row, 2))
            else {
                continue;
            };
            if known.is_empty() {
                continue;
            }
            for pair in section.rules.units.pairs(passes) {
                let figure = &pair.first;
                if !known.contains(&(figure.low.said.clone(), figure.unit.sign.clone())) {
                    let message = format!("“{}” is not what {number} says", pair.said);
                    found.at(section, "value-differs", passage, message);
                }
            }
        }
    }
}

/// When a paper is due stands in the paragraph that asks for it, in the same words.
fn due(section: Reading<'_>, plan: Reading<'_>, found: &mut Found<'_>) {
    for table in plan.tables_with("hand-in heads") {
        let Some(column) = table.column("Due") else { continue };
        for (row, cells) in table.rows.iter().enumerate() {
            let number = cells.first().and_then(|cell| number_of(cell));
            let (Some(number), Some(words)) = (number, cells.get(column)) else { continue };
            let asking = section.paper.passages.iter().find(|passage| passage.clause == number);
            let (Some(asking), Some(passage)) = (asking, plan.cell(table, row, column)) else { continue };
            if !section.paper.words(asking).contains(words.trim()) {
                let message = format!("“{words}” is not what {number} says");
                found.at(plan, "value-differs", passage, message);
            }
        }
    }
}

/// Zones and what each gets, the same in every paper that lists them.
fn zones(section: Reading<'_>, other: Reading<'_>, found: &mut Found<'_>) {
    let listed = |reading: Reading<'_>, heads: &'static str, column: &str| -> BTreeMap<String, String> {
        let mut zones = BTreeMap::new();
        for table in reading.tables_with(heads) {
            let Some(at) = table.column(column) else { continue };
            for row in &table.rows {
                let what = row.get(at).map(|cell| cell.split(", after").next().unwrap_or(cell).to_owned());
                zones.insert(row.first().cloned().unwrap_or_default(), what.unwrap_or_default());
            }
        }
        zones
    };
    let (ours, theirs) = (listed(section, "zone heads", "Coating"), listed(other, "key heads", "Coat"));
    if other.paper.name != "schedule" || theirs.is_empty() || ours.is_empty() {
        return;
    }
    for (zone, coat) in &ours {
        match theirs.get(zone) {
            None => found.whole(other, "zones-differ", format!("zone {zone} of the section is missing")),
            Some(own) if !own.starts_with(coat.as_str()) => {
                found.whole(
                    other,
                    "zones-differ",
                    format!("zone {zone} gets “{own}” here and “{coat}” in the section"),
                );
            }
            Some(_) => {}
        }
    }
    for zone in theirs.keys().filter(|zone| !ours.contains_key(*zone)) {
        found.whole(other, "zones-differ", format!("the section has no zone {zone}"));
    }
}

/// Where the section speaks of lead, the owner is warned of it.
fn lead(section: Reading<'_>, owner: Reading<'_>, found: &mut Found<'_>) {
    let speaks = section.paper.text.contains("lead-bearing");
    let warned = owner.paper.passages.iter().any(|passage| {
        let is_safety = passage.kind == Kind::Caution || owner.rules.lists("safety titles", &passage.article);
        is_safety && owner.paper.words(passage).contains(" lead")
    });
    if owner.paper.name == "owner-sheet" && speaks && !warned {
        found.whole(
            owner,
            "lead-not-told",
            "the section treats old paint as lead, and the owner is not told",
        );
    }
}

/// Each product article has its submittal.
fn submittals(section: Reading<'_>, found: &mut Found<'_>) {
    let articles: BTreeMap<&str, &Passage> = section
        .paper
        .passages
        .iter()
        .filter(|passage| matches!(passage.kind, Kind::Heading { level: 2, .. }))
        .map(|passage| (section.paper.words(passage), passage))
        .collect();
    let subjects: BTreeMap<&str, &Passage> = section
        .paper
        .passages
        .iter()
        .filter(|passage| {
            section.rules.lists("submittal articles", &passage.article)
                && matches!(passage.kind, Kind::Item { depth: 1, .. })
        })
        .map(|passage| (passage.subject.as_str(), passage))
        .collect();
    for (article, subject) in section.rules.submittals() {
        match (articles.get(article), subjects.get(subject)) {
            (Some(passage), None) => {
                found.at(
                    section,
                    "unmatched-submittal",
                    passage,
                    format!("nothing says to submit “{subject}”"),
                );
            }
            (None, Some(passage)) => {
                found.at(section, "unmatched-submittal", passage, format!("there is no article “{article}”"));
            }
            _ => {}
        }
    }
}

/// Each paragraph of the section has a reason, and each reason its paragraph.
fn reasons(reading: Reading<'_>, section: &Numbers, found: &mut Found<'_>) {
    let mut told = BTreeSet::new();
    for table in reading.tables_with("reason heads") {
        for (row, cells) in table.rows.iter().enumerate() {
            let Some(passage) = reading.cell(table, row, 0) else { continue };
            for words in cells.first().map(|cell| numbers_in(cell)).unwrap_or_default() {
                if section.find(&words).is_none() {
                    found.at(
                        reading,
                        "reason-without-clause",
                        passage,
                        format!("the section has no {words}"),
                    );
                }
                told.insert(words);
            }
        }
    }
    if told.is_empty() {
        return;
    }
    for (number, subject) in section.all().filter(|(number, _)| number.contains(' ')) {
        let lists = ["stating subjects", "subjects of the paper"];
        let stating =
            lists.iter().flat_map(|list| reading.rules.list(list)).any(|own| subject.starts_with(own));
        if !told.contains(number) && !stating && !subject.is_empty() {
            found.whole(reading, "clause-without-reason", format!("{number} {subject} has no reason"));
        }
    }
}

/// Numbers of paragraphs such as `3.3 F` in a cell.
fn numbers_in(cell: &str) -> Vec<String> {
    let said: Vec<&str> = cell.split([' ', '\u{a0}']).collect();
    let is_article = |word: &str| {
        word.split_once('.').is_some_and(|(part, article)| {
            [part, article]
                .iter()
                .all(|side| !side.is_empty() && side.chars().all(|sign| sign.is_ascii_digit()))
        })
    };
    let is_letter =
        |word: &str| !word.is_empty() && word.len() < 4 && word.chars().all(|sign| sign.is_ascii_uppercase());
    let pair = |two: &[&str]| match two {
        [article, letter]
            if is_article(article.rsplit('-').next().unwrap_or(article)) && is_letter(letter) =>
        {
            Some(format!("{article} {letter}"))
        }
        _ => None,
    };
    said.windows(2).filter_map(pair).collect()
}

/// What is filled in on the day of handover is empty before it.
fn record_box(reading: Reading<'_>, found: &mut Found<'_>) {
    for table in &reading.paper.tables {
        for (row, cells) in table.rows.iter().enumerate() {
            let [label, value, ..] = cells.as_slice() else { continue };
            if reading.rules.lists("handover fields", label)
                && !value.trim().is_empty()
                && let Some(passage) = reading.cell(table, row, 1)
            {
                found.at(
                    reading,
                    "record-filled-early",
                    passage,
                    format!("“{label}” says “{value}” before handover"),
                );
            }
        }
    }
}

/// Files as the record of the set lists them, and as they lie there.
fn files(readings: &[Reading<'_>], about: &About, found: &mut Found<'_>) {
    let Some(first) = readings.first() else { return };
    for (name, digest) in &about.listed {
        let own = readings
            .iter()
            .find(|reading| name.strip_suffix(".md") == Some(&reading.paper.name))
            .unwrap_or(first);
        match about.there.iter().find(|(there, _)| there == name) {
            None if !about.there.is_empty() => {
                found.whole(*own, "file-missing", format!("the record lists {name}, and it is not there"));
            }
            Some((_, now)) if now != digest => {
                found.whole(*own, "changed-since-written", format!("{name} is not as it was written"));
            }
            _ => {}
        }
    }
    if about.listed.is_empty() {
        return;
    }
    for (name, _) in
        about.there.iter().filter(|(name, _)| !about.listed.iter().any(|(known, _)| known == name))
    {
        found.whole(*first, "file-not-listed", format!("{name} is not in the record of the set"));
    }
}
