//! Walls thrown from the tables of a book: what a survey says in keys of its own and not as answers - layers, old
//! coats, cracks, neighbours, size - and answers from which other facts are worked out. Whether a wall can stand is left
//! to the reader of surveys.

use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use crate::proof::saying::{self, decimal, inside};
use crate::proof::sheet::Dice;
use crate::rulebook::book::{Book, Fact, FactId, Formula, Kind, Origin};
use crate::rulebook::cells::{CellSet, Cells};
use crate::survey::{FAILING, Pattern, WATCHED};
use crate::units::{Dimension, Quantity};

/// What one survey says of its wall.
#[derive(Clone, Debug, Default)]
pub(super) struct Wall {
    /// Lines of the zone.
    pub(super) lines: Vec<String>,
    /// The material of a second zone that the first adjoins.
    pub(super) beside: Option<String>,
    /// Answers from which other facts are worked out.
    pub(super) answers: Vec<(FactId, String)>,
}

/// Things dealt in turn, in a new order each time round, so that each comes up as often as any other.
#[derive(Debug)]
struct Deck<T> {
    all: Vec<T>,
    left: Vec<T>,
}

impl<T: Clone> Deck<T> {
    fn of(all: Vec<T>) -> Self {
        Self { all, left: Vec::new() }
    }

    fn deal(&mut self, dice: &mut Dice) -> Option<T> {
        if self.left.is_empty() {
            self.left.clone_from(&self.all);
        }
        let at = dice.throw(self.left.len());
        (at < self.left.len()).then(|| self.left.swap_remove(at))
    }
}

/// What walls are thrown from.
#[derive(Debug)]
pub(super) struct Quarry {
    dice: Dice,
    /// Whether the last wall thrown was sound.
    sound: bool,
    materials: Deck<String>,
    behind: Deck<String>,
    thicknesses: Deck<&'static str>,
    families: Deck<String>,
    failing: Deck<&'static str>,
    things: Deck<String>,
    watched: Deck<&'static str>,
    patterns: Deck<&'static str>,
    widths: Deck<String>,
    areas: Deck<String>,
    readings: Vec<(FactId, Deck<String>)>,
}

/// How often out of so many throws a list is left out, and so not known.
const SELDOM: usize = 8;

