//! Documents from a tiny book: grouping, marks, numbers, references, Markdown, and what authors get wrong.

mod bijections;
mod figures;
mod forms;
mod measures;
mod pages;
pub(crate) mod sets;
mod site;
mod tiny;
mod trade;

use perpend::diagnostic::{Diagnostic, Source};
use perpend::document::block::BlockKind;
use perpend::document::{
    Basis, Document, Issue, ProgramInfo, Templates, Wanted, Written, check, markdown, set,
};
use perpend::inference::infer;
use perpend::rulebook::book::{Book, Condition, Owner};
use perpend::rulebook::clause::{Clause, Reader};
use perpend::survey::Survey;
use perpend::wall::facts::ZoneFacts;
use tiny::{COATING, RAIN_FREE, WASH_PRESSURE, book, clause, coat_is, facts, proved, survey, with_owner};

fn templates() -> Templates {
    Templates::read(&tiny::templates()).expect("the program's own templates")
}

fn program() -> ProgramInfo {
    ProgramInfo { version: "0.0.0".to_owned(), template_digest: "f".repeat(64) }
}

fn written(book: &Book, survey: &Survey, facts: &[ZoneFacts]) -> Result<Written, Vec<Diagnostic>> {
    written_with(&templates(), (book, survey, facts), &Wanted::set())
}

/// Papers by these templates.
fn written_with(
    templates: &Templates,
    (book, survey, facts): (&Book, &Survey, &[ZoneFacts]),
    wanted: &Wanted,
) -> Result<Written, Vec<Diagnostic>> {
    written_since(templates, (book, survey, facts), wanted, None)
}

/// The same behind another issue.
fn written_since(
    templates: &Templates,
    (book, survey, facts): (&Book, &Survey, &[ZoneFacts]),
    wanted: &Wanted,
    before: Option<&Issue>,
) -> Result<Written, Vec<Diagnostic>> {
    let (outcome, program) = (infer(book, survey, facts), program());
    set(Basis { book, survey, facts, outcome: &outcome, templates, program: &program, before }, wanted)
}

fn section(book: &Book, survey: &Survey, facts: &[ZoneFacts]) -> String {
    let mut written = written(book, survey, facts).expect("a set");
    markdown(&written.documents.remove(0))
}

fn paper<'s>(set: &'s Written, name: &str) -> &'s Document {
    set.documents.iter().find(|paper| paper.name == name).expect("a paper of the set")
}

fn lines<'t>(text: &'t str, with: &str) -> Vec<&'t str> {
    text.lines().filter(|line| line.contains(with)).collect()
}

fn washing() -> Clause {
    let parameters = [("wash-pressure", WASH_PRESSURE)];
    clause("wash-pressure", "removal", &parameters, "Hold the water at {{ wash_pressure }}, at the nozzle.")
}

fn shown(mistakes: &[Diagnostic]) -> String {
    let one = |mistake: &Diagnostic| {
        let place = mistake.place.as_ref().map(|place| format!("{place} `{}`", place.text()));
        let help = mistake.help.as_deref().unwrap_or_default();
        format!("{} {}\n  at {}\n  {help}\n", mistake.code, mistake.message, place.unwrap_or_default())
    };
    mistakes.iter().map(one).collect()
}

#[test]
fn zones_alike_print_one_sentence_with_their_codes() {
    let book = book(vec![(washing(), Condition::Always)]);
    let alike = [
        facts(Some(0), Some(1), Some(1)),
        facts(Some(0), Some(1), Some(1)),
        facts(Some(1), Some(1), Some(1)),
    ];
    let text = section(&book, &survey(&["Q1", "Q2"]), &alike[..2]);
    assert!(
        text.contains("**A.** **Wash pressure**. Hold the water at not more than 300\u{a0}psi"),
        "{text}"
    );
    let text = section(&book, &survey(&["Q1", "Q2", "Q3"]), &alike);
    assert!(text.contains("Hold the water at the value in the table, at the nozzle."), "{text}");
    assert_eq!(lines(&text, "| Q1 and Q2 | not more than 300\u{a0}psi (2.07\u{a0}MPa) |").len(), 1, "{text}");
    assert_eq!(lines(&text, "| Q3 | not more than 1,000\u{a0}psi (6.9\u{a0}MPa) |").len(), 1, "{text}");
}

