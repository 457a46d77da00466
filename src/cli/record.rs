//! `record.json`: inputs, digests, decisions and figures of a set, for whoever asks later.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::cli::files::{OutFile, sha256};
use crate::cli::load::Decided;
use crate::cli::office::Styled;
use crate::cli::past::month_as_data;
use crate::document::{OfficeWords, Sums};
use crate::inference::decide::effect_of;
use crate::inference::outcome::{Mark, SlotOutcome, StopCause, ZoneOutcome};
use crate::proof::{Against, Item};
use crate::rulebook::book::{Bound, EffectKind, FactId, OptionId, RuleId, SlotId};
use crate::units::{System, print};
use crate::wall::facts::ZoneFacts;

/// The order of unit systems, as surveys write it.
pub(super) fn units_word(system: System) -> &'static str {
    match system {
        System::UsFirst => "us-first",
        System::SiFirst => "si-first",
    }
}

/// The record of what was decided, without the files that say it.
pub(super) fn record(decided: &Decided, templates: &str) -> Value {
    let writer = Writer { decided };
    let year =
        decided.survey.job.weather.as_ref().and_then(|weather| Some((weather, weather.year.as_ref()?)));
    let weather = year.map(|(weather, year)| {
        json!({
            "file": weather.file,
            "sha256": sha256(year.source.text.as_bytes()),
            "name": year.name,
            "months": year.months.iter().map(month_as_data).collect::<Vec<_>>(),
        })
    });
    let zones: Vec<Value> = (0..decided.survey.zones.len()).filter_map(|index| writer.zone(index)).collect();
    json!({
        "record": 1,
        "program": {"name": "perpend", "version": env!("CARGO_PKG_VERSION"), "templates-sha256": templates},
        "rulebook": {
            "title": decided.book.title,
            "edition": decided.book.edition,
            "sha256": decided.book.digest,
        },
        "survey": {
            "code": decided.survey.job.code,
            "issue-date": decided.survey.job.issue_date,
            "revision": decided.survey.job.revision,
            "units": units_word(decided.survey.job.profile.system),
            "sha256": sha256(decided.survey.source.text.as_bytes()),
            "text": decided.survey.source.text,
        },
        "weather": weather,
        "settled": decided.outcome.is_settled(),
        "zones": zones,
        "open-questions": writer.questions(),
        "departures": writer.departures(),
        "releases": writer.releases(),
        "statements": writer.statements(),
    })
}

/// The record with the list of the set's files, as pretty JSON.
pub(super) fn with_files(mut record: Value, files: &[OutFile]) -> Vec<u8> {
    let listed = files
        .iter()
        .map(|file| json!({"file": file.name, "bytes": file.bytes.len(), "pages": file.pages, "sha256": file.sha256}));
    if let Value::Object(entries) = &mut record {
        entries.insert("files".to_owned(), listed.collect());
    }
    let mut text = serde_json::to_string_pretty(&record).unwrap_or_default();
    text.push('\n');
    text.into_bytes()
}

/// The record with the sums of the words that its numbered papers print, by paper and clause: what the issue that comes
/// after marks its changes by.
pub(super) fn with_printed(mut record: Value, printed: &BTreeMap<String, Sums>) -> Value {
    if let Value::Object(entries) = &mut record {
        entries.insert("printed".to_owned(), json!(printed));
    }
    record
}

/// The record with the words of an office that papers keep.
pub(super) fn with_office(mut record: Value, kept: &[OfficeWords]) -> Value {
    if let Value::Object(entries) = &mut record {
        entries.insert("office-text".to_owned(), json!(kept));
    }
    record
}

/// The record with the file that styles of an office were taken from, if any were.
pub(super) fn with_styles(mut record: Value, styled: Option<&Styled>) -> Value {
    if let (Value::Object(entries), Some(styled)) = (&mut record, styled) {
        let names: Vec<&str> = styled.styles.names().collect();
        let said = json!({ "file": styled.file, "sha256": styled.sha256, "styles": names });
        entries.insert("office-styles".to_owned(), said);
    }
    record
}

/// The record with what a firm's book changes of the trade's, and what the survey loses by it.
pub(super) fn with_house(mut record: Value, decided: &Decided, against: Option<&Against>) -> Value {
    let house = decided.book.house.as_deref().zip(against);
    let house = house.map(|(house, against)| {
        let words = |item: &Item| item.in_words(&[&house.below, &decided.book], System::SiFirst);
        let changes = house.changes.iter().enumerate().map(|(at, change)| {
            let own = against.weakenings.found.iter().filter(|found| found.by.contains(&at) && found.is_shown());
            json!({
                "change": change.words,
                "because": change.because,
                "weakens": own.map(|found| words(&found.item)).collect::<Vec<_>>(),
            })
        });
        let lost = against.lost.iter().map(|lost| {
            json!({
                "zone": decided.survey.zones.get(lost.zone).map(|zone| &zone.code),
                "what": words(&lost.turn.item),
                "by-trade": lost.turn.before.word(),
                "by-house": lost.turn.after.word(),
                "changes": lost.by.iter().map(|change| change + 1).collect::<Vec<_>>(),
            })
        });
        json!({
            "over": {"title": house.below.title, "edition": house.below.edition, "sha256": house.below.digest},
            "changes": changes.collect::<Vec<_>>(),
            "lost": lost.collect::<Vec<_>>(),
        })
    });
    if let Value::Object(entries) = &mut record {
        entries.insert("house".to_owned(), json!(house));
    }
    record
}

