//! The prover: its gates agree with the evaluator, and its proofs with going through every survey.

use std::collections::BTreeSet;

use perpend::inference::decide::{Case, Eyes, Reading, decide};
use perpend::inference::outcome::Decisions;
use perpend::inference::plan::{facts_of, facts_of_whose};
use perpend::inference::{Plan, Truth};
use perpend::proof::{self, About, Count, Counted, Report, Standing, Terms};
use perpend::rulebook::book::{
    Book, Bound, Claim, EffectKind, FactId, LimitValue, Origin, Promise, QuantityId, Refused, RuleId, SlotId,
};
use perpend::rulebook::cells::CellSet;
use perpend::units::Quantity;
use perpend::wall::facts::{FactAnswer, Given, ZoneFacts};
use proptest::prelude::*;
use rayon::prelude::*;

use crate::folders::{root, sources};
use crate::random_books;

pub(crate) fn trade_book() -> Book {
    let (book, _) = perpend::rulebook::read(&sources(root(), "rules/trade"));
    book.unwrap()
}

#[test]
fn gates_and_evaluator_agree_on_the_trade_book() {
    assert_eq!(proof::disagreements(&trade_book(), 2, 7), Vec::<String>::new());
}

pub(crate) fn terms(book: &Book) -> Terms {
    Terms {
        dead_ends: 100_000,
        read_elsewhere: perpend::wall::read_by_worked(book),
        reach: perpend::wall::reach(book),
        counting: proof::Counting::Kinds,
    }
}

/// The facts that some condition or refusal reads.
fn read(book: &Book) -> BTreeSet<FactId> {
    let guards = book.facts.iter().filter_map(|fact| match &fact.origin {
        Origin::Asked(question) => question.only_where.as_ref(),
        Origin::Worked { .. } => None,
    });
    let conditions = guards
        .chain(book.findings.iter().map(|finding| &finding.when))
        .chain(book.rules.iter().map(|rule| &rule.when))
        .chain(book.promises.iter().map(|promise| &promise.when));
    let effects = book.rules.iter().flat_map(|rule| &rule.effects);
    let compared = effects.filter_map(|effect| match &effect.kind {
        EffectKind::Refuse { which: Refused::Whose(whose), .. } => Some(facts_of_whose(whose)),
        _ => None,
    });
    conditions.map(facts_of).chain(compared).flatten().collect()
}

/// Every survey that answers each question that is read with one cell or not at all; `None` if there are too many to
/// go through.
fn surveys(book: &Book) -> Option<Vec<ZoneFacts>> {
    let read = read(book);
    let counts = book.facts.iter().enumerate();
    let counts: Vec<usize> =
        counts.map(|(id, fact)| if read.contains(&FactId(id)) { fact.cells.answered } else { 0 }).collect();
    if counts.iter().map(|count| count + 1).product::<usize>() > 1_000 {
        return None;
    }
    let mut all = vec![Vec::new()];
    for count in counts {
        let nothing = std::iter::once(Given::Unanswered);
        let cells = (0..count).map(|cell| Given::Cells(CellSet::one(cell)));
        let choices: Vec<Given> = nothing.chain(cells).collect();
        all = all
            .iter()
            .flat_map(|so_far: &Vec<FactAnswer>| {
                choices.iter().map(move |choice| {
                    let mut longer = so_far.clone();
                    longer.push(FactAnswer::of(choice.clone()));
                    longer
                })
            })
            .collect();
    }
    Some(all.into_iter().map(|answers| ZoneFacts { answers }).collect())
}

/// What one survey shows, seen with the evaluator and with no part of the prover.
struct Seen<'a> {
    book: &'a Book,
    eyes: Eyes<'a>,
}

