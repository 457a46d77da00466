//! Reads what a zone is made of: the layers of the wall, the old coats, the cracks.

use super::answer::{Known, Span};
use super::mistake::SurveyMistake;
use super::model::{Crack, Failing, Layer, OldCoat, Pattern, Watched};
use super::order;
use super::reader::{Pairs, Reader, answered, did_you_mean, value_of};
use super::vapour;
use crate::rulebook::book::OptionId;
use crate::units::Dimension;
use crate::yaml::Node;

/// The words for how a thing is known.
pub const KNOWN: [(&str, Known); 5] = [
    ("measured", Known::Measured),
    ("seen-from-ground", Known::SeenFromGround),
    ("drawn", Known::Drawn),
    ("told", Known::Told),
    ("assumed", Known::Assumed),
];

/// The row of `old-coats` that says there is none.
const NO_COAT: &str = "none";

/// The words for how much of an old coat fails.
pub const FAILING: [(&str, Failing); 4] =
    [("none", Failing::None), ("spots", Failing::Spots), ("half", Failing::Half), ("most", Failing::Most)];

/// The words for whether a crack was watched.
pub const WATCHED: [(&str, Watched); 4] = [
    ("not-watched", Watched::NotWatched),
    ("suspected", Watched::Suspected),
    ("watched-still", Watched::Still),
    ("watched-moving", Watched::Moving),
];

/// The layers of the wall, outside to inside.
pub(super) fn wall(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Vec<Layer>> {
    let nodes = reader.list(pairs, "wall", whole)?;
    if let (true, Some(node)) = (nodes.is_empty(), value_of(pairs, "wall")) {
        reader.mistake(&SurveyMistake::EmptyList { what: format!("the wall of {whole}") }, &node.place);
    }
    let whole = format!("a layer of {whole}");
    let layers: Vec<Layer> = nodes.iter().filter_map(|node| wall_layer(reader, node, &whole)).collect();
    order::check(reader, &layers);
    Some(layers)
}

fn wall_layer(reader: &mut Reader<'_>, node: &Node, whole: &str) -> Option<Layer> {
    let pairs = reader.record(node, whole);
    reader.known_keys(pairs, whole, &["material", "thickness", "permeance", "transmission", "mu", "known"]);
    let material = row(reader, pairs, "material", "materials", (whole, node));
    let thickness = above_nothing(reader, pairs, "thickness", whole, Dimension::Length);
    let tested = vapour::of_layer(reader, pairs, whole);
    let known = answered(pairs, "known");
    let known = known.and_then(|node| reader.word(node, format!("`known` of {whole}"), &KNOWN));
    Some(Layer { material: material?, thickness, tested, known, place: node.place.clone() })
}

/// A span that starts above nothing.
pub(super) fn above_nothing(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    key: &str,
    whole: &str,
    dimension: Dimension,
) -> Option<Span> {
    let node = answered(pairs, key)?;
    let what = format!("`{key}` of {whole}");
    let span = reader.span(node, &what, dimension)?;
    reader.positive(&span.low, &what, &node.place).then_some(span)
}

/// A row of a catalogue that the program knows by name.
fn row(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    key: &'static str,
    table: &str,
    (whole, node): (&str, &Node),
) -> Option<OptionId> {
    let why = "it is a row of the rulebook's tables";
    let node = reader.required(pairs, key, (whole, &node.place), why)?;
    let what = format!("`{key}` of {whole}");
    let catalogue = reader.catalogue(table, &what, &node.place)?;
    let written = reader.text(node, &what)?;
    let row = catalogue.option(&written);
    if row.is_none() {
        let rows = catalogue.options.iter().map(|option| option.name.as_str());
        let mend = did_you_mean(&written, rows.filter(|row| *row != NO_COAT));
        reader.mistake(&SurveyMistake::Word { written, what, mend }, &node.place);
    }
    row
}

/// The old coats, outermost first.
pub(super) fn coats(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Vec<OldCoat>> {
    let nodes = reader.list(pairs, "coats", whole)?;
    let whole = format!("an old coat of {whole}");
    Some(nodes.iter().filter_map(|node| coat(reader, node, &whole)).collect())
}

fn coat(reader: &mut Reader<'_>, node: &Node, whole: &str) -> Option<OldCoat> {
    let pairs = reader.record(node, whole);
    let tests = ["sd", "permeance", "transmission"];
    let keys = ["family", "looks-like", "layers", "thickness", "failing", "kept"];
    reader.known_keys(pairs, whole, &[&keys[..], &tests[..]].concat());
    if let Some(node) = value_of(pairs, "family").filter(|node| node.as_text() == Some(NO_COAT)) {
        reader.mistake(&SurveyMistake::NoCoat, &node.place);
    }
    let family = row(reader, pairs, "family", "old-coats", (whole, node));
    let layers = answered(pairs, "layers");
    let layers = layers.and_then(|node| reader.count(node, &format!("`layers` of {whole}")));
    let failing = answered(pairs, "failing");
    let failing = failing.and_then(|node| reader.word(node, format!("`failing` of {whole}"), &FAILING));
    Some(OldCoat {
        looks_like: reader.yes_no(pairs, "looks-like", whole),
        layers,
        thickness: above_nothing(reader, pairs, "thickness", whole, Dimension::Length),
        tested: vapour::of_film(reader, pairs, whole),
        failing,
        kept: reader.yes_no(pairs, "kept", whole),
        family: family?,
        place: node.place.clone(),
    })
}

/// The cracks.
pub(super) fn cracks(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Vec<Crack>> {
    let nodes = reader.list(pairs, "cracks", whole)?;
    let whole = format!("a crack of {whole}");
    Some(nodes.iter().map(|node| crack(reader, node, &whole)).collect())
}

/// A crack of which nobody says that it was watched was not.
fn crack(reader: &mut Reader<'_>, node: &Node, whole: &str) -> Crack {
    let pairs = reader.record(node, whole);
    reader.known_keys(pairs, whole, &["width", "pattern", "watched"]);
    let pattern = answered(pairs, "pattern");
    let pattern =
        pattern.and_then(|node| reader.word(node, format!("`pattern` of {whole}"), &Pattern::WORDS));
    let watched = answered(pairs, "watched");
    let watched = watched.and_then(|node| reader.word(node, format!("`watched` of {whole}"), &WATCHED));
    Crack {
        width: above_nothing(reader, pairs, "width", whole, Dimension::Length),
        pattern,
        watched: watched.unwrap_or(Watched::NotWatched),
        place: node.place.clone(),
    }
}
