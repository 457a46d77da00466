//! Random books and surveys, written as text and read through the whole pipeline, so that what must hold of every book
//! is tested on books that nobody thought of.

use std::fmt::Write as _;
use std::sync::Arc;

use perpend::diagnostic::{Diagnostic, Source};
use perpend::inference::{Outcome, infer};
use perpend::rulebook::book::Book;
use perpend::survey::Survey;
use perpend::wall;
use proptest::prelude::*;

/// How many facts of each sort.
const EACH: usize = 3;
const OPTIONS: u8 = 4;
const FINDINGS: usize = 4;

/// A book to be.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    guards: Vec<Option<Condition>>,
    findings: Vec<Condition>,
    rules: Vec<(Condition, Effect)>,
    figures: Vec<u8>,
    /// Rules that are left out while they are unsure.
    left_out: Vec<usize>,
}

/// What a survey answers to a fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Answer {
    Nothing,
    One(u8),
    Between(u8, u8),
}

#[derive(Clone, Debug)]
pub(crate) enum Condition {
    YesNo(usize),
    Word(usize, u8),
    NotWord(usize, u8),
    Over(usize, u8),
    AtMost(usize, u8),
    Finding(usize),
    Chosen(u8),
    ChosenOver(u8),
    /// A step is in the sequence; only in odd books.
    Step(u8),
    /// A figure is known; only in odd books.
    Known(usize),
    Not(Box<Condition>),
    All(Vec<Condition>),
    Any(Vec<Condition>),
}

#[derive(Clone, Debug)]
enum Effect {
    Refuse(u8),
    RefuseOver(u8),
    RefuseOverFact(usize),
    Prefer(u8, u8),
    /// Only in odd books.
    RefuseStep(u8),
    Limit(u8),
    LimitColumn,
    Require(u8),
    Stop,
}

impl Effect {
    fn bears_on_choice(&self) -> bool {
        matches!(
            self,
            Self::Refuse(_)
                | Self::RefuseOver(_)
                | Self::RefuseOverFact(_)
                | Self::Prefer(..)
                | Self::RefuseStep(_)
        )
    }
}

fn fact_test() -> impl Strategy<Value = Condition> {
    prop_oneof![
        (0..EACH).prop_map(Condition::YesNo),
        (0..EACH, 0..3_u8).prop_map(|(fact, word)| Condition::Word(fact, word)),
        (0..EACH, 0..3_u8).prop_map(|(fact, word)| Condition::NotWord(fact, word)),
        (0..EACH, 0..10_u8).prop_map(|(fact, figure)| Condition::Over(fact, figure)),
        (0..EACH, 0..10_u8).prop_map(|(fact, figure)| Condition::AtMost(fact, figure)),
    ]
}

fn joined(leaf: impl Strategy<Value = Condition> + 'static) -> impl Strategy<Value = Condition> {
    leaf.prop_recursive(2, 6, 3, |inner| {
        prop_oneof![
            inner.clone().prop_map(|part| Condition::Not(Box::new(part))),
            prop::collection::vec(inner.clone(), 2..=3).prop_map(Condition::All),
            prop::collection::vec(inner, 2..=3).prop_map(Condition::Any),
        ]
    })
}

fn before_choice() -> impl Strategy<Value = Condition> {
    joined(prop_oneof![3 => fact_test(), 1 => (0..FINDINGS).prop_map(Condition::Finding)])
}

fn after_choice() -> impl Strategy<Value = Condition> {
    joined(prop_oneof![
        2 => fact_test(),
        1 => (0..FINDINGS).prop_map(Condition::Finding),
        1 => (0..OPTIONS).prop_map(Condition::Chosen),
        1 => (0..10_u8).prop_map(Condition::ChosenOver),
    ])
}

