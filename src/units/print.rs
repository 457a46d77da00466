//! Quantities as documents print them: in both systems, rounded no finer than they were written.
//!
//! The written side keeps its digits. The other side is rounded to the largest power of ten that is no coarser
//! than the written step, and finer only if that would move the value by more than one part in a hundred; so the
//! two sides agree within half a last digit and neither implies more than is known.

use std::cmp::Ordering;

use num_traits::Signed;

use super::dimension::Dimension;
use super::figure::{Figure, MOST_TELLING, ten};
use super::fraction::Fraction;
use super::quantity::Quantity;
use super::unit::{Belongs, Unit};

/// Which system stands first; the other follows in brackets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// United States units first.
    UsFirst,
    /// International units first.
    SiFirst,
}

/// The largest part by which rounding may move a value: one in a hundred.
const MOST_MOVED: i64 = 100;
/// A space that a line never breaks at.
const HARD_SPACE: char = '\u{a0}';

/// A quantity in both systems: `300 psi (2.07 MPa)`. Percentages, times, angles and plain numbers print once.
pub fn print(quantity: &Quantity, system: System) -> String {
    let own = print_once(quantity);
    match counterpart(quantity.unit(), &quantity.figure().value) {
        Some(unit) => {
            let step = step_in(unit, quantity.unit(), quantity.figure());
            let reading = unit.reading(quantity.value());
            let step = no_finer(&reading, step, telling(quantity.figure()), unit.dimension);
            let other = with_unit(&grouped(&reading.shown(finer(&reading, step, unit.dimension))), unit);
            in_order(quantity.unit(), &own, &other, system)
        }
        None => own,
    }
}

/// A quantity in the unit it was written in, and in no other: `0.14 m` of still air.
pub fn print_once(quantity: &Quantity) -> String {
    with_unit(&grouped(&quantity.figure().text), quantity.unit())
}

/// Two ends of a range: `5 to 30 °C (41 to 86 °F)`. Both ends print in the unit of the upper one.
pub fn print_range(low: &Quantity, high: &Quantity, system: System) -> String {
    if low.dimension() != high.dimension() {
        return format!("{} to {}", print(low, system), print(high, system));
    }
    let unit = high.unit();
    let low_figure = if low.unit() == unit { low.figure().clone() } else { converted(low, unit) };
    let own = joined(&low_figure.text, &high.figure().text, unit);
    let Some(other) = counterpart(unit, &high.figure().value) else { return own };
    let step = step_in(other, unit, &low_figure).min(step_in(other, unit, high.figure()));
    let [from, to] = [low, high].map(|end| other.reading(end.value()));
    let digits = telling(&low_figure).max(telling(high.figure()));
    let larger = if from.compare_size(&to) == Ordering::Greater { &from } else { &to };
    let step = no_finer(larger, step, digits, other.dimension);
    let step = finer(&from, step, other.dimension).min(finer(&to, step, other.dimension));
    let other = joined(&from.shown(step), &to.shown(step), other);
    in_order(unit, &own, &other, system)
}

/// The cells of a table column: if all are written in one unit, the other side has one unit and as many places in
/// every cell; otherwise each cell prints by itself.
pub fn print_column(cells: &[Quantity], system: System) -> Vec<String> {
    let alone = || cells.iter().map(|cell| print(cell, system)).collect();
    let Some(largest) = cells.iter().max_by_key(|cell| cell.value().abs()) else { return Vec::new() };
    let unit = largest.unit();
    if cells.iter().any(|cell| cell.unit() != unit) {
        return alone();
    }
    let Some(other) = counterpart(unit, &largest.figure().value) else { return alone() };
    let step = |cell: &Quantity| {
        finer(&other.reading(cell.value()), step_in(other, unit, cell.figure()), other.dimension)
    };
    let Some(step) = cells.iter().map(step).min() else { return alone() };
    let both = |cell: &Quantity| {
        let reading = grouped(&other.reading(cell.value()).shown(step));
        in_order(unit, &print_once(cell), &with_unit(&reading, other), system)
    };
    cells.iter().map(both).collect()
}

