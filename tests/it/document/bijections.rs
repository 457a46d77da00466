//! What stands in several papers stands in each of them once: papers to hand in, tests, forms, hold points, clauses with
//! their reasons.

use std::collections::BTreeSet;

use perpend::document::block::{BlockKind, Document, Table, plain};
use perpend::rulebook::clause::{Purpose, Reader};

use super::sets::{SETS, below, cells, numbered, paper, tables};
use crate::demos::BOOK;

/// The first two words: `3.2 B`.
fn number(text: &str) -> String {
    text.split_whitespace().take(2).collect::<Vec<_>>().join(" ")
}

/// Number in the section and form of every test, as the schedule of tests says.
fn scheduled(section: &Document) -> Vec<(String, String)> {
    let rows = tables(below(section, "article-schedule")).flat_map(cells);
    rows.map(|row| (number(&row[0]), row[3].rsplit_once(", ").unwrap().1.to_owned())).collect()
}

/// The same as the plan lists it in the order of the work.
fn planned(plan: &Document) -> Vec<(String, String)> {
    let rows = tables(below(plan, "plan")).flat_map(cells).filter(|row| !row[0].starts_with("HP"));
    rows.map(|row| (number(&row[0]), row[4].rsplit_once(", ").unwrap().1.to_owned())).collect()
}

/// The same as there is a form for it: one of its own, or the first row of a part of a sheet.
fn on_forms(plan: &Document) -> Vec<(String, String)> {
    let heads = plan.blocks.iter().filter(|block| matches!(block.kind, BlockKind::Heading { .. }));
    let own = heads.clone().filter_map(|block| {
        let form = block.id.strip_prefix("form-")?.replace('-', " ");
        let BlockKind::Paragraph(first) = &below(plan, &block.id)[0].kind else { panic!("{}", block.id) };
        Some((number(plain(first).strip_prefix("Section ").unwrap()).trim_end_matches('.').to_owned(), form))
    });
    let sheets = heads.filter(|block| block.id.starts_with("sheet-"));
    let rows = sheets.flat_map(|block| tables(below(plan, &block.id)).flat_map(cells).collect::<Vec<_>>());
    let shared = rows.filter_map(|row| {
        let (form, rest) = row[0].split_once(", ")?;
        rest.starts_with(|sign: char| sign.is_ascii_digit()).then(|| (number(rest), form.to_lowercase()))
    });
    let mut found: Vec<_> = own.chain(shared).collect();
    // a test with other limits in other zones has a row for each of them
    found.dedup();
    found
}

#[test]
fn tests_match_rows_of_the_plan_and_forms_one_to_one() {
    for (job, papers) in SETS.iter() {
        let plan = paper(papers, "test-plan");
        let asked = scheduled(paper(papers, "section"));
        let sorted = |list: Vec<(String, String)>| {
            let all = list.len();
            let set: BTreeSet<_> = list.into_iter().collect();
            assert_eq!(set.len(), all, "{job}: one of them stands twice");
            set
        };
        let asked = sorted(asked);
        assert_eq!(sorted(planned(plan)), asked, "{job}: plan");
        assert_eq!(sorted(on_forms(plan)), asked, "{job}: forms");
        for table in tables(below(plan, "forms")) {
            assert!(!table.rows.is_empty() && table.row > perpend::drawing::Mm::of(7.9), "{job}");
        }
    }
}

#[test]
fn each_test_of_the_book_that_a_job_asks_for_is_scheduled_and_nothing_else() {
    for (job, papers) in SETS.iter() {
        let section = paper(papers, "section");
        let tested =
            |name: &str| BOOK.clauses.iter().any(|clause| clause.name == name && clause.test.is_some());
        let printed: BTreeSet<String> = numbered(section)
            .into_iter()
            .filter(|(_, name)| tested(name))
            .map(|(number, _)| number)
            .collect();
        let listed: BTreeSet<String> = scheduled(section).into_iter().map(|(number, _)| number).collect();
        assert_eq!(printed, listed, "{job}");
    }
}