fn effect() -> impl Strategy<Value = Effect> {
    let option = 0..OPTIONS;
    prop_oneof![
        option.clone().prop_map(Effect::Refuse),
        (0..10_u8).prop_map(Effect::RefuseOver),
        (0..EACH).prop_map(Effect::RefuseOverFact),
        (option.clone(), option).prop_map(|(better, worse)| Effect::Prefer(better, worse)),
        (0..10_u8).prop_map(Effect::Limit),
        Just(Effect::LimitColumn),
        (0..3_u8).prop_map(Effect::Require),
        Just(Effect::Stop),
    ]
}

/// Any book of this shape.
pub(crate) fn plans() -> impl Strategy<Value = Plan> {
    let rule = effect().prop_flat_map(|effect| {
        let when = if effect.bears_on_choice() { before_choice().boxed() } else { after_choice().boxed() };
        (when, Just(effect))
    });
    (
        prop::collection::vec(prop::option::weighted(0.3, fact_test()), 3 * EACH),
        prop::collection::vec(joined(fact_test()), FINDINGS),
        prop::collection::vec(rule, 1..12),
        prop::collection::vec(0..10_u8, usize::from(OPTIONS)),
    )
        .prop_map(|(guards, findings, rules, figures)| Plan {
            guards,
            findings,
            rules,
            figures,
            left_out: Vec::new(),
        })
}

/// Any book of this shape that also asks whether something is known, leaves rules out while they are unsure, and has a
/// sequence of steps: narrowing an answer may add a duty here, and yet every way of reading a book must read it alike.
pub(crate) fn odd_plans() -> impl Strategy<Value = Plan> {
    let odd = prop_oneof![
        (0..EACH).prop_map(Condition::Known),
        (0..EACH).prop_map(|fact| Condition::Not(Box::new(Condition::Known(fact)))),
        (0..OPTIONS).prop_map(Condition::Step),
    ];
    let odd = prop::collection::vec((0..12_usize, odd), 0..5);
    let steps = prop::collection::vec((before_choice(), (0..OPTIONS).prop_map(Effect::RefuseStep)), 0..4);
    let left_out = prop::collection::vec(0..12_usize, 0..5);
    (plans(), odd, steps, left_out).prop_map(|(mut plan, odd, steps, left_out)| {
        for (at, condition) in odd {
            let Some((when, effect)) = plan.rules.get_mut(at) else { continue };
            let is_step = matches!(condition, Condition::Step(_));
            if is_step && effect.bears_on_choice() {
                continue;
            }
            *when = Condition::Any(vec![condition, when.clone()]);
        }
        plan.rules.extend(steps);
        plan.left_out = left_out;
        plan
    })
}

/// Books that read so few facts, cut so rarely, that one can go through all of their surveys.
pub(crate) fn small_plans() -> impl Strategy<Value = Plan> {
    plans().prop_map(|mut plan| {
        plan.rules.truncate(8);
        for (when, effect) in &mut plan.rules {
            narrow(when);
            match effect {
                Effect::RefuseOverFact(fact) => *fact = 0,
                Effect::RefuseOver(figure) | Effect::Limit(figure) => *figure = few(*figure),
                _ => {}
            }
        }
        plan.findings.iter_mut().chain(plan.guards.iter_mut().flatten()).for_each(narrow);
        for (index, guard) in plan.guards.iter_mut().enumerate() {
            *guard = guard.take().filter(|guard| reads_below(guard, index));
        }
        plan.figures.iter_mut().for_each(|figure| *figure = few(*figure));
        plan
    })
}

/// One of two figures.
fn few(figure: u8) -> u8 {
    if figure < 5 { 3 } else { 6 }
}

fn narrow(condition: &mut Condition) {
    match condition {
        Condition::YesNo(fact) | Condition::Word(fact, _) | Condition::NotWord(fact, _) => *fact %= 2,
        Condition::Over(fact, figure) | Condition::AtMost(fact, figure) => {
            (*fact, *figure) = (0, few(*figure));
        }
        Condition::ChosenOver(figure) => *figure = few(*figure),
        Condition::Finding(_) | Condition::Chosen(_) | Condition::Step(_) | Condition::Known(_) => {}
        Condition::Not(inner) => narrow(inner),
        Condition::All(parts) | Condition::Any(parts) => parts.iter_mut().for_each(narrow),
    }
}

