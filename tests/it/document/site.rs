//! The papers for the site on all jobs: one page a task, nothing lost, every test and hold point where it belongs,
//! every figure from one source.

use std::collections::BTreeSet;

use perpend::diagnostic::Source;
use perpend::document::block::{Block, BlockKind, Document, Strong, plain};
use perpend::document::markdown;
use perpend::render::layout;
use perpend::rulebook::clause::Reader;
use perpend::yaml::{self, Node};

use super::sets::{SETS, below, cells, numbered, of, paper, tables};
use crate::demos::BOOK;

#[test]
fn a_crew_sheet_is_one_page_with_nine_steps_at_most_and_opens_with_its_warning() {
    for (job, papers) in SETS.iter() {
        let crew = paper(papers, "crew-sheets");
        let heads: Vec<&Block> =
            crew.blocks.iter().filter(|block| matches!(block.kind, BlockKind::Heading { .. })).collect();
        assert_eq!(layout(crew).unwrap().pages(), heads.len(), "{job}");
        for head in heads {
            let blocks = below(crew, &head.id);
            assert!(matches!(blocks[0].kind, BlockKind::Caution { .. }), "{job}, {}", head.id);
            let steps = blocks.iter().filter(|block| matches!(block.kind, BlockKind::Item { .. })).count();
            assert!((1..=9).contains(&steps), "{job}, {}: {steps} steps", head.id);
        }
    }
}

/// Numbers such as `3.2 B` by which steps cite the section: `(3.2 A, B; 3.4 C)`.
fn cited(crew: &Document) -> BTreeSet<String> {
    let steps = crew.blocks.iter().filter_map(|block| match &block.kind {
        BlockKind::Item { text, .. } => Some(plain(text)),
        _ => None,
    });
    let mut found = BTreeSet::new();
    for step in steps {
        let Some((_, tail)) = step.rsplit_once('(') else { continue };
        for article in tail.trim_end_matches(')').split("; ") {
            let (number, paragraphs) = article.split_once(' ').unwrap();
            found.extend(paragraphs.split(", ").map(|paragraph| format!("{number} {paragraph}")));
        }
    }
    found
}

#[test]
fn no_word_for_the_crew_is_lost() {
    for (job, papers) in SETS.iter() {
        let (section, crew) = (paper(papers, "section"), paper(papers, "crew-sheets"));
        let said = cited(crew);
        for (number, name) in numbered(section) {
            let clause = BOOK.clauses.iter().find(|clause| clause.name == name);
            let for_crew = clause.is_some_and(|clause| clause.wording.contains_key(&Reader::Crew));
            let text = section.blocks.iter().find(|block| block.id == format!("{name}.1"));
            let only_if = text.is_some_and(|block| matches!(&block.kind, BlockKind::Item { text, .. } if plain(text).contains("is chosen")));
            assert!(!for_crew || only_if || said.contains(&number), "{job}: {name}, {number}");
        }
    }
}

/// The zone of each place on the form of a clause.
fn rows(plan: &Document, subject: &str) -> Vec<String> {
    let ends = format!(": {subject}");
    let head = plan
        .blocks
        .iter()
        .find(|block| matches!(&block.kind, BlockKind::Heading { text, .. } if plain(text).ends_with(&ends)))
        .unwrap();
    let zones = tables(below(plan, &head.id)).flat_map(|table| {
        let columns = table.head.iter().enumerate().filter(|(_, head)| plain(head) == "Zone, place");
        let columns: Vec<usize> = columns.map(|(at, _)| at).collect();
        let rows = cells(table).into_iter();
        rows.flat_map(move |row| columns.iter().filter_map(|at| row.get(*at).cloned()).collect::<Vec<_>>())
    });
    zones.filter(|zone| !zone.is_empty()).collect()
}

#[test]
fn places_are_counted_from_the_area() {
    let papers = of("watch-house");
    let plan = paper(papers, "test-plan");
    let count = |subject: &str, zone: &str| rows(plan, subject).iter().filter(|own| *own == zone).count();
    // Q2 is 14.2 m by 10 m less 8 of 1.1 m by 1.8 m and 1 of 1.0 m by 2.1 m: 124.06 m2; one joint per 5 m2.
    assert_eq!(count("Raking joints", "Q2"), 25);
    // Q3 is 18 m by 1.1 m: 19.8 m2, which is 4 joints, and 5 is the least.
    assert_eq!(count("Raking joints", "Q3"), 5);
    // One place per 20 m2: Q1a is 120.7 m2 less 22.68 m2 and 9 m2, so 89.02 m2.
    assert_eq!(count("Sound", "Q1a"), 5);
    assert_eq!(count("Sound", "Q2"), 7);
    assert_eq!(count("Sound", "Q1b"), 5);
}

