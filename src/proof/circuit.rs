//! A book as wires and gates. Everything that it decides is built from answers by `and` and `not` alone, so that one
//! flat list of gates can be read three ways: 64 surveys at a time (`sample`), as clauses for the solver (`solve`), and
//! as a decision diagram (`count`).

use indexmap::IndexMap;
use rustc_hash::FxBuildHasher;

/// One end of a wire: the number of a gate, and whether its answer is turned round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Bit(u32);

impl Bit {
    /// Never so.
    pub(crate) const FALSE: Self = Self(0);
    /// Always so.
    pub(crate) const TRUE: Self = Self(1);

    /// The gate it comes from.
    pub(crate) fn gate(self) -> usize {
        (self.0 >> 1) as usize
    }

    /// Whether it is the opposite of what the gate says.
    pub(crate) fn is_turned(self) -> bool {
        self.0 & 1 == 1
    }

    /// Whether it is the same whatever is answered.
    pub(crate) fn is_constant(self) -> bool {
        self.gate() == 0
    }
}

impl std::ops::Not for Bit {
    type Output = Self;

    fn not(self) -> Self {
        Self(self.0 ^ 1)
    }
}

/// What a gate does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Gate {
    /// The first gate: never so.
    Never,
    /// Something that a survey says.
    Said,
    /// Both.
    Both(Bit, Bit),
}

/// The gates, each after those it reads. Equal gates are built once.
#[derive(Debug)]
pub(crate) struct Circuit {
    gates: Vec<Gate>,
    built: IndexMap<(Bit, Bit), Bit, FxBuildHasher>,
}

impl Circuit {
    /// Nothing yet.
    pub(crate) fn new() -> Self {
        Self { gates: vec![Gate::Never], built: IndexMap::with_hasher(FxBuildHasher) }
    }

    /// Every gate, in order.
    pub(crate) fn gates(&self) -> &[Gate] {
        &self.gates
    }

    /// A new thing that a survey may say.
    pub(crate) fn said(&mut self) -> Bit {
        self.push(Gate::Said)
    }

    fn push(&mut self, gate: Gate) -> Bit {
        let number = u32::try_from(self.gates.len()).unwrap_or(u32::MAX >> 1);
        self.gates.push(gate);
        Bit(number << 1)
    }

    /// Both.
    pub(crate) fn and(&mut self, one: Bit, other: Bit) -> Bit {
        if one == Bit::FALSE || other == Bit::FALSE || one == !other {
            return Bit::FALSE;
        }
        if one == Bit::TRUE || one == other {
            return other;
        }
        if other == Bit::TRUE {
            return one;
        }
        let key = (one.min(other), one.max(other));
        if let Some(known) = self.built.get(&key) {
            return *known;
        }
        let built = self.push(Gate::Both(key.0, key.1));
        self.built.insert(key, built);
        built
    }

    /// At least one.
    pub(crate) fn or(&mut self, one: Bit, other: Bit) -> Bit {
        !self.and(!one, !other)
    }

    /// All of them.
    pub(crate) fn all(&mut self, bits: impl IntoIterator<Item = Bit>) -> Bit {
        bits.into_iter().fold(Bit::TRUE, |all, bit| self.and(all, bit))
    }

    /// At least one of them.
    pub(crate) fn any(&mut self, bits: impl IntoIterator<Item = Bit>) -> Bit {
        bits.into_iter().fold(Bit::FALSE, |any, bit| self.or(any, bit))
    }

    /// Whether two things differ.
    pub(crate) fn differ(&mut self, one: Bit, other: Bit) -> Bit {
        let first = self.and(one, !other);
        let second = self.and(!one, other);
        self.or(first, second)
    }

    /// How far from what surveys say the gates lie that a bit joins: the number of the later one.
    pub(crate) fn height(&self, bit: Bit) -> usize {
        match self.gates.get(bit.gate()) {
            Some(Gate::Both(one, other)) => one.gate().max(other.gate()),
            Some(Gate::Never | Gate::Said) | None => bit.gate(),
        }
    }

    /// The gates that a bit depends on, itself among them, in order.
    pub(crate) fn cone(&self, of: &[Bit]) -> Vec<usize> {
        let mut within = vec![false; self.gates.len()];
        let mut open: Vec<usize> = of.iter().map(|bit| bit.gate()).collect();
        while let Some(gate) = open.pop() {
            let Some(seen) = within.get_mut(gate) else { continue };
            if std::mem::replace(seen, true) {
                continue;
            }
            if let Some(Gate::Both(one, other)) = self.gates.get(gate) {
                open.extend([one.gate(), other.gate()]);
            }
        }
        within.iter().enumerate().filter(|(_, within)| **within).map(|(gate, _)| gate).collect()
    }

    /// The same bits, built anew with some wires replaced. What reads none of them stays.
    pub(crate) fn replaced(&mut self, bits: &[Bit], with: &[(Bit, Bit)]) -> Vec<Bit> {
        let count = self.gates.len();
        let mut anew: Vec<Option<Bit>> = vec![None; count];
        for (old, new) in with {
            if let Some(place) = anew.get_mut(old.gate()) {
                *place = Some(*new);
            }
        }
        for gate in self.cone(bits) {
            let Some(Gate::Both(one, other)) = self.gates.get(gate).copied() else { continue };
            let is_replaced = anew.get(gate).is_some_and(Option::is_some);
            if !is_replaced && (changed(&anew, one) || changed(&anew, other)) {
                let built = self.and(renewed(&anew, one), renewed(&anew, other));
                if let Some(place) = anew.get_mut(gate) {
                    *place = Some(built);
                }
            }
        }
        bits.iter().map(|bit| renewed(&anew, *bit)).collect()
    }
}

fn changed(anew: &[Option<Bit>], bit: Bit) -> bool {
    anew.get(bit.gate()).is_some_and(Option::is_some)
}

fn renewed(anew: &[Option<Bit>], bit: Bit) -> Bit {
    match anew.get(bit.gate()).copied().flatten() {
        Some(built) if bit.is_turned() => !built,
        Some(built) => built,
        None => bit,
    }
}