impl Seen<'_> {
    fn made(&self) -> &Decisions {
        self.eyes.decisions
    }

    fn rules(&self, wanted: impl Fn(&EffectKind) -> bool) -> Truth {
        let rules = self.book.rules.iter().zip(&self.made().rules);
        let having = rules.filter(|(rule, _)| rule.effects.iter().any(|effect| wanted(&effect.kind)));
        having.fold(Truth::No, |any, (_, truth)| any.or(*truth))
    }

    fn stop_rules(&self) -> Truth {
        self.rules(|kind| matches!(kind, EffectKind::Stop { .. }))
    }

    fn nothing_left(&self, slot: SlotId) -> Truth {
        self.made().refused[slot.0].iter().fold(self.made().arises[slot.0], |all, refused| all.and(*refused))
    }

    fn ring(&self, slot: SlotId) -> Truth {
        self.made().arises[slot.0].and(self.made().circular[slot.0])
    }

    fn stopped(&self) -> Truth {
        let slots = (0..self.book.slots.len()).map(SlotId);
        slots.fold(self.stop_rules(), |any, slot| any.or(self.nothing_left(slot)).or(self.ring(slot)))
    }

    /// Whether some limit on the quantity is at least so strict.
    fn limited(&self, quantity: QuantityId, bound: Bound, figure: &Quantity) -> Truth {
        let mut any = Truth::No;
        for (rule, truth) in self.book.rules.iter().zip(&self.made().rules) {
            for effect in &rule.effects {
                let EffectKind::Limit { quantity: of, bound: side, value } = &effect.kind else { continue };
                if *of != quantity || *side != bound {
                    continue;
                }
                match value {
                    LimitValue::Literal(own) if bound.comparison().holds(own.value(), figure.value()) => {
                        any = any.or(*truth);
                    }
                    // The random books bound from above by literals alone.
                    _ => {}
                }
            }
        }
        any
    }

    fn claim(&self, promise: &Promise) -> Truth {
        match &promise.claim {
            Claim::Required(clause) => {
                self.rules(|kind| matches!(kind, EffectKind::Require(other) if other == clause))
            }
            Claim::Barred(clause) => {
                self.rules(|kind| matches!(kind, EffectKind::Require(other) if other == clause)).negated()
            }
            Claim::OptionRefused(slot, option) => self.made().refused[slot.0][option.0],
            Claim::Limited(quantity, bound, figure) => self.limited(*quantity, *bound, figure),
            Claim::Stopped => self.stopped(),
            Claim::Never(condition) => self.eyes.holds(condition).negated(),
        }
    }

    /// Whether this survey shows what a question looks for; `None` for questions that two readings must settle.
    fn shows(&self, about: About) -> Option<bool> {
        let made = self.made();
        Some(match about {
            About::Broken(index) => {
                let promise = &self.book.promises[index];
                self.eyes.holds(&promise.when) == Truth::Yes && self.claim(promise) == Truth::No
            }
            About::Unsure(index) => {
                let promise = &self.book.promises[index];
                let (when, claim) = (self.eyes.holds(&promise.when), self.claim(promise));
                match promise.claim {
                    Claim::Never(_) | Claim::Barred(_) => false,
                    Claim::OptionRefused(..) => {
                        when == Truth::Yes && claim == Truth::Unknown
                            || when == Truth::Unknown && claim == Truth::No
                    }
                    _ => when == Truth::Unknown && claim == Truth::No,
                }
            }
            About::Applies(rule) => made.rules[rule.0] == Truth::Yes,
            About::Holds(finding) => made.findings[finding.0] == Truth::Yes,
            About::Fails(finding) => made.findings[finding.0] == Truth::No,
            About::Required(clause) => {
                self.rules(|kind| matches!(kind, EffectKind::Require(other) if *other == clause)).is_shown()
            }
            About::NothingLeft(slot) => {
                self.nothing_left(slot) == Truth::Yes && self.stop_rules() == Truth::No
            }
            About::Ring(slot) => self.ring(slot) == Truth::Yes,
            About::Matters(_) | About::Clash(..) => return None,
        })
    }
}

/// Goes through all surveys and holds what they show against what the prover said.
fn against_every_survey(book: &Book, report: &Report, surveys: &[ZoneFacts]) {
    let plan = Plan::of(book);
    let made: Vec<Decisions> =
        surveys.iter().map(|facts| decide(book, &plan, Case::new(facts, &[]), Reading::Open)).collect();
    for (about, standing) in &report.answers {
        let shown = surveys.iter().zip(&made).find_map(|(facts, decisions)| {
            let eyes = Eyes { case: Case::new(facts, &[]), decisions };
            Seen { book, eyes }.shows(*about).map(|shows| (shows, facts)).filter(|(shows, _)| *shows)
        });
        match (about, standing) {
            (_, Standing::NotReplayed | Standing::NotSettled) => panic!("{about:?}: {standing:?}"),
            (About::Matters(rule), Standing::NoSurvey) => {
                dropping_changes_nothing(book, *rule, surveys, &made);
            }
            (About::Matters(_) | About::Clash(..), _) => {}
            (_, Standing::NoSurvey) => {
                assert!(shown.is_none(), "{about:?} is shown by {:?}", shown.unwrap().1);
            }
            (
                About::Applies(_) | About::Holds(_) | About::Fails(_) | About::Required(_),
                Standing::Proved,
            ) => {
                assert!(shown.is_some(), "{about:?}: no survey shows it");
            }
            (_, Standing::Proved) => assert!(shown.is_none(), "{about:?} is shown by {:?}", shown.unwrap().1),
            // Pairs and lists are not among the surveys gone through, and only they may leave a promise unsure.
            (About::Unsure(_), Standing::Shown(_)) => {}
            (_, Standing::Shown(_)) => assert!(shown.is_some(), "{about:?}: no survey shows it"),
        }
    }
}

