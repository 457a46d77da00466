//! The papers of the first visit: what they ask, where, when they are written, and what no paper ever says.

use std::path::Path;
use std::sync::Arc;

use perpend::diagnostic::Source;
use perpend::document::block::BlockKind;
use perpend::document::{Basis, Document, ProgramInfo, Templates, Wanted, markdown, set, text, thin};
use perpend::inference::{Outcome, infer};
use perpend::render::layout;
use perpend::rulebook::book::{Fact, Origin, Owner};
use perpend::survey::{self, Survey};
use perpend::wall::{self, facts::ZoneFacts};

use crate::demos::BOOK;
use crate::layout::sticking_out;
use crate::plain_words::{grade, sentences};

/// A job of which nobody has said anything but its code.
const BARE: &str = "survey: 1
job:
  code: NB-01
  name: New job
  issue-date: 2027-03-01
zones:
  - code: A
    name: Front
";

#[expect(clippy::disallowed_methods, reason = "surveys and templates are files")]
fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn demo(name: &str) -> String {
    read(&root().join(format!("examples/{name}/survey.yaml")))
}

fn templates() -> Templates {
    let folder = std::fs::read_dir(root().join("templates/documents")).unwrap();
    let mut paths: Vec<_> = folder.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let files: Vec<Arc<Source>> =
        paths.iter().map(|path| Source::new(path.to_string_lossy(), read(path))).collect();
    Templates::read(&files).expect("the program's own templates")
}

struct Job {
    survey: Survey,
    facts: Vec<ZoneFacts>,
    outcome: Outcome,
    templates: Templates,
    program: ProgramInfo,
}

impl Job {
    fn of(text: &str) -> Self {
        let (survey, found) = survey::read(&Source::new("survey.yaml", text), &BOOK);
        let survey = survey.unwrap_or_else(|| panic!("{found:?}"));
        let facts = wall::work(&survey, &BOOK);
        let outcome = infer(&BOOK, &survey, &facts);
        let program = ProgramInfo { version: "0.0.0".to_owned(), template_digest: "f".repeat(64) };
        Self { survey, facts, outcome, templates: templates(), program }
    }

    fn basis(&self) -> Basis<'_> {
        Basis {
            book: &BOOK,
            survey: &self.survey,
            facts: &self.facts,
            outcome: &self.outcome,
            templates: &self.templates,
            program: &self.program,
            before: None,
        }
    }

    fn papers(&self, wanted: &Wanted) -> Vec<Document> {
        match set(self.basis(), wanted) {
            Ok(written) => written.documents,
            Err(found) => panic!("{found:#?}"),
        }
    }

    fn visit(&self) -> Vec<Document> {
        self.papers(&Wanted::named(&["visit".to_owned()]).unwrap())
    }

    fn paper(&self, name: &str) -> Document {
        self.papers(&Wanted::named(&[name.to_owned()]).unwrap()).remove(0)
    }
}

fn asked(owner: Owner) -> impl Iterator<Item = &'static Fact> {
    BOOK.facts.iter().filter(move |fact| fact.owner == owner && matches!(fact.origin, Origin::Asked(_)))
}

/// Text without the signs that Markdown escapes.
fn said(paper: &Document) -> String {
    markdown(paper).replace('\\', "").replace('\u{a0}', " ").replace('’', "'")
}

#[test]
fn a_bare_survey_sheet_asks_every_question_of_the_book_once_a_zone_with_its_key() {
    let text = said(&Job::of(BARE).paper("survey-sheet"));
    for fact in asked(Owner::Job).chain(asked(Owner::Zone)) {
        assert_eq!(text.matches(&format!("`{}`", fact.name)).count(), 1, "{}", fact.name);
    }
    for key in ["wall", "coats", "cracks", "size", "openings", "not-coated", "adjoins"] {
        assert!(text.contains(&format!("`{key}`")), "{key}");
    }
    for word in ["lime-render", "unknown-paint", "hairline-joint", "storm-drain", "watched-still"] {
        assert!(text.contains(word), "{word} is a word of the survey");
    }
}

#[test]
fn a_question_that_hangs_on_another_stands_behind_it_and_says_so() {
    let text = said(&Job::of(BARE).paper("survey-sheet"));
    let rows: Vec<&str> = text.lines().filter(|line| line.starts_with("| ") && line.contains('`')).collect();
    let at = |key: &str| rows.iter().position(|row| row.contains(&format!("`{key}`"))).unwrap();
    assert!(at("damp-source") > at("damp-seen"));
    // short answers stand two by two
    assert!((0..=1).contains(&(at("drain-works") - at("foot-of-wall"))));
    assert!((0..=1).contains(&(at("lean-height") - at("lean"))));
    assert!(rows[at("damp-source")].contains("*Where damp seen is yes:*"), "{}", rows[at("damp-source")]);
    assert!(rows[at("damp-source")].matches('☐').count() > 5, "words to tick, and a box for could not tell");
}