/// Every figure with its unit: a number, a hard space, a unit.
fn figures(text: &str) -> BTreeSet<String> {
    let pieces: Vec<&str> = text.split('\u{a0}').collect();
    let number = |piece: &str| {
        let start = piece.trim_end_matches(|sign: char| sign.is_ascii_digit() || ",.−".contains(sign));
        piece.strip_prefix(start).unwrap_or_default().trim_start_matches([',', '.']).to_owned()
    };
    let unit =
        |piece: &str| piece.split([' ', ')', ';', ',', '(', '|', '\n', '*', '<']).next().unwrap().to_owned();
    let pairs = pieces.windows(2).map(|two| (number(two[0]), unit(two[1]).trim_end_matches('.').to_owned()));
    pairs
        .filter(|(number, unit)| !number.is_empty() && !unit.is_empty())
        .map(|(n, u)| format!("{n} {u}"))
        .collect()
}

#[test]
fn every_figure_of_sheets_and_plan_stands_in_the_section() {
    for (job, papers) in SETS.iter() {
        let text = markdown(paper(papers, "section"));
        let section = figures(&text);
        let plan = figures(&markdown(paper(papers, "test-plan")));
        assert!(plan.len() > 10, "{job}: {plan:?}");
        assert_eq!(plan.difference(&section).collect::<Vec<_>>(), Vec::<&String>::new(), "{job}: plan");
        let mut crew = paper(papers, "crew-sheets").clone();
        // mixing, coverage and the grid hold figures of the catalogue and of the schedule
        crew.blocks.retain(|block| match &block.kind {
            BlockKind::Table(table) => table.strong == Strong::Large,
            BlockKind::Figure(_) => false,
            _ => true,
        });
        let crew = figures(&markdown(&crew).replace(" to ", "\u{a0}x "));
        let strange = crew.iter().filter(|figure| {
            let (number, unit) = figure.split_once(' ').unwrap();
            if unit == "x" { !text.contains(number) } else { !section.contains(*figure) }
        });
        assert_eq!(strange.collect::<Vec<_>>(), Vec::<&String>::new(), "{job}: crew");
    }
}

#[test]
fn quantities_stand_in_the_schedule_and_not_in_the_section() {
    for (job, papers) in SETS.iter() {
        let schedule = paper(papers, "schedule");
        let section = markdown(paper(papers, "section"));
        let areas: Vec<String> =
            tables(below(schedule, "areas")).flat_map(cells).map(|row| row.last().unwrap().clone()).collect();
        assert!(areas.iter().any(|area| area.contains("m²")), "{job}: {areas:?}");
        for area in areas.iter().filter(|area| *area != "not known") {
            assert!(!section.contains(area.as_str()), "{job}: {area}");
        }
    }
}

/// Names of a list in `site.yaml`.
fn names(node: &Node, key: &str) -> Vec<String> {
    let list = node.get(key).and_then(Node::as_list).unwrap_or_default();
    list.iter().filter_map(Node::as_text).map(str::to_owned).collect()
}

#[test]
fn the_trade_book_and_the_papers_for_the_site_know_each_other() {
    let text = include_str!("../../../templates/documents/site.yaml");
    let root = yaml::read(&Source::new("site.yaml", text)).0.unwrap();
    let (mut clauses, mut articles, mut stages) = (Vec::new(), Vec::new(), Vec::new());
    let mut limits = Vec::new();
    for task in root.get("tasks").and_then(Node::as_list).unwrap() {
        limits.extend(names(task, "limits"));
        for step in task.get("steps").and_then(Node::as_list).unwrap() {
            clauses.extend(names(step, "clauses"));
            articles.extend(names(step, "articles"));
            stages.extend(names(step, "stages"));
        }
        stages.extend(names(task, "stages"));
    }
    for name in &clauses {
        assert!(BOOK.clauses.iter().any(|clause| clause.name == *name), "no clause `{name}`");
    }
    for name in &limits {
        assert!(BOOK.quantities.iter().any(|quantity| quantity.name == *name), "no quantity `{name}`");
    }
    for name in &stages {
        assert!(BOOK.stages.iter().any(|stage| stage.name == *name), "no stage `{name}`");
    }
    for name in names(&root, "found").iter().chain(&names(&root, "access")) {
        assert!(BOOK.facts.iter().any(|fact| fact.name == *name), "no fact `{name}`");
    }
    let forms = root.get("forms").and_then(Node::as_list).unwrap();
    let forms: Vec<&str> = forms.iter().filter_map(|form| form.get("name")?.as_text()).collect();
    for clause in &BOOK.clauses {
        let stage = clause.stage.map(|stage| BOOK.stages[stage.0].name.clone());
        let is_claimed = clauses.contains(&clause.name)
            || clause.article.as_ref().is_some_and(|article| articles.contains(article))
            || stage.is_some_and(|stage| stages.contains(&stage));
        let for_crew = clause.wording.contains_key(&Reader::Crew);
        assert!(!for_crew || is_claimed, "no crew sheet says `{}`", clause.name);
        let Some(test) = &clause.test else { continue };
        assert!(forms.contains(&test.form.as_str()), "no form `{}`", test.form);
        assert!(clause.wording.contains_key(&Reader::Form), "`{}` has a test and no form", clause.name);
    }
}
