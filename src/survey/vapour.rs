//! Reads how vapour passes a layer or an old film, as tested on this very wall: one figure, and with it what it means
//! nothing without.

use super::answer::Span;
use super::layer::above_nothing;
use super::mistake::SurveyMistake;
use super::model::{Cup, Tested};
use super::quoted::Quoted;
use super::reader::{Pairs, Reader, answered};
use crate::rulebook::book::{Book, CellValue};
use crate::units::{Dimension, Quantity};
use crate::yaml::{Node, Value};

/// The climates of a cup by the words of a survey.
const CUPS: [(&str, Cup); 3] = [("wet-cup", Cup::Wet), ("desiccant", Cup::Desiccant), ("water", Cup::Water)];

/// A figure of a layer of the wall. A permeance belongs to one thickness, so it is refused without one.
pub(super) fn of_layer(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Tested> {
    let material = answered(pairs, "material").and_then(Node::as_text).unwrap_or("a layer").to_owned();
    only_one(reader, pairs, &format!("a layer of {material}"), &["permeance", "transmission", "mu"]);
    let permeance = above_nothing(reader, pairs, "permeance", whole, Dimension::Permeance);
    let rate = transmission(reader, pairs, whole);
    let mu = at_least_one(reader, pairs, whole);
    if answered(pairs, "thickness").is_none() {
        let of_rate = rate.as_ref().and_then(permeance_of_rate);
        let figures = [
            ("permeance", "a permeance", permeance.as_ref().map(|span| span.low.clone())),
            ("transmission", "a vapour transmission rate", of_rate),
        ];
        for (key, figure, quoted) in figures {
            let Some(node) = answered(pairs, key) else { continue };
            let mend = quoted.and_then(|quoted| {
                let coat = a_coat(reader.book);
                Quoted::new(&quoted)?.help(coat.as_ref().map(|(title, coat)| (*title, coat)))
            });
            let mend = mend.unwrap_or_else(|| "add the layer's `thickness: …`".to_owned());
            let material = material.clone();
            let mistake = SurveyMistake::PermeanceWithoutThickness { figure, material, mend };
            reader.mistake(&mistake, &node.place);
        }
    }
    permeance.map(Tested::Permeance).or(rate).or(mu.map(Tested::Mu))
}

/// The first coat of the book, at its tightest.
fn a_coat(book: &Book) -> Option<(&str, Quoted)> {
    let slot = book.slots.iter().find(|slot| slot.name == "coating")?;
    let catalogue = book.catalogues.get(slot.catalogue.0)?;
    let column = catalogue.column("permeance")?;
    let mut coats = catalogue.options.iter().filter_map(|row| match &row.cells.get(column.0)?.value {
        CellValue::Measure(low, _) => Some((row.title.as_str(), Quoted::new(low)?)),
        _ => None,
    });
    coats.next()
}

/// The permeance of a rate of transmission, at its low end.
fn permeance_of_rate(tested: &Tested) -> Option<Quantity> {
    let Tested::Transmission(rate, cup) = tested else { return None };
    let permeance = cup.climate().permeance_of(rate.low.value())?;
    Some(Quantity::from_base(permeance, Dimension::Permeance))
}

/// A figure of an old film as it stands, all its layers together.
pub(super) fn of_film(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Tested> {
    only_one(reader, pairs, whole, &["sd", "permeance", "transmission"]);
    let sd = above_nothing(reader, pairs, "sd", whole, Dimension::AirLayer);
    let permeance = above_nothing(reader, pairs, "permeance", whole, Dimension::Permeance);
    let rate = transmission(reader, pairs, whole);
    sd.map(Tested::AirLayer).or(permeance.map(Tested::Permeance)).or(rate)
}

/// Never two figures: each follows from the other, so one of them may be wrong.
fn only_one(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str, keys: &[&'static str]) {
    let mut given = keys.iter().filter_map(|key| Some((*key, answered(pairs, key)?)));
    let Some((one, first)) = given.next() else { return };
    for (two, node) in given {
        let later = if node.place.start > first.place.start { node } else { first };
        let mistake = SurveyMistake::TwoFigures { whole: whole.to_owned(), one, two };
        reader.mistake(&mistake, &later.place);
    }
}

/// Vapour passing an area in a time, with the climate of the cup; refused without, for the same film passes more over
/// a desiccant than in the wet cup.
fn transmission(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Tested> {
    let node = answered(pairs, "transmission")?;
    let what = format!("`transmission` of {whole}");
    let record = if let Value::Map(_) = node.value { reader.record(node, &what) } else { &[] };
    reader.known_keys(record, &what, &["value", "climate"]);
    let value = if record.is_empty() { Some(node) } else { answered(record, "value") };
    let rate = value.and_then(|node| reader.span(node, &what, Dimension::VapourFlow));
    let rate = rate.filter(|rate| reader.positive(&rate.low, &what, &node.place));
    let Some(climate) = answered(record, "climate") else {
        reader.mistake(&SurveyMistake::RateWithoutClimate { whole: whole.to_owned() }, &node.place);
        return None;
    };
    let cup = reader.word(climate, format!("`climate` of {what}"), &CUPS)?;
    Some(Tested::Transmission(rate?, cup))
}

/// A resistance factor: still air has 1, and nothing has less.
fn at_least_one(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Span> {
    let node = answered(pairs, "mu")?;
    let what = format!("`mu` of {whole}");
    let span = reader.span(node, &what, Dimension::Number)?;
    if *span.low.value() < num_rational::BigRational::from_integer(1.into()) {
        let (written, range) = (span.low.written().to_owned(), "1 (still air) or more".to_owned());
        reader.mistake(&SurveyMistake::OutOfRange { written, what, range }, &node.place);
        return None;
    }
    Some(span)
}