/// `HP1`, `HP2` and so on, in the cells of tables.
fn holds<'t>(tables: impl Iterator<Item = &'t Table>) -> Vec<String> {
    let texts = tables.flat_map(cells).flatten();
    let mut found: Vec<String> = texts
        .filter_map(|text| {
            let word = text.split([' ', ',']).next()?.to_owned();
            let digits = word.strip_prefix("HP")?;
            (!digits.is_empty() && digits.chars().all(|sign| sign.is_ascii_digit())).then_some(word)
        })
        .collect();
    found.sort_by_key(|word| (word.len(), word.clone()));
    found
}

#[test]
fn hold_points_stand_once_in_section_plan_release_and_crew_sheets() {
    for (job, papers) in SETS.iter() {
        let plan = paper(papers, "test-plan");
        let asked = holds(tables(below(paper(papers, "section"), "article-sequence")));
        assert_eq!(holds(tables(below(plan, "plan"))), asked, "{job}");
        assert_eq!(holds(tables(below(plan, "holds"))), asked, "{job}");
        assert_eq!(holds(tables(&paper(papers, "crew-sheets").blocks)), asked, "{job}");
    }
}

#[test]
fn papers_to_hand_in_match_the_plan_one_to_one_with_when_they_are_due_and_what_for() {
    for clause in &BOOK.clauses {
        let is_filed = clause.article.as_deref() == Some("submittals");
        assert_eq!(clause.submit.is_some(), is_filed, "{}", clause.name);
    }
    for (job, papers) in SETS.iter() {
        let section = paper(papers, "section");
        let rows: Vec<Vec<String>> =
            tables(below(paper(papers, "test-plan"), "submittals")).flat_map(cells).collect();
        let asked: Vec<(String, String)> = numbered(section)
            .into_iter()
            .filter(|(_, name)| {
                BOOK.clauses.iter().any(|clause| clause.name == *name && clause.submit.is_some())
            })
            .collect();
        assert!(!asked.is_empty() && asked.len() == rows.len(), "{job}: {asked:?}, {rows:?}");
        for ((number, name), row) in asked.iter().zip(&rows) {
            let clause = BOOK.clauses.iter().find(|clause| clause.name == *name).unwrap();
            let submit = clause.submit.as_ref().unwrap();
            let purpose = if submit.purpose == Purpose::Review { "review" } else { "record" };
            assert_eq!(row[..4], [number, &clause.subject, &submit.due, purpose], "{job}");
            let item = section.blocks.iter().find(|block| block.id == format!("{name}.1")).unwrap();
            let BlockKind::Item { text, .. } = &item.kind else { panic!("{name}") };
            let words = format!("Submit for {purpose}, {}, ", submit.due);
            assert!(plain(text).contains(&words), "{job}: {name} does not say `{words}`: {}", plain(text));
        }
    }
}

#[test]
fn every_clause_leads_to_its_rule_reason_and_source_and_back() {
    for (job, papers) in SETS.iter() {
        let rows: Vec<Vec<String>> =
            tables(below(paper(papers, "reasons"), "clauses")).flat_map(cells).collect();
        let mut traced = BTreeSet::new();
        for row in &rows {
            // its name stands before its digest, behind its reason
            let name = row[2].rsplit(' ').nth(1).unwrap();
            let rule = BOOK.rules.iter().find(|rule| rule.name == name);
            let rule = rule.unwrap_or_else(|| panic!("{job}: no rule of the book in `{}`", row[2]));
            assert!(row[2].starts_with(&typeset(&rule.ground.because)), "{job}: {}", row[2]);
            for citation in &rule.ground.per {
                let title = typeset(&BOOK.sources[citation.source.0].title);
                assert!(row[3].contains(&title), "{job}: {title} is not in {}", row[3]);
            }
            let requires = |name: &str| {
                let id = BOOK.clauses.iter().position(|clause| clause.name == name).unwrap();
                rule.effects.iter().any(|effect| {
                    matches!(effect.kind, perpend::rulebook::book::EffectKind::Require(own) if own.0 == id)
                })
            };
            let mut words = row[0].split_whitespace();
            while let Some(word) = words.next() {
                let is_number = word.starts_with(|sign: char| sign.is_ascii_digit());
                let paragraph = is_number.then(|| words.next().unwrap());
                let name = if is_number { words.next().unwrap() } else { word };
                assert!(requires(name), "{job}: {} does not require {name}", rule.name);
                let number = paragraph.map(|paragraph| format!("{word} {paragraph}")).unwrap_or_default();
                traced.insert((number, name.to_owned()));
            }
        }
        let (section, owner): (BTreeSet<_>, BTreeSet<_>) =
            traced.into_iter().partition(|(number, _)| !number.is_empty());
        let printed: BTreeSet<(String, String)> = numbered(paper(papers, "section"))
            .into_iter()
            .filter(|(_, name)| BOOK.clauses.iter().any(|clause| clause.name == *name))
            .collect();
        assert_eq!(section, printed, "{job}");
        for (_, name) in owner {
            let clause = BOOK.clauses.iter().find(|clause| clause.name == name).unwrap();
            assert!(!clause.wording.contains_key(&Reader::Section), "{job}: {name}");
        }
    }
}

