//! The solver's view: gates as clauses (Tseitin 1968), what surveys say as the only things to decide. It finds a survey
//! in which something is so, proves that there is none, or gives up within its budget.

use std::cell::Cell;
use std::sync::Arc;

use batsat::{Callbacks, Lit, Solver as Sat, SolverInterface, SolverOpts, lbool};

use super::circuit::{Bit, Circuit, Gate};
use super::sheet::Sheet;
use super::space::Space;

/// What the solver found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// No survey does it.
    Never,
    /// This one does.
    Found(Arc<Sheet>),
    /// The budget ran out.
    NotSettled,
}

/// Counts dead ends, the measure of work that is the same on every machine.
#[derive(Debug, Default)]
struct Patience {
    dead_ends: u64,
    until: Cell<u64>,
}

impl Callbacks for Patience {
    fn on_new_clause(&mut self, _: &[Lit], source: batsat::ClauseKind) {
        if source == batsat::ClauseKind::Learnt {
            self.dead_ends += 1;
        }
    }

    fn stop(&self) -> bool {
        self.dead_ends >= self.until.get()
    }
}

/// A solver that learns from question to question.
pub(crate) struct Solver<'a> {
    circuit: &'a Circuit,
    space: &'a Space,
    /// By gate: the fact that a thing said belongs to.
    owners: Vec<Option<usize>>,
    /// By gate: what every survey keeps to.
    laws: Vec<Option<Bit>>,
    sat: Sat<Patience>,
    laid: Vec<Option<Lit>>,
    budget: u64,
    /// The most that one question may spend, so that a hard one leaves something for the others.
    share: u64,
}

impl<'a> Solver<'a> {
    /// A solver over what is laid out, with so many dead ends to spend over all its questions.
    pub(crate) fn new(circuit: &'a Circuit, space: &'a Space, budget: u64) -> Self {
        let gates = circuit.gates().len();
        let mut sat = Sat::new(SolverOpts::default(), Patience::default());
        let never = Lit::new(sat.new_var(lbool::FALSE, true), true);
        sat.add_clause_reuse(&mut vec![!never]);
        let mut laid = vec![None; gates];
        if let Some(first) = laid.first_mut() {
            *first = Some(never);
        }
        let mut laws = vec![None; gates];
        for fact in &space.facts {
            if let Some(law) = laws.get_mut(fact.lawful.gate()) {
                *law = Some(fact.lawful);
            }
        }
        Self {
            circuit,
            space,
            owners: space.owners(gates),
            laws,
            sat,
            laid,
            budget,
            share: (budget / 20).max(2_000),
        }
    }

    /// How many dead ends are left to spend.
    pub(crate) fn left(&self) -> u64 {
        self.budget
    }

    /// Looks for a survey in which something is so.
    pub(crate) fn ask(&mut self, bit: Bit) -> Verdict {
        let verdict = self.ask_all(&[bit]);
        if verdict == Verdict::Never && !bit.is_constant() {
            // What is proved once is known to every question after it.
            let wanted = self.literal(bit);
            self.sat.add_clause_reuse(&mut vec![!wanted]);
        }
        verdict
    }

    /// Looks for a survey in which all of these are so.
    pub(crate) fn ask_all(&mut self, bits: &[Bit]) -> Verdict {
        if bits.contains(&Bit::FALSE) {
            return Verdict::Never;
        }
        let wanted: Vec<Lit> = bits.iter().map(|bit| self.lay(*bit)).collect();
        let before = self.sat.cb().dead_ends;
        self.sat.cb().until.set(before.saturating_add(self.budget.min(self.share)));
        let answer = self.sat.solve_limited(&wanted);
        self.budget = self.budget.saturating_sub(self.sat.cb().dead_ends - before);
        if answer == lbool::TRUE {
            let sat = &self.sat;
            let laid = &self.laid;
            let value = |bit: Bit| {
                let lit = laid.get(bit.gate()).copied().flatten();
                lit.is_some_and(|lit| sat.value_lit(lit) == lbool::TRUE)
            };
            Verdict::Found(Arc::new(Sheet::read(self.space, value)))
        } else if answer == lbool::FALSE {
            Verdict::Never
        } else {
            Verdict::NotSettled
        }
    }

    /// The literal of a bit, its gates laid out as clauses if they are not yet.
    fn lay(&mut self, bit: Bit) -> Lit {
        let mut open = vec![bit.gate()];
        while let Some(gate) = open.last().copied() {
            if self.laid.get(gate).is_none_or(Option::is_some) {
                open.pop();
                continue;
            }
            match self.circuit.gates().get(gate) {
                Some(Gate::Both(one, other)) => {
                    let waits: Vec<usize> = [one, other]
                        .iter()
                        .map(|bit| bit.gate())
                        .filter(|gate| !self.is_laid(*gate))
                        .collect();
                    if waits.is_empty() {
                        self.lay_gate(gate, *one, *other);
                    }
                    open.extend(waits);
                }
                Some(Gate::Said) => open.extend(self.lay_said(gate)),
                Some(Gate::Never) | None => {
                    open.pop();
                }
            }
        }
        self.literal(bit)
    }

    fn is_laid(&self, gate: usize) -> bool {
        self.laid.get(gate).is_some_and(Option::is_some)
    }

    /// What a survey says may be decided; with it comes the law of its fact, whose gate is given back.
    fn lay_said(&mut self, gate: usize) -> Option<usize> {
        let variable = self.sat.new_var(lbool::UNDEF, true);
        self.keep(gate, Lit::new(variable, true));
        let owner = self.owners.get(gate).copied().flatten()?;
        let law = self.space.facts.get(owner)?.lawful.gate();
        (!self.is_laid(law)).then_some(law)
    }

    /// A gate follows from what it reads; the solver never decides it.
    fn lay_gate(&mut self, gate: usize, one: Bit, other: Bit) {
        let (one, other) = (self.literal(one), self.literal(other));
        let both = Lit::new(self.sat.new_var(lbool::UNDEF, false), true);
        self.sat.add_clause_reuse(&mut vec![!both, one]);
        self.sat.add_clause_reuse(&mut vec![!both, other]);
        self.sat.add_clause_reuse(&mut vec![both, !one, !other]);
        self.keep(gate, both);
    }

    fn keep(&mut self, gate: usize, literal: Lit) {
        if let Some(place) = self.laid.get_mut(gate) {
            *place = Some(literal);
        }
        if let Some(law) = self.laws.get(gate).copied().flatten() {
            let kept = self.literal(law);
            self.sat.add_clause_reuse(&mut vec![kept]);
        }
    }

    fn literal(&self, bit: Bit) -> Lit {
        let lit = self.laid.get(bit.gate()).copied().flatten();
        // The first gate is laid out before any other.
        let lit = lit.or_else(|| self.laid.first().copied().flatten()).unwrap_or(Lit::UNDEF);
        if bit.is_turned() { !lit } else { lit }
    }
}

impl std::fmt::Debug for Solver<'_> {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("Solver").field("budget", &self.budget).finish_non_exhaustive()
    }
}
