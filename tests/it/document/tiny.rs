//! A tiny book and survey, made by hand: washing, coating, one crack.

use std::collections::BTreeMap;
use std::sync::Arc;

use perpend::diagnostic::{Place, Source};

use perpend::rulebook::book::{
    Audience, Book, Bound, Catalogue, CatalogueOption, Cell, CellValue, Certainty, Citable, Citation, Column,
    ColumnId, Condition, Departure, Effect, EffectKind, Fact, FactId, Ground, IfUnsure, Kind, Law,
    LimitValue, LimitedQuantity, OptionId, Origin, Owner, Picks, Proof, QuantityId, Question, Refused, Rule,
    Slot, SlotId, SourceId, Stage, StageId, Step, Stops, Test, TestKind,
};
use perpend::rulebook::cells::{CellSet, Cells};
use perpend::rulebook::clause::{Clause, Parameter, ParameterKind, Reader, TestRecord, Wording};
use perpend::survey::{Job, Profile, SheetSize, Survey, Zone};
use perpend::units::{Dimension, Quantity, System};
use perpend::wall::facts::{FactAnswer, Given, ZoneFacts};

pub(super) const STONE: FactId = FactId(0);
pub(super) const CRACK: FactId = FactId(1);
pub(super) const RESIDUE: FactId = FactId(2);
pub(super) const WASH_PRESSURE: ParameterKind = ParameterKind::Limit(QuantityId(0));
pub(super) const COATING: ParameterKind = ParameterKind::Chosen(SlotId(0));
pub(super) const RAIN_FREE: ParameterKind = ParameterKind::Column(SlotId(0), ColumnId(0));
pub(super) const PRIME: StageId = StageId(1);

pub(super) fn place() -> Place {
    Place::new(&Source::new("tiny.rule", "a tiny book"), 0, 11)
}

fn ground(because: &str) -> Ground {
    Ground {
        because: because.to_owned(),
        per: vec![Citation { source: SourceId(1), detail: Some("section 3".to_owned()) }],
    }
}

/// A condition that a yes-no or one-of fact has this value.
pub(super) fn is(fact: FactId, cell: usize, words: &str) -> Condition {
    Condition::Test(Test {
        kind: TestKind::Fact { fact, cells: CellSet::one(cell) },
        words: words.to_owned(),
        place: place(),
    })
}

/// A condition that one of these coats is chosen.
pub(super) fn coat_is(options: &[usize]) -> Condition {
    let options = options.iter().map(|option| OptionId(*option)).collect();
    Condition::Test(Test {
        kind: TestKind::Chosen { slot: SlotId(0), options },
        words: "chosen coating".to_owned(),
        place: place(),
    })
}

pub(super) fn rule(name: &str, when: Condition, effects: Vec<EffectKind>) -> Rule {
    Rule {
        name: name.to_owned(),
        topic: "tiny".to_owned(),
        when,
        effects: effects.into_iter().map(|kind| Effect { kind, place: place() }).collect(),
        ground: ground(&format!("Reason of {name}.")),
        if_unsure: IfUnsure::Apply,
        departure: Departure::Allowed,
        place: place(),
    }
}

/// A clause of a zone with a wording for the section.
pub(super) fn clause(
    name: &str,
    article: &str,
    parameters: &[(&str, ParameterKind)],
    section: &str,
) -> Clause {
    let source = Source::new(format!("clauses/{name}.md"), section);
    let wording = Wording { text: section.to_owned(), place: Place::new(&source, 0, section.len()) };
    Clause {
        name: name.to_owned(),
        owner: Owner::Zone,
        article: Some(article.to_owned()),
        care: None,
        stage: None,
        order: 10,
        subject: capital(name),
        parameters: parameters
            .iter()
            .map(|(name, kind)| Parameter { name: (*name).to_owned(), kind: *kind, place: place() })
            .collect(),
        figures: Vec::new(),
        cites: Vec::new(),
        submit: None,
        test: None,
        wording: BTreeMap::from([(Reader::Section, wording)]),
        place: Place::new(&source, 0, 1),
    }
}

fn capital(name: &str) -> String {
    let words = name.replace('-', " ");
    words.get(..1).unwrap_or_default().to_uppercase() + words.get(1..).unwrap_or_default()
}

