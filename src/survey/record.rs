//! Reads what people have put on record: departures from rules, releases of stops and hold points.

use std::collections::BTreeSet;

use super::mistake::SurveyMistake;
use super::model::{Departed, Release, Released};
use super::reader::{Pairs, Reader, answered, did_you_mean, value_of};
use crate::diagnostic::Place;
use crate::rulebook::book::{Book, Departure, EffectKind, Rule, RuleId};
use crate::yaml::Node;

/// Where a professional departs from a rule.
pub(super) fn departures(reader: &mut Reader<'_>, pairs: Pairs<'_>, codes: &[String]) -> Vec<Departed> {
    let nodes = reader.list(pairs, "departures", "the survey").unwrap_or_default();
    nodes.iter().filter_map(|node| departure(reader, node, codes)).collect()
}

fn departure(reader: &mut Reader<'_>, node: &Node, codes: &[String]) -> Option<Departed> {
    const WHOLE: &str = "a departure";
    let pairs = reader.record(node, WHOLE);
    reader.known_keys(pairs, WHOLE, &["from", "zones", "reason", "role", "date"]);
    let whole = (WHOLE, &node.place);
    let from = reader.required(pairs, "from", whole, "it names the rule that is set aside");
    let from = from.and_then(|node| rule_departed_from(reader, node));
    let zones = zones(reader, pairs, whole, codes);
    let reason = reader.required_text(pairs, "reason", whole, "a departure without a reason is refused");
    let role = reader.required_text(pairs, "role", whole, "a departure is signed by a role");
    let date = reader.required(pairs, "date", whole, "a departure is signed on a date");
    let date = date.and_then(|node| reader.past_date(node, WHOLE));
    let (date, place) = (date?.to_string(), node.place.clone());
    Some(Departed { from: from?, zones: zones?, reason: reason?, role: role?, date, place })
}

fn rule_departed_from(reader: &mut Reader<'_>, node: &Node) -> Option<RuleId> {
    let (id, rule) = rule(reader, node)?;
    let why = match barred(reader.book, rule) {
        Some(why) => why,
        None if rule.effects.iter().any(|effect| may_be_set_aside(&effect.kind)) => return Some(id),
        None => {
            reader.mistake(&SurveyMistake::NothingToDepartFrom { rule: rule.name.clone() }, &node.place);
            return None;
        }
    };
    reader.mistake(&SurveyMistake::DepartureBarred { rule: rule.name.clone(), why }, &node.place);
    None
}

fn rule<'b>(reader: &mut Reader<'b>, node: &Node) -> Option<(RuleId, &'b Rule)> {
    let name = reader.text(node, "a rule")?;
    let book = reader.book;
    let found = book.rules.iter().enumerate().find(|(_, rule)| rule.name == name);
    if found.is_none() {
        let mend = did_you_mean(&name, book.rules.iter().map(|rule| rule.name.as_str()));
        reader.mistake(&SurveyMistake::NoSuchRule { name, mend }, &node.place);
    }
    found.map(|(index, rule)| (RuleId(index), rule))
}

fn may_be_set_aside(effect: &EffectKind) -> bool {
    matches!(effect, EffectKind::Limit { .. } | EffectKind::Refuse { .. })
}

/// Why nobody may depart from a rule, if so.
fn barred(book: &Book, rule: &Rule) -> Option<String> {
    if rule.departure == Departure::Barred {
        return Some("the rule rests on law or says so itself; change the facts or the design".to_owned());
    }
    rule.effects.iter().find_map(|effect| match &effect.kind {
        EffectKind::Stop { released_by, .. } => {
            Some(format!("a stop is not departed from: have it released by {released_by}, under `releases`"))
        }
        EffectKind::Limit { quantity, .. } => {
            let quantity = book.quantities.get(quantity.0)?;
            let barred = quantity.departure == Departure::Barred;
            barred.then(|| format!("the rulebook allows none from a limit on `{}`", quantity.name))
        }
        _ => None,
    })
}

/// Stops and hold points released.
pub(super) fn releases(reader: &mut Reader<'_>, pairs: Pairs<'_>, codes: &[String]) -> Vec<Release> {
    let nodes = reader.list(pairs, "releases", "the survey").unwrap_or_default();
    nodes.iter().filter_map(|node| release(reader, node, codes)).collect()
}

fn release(reader: &mut Reader<'_>, node: &Node, codes: &[String]) -> Option<Release> {
    const WHOLE: &str = "a release";
    let pairs = reader.record(node, WHOLE);
    reader.known_keys(pairs, WHOLE, &["stop", "hold-point", "zones", "role", "date", "paper"]);
    let whole = (WHOLE, &node.place);
    let hold = answered(pairs, "hold-point").filter(|_| value_of(pairs, "stop").is_none());
    let what = if let Some(node) = hold {
        hold_point(reader, node)
    } else {
        let why = "it names the rule whose stop is released (or write `hold-point: …`)";
        let stop = reader.required(pairs, "stop", whole, why);
        stop.and_then(|node| stop_of(reader, node))
    };
    let zones = zones(reader, pairs, whole, codes);
    let role = reader.required_text(pairs, "role", whole, "a release is signed by a role");
    let date = reader.required(pairs, "date", whole, "a release is signed on a date");
    let date = date.and_then(|node| reader.past_date(node, WHOLE));
    let paper = reader.required_text(pairs, "paper", whole, "a release rests on a paper that is on file");
    let what = what?;
    check_role(reader, &what, role.as_deref(), pairs);
    let (date, place) = (date?.to_string(), node.place.clone());
    Some(Release { what, zones: zones?, role: role?, date, paper: paper?, place })
}