/// Any answers to its facts.
pub(crate) fn answers() -> impl Strategy<Value = Vec<Answer>> {
    let answer = prop_oneof![
        2 => Just(Answer::Nothing),
        2 => (0..10_u8).prop_map(Answer::One),
        1 => (0..10_u8, 0..10_u8).prop_map(|(a, b)| Answer::Between(a.min(b), a.max(b))),
    ];
    prop::collection::vec(answer, 3 * EACH)
}

fn fact_name(index: usize) -> String {
    format!("fact-{index}")
}

fn words(condition: &Condition) -> String {
    let list = |parts: &[Condition], join: &str| {
        let parts: Vec<String> = parts.iter().map(words).collect();
        format!("({})", parts.join(join))
    };
    match condition {
        Condition::YesNo(fact) => fact_name(*fact),
        Condition::Word(fact, word) => format!("{} is word-{word}", fact_name(EACH + fact)),
        Condition::NotWord(fact, word) => format!("{} is not word-{word}", fact_name(EACH + fact)),
        Condition::Over(fact, figure) => format!("{} over {figure}", fact_name(2 * EACH + fact)),
        Condition::AtMost(fact, figure) => format!("{} at most {figure}", fact_name(2 * EACH + fact)),
        Condition::Finding(finding) => format!("finding-{finding}"),
        Condition::Chosen(option) => format!("chosen thing is option-{option}"),
        Condition::ChosenOver(figure) => format!("chosen thing whose figure over {figure}"),
        Condition::Step(step) => format!("chosen steps is option-{step}"),
        Condition::Known(fact) => format!("{} is known", fact_name(2 * EACH + fact)),
        Condition::Not(inner) => format!("not ({})", words(inner)),
        Condition::All(parts) => list(parts, " and "),
        Condition::Any(parts) => list(parts, " or "),
    }
}

fn effect_words(effect: &Effect) -> String {
    match effect {
        Effect::Refuse(option) => format!("refuse thing option-{option}"),
        Effect::RefuseOver(figure) => format!("refuse thing whose figure over {figure}"),
        Effect::RefuseOverFact(fact) => {
            format!("refuse thing whose figure over {}", fact_name(2 * EACH + fact))
        }
        Effect::Prefer(better, worse) if better == worse => {
            format!("prefer thing option-{better} over every other")
        }
        Effect::Prefer(better, worse) => format!("prefer thing option-{better} over option-{worse}"),
        Effect::RefuseStep(step) => format!("refuse steps option-{step}"),
        Effect::Limit(figure) => format!("limit amount to at most {figure} m"),
        Effect::LimitColumn => "limit amount to at least its depth of chosen thing".to_owned(),
        Effect::Require(clause) => format!("require clause clause-{clause}"),
        Effect::Stop => "stop \"Nothing.\" until \"it is settled\" released by engineer".to_owned(),
    }
}