#[test]
fn a_survey_sheet_is_two_pages_a_zone_and_one_of_the_job() {
    for text in [BARE.to_owned(), demo("watch-house"), demo("tithe-wall")] {
        let job = Job::of(&text);
        let zones = job.survey.zones.len();
        let pages = layout(&job.paper("survey-sheet")).unwrap().pages();
        assert!(pages <= 2 * zones + 2, "{pages} pages for {zones} zones, the job, the words");
    }
}

#[test]
fn answers_are_filled_in_and_what_does_not_arise_is_not_asked() {
    let text = said(&Job::of(&demo("watch-house")).paper("survey-sheet"));
    let zone = |code: &str| {
        let (_, from) = text.split_once(&format!("## {code} ")).unwrap();
        from.split("\n---\n").next().unwrap()
    };
    assert!(zone("Q3").contains("☑ yes"), "the leak is ticked: {}", zone("Q3"));
    let leak = zone("Q3").lines().find(|line| line.contains("`leak`")).unwrap();
    assert!(leak.contains("☑ yes") && leak.contains("☐ no"), "{leak}");
    assert!(!zone("Q0").contains("`moisture`"), "no coat is asked for on the dressings");
    assert!(zone("Q1a").contains("3.9 to 4.4 %, 2 readings"), "{}", zone("Q1a"));
    let told = demo("watch-house").replace(
        "leak: {value: yes, place: flashing at the chimney shoulder, date: 2027-02-12, by: architect, known: measured}",
        "leak: unknown",
    );
    let text = said(&Job::of(&told).paper("survey-sheet"));
    let row = text.lines().rfind(|line| line.contains("`leak`")).unwrap();
    let leak = row.split("`leak` |").nth(1).and_then(|behind| behind.split('|').next()).unwrap();
    assert_eq!(leak.matches('☐').count(), 3, "an open question has nothing ticked: {leak}");
}

#[test]
fn places_are_counted_from_the_area_and_never_under_three() {
    let sized = |size: &str| {
        let survey = format!(
            "{BARE}    coat-asked-for: yes\n    size: {{width: {size}, height: 10 m}}\n    openings: []\n    not-coated: 0 m2\n"
        );
        let text = said(&Job::of(&survey).paper("tests-programme"));
        let row = text.lines().find(|line| line.contains("**Water in the wall.**")).unwrap().to_owned();
        let number = row.split('|').nth(1).unwrap().trim().to_owned();
        let lines = text.lines().filter(|line| line.starts_with(&format!("| {number} | A |"))).count();
        (row.split('|').nth(3).unwrap().trim().to_owned(), lines)
    };
    // one place per 50 m2: 100, 200, 201 m2
    assert_eq!(sized("10 m"), ("A: 3".to_owned(), 3));
    assert_eq!(sized("20 m"), ("A: 4".to_owned(), 4));
    assert_eq!(sized("20.1 m"), ("A: 5".to_owned(), 5));
}

#[test]
fn the_programme_ranks_tests_by_what_hangs_on_them_and_leaves_looking_to_the_sheet() {
    let text = said(&Job::of(&demo("watch-house")).paper("tests-programme"));
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words} in {text}"));
    assert!(at("**Removal trial.**") < at("**Drain trace.**"));
    assert!(text.contains("Q1a: 2, Q1b: 2"), "{text}");
    assert!(text.contains("No coating beside a drain that is not proved to carry its water away"), "{text}");
    assert!(
        !text.contains("lead in old paint"),
        "the paint of the front was tested, and that of the yard is presumed"
    );
    let bare = said(&Job::of(BARE).paper("tests-programme"));
    assert!(!bare.contains("Growth") && !bare.contains("| **Face.**"), "a look is no test: {bare}");
}

#[test]
fn every_row_of_the_table_of_tests_is_a_question_and_every_tested_question_has_a_row() {
    let table = BOOK.catalogues.iter().find(|table| table.name == "tests").expect("rules/trade/tests.yaml");
    let rows: Vec<&str> = table.options.iter().map(|row| row.name.as_str()).collect();
    for row in &rows {
        let known =
            BOOK.facts.iter().any(|fact| fact.name == *row && matches!(fact.origin, Origin::Asked(_)));
        assert!(known, "`{row}` is no question of the book");
    }
    for fact in &BOOK.facts {
        let Origin::Asked(question) = &fact.origin else { continue };
        let tested = question.proof == perpend::rulebook::book::Proof::Tested || !question.methods.is_empty();
        assert!(
            !tested || rows.contains(&fact.name.as_str()),
            "`{}` is tested, and no row says how",
            fact.name
        );
    }
}

