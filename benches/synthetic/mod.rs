//! Books of many rules that nobody wrote, and surveys for them: questions that arise only where others are answered,
//! findings on findings, a choice and a sequence with refusals and preferences, limits from both sides, clauses, stops,
//! hold points, cautions and promises. The same in every run.

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
    fn findings(self) -> u64 {
        self.rules / 20
    }

    fn clauses(self) -> u64 {
        self.rules / 4
    }

    fn quantities(self) -> u64 {
        self.rules / 50
    }

    fn promises(self) -> u64 {
        self.rules / 20
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
    match (reads, dice.throw(12)) {
        (Reads::Choices, 0) => format!("chosen thing is option-{}", dice.throw(OPTIONS)),
        (Reads::Choices, 1) => format!("chosen thing whose figure over {}", dice.throw(OPTIONS - 1)),
        (Reads::Choices, 2) => format!("chosen steps is step-{}", dice.throw(STEPS)),
        (Reads::Choices | Reads::Findings, 3 | 4) => format!("finding-{}", dice.throw(size.findings())),
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
    let tests = |dice: &mut Dice, count: u64| -> Vec<String> {
        (0..count).map(|_| test(dice, size, reads)).collect()
    };
    match dice.throw(10) {
        0 | 1 => test(dice, size, reads),
        2..=5 => tests(dice, 2).join(" and "),
        6 | 7 => tests(dice, 3).join(" and "),
        8 => tests(dice, 2).join(" or "),
        _ => format!("{} and ({})", test(dice, size, reads), tests(dice, 2).join(" or ")),
    }
}

fn effect(dice: &mut Dice, size: Size, rule: u64) -> (Reads, String) {
    let better = dice.throw(OPTIONS - 1);
    let worse = better + 1 + dice.throw(OPTIONS - 1 - better);
    match dice.throw(40) {
        0 | 1 => (Reads::Findings, format!("refuse thing option-{}", dice.throw(OPTIONS))),
        2 if rule.is_multiple_of(2) => {
            (Reads::Findings, format!("refuse thing whose figure over {}", 2 + dice.throw(OPTIONS - 3)))
        }
        2 => (Reads::Findings, format!("refuse thing whose figure under {}", 1 + dice.throw(OPTIONS - 3))),
        3 => (Reads::Findings, format!("refuse steps step-{}", dice.throw(STEPS))),
        4 | 5 => (Reads::Findings, format!("prefer thing option-{better} over option-{worse}")),
        6..=9 => {
            let quantity = dice.throw(size.quantities());
            (Reads::Choices, format!("limit amount-{quantity} to at most {} m", 20 + dice.throw(20)))
        }
        10 | 11 => {
            let quantity = dice.throw(size.quantities());
            (Reads::Choices, format!("limit amount-{quantity} to at least {} m", 1 + dice.throw(10)))
        }
        12 => {
            let quantity = dice.throw(size.quantities());
            (Reads::Findings, format!("limit amount-{quantity} to at most its depth of chosen thing"))
        }
        13..=15 => (
            Reads::Choices,
            format!("stop \"No work, for reason {rule}.\" until \"it is settled\" released by engineer"),
        ),
        16 | 17 => {
            (Reads::Choices, format!("hold-point point-{} before work released by inspector", dice.throw(20)))
        }
        18..=21 => (Reads::Choices, format!("caution \"Mind what rule {rule} says.\" for crew")),
        _ => (Reads::Choices, format!("require clause clause-{}", dice.throw(size.clauses()))),
    }
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

/// A promise that a rule of the book keeps, as promises are: where the rule applies, its clause is required.
fn promised(rules: &[(String, String)], wanted: u64) -> Vec<(String, String)> {
    let requiring = rules.iter().filter_map(|(when, effect)| {
        let clause = effect.strip_prefix("require ")?;
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
    text.push_str(
        "slot thing of zone, pick one from things\n\nslot steps of zone, in order from strokes\n\n",
    );
    for finding in 0..size.findings() {
        // A finding reads findings before it, so that none runs in a circle.
        let before = Size { rules: finding * 20, ..size };
        let reads = if finding < 5 { Reads::Facts } else { Reads::Findings };
        let when = format!("where {}", condition(&mut dice, before, reads));
        statement(&mut text, &format!("finding finding-{finding}"), &[when]);
    }
    let mut made = Vec::new();
    for rule in 0..size.rules {
        let (reads, effect) = effect(&mut dice, size, rule);
        let when = condition(&mut dice, size, reads);
        statement(&mut text, &format!("rule rule-{rule}"), &[format!("where {when}"), effect.clone()]);
        made.push((when, effect));
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
