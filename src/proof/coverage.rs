//! Which rules a set of surveys exercises: a rule is exercised where it certainly applies in some zone.

use crate::inference::decide::Case;
use crate::inference::{Ready, Truth};
use crate::rulebook::book::{Book, RuleId};
use crate::wall::facts::ZoneFacts;

/// What surveys do with the rules of a book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coverage {
    /// For each rule: yes where it applies in some zone, not known where it does so only while something is open.
    pub rules: Vec<Truth>,
    /// For each survey: the rules that no other survey makes certain.
    pub alone: Vec<Vec<RuleId>>,
}

impl Coverage {
    /// The rules that come out like this at best.
    pub fn at_best(&self, truth: Truth) -> impl Iterator<Item = RuleId> {
        let rules = self.rules.iter().enumerate();
        rules.filter(move |(_, own)| **own == truth).map(|(rule, _)| RuleId(rule))
    }
}

/// Reads surveys, each given by the facts of its zones.
pub fn coverage(book: &Book, surveys: &[Vec<ZoneFacts>]) -> Coverage {
    let Ready { flat, .. } = Ready::of(book);
    let mut slate = flat.slate();
    let mut each = Vec::new();
    for zones in surveys {
        let mut best = vec![Truth::No; book.rules.len()];
        for facts in zones {
            flat.read(Case::new(facts, &[]), &mut slate);
            for (rule, best) in best.iter_mut().enumerate() {
                *best = best.or(slate.rule(RuleId(rule)));
            }
        }
        each.push(best);
    }
    let certain = |rule: usize| each.iter().filter(move |best| best.get(rule) == Some(&Truth::Yes)).count();
    let rules = (0..book.rules.len())
        .map(|rule| each.iter().filter_map(|best| best.get(rule).copied()).fold(Truth::No, Truth::or));
    let alone = each.iter().map(|best| {
        let own = best.iter().enumerate().filter(|(_, truth)| **truth == Truth::Yes);
        own.filter(|(rule, _)| certain(*rule) == 1).map(|(rule, _)| RuleId(rule)).collect()
    });
    Coverage { rules: rules.collect(), alone: alone.collect() }
}