#[test]
fn what_the_letter_knows_by_name_is_in_the_book() {
    let file =
        perpend::yaml::read(&Source::new("visit.yaml", read(&root().join("templates/documents/visit.yaml"))));
    let root = file.0.unwrap();
    let names = |list: &str, key: &str| {
        let nodes = root.get(list).unwrap().as_list().unwrap();
        nodes.iter().map(|node| node.get(key).unwrap().as_text().unwrap().to_owned()).collect::<Vec<_>>()
    };
    for fact in names("seen", "fact").into_iter().chain(names("open", "fact")) {
        assert!(BOOK.facts.iter().any(|known| known.name == fact), "`{fact}`");
    }
    for rule in names("stops", "rule") {
        assert!(BOOK.rules.iter().any(|known| known.name == rule), "`{rule}`");
    }
}

#[test]
fn the_letter_is_one_page_safety_first_and_plain() {
    for text in [BARE.to_owned(), demo("watch-house"), demo("tithe-wall"), demo("ferrier-lane-hall")] {
        let letter = Job::of(&text).paper("findings-letter");
        assert_eq!(layout(&letter).unwrap().pages(), 1, "{}", letter.subtitle);
        let first = letter.blocks.iter().find(|block| !matches!(block.kind, BlockKind::Heading { .. }));
        assert!(matches!(&first.unwrap().kind, BlockKind::Caution { word, .. } if word == "WARNING"));
        let grade = grade(&sentences(&letter));
        assert!(grade <= 6.0, "grade {grade:.1}: {}", letter.subtitle);
    }
}

#[test]
fn the_letter_tells_what_was_seen_and_never_what_is_only_feared() {
    let bare = said(&Job::of(BARE).paper("findings-letter"));
    assert!(!bare.contains("What we saw"), "{bare}");
    assert!(!bare.contains("A loose stone or coping was found"), "{bare}");
    assert!(bare.contains("treat the old paint as lead paint, and each wire as live"), "{bare}");
    let house = said(&Job::of(&demo("watch-house")).paper("findings-letter"));
    for words in
        ["**Q3:** Water gets in from above.", "**Q2:** If the drain at the foot works. No one has traced it."]
    {
        assert!(house.contains(words), "{words}: {house}");
    }
}

#[test]
fn the_first_visit_is_written_where_too_much_is_open_and_no_demo_is_thin() {
    let bare = Job::of(BARE);
    let found = thin(bare.basis()).expect("nothing is answered");
    assert_eq!(found.open, found.asked);
    let remark = found.remark();
    assert_eq!(remark.code, "DO017");
    assert!(remark.message.contains("40\u{a0}%"), "the share is the rulebook's: {}", remark.message);
    for name in ["watch-house", "tithe-wall", "ferrier-lane-hall"] {
        assert_eq!(thin(Job::of(&demo(name)).basis()), None, "{name}");
    }
    let names: Vec<String> =
        bare.papers(&Wanted::first_visit()).into_iter().map(|paper| paper.name).collect();
    assert_eq!(names, ["reasons", "survey-sheet", "tests-programme", "findings-letter", "register"]);
    let mut freer = BOOK.clone();
    freer.quantities.retain(|quantity| quantity.name != "most-open-questions");
    assert_eq!(
        thin(Basis { book: &freer, ..bare.basis() }),
        None,
        "a book without the share lets all be written"
    );
}

#[test]
fn the_reasons_of_a_first_visit_give_no_numbers_of_a_section_that_is_not_written() {
    let bare = Job::of(BARE);
    let alone = bare.papers(&Wanted::first_visit()).remove(0);
    let numbered = bare.paper("reasons");
    let number = |paper: &Document| said(paper).matches(" A `").count();
    assert!(number(&numbered) > 10 && number(&alone) == 0, "{} and {}", number(&numbered), number(&alone));
}

#[test]
fn the_sheet_of_a_whole_survey_keeps_to_its_paper() {
    for text in [BARE.to_owned(), demo("watch-house"), demo("tithe-wall")] {
        for paper in Job::of(&text).visit() {
            let laid = layout(&paper).unwrap();
            assert_eq!(sticking_out(&laid), [], "{}", paper.name);
            assert!(!text_of(&paper).is_empty());
        }
    }
}

fn text_of(paper: &Document) -> String {
    text(paper)
}

/// What no paper of any set says, however the job stands. Each is a claim that a professional, a laboratory, a utility, an
/// authority or a court makes, or nobody.
const NEVER: [&str; 26] = [
    "the wall is dry.",
    "the wall is sound",
    "the wall is stable",
    "is structurally sound",
    "no structural risk",
    "is free of lead",
    "is lead-free",
    "no lead is present",
    "is free of asbestos",
    "is asbestos-free",
    "contains no asbestos",
    "the crack is still",
    "the cracks are still",
    "the crack no longer moves",
    "is insulated and may",
    "the line is insulated",
    "the wires are insulated",
    "no consent is needed",
    "consent is not required",
    "needs no consent",
    "the product complies",
    "products comply",
    "is released after",
    "is liable",
    "warranty of",
    "guaranteed for",
];