fn converted(quantity: &Quantity, unit: &'static Unit) -> Figure {
    let value = unit.reading(quantity.value());
    let step = finer(&value, step_in(unit, quantity.unit(), quantity.figure()), unit.dimension);
    Figure { text: value.shown(step), value, step: ten(step) }
}

fn joined(low: &str, high: &str, unit: &Unit) -> String {
    format!("{} to {}", grouped(low), with_unit(&grouped(high), unit))
}

fn in_order(unit: &Unit, own: &str, other: &str, system: System) -> String {
    match (unit.belongs, system) {
        (Belongs::Us, System::UsFirst) | (Belongs::Si | Belongs::Both, System::SiFirst) => {
            format!("{own} ({other})")
        }
        _ => format!("{other} ({own})"),
    }
}

/// The unit of the other system: the largest that leaves one or more, or the smallest.
fn counterpart(unit: &Unit, reading: &Fraction) -> Option<&'static Unit> {
    let units: Vec<_> =
        unit.counterparts.iter().filter_map(|name| Unit::find(unit.dimension, name)).collect();
    let based = reading.clone().times(&unit.factor);
    let fits = |other: &&&'static Unit| based.clone().divided_by(&other.factor).reaches_one();
    units.iter().rev().find(fits).or_else(|| units.first()).copied()
}

/// The written step in another unit, cut down to a power of ten. A temperature goes to as many places in one scale
/// as in the other, and never past whole degrees.
fn step_in(unit: &Unit, written_in: &Unit, figure: &Figure) -> i32 {
    let step = Fraction::from(&figure.step);
    let other = || step.clone().times(&written_in.factor).divided_by(&unit.factor).magnitude();
    match unit.dimension {
        Dimension::Temperature => step.magnitude().min(0),
        Dimension::TemperatureStep => other().min(0),
        _ => other(),
    }
}

/// The step, made finer until rounding to it moves the value by no more than one part in a hundred. Temperatures have
/// no true zero to take a part of, and their steps are asked for in whole degrees.
fn finer(value: &Fraction, step: i32, dimension: Dimension) -> i32 {
    let mut step = step;
    if matches!(dimension, Dimension::Temperature | Dimension::TemperatureStep) {
        return step;
    }
    while !value.is_zero() && !value.hardly_moved(step, MOST_MOVED) {
        step -= 1;
    }
    step
}

/// The step, made coarser until the value shows no more telling digits than were written, or three.
/// Temperatures keep theirs: they have no true zero.
fn no_finer(value: &Fraction, step: i32, written: i32, dimension: Dimension) -> i32 {
    if value.is_zero() || matches!(dimension, Dimension::Temperature | Dimension::TemperatureStep) {
        return step;
    }
    step.max(value.magnitude() + 1 - written.max(MOST_TELLING))
}

/// How many digits of a figure tell.
fn telling(figure: &Figure) -> i32 {
    figure.value.magnitude() - Fraction::from(&figure.step).magnitude() + 1
}

/// The figure, a space that never breaks, and the unit.
fn with_unit(figure: &str, unit: &Unit) -> String {
    match unit.after(figure) {
        "" => figure.to_owned(),
        "°" => format!("{figure}°"),
        name => format!("{figure}{HARD_SPACE}{}", name.replace(' ', "\u{a0}")),
    }
}

/// The digits with commas at the thousands, a true minus sign, and powers of ten raised.
fn grouped(figure: &str) -> String {
    let (sign, digits) = figure.strip_prefix('-').map_or(("", figure), |digits| ("\u{2212}", digits));
    let end = digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len());
    let (whole, rest) = digits.split_at_checked(end).unwrap_or((digits, ""));
    let mut out = sign.to_owned();
    if whole.is_empty() {
        out.push('0');
    }
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    match rest.split_once(['e', 'E']) {
        Some((part, power)) => format!("{out}{part}{HARD_SPACE}×{HARD_SPACE}10{}", raised(power)),
        None => out + rest,
    }
}

fn raised(power: &str) -> String {
    let raise = |c: char| match c {
        '-' => Some('⁻'),
        '+' => None,
        digit => digit.to_digit(10).and_then(|digit| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit as usize)),
    };
    power.chars().filter_map(raise).collect()
}
