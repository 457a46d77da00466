//! What must hold of every decision, on random books.

use std::collections::BTreeSet;

use perpend::inference::decide::{Case, Reading, decide};
use perpend::inference::outcome::{StopCause, ZoneOutcome};
use perpend::inference::{Flat, Plan, Truth};
use perpend::rulebook::book::{FactId, Picks, RuleId};
use perpend::rulebook::cells::CellSet;
use proptest::prelude::*;

use crate::random_books::{self, Answer};

/// Every duty of the first zone that is shown, and those of them that are certain, in words.
fn duties(zone: &ZoneOutcome) -> (BTreeSet<String>, BTreeSet<String>) {
    let mut all: Vec<(String, Truth)> = Vec::new();
    for duty in &zone.clauses {
        all.push((format!("clause {}", duty.clause.0), duty.truth));
    }
    for limit in &zone.limits {
        for entry in &limit.entries {
            let rule = entry.cause.rule.0;
            all.push((format!("limit {rule} {:?} {}", entry.option, entry.value.value()), entry.cause.truth));
        }
    }
    for stop in &zone.stops {
        let (name, truth) = match &stop.cause {
            StopCause::Rule(cause) => (format!("stop {}", cause.rule.0), cause.truth),
            StopCause::NothingLeft(slot, truth) => (format!("nothing left {}", slot.0), *truth),
            StopCause::Circle(slot, truth, _) => (format!("circle {}", slot.0), *truth),
            // Told below, from the pair itself: an unsure clash is an open matter and no stop.
            StopCause::Clash(_) => continue,
        };
        all.push((name, truth));
    }
    for clash in &zone.clashes {
        all.push((format!("clash {}", clash.quantity.0), clash.truth()));
    }
    for (slot, options) in zone.decisions.chosen.iter().enumerate() {
        for (option, truth) in options.iter().enumerate() {
            all.push((format!("chosen {slot} {option}"), *truth));
        }
    }
    for (slot, options) in zone.decisions.refused.iter().enumerate() {
        for (option, truth) in options.iter().enumerate() {
            all.push((format!("refused {slot} {option}"), *truth));
        }
    }
    let named = |wanted: fn(Truth) -> bool| {
        all.iter().filter(|(_, truth)| wanted(*truth)).map(|(name, _)| name.clone()).collect()
    };
    (named(Truth::is_shown), named(|truth| truth == Truth::Yes))
}

/// One open answer made narrower: an unanswered fact answered, or a pair drawn together. `None` when it is not open.
fn narrowed(answers: &[Answer], at: usize, to: u8) -> Option<Vec<Answer>> {
    let mut narrower = answers.to_vec();
    let place = narrower.get_mut(at)?;
    *place = match place {
        Answer::Nothing => Answer::One(to),
        Answer::One(_) => return None,
        Answer::Between(low, high) => Answer::One(if to.is_multiple_of(2) { *low } else { *high }),
    };
    Some(narrower)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Narrowing an open question never adds a shown duty and never takes away a certain one.
    #[test]
    fn narrowing_is_monotone(
        plan in random_books::plans(),
        answers in random_books::answers(),
        at in 0..9_usize,
        to in 0..10_u8,
    ) {
        let book = random_books::book(&plan);
        let before = random_books::decide(&book, &answers);
        let zone = &before.zones[0];
        let fact = book.facts.iter().position(|fact| fact.name == format!("fact-{at}")).unwrap();
        let possible = zone.decisions.facts[fact];
        prop_assume!(possible.len() > 1);
        let Some(narrower) = narrowed(&answers, at, to) else { return Ok(()) };
        let after = random_books::decide(&book, &narrower);
        prop_assume!(after.zones[0].decisions.facts[fact].is_within(possible));
        let (shown_before, certain_before) = duties(zone);
        let (shown_after, certain_after) = duties(&after.zones[0]);
        prop_assert!(shown_after.is_subset(&shown_before), "added: {:?}", shown_after.difference(&shown_before));
        prop_assert!(certain_before.is_subset(&certain_after), "lost: {:?}", certain_before.difference(&certain_after));
    }

    /// Decisions do not depend on the order of files or statements.
    #[test]
    fn order_does_not_matter(plan in random_books::plans(), answers in random_books::answers()) {
        let files = random_books::files(&plan);
        let mut turned: Vec<_> = files
            .iter()
            .map(|file| {
                if !file.text.starts_with("rulebook ") {
                    return file.clone();
                }
                let mut statements: Vec<&str> = file.text.split("\n\n").filter(|part| !part.trim().is_empty()).collect();
                statements.reverse();
                perpend::diagnostic::Source::new(file.name.clone(), format!("{}\n", statements.join("\n\n")))
            })
            .collect();
        turned.reverse();
        let (straight, _) = perpend::rulebook::read(&files);
        let (turned, _) = perpend::rulebook::read(&turned);
        let (straight, turned) = (straight.unwrap(), turned.unwrap());
        prop_assert_eq!(&straight.digest, &turned.digest);
        let one = random_books::decide(&straight, &answers);
        let other = random_books::decide(&turned, &answers);
        prop_assert_eq!(format!("{one:?}"), format!("{other:?}"));
    }

    /// A pick-one slot never has two certain options, and the option printed for now is always possible.
    #[test]
    fn a_pick_is_possible_and_alone(plan in random_books::plans(), answers in random_books::answers()) {
        let book = random_books::book(&plan);
        let outcome = random_books::decide(&book, &answers);
        let of_one = outcome.zones[0].slots.iter().filter(|slot| book.slots[slot.slot.0].picks == Picks::One);
        for slot in of_one {
            let certain = slot.options.iter().filter(|option| option.chosen == Truth::Yes).count();
            prop_assert!(certain <= 1);
            if let Some(pick) = slot.pick {
                prop_assert!(slot.options[pick.0].chosen.is_shown());
            }
        }
    }

    /// The flat form decides what the evaluator decides, also where a professional departs from a rule and where an answer
    /// is supposed.
    #[test]
    fn the_flat_form_and_the_evaluator_agree(
        plan in random_books::odd_plans(),
        surveys in prop::collection::vec(random_books::answers(), 4),
        departed in 0..12_usize,
        (at, to) in (0..9_usize, 0..3_usize),
    ) {
        let book = random_books::book(&plan);
        let plan = Plan::of(&book);
        let flat = Flat::of(&book, &plan);
        let (mut base, mut slate) = (flat.slate(), flat.slate());
        let departed = [RuleId(departed)];
        for answers in &surveys {
            let facts = random_books::facts(&book, answers);
            let case = Case::new(&facts, &departed);
            let supposed = book.facts.get(at).filter(|fact| to < fact.cells.count());
            let supposed = supposed.map(|_| (FactId(at), CellSet::one(to)));
            flat.read(case, &mut base);
            let with = Case { supposed, ..case };
            for (case, from_base) in [(case, false), (with, false), (with, supposed.is_some())] {
                if from_base {
                    flat.suppose(&flat.cone(FactId(at)), case, &base, &mut slate);
                } else {
                    flat.read(case, &mut slate);
                }
                let made = decide(&book, &plan, case, Reading::Open);
                prop_assert_eq!(slate.unlike(&flat, &made), Vec::<String>::new());
                let open = |truths: &[Truth]| truths.iter().filter(|truth| !truth.is_settled()).count();
                let unsettled = open(&made.rules) + made.chosen.iter().map(|chosen| open(chosen)).sum::<usize>();
                prop_assert_eq!(slate.unsettled(&flat), unsettled);
            }
        }
    }
}
