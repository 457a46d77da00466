//! The values of the crew sheets: for each task the cautions, the limits in figures, the hold points, the steps, and
//! cards for mixing, coverage and what to keep off.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::coat::{Chosen, CoatRow, chosen, coats};
use super::data::{Site, Step, Task};
use super::keep_off::KeepOff;
use crate::diagnostic::Diagnostic;
use crate::document::clauses::{Printed, Setter};
use crate::document::numbering::Places;
use crate::document::section::{Caution, HoldPoint, cautions, hold_points, number_in, required, sources};
use crate::document::view::{Extent, View};
use crate::document::words::upper_first;
use crate::rulebook::book::{Audience, QuantityId, Rule, SourceId};
use crate::rulebook::clause::{Clause, ParameterKind};

/// The clauses that the crew reads, not yet shared out among the sheets.
#[derive(Debug)]
pub(in crate::document) struct CrewContext {
    clauses: Vec<Printed>,
}

/// What the crew sheets print besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct Numbered {
    tasks: Vec<Sheet>,
}

/// One sheet.
#[derive(Debug, Serialize)]
struct Sheet {
    name: String,
    title: String,
    /// The zones that most of its steps hold for: only other steps name theirs.
    usual: Extent,
    cautions: Vec<Caution>,
    limits: Vec<Limit>,
    holds: Vec<HoldPoint>,
    steps: Vec<StepShown>,
    cards: Vec<String>,
    mix: Vec<Mix>,
    coverage: Vec<CoatRow>,
    keep_off: Option<KeepOff>,
    /// Titles of the sources that its clauses cite.
    rules: Vec<String>,
}

/// A limit in figures.
#[derive(Debug, Serialize)]
struct Limit {
    name: String,
    /// Equal figures with their zones.
    values: Vec<Value>,
}

#[derive(Debug, Serialize)]
struct Value {
    #[serde(flatten)]
    extent: Extent,
    figure: String,
}

#[derive(Debug, Serialize)]
struct StepShown {
    title: String,
    says: Vec<Said>,
    /// Where the section says it.
    numbers: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Said {
    name: String,
    text: String,
    /// Zones to name; none where they are the usual ones.
    zones: Vec<String>,
}

/// How one coat is mixed.
#[derive(Debug, Serialize)]
struct Mix {
    #[serde(flatten)]
    extent: Extent,
    title: String,
    /// What the catalogue says of it, with the words over each column.
    says: Vec<(String, String)>,
}

impl CrewContext {
    /// All that does not depend on how the section is numbered.
    pub(in crate::document) fn before_numbering(
        setter: Setter<'_>,
        site: &Site,
    ) -> Result<Self, Vec<Diagnostic>> {
        let view = setter.view;
        let (mut clauses, mut mistakes) = (Vec::new(), Vec::new());
        for id in required(view) {
            let Some(clause) = view.book.clauses.get(id.0) else { continue };
            if !clause.wording.contains_key(&setter.reader) {
                continue;
            }
            let beside = beside(view, site, clause);
            match (Setter { beside: &beside, ..setter }).set(id) {
                Ok(printed) => clauses.extend(printed),
                Err(found) => mistakes.extend(found),
            }
        }
        if mistakes.is_empty() { Ok(Self { clauses }) } else { Err(mistakes) }
    }

