//! How much of what an editor may spoil is caught: the papers of the demos are spoiled one clause at a time, each in
//! one way, and read again.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use perpend::proofread::{Paper, of_markdown, proofread};
use rayon::prelude::*;

use super::sets::{DEMOS, RULES, Set};

/// What is spoiled: a paper, a way in words, and the spoiled text.
struct Mutant {
    demo: usize,
    paper: &'static str,
    way: &'static str,
    line: String,
    text: String,
}

/// A way of spoiling one line; `None` where the line gives no hold.
type Way = fn(&str) -> Option<String>;

/// Paper, way, which lines, how. Requirements are points of the section that begin with a label.
const WAYS: [(&str, &str, &str, Way); 16] = [
    ("section", "a unit dropped", "- **", |line| {
        let at = line.find("not less than ").or_else(|| line.find("not more than "))?;
        let (before, rest) = line.split_at(at + 14);
        let (number, behind) = rest.split_once('\u{a0}')?;
        let digits = number.chars().all(|sign| sign.is_ascii_digit() || ".,".contains(sign));
        let end = behind.find([' ', ',', ';', ':']).unwrap_or(behind.len().saturating_sub(1));
        let behind = behind.get(end..)?;
        let behind = match behind.strip_prefix(" (") {
            Some(inner) => inner.split_once(')').map_or("", |(_, rest)| rest),
            None => behind,
        };
        (digits && !number.is_empty()).then(|| format!("{before}{number}{behind}"))
    }),
    ("section", "a comparator dropped", "- **", |line| {
        let with = |turn: &str| line.contains(turn).then(|| line.replacen(turn, "", 1));
        let has_unit = line.contains('\u{a0}');
        has_unit.then(|| with("not less than ").or_else(|| with("not more than "))).flatten()
    }),
    ("section", "an order made a wish", "- **", |line| {
        let (before, body) = body(line)?;
        Some(format!("{before}The Contractor should {}{}", body.get(..1)?.to_lowercase(), body.get(1..)?))
    }),
    ("section", "an order made a passive", "- **", |line| {
        let (before, body) = body(line)?;
        let (verb, rest) = body.split_once(' ')?;
        let rest = rest.split_once(['.', ',']).map_or(rest, |(rest, _)| rest);
        Some(format!("{before}The {rest} shall be {}ed.", verb.to_lowercase()))
    }),
    ("section", "a vague word put in", "- **", |line| {
        let (before, body) = body(line)?;
        let (verb, rest) = body.split_once(' ')?;
        Some(format!("{before}{verb} any {rest}"))
    }),
    ("section", "an empty quality put in", "- **", |line| {
        let (before, body) = body(line)?;
        let stem = body.strip_suffix('.')?;
        Some(format!("{before}{stem} in an appropriate way."))
    }),
    ("section", "a reference dropped", "- **", |line| {
        let listed =
            line.contains("CFR ") || line.contains("ASTM ") || line.contains(", CEN") || line.contains("ISO");
        (listed && body(line).is_none()).then(String::new)
    }),
    ("section", "a requirement taken out", "- **", |line| body(line).map(|_| String::new())),
    ("section", "a requirement said twice", "- **", |line| {
        let (_, _) = body(line)?;
        Some(format!("{line}\n{line}"))
    }),
    ("section", "a placeholder left", "- **", |line| {
        let (before, body) = body(line)?;
        Some(format!("{before}{body} [value]"))
    }),
    ("section", "a cross-reference broken", "| ", |line| {
        let (number, rest) = line.strip_prefix("| ")?.split_once(' ')?;
        let is_number =
            number.contains('.') && number.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
        is_number.then(|| format!("| 9.{} {rest}", number.replace('.', "")))
    }),
    ("section", "a frequency dropped", "| ", |line| {
        let cells: Vec<&str> = line.split(" | ").collect();
        let number = cells.first()?.trim_start_matches("| ").split(' ').next()?;
        let method = cells.get(1)?;
        let (kept, _) = method.rsplit_once("; ")?;
        (number.contains('.') && cells.len() == 5).then(|| line.replacen(method, kept, 1))
    }),
    ("section", "a form dropped", "| ", |line| {
        let cells: Vec<&str> = line.split(" | ").collect();
        let by = cells.get(3)?;
        let (kept, _) = by.rsplit_once(", ")?;
        (cells.len() == 5).then(|| line.replacen(&format!(" | {by} | "), &format!(" | {kept} | "), 1))
    }),
    ("crew-sheets", "a number changed in one paper", "- **", changed_number),
    ("test-plan", "a number changed in one paper", "| ", changed_number),
    ("test-plan", "a form row dropped", "| 1 | ", |_| Some(String::new())),
];

