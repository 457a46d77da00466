//! Why a rule spoke: its tests with the answers they saw, its reason and its sources.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::document::view::View;
use crate::inference::decide::{Case, Eyes};
use crate::inference::explain::{Explainer, SeenTest};
use crate::inference::plan::{facts_of, facts_of_whose};
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Citation, Condition, EffectKind, FactId, LimitValue, Refused, Rule, RuleId, TestKind,
};

/// A rule as the record quotes it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct RuleShown {
    pub(super) name: String,
    /// The first twelve digits of the statement's digest.
    pub(super) digest: String,
    pub(super) because: String,
    pub(super) sources: Vec<Cited>,
}

/// A source with the place in it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(in crate::document) struct Cited {
    title: String,
    detail: Option<String>,
    certainty: &'static str,
    /// Whether the title says all: common practice.
    plain: bool,
    checked: Option<String>,
}

impl<'a> View<'a> {
    pub(in crate::document) fn cited(self, per: &[Citation]) -> Vec<Cited> {
        let cited = per.iter().filter_map(|citation| {
            let source = self.source(citation)?;
            Some(Cited {
                title: source.title.clone(),
                detail: citation.detail.clone(),
                certainty: source.certainty.words(),
                plain: source.certainty == crate::rulebook::book::Certainty::CommonPractice,
                checked: source.checked.clone(),
            })
        });
        cited.collect()
    }

    pub(super) fn rule_shown(self, rule: RuleId) -> Option<RuleShown> {
        let rule = self.book.rules.get(rule.0)?;
        let digest =
            self.book.statement_digests.get(&format!("rule {}", rule.name)).cloned().unwrap_or_default();
        Some(RuleShown {
            name: rule.name.clone(),
            digest: digest.chars().take(12).collect(),
            because: rule.ground.because.clone(),
            sources: self.cited(&rule.ground.per),
        })
    }

    /// What explains one zone.
    pub(super) fn explainer(self, zone: usize) -> Option<Explainer<'a>> {
        Some(Explainer {
            book: self.book,
            case: Case::new(self.facts.get(zone)?, &[]),
            decisions: &self.zone(zone)?.decisions,
            system: self.system(),
        })
    }
}

/// The tests that a condition rests on, with their answers: `built before 1945: 1874`.
pub(super) fn grounds(explainer: &Explainer<'_>, condition: &Condition) -> Vec<String> {
    let eyes = Eyes { case: explainer.case, decisions: explainer.decisions };
    match condition {
        Condition::Always => Vec::new(),
        Condition::All(parts) => parts.iter().flat_map(|part| grounds(explainer, part)).collect(),
        Condition::Any(parts) => parts
            .iter()
            .filter(|part| eyes.holds(part) != Truth::No)
            .flat_map(|part| grounds(explainer, part))
            .collect(),
        Condition::Not(inner) => {
            let inner = explainer.tests(inner);
            inner.iter().map(|test| format!("not {}", said(test))).collect()
        }
        Condition::Test(_) => {
            explainer.tests(condition).iter().filter(|test| test.truth != Truth::No).map(said).collect()
        }
    }
}

fn said(test: &SeenTest) -> String {
    let behind: Vec<_> = test.behind.iter().filter(|test| test.truth != Truth::No).map(said).collect();
    let words = if behind.is_empty() {
        test.words.clone()
    } else {
        format!("{} ({})", test.words, behind.join("; "))
    };
    match (test.answer.is_empty(), test.truth) {
        (false, _) => format!("{words}: {}", test.answer),
        (true, Truth::Unknown) if behind.is_empty() => format!("{words}: not known"),
        (true, _) => words,
    }
}

/// The facts on which it rests that a rule speaks in a zone, and those that it compares options with: what does not hold
/// is left out, and of findings the facts behind them are taken.
pub(in crate::document) fn facts_that_hold(view: View<'_>, zone: usize, rule: &Rule) -> BTreeSet<FactId> {
    let mut found = BTreeSet::new();
    if let Some(explainer) = view.explainer(zone) {
        holding(&explainer, &rule.when, &mut found);
    }
    for effect in &rule.effects {
        if let EffectKind::Refuse { which: Refused::Whose(whose), .. } = &effect.kind {
            found.extend(facts_of_whose(whose));
        }
    }
    found
}

fn holding(explainer: &Explainer<'_>, condition: &Condition, found: &mut BTreeSet<FactId>) {
    let eyes = Eyes { case: explainer.case, decisions: explainer.decisions };
    match condition {
        Condition::All(parts) => parts.iter().for_each(|part| holding(explainer, part, found)),
        Condition::Any(parts) => {
            let holds = parts.iter().filter(|part| eyes.holds(part) != Truth::No);
            holds.for_each(|part| holding(explainer, part, found));
        }
        Condition::Always | Condition::Not(_) => found.extend(facts_of(condition)),
        Condition::Test(test) => match &test.kind {
            TestKind::Finding(finding) => {
                if let Some(finding) = explainer.book.findings.get(finding.0) {
                    holding(explainer, &finding.when, found);
                }
            }
            _ => found.extend(facts_of(condition)),
        },
    }
}

/// The facts that the findings of a condition read.
fn facts_of_findings(view: View<'_>, condition: &Condition) -> BTreeSet<FactId> {
    let mut found = BTreeSet::new();
    for test in condition.tests() {
        if let TestKind::Finding(finding) = &test.kind
            && let Some(finding) = view.book.findings.get(finding.0)
        {
            found.extend(facts_of(&finding.when));
            found.extend(facts_of_findings(view, &finding.when));
        }
    }
    found
}

/// The facts that a rule reads: in its condition, in the findings of it, in what it compares and limits to.
pub(super) fn facts_read(view: View<'_>, rule: &Rule) -> BTreeSet<FactId> {
    let mut facts = facts_of(&rule.when);
    facts.extend(facts_of_findings(view, &rule.when));
    for effect in &rule.effects {
        match &effect.kind {
            EffectKind::Refuse { which: Refused::Whose(whose), .. } => facts.extend(facts_of_whose(whose)),
            EffectKind::Limit { value: LimitValue::Fact(fact), .. } => {
                facts.insert(*fact);
            }
            _ => {}
        }
    }
    facts
}