/// Words as a printer sets them.
fn typeset(words: &str) -> String {
    let mut out = String::new();
    for sign in words.chars() {
        out.push(match sign {
            '\'' => '\u{2019}',
            '"' if out.is_empty() || out.ends_with([' ', '(']) => '\u{201c}',
            '"' => '\u{201d}',
            other => other,
        });
    }
    out
}

/// Units in which figures are typed by hand, and what is counted.
const UNITS: [&str; 36] = [
    "min", "h", "days", "day", "weeks", "months", "years", "mm", "m", "m2", "%", "s", "mA", "psi", "°C",
    "°F", "µg/m³", "mg/m³", "mg/cm²", "mg/L", "mL", "MPa", "cfm", "pH", "strokes", "places", "checks",
    "units", "joints", "times", "cycles", "patches", "person", "working", "readings", "up",
];

/// Figures that an author typed: those of `{{ "5 m" | both }}`, and numbers before a unit.
fn typed(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut plain = String::new();
    for (at, piece) in text.split("{{").enumerate() {
        let (inside, behind) =
            if at == 0 { ("", piece) } else { piece.split_once("}}").unwrap_or(("", piece)) };
        if inside.contains("| both") {
            found.extend(inside.split('"').nth(1).map(|figure| figure.replace('\u{a0}', " ")));
        }
        plain.push_str(behind);
        plain.push(' ');
    }
    let words: Vec<&str> =
        plain.split_whitespace().map(|word| word.trim_matches(['.', ',', ';', ':', '(', ')'])).collect();
    for two in words.windows(2) {
        let is_number = two[0].starts_with(|sign: char| sign.is_ascii_digit());
        if is_number && UNITS.contains(&two[1]) {
            found.insert(format!("{} {}", two[0], two[1]));
        }
    }
    found
}

/// A figure that two readers read stands in one place of the book: a limit, a cell of a catalogue, an answer, or a figure
/// of the clause, typed once in its front matter. So it prints alike in every paper.
#[test]
fn a_figure_that_two_readers_read_is_typed_once() {
    assert_eq!(
        typed("Stay {{ \"5 m\" | both }} off for 2 h, {{ wait }} at 3 places."),
        BTreeSet::from(["5 m".to_owned(), "2 h".to_owned(), "3 places".to_owned()])
    );
    let mut twice = Vec::new();
    for clause in &BOOK.clauses {
        let records = clause.test.iter().flat_map(|test| {
            [&test.method, &test.frequency, &test.accept, &test.on_failure].map(String::as_str)
        });
        let texts = clause.wording.values().map(|wording| wording.text.as_str()).chain(records);
        let mut seen = BTreeSet::new();
        for figure in texts.flat_map(typed) {
            if !seen.insert(figure.clone()) {
                twice.push(format!("{}: {figure}", clause.name));
            }
        }
        for figure in &clause.figures {
            let name = figure.name.replace('-', "_");
            let limit = clause.parameters.iter().any(|parameter| parameter.name == figure.name);
            assert!(!limit, "{}: `{name}` is a limit and a figure of its own", clause.name);
        }
    }
    assert_eq!(twice, Vec::<String>::new());
    let own = BOOK.clauses.iter().map(|clause| clause.figures.len()).sum::<usize>();
    assert!(own > 80, "{own} figures");
}