/// The subject with what belongs to it, and the words of a requirement.
fn body(line: &str) -> Option<(&str, &str)> {
    let at = line
        .find("**. ")
        .or_else(|| line.find("). ").filter(|_| line.contains("**. ") || line.contains("** (")))
        .map(|at| at + 4)?;
    let at = if line.get(at - 4..at) == Some("**. ") { at } else { at - 1 };
    let (before, body) = line.split_at_checked(at)?;
    let is_order = body.starts_with(|sign: char| sign.is_ascii_uppercase()) && body.split(' ').count() > 4;
    (is_order && !before.contains("**Zones") && !before.contains("Stop ") && !before.contains("Not decided"))
        .then_some((before, body))
}

/// The last figure with a unit, made another.
fn changed_number(line: &str) -> Option<String> {
    let at = line.match_indices('\u{a0}').map(|(at, _)| at).find(|at| {
        line.get(..*at).is_some_and(|before| before.ends_with(|sign: char| sign.is_ascii_digit()))
            && line.get(*at..).is_some_and(|after| !after.starts_with("\u{a0}H"))
    })?;
    let (before, after) = line.split_at(at);
    let number = before.rsplit(|sign: char| !sign.is_ascii_digit() && sign != '.').next()?;
    let other = format!("{number}7");
    Some(format!("{}{other}{after}", before.strip_suffix(number)?))
}

/// Every `step`-th line that each way can spoil, in each of the demos.
fn mutants(demos: &[usize], most: usize) -> Vec<Mutant> {
    let mut all = Vec::new();
    for demo in demos {
        for (paper, way, start, spoil) in WAYS {
            let text = DEMOS[*demo].markdown(paper);
            let lines: Vec<&str> = text.lines().collect();
            let spoiled: Vec<(usize, String)> = lines
                .iter()
                .enumerate()
                .filter(|(_, line)| line.trim_start().starts_with(start))
                .filter_map(|(at, line)| Some((at, spoil(line)?)))
                .collect();
            let step = spoiled.len().div_ceil(most).max(1);
            for (at, new) in spoiled.into_iter().step_by(step) {
                let mut lines: Vec<&str> = lines.clone();
                let old = std::mem::replace(&mut lines[at], &new);
                let line = old.to_owned();
                let lines: Vec<&str> = lines
                    .into_iter()
                    .enumerate()
                    .filter(|(place, line)| *place != at || !line.is_empty())
                    .map(|(_, line)| line)
                    .collect();
                all.push(Mutant { demo: *demo, paper, way, line, text: lines.join("\n") });
            }
        }
    }
    all
}

/// Nothing is caught where something was found before.
fn is_clean(demo: usize) -> bool {
    static CLEAN: LazyLock<Vec<bool>> = LazyLock::new(|| {
        DEMOS.iter().map(|demo| proofread(&demo.papers, &demo.about, &[], &RULES).is_empty()).collect()
    });
    CLEAN[demo]
}

fn is_caught(mutant: &Mutant) -> bool {
    let demo: &Set = &DEMOS[mutant.demo];
    let papers: Vec<Paper> =
        demo.papers
            .iter()
            .map(|paper| {
                if paper.name == mutant.paper {
                    of_markdown(mutant.paper, &mutant.text)
                } else {
                    paper.clone()
                }
            })
            .collect();
    !proofread(&papers, &demo.about, &[], &RULES).is_empty() && is_clean(mutant.demo)
}