/// Claims that are denied where they stand.
const DENIED: [&str; 5] = ["only under", "does not say", "nothing in this paper decides", "until", "never"];

/// The sentences that claim what only others may.
pub(crate) fn claims(paper: &str) -> Vec<String> {
    let plain = paper.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let sentences = plain.split_inclusive(['.', '|', '?']).map(str::trim);
    let says = |sentence: &&str| NEVER.iter().any(|claim| sentence.contains(claim));
    let denies =
        |sentence: &&str| sentence.ends_with('?') || DENIED.iter().any(|words| sentence.contains(words));
    sentences.filter(|sentence| says(sentence) && !denies(sentence)).map(str::to_owned).collect()
}

#[test]
fn no_paper_decides_what_only_others_may() {
    assert_eq!(claims("All is well: the wall is stable. The crack is still.").len(), 2);
    assert_eq!(claims("Has anybody said that the line is insulated?").len(), 0);
    assert_eq!(claims("It does not say that the wall is dry. No coat until the crack is still.").len(), 0);
    let variants = [
        BARE.to_owned(),
        demo("watch-house"),
        demo("watch-house").replace("watched: watched-moving", "watched: watched-still"),
        demo("watch-house").replace("value: not-tested", "value: clear-all-layers"),
        demo("watch-house").replace("conductors-near: yes", "conductors-near: no"),
        demo("tithe-wall"),
        demo("ferrier-lane-hall"),
    ];
    for text in variants {
        let job = Job::of(&text);
        for paper in job.papers(&Wanted::set()).iter().chain(&job.visit()) {
            assert_eq!(claims(&said(paper)), [""; 0], "{} of {}", paper.name, paper.subtitle);
        }
    }
}

#[test]
fn the_papers_say_in_words_what_they_do_not_decide() {
    let job = Job::of(&demo("watch-house"));
    let needed = [
        "dry",
        "sound",
        "stable",
        "free of lead",
        "asbestos",
        "a crack is still",
        "a line is insulated",
        "consent is not needed",
        "a product offered complies",
        "no sum, forecast or lapse of days releases",
        "who is liable",
        "how long a warranty runs",
    ];
    for name in ["section", "survey-sheet", "tests-programme"] {
        let text = said(&job.paper(name));
        for words in needed {
            assert!(text.contains(words), "{name} lacks `{words}`");
        }
    }
    let letter = said(&job.paper("findings-letter"));
    for words in
        ["no offer and no leave to start", "does not say that the wall is dry or safe", "free of asbestos"]
    {
        assert!(letter.contains(words), "{words}");
    }
}

#[test]
fn what_the_book_has_no_answer_for_is_an_open_matter_with_who_settles_it() {
    for settled in [demo("watch-house"), demo("watch-house").replace("use: workplace", "use: other")] {
        let section = said(&Job::of(&settled).paper("section"));
        assert!(!section.contains("Open matters"), "the book has an answer there");
    }
    // the trade book names what follows from another country; one that does not leaves a gap
    let other = Job::of(&demo("watch-house").replace("country: US", "country: other"));
    assert!(!said(&other.paper("section")).contains("Open matters"));
    let mut book = BOOK.clone();
    book.rules.retain(|rule| !rule.place.text().contains("where country is other"));
    let outcome = infer(&book, &other.survey, &other.facts);
    let basis = Basis { book: &book, outcome: &outcome, ..other.basis() };
    let wanted = |name: &str| Wanted::named(&[name.to_owned()]).unwrap();
    for (paper, words) in [
        (
            "section",
            "**Open matters.** The rulebook has no answer to these. The Architect will settle each in writing",
        ),
        ("section", "Country is \"other\", and the rulebook holds no law for it (all zones)"),
        ("reasons", "the architect settles each in writing"),
        ("tests-programme", "country is \"other\", and the rulebook holds no law for it"),
        (
            "findings-letter",
            "Our book of rules has no answer on one point: the law. The architect says what to do.",
        ),
    ] {
        let text = said(&set(basis, &wanted(paper)).unwrap().documents[0]).replace(['“', '”'], "\"");
        assert!(text.contains(words), "{paper} lacks `{words}`:\n{text}");
    }
}

#[test]
fn a_limit_that_waits_for_an_answer_is_told_as_not_known_yet() {
    // the suction of a grinder goes by its wheel, and nobody has said how wide that is
    let section = said(&Job::of(BARE).paper("section"));
    assert!(section.contains("not yet known"), "{section}");
}
