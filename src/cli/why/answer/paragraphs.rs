//! The paragraphs that explanations are built from.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::cli::load::Decided;
use crate::inference::change::{Change, changes, facts_behind, facts_behind_slot};
use crate::inference::decide::Case;
use crate::inference::explain::{Explainer, SeenTest};
use crate::inference::outcome::{Cause, Mark, SlotOutcome, StopCause, StopDuty, ZoneOutcome};
use crate::inference::plan::facts_of;
use crate::inference::{Ready, Slate, Truth};
use crate::rulebook::book::{
    Citation, Condition, EffectKind, FactId, Ground, OptionId, Refused, RuleId, SlotId,
};
use crate::rulebook::words::{cells_in_words, spoken};
use crate::survey::Zone;
use crate::units::System;
use crate::wall::facts::ZoneFacts;

/// Tells about one zone.
pub(super) struct Teller<'a> {
    pub(super) decided: &'a Decided,
    pub(super) zone: &'a Zone,
    pub(super) facts: &'a ZoneFacts,
    pub(super) outcome: &'a ZoneOutcome,
    pub(super) explainer: Explainer<'a>,
    ready: &'a Ready<'a>,
    departed: Vec<RuleId>,
}

impl<'a> Teller<'a> {
    pub(super) fn new(decided: &'a Decided, ready: &'a Ready<'a>, index: usize) -> Option<Self> {
        let zone = decided.survey.zones.get(index)?;
        let facts = decided.facts.get(index)?;
        let outcome = decided.outcome.zones.get(index)?;
        let departures =
            decided.survey.departures.iter().filter(|departure| departure.zones.contains(&index));
        let explainer = Explainer {
            book: &decided.book,
            case: Case::new(facts, &[]),
            decisions: &outcome.decisions,
            system: decided.survey.job.profile.system,
        };
        let departed = departures.map(|departure| departure.from).collect();
        Some(Self { decided, zone, facts, outcome, explainer, ready, departed })
    }

    pub(super) fn system(&self) -> System {
        self.decided.survey.job.profile.system
    }

    pub(super) fn heading(&self) -> String {
        format!("{}  {}", self.zone.code, self.zone.name)
    }