#[expect(clippy::print_stdout, reason = "the score is printed for whoever asks")]
fn score(mutants: &[Mutant]) -> f64 {
    let caught: Vec<bool> = mutants.par_iter().map(is_caught).collect();
    let mut ways: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (mutant, caught) in mutants.iter().zip(&caught) {
        let way = ways.entry(mutant.way).or_default();
        *way = (way.0 + usize::from(*caught), way.1 + 1);
        if !caught {
            println!("not caught, {}, {}: {}", mutant.way, DEMOS[mutant.demo].name, mutant.line);
        }
    }
    for (way, (caught, all)) in &ways {
        println!("{way}: {caught} of {all}");
    }
    let count = |number: usize| f64::from(u32::try_from(number).unwrap());
    let caught = caught.iter().filter(|caught| **caught).count();
    let share = count(caught) / count(mutants.len());
    println!("{caught} of {} spoiled clauses are caught: {:.1} %", mutants.len(), share * 100.0);
    share
}

#[test]
fn a_sample_of_spoiled_clauses_is_caught() {
    let mutants = mutants(&[0], 4);
    assert!(mutants.len() > 50, "{}", mutants.len());
    assert!(score(&mutants) >= 0.95);
}

#[test]
#[ignore = "some minutes: every demo, up to twenty clauses for each way"]
fn mutants_of_every_demo_are_caught() {
    let all: Vec<usize> = (0..DEMOS.len()).collect();
    assert!(score(&mutants(&all, 20)) >= 0.95);
}

/// Words that leave open which things, or how many.
const VAGUE: [&str; 6] = ["any", "various", "some", "several", "certain", "similar"];

/// The section with a line of its own put in the place of another.
fn section_with(demo: &Set, at: usize, new: &str) -> Paper {
    let lines: Vec<&str> = demo.markdown("section").lines().collect();
    let lines: Vec<&str> = lines
        .iter()
        .enumerate()
        .filter_map(|(place, line)| if place == at { (!new.is_empty()).then_some(new) } else { Some(*line) })
        .collect();
    of_markdown("section", &lines.join("\n"))
}

#[test]
fn a_vague_word_in_any_clause_is_found() {
    let demo = &DEMOS[0];
    let lines: Vec<&str> = demo.markdown("section").lines().collect();
    let clauses: Vec<usize> =
        (0..lines.len()).filter(|at| body(lines[*at]).is_some() && lines[*at].starts_with("- **")).collect();
    assert!(clauses.len() > 80, "{}", clauses.len());
    let missed: Vec<&str> = clauses
        .par_iter()
        .filter_map(|at| {
            let (before, body) = body(lines[*at])?;
            let (verb, rest) = body.split_once(' ')?;
            let word = VAGUE[at % VAGUE.len()];
            let paper = section_with(demo, *at, &format!("{before}{verb} {word} {rest}"));
            let found = proofread(&[paper], &demo.about, &[], &RULES);
            (!found.iter().any(|finding| finding.check == "vague-word")).then_some(lines[*at])
        })
        .collect();
    assert!(missed.is_empty(), "{missed:#?}");
}

#[test]
fn a_reference_line_that_is_taken_out_is_missed() {
    let demo = &DEMOS[0];
    let text = demo.markdown("section");
    let lines: Vec<&str> = text.lines().collect();
    let from = lines.iter().position(|line| line.contains("1.2 References")).unwrap();
    let to = lines.iter().position(|line| line.contains("1.3 Definitions")).unwrap();
    let listed: Vec<usize> = (from..to)
        .filter(|at| lines[*at].starts_with("- **") && !lines[*at].contains("**Editions**"))
        .collect();
    assert!(listed.len() > 15);
    for at in listed {
        let found = proofread(&[section_with(demo, at, "")], &demo.about, &[], &RULES);
        let missed =
            found.iter().any(|finding| ["cited-not-listed", "number-gap"].contains(&finding.check.as_str()));
        assert!(missed, "{}", lines[at]);
    }
}