pub(super) fn with_owner(mut clause: Clause, care: &str, words: &str) -> Clause {
    let source = Source::new(format!("clauses/{}.md", clause.name), words);
    let wording = Wording { text: words.to_owned(), place: Place::new(&source, 0, words.len()) };
    clause.care = Some(care.to_owned());
    clause.wording.insert(Reader::Owner, wording);
    clause
}

pub(super) fn quantity(text: &str, dimension: Dimension) -> Quantity {
    Quantity::parse(text, dimension).expect("a quantity")
}

fn coating(name: &str, title: &str, rain_free: &str) -> CatalogueOption {
    let hours = quantity(rain_free, Dimension::Duration);
    let cell = Cell { value: CellValue::Measure(hours.clone(), hours), per: Vec::new(), place: place() };
    CatalogueOption { name: name.to_owned(), title: title.to_owned(), cells: vec![cell], place: place() }
}

fn fact(name: &str, kind: Kind, values: usize) -> Fact {
    Fact {
        name: name.to_owned(),
        owner: Owner::Zone,
        kind,
        origin: Origin::Asked(Question {
            ask: format!("What of the {}?", name.replace('-', " ")),
            only_where: None,
            good_for_days: None,
            proof: Proof::AnyAnswer,
            methods: Vec::new(),
            told_with: None,
        }),
        cells: Cells::of_values(values, false),
        place: place(),
    }
}

fn source(name: &str, title: &str, certainty: Certainty) -> Citable {
    Citable {
        name: name.to_owned(),
        title: title.to_owned(),
        issuer: Some("an issuer".to_owned()),
        edition: None,
        certainty,
        law: Law::Advisory,
        checked: Some("2026-11-25".to_owned()),
        again_by: None,
        countries: Vec::new(),
        place: place(),
    }
}

fn stage(name: &str, after: &[usize], stops: Stops) -> Stage {
    Stage {
        name: name.to_owned(),
        after: after.iter().map(|id| StageId(*id)).collect(),
        stops,
        place: place(),
    }
}

fn limit(bound: Bound, value: &str) -> EffectKind {
    let value = LimitValue::Literal(quantity(value, Dimension::Pressure));
    EffectKind::Limit { quantity: QuantityId(0), bound, value }
}

/// Rules of the tiny book before any clause: two limits, one refusal, one stop, one hold point, one caution.
fn rules() -> Vec<Rule> {
    vec![
        rule("any-wall", Condition::Always, vec![limit(Bound::AtMost, "1000 psi")]),
        rule("soft-stone", is(STONE, 0, "stone is soft"), vec![limit(Bound::AtMost, "300 psi")]),
        rule(
            "residue-left",
            is(RESIDUE, 0, "residue"),
            vec![EffectKind::Refuse { slot: SlotId(0), which: Refused::Named(vec![OptionId(0)]) }],
        ),
        rule(
            "moving-crack",
            is(CRACK, 0, "crack"),
            vec![EffectKind::Stop {
                what: "No coating until an engineer has reported on the crack.".to_owned(),
                until: "the report is on file".to_owned(),
                released_by: "engineer".to_owned(),
            }],
        ),
        rule(
            "washed-wall",
            Condition::Always,
            vec![
                EffectKind::HoldPoint {
                    name: "dry-enough".to_owned(),
                    before: PRIME,
                    released_by: "inspector".to_owned(),
                    notice_hours: Some(24),
                    form: Some("moisture".to_owned()),
                },
                EffectKind::Caution {
                    words: "Keep people away from the jet.".to_owned(),
                    readers: vec![Audience::Crew, Audience::Owner],
                },
            ],
        ),
    ]
}

