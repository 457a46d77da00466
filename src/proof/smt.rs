//! Proof problems in SMT-LIB 2.6, so that a solver from outside can be asked the same: one for each thing that no survey
//! may show. A problem without an answer (`unsat`) is a proof.

use std::fmt::Write as _;

use super::circuit::{Bit, Circuit, Gate};
use super::prover::Prover;
use super::question::{self, About};
use super::space::{Space, SpaceFact};
use super::told::called;
use crate::inference::Plan;
use crate::rulebook::book::Book;
use crate::wall::Reach;

/// One problem.
#[derive(Clone, Debug)]
pub struct Problem {
    /// What it asks.
    pub about: About,
    /// A name for its file, of plain letters.
    pub name: String,
    /// The problem.
    pub text: String,
}

/// Everything that no survey may show, as problems.
pub fn problems(book: &Book, reach: &[Reach]) -> Vec<Problem> {
    let plan = Plan::of(book);
    let mut prover = Prover::of(book, &plan, reach);
    let questions = question::all(&mut prover);
    let owners = prover.space.owners(prover.circuit.gates().len());
    let bad = questions.iter().filter(|question| question.about.is_bad_if_found()).enumerate();
    let problems = bad.filter_map(|(number, question)| {
        let (kind, name) = called(book, question.about)?;
        let what = match question.about {
            About::Unsure(_) => format!("{kind} {name} while something is open"),
            _ => format!("{kind} {name}"),
        };
        let name = format!("{number:03} {what}").replace(' ', "-");
        let text = written(&prover, &owners, &what, question.bit);
        Some(Problem { about: question.about, name, text })
    });
    problems.collect()
}

fn written(prover: &Prover<'_>, owners: &[Option<usize>], what: &str, bit: Bit) -> String {
    let (circuit, space) = (&prover.circuit, &prover.space);
    let facts = facts_read(circuit, owners, bit);
    let laws = facts.iter().filter_map(|fact| space.facts.get(*fact)).map(|fact| fact.lawful);
    let wanted: Vec<Bit> = laws.chain([bit]).collect();
    let names = names(space, circuit.gates().len());
    let mut text = format!(
        "; {what}: whether a survey shows it\n; {}, edition {}\n(set-logic QF_UF)\n",
        prover.book.title, prover.book.edition
    );
    for gate in circuit.cone(&wanted) {
        let name = |bit: Bit| named(&names, bit);
        let _ = match circuit.gates().get(gate) {
            Some(Gate::Said) => writeln!(text, "(declare-const {} Bool)", of_gate(&names, gate)),
            Some(Gate::Both(one, other)) => {
                writeln!(
                    text,
                    "(define-fun {} () Bool (and {} {}))",
                    of_gate(&names, gate),
                    name(*one),
                    name(*other)
                )
            }
            Some(Gate::Never) | None => Ok(()),
        };
    }
    for law in &wanted {
        let _ = writeln!(text, "(assert {})", named(&names, *law));
    }
    text.push_str("(check-sat)\n");
    text
}

/// The facts that a bit reads.
fn facts_read(circuit: &Circuit, owners: &[Option<usize>], bit: Bit) -> Vec<usize> {
    let cone = circuit.cone(&[bit]);
    let mut facts: Vec<usize> = cone.iter().filter_map(|gate| owners.get(*gate).copied().flatten()).collect();
    facts.sort_unstable();
    facts.dedup();
    facts
}

/// By gate: what a survey says there, in words that a solver takes for a name.
fn names(space: &Space, gates: usize) -> Vec<Option<String>> {
    let mut names = vec![None; gates];
    for fact in &space.facts {
        for (bit, name) in said(fact).filter(|(bit, _)| !bit.is_constant()) {
            if let Some(place) = names.get_mut(bit.gate()) {
                *place = Some(name);
            }
        }
    }
    names
}

fn said(fact: &SpaceFact) -> impl Iterator<Item = (Bit, String)> {
    let rows = fact.told.iter().enumerate();
    let cells = rows.flat_map(move |(row, cells)| {
        let cells = cells.iter().enumerate();
        cells.map(move |(cell, bit)| (*bit, format!("|{} row {row} cell {cell}|", fact.name)))
    });
    cells.chain([(fact.given, format!("|{} is known|", fact.name))])
}

fn of_gate(names: &[Option<String>], gate: usize) -> String {
    match names.get(gate).and_then(Option::as_ref) {
        Some(name) => name.clone(),
        None => format!("g{gate}"),
    }
}

fn named(names: &[Option<String>], bit: Bit) -> String {
    match (bit.is_constant(), bit.is_turned()) {
        (true, true) => "true".to_owned(),
        (true, false) => "false".to_owned(),
        (false, true) => format!("(not {})", of_gate(names, bit.gate())),
        (false, false) => of_gate(names, bit.gate()),
    }
}