/// Holds the counts of witnesses against counting: of all surveys that answer what arises, and nothing else, the share
/// in which a question's answer is seen.
fn counts_are_true(book: &Book, report: &Report, surveys: &[ZoneFacts]) {
    let plan = Plan::of(book);
    let read = read(book);
    let guard = |fact: &FactId| match &book.facts[fact.0].origin {
        Origin::Asked(question) => question.only_where.as_ref(),
        Origin::Worked { .. } => None,
    };
    let shown = report.answers.iter().filter_map(|(about, standing)| match standing {
        Standing::Shown(witness) => Some((*about, witness.count.clone()?)),
        _ => None,
    });
    let shown: Vec<(About, Counted)> = shown.collect();
    // By question, as told apart by its facts alone: the kinds, and those that show it.
    let mut kinds = vec![(BTreeSet::new(), BTreeSet::new()); shown.len()];
    for facts in surveys {
        let case = Case::new(facts, &[]);
        let decisions = decide(book, &plan, case, Reading::Open);
        let eyes = Eyes { case, decisions: &decisions };
        let is_kind = read.iter().all(|fact| {
            let answered = facts.answers[fact.0].given != Given::Unanswered;
            match guard(fact).map_or(Truth::Yes, |guard| eyes.holds(guard)) {
                Truth::Yes => answered,
                Truth::No => !answered,
                Truth::Unknown => false,
            }
        });
        if is_kind {
            for ((about, counted), (all, some)) in shown.iter().zip(&mut kinds) {
                let own = counted.facts.iter().map(|fact| format!("{:?}", facts.answers[fact.0].given));
                let kind: Vec<String> = own.collect();
                if (Seen { book, eyes }).shows(*about) == Some(true) {
                    some.insert(kind.clone());
                }
                all.insert(kind);
            }
        }
    }
    for ((about, counted), (all, some)) in shown.iter().zip(kinds) {
        if !matches!(about, About::Clash(..)) {
            assert_eq!(counted.count, Count::Exact(some.len().into(), all.len().into()), "{about:?}");
        }
    }
}

/// What prints of a reading: the truth of each duty, and the choice.
fn duties(book: &Book, made: &Decisions, without: Option<RuleId>) -> Vec<Truth> {
    let of = |wanted: &dyn Fn(&EffectKind) -> bool| {
        let rules = book.rules.iter().zip(&made.rules).enumerate();
        let having = rules.filter(|(index, (rule, _))| {
            without != Some(RuleId(*index)) && rule.effects.iter().any(|effect| wanted(&effect.kind))
        });
        having.fold(Truth::No, |any, (_, (_, truth))| any.or(*truth))
    };
    let clauses = (0..book.clauses.len()).map(|clause| {
        of(&|kind: &EffectKind| matches!(kind, EffectKind::Require(other) if other.0 == clause))
    });
    let stop = of(&|kind: &EffectKind| matches!(kind, EffectKind::Stop { .. }));
    let choice = made.refused.iter().chain(&made.chosen).flatten().copied();
    clauses.chain([stop]).chain(choice).chain(made.circular.iter().copied()).collect()
}

fn dropping_changes_nothing(book: &Book, rule: RuleId, surveys: &[ZoneFacts], made: &[Decisions]) {
    let mut less = book.clone();
    less.rules[rule.0].effects.clear();
    let plan = Plan::of(&less);
    for (facts, with) in surveys.iter().zip(made) {
        let without = decide(&less, &plan, Case::new(facts, &[]), Reading::Open);
        assert_eq!(
            duties(book, with, None),
            duties(book, &without, Some(rule)),
            "rule {} matters: {facts:?}",
            rule.0
        );
    }
}