/// The book with these clauses, each required by a rule of its own with the condition beside it.
pub(super) fn book(clauses: Vec<(Clause, Condition)>) -> Book {
    let mut rules = rules();
    for (index, (clause, when)) in clauses.iter().enumerate() {
        let require = EffectKind::Require(perpend::rulebook::book::ClauseId(index));
        rules.push(rule(&format!("needs-{}", clause.name), when.clone(), vec![require]));
    }
    Book {
        title: "Tiny".to_owned(),
        edition: "1".to_owned(),
        digest: "0123456789abcdef".repeat(4),
        sources: vec![
            source("common-practice", "Common practice", Certainty::CommonPractice),
            source("brief", "Brief on washing", Certainty::Read),
        ],
        stages: vec![stage("wash", &[], Stops::PassIt), stage("prime", &[0], Stops::HoldIt)],
        facts: vec![
            fact("stone", Kind::OneOf(vec!["soft".to_owned(), "hard".to_owned()]), 2),
            fact("crack", Kind::YesNo, 2),
            fact("residue-after-trial", Kind::YesNo, 2),
        ],
        quantities: vec![LimitedQuantity {
            name: "wash-pressure".to_owned(),
            owner: Owner::Zone,
            dimension: Dimension::Pressure,
            during: None,
            measured: Some("at the nozzle".to_owned()),
            taken_as: None,
            departure: Departure::Allowed,
            place: place(),
        }],
        catalogues: vec![Catalogue {
            name: "coatings".to_owned(),
            columns: vec![Column {
                name: "rain-free".to_owned(),
                title: "rain-free time after each coat".to_owned(),
                kind: Kind::Measure { dimension: Dimension::Duration, from: None, to: None },
                worst: None,
                per: Vec::new(),
                place: place(),
            }],
            options: vec![
                coating("silicate", "two-component silicate paint", "24 h"),
                coating("limewash", "limewash", "12 h"),
            ],
            place: place(),
        }],
        slots: vec![Slot {
            name: "coating".to_owned(),
            picks: Picks::One,
            catalogue: perpend::rulebook::book::CatalogueId(0),
            only_where: None,
            place: place(),
        }],
        findings: Vec::new(),
        rules,
        promises: Vec::new(),
        waivers: Vec::new(),
        clauses: clauses.into_iter().map(|(clause, _)| clause).collect(),
        order: vec![Step::Slot(SlotId(0))],
        statement_digests: BTreeMap::new(),
        house: None,
    }
}

/// A test record with every field.
pub(super) fn proved(mut clause: Clause, accept: &str) -> Clause {
    clause.test = Some(TestRecord {
        method: "gauge at the nozzle".to_owned(),
        frequency: "each day".to_owned(),
        accept: accept.to_owned(),
        by: "Inspector".to_owned(),
        form: "washing".to_owned(),
        on_failure: "stop washing".to_owned(),
        places: None,
    });
    clause
}

/// A survey of zones by code.
pub(super) fn survey(codes: &[&str]) -> Survey {
    Survey {
        job: Job {
            code: "T-01".to_owned(),
            name: "Tiny hall <b>of</b> *brick*".to_owned(),
            section_number: None,
            issue_date: "2027-03-01".to_owned(),
            revision: Some("A".to_owned()),
            status: None,
            profile: Profile { system: System::UsFirst, sheet: SheetSize::Letter },
            weather: None,
            indoor: perpend::survey::Indoor::default(),
            answers: BTreeMap::new(),
            place: place(),
        },
        zones: codes.iter().map(|code| zone(code)).collect(),
        elevations: Vec::new(),
        departures: Vec::new(),
        releases: Vec::new(),
        source: Source::new("survey.yaml", ""),
    }
}

fn zone(code: &str) -> Zone {
    Zone {
        code: code.to_owned(),
        name: format!("zone {code}"),
        adjoins: None,
        wall: None,
        coats: None,
        cracks: None,
        size: None,
        openings: None,
        not_coated: None,
        answers: BTreeMap::new(),
        place: place(),
    }
}

/// Answers to stone (soft is 0), crack and residue (yes is 0).
pub(super) fn facts(stone: Option<usize>, crack: Option<usize>, residue: Option<usize>) -> ZoneFacts {
    let words = [["soft", "hard"], ["yes", "no"], ["yes", "no"]];
    let answers = [stone, crack, residue].into_iter().zip(words).map(|(cell, words)| FactAnswer {
        given: cell.map_or(Given::Unanswered, |cell| Given::Cells(CellSet::one(cell))),
        shown: cell.and_then(|cell| words.get(cell)).map(|word| (*word).to_owned()).unwrap_or_default(),
        ..FactAnswer::of(Given::Unanswered)
    });
    ZoneFacts { answers: answers.collect() }
}

/// The templates of the program.
pub(super) fn templates() -> Vec<Arc<Source>> {
    macro_rules! texts {
        ($($name:literal)*) => {
            vec![$(Source::new($name, include_str!(concat!("../../../templates/documents/", $name)))),*]
        };
    }
    texts![
        "articles.yaml" "site.yaml" "visit.yaml" "words.yaml" "phrases.md" "section.md" "schedule.md" "crew-sheets.md"
        "test-plan.md" "owner-sheet.md" "reasons.md" "survey-sheet.md" "tests-programme.md" "findings-letter.md"
        "register.md" "register.yaml" "drawings.yaml"
    ]
}