    /// The sheets, each step with the numbers by which the section says it.
    pub(in crate::document) fn numbered(&self, view: View<'_>, site: &Site, section: &Places) -> Numbered {
        let desk = Desk { view, site, section };
        let shared = desk.shared_out(&self.clauses);
        let tasks = site.tasks.iter().enumerate().map(|(at, task)| desk.sheet(at, task, &shared));
        let mut said = BTreeSet::new();
        Numbered { tasks: tasks.filter(|sheet| sheet.is_needed(&mut said)).collect() }
    }
}

impl Sheet {
    /// Whether it has a signature, a figure or an order that no sheet before it has: what several sheets say, such as how
    /// to guard the eyes, is no task by itself.
    fn is_needed(&self, said: &mut BTreeSet<String>) -> bool {
        let orders: BTreeSet<String> =
            self.steps.iter().flat_map(|step| &step.says).map(|order| order.name.clone()).collect();
        let is_needed = !self.holds.is_empty() || !self.limits.is_empty() || !orders.is_subset(said);
        if is_needed {
            said.extend(orders);
        }
        is_needed
    }
}

/// The quantities whose limits stand large on every sheet that says a clause.
fn beside(view: View<'_>, site: &Site, clause: &Clause) -> Vec<QuantityId> {
    let tasks: Vec<&Task> =
        claims(view, site, clause).iter().filter_map(|(task, _)| site.tasks.get(*task)).collect();
    let quantities = view.book.quantities.iter().enumerate();
    let on_all =
        quantities.filter(|(_, quantity)| tasks.iter().all(|task| task.limits.contains(&quantity.name)));
    on_all.map(|(index, _)| QuantityId(index)).collect()
}

/// The steps that claim a clause, each by its sheet and its place there: those that name it, or the first that claims
/// its article, or its stage; or the first step of all.
fn claims(view: View<'_>, site: &Site, clause: &Clause) -> Vec<(usize, usize)> {
    let stage = clause.stage.and_then(|stage| view.book.stages.get(stage.0));
    let by = |claims: &dyn Fn(&Step) -> bool| -> Vec<(usize, usize)> {
        let tasks = site.tasks.iter().enumerate();
        let steps = tasks
            .flat_map(|(at, task)| task.steps.iter().enumerate().map(move |(step, says)| ((at, step), says)));
        steps.filter(|(_, step)| claims(step)).map(|(place, _)| place).collect()
    };
    let named = by(&|step| step.clauses.contains(&clause.name));
    if !named.is_empty() {
        return named;
    }
    let has =
        |list: &[String], name: Option<&str>| name.is_some_and(|name| list.iter().any(|one| one == name));
    let by_article = by(&|step| has(&step.articles, clause.article.as_deref()));
    let by_stage = by(&|step| has(&step.stages, stage.map(|stage| stage.name.as_str())));
    vec![by_article.into_iter().chain(by_stage).next().unwrap_or((0, 0))]
}

/// What clauses a step of a sheet says, by sheet and step.
type Shared<'p> = BTreeMap<(usize, usize), Vec<&'p Printed>>;

#[derive(Clone, Copy)]
struct Desk<'a> {
    view: View<'a>,
    site: &'a Site,
    section: &'a Places,
}

impl Desk<'_> {
    /// Each clause with the steps that claim it.
    fn shared_out<'p>(self, printed: &'p [Printed]) -> Shared<'p> {
        let mut shared: Shared<'p> = BTreeMap::new();
        for clause in printed {
            let written = self.view.book.clauses.get(clause.clause.0);
            for place in written.map_or(Vec::new(), |written| claims(self.view, self.site, written)) {
                shared.entry(place).or_default().push(clause);
            }
        }
        shared
    }

    fn sheet(self, at: usize, task: &Task, shared: &Shared<'_>) -> Sheet {
        let (view, site) = (self.view, self.site);
        let of_step = |step: usize| shared.get(&(at, step)).map_or(&[][..], Vec::as_slice);
        let all: Vec<&Printed> = (0..task.steps.len()).flat_map(of_step).copied().collect();
        let usual = usual(view, &all);
        let has = |card: &str| task.cards.iter().any(|own| own == card);
        let steps = task.steps.iter().enumerate().map(|(step, says)| self.step(says, of_step(step), &usual));
        Sheet {
            name: task.name.clone(),
            title: task.title.clone(),
            cautions: cautions(view, &[Audience::Crew], |rule| self.cautioned(task, rule)),
            limits: task.limits.iter().filter_map(|name| limit(view, name)).collect(),
            holds: hold_points(view).into_iter().filter(|hold| hold.is_before(view, &task.stages)).collect(),
            steps: steps.filter(|step| !step.says.is_empty()).collect(),
            cards: task.cards.clone(),
            mix: if has("mix") { mix(view, site) } else { Vec::new() },
            coverage: view
                .zones()
                .filter(|_| has("coverage"))
                .flat_map(|zone| coats(view, site, zone))
                .collect(),
            keep_off: has("keep-off").then(|| KeepOff::of(view, site)),
            rules: rules(view, &all),
            usual,
        }
    }

    /// Whether a caution stands on a sheet: the sheet names its topic, or none does.
    fn cautioned(self, task: &Task, rule: &Rule) -> bool {
        let names = |task: &Task| task.cautions.contains(&rule.topic);
        names(task) || !self.site.tasks.iter().any(names)
    }

    fn step(self, step: &Step, clauses: &[&Printed], usual: &Extent) -> StepShown {
        let mut clauses = clauses.to_vec();
        clauses.sort_by_key(|clause| {
            let named = step.clauses.iter().position(|name| *name == clause.name);
            let printed = self.section.find(&clause.name).map(|(_, standing)| standing.order);
            (named.unwrap_or(usize::MAX), printed.unwrap_or(usize::MAX))
        });
        let said = |clause: &&Printed| Said {
            name: clause.name.clone(),
            text: clause.text.split_whitespace().collect::<Vec<_>>().join(" "),
            zones: if clause.of_job || clause.extent == *usual {
                Vec::new()
            } else {
                clause.extent.zones.clone()
            },
        };
        StepShown {
            title: step.title.clone(),
            says: clauses.iter().map(said).collect(),
            numbers: numbers(self.section, &clauses),
        }
    }
}

