//! The values of the section's template: cautions, hold points, clauses by article, sources cited.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::clauses::{Printed, Setter};
use super::job::Where;
use super::note::Note;
use super::numbering::Places;
use super::templates::Templates;
use super::unconfirmed;
use super::view::View;
use crate::diagnostic::Diagnostic;
use crate::inference::outcome::{Duty, ZoneOutcome};
use crate::rulebook::book::{Audience, Certainty, ClauseId, EffectKind, Law, Rule, SourceId, StageId};
use crate::rulebook::clause::Clause;
use crate::rulebook::words::spoken;

/// What the section prints besides what all documents share.
#[derive(Debug, Serialize)]
pub(super) struct SectionContext {
    cautions: Vec<Caution>,
    pub(super) hold_points: Vec<HoldPoint>,
    pub(super) parts: Vec<PartShown>,
    sources: Vec<Source>,
    /// Whether some clause is proved by a test.
    tested: bool,
    /// Refused in every zone where there is something to choose.
    refused: Vec<RefusedEverywhere>,
}

/// A part with its articles.
#[derive(Debug, Serialize)]
pub(super) struct PartShown {
    pub(super) name: String,
    title: String,
    pub(super) articles: Vec<ArticleShown>,
}

/// An article with its clauses.
#[derive(Debug, Serialize)]
pub(super) struct ArticleShown {
    pub(super) name: String,
    title: String,
    pub(super) clauses: Vec<Printed>,
}

/// A caution.
#[derive(Debug, Serialize)]
pub(super) struct Caution {
    words: String,
    for_crew: bool,
    for_public: bool,
    #[serde(flatten)]
    at: Where,
}

/// A hold point.
#[derive(Debug, Serialize)]
pub(super) struct HoldPoint {
    /// `HP` and its number, in the order of the work.
    pub(super) number: String,
    pub(super) name: String,
    before: String,
    pub(super) released_by: String,
    notice_hours: Option<u32>,
    pub(super) form: Option<String>,
    #[serde(flatten)]
    at: Where,
    #[serde(skip)]
    pub(super) stage: StageId,
    /// Who released it, when, on which paper.
    released: Vec<String>,
}

impl HoldPoint {
    /// Whether it holds before one of these stages.
    pub(super) fn is_before(&self, view: View<'_>, stages: &[String]) -> bool {
        view.book.stages.get(self.stage.0).is_some_and(|stage| stages.contains(&stage.name))
    }
}

/// A source as it is listed.
#[derive(Debug, Serialize)]
pub(super) struct Source {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) issuer: Option<String>,
    pub(super) edition: Option<String>,
    pub(super) certainty: &'static str,
    /// Whether nobody looked it up.
    pub(super) from_memory: bool,
    pub(super) checked: Option<String>,
    pub(super) again_by: Option<String>,
    pub(super) countries: Vec<String>,
    pub(super) law: bool,
}

#[derive(Debug, Serialize)]
struct RefusedEverywhere {
    slot: String,
    options: Vec<String>,
}

impl SectionContext {
    pub(super) fn of(setter: Setter<'_>, templates: &Templates) -> Result<Self, Vec<Diagnostic>> {
        let view = setter.view;
        let mut mistakes = Vec::new();
        let mut parts: Vec<PartShown> = templates
            .parts
            .iter()
            .map(|part| PartShown {
                name: part.heading.name.clone(),
                title: part.heading.title.clone(),
                articles: part
                    .articles
                    .iter()
                    .map(|article| ArticleShown {
                        name: article.name.clone(),
                        title: article.title.clone(),
                        clauses: clauses(setter, &mut mistakes, |clause| {
                            clause.article.as_deref() == Some(article.name.as_str())
                        }),
                    })
                    .collect(),
            })
            .collect();
        if !mistakes.is_empty() {
            return Err(mistakes);
        }
        let hold_points = hold_points(view);
        name_holds(view, &hold_points, &mut parts);
        number_forms(&mut parts);
        Ok(Self {
            cautions: cautions(view, &[Audience::Crew, Audience::Public], |_| true),
            hold_points,
            sources: cited(view, parts.iter().flat_map(|part| &part.articles)),
            tested: parts
                .iter()
                .flat_map(|part| &part.articles)
                .flat_map(|article| &article.clauses)
                .any(|clause| clause.test.is_some()),
            parts,
            refused: refused(view),
        })
    }
}