struct Writer<'a> {
    decided: &'a Decided,
}

impl Writer<'_> {
    fn zone(&self, index: usize) -> Option<Value> {
        let survey = self.decided.survey.zones.get(index)?;
        let outcome = self.decided.outcome.zones.get(index)?;
        let facts = self.decided.facts.get(index)?;
        Some(json!({
            "code": survey.code,
            "name": survey.name,
            "answers": self.answers(facts),
            "findings": self.findings(outcome),
            "choices": outcome.slots.iter().filter_map(|slot| self.slot(slot)).collect::<Map<String, Value>>(),
            "limits": self.limits(outcome),
            "clauses": self.clauses(outcome),
            "stops": self.stops(outcome),
            "hold-points": self.hold_points(outcome),
            "rules": self.rules(outcome),
        }))
    }

    fn answers(&self, facts: &ZoneFacts) -> Map<String, Value> {
        let named = self.decided.book.facts.iter().zip(&facts.answers);
        let given =
            named.filter(|(_, answer)| !answer.shown.is_empty() || !answer.shown_by_option.is_empty());
        given
            .map(|(fact, answer)| {
                let value =
                    if answer.shown.is_empty() { json!(answer.shown_by_option) } else { json!(answer.shown) };
                (fact.name.clone(), value)
            })
            .collect()
    }

    fn findings(&self, outcome: &ZoneOutcome) -> Map<String, Value> {
        let findings = self.decided.book.findings.iter().zip(&outcome.decisions.findings);
        findings.map(|(finding, truth)| (finding.name.clone(), json!(truth.word()))).collect()
    }

    fn slot(&self, slot: &SlotOutcome) -> Option<(String, Value)> {
        let declared = self.decided.book.slots.get(slot.slot.0)?;
        let name = |option: OptionId| self.option(slot.slot, option);
        let refused = slot.options.iter().enumerate().filter(|(_, option)| option.refused.is_shown());
        let refused: Map<String, Value> = refused
            .map(|(option, outcome)| {
                let by: Vec<String> = outcome.refused_by.iter().map(|cause| self.rule(cause.rule)).collect();
                (name(OptionId(option)), json!({"refused": outcome.refused.word(), "by": by}))
            })
            .collect();
        let possible = slot.options.iter().enumerate().filter(|(_, option)| option.chosen.is_shown());
        let possible: Map<String, Value> = possible
            .map(|(option, outcome)| (name(OptionId(option)), json!(outcome.chosen.word())))
            .collect();
        let value = json!({
            "arises": slot.arises.word(),
            "picked": slot.pick.map(name),
            "chosen": possible,
            "refused": refused,
        });
        Some((declared.name.clone(), value))
    }

    fn limits(&self, outcome: &ZoneOutcome) -> Vec<Value> {
        let entries =
            outcome.limits.iter().flat_map(|limit| limit.entries.iter().map(move |entry| (limit, entry)));
        entries
            .map(|(limit, entry)| {
                let quantity = self.decided.book.quantities.get(limit.quantity.0);
                json!({
                    "quantity": quantity.map(|quantity| &quantity.name),
                    "bound": match limit.bound { Bound::AtMost => "at most", Bound::AtLeast => "at least" },
                    "value": print(&entry.value, System::SiFirst),
                    "rule": self.rule(entry.cause.rule),
                    "mark": self.mark(&entry.mark),
                })
            })
            .collect()
    }

    fn clauses(&self, outcome: &ZoneOutcome) -> Map<String, Value> {
        outcome
            .clauses
            .iter()
            .filter_map(|duty| {
                let clause = self.decided.book.clauses.get(duty.clause.0)?;
                let by: Vec<String> = duty.causes.iter().map(|cause| self.rule(cause.rule)).collect();
                Some((clause.name.clone(), json!({"by": by, "mark": self.mark(&duty.mark)})))
            })
            .collect()
    }

    fn stops(&self, outcome: &ZoneOutcome) -> Vec<Value> {
        let stops = outcome.stops.iter().map(|stop| {
            let by = match &stop.cause {
                StopCause::Rule(cause) => json!({"rule": self.rule(cause.rule)}),
                StopCause::NothingLeft(slot, _) => json!({"nothing-left-for": self.slot_name(*slot)}),
                StopCause::Circle(slot, _, rules) => {
                    let rules: Vec<String> = rules.iter().map(|rule| self.rule(*rule)).collect();
                    json!({"preferences-run-in-a-circle-for": self.slot_name(*slot), "rules": rules})
                }
                StopCause::Clash(quantity) => {
                    json!({"floor-over-ceiling-of": self.decided.book.quantities.get(quantity.0).map(|q| &q.name)})
                }
            };
            json!({"by": by, "mark": self.mark(&stop.mark), "released": stop.released.is_some()})
        });
        stops.collect()
    }

    fn hold_points(&self, outcome: &ZoneOutcome) -> Vec<Value> {
        let duties = outcome.hold_points.iter().filter_map(|duty| {
            let kind = effect_of(&self.decided.book, duty.cause.rule, duty.cause.effect)?;
            let EffectKind::HoldPoint { name, before, .. } = kind else { return None };
            let stage = self.decided.book.stages.get(before.0)?;
            Some(json!({
                "name": name,
                "before": stage.name,
                "rule": self.rule(duty.cause.rule),
                "mark": self.mark(&duty.mark),
                "released": duty.released.is_some(),
            }))
        });
        duties.collect()
    }

    /// Every rule that applies or may.
    fn rules(&self, outcome: &ZoneOutcome) -> Map<String, Value> {
        let rules = self.decided.book.rules.iter().zip(&outcome.decisions.rules);
        rules
            .filter(|(_, truth)| truth.is_shown())
            .map(|(rule, truth)| (rule.name.clone(), json!(truth.word())))
            .collect()
    }

    /// The digest of each statement and clause that says something here, by kind and name.
    fn statements(&self) -> Map<String, Value> {
        let (book, zones) = (&self.decided.book, &self.decided.outcome.zones);
        let rules = book.rules.iter().enumerate();
        let rules = rules
            .filter(|(id, _)| {
                zones.iter().any(|zone| zone.decisions.rules.get(*id).is_some_and(|truth| truth.is_shown()))
            })
            .map(|(_, rule)| format!("rule {}", rule.name));
        let clauses = book.clauses.iter().enumerate();
        let clauses = clauses
            .filter(|(id, _)| zones.iter().any(|zone| zone.clauses.iter().any(|duty| duty.clause.0 == *id)))
            .map(|(_, clause)| format!("clause {}", clause.name));
        let known = |name: String| {
            let digest = book.statement_digests.get(&name)?;
            Some((name, json!(digest)))
        };
        clauses.chain(rules).filter_map(known).collect()
    }

    fn questions(&self) -> Vec<Value> {
        let questions = self.decided.outcome.questions.iter().map(|question| {
            let zones = question.zones.iter().filter_map(|zone| self.decided.survey.zones.get(*zone));
            json!({
                "fact": self.fact(question.fact),
                "zones": zones.map(|zone| zone.code.clone()).collect::<Vec<_>>(),
                "settles": {"at-least": question.settles_at_least, "at-most": question.settles_at_most},
            })
        });
        questions.collect()
    }

    fn departures(&self) -> Vec<Value> {
        let departures = self.decided.survey.departures.iter().map(|departure| {
            json!({
                "from": self.rule(departure.from),
                "zones": self.codes(&departure.zones),
                "role": departure.role,
                "date": departure.date,
                "reason": departure.reason,
            })
        });
        departures.collect()
    }

    fn releases(&self) -> Vec<Value> {
        let releases = self.decided.survey.releases.iter().map(|release| {
            let what = match &release.what {
                crate::survey::Released::Stop(rule) => json!({"stop": self.rule(*rule)}),
                crate::survey::Released::HoldPoint(name) => json!({"hold-point": name}),
            };
            json!({
                "what": what,
                "zones": self.codes(&release.zones),
                "role": release.role,
                "date": release.date,
                "paper": release.paper,
            })
        });
        releases.collect()
    }

    fn codes(&self, zones: &[usize]) -> Vec<String> {
        zones
            .iter()
            .filter_map(|zone| self.decided.survey.zones.get(*zone))
            .map(|zone| zone.code.clone())
            .collect()
    }

    fn mark(&self, mark: &Mark) -> Value {
        match mark {
            Mark::Certain => json!("certain"),
            Mark::Provisional => json!("provisional"),
            Mark::IfChosen(options) => {
                let names: Vec<String> =
                    options.iter().map(|(slot, option)| self.option(*slot, *option)).collect();
                json!({"if-chosen": names})
            }
            Mark::SafeSide(facts) => {
                json!({"on-the-safe-side-until-known": facts.iter().map(|fact| self.fact(*fact)).collect::<Vec<_>>()})
            }
        }
    }

    fn rule(&self, rule: RuleId) -> String {
        self.decided.book.rules.get(rule.0).map(|rule| rule.name.clone()).unwrap_or_default()
    }

    fn fact(&self, fact: FactId) -> String {
        self.decided.book.facts.get(fact.0).map(|fact| fact.name.clone()).unwrap_or_default()
    }

    fn slot_name(&self, slot: SlotId) -> String {
        self.decided.book.slots.get(slot.0).map(|slot| slot.name.clone()).unwrap_or_default()
    }

    fn option(&self, slot: SlotId, option: OptionId) -> String {
        let catalogue = self.decided.book.slots.get(slot.0).map(|slot| slot.catalogue);
        let catalogue = catalogue.and_then(|catalogue| self.decided.book.catalogues.get(catalogue.0));
        let row = catalogue.and_then(|catalogue| catalogue.options.get(option.0));
        row.map(|option| option.name.clone()).unwrap_or_default()
    }
}
