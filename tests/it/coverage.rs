//! The page that says what carries each row of the two tables of candidate rules: none is lost, none stands twice, and
//! whatever it names is in the trade book.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use perpend::rulebook::book::{Certainty, Citation, EffectKind, Origin, Rule};
use perpend::rulebook::clause::ParameterKind;

use crate::demos::BOOK;

fn file(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

/// A row of the page: what carries it, by kind, or why nothing does; and how sure the row is.
struct Row {
    carried: BTreeMap<String, Vec<String>>,
    why_not: Option<String>,
    sure: String,
}

/// The rows of the page by id, each once.
fn page() -> BTreeMap<String, Row> {
    let text = file("docs/coverage.md");
    let mut rows = BTreeMap::new();
    for line in text.lines().filter(|line| line.starts_with("| ")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        if cells[0] == "Row" || cells[0] == "---" {
            continue;
        }
        assert_eq!(cells.len(), 4, "{line}");
        let why_not = cells[2].strip_prefix("Not a rule: ").map(str::to_owned);
        let row = Row {
            carried: if why_not.is_some() { BTreeMap::new() } else { carried(cells[2]) },
            why_not,
            sure: cells[3].to_owned(),
        };
        assert!(rows.insert(cells[0].to_owned(), row).is_none(), "{} stands twice", cells[0]);
    }
    rows
}

/// `rule `a`, `b`; clause `c`. A note.`
fn carried(words: &str) -> BTreeMap<String, Vec<String>> {
    let named = words.split(". ").next().unwrap();
    let mut found = BTreeMap::new();
    for part in named.split("; ") {
        let (kind, names) = part.split_once(' ').unwrap_or_else(|| panic!("`{words}` names nothing"));
        let names = names.split(", ").map(|name| name.trim_matches('`').to_owned()).collect();
        found.insert(kind.to_owned(), names);
    }
    found
}

/// The ids of a table with how sure each row is: its first column and its last.
fn table(name: &str) -> Vec<(String, String)> {
    let text = file(&format!("tests/published/{name}"));
    let ends = |line: &str| {
        let (id, sure) = (line.split(',').next().unwrap(), line.rsplit(',').next().unwrap());
        (id.to_owned(), sure.to_owned())
    };
    text.lines().skip(1).map(ends).collect()
}

fn has(kind: &str, name: &str) -> bool {
    let book = &*BOOK;
    let fact = |asked: bool| {
        let is_it = |fact: &&perpend::rulebook::book::Fact| fact.name == name;
        book.facts.iter().find(is_it).is_some_and(|fact| matches!(fact.origin, Origin::Asked(_)) == asked)
    };
    match kind {
        "rule" => book.rules.iter().any(|rule| rule.name == name),
        "clause" => book.clauses.iter().any(|clause| clause.name == name),
        "fact" => fact(true),
        "worked" => fact(false),
        "quantity" => book.quantities.iter().any(|quantity| quantity.name == name),
        "finding" => book.findings.iter().any(|finding| finding.name == name),
        "promise" => book.promises.iter().any(|promise| promise.name == name),
        "stage" => book.stages.iter().any(|stage| stage.name == name),
        "source" => book.sources.iter().any(|source| source.name == name),
        "column" => {
            let (catalogue, column) = name.split_once('/').unwrap();
            let catalogue = book.catalogues.iter().find(|own| own.name == catalogue);
            catalogue.is_some_and(|catalogue| catalogue.column(column).is_some())
        }
        _ => panic!("`{kind}` is no kind of thing that carries a row"),
    }
}

#[test]
fn every_row_stands_once_with_what_carries_it_or_why_nothing_does() {
    let page = page();
    let mut rows = table("safety-rules.csv");
    rows.extend(table("masonry-rules.csv"));
    assert_eq!(rows.len(), 124 + 245);
    let ids: BTreeSet<&String> = rows.iter().map(|(id, _)| id).collect();
    assert_eq!(ids, page.keys().collect(), "the page and the tables list different rows");
    for (id, sure) in &rows {
        let row = &page[id];
        assert_eq!(&row.sure, sure, "{id}");
        match &row.why_not {
            Some(why) => assert!(why.len() > 40, "{id} gives no reason: `{why}`"),
            None => assert!(!row.carried.is_empty(), "{id} is carried by nothing"),
        }
        for (kind, names) in &row.carried {
            for name in names {
                assert!(has(kind, name), "{id} names {kind} `{name}`, which the trade book does not hold");
            }
        }
    }
}

#[test]
fn the_page_counts_what_it_lists() {
    let page = page();
    let carried = |table_name: &str| {
        let rows = table(table_name);
        (rows.len(), rows.iter().filter(|(id, _)| page[id].why_not.is_none()).count())
    };
    let (safety, masonry) = (carried("safety-rules.csv"), carried("masonry-rules.csv"));
    let words = format!(
        "Of {} rows on safety and consent {} are carried, of {} rows on masonry {}.",
        safety.0, safety.1, masonry.0, masonry.1
    );
    assert!(file("docs/coverage.md").contains(&words), "{words}");
}

fn certainties(per: &[Citation]) -> Vec<Certainty> {
    per.iter().map(|citation| BOOK.sources[citation.source.0].certainty).collect()
}

/// Whether all that a rule rests on, common practice aside, is remembered.
fn on_memory_alone(rule: &Rule) -> bool {
    let sure = certainties(&rule.ground.per);
    sure.contains(&Certainty::FromMemory)
        && sure.iter().all(|sure| matches!(sure, Certainty::FromMemory | Certainty::CommonPractice))
}

/// Whether a clause of the section prints something that the rule brings.
fn prints(rule: &Rule) -> bool {
    rule.effects.iter().any(|effect| match &effect.kind {
        EffectKind::Require(clause) => BOOK.clauses[clause.0].article.is_some(),
        EffectKind::Limit { quantity, .. } => BOOK.clauses.iter().any(|clause| {
            clause.article.is_some()
                && clause.parameters.iter().any(|own| own.kind == ParameterKind::Limit(*quantity))
        }),
        _ => false,
    })
}

#[test]
fn what_is_remembered_on_safety_and_consent_prints_to_be_confirmed_with_a_day() {
    let page = page();
    let mut silent = Vec::new();
    for (id, _) in
        table("safety-rules.csv").iter().filter(|(id, sure)| sure == "from memory" && id != "GEN-02")
    {
        let named = |kind: &str| page[id].carried.get(kind).cloned().unwrap_or_default();
        let by_rule = named("rule").iter().any(|name| {
            let rule = BOOK.rules.iter().find(|rule| rule.name == *name).unwrap();
            on_memory_alone(rule) && prints(rule)
        });
        let by_clause = named("clause").iter().any(|name| {
            let clause = BOOK.clauses.iter().find(|clause| clause.name == *name).unwrap();
            certainties(&clause.cites).contains(&Certainty::FromMemory)
        });
        if !by_rule && !by_clause {
            silent.push(id.clone());
        }
    }
    assert_eq!(silent, Vec::<String>::new(), "remembered, and printed as if it were known");
}

#[test]
fn every_source_of_law_or_memory_says_when_to_look_again() {
    for source in &BOOK.sources {
        if source.certainty == Certainty::CommonPractice {
            continue;
        }
        assert!(source.checked.is_some() && source.again_by.is_some(), "{}", source.name);
    }
}