#[test]
fn marks_print_in_words_for_each_zone() {
    let mut rain = clause(
        "rain",
        "application",
        &[("coating.rain-free", RAIN_FREE)],
        "Keep rain off for {{ coating_rain_free }}.",
    );
    rain.stage = Some(tiny::PRIME);
    let silicate_only =
        clause("gloves", "application", &[("coating", COATING)], "Wear gloves for {{ coating }}.");
    let book =
        book(vec![(washing(), Condition::Always), (rain, coat_is(&[0, 1])), (silicate_only, coat_is(&[0]))]);
    let zones =
        [facts(None, Some(1), Some(1)), facts(Some(0), Some(0), Some(1)), facts(Some(0), Some(1), None)];
    insta::assert_snapshot!("marks", section(&book, &survey(&["Q1", "Q2", "Q3"]), &zones));
}

#[test]
fn what_rests_on_memory_alone_is_printed_to_be_confirmed() {
    let mut book = book(vec![(washing(), Condition::Always)]);
    let note = "- *from:* Brief on washing, from memory, to be confirmed";
    let (survey, zones) = (survey(&["Q1"]), [facts(Some(0), Some(1), Some(1))]);
    assert!(!section(&book, &survey, &zones).contains(note));
    book.sources[1].certainty = perpend::rulebook::book::Certainty::FromMemory;
    assert!(section(&book, &survey, &zones).contains(note));
}

#[test]
fn a_released_stop_holds_nothing_back() {
    use perpend::rulebook::book::RuleId;
    use perpend::survey::{Release, Released};
    let mut coat = clause("coat", "application", &[], "Coat the wall.");
    coat.stage = Some(tiny::PRIME);
    let book = book(vec![(coat, Condition::Always)]);
    let zones = [facts(Some(0), Some(0), Some(1))];
    let mut survey = survey(&["Q1"]);
    let text = section(&book, &survey, &zones);
    assert!(text.contains("*After release of stop 1.* Coat the wall."), "{text}");
    let crack = book.rules.iter().position(|rule| rule.name == "moving-crack").map(RuleId).expect("the rule");
    survey.releases.push(Release {
        what: Released::Stop(crack),
        zones: vec![0],
        role: "engineer".to_owned(),
        date: "2027-02-01".to_owned(),
        paper: "report 3".to_owned(),
        place: tiny::place(),
    });
    let text = section(&book, &survey, &zones);
    assert!(text.contains("**Coat**. Coat the wall."), "{text}");
    assert!(text.contains("Released in zone Q1 by the engineer on 2027-02-01: report 3."), "{text}");
}

#[test]
fn empty_articles_drop_out_and_the_rest_is_numbered_without_gaps() {
    let nested = "Do this.\n\n1. First.\n2. Second.\n   1. Deeper.\n   2. Deeper still.";
    let mut job = clause("handed-over", "handover", &[], "Hand over the record.");
    job.owner = Owner::Job;
    let book = book(vec![
        (clause("wash", "removal", &[], nested), Condition::Always),
        (clause("rinse", "removal", &[], "Rinse.\n\nRinse again."), Condition::Always),
        (job, Condition::Always),
    ]);
    let text = section(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]);
    let heads: Vec<_> = text.lines().filter(|line| line.starts_with("##")).collect();
    assert_eq!(
        heads,
        [
            "## PART 1 General",
            "### 1.1 Summary",
            "### 1.2 Sequence and hold points",
            "## PART 2 Execution",
            "### 2.1 Removal of old coating",
            "### 2.2 Handover"
        ]
    );
    let items: Vec<_> = text
        .lines()
        .skip_while(|line| !line.starts_with("### 2.1"))
        .filter(|line| line.contains("- **"))
        .collect();
    assert_eq!(
        items[..3],
        ["- **A.** **Rinse**. Rinse.", "- **B.** Rinse again.", "- **C.** **Wash**. Do this."]
    );
    assert_eq!(
        items[3..7],
        ["  - **1.** First.", "  - **2.** Second.", "    - **a.** Deeper.", "    - **b.** Deeper still."]
    );
    assert_eq!(items[7], "- **A.** **Handed over**. Hand over the record.");
    assert!(text.trim_end().ends_with(&"f".repeat(12)), "{text}");
    assert!(text.contains("**END OF SECTION**"));
}

#[test]
fn references_print_number_and_title() {
    let book = book(vec![
        (washing(), Condition::Always),
        (
            clause("rinse", "cleaning", &[], "Rinse as [the wash](#wash-pressure) says, by [it](#removal)."),
            Condition::Always,
        ),
        (clause("dust", "cleaning", &[], "See [the lead work](#lead)."), Condition::Always),
        (clause("lead", "lead-and-dust", &[], "Never printed."), tiny::is(tiny::CRACK, 0, "crack")),
    ]);
    let zones = [facts(Some(0), Some(1), Some(1))];
    let set = written(&book, &survey(&["Q1"]), &zones).expect("a set");
    let text = markdown(&set.documents[0]);
    assert!(
        text.contains(
            "Rinse as article 2.1, paragraph A, Wash pressure says, by article 2.1, Removal of old coating."
        ),
        "{text}"
    );
    assert!(text.contains("See the lead work."), "{text}");
    insta::assert_snapshot!("reference_to_what_is_not_printed", shown(&set.remarks));
}

