//! The papers for the site on the demo jobs: one page a task, nothing lost, every test and hold point where it belongs,
//! every figure from one source.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use perpend::diagnostic::Source;
use perpend::document::block::{Block, BlockKind, Document, Strong, Table, plain};
use perpend::document::markdown;
use perpend::render::layout;
use perpend::rulebook::clause::Reader;
use perpend::yaml::{self, Node};

use super::figures::papers;
use crate::demos::BOOK;

/// The papers of every job, made once.
static SETS: LazyLock<Vec<(String, Vec<Document>)>> =
    LazyLock::new(|| jobs().into_iter().map(|job| (job.clone(), papers(&job))).collect());

fn of(job: &str) -> &'static [Document] {
    &SETS.iter().find(|(name, _)| name == job).unwrap().1
}

/// Every job of the examples.
fn jobs() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let folders = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let jobs = folders.filter(|path| path.join("survey.yaml").exists());
    let mut names: Vec<String> =
        jobs.map(|path| path.file_name().unwrap().to_string_lossy().into_owned()).collect();
    names.sort();
    assert!(names.len() >= 3);
    names
}

fn paper<'p>(papers: &'p [Document], name: &str) -> &'p Document {
    papers.iter().find(|paper| paper.name == name).unwrap()
}

/// The blocks below a heading, up to the next heading of its level or higher.
fn below<'d>(paper: &'d Document, id: &str) -> &'d [Block] {
    let level = |block: &Block| if let BlockKind::Heading { level, .. } = block.kind { level } else { 9 };
    let Some(start) = paper.blocks.iter().position(|block| block.id == id) else { return &[] };
    let own = level(&paper.blocks[start]);
    let rest = &paper.blocks[start + 1..];
    &rest[..rest.iter().position(|block| level(block) <= own).unwrap_or(rest.len())]
}

fn tables(blocks: &[Block]) -> impl Iterator<Item = &Table> {
    blocks
        .iter()
        .filter_map(|block| if let BlockKind::Table(table) = &block.kind { Some(table) } else { None })
}

fn cells(table: &Table) -> Vec<Vec<String>> {
    table.rows.iter().map(|row| row.iter().map(|cell| plain(cell)).collect()).collect()
}

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
        let mut article = String::new();
        for block in &section.blocks {
            match &block.kind {
                BlockKind::Heading { number, .. } => article = number.clone().unwrap_or_default(),
                BlockKind::Item { depth: 1, label, .. } => {
                    let Some(name) = block.id.strip_suffix(".1") else { continue };
                    let clause = BOOK.clauses.iter().find(|clause| clause.name == name);
                    let for_crew = clause.is_some_and(|clause| clause.wording.contains_key(&Reader::Crew));
                    let number = format!("{article} {}", label.trim_end_matches('.'));
                    let only_if = matches!(&block.kind, BlockKind::Item { text, .. } if plain(text).contains("is chosen"));
                    assert!(!for_crew || only_if || said.contains(&number), "{job}: {name}, {number}");
                }
                _ => {}
            }
        }
    }
}

/// Number in the section and form of every test, as the schedule of tests says.
fn scheduled(section: &Document) -> BTreeSet<(String, String)> {
    let rows: Vec<_> = tables(below(section, "article-schedule")).flat_map(cells).collect();
    let row = |row: &Vec<String>| {
        let mut words = row[0].splitn(3, ' ');
        let number = format!("{} {}", words.next().unwrap(), words.next().unwrap());
        (number, row[3].rsplit_once(", ").unwrap().1.to_owned())
    };
    rows.iter().map(row).collect()
}

#[test]
fn tests_match_rows_of_the_plan_and_forms_one_to_one() {
    for (job, papers) in SETS.iter() {
        let plan = paper(papers, "test-plan");
        let asked = scheduled(paper(papers, "section"));
        let rows: Vec<(String, String)> = tables(below(plan, "plan"))
            .flat_map(cells)
            .filter(|row| !row[1].is_empty())
            .map(|row| (row[1].clone(), row[5].rsplit_once(", ").unwrap().1.to_owned()))
            .collect();
        assert_eq!(rows.len(), asked.len(), "{job}");
        assert_eq!(rows.into_iter().collect::<BTreeSet<_>>(), asked, "{job}");
        let forms: Vec<(String, String)> = plan
            .blocks
            .iter()
            .filter(|block| block.id.starts_with("form-") && matches!(block.kind, BlockKind::Heading { .. }))
            .map(|block| {
                let BlockKind::Paragraph(first) = &below(plan, &block.id)[0].kind else {
                    panic!("{}", block.id)
                };
                let number =
                    plain(first).strip_prefix("Section ").unwrap().split_once(". ").unwrap().0.to_owned();
                (number, block.id.strip_prefix("form-").unwrap().replace('-', " "))
            })
            .collect();
        assert_eq!(forms.len(), asked.len(), "{job}");
        assert_eq!(forms.into_iter().collect::<BTreeSet<_>>(), asked, "{job}");
        for table in tables(below(plan, "forms")) {
            assert!(!table.rows.is_empty() && table.row > perpend::drawing::Mm::of(7.9), "{job}");
        }
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

/// Rows of the form of a clause, by zone.
fn rows(plan: &Document, subject: &str) -> Vec<String> {
    let ends = format!(": {subject}");
    let head = plan
        .blocks
        .iter()
        .find(|block| matches!(&block.kind, BlockKind::Heading { text, .. } if plain(text).ends_with(&ends)))
        .unwrap();
    tables(below(plan, &head.id)).flat_map(cells).map(|row| row[1].clone()).collect()
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
