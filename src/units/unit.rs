//! The table of units: reads `units.txt` once, finds a unit by any of its names.

use std::iter;
use std::sync::LazyLock;

use num_rational::BigRational;
use num_traits::{One, Zero};

use super::dimension::Dimension;
use super::figure;
use super::fraction::Fraction;

/// The system that a unit belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Belongs {
    /// The units of the United States.
    Us,
    /// The international system, and what is used with it.
    Si,
    /// Both, so that the quantity prints once.
    Both,
}

/// One row of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unit {
    /// The kind that it measures.
    pub(super) dimension: Dimension,
    /// What is printed after the figure one.
    one: &'static str,
    /// What is printed after any other figure.
    many: &'static str,
    /// The system that it belongs to.
    pub(super) belongs: Belongs,
    /// Whether worked values may print in it.
    pub(super) for_worked: bool,
    /// The reading at the zero of the base; zero but for temperatures.
    zero: BigRational,
    /// How many of the base one of it holds.
    pub(super) factor: BigRational,
    /// Units of the other system, smallest first.
    pub(super) counterparts: Vec<&'static str>,
    /// Where the factor comes from.
    source: &'static str,
    /// Every name it can be read by, in one spelling.
    names: Vec<String>,
}

/// Stands in where the table has no unit for a kind; a test sees to it that this never happens.
static BARE: LazyLock<Unit> = LazyLock::new(|| Unit {
    dimension: Dimension::Number,
    one: "",
    many: "",
    belongs: Belongs::Both,
    for_worked: true,
    zero: BigRational::zero(),
    factor: BigRational::one(),
    counterparts: Vec::new(),
    source: "by definition",
    names: Vec::new(),
});

static UNITS: LazyLock<Vec<Unit>> =
    LazyLock::new(|| include_str!("units.txt").lines().filter_map(row).collect());

impl Unit {
    /// The value in the base of the kind.
    pub(super) fn to_base(&self, reading: &Fraction) -> BigRational {
        reading.clone().plus(&-&self.zero).times(&self.factor).reduced()
    }

    /// The reading in this unit.
    pub(super) fn reading(&self, value: &BigRational) -> Fraction {
        Fraction::from(value).divided_by(&self.factor).plus(&self.zero)
    }

    /// The units of a kind, in the order of the table.
    pub(super) fn of(dimension: Dimension) -> impl Iterator<Item = &'static Self> {
        UNITS.iter().filter(move |unit| unit.dimension == dimension)
    }

    /// The unit of a kind that goes by this name.
    pub(super) fn find(dimension: Dimension, name: &str) -> Option<&'static Self> {
        let as_printed = Self::of(dimension).find(|unit| unit.one == name || unit.many == name);
        as_printed.or_else(|| {
            let name = one_spelling(name);
            Self::of(dimension).find(|unit| unit.names.contains(&name))
        })
    }

    /// The unit of any kind that goes by this name.
    pub(super) fn find_any(name: &str) -> Option<&'static Self> {
        let name = one_spelling(name);
        UNITS.iter().find(|unit| unit.names.contains(&name))
    }

    /// The unit that a worked value prints in: the one that says it exactly in the fewest digits, so that a limit
    /// of 300 psi is found again; failing that, the largest of its kind that leaves one or more.
    pub(super) fn usual(value: &BigRational, dimension: Dimension) -> &'static Self {
        let worked = || Self::of(dimension).filter(|unit| unit.for_worked);
        let metric = || worked().filter(|unit| unit.belongs != Belongs::Us);
        let whole = |unit: &&'static Self| unit.reading(value).reaches_one();
        let by_size = metric().filter(whole).last().or_else(|| metric().next()).unwrap_or(&BARE);
        let others = worked().filter(|unit| whole(unit) || unit.belongs == Belongs::Us);
        let most = figure::MOST_TELLING + 1;
        let digits = |unit: &&'static Self| figure::telling_digits(&unit.reading(value)).unwrap_or(most);
        iter::once(by_size).chain(others).min_by_key(digits).unwrap_or(by_size)
    }

    /// The names under which the units of a kind are printed.
    pub(super) fn names_of(dimension: Dimension) -> impl Iterator<Item = &'static str> {
        Self::of(dimension).map(Self::symbol).filter(|name| !name.is_empty())
    }

    /// What follows this figure: `day` after 1, `days` after any other.
    pub(super) fn after(&self, figure: &str) -> &'static str {
        if figure == "1" { self.one } else { self.many }
    }

    /// The first of its names, as people type it, for messages.
    pub(super) fn symbol(&self) -> &'static str {
        self.one
    }
}