/// The clauses that some zone requires and that have words for the reader, in order.
pub(super) fn clauses(
    setter: Setter<'_>,
    mistakes: &mut Vec<Diagnostic>,
    wanted: impl Fn(&Clause) -> bool,
) -> Vec<Printed> {
    let view = setter.view;
    let required = required(view);
    let mut found: Vec<(ClauseId, &Clause)> = required
        .iter()
        .filter_map(|id| Some((*id, view.book.clauses.get(id.0)?)))
        .filter(|(_, clause)| clause.wording.contains_key(&setter.reader) && wanted(clause))
        .collect();
    found.sort_by(|(_, a), (_, b)| (a.order, &a.name).cmp(&(b.order, &b.name)));
    let mut printed = Vec::new();
    for (id, _) in found {
        match setter.set(id) {
            Ok(clauses) => printed.extend(clauses),
            Err(found) => mistakes.extend(found),
        }
    }
    printed
}

/// Names the hold point of every test: the first one behind the stage that the work has reached there, among those that
/// are released on this kind of form.
fn name_holds(view: View<'_>, holds: &[HoldPoint], parts: &mut [PartShown]) {
    let mut reached = 0;
    let articles = parts.iter_mut().flat_map(|part| &mut part.articles);
    for clause in articles.flat_map(|article| &mut article.clauses) {
        let Some(written) = view.book.clauses.get(clause.clause.0) else { continue };
        reached = written.stage.map_or(reached, |stage| stage.0.max(reached));
        let (Some(test), Some(record)) = (&mut clause.test, &written.test) else { continue };
        let form = spoken(&record.form);
        let first = holds.iter().find(|hold| hold.stage.0 > reached && hold.form.as_ref() == Some(&form));
        test.before = first.map(|hold| hold.number.clone());
    }
}

/// Gives every test its own form: `moisture` becomes `moisture 1`, counted for each name in the order of the section.
fn number_forms(parts: &mut [PartShown]) {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let articles = parts.iter_mut().flat_map(|part| &mut part.articles);
    for test in articles.flat_map(|article| &mut article.clauses).filter_map(|clause| clause.test.as_mut()) {
        let count = counts.entry(test.form.clone()).or_default();
        *count += 1;
        test.form = format!("{} {count}", test.form);
    }
}

/// The number of a clause in the section, such as `3.2 B`.
pub(super) fn number_in(section: &Places, clause: &str) -> Option<String> {
    let (_, standing) = section.find(clause)?;
    Some(format!("{} {}", standing.article.as_ref()?, standing.paragraph.as_ref()?))
}

/// Every clause that some zone requires.
pub(super) fn required(view: View<'_>) -> BTreeSet<ClauseId> {
    view.outcome.zones.iter().flat_map(|zone| &zone.clauses).map(|duty| duty.clause).collect()
}

type At = Vec<(usize, Option<Note>)>;

/// Duties of all zones, those alike put together in the order in which they are met.
fn put_together<'a, K: PartialEq>(
    view: View<'a>,
    duties: impl Fn(&'a ZoneOutcome) -> &'a [Duty],
    key: impl Fn(&Duty) -> Option<K>,
) -> Vec<(K, At, Vec<Duty>)> {
    let mut found: Vec<(K, At, Vec<Duty>)> = Vec::new();
    for (zone, outcome) in view.outcome.zones.iter().enumerate() {
        for duty in duties(outcome) {
            let Some(key) = key(duty) else { continue };
            let at = (zone, view.note(zone, &duty.mark));
            match found.iter_mut().find(|(known, _, _)| *known == key) {
                Some((_, places, duties)) => {
                    places.push(at);
                    duties.push(duty.clone());
                }
                None => found.push((key, vec![at], vec![duty.clone()])),
            }
        }
    }
    found
}

/// The cautions of wanted rules that one of these readers must read.
pub(super) fn cautions(view: View<'_>, readers: &[Audience], wanted: impl Fn(&Rule) -> bool) -> Vec<Caution> {
    let is_wanted = |duty: &Duty| view.book.rules.get(duty.cause.rule.0).is_some_and(&wanted);
    let key = |duty: &Duty| match view.effect(duty.cause.rule, duty.cause.effect) {
        Some(EffectKind::Caution { words, readers: meant })
            if is_wanted(duty) && meant.iter().any(|one| readers.contains(one)) =>
        {
            Some((words.clone(), meant.contains(&Audience::Crew), meant.contains(&Audience::Public)))
        }
        _ => None,
    };
    put_together(view, |outcome| &outcome.cautions, key)
        .into_iter()
        .map(|((words, for_crew, for_public), at, _)| Caution {
            words,
            for_crew,
            for_public,
            at: Where::of(view, &at),
        })
        .collect()
}

