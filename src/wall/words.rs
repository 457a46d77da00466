//! Values as documents print them.

use num_rational::BigRational;

use super::found::Bounds;
use crate::rulebook::book::Book;
use crate::rulebook::words::spoken;
use crate::survey::YesNoAnswer;
use crate::units::{Dimension, Quantity, System, print, print_once, print_range};

/// `yes`, `no`, or nothing.
pub(super) fn yes_no(answer: YesNoAnswer) -> &'static str {
    match answer {
        YesNoAnswer::Yes => "yes",
        YesNoAnswer::No => "no",
        YesNoAnswer::Unanswered => "",
    }
}

/// The words of a list of names as they print: a catalogue's titles if the names are its rows.
pub(super) fn titled(name: &str, names: &[String], book: &Book) -> String {
    let same = |rows: &[crate::rulebook::book::CatalogueOption]| rows.iter().map(|row| &row.name).eq(names);
    let catalogue = book.catalogues.iter().find(|catalogue| same(&catalogue.options));
    let row = catalogue.and_then(|catalogue| catalogue.options.iter().find(|row| row.name == name));
    row.map_or_else(|| spoken(name), |row| row.title.clone())
}

/// An equivalent air layer: metres alone, for that is how it is spoken of everywhere.
pub(super) fn air_layer(sd: &BigRational) -> String {
    let metres = Quantity::from_base_in(sd.clone(), Dimension::Length, "m");
    metres.map_or_else(|_| sd.to_string(), |metres| print_once(&metres))
}

/// A worked quantity in both systems.
pub(super) fn measure(value: &BigRational, dimension: Dimension, system: System) -> String {
    match dimension {
        Dimension::Number => number(value),
        _ => print(&Quantity::from_base(value.clone(), dimension), system),
    }
}

/// A plain number, without commas.
pub(super) fn number(value: &BigRational) -> String {
    if value.is_integer() {
        return value.to_string();
    }
    Quantity::from_base(value.clone(), Dimension::Number).written().to_owned()
}

/// Bounds in both systems: `20 mm (0.8 in.)`, `5 to 30 °C`, `at least 2 m`.
pub(super) fn bounds(bounds: &Bounds, dimension: Dimension, system: System) -> String {
    let one = |value: &BigRational| measure(value, dimension, system);
    in_words(bounds, one, |low, high| {
        if dimension == Dimension::Number {
            return format!("{} to {}", number(low), number(high));
        }
        let end = |value: &BigRational| Quantity::from_base(value.clone(), dimension);
        print_range(&end(low), &end(high), system)
    })
}

/// The bounds of an equivalent air layer, in metres.
pub(super) fn air_layer_bounds(bounds: &Bounds) -> String {
    in_words(bounds, air_layer, |low, high| format!("{} to {}", air_layer(low), air_layer(high)))
}

fn in_words(
    bounds: &Bounds,
    one: impl Fn(&BigRational) -> String,
    two: impl Fn(&BigRational, &BigRational) -> String,
) -> String {
    match (&bounds.low, &bounds.high) {
        (Some(low), Some(high)) if low == high => one(low),
        (Some(low), Some(high)) => two(low, high),
        (Some(low), None) => format!("at least {}", one(low)),
        (None, Some(high)) => format!("at most {}", one(high)),
        (None, None) => String::new(),
    }
}