#[test]
fn every_promise_of_the_trade_book_is_proved() {
    let book = trade_book();
    let report = proof::prove(&book, &terms(&book));
    let told: Vec<String> = proof::told(&book, &report, perpend::units::System::UsFirst)
        .iter()
        .map(|told| format!("{} {}", told.code, told.message))
        .collect();
    assert_eq!(report.kept_promises(), book.promises.len(), "{told:#?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// The prover says of a small book what going through all of its surveys says.
    #[test]
    fn proofs_agree_with_going_through_every_survey(plan in random_books::small_plans()) {
        let book = random_books::book_with(&plan, &random_books::promises(&plan));
        let Some(surveys) = surveys(&book) else { return Err(TestCaseError::reject("too many surveys")) };
        let report = proof::prove(&book, &terms(&book));
        against_every_survey(&book, &report, &surveys);
        counts_are_true(&book, &report, &surveys);
    }

    /// Whatever is thrown at a book, its gates and the evaluator read the same.
    #[test]
    fn gates_and_evaluator_agree(plan in random_books::odd_plans(), seed in 1..1000_u64) {
        let book = random_books::book(&plan);
        prop_assert_eq!(proof::disagreements(&book, 2, seed), Vec::<String>::new());
    }
}

#[test]
fn a_promise_is_held_against_the_survey_at_hand_and_a_departure_answers_for_it() {
    let book = crate::survey::book();
    let told = |element: &str, more: &str| {
        let known = "coats: []\nlead-test: {value: clear-all-layers, date: 2027-02-01}\nwall: [{material: brick, thickness: 340 mm}]";
        let text = crate::survey::one_zone("", &format!("element: {element}\n{known}")) + more;
        let survey = crate::survey::sound(&text, &book);
        let facts = perpend::wall::work(&survey, &book);
        let outcome = perpend::inference::infer(&book, &survey, &facts);
        let found = proof::broken_here(&book, &survey, &facts, &outcome);
        found.into_iter().map(|found| (found.is_error(), found.code, found.message)).collect::<Vec<_>>()
    };
    assert_eq!(told("wall", ""), []);
    assert_eq!(told("chimney", ""), []);
    let broken = "promise `no-limewash-on-parapets` is broken in zone `A`".to_owned();
    assert_eq!(told("parapet", ""), [(true, "PR020".to_owned(), broken)]);
    let departure = "departures: [{from: bare-chimneys, zones: [A], reason: no fire below, role: architect, date: 2027-02-01}]";
    let departed = "promise `no-limewash-on-chimneys` is broken in zone `A`, where a departure is on file";
    assert_eq!(told("chimney", departure), [(false, "PR021".to_owned(), departed.to_owned())]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever one survey has otherwise by the new book is among what the comparison of the books tells, and each change
    /// that it tells is seen by the evaluator.
    #[test]
    fn a_comparison_misses_nothing(
        one in random_books::plans(),
        other in random_books::plans(),
        surveys in prop::collection::vec(random_books::answers(), 6),
    ) {
        let (old, new) = (random_books::book(&one), random_books::book(&other));
        let sides = (proof::Side { book: &old, reach: &[] }, proof::Side { book: &new, reach: &[] });
        let found = proof::compare(sides.0, sides.1, 100_000, 1);
        for change in &found.changes {
            prop_assert!(matches!(change.shown, proof::Shown::By(_) | proof::Shown::Also), "{change:?}");
        }
        for answers in &surveys {
            let (before, after) = (random_books::facts(&old, answers), random_books::facts(&new, answers));
            for turn in proof::turns((&old, &before), (&new, &after)) {
                let way = if turn.after < turn.before { proof::Way::Lost } else { proof::Way::Gained };
                let told = found.changes.iter().any(|change| change.item == turn.item && change.way == way);
                prop_assert!(told, "{turn:?} of {answers:?} is not told");
            }
        }
    }
}

/// The trade book with some words of a file changed.
pub(crate) fn mutated(file: &str, changes: &[(&str, &str)]) -> Book {
    let mut files = sources(root(), "rules/trade");
    for source in &mut files {
        if source.name.ends_with(&format!("/{file}")) {
            let mut text = source.text.clone();
            for (from, to) in changes {
                assert_eq!(text.matches(from).count(), 1, "{file} says `{from}` once");
                text = text.replace(from, to);
            }
            *source = perpend::diagnostic::Source::new(source.name.clone(), text);
        }
    }
    let (book, diagnostics) = perpend::rulebook::read(&files);
    let errors: Vec<_> = diagnostics.iter().filter(|told| told.is_error()).collect();
    assert!(errors.is_empty(), "{file}: {errors:#?}");
    book.unwrap()
}

/// What the prover has to say against a book, in words with the statements concerned.
fn told(book: &Book) -> Vec<String> {
    let report = proof::prove(book, &terms(book));
    let told = proof::told(book, &report, perpend::units::System::UsFirst);
    let words = told.iter().map(|told| {
        let also: Vec<&str> = told.also.iter().map(|(place, _)| place.text()).collect();
        format!("{} {} {:?} {}", told.code, told.message, told.help, also.join(" "))
    });
    words.collect()
}

fn with_mutants<T>(look: impl Fn(&[Mutant<'_>]) -> T) -> T {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/mutants.txt");
    let listed = std::fs::read_to_string(path).unwrap();
    let mutants: Vec<Mutant<'_>> = listed.split("\n\n").filter_map(Mutant::read).collect();
    assert!(mutants.len() >= 40, "{} mutants", mutants.len());
    look(&mutants)
}

#[test]
fn the_first_mutants_of_the_trade_book_are_caught() {
    with_mutants(|mutants| {
        for mutant in mutants.iter().take(3) {
            assert!(mutant.score().contains(": caught"), "{}", mutant.score());
        }
    });
}

#[test]
#[ignore = "takes a minute; .ci/run runs it"]
fn mutants_of_the_trade_book_are_caught() {
    let scores: Vec<String> = with_mutants(|mutants| mutants.par_iter().map(Mutant::score).collect());
    let caught = scores.iter().filter(|score| score.contains(": caught")).count();
    insta::assert_snapshot!(
        "mutants",
        format!("{}\n\n{caught} of {} caught\n", scores.join("\n"), scores.len())
    );
    assert!(caught >= 32, "{}", scores.join("\n"));
}

#[test]
#[ignore = "takes minutes; .ci/run runs it"]
fn mutants_of_the_trade_book_are_explained() {
    let original = trade_book();
    let reach = perpend::wall::reach(&original);
    let unexplained: Vec<String> = with_mutants(|mutants| {
        let silent = mutants.par_iter().filter(|mutant| !mutant.is_explained(&original, &reach));
        silent.map(|mutant| mutant.name.to_owned()).collect()
    });
    assert!(unexplained.is_empty(), "{unexplained:#?}");
}

/// One change to the trade book, as `tests/cases/mutants.txt` lists it.
struct Mutant<'a> {
    /// What was done, in words.
    name: &'a str,
    file: &'a str,
    /// The name that what is told must hold.
    names: &'a str,
    from: String,
    to: String,
}

impl<'a> Mutant<'a> {
    fn read(block: &'a str) -> Option<Self> {
        let mut lines = block.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
        let (name, place) = (lines.next()?, lines.next()?);
        let (file, names) = place.split_once(' ')?;
        let rest: Vec<&str> = lines.collect();
        let words = |sign: &str| {
            rest.iter().find_map(|line| line.strip_prefix(sign)).map(|words| words.replace("\\n", "\n"))
        };
        let (from, to) = (words("- ")?, words("+ ")?);
        Some(Self { name, file, names, from, to })
    }

    /// What the prover says of it without the original.
    fn score(&self) -> String {
        let told = told(&mutated(self.file, &[(&self.from, &self.to)]));
        let caught = match told.iter().find(|told| told.contains(self.names)).or(told.first()) {
            Some(told) if told.contains(self.names) => format!("caught, {}", words(told)),
            Some(told) => format!("told of otherwise, {}", words(told)),
            None => "missed".to_owned(),
        };
        format!("{}: {caught}", self.name)
    }

    /// Whether the comparison with the original shows by a survey what changes.
    fn is_explained(&self, original: &Book, reach: &[perpend::wall::Reach]) -> bool {
        let book = mutated(self.file, &[(&self.from, &self.to)]);
        let own = perpend::wall::reach(&book);
        let sides = (proof::Side { book: original, reach }, proof::Side { book: &book, reach: &own });
        let found = proof::compare(sides.0, sides.1, 100_000, 1);
        let by = found.changes.iter().any(|change| matches!(change.shown, proof::Shown::By(_)));
        // What was not settled within the budget is told as such; what is shown must be seen by the evaluator.
        by && !found.changes.iter().any(|change| matches!(change.shown, proof::Shown::NotReplayed))
    }
}

/// Code and message alone.
fn words(told: &str) -> &str {
    told.split(" Some(").next().unwrap_or(told).split(" None ").next().unwrap_or(told)
}