fn stop_of(reader: &mut Reader<'_>, node: &Node) -> Option<Released> {
    let book = reader.book;
    let name = reader.text(node, "a stop")?;
    let stops = || book.rules.iter().filter(|rule| rule.effects.iter().any(|effect| is_stop(&effect.kind)));
    if stops().any(|rule| rule.name == name) {
        return book
            .rules
            .iter()
            .position(|rule| rule.name == name)
            .map(|index| Released::Stop(RuleId(index)));
    }
    let mend = did_you_mean(&name, stops().map(|rule| rule.name.as_str()));
    reader.mistake(&SurveyMistake::NothingToRelease { name, kind: "stop", mend }, &node.place);
    None
}

fn is_stop(effect: &EffectKind) -> bool {
    matches!(effect, EffectKind::Stop { .. })
}

fn hold_point(reader: &mut Reader<'_>, node: &Node) -> Option<Released> {
    let book = reader.book;
    let written = reader.text(node, "a hold point")?;
    let names: BTreeSet<&str> = book
        .rules
        .iter()
        .flat_map(|rule| &rule.effects)
        .filter_map(|effect| match &effect.kind {
            EffectKind::HoldPoint { name, .. } => Some(name.as_str()),
            _ => None,
        })
        .collect();
    if names.contains(written.as_str()) {
        return Some(Released::HoldPoint(written));
    }
    let mend = did_you_mean(&written, names.iter().copied());
    reader.mistake(&SurveyMistake::NothingToRelease { name: written, kind: "hold point", mend }, &node.place);
    None
}

/// Only the role that the book names may release.
fn check_role(reader: &mut Reader<'_>, what: &Released, role: Option<&str>, pairs: Pairs<'_>) {
    let (Some(role), Some(node)) = (role, answered(pairs, "role")) else { return };
    let may = may_release(reader.book, what);
    if !may.contains(role) {
        let wanted = may.into_iter().collect::<Vec<_>>().join(" or ");
        let name = name_of(reader.book, what);
        reader.mistake(&SurveyMistake::OtherRole { name, wanted, role: role.to_owned() }, &node.place);
    }
}

/// The roles that may release a stop or a hold point.
fn may_release<'b>(book: &'b Book, what: &Released) -> BTreeSet<&'b str> {
    let effects = book
        .rules
        .iter()
        .enumerate()
        .flat_map(|(index, rule)| rule.effects.iter().map(move |effect| (RuleId(index), &effect.kind)));
    effects
        .filter_map(|(rule, effect)| match (effect, what) {
            (EffectKind::Stop { released_by, .. }, Released::Stop(released)) if *released == rule => {
                Some(released_by.as_str())
            }
            (EffectKind::HoldPoint { name, released_by, .. }, Released::HoldPoint(released))
                if released == name =>
            {
                Some(released_by.as_str())
            }
            _ => None,
        })
        .collect()
}

/// The name by which a survey speaks of what is released.
pub(super) fn name_of(book: &Book, what: &Released) -> String {
    match what {
        Released::Stop(rule) => book.rules.get(rule.0).map(|rule| rule.name.clone()).unwrap_or_default(),
        Released::HoldPoint(name) => name.clone(),
    }
}

/// The zones that a departure or release is for.
fn zones(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    whole: (&str, &Place),
    codes: &[String],
) -> Option<Vec<usize>> {
    let node =
        reader.required(pairs, "zones", whole, "it says for which zones; nothing is set aside everywhere")?;
    let nodes = reader.list(pairs, "zones", whole.0)?;
    if nodes.is_empty() {
        reader.mistake(&SurveyMistake::EmptyList { what: format!("`zones` of {}", whole.0) }, &node.place);
    }
    let found: Vec<Option<usize>> = nodes.iter().map(|node| zone(reader, node, whole.0, codes)).collect();
    let found: BTreeSet<usize> = found.into_iter().collect::<Option<_>>()?;
    Some(found.into_iter().collect())
}

fn zone(reader: &mut Reader<'_>, node: &Node, whole: &str, codes: &[String]) -> Option<usize> {
    let code = reader.text(node, format!("a zone of {whole}"))?;
    let found = codes.iter().position(|known| *known == code);
    if found.is_none() {
        let mend = did_you_mean(&code, codes.iter().map(String::as_str));
        reader.mistake(&SurveyMistake::NoSuchZone { code, mend }, &node.place);
    }
    found
}
