//! Books of many rules that nobody wrote, and surveys for them, in the proportions of the trade book: of every 300 rules
//! it has 2 choices of one and 1 sequence with 36 refusals and 22 preferences, 118 limits on 66 quantities, 372 clauses
//! required, 19 stops, 17 hold points, 20 cautions, 21 findings and 54 promises; of 347 conditions half are one test and a
//! third two, one in twelve holds an `or`, and of the tests two thirds read facts, a quarter findings, the rest choices
//! (counted in the 301 rules of edition 2026.1). Which fact a rule reads is thrown from all facts, where a book that
//! somebody wrote keeps to a topic: these books are the harder ones. The same in every run.

#![allow(dead_code, reason = "each bench uses a part")]

use std::fmt::Write as _;
use std::sync::Arc;

use perpend::diagnostic::Source;
use perpend::rulebook::{self, book::Book};

/// Numbers that look thrown and are the same in every run (xorshift, Marsaglia 2003).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(start: u64) -> Self {
        Self(start.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub(crate) fn throw(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % sides
    }
}

const OPTIONS: u64 = 10;
const STEPS: u64 = 6;
const WORDS: u64 = 5;

/// How large a book is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    pub(crate) rules: u64,
    pub(crate) facts: u64,
}

impl Size {
    /// So many in every 300 rules, one at least.
    fn of_300(self, count: u64) -> u64 {
        (self.rules * count / 300).max(1)
    }

    fn choices(self) -> u64 {
        self.of_300(2)
    }

    fn sequences(self) -> u64 {
        self.of_300(1)
    }

    fn findings(self) -> u64 {
        self.of_300(21)
    }

    fn clauses(self) -> u64 {
        self.of_300(280)
    }

    fn quantities(self) -> u64 {
        self.of_300(66)
    }

    fn promises(self) -> u64 {
        self.of_300(54)
    }
}

impl std::fmt::Display for Size {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} rules, {} facts", self.rules, self.facts)
    }
}

/// What a condition may read: what stands after a choice may read the choice.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reads {
    Facts,
    Findings,
    Choices,
}

/// One test: of the facts a third are yes or no, a third words, a third figures.
fn test(dice: &mut Dice, size: Size, reads: Reads) -> String {
    let choice = |dice: &mut Dice| dice.throw(size.choices());
    match (reads, dice.throw(100)) {
        (Reads::Choices, 0..=2) => format!("chosen thing-{} is option-{}", choice(dice), dice.throw(OPTIONS)),
        (Reads::Choices, 3..=5) => {
            format!("chosen thing-{} whose figure over {}", choice(dice), dice.throw(OPTIONS - 1))
        }
        (Reads::Choices, 6) => {
            format!("chosen steps-{} is step-{}", dice.throw(size.sequences()), dice.throw(STEPS))
        }
        (Reads::Choices | Reads::Findings, 7..=31) => format!("finding-{}", dice.throw(size.findings())),
        _ => of_fact(dice, size.facts),
    }
}

fn of_fact(dice: &mut Dice, facts: u64) -> String {
    let fact = dice.throw(facts);
    let turned = dice.throw(4) == 0;
    match fact % 3 {
        0 => format!("fact-{fact} is {}", if turned { "no" } else { "yes" }),
        1 => format!("fact-{fact} is {}word-{}", if turned { "not " } else { "" }, dice.throw(WORDS)),
        _ => format!("fact-{fact} {} {}", if turned { "at most" } else { "over" }, 10 * (1 + dice.throw(6))),
    }
}

fn condition(dice: &mut Dice, size: Size, reads: Reads) -> String {
    let count = match dice.throw(100) {
        0..=50 => 1,
        51..=85 => 2,
        86..=97 => 3,
        _ => 4,
    };
    let tests: Vec<String> = (0..count).map(|_| test(dice, size, reads)).collect();
    match tests.split_last() {
        Some((last, [first, rest @ ..])) if dice.throw(6) == 0 => {
            let mut all = vec![format!("({first} or {last})")];
            all.extend(rest.iter().cloned());
            all.join(" and ")
        }
        _ => tests.join(" and "),
    }
}

