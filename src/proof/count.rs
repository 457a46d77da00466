//! In how many kinds of survey something is so. A kind says of each fact concerned in which cell it lies, or that its
//! question does not arise; nothing is left open. Counted exactly while the diagram stays small, else estimated from
//! thrown surveys.

use std::collections::BTreeSet;

use num_bigint::BigUint;

use super::circuit::{Bit, Circuit, Gate};
use super::compile::Bench;
use super::diagram::{Diagram, Edge, TooLarge};
use super::sample::Batch;
use super::sheet::{Dice, Openness};
use super::space::{Source, Space, SpaceFact};
use super::tri::Tri;
use crate::rulebook::book::{Book, FactId, Origin};

/// More nodes than this are not waited for.
const MOST_NODES: usize = 5_000;

/// How many batches an estimate is taken from.
const BATCHES: usize = 32;

/// In how many kinds of survey something is so, and which facts a kind is told from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// How many.
    pub count: Count,
    /// The facts concerned.
    pub facts: Vec<FactId>,
}

/// So many kinds of survey.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Count {
    /// So many of so many.
    Exact(BigUint, BigUint),
    /// About so many in a thousand of thrown surveys.
    About(usize),
}

impl std::fmt::Display for Count {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Exact(some, all) => write!(out, "{} of {} kinds of survey", grouped(some), grouped(all)),
            Self::About(0) => {
                out.write_str("less than 1 in 1,000 thrown surveys; there are too many kinds to count")
            }
            Self::About(share) => {
                write!(out, "about {share} in 1,000 thrown surveys; there are too many kinds to count")
            }
        }
    }
}

/// Digits in threes.
fn grouped(number: &BigUint) -> String {
    let digits = number.to_string();
    let count = digits.len();
    let spaced = digits.chars().enumerate().flat_map(|(at, digit)| {
        let comma = (at > 0 && (count - at).is_multiple_of(3)).then_some(',');
        comma.into_iter().chain([digit])
    });
    spaced.collect()
}

/// What was laid out: gates, and what they read.
pub(crate) type Laid<'a> = (&'a Circuit, &'a Space);

/// The law that a kind of survey keeps: a question is answered if and only if it arises. One bit a guarded question.
pub(crate) fn laws(bench: &mut Bench<'_>, book: &Book) -> Vec<Option<Bit>> {
    let mut found = Vec::new();
    for (id, fact) in book.facts.iter().enumerate() {
        let guard = match &fact.origin {
            Origin::Asked(question) => question.only_where.as_ref(),
            Origin::Worked { .. } => None,
        };
        found.push(guard.map(|guard| {
            let arises = bench.holds(guard);
            let given = bench.given(FactId(id));
            kept(bench.circuit, given, arises)
        }));
    }
    found
}

fn kept(circuit: &mut Circuit, given: Bit, arises: Tri) -> Bit {
    let answered = circuit.and(given, arises.yes);
    let unasked = circuit.and(!given, arises.no);
    circuit.or(answered, unasked)
}

/// In how many kinds of survey a bit is so, over the facts that it reads.
pub(crate) fn count((circuit, space): Laid<'_>, laws: &[Option<Bit>], bit: Bit) -> Counted {
    let (facts, laws) = concerned((circuit, space), laws, bit);
    let count = exact((circuit, space), &facts, &laws, bit)
        .unwrap_or_else(|TooLarge| estimate((circuit, space), &laws, bit));
    let declared = facts.iter().filter_map(|fact| space.facts.get(*fact));
    Counted { count, facts: declared.map(|fact| fact.declared.1).collect() }
}

/// The facts that a bit and their guards read, and the laws among them.
fn concerned((circuit, space): Laid<'_>, laws: &[Option<Bit>], bit: Bit) -> (BTreeSet<usize>, Vec<Bit>) {
    let owners = space.owners(circuit.gates().len());
    let mut facts: BTreeSet<usize> = BTreeSet::new();
    let mut bits = vec![bit];
    loop {
        let cone = circuit.cone(&bits);
        let read: BTreeSet<usize> =
            cone.iter().filter_map(|gate| owners.get(*gate).copied().flatten()).collect();
        if read.len() == facts.len() {
            break;
        }
        facts = read;
        bits = std::iter::once(bit)
            .chain(facts.iter().filter_map(|fact| laws.get(*fact).copied().flatten()))
            .collect();
    }
    (facts, bits.split_off(1))
}