impl Quarry {
    /// Opens the tables of a book; `read_elsewhere` are the answers from which other facts are worked out.
    pub(super) fn of(book: &Book, read_elsewhere: &[FactId]) -> Self {
        let rows = |table: &str| -> Vec<String> {
            let table = book.catalogue_named(table);
            let options = table.into_iter().flat_map(|table| &table.options);
            options.map(|option| option.name.clone()).collect()
        };
        let words = |words: &[&'static str]| Deck::of(words.to_vec());
        let mut families = rows("old-coats");
        families.retain(|family| family != "none");
        let readings = read_elsewhere.iter().filter_map(|id| {
            let fact = book.facts.get(id.0)?;
            Some((*id, Deck::of(values(book, *id, fact))))
        });
        Self {
            dice: Dice::new(7),
            sound: false,
            materials: Deck::of(rows("materials")),
            behind: Deck::of(rows("materials")),
            thicknesses: words(&["5 mm", "20 mm", "100 mm", "220 mm", "500 mm"]),
            families: Deck::of(families),
            failing: words(&FAILING.map(|(word, _)| word)),
            things: Deck::of(rows("neighbours")),
            watched: words(&WATCHED.map(|(word, _)| word)),
            patterns: words(&Pattern::WORDS.map(|(word, _)| word)),
            widths: Deck::of(figures(book, |name| name.starts_with("widest-"), "m")),
            areas: Deck::of(figures(book, |name| matches!(name, "net-area" | "paint-disturbed-on-job"), "m")),
            readings: readings.collect(),
        }
    }

    /// Throws a wall: every other one is sound, for there are rules that nothing amiss may stand in the way of.
    pub(super) fn throw(&mut self) -> Wall {
        self.sound = !self.sound;
        let beside = if self.seldom(2) { self.materials.deal(&mut self.dice) } else { None };
        let mut wall = Wall { beside, ..Wall::default() };
        let lists = [self.layers(), self.coats(), self.cracks(), self.adjoining(wall.beside.is_some())];
        for (key, list) in lists.into_iter().flatten() {
            if self.sound || !self.seldom(SELDOM) {
                wall.lines.push(format!("{key}: [{list}]"));
            }
        }
        if let Some(area) = self.areas.deal(&mut self.dice) {
            wall.lines.push(format!("size: {{width: {area}, height: 1 m}}"));
            wall.lines.extend(["openings: []".to_owned(), "not-coated: 0 m2".to_owned()]);
        }
        for (fact, deck) in &mut self.readings {
            let value = match self.sound {
                // The lowest figure: little of what is measured is ever wanted.
                true => deck.all.first().cloned(),
                false if self.dice.throw(3) > 0 => deck.deal(&mut self.dice),
                false => None,
            };
            wall.answers.extend(value.map(|value| (*fact, value)));
        }
        wall
    }

    /// How many of a list's things, at most so many.
    fn some(&mut self, most: usize) -> usize {
        if self.sound { self.dice.throw(2) * self.dice.throw(2) } else { self.dice.throw(most + 1) }
    }

    fn seldom(&mut self, of: usize) -> bool {
        self.dice.throw(of) == 0
    }

    fn layers(&mut self) -> Option<(&'static str, String)> {
        let outer = self.materials.deal(&mut self.dice)?;
        let behind = self.behind.deal(&mut self.dice)?;
        let layer = |material: &str, thickness: &str| {
            format!("{{material: {material}, thickness: {thickness}, known: measured}}")
        };
        let outer = layer(&outer, self.thicknesses.deal(&mut self.dice)?);
        let single = self.seldom(2);
        Some(("wall", if single { outer } else { format!("{outer}, {}", layer(&behind, "300 mm")) }))
    }

    fn coats(&mut self) -> Option<(&'static str, String)> {
        let mut coats = Vec::new();
        for _ in 0..self.some(2) {
            let family = self.families.deal(&mut self.dice)?;
            let failing = self.failing.deal(&mut self.dice)?;
            let kept = if self.seldom(2) { "yes" } else { "no" };
            let layers = 1 + self.dice.throw(3);
            coats.push(format!("{{family: {family}, layers: {layers}, failing: {failing}, kept: {kept}}}"));
        }
        Some(("coats", coats.join(", ")))
    }

    fn cracks(&mut self) -> Option<(&'static str, String)> {
        let mut cracks = Vec::new();
        for _ in 0..self.some(2) {
            let (watched, pattern) =
                (self.watched.deal(&mut self.dice)?, self.patterns.deal(&mut self.dice)?);
            let width = self.widths.deal(&mut self.dice)?;
            cracks.push(format!("{{width: {width}, pattern: {pattern}, watched: {watched}}}"));
        }
        Some(("cracks", cracks.join(", ")))
    }

    fn adjoining(&mut self, beside: bool) -> Option<(&'static str, String)> {
        let mut names: Vec<String> = beside.then(|| BESIDE.to_owned()).into_iter().collect();
        for _ in 0..self.some(3) {
            let thing = self.things.deal(&mut self.dice)?;
            if !names.contains(&thing) {
                names.push(thing);
            }
        }
        Some(("adjoins", names.join(", ")))
    }
}

/// The code of the second zone.
pub(super) const BESIDE: &str = "B";

/// A figure in each cell of the facts named, above nothing, in base units called so.
fn figures(book: &Book, named: impl Fn(&str) -> bool, unit: &str) -> Vec<String> {
    let mut found = Vec::new();
    for fact in book.facts.iter().filter(|fact| named(&fact.name)) {
        let numbers = fact.cells.any_answer().iter().filter_map(|cell| inside(fact, cell));
        let positive = numbers.filter(BigRational::is_positive);
        found.extend(positive.filter_map(|number| Some(format!("{} {unit}", decimal(&number)?))));
    }
    found.sort();
    found.dedup();
    found
}

/// What may be answered to a question from which others are worked out: a value in each of its cells, and of each cell of
/// those.
fn values(book: &Book, id: FactId, fact: &Fact) -> Vec<String> {
    let mut wide = fact.clone();
    if let Kind::Number { .. } | Kind::Measure { .. } = &fact.kind {
        let more = book.facts.iter().flat_map(|other| turning_points(book, id, fact, other));
        let cuts = fact.cells.cuts.iter().cloned().chain(more);
        wide.cells = Cells::of_cuts(cuts.collect(), false);
    }
    let cells = wide.cells.any_answer();
    cells.iter().filter_map(|cell| saying::answer(&wide, CellSet::one(cell))).collect()
}

/// Where an answer makes what is worked out from it cross from cell to cell.
fn turning_points(book: &Book, id: FactId, fact: &Fact, other: &Fact) -> Vec<BigRational> {
    let cuts = other.cells.cuts.iter();
    let Origin::Worked { formula, .. } = &other.origin else { return Vec::new() };
    match formula.as_deref() {
        None if other.name.ends_with(&format!("-{}", fact.name)) => cuts.cloned().collect(),
        Some(Formula::Linear { base, rate, step, of, past }) if *of == id && !rate.value().is_zero() => {
            let value = |figure: &Option<Quantity>| {
                figure.as_ref().map_or_else(BigRational::zero, |figure| figure.value().clone())
            };
            cuts.map(|cut| value(past) + (cut - value(base)) * step.value() / rate.value()).collect()
        }
        Some(Formula::Ratio { of, by }) if *of == id => {
            let by = book.facts.get(by.0);
            let numbers = by
                .into_iter()
                .flat_map(|by| by.cells.any_answer().iter().filter_map(|cell| inside(by, cell)));
            let share =
                if is_percent(other) { BigRational::new(1.into(), 100.into()) } else { BigRational::one() };
            numbers
                .flat_map(|number| cuts.clone().map(move |cut| cut * &number))
                .map(|cut| cut * &share)
                .collect()
        }
        _ => Vec::new(),
    }
}

fn is_percent(fact: &Fact) -> bool {
    matches!(fact.kind, Kind::Measure { dimension: Dimension::Percent, .. })
}