/// Where the section says it, paragraphs of one article together: `3.3 A, C`.
fn numbers(section: &Places, clauses: &[&Printed]) -> Vec<String> {
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for number in clauses.iter().filter_map(|clause| number_in(section, &clause.name)) {
        let Some((article, paragraph)) = number.split_once(' ') else { continue };
        match found.iter_mut().find(|(known, _)| known == article) {
            Some((_, paragraphs)) => paragraphs.push(paragraph.to_owned()),
            None => found.push((article.to_owned(), vec![paragraph.to_owned()])),
        }
    }
    let said = |(article, mut paragraphs): (String, Vec<String>)| {
        paragraphs.sort_by_key(|paragraph| (paragraph.len(), paragraph.clone()));
        paragraphs.dedup();
        format!("{article} {}", paragraphs.join(", "))
    };
    found.into_iter().map(said).collect()
}

/// The extent that most clauses of zones share; of several, the widest.
fn usual(view: View<'_>, clauses: &[&Printed]) -> Extent {
    let mut counted: Vec<(usize, &Extent)> = Vec::new();
    for clause in clauses.iter().filter(|clause| !clause.of_job) {
        match counted.iter_mut().find(|(_, known)| **known == clause.extent) {
            Some((count, _)) => *count += 1,
            None => counted.push((1, &clause.extent)),
        }
    }
    let most = counted.into_iter().max_by_key(|(count, extent)| (*count, extent.zones.len()));
    most.map_or_else(|| Extent::of(view, &view.zones().collect::<Vec<_>>()), |(_, extent)| extent.clone())
}

fn limit(view: View<'_>, name: &str) -> Option<Limit> {
    let at = view.book.quantities.iter().position(|quantity| quantity.name == name)?;
    let mut found: Vec<(String, Vec<usize>)> = Vec::new();
    for zone in view.zones() {
        let Some(figure) =
            view.short_limit(zone, QuantityId(at)).filter(|_| prints(view, zone, QuantityId(at)))
        else {
            continue;
        };
        match found.iter_mut().find(|(known, _)| *known == figure) {
            Some((_, zones)) => zones.push(zone),
            None => found.push((figure, vec![zone])),
        }
    }
    let alone = found.len() == 1;
    let value = |(figure, zones): (_, Vec<usize>)| {
        let extent = Extent::of(view, &zones);
        Value { extent: Extent { everywhere: alone || extent.everywhere, ..extent }, figure }
    };
    let values: Vec<Value> = found.into_iter().map(value).collect();
    let name = upper_first(&view.quantity_words(QuantityId(at)));
    (!values.is_empty()).then_some(Limit { name, values })
}

/// Whether a clause that a zone requires prints the limits of a quantity: a limit that nobody reads elsewhere is none.
fn prints(view: View<'_>, zone: usize, quantity: QuantityId) -> bool {
    let duties = view.zone(zone).map_or(&[][..], |zone| &zone.clauses);
    let clauses = duties.iter().filter_map(|duty| view.book.clauses.get(duty.clause.0));
    let mut parameters = clauses.flat_map(|clause| &clause.parameters);
    parameters.any(|parameter| matches!(parameter.kind, ParameterKind::Limit(own) if own == quantity))
}

fn mix(view: View<'_>, site: &Site) -> Vec<Mix> {
    let mut found: Vec<(Chosen, Vec<usize>)> = Vec::new();
    for zone in view.zones() {
        let Some(coat @ Chosen::Coat(slot, option)) = chosen(view, site, zone) else { continue };
        let alike = found
            .iter_mut()
            .find(|(known, _)| matches!(known, Chosen::Coat(a, b) if (*a, *b) == (slot, option)));
        match alike {
            Some((_, zones)) => zones.push(zone),
            None => found.push((coat, vec![zone])),
        }
    }
    let shown = found.into_iter().filter_map(|(coat, zones)| {
        let Chosen::Coat(slot, option) = coat else { return None };
        let catalogue = view.catalogue(slot)?;
        let says = site.mix.iter().filter_map(|name| {
            let column = catalogue.column(name)?;
            let head = catalogue.columns.get(column.0)?.title.clone();
            Some((upper_first(&head), view.cell(slot, option, column)))
        });
        Some(Mix {
            extent: Extent::of(view, &zones),
            title: view.option_title(slot, option),
            says: says.collect(),
        })
    });
    shown.collect()
}

fn rules(view: View<'_>, clauses: &[&Printed]) -> Vec<String> {
    let printed = clauses.iter().filter_map(|clause| view.book.clauses.get(clause.clause.0));
    let cites = printed.flat_map(|clause| &clause.cites);
    let ids: BTreeSet<SourceId> = cites.map(|citation| citation.source).collect();
    sources(view, ids).into_iter().map(|source| source.title).collect()
}