/// One row of one fact: a variable of the diagram.
struct Variable {
    fact: usize,
    row: usize,
    /// What its answers are: cells; the last of an asked fact may be that it does not arise.
    cells: Vec<usize>,
}

fn variables(space: &Space, facts: &BTreeSet<usize>) -> Vec<Variable> {
    let own = |fact: &usize| {
        let declared = space.facts.get(*fact)?;
        let absent = match declared.source {
            Source::Asked => declared.cells.absent(),
            Source::Worked => crate::rulebook::cells::CellSet::EMPTY,
        };
        let rows = declared.allowed.iter().enumerate();
        let rows =
            rows.map(|(row, cells)| Variable { fact: *fact, row, cells: cells.or(absent).iter().collect() });
        Some(rows.collect::<Vec<_>>())
    };
    facts.iter().filter_map(own).flatten().collect()
}

fn exact(
    (circuit, space): Laid<'_>,
    facts: &BTreeSet<usize>,
    laws: &[Bit],
    bit: Bit,
) -> Result<Count, TooLarge> {
    let variables = variables(space, facts);
    let mut diagram =
        Diagram::new(variables.iter().map(|variable| variable.cells.len()).collect(), MOST_NODES);
    let mut edges: Vec<Edge> = vec![Edge::NO; circuit.gates().len()];
    for (level, variable) in variables.iter().enumerate() {
        if let Some(fact) = space.facts.get(variable.fact) {
            said(&mut diagram, &mut edges, fact, (level, variable))?;
        }
    }
    let wanted: Vec<Bit> = laws.iter().copied().chain([bit]).collect();
    for gate in circuit.cone(&wanted) {
        if let Some(Gate::Both(one, other)) = circuit.gates().get(gate) {
            let both = diagram.and(edge(&edges, *one), edge(&edges, *other))?;
            set(&mut edges, gate, both);
        }
    }
    let mut lawful = Edge::YES;
    for law in laws {
        lawful = diagram.and(lawful, edge(&edges, *law))?;
    }
    let so = diagram.and(lawful, edge(&edges, bit))?;
    Ok(Count::Exact(diagram.count(so), diagram.count(lawful)))
}

/// What a survey of a kind says of one row of a fact.
fn said(
    diagram: &mut Diagram,
    edges: &mut [Edge],
    fact: &SpaceFact,
    (level, variable): (usize, &Variable),
) -> Result<(), TooLarge> {
    let mut unasked = Edge::NO;
    for (answer, cell) in variable.cells.iter().enumerate() {
        let here = diagram.is(level, answer)?;
        match fact.told.get(variable.row).and_then(|row| row.get(*cell)) {
            Some(wire) if !wire.is_constant() => set(edges, wire.gate(), here),
            _ => unasked = here,
        }
    }
    set(edges, fact.given.gate(), !unasked);
    Ok(())
}

fn edge(edges: &[Edge], bit: Bit) -> Edge {
    let edge = edges.get(bit.gate()).copied().unwrap_or(Edge::NO);
    if bit.is_turned() { !edge } else { edge }
}

fn set(edges: &mut [Edge], gate: usize, edge: Edge) {
    if let Some(place) = edges.get_mut(gate) {
        *place = edge;
    }
}

fn estimate((circuit, space): Laid<'_>, laws: &[Bit], bit: Bit) -> Count {
    let mut dice = Dice::new(3);
    let (mut so, mut all) = (0_usize, 0_usize);
    for _ in 0..BATCHES {
        let batch = Batch::thrown(circuit, space, &mut dice, Openness::Complete);
        let lawful = laws.iter().fold(batch.where_so(Bit::TRUE), |lanes, law| lanes & batch.where_so(*law));
        all += lawful.count_ones() as usize;
        so += (lawful & batch.where_so(bit)).count_ones() as usize;
    }
    Count::About(so * 1000 / all.max(1))
}