    pub(super) fn slot(&self, slot: SlotId) -> Option<&'a SlotOutcome> {
        self.outcome.slots.get(slot.0)
    }

    pub(super) fn rule_name(&self, rule: RuleId) -> &'a str {
        self.decided.book.rules.get(rule.0).map(|rule| rule.name.as_str()).unwrap_or_default()
    }

    fn fact_name(&self, fact: FactId) -> &'a str {
        self.decided.book.facts.get(fact.0).map(|fact| fact.name.as_str()).unwrap_or_default()
    }

    pub(super) fn option_title(&self, slot: SlotId, option: OptionId) -> &'a str {
        let catalogue = self.decided.book.slots.get(slot.0).map(|slot| slot.catalogue);
        let catalogue = catalogue.and_then(|catalogue| self.decided.book.catalogues.get(catalogue.0));
        let row = catalogue.and_then(|catalogue| catalogue.options.get(option.0));
        row.map(|option| option.title.as_str()).unwrap_or_default()
    }

    /// The choice of a slot in one line.
    pub(super) fn choice(&self, outcome: &SlotOutcome) -> String {
        let titles = |options: &[OptionId]| {
            let titles = options.iter().map(|option| self.option_title(outcome.slot, *option));
            titles.collect::<Vec<_>>().join(", ")
        };
        if outcome.arises == Truth::No {
            return "does not arise".to_owned();
        }
        if !super::picks_one(self.decided, outcome) {
            return titles(&outcome.sequence);
        }
        let Some(pick) = outcome.pick else { return "nothing is left".to_owned() };
        let certain = outcome.options.get(pick.0).is_some_and(|option| option.chosen == Truth::Yes);
        let possible: Vec<OptionId> = (0..outcome.options.len())
            .map(OptionId)
            .filter(|option| *option != pick)
            .filter(|option| outcome.options.get(option.0).is_some_and(|option| option.chosen.is_shown()))
            .collect();
        match (certain, possible.is_empty()) {
            (true, _) => titles(&[pick]),
            (false, true) => format!("{} (provisional)", titles(&[pick])),
            (false, false) => {
                format!("{} (provisional; also possible: {})", titles(&[pick]), titles(&possible))
            }
        }
    }

    /// One refusal: rule, reason, source, tests and figures.
    pub(super) fn refusal(&self, slot: SlotId, option: OptionId, cause: &Cause) -> String {
        let sure = if cause.truth == Truth::Yes { "refused by" } else { "may be refused by" };
        let mut text = format!("  {sure} {}\n", self.rule_name(cause.rule));
        let Some(rule) = self.decided.book.rules.get(cause.rule.0) else { return text };
        text.push_str(&self.ground(&rule.ground, &rule.when));
        if let Some(Refused::Whose(whose)) = super::refused_by(self.decided, cause) {
            let compared = self.explainer.compared(slot, &whose, option);
            let against = compared.against.map(|against| format!(", against {against}")).unwrap_or_default();
            let _ = writeln!(text, "    compared   {}: it has {}{against}", compared.words, compared.figure);
            for working in compared.working {
                let _ = writeln!(text, "    worked out {working}");
            }
        }
        text
    }

    /// A rule with its reason, source and tests.
    pub(super) fn rule(&self, rule: RuleId) -> String {
        let Some(declared) = self.decided.book.rules.get(rule.0) else { return String::new() };
        format!("  by {}\n{}", declared.name, self.ground(&declared.ground, &declared.when))
    }

    pub(super) fn ground(&self, ground: &Ground, when: &Condition) -> String {
        let mut text = format!("    because    {}\n", ground.because);
        for citation in &ground.per {
            let _ = writeln!(text, "    source     {}", self.citation(citation));
        }
        for test in self.explainer.tests(when) {
            tell(&mut text, &test, "    where      ");
        }
        text
    }

    fn citation(&self, citation: &Citation) -> String {
        let Some(source) = self.decided.book.sources.get(citation.source.0) else { return String::new() };
        let detail = citation.detail.as_ref().map(|detail| format!(", {detail}")).unwrap_or_default();
        let issuer = source.issuer.as_ref().map(|issuer| format!(" ({issuer})")).unwrap_or_default();
        let certainty = source.certainty.words();
        let certainty = if source.title.eq_ignore_ascii_case(certainty) {
            String::new()
        } else {
            format!("; {certainty}")
        };
        let checked = source.checked.as_ref().map(|date| format!("; checked {date}")).unwrap_or_default();
        format!("{}{detail}{issuer}{certainty}{checked}", source.title)
    }

    pub(super) fn mark(&self, mark: &Mark) -> String {
        match mark {
            Mark::Certain => "certain".to_owned(),
            Mark::Provisional => "provisional, with the option picked for now".to_owned(),
            Mark::IfChosen(options) => {
                let titles: Vec<&str> =
                    options.iter().map(|(slot, option)| self.option_title(*slot, *option)).collect();
                format!("only if {} is chosen", titles.join(" or "))
            }
            Mark::SafeSide(facts) => {
                let names: Vec<&str> = facts.iter().map(|fact| self.fact_name(*fact)).collect();
                format!("on the safe side until {} is known", names.join(", "))
            }
        }
    }

    pub(super) fn open_facts(&self, rule: RuleId) -> String {
        let Some(declared) = self.decided.book.rules.get(rule.0) else { return String::new() };
        let facts = facts_behind(&self.decided.book, &self.ready.plan, &declared.when);
        let open = facts.into_iter().filter(|fact| {
            let cells = self.outcome.decisions.facts.get(fact.0).map_or(0, |cells| cells.len());
            cells > 1
        });
        open.map(|fact| self.fact_name(fact)).collect::<Vec<_>>().join(", ")
    }

    pub(super) fn stop(&self, stop: &StopDuty) -> String {
        let words = match &stop.cause {
            StopCause::Rule(cause) => {
                let rule = self.decided.book.rules.get(cause.rule.0);
                match rule.and_then(|rule| rule.effects.get(cause.effect)).map(|effect| &effect.kind) {
                    Some(EffectKind::Stop { what, until, released_by }) => {
                        format!(
                            "{what} Until {until}, released by {} ({})",
                            spoken(released_by),
                            self.rule_name(cause.rule)
                        )
                    }
                    _ => String::new(),
                }
            }
            StopCause::NothingLeft(slot, _) => {
                format!("every option for {} is refused", self.slot_name(*slot))
            }
            StopCause::Circle(slot, _, rules) => {
                let rules: Vec<&str> = rules.iter().map(|rule| self.rule_name(*rule)).collect();
                format!("preferences for {} run in a circle: {}", self.slot_name(*slot), rules.join(", "))
            }
            StopCause::Clash(quantity) => {
                let quantity =
                    self.decided.book.quantities.get(quantity.0).map(|quantity| quantity.name.as_str());
                format!("the floor of {} lies over its ceiling", quantity.unwrap_or_default())
            }
        };
        let released = if stop.released.is_some() { "; released" } else { "" };
        format!("{words} [{}{released}]", self.mark(&stop.mark))
    }

    fn slot_name(&self, slot: SlotId) -> &'a str {
        self.decided.book.slots.get(slot.0).map(|slot| slot.name.as_str()).unwrap_or_default()
    }

    /// The rules whose conditions read a fact.
    pub(super) fn rules_reading(&self, fact: FactId) -> Vec<&'a str> {
        let rules = self.decided.book.rules.iter().filter(|rule| facts_of(&rule.when).contains(&fact));
        rules.map(|rule| rule.name.as_str()).collect()
    }

    pub(super) fn changes_of_option(&self, slot: SlotId, option: OptionId) -> String {
        let facts = facts_behind_slot(&self.decided.book, &self.ready.plan, slot);
        let refused = self.changes(&facts, |slate| slate.refused(slot, option));
        let chosen = self.changes(&facts, |slate| slate.chosen(slot, option));
        let words = |truth: Truth| match truth {
            Truth::No => "it would not be refused",
            Truth::Unknown => "it might be refused",
            Truth::Yes => "it would be refused",
        };
        let mut text = self.told(&refused, words);
        text.push_str(&self.told(&chosen, |truth| match truth {
            Truth::No => "it would not be chosen",
            Truth::Unknown => "it might be chosen",
            Truth::Yes => "it would be chosen",
        }));
        headed(&text)
    }

    pub(super) fn changes_of_rule(&self, rule: RuleId) -> String {
        let Some(declared) = self.decided.book.rules.get(rule.0) else { return String::new() };
        let facts = facts_behind(&self.decided.book, &self.ready.plan, &declared.when);
        let changes = self.changes(&facts, |slate| slate.rule(rule));
        let text = self.told(&changes, |truth| match truth {
            Truth::No => "it would not apply",
            Truth::Unknown => "it might apply",
            Truth::Yes => "it would apply",
        });
        headed(&text)
    }

    fn changes(&self, facts: &BTreeSet<FactId>, decided: impl Fn(&Slate) -> Truth) -> Vec<Change> {
        let case = Case::new(self.facts, &self.departed);
        changes(self.ready, case, facts, decided)
    }

    fn told(&self, changes: &[Change], words: impl Fn(Truth) -> &'static str) -> String {
        let mut text = String::new();
        for change in changes {
            let Some(fact) = self.decided.book.facts.get(change.fact.0) else { continue };
            let cells = cells_in_words(fact, change.cells, self.system());
            let _ = writeln!(text, "    if {} were {cells}: {}", fact.name, words(change.truth));
        }
        text
    }
}