#[test]
fn references_article_lists_what_the_printed_clauses_cite() {
    use perpend::rulebook::book::{Citation, SourceId};
    let mut cites = washing();
    cites.cites = vec![Citation { source: SourceId(1), detail: None }];
    let mut silent = clause("silent", "cleaning", &[], "Never printed.");
    silent.cites = vec![Citation { source: SourceId(0), detail: None }];
    let book = book(vec![(cites, Condition::Always), (silent, tiny::is(tiny::CRACK, 0, "crack"))]);
    let text = section(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]);
    assert!(text.contains("- **A.** Brief on washing, an issuer."), "{text}");
    assert!(!text.contains("Common practice"), "{text}");
}

#[test]
fn every_printed_clause_stands_in_the_reasons_with_rule_reason_and_source() {
    let book = book(vec![
        (washing(), Condition::Always),
        (with_owner(clause("look", "handover", &[], "Look."), "do", "Look each year."), Condition::Always),
    ]);
    let zones = [facts(None, Some(0), None), facts(Some(1), Some(1), Some(0))];
    let survey = survey(&["Q1", "Q2"]);
    let set = written(&book, &survey, &zones).expect("a set");
    let reasons = markdown(paper(&set, "reasons"));
    for name in ["wash-pressure", "look"] {
        assert_eq!(lines(&reasons, &format!(" A `{name}` |")).len(), 1, "{reasons}");
        assert!(reasons.contains(&format!("Reason of needs-{name}.")), "{reasons}");
    }
    assert!(reasons.contains("Brief on washing, section 3 (read, checked 2026-11-25)"), "{reasons}");
    insta::assert_snapshot!("reasons", reasons);
}

#[test]
fn the_owner_reads_safety_first_and_finds_a_record_to_fill() {
    let book = book(vec![(
        with_owner(clause("look", "handover", &[], "Look."), "do", "Look each year."),
        Condition::Always,
    )]);
    let set = written(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]).expect("a set");
    let owner = paper(&set, "owner-sheet");
    assert_eq!(owner.style.voice, perpend::document::block::Voice::Plain);
    let first = owner.blocks.iter().find(|block| !matches!(block.kind, BlockKind::Heading { .. }));
    assert!(
        matches!(first.map(|block| &block.kind), Some(BlockKind::Caution { word, .. }) if word == "WARNING")
    );
    insta::assert_snapshot!("owner_sheet", markdown(owner));
}

#[test]
fn quantities_of_the_job_stay_out_of_the_section() {
    let book = book(vec![(washing(), Condition::Always)]);
    let text = section(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]);
    assert!(!text.contains("m²") && !text.contains("sq ft"), "{text}");
}

#[test]
fn words_from_the_survey_are_never_markdown() {
    let book = book(vec![(washing(), Condition::Always)]);
    let set = written(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]).expect("a set");
    assert_eq!(set.documents[0].subtitle, "Tiny hall <b>of</b> *brick*");
    assert!(markdown(&set.documents[0]).contains("**Tiny hall \\<b>of\\</b> \\*brick\\***"));
}

#[test]
fn ids_are_unique_and_links_lead_to_blocks() {
    let book = book(vec![
        (washing(), Condition::Always),
        (
            clause("rinse", "cleaning", &[], "Rinse as [the wash](#wash-pressure) says.\n\n1. One.\n2. Two."),
            Condition::Always,
        ),
    ]);
    let zones = [facts(None, Some(0), None), facts(Some(1), Some(1), Some(0))];
    for document in written(&book, &survey(&["Q1", "Q2"]), &zones).expect("a set").documents {
        let ids: std::collections::BTreeSet<_> =
            document.blocks.iter().map(|block| block.id.as_str()).collect();
        assert_eq!(ids.len(), document.blocks.len(), "{}", document.name);
        assert!(targets(&document).iter().all(|target| ids.contains(target.as_str())));
    }
}

fn targets(document: &Document) -> Vec<String> {
    let text = format!("{:?}", document.blocks);
    text.split("target: \"").skip(1).filter_map(|rest| rest.split('"').next()).map(str::to_owned).collect()
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let book = book(vec![(washing(), Condition::Always)]);
    let zones = [facts(None, Some(0), None)];
    let survey = survey(&["Q1"]);
    let all = |set: Written| set.documents.iter().map(markdown).collect::<String>();
    let first = all(written(&book, &survey, &zones).expect("a set"));
    assert_eq!(first, all(written(&book, &survey, &zones).expect("a set")));
}