/// One effect, and what the condition of a rule with it may read.
fn effect(dice: &mut Dice, size: Size, rule: u64) -> (Reads, String) {
    let thing = dice.throw(size.choices());
    let quantity = dice.throw(size.quantities());
    let better = dice.throw(OPTIONS - 1);
    let worse = better + 1 + dice.throw(OPTIONS - 1 - better);
    match dice.throw(604) {
        0..=20 => (Reads::Findings, format!("refuse thing-{thing} option-{}", dice.throw(OPTIONS))),
        21..=23 => (
            Reads::Findings,
            format!("refuse thing-{thing} whose figure over {}", 2 + dice.throw(OPTIONS - 3)),
        ),
        24..=26 => (
            Reads::Findings,
            format!("refuse thing-{thing} whose figure under {}", 1 + dice.throw(OPTIONS - 3)),
        ),
        27..=35 => {
            let steps = dice.throw(size.sequences());
            (Reads::Findings, format!("refuse steps-{steps} step-{}", dice.throw(STEPS)))
        }
        36..=57 => (Reads::Findings, format!("prefer thing-{thing} option-{better} over option-{worse}")),
        58..=110 => (Reads::Choices, format!("limit amount-{quantity} to at least {} m", 1 + dice.throw(10))),
        111..=164 => {
            (Reads::Choices, format!("limit amount-{quantity} to at most {} m", 20 + dice.throw(20)))
        }
        165..=175 => {
            (Reads::Findings, format!("limit amount-{quantity} to at most its depth of chosen thing-{thing}"))
        }
        176..=194 => (
            Reads::Choices,
            format!("stop \"No work, for reason {rule}.\" until \"it is settled\" released by engineer"),
        ),
        195..=211 => {
            (Reads::Choices, format!("hold-point point-{} before work released by inspector", dice.throw(20)))
        }
        212..=231 => (Reads::Choices, format!("caution \"Mind what rule {rule} says.\" for crew")),
        _ => (Reads::Choices, format!("require clause clause-{}", dice.throw(size.clauses()))),
    }
}

/// Two effects a rule in the mean, none of them twice, and what its condition may read.
fn effects(dice: &mut Dice, size: Size, rule: u64) -> (Reads, Vec<String>) {
    let count = match dice.throw(10) {
        0..=3 => 1,
        4..=6 => 2,
        7 | 8 => 3,
        _ => 4,
    };
    let made: Vec<(Reads, String)> = (0..count).map(|_| effect(dice, size, rule)).collect();
    let early = made.iter().any(|(reads, _)| *reads == Reads::Findings);
    let mut effects: Vec<String> = Vec::new();
    for (_, effect) in made {
        let head = |effect: &str| effect.split(" to at ").next().unwrap_or_default().to_owned();
        if effects.iter().all(|known| head(known) != head(&effect)) {
            effects.push(effect);
        }
    }
    (if early { Reads::Findings } else { Reads::Choices }, effects)
}

fn facts(text: &mut String, dice: &mut Dice, size: Size) {
    for fact in 0..size.facts {
        let kind = match fact % 3 {
            0 => "yes or no".to_owned(),
            1 => {
                let words: Vec<String> = (0..WORDS).map(|word| format!("word-{word}")).collect();
                format!("one of {}", words.join(", "))
            }
            _ => "number 0 to 100".to_owned(),
        };
        let _ = write!(text, "fact fact-{fact} of zone, {kind}\n  ask \"What of {fact}?\"\n");
        if fact > 10 && dice.throw(6) == 0 {
            let _ = writeln!(text, "  only where {}", of_fact(dice, fact));
        }
        text.push('\n');
    }
}

fn statement(text: &mut String, head: &str, lines: &[String]) {
    let _ = write!(text, "{head}\n  {}\n  because \"It is so.\"\n  per somewhere\n\n", lines.join("\n  "));
}

/// Promises that rules of the book keep, as promises are: where the rule applies, its clause is required.
fn promised(rules: &[(String, Vec<String>)], wanted: u64) -> Vec<(String, String)> {
    let requiring = rules.iter().filter_map(|(when, effects)| {
        let clause = effects.iter().find_map(|effect| effect.strip_prefix("require "))?;
        Some((when.clone(), format!("{clause} is required")))
    });
    requiring.take(usize::try_from(wanted).unwrap_or(0)).collect()
}