/// How an option stands.
pub(super) fn standing(outcome: &SlotOutcome, option: OptionId) -> &'static str {
    let Some(own) = outcome.options.get(option.0) else { return "" };
    let picked = outcome.pick == Some(option);
    match (own.refused, own.chosen) {
        _ if outcome.arises == Truth::No => "not asked for: there is nothing to choose",
        (Truth::Yes, _) => "refused",
        (_, Truth::Yes) => "chosen",
        (_, Truth::Unknown) if picked => "chosen provisionally",
        (Truth::Unknown, Truth::Unknown) => "possible, unless it is refused",
        (Truth::No, Truth::Unknown) => "possible",
        (Truth::Unknown, Truth::No) => "not chosen; may be refused",
        (Truth::No, Truth::No) => "not refused; another is preferred",
    }
}

fn headed(changes: &str) -> String {
    if changes.is_empty() {
        "  No single answer would change this.\n".to_owned()
    } else {
        format!("  What would change this\n{changes}")
    }
}

/// One test with its answer, and the tests of the finding behind it.
fn tell(text: &mut String, test: &SeenTest, lead: &str) {
    let answer = match (test.answer.is_empty(), test.behind.is_empty()) {
        (false, _) => format!(" [{}]", test.answer),
        (true, true) => " [not answered]".to_owned(),
        (true, false) => String::new(),
    };
    let _ = writeln!(text, "{lead}{}: {}{answer}", test.words, test.truth.word());
    for inner in &test.behind {
        tell(text, inner, &format!("{}  ", " ".repeat(lead.len())));
    }
}