#[test]
fn mistakes_of_authors_come_with_their_places() {
    let limit = ("wash-pressure", WASH_PRESSURE);
    let cases: Vec<(&str, Clause)> = vec![
        ("unknown value", clause("a", "removal", &[limit], "Hold at {{ wash_presure }}.")),
        ("broken template", clause("b", "removal", &[limit], "Hold at {{ wash_pressure }.")),
        ("raw html", clause("c", "removal", &[], "Hold <b>fast</b>.")),
        ("comment as a mark", clause("d", "removal", &[], "Hold.\n\n<!-- end -->\n\nFast.")),
        ("unknown reference", clause("e", "removal", &[], "See [the wash](#wash-presure).")),
        ("link away", clause("f", "removal", &[], "See [the page](https://example.org).")),
        ("heading", clause("g", "removal", &[], "# Hold\n\nFast.")),
        ("unknown article", clause("h", "removel", &[], "Hold.")),
        ("unknown list", with_owner(clause("i", "removal", &[], "Hold."), "nevre", "Hold.")),
        (
            "no wording",
            Clause { wording: std::collections::BTreeMap::new(), ..clause("j", "removal", &[], "Hold.") },
        ),
        ("test record", proved(clause("k", "removal", &[limit], "Hold."), "{{ presure }}")),
    ];
    let report = |(what, clause): (&str, Clause)| {
        let book = book(vec![(washing(), Condition::Always), (clause, Condition::Always)]);
        let found = written(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]).expect_err(what);
        assert!(!check(&book, &templates()).is_empty(), "{what}");
        format!("# {what}\n{}", shown(&found))
    };
    insta::assert_snapshot!("mistakes", cases.into_iter().map(report).collect::<String>());
}

#[test]
fn a_limit_that_no_rule_sets_is_a_mistake_of_the_book() {
    let mut book = book(vec![(washing(), Condition::Always)]);
    book.rules.retain(|rule| !["any-wall", "soft-stone"].contains(&rule.name.as_str()));
    let found = written(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]).expect_err("no limit");
    insta::assert_snapshot!("no_limit", shown(&found));
}

#[test]
fn mistakes_in_templates_come_with_their_places() {
    let spoiled = |name: &str, from: &str, to: &str| {
        let files: Vec<_> =
            tiny::templates()
                .into_iter()
                .map(|file| {
                    if file.name == name { Source::new(name, file.text.replacen(from, to, 1)) } else { file }
                })
                .collect();
        let book = book(vec![(washing(), Condition::Always)]);
        let (survey, facts) = (survey(&["Q1"]), [facts(Some(0), Some(1), Some(1))]);
        Templates::read(&files)
            .and_then(|templates| written_with(&templates, (&book, &survey, &facts), &Wanted::set()))
            .map(|_| ())
            .expect_err(to)
    };
    let cases = [
        ("section.md", "{{ job.code }}", "{{ job.cod }}"),
        ("section.md", "END OF SECTION", "<center>END</center>"),
        ("section.md", "END OF SECTION", "{% if %}"),
        ("section.md", "{{ <where clause={clause} /> }}", "{{ <were clause={clause} /> }}"),
        ("section.md", "language: en-GB", "tongue: en-GB"),
        ("section.md", "---\ntitle", "title"),
        ("articles.yaml", "{name: removal, title: Removal of old coating}", "removal"),
        ("words.yaml", "at-most: not more than", "most: not more than"),
    ];
    let all: Vec<_> = cases
        .iter()
        .map(|(name, from, to)| format!("# {to} in {name}\n{}", short(&shown(&spoiled(name, from, to)))))
        .collect();
    insta::assert_snapshot!("template_mistakes", all.join("\n"));
}

/// Long stretches of a quoted file tell nothing.
fn short(text: &str) -> String {
    text.lines()
        .map(|line| format!("{}\n", line.chars().take(160).collect::<String>()))
        .filter(|line| line.len() > 1)
        .take(4)
        .collect()
}

#[test]
fn a_clause_without_words_for_a_reader_is_left_out_of_that_paper_alone() {
    let mut owner_only =
        with_owner(clause("gutters", "removal", &[], "Nothing."), "do", "Clear the gutters.");
    owner_only.article = None;
    owner_only.wording.remove(&Reader::Section);
    let book = book(vec![(owner_only, Condition::Always)]);
    let set = written(&book, &survey(&["Q1"]), &[facts(Some(0), Some(1), Some(1))]).expect("a set");
    assert!(!markdown(&set.documents[0]).contains("utters"));
    assert!(markdown(paper(&set, "owner-sheet")).contains("- Clear the gutters."));
}