/// The book as files. A guard may read only facts of lower number, so that guards cannot run in a circle.
pub(crate) fn files(plan: &Plan) -> Vec<Arc<Source>> {
    let mut files = vec![Source::new("book/catalogue-of-things.yaml", catalogue(plan))];
    let mut rules = String::from(
        "rulebook \"Random\" edition 1\n\nsource somewhere \"Somewhere\", read\n\nstage work\n\n",
    );
    for (index, guard) in plan.guards.iter().enumerate() {
        let kind = match index / EACH {
            0 => "yes or no",
            1 => "one of word-0, word-1, word-2",
            _ => "number 0 to 9",
        };
        let _ = write!(rules, "fact {} of zone, {kind}\n  ask \"What of {index}?\"\n", fact_name(index));
        if let Some(guard) = guard
            && reads_below(guard, index)
        {
            let _ = writeln!(rules, "  only where {}", words(guard));
        }
        rules.push('\n');
    }
    rules.push_str("quantity amount of zone, length\n\nslot thing of zone, pick one from things\n\nslot steps of zone, in order from things\n\n");
    for (index, finding) in plan.findings.iter().enumerate() {
        let when = words(finding);
        let _ = write!(
            rules,
            "finding finding-{index}\n  where {when}\n  because \"It is so.\"\n  per somewhere\n\n"
        );
    }
    for (index, (when, effect)) in plan.rules.iter().enumerate() {
        let (when, effect) = (words(when), effect_words(effect));
        let left_out = if plan.left_out.contains(&index) {
            "  if unsure leave out because \"It need not.\"\n"
        } else {
            ""
        };
        let _ = write!(
            rules,
            "rule rule-{index}\n  where {when}\n  {effect}\n{left_out}  because \"It is so.\"\n  per somewhere\n\n"
        );
    }
    files.push(Source::new("book/rules.rule", rules));
    files[0] = Source::new("book/things.yaml", catalogue(plan));
    for clause in 0..3 {
        let text = format!(
            "---\nof: zone\narticle: summary\norder: {clause}\nsubject: Clause {clause}\n---\n## section\nDo the work.\n"
        );
        files.push(Source::new(format!("book/clauses/summary/clause-{clause}.md"), text));
    }
    files
}

fn reads_below(guard: &Condition, index: usize) -> bool {
    match guard {
        Condition::YesNo(fact) => *fact < index,
        Condition::Word(fact, _) | Condition::NotWord(fact, _) => EACH + fact < index,
        Condition::Over(fact, _) | Condition::AtMost(fact, _) => 2 * EACH + fact < index,
        _ => false,
    }
}

fn catalogue(plan: &Plan) -> String {
    let mut text = String::from(
        "columns:\n  figure: {title: figure, kind: number, per: somewhere}\n  depth: {title: depth, kind: length, per: somewhere}\noptions:\n",
    );
    for (option, figure) in plan.figures.iter().enumerate() {
        let _ = writeln!(
            text,
            "  option-{option}: {{title: Option {option}, figure: {figure}, depth: {figure} m}}"
        );
    }
    text
}

/// The survey as text.
pub(crate) fn survey(answers: &[Answer]) -> Arc<Source> {
    let mut text = String::from(
        "survey: 1\njob:\n  code: R-1\n  name: Random\n  issue-date: 2027-03-01\nzones:\n  - code: A\n    name: A\n",
    );
    for (index, answer) in answers.iter().enumerate() {
        let value = match (index / EACH, answer) {
            (_, Answer::Nothing) => continue,
            (0, Answer::One(value)) => if value % 2 == 0 { "yes" } else { "no" }.to_owned(),
            (0, Answer::Between(..)) => continue,
            (1, Answer::One(value)) => format!("word-{}", value % 3),
            (1, Answer::Between(a, b)) => format!("[word-{}, word-{}]", a % 3, b % 3),
            (_, Answer::One(value)) => value.to_string(),
            (_, Answer::Between(a, b)) => format!("[{a}, {b}]"),
        };
        let _ = writeln!(text, "    {}: {value}", fact_name(index));
    }
    Source::new("survey.yaml", text)
}

fn whole<T>(read: (Option<T>, Vec<Diagnostic>)) -> T {
    let (value, diagnostics) = read;
    let errors: Vec<&Diagnostic> = diagnostics.iter().filter(|diagnostic| diagnostic.is_error()).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    value.expect("no errors, so there is a value")
}

/// Reads the book.
pub(crate) fn book(plan: &Plan) -> Book {
    whole(perpend::rulebook::read(&files(plan)))
}

/// Reads the book with more statements added to its rules.
pub(crate) fn book_with(plan: &Plan, more: &str) -> Book {
    let mut files = files(plan);
    files.push(Source::new("book/more.rule", more));
    whole(perpend::rulebook::read(&files))
}