/// The hold points in the order of the work.
pub(super) fn hold_points(view: View<'_>) -> Vec<HoldPoint> {
    let key = |duty: &Duty| match view.effect(duty.cause.rule, duty.cause.effect) {
        Some(EffectKind::HoldPoint { name, before, released_by, notice_hours, form }) => {
            Some((*before, name.clone(), spoken(released_by), *notice_hours, form.clone()))
        }
        _ => None,
    };
    let mut found = put_together(view, |outcome| &outcome.hold_points, key);
    found.sort_by(|(a, _, _), (b, _, _)| a.cmp(b));
    (1..)
        .zip(found)
        .map(|(number, ((before, name, released_by, notice_hours, form), at, duties))| HoldPoint {
            number: format!("HP{number}"),
            stage: before,
            name: spoken(&name),
            before: view.book.stages.get(before.0).map(|stage| spoken(&stage.name)).unwrap_or_default(),
            released_by,
            notice_hours,
            form: form.as_deref().map(spoken),
            at: Where::of(view, &at),
            released: releases(view, &duties),
        })
        .collect()
}

fn releases(view: View<'_>, duties: &[Duty]) -> Vec<String> {
    let mut found: Vec<String> = duties
        .iter()
        .filter_map(|duty| view.survey.releases.get(duty.released?))
        .map(|release| format!("{}, {}, {}", spoken(&release.role), release.date, release.paper))
        .collect();
    found.dedup();
    found
}

/// The sources that the printed clauses cite, by title.
fn cited<'a>(view: View<'_>, articles: impl Iterator<Item = &'a ArticleShown>) -> Vec<Source> {
    let printed = articles.flat_map(|article| &article.clauses);
    let clauses =
        printed.filter_map(|printed| Some((printed.clause, view.book.clauses.get(printed.clause.0)?)));
    let ids: BTreeSet<SourceId> = clauses
        .flat_map(|(id, clause)| {
            let named = clause.cites.iter().map(|citation| citation.source);
            named.chain(unconfirmed::remembered(view, id, clause)).collect::<Vec<_>>()
        })
        .collect();
    sources(view, ids)
}

/// Sources as listed, by title.
pub(super) fn sources(view: View<'_>, ids: BTreeSet<SourceId>) -> Vec<Source> {
    let mut found: Vec<_> = ids.into_iter().filter_map(|id| view.book.sources.get(id.0)).collect();
    found.sort_by(|a, b| (&a.title, &a.name).cmp(&(&b.title, &b.name)));
    found
        .into_iter()
        .map(|source| Source {
            name: source.name.clone(),
            title: source.title.clone(),
            issuer: source.issuer.clone(),
            edition: source.edition.clone(),
            certainty: source.certainty.words(),
            from_memory: source.certainty == Certainty::FromMemory,
            checked: source.checked.clone(),
            again_by: source.again_by.clone(),
            countries: source.countries.clone(),
            law: source.law == Law::Binding,
        })
        .collect()
}

fn refused(view: View<'_>) -> Vec<RefusedEverywhere> {
    use crate::inference::truth::Truth;
    use crate::rulebook::book::{OptionId, Picks, SlotId};
    let slots = view.book.slots.iter().enumerate().filter(|(_, slot)| slot.picks == Picks::One);
    slots
        .filter_map(|(index, slot)| {
            let id = SlotId(index);
            let arising: Vec<_> = view
                .zones()
                .filter_map(|zone| view.slot_outcome(zone, id))
                .filter(|outcome| outcome.arises != Truth::No)
                .collect();
            let count = view.catalogue(id)?.options.len();
            let refused = |option: &usize| {
                let in_zone = |outcome: &&crate::inference::outcome::SlotOutcome| {
                    outcome.options.get(*option).is_some_and(|option| option.refused == Truth::Yes)
                };
                !arising.is_empty() && arising.iter().all(in_zone)
            };
            let options: Vec<_> =
                (0..count).filter(refused).map(|option| view.option_title(id, OptionId(option))).collect();
            (!options.is_empty()).then(|| RefusedEverywhere { slot: spoken(&slot.name), options })
        })
        .collect()
}