fn rules(size: Size) -> String {
    let mut dice = Dice::new(size.rules * 1_000_003 + size.facts);
    let mut text = String::from(
        "rulebook \"Synthetic\" edition 1\n\nsource somewhere \"Somewhere\", read\n\nstage work held by stops\n\n",
    );
    facts(&mut text, &mut dice, size);
    for quantity in 0..size.quantities() {
        let _ = write!(text, "quantity amount-{quantity} of zone, length\n\n");
    }
    for choice in 0..size.choices() {
        let _ = write!(text, "slot thing-{choice} of zone, pick one from things\n\n");
    }
    for sequence in 0..size.sequences() {
        let _ = write!(text, "slot steps-{sequence} of zone, in order from strokes\n\n");
    }
    for finding in 0..size.findings() {
        // A finding reads findings before it, so that none runs in a circle.
        let before = Size { rules: finding * 300 / 21, ..size };
        let reads = if finding < 5 { Reads::Facts } else { Reads::Findings };
        let when = format!("where {}", condition(&mut dice, before, reads));
        statement(&mut text, &format!("finding finding-{finding}"), &[when]);
    }
    let mut made = Vec::new();
    for rule in 0..size.rules {
        let (reads, effects) = effects(&mut dice, size, rule);
        let when = condition(&mut dice, size, reads);
        let lines: Vec<String> =
            std::iter::once(format!("where {when}")).chain(effects.iter().cloned()).collect();
        statement(&mut text, &format!("rule rule-{rule}"), &lines);
        made.push((when, effects));
    }
    for (number, (when, claim)) in promised(&made, size.promises()).into_iter().enumerate() {
        statement(&mut text, &format!("promise promise-{number}"), &[format!("where {when}"), claim]);
    }
    text
}

fn table(name: &str, options: u64) -> String {
    let mut text = String::from(
        "columns:\n  figure: {title: figure, kind: number, per: somewhere}\n  depth: {title: depth, kind: length, per: somewhere}\noptions:\n",
    );
    for option in 0..options {
        let _ = writeln!(
            text,
            "  {name}-{option}: {{title: The {name} {option}, figure: {option}, depth: {} m}}",
            15 + option
        );
    }
    text
}

/// The files of a book.
pub(crate) fn files(size: Size) -> Vec<Arc<Source>> {
    let mut files = vec![
        Source::new("book/rules.rule", rules(size)),
        Source::new("book/things.yaml", table("option", OPTIONS)),
        Source::new("book/strokes.yaml", table("step", STEPS)),
    ];
    for clause in 0..size.clauses() {
        let text = format!(
            "---\nof: zone\narticle: summary\norder: {clause}\nsubject: Clause {clause}\n---\n## section\nDo the work.\n"
        );
        files.push(Source::new(format!("book/clauses/summary/clause-{clause}.md"), text));
    }
    files
}

/// The book itself.
pub(crate) fn book(size: Size) -> Book {
    let (book, told) = rulebook::read(&files(size));
    book.unwrap_or_else(|| panic!("the book has no mistake: {told:?}"))
}

/// A survey of one zone that leaves so many in a hundred questions unanswered.
pub(crate) fn survey(size: Size, open: u64, throw: u64) -> Arc<Source> {
    let mut dice = Dice::new(throw);
    let mut text = String::from(
        "survey: 1\njob:\n  code: S-1\n  name: Synthetic\n  issue-date: 2027-03-01\nzones:\n  - code: A\n    name: A\n",
    );
    for fact in 0..size.facts {
        let value = match fact % 3 {
            0 => if dice.throw(2) == 0 { "yes" } else { "no" }.to_owned(),
            1 => format!("word-{}", dice.throw(WORDS)),
            _ => dice.throw(100).to_string(),
        };
        if dice.throw(100) >= open {
            let _ = writeln!(text, "    fact-{fact}: {value}");
        }
    }
    Source::new("survey.yaml", text)
}