/// Promises of every sort about a book of this plan, each under a condition that one of its rules has.
pub(crate) fn promises(plan: &Plan) -> String {
    let claims = [
        "clause clause-0 is required",
        "thing option-1 is refused",
        "limit amount at most 4 m",
        "a stop stands",
        "chosen thing is option-2 never holds",
        "clause clause-1 is required",
        "clause clause-2 is never required",
    ];
    let mut text = String::new();
    for (index, ((when, _), claim)) in plan.rules.iter().zip(claims).enumerate() {
        let _ = write!(
            text,
            "promise promise-{index}\n  where {}\n  {claim}\n  because \"It is so.\"\n  per somewhere\n\n",
            words(when)
        );
    }
    text
}

/// Reads and decides a survey.
pub(crate) fn decide(book: &Book, answers: &[Answer]) -> Outcome {
    let survey: Survey = whole(perpend::survey::read(&survey(answers), book));
    infer(book, &survey, &wall::work(&survey, book))
}

/// What a survey answers, as the book takes it.
pub(crate) fn facts(book: &Book, answers: &[Answer]) -> perpend::wall::facts::ZoneFacts {
    let survey: Survey = whole(perpend::survey::read(&survey(answers), book));
    wall::work(&survey, book).remove(0)
}

/// What a firm changes in a random book.
#[derive(Clone, Debug)]
pub(crate) enum FirmChange {
    /// A rule or finding, by number, holds only where this holds too.
    Narrow(Amended, usize, Condition),
    /// A rule or finding holds also where this holds.
    Widen(Amended, usize, Condition),
    /// A rule is withdrawn.
    Withdraw(usize),
}

/// What is amended.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Amended {
    Rule,
    Finding,
}

/// A few changes of a firm's; some of them may name nothing that is there.
pub(crate) fn firm_changes() -> impl Strategy<Value = Vec<FirmChange>> {
    let amended = prop_oneof![1 => Just(Amended::Rule), 2 => Just(Amended::Finding)];
    let change = prop_oneof![
        2 => (amended.clone(), 0..8_usize, fact_test())
            .prop_map(|(amended, number, test)| FirmChange::Narrow(amended, number, test)),
        2 => (amended, 0..8_usize, fact_test())
            .prop_map(|(amended, number, test)| FirmChange::Widen(amended, number, test)),
        1 => (0..8_usize).prop_map(FirmChange::Withdraw),
    ];
    prop::collection::vec(change, 1..4)
}

/// A firm's book with these changes over a random book, as far as what they name is there and named once.
pub(crate) fn firms_book(plan: &Plan, changes: &[FirmChange]) -> Book {
    let below = files(plan);
    let digest = whole(perpend::rulebook::read(&below)).digest;
    let mut text = format!("house rulebook \"Firm\" edition 1 over \"Random\" edition 1 digest {digest}\n\n");
    let mut named = std::collections::BTreeSet::new();
    for change in changes {
        let (name, words) = match change {
            FirmChange::Narrow(amended, number, test) | FirmChange::Widen(amended, number, test) => {
                let how = if matches!(change, FirmChange::Narrow(..)) { "only" } else { "also" };
                let (kind, there) = match amended {
                    Amended::Rule => ("rule", plan.rules.len()),
                    Amended::Finding => ("finding", plan.findings.len()),
                };
                let number = number % there;
                let name = format!("{kind} {kind}-{number}");
                (name.clone(), format!("amend {name} {how} where {}", words(test)))
            }
            FirmChange::Withdraw(number) => {
                let name = format!("rule rule-{}", number % plan.rules.len());
                (name.clone(), format!("withdraw {name}"))
            }
        };
        if named.insert(name) {
            let _ = write!(text, "{words}\n  because \"We do so.\"\n  per somewhere\n\n");
        }
    }
    whole(perpend::rulebook::read_over(&below, &[Source::new("firm/firm.rule", text)]))
}