/// Brings the ways of writing a unit down to one: raised digits, dots, micro signs, the order under the stroke.
fn one_spelling(name: &str) -> String {
    let plain: String = name.chars().map(plain_character).collect();
    let (over, under) = plain.split_once('/').unwrap_or((&plain, ""));
    let over = over.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut parts: Vec<_> = under
        .split(|c: char| c.is_whitespace() || "()/".contains(c))
        .filter(|part| !part.is_empty())
        .collect();
    parts.sort_unstable();
    if parts.is_empty() { over } else { format!("{over}/{}", parts.join(" ")) }
}

fn plain_character(character: char) -> char {
    match character {
        '²' => '2',
        '³' => '3',
        '·' | '⋅' | '*' => ' ',
        'µ' | 'μ' => 'u',
        other => other,
    }
}

/// Reads one row; `None` for blank lines and comments. A test sees to it that no row is lost.
fn row(line: &'static str) -> Option<Unit> {
    let mut cells = line.split('|').map(str::trim);
    let dimension = Dimension::from_name(cells.next()?)?;
    let printed = cells.next()?;
    let (one, many) = printed.split_once(", ").unwrap_or((printed, printed));
    let others = cells.next()?;
    let system = cells.next()?;
    let belongs = belongs(system.trim_end_matches('*'))?;
    let (zero, factor) = scale(cells.next()?)?;
    let counterparts = cells.next()?.split(", ").filter(|name| !name.is_empty()).collect();
    let source = cells.next()?;
    let names = [one, many].into_iter().chain(others.split(", ").filter(|name| !name.is_empty()));
    let names = names.map(one_spelling).collect();
    let for_worked = system.ends_with('*');
    Some(Unit { dimension, one, many, belongs, for_worked, zero, factor, counterparts, source, names })
}

fn belongs(system: &str) -> Option<Belongs> {
    match system {
        "us" => Some(Belongs::Us),
        "si" => Some(Belongs::Si),
        "both" => Some(Belongs::Both),
        _ => None,
    }
}

fn scale(text: &str) -> Option<(BigRational, BigRational)> {
    match text.split_once(';') {
        Some((zero, factor)) => Some((figure::exactly(zero)?, product(factor)?)),
        None => Some((BigRational::zero(), product(text)?)),
    }
}

/// Works out `a * b / c / d` from left to right.
fn product(text: &str) -> Option<BigRational> {
    text.split('*').try_fold(BigRational::one(), |so_far, part| {
        let mut terms = part.split('/');
        let first = figure::exactly(terms.next()?)?;
        terms.try_fold(so_far * first, |so_far, under| {
            figure::exactly(under).filter(|under| !under.is_zero()).map(|under| so_far / under)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_row_of_the_table_is_lost() {
        let written =
            include_str!("units.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        assert_eq!(UNITS.len(), written.count());
    }

    #[test]
    fn every_row_names_its_source() {
        for unit in UNITS.iter() {
            assert!(!unit.source.is_empty(), "{} {}", unit.dimension.name(), unit.one);
        }
    }

    #[test]
    fn no_name_stands_twice_in_a_kind() {
        for unit in UNITS.iter() {
            for name in &unit.names {
                let held = Unit::of(unit.dimension).filter(|other| other.names.contains(name)).count();
                assert_eq!(held, 1, "`{name}` among units of {}", unit.dimension.name());
            }
        }
    }

    #[test]
    fn every_counterpart_is_a_unit_of_the_other_system() {
        for unit in UNITS.iter() {
            for name in &unit.counterparts {
                let other = Unit::find(unit.dimension, name).unwrap();
                assert_ne!(other.belongs, unit.belongs, "{} and {name}", unit.one);
                assert_ne!(other.belongs, Belongs::Both);
            }
        }
    }

    #[test]
    fn every_kind_has_a_unit_for_worked_values() {
        for dimension in Dimension::all() {
            assert!(Unit::of(dimension).any(|unit| unit.for_worked), "{}", dimension.name());
        }
    }

    #[test]
    fn one_unit_may_be_spelt_in_many_ways() {
        for name in ["ng/(Pa s m2)", "ng/(Pa·s·m²)", "ng/(m2 s Pa)", "ng / (Pa * s * m²)"] {
            assert_eq!(Unit::find(Dimension::Permeance, name).unwrap().one, "ng/(Pa·s·m²)", "{name}");
        }
    }
}
