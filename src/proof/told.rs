//! What a proof found, as diagnostics with the statements concerned.

use super::involved::involved;
use super::mistake::ProofMistake;
use super::question::About;
use super::report::{Report, Standing};
use super::words::in_words;
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::book::{Book, FactId, Waived};
use crate::units::System;

/// Everything that is not as it should be, in the order of the questions.
pub fn told(book: &Book, report: &Report, system: System) -> Vec<Diagnostic> {
    let of_answers = report.answers.iter().filter(|(about, _)| !is_waived(book, waiver_of(*about)));
    let of_answers = of_answers.filter_map(|(about, standing)| one(book, *about, standing, system));
    let of_facts =
        report.idle.iter().filter(|(fact, _)| !is_waived(book, Some(Waived::SettlesNothing(*fact))));
    let of_facts = of_facts.filter_map(|(fact, standing)| idle(book, *fact, standing));
    of_answers.chain(of_facts).chain(stale(book, report)).collect()
}

/// The waiver that takes a question's remark back.
pub(crate) fn waiver_of(about: About) -> Option<Waived> {
    Some(match about {
        About::Applies(rule) => Waived::NeverApplies(rule),
        About::Matters(rule) => Waived::NeverMatters(rule),
        About::Required(clause) => Waived::NeverRequired(clause),
        About::Holds(finding) => Waived::NeverHolds(finding),
        About::Fails(finding) => Waived::AlwaysHolds(finding),
        _ => return None,
    })
}

fn is_waived(book: &Book, waived: Option<Waived>) -> bool {
    waived.is_some_and(|waived| book.waivers.iter().any(|waiver| waiver.waived == waived))
}

/// Waivers of remarks that nobody would make.
fn stale(book: &Book, report: &Report) -> Vec<Diagnostic> {
    let made = |waived: Waived| {
        let of_answers = report.answers.iter().filter(|(_, standing)| matches!(standing, Standing::NoSurvey));
        let of_facts = report.idle.iter().filter(|(_, standing)| matches!(standing, Standing::NoSurvey));
        of_answers.filter_map(|(about, _)| waiver_of(*about)).any(|of| of == waived)
            || of_facts.map(|(fact, _)| Waived::SettlesNothing(*fact)).any(|of| of == waived)
    };
    let stale = book.waivers.iter().filter(|waiver| !made(waiver.waived));
    stale
        .map(|waiver| {
            let place = first_line(&waiver.place);
            Diagnostic::remark(&ProofMistake::Stale { words: place.text().to_owned() }, place)
        })
        .collect()
}

fn one(book: &Book, about: About, standing: &Standing, system: System) -> Option<Diagnostic> {
    let (name, place) = named(book, about)?;
    let mistake = match standing {
        Standing::Proved => return None,
        Standing::NotSettled => ProofMistake::NotSettled { what: asked(about, &name) },
        Standing::NotReplayed => ProofMistake::NotReplayed { what: asked(about, &name) },
        Standing::Shown(_) | Standing::NoSurvey => said(about, name),
    };
    let mut diagnostic = match (about, standing) {
        // Untidy, and yet every survey is decided as it should be.
        (About::Matters(_) | About::Required(_) | About::Holds(_) | About::Fails(_), _) => {
            Diagnostic::remark(&mistake, place)
        }
        _ => Diagnostic::error(&mistake, place),
    };
    if let Standing::Shown(witness) = standing {
        for (place, why) in involved(book, about, &witness.decisions) {
            diagnostic = diagnostic.and(place, why);
        }
        let help = diagnostic.help.take().unwrap_or_default();
        diagnostic.help = Some(format!("{help}\n{}", in_words(witness, system)));
    }
    Some(diagnostic)
}

fn idle(book: &Book, fact: FactId, standing: &Standing) -> Option<Diagnostic> {
    let fact = book.facts.get(fact.0)?;
    let mistake = match standing {
        Standing::NoSurvey => ProofMistake::SettlesNothing { name: fact.name.clone() },
        _ => ProofMistake::NotSettled {
            what: format!("whether the question `{}` settles anything", fact.name),
        },
    };
    Some(Diagnostic::remark(&mistake, first_line(&fact.place)))
}

/// The statement that a question is about.
pub(crate) fn named(book: &Book, about: About) -> Option<(String, Place)> {
    let (name, place) = match about {
        About::Broken(promise) | About::Unsure(promise) => {
            book.promises.get(promise).map(|promise| (&promise.name, &promise.place))
        }
        About::Applies(rule) | About::Matters(rule) => {
            book.rules.get(rule.0).map(|rule| (&rule.name, &rule.place))
        }
        About::Required(clause) => book.clauses.get(clause.0).map(|clause| (&clause.name, &clause.place)),
        About::Holds(finding) | About::Fails(finding) => {
            book.findings.get(finding.0).map(|finding| (&finding.name, &finding.place))
        }
        About::NothingLeft(slot) | About::Ring(slot) => {
            book.slots.get(slot.0).map(|slot| (&slot.name, &slot.place))
        }
        About::Clash(quantity, ..) => {
            book.quantities.get(quantity.0).map(|quantity| (&quantity.name, &quantity.place))
        }
    }?;
    Some((name.clone(), first_line(place)))
}

/// The line that names a statement.
fn first_line(place: &Place) -> Place {
    let length = place.text().lines().next().map_or(0, str::len);
    Place::new(&place.source, place.start, place.start + length)
}

/// What a question is about, in a word, and its name: for a file's name.
pub fn called(book: &Book, about: About) -> Option<(&'static str, String)> {
    let kind = match about {
        About::Broken(_) | About::Unsure(_) => "promise",
        About::Applies(_) | About::Matters(_) => "rule",
        About::Required(_) => "clause",
        About::Holds(_) | About::Fails(_) => "finding",
        About::NothingLeft(_) => "nothing left for",
        About::Ring(_) => "ring of",
        About::Clash(..) => "limits on",
    };
    Some((kind, named(book, about)?.0))
}

fn said(about: About, name: String) -> ProofMistake {
    match about {
        About::Broken(_) => ProofMistake::Broken { name },
        About::Unsure(_) => ProofMistake::Unsure { name },
        About::Applies(_) => ProofMistake::NeverApplies { name },
        About::Matters(_) => ProofMistake::NeverMatters { name },
        About::Required(_) => ProofMistake::NeverRequired { name },
        About::Holds(_) => ProofMistake::NeverHolds { name },
        About::Fails(_) => ProofMistake::AlwaysHolds { name },
        About::NothingLeft(_) => ProofMistake::NothingLeft { name },
        About::Ring(_) => ProofMistake::Ring { name },
        About::Clash(..) => ProofMistake::Clash { name },
    }
}

/// A question in words, for what could not be answered.
fn asked(about: About, name: &str) -> String {
    match about {
        About::Broken(_) | About::Unsure(_) => format!("promise `{name}`"),
        About::Applies(_) => format!("whether rule `{name}` can apply"),
        About::Matters(_) => format!("whether rule `{name}` matters"),
        About::Required(_) => format!("whether clause `{name}` can be required"),
        About::Holds(_) | About::Fails(_) => format!("whether finding `{name}` can be true and false"),
        About::NothingLeft(_) => format!("whether `{name}` can be left with nothing"),
        About::Ring(_) => format!("whether the preferences of `{name}` can run in a circle"),
        About::Clash(..) => format!("whether two limits on `{name}` can hold together"),
    }
}
