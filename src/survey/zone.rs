//! Reads one zone: what it is, what adjoins it, its size, and what was left uncoated.

use std::collections::BTreeSet;

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::mistake::SurveyMistake;
use super::model::{Adjoining, AdjoiningKind, Opening, Size, Zone};
use super::reader::{Pairs, Reader, answered, did_you_mean, value_of};
use super::{fact, layer};
use crate::diagnostic::{Diagnostic, Place};
use crate::rulebook::book::{OptionId, Owner};
use crate::units::{Dimension, Quantity};
use crate::yaml::Node;

/// The keys of a zone that belong to the program; every other key is a fact.
const KEYS: [&str; 9] =
    ["code", "name", "adjoins", "wall", "coats", "cracks", "size", "openings", "not-coated"];

/// Reads the zone of this index; `codes` are those of all zones as written.
pub(super) fn read(reader: &mut Reader<'_>, node: &Node, index: usize, codes: &[String]) -> Zone {
    let whole = match codes.get(index).map(String::as_str) {
        Some("") | None => format!("zone number {}", index + 1),
        Some(code) => format!("zone `{code}`"),
    };
    let pairs = reader.record(node, &whole);
    let code = code(reader, pairs, (&whole, &node.place), (index, codes));
    let name =
        reader.required_text(pairs, "name", (&whole, &node.place), "it says in words which wall is meant");
    let zone = Zone {
        adjoins: adjoins(reader, pairs, &whole, (index, codes)),
        wall: layer::wall(reader, pairs, &whole),
        coats: layer::coats(reader, pairs, &whole),
        cracks: layer::cracks(reader, pairs, &whole),
        size: size(reader, pairs, &whole),
        openings: openings(reader, pairs, &whole),
        not_coated: not_coated(reader, pairs, &whole),
        answers: fact::answers(reader, pairs, &KEYS, Owner::Zone, &whole),
        code: code.unwrap_or_default(),
        name: name.unwrap_or_default(),
        place: node.place.clone(),
    };
    check_area(reader, &zone);
    zone
}

fn code(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    whole: (&str, &Place),
    (index, codes): (usize, &[String]),
) -> Option<String> {
    let node = reader.required(pairs, "code", whole, "the documents name the zone by it")?;
    let code = reader.code(node, "the code of the zone")?;
    if codes.iter().take(index).any(|other| *other == code) {
        reader.mistake(&SurveyMistake::ZoneTwice { code: code.clone() }, &node.place);
    }
    if things(reader).iter().any(|(thing, _)| *thing == code) {
        reader.mistake(&SurveyMistake::ZoneNamedAsThing { code: code.clone() }, &node.place);
    }
    Some(code)
}

/// Things that can adjoin a zone: the rows of `neighbours`.
fn things<'b>(reader: &Reader<'b>) -> Vec<(&'b str, OptionId)> {
    let catalogue = reader.book.catalogue_named("neighbours");
    let rows = catalogue.into_iter().flat_map(|catalogue| &catalogue.options);
    rows.enumerate().map(|(row, option)| (option.name.as_str(), OptionId(row))).collect()
}

fn adjoins(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    whole: &str,
    (index, codes): (usize, &[String]),
) -> Option<Vec<Adjoining>> {
    let nodes = reader.list(pairs, "adjoins", whole)?;
    let mut adjoining = Vec::new();
    let mut seen = BTreeSet::new();
    for node in nodes {
        let Some(name) = reader.text(node, format!("what adjoins {whole}")) else { continue };
        let kind = adjoining_kind(reader, &name, &node.place, (index, codes));
        if let (Some(kind), true) = (kind, seen.insert(name)) {
            adjoining.push(Adjoining { kind, place: node.place.clone() });
        }
    }
    Some(adjoining)
}

fn adjoining_kind(
    reader: &mut Reader<'_>,
    name: &str,
    place: &Place,
    (index, codes): (usize, &[String]),
) -> Option<AdjoiningKind> {
    if let Some(zone) = codes.iter().position(|code| code == name) {
        if zone == index {
            reader.mistake(&SurveyMistake::AdjoinsItself { code: name.to_owned() }, place);
        }
        return Some(AdjoiningKind::Zone(zone));
    }
    let things = things(reader);
    if let Some((_, row)) = things.iter().find(|(thing, _)| *thing == name) {
        return Some(AdjoiningKind::Thing(*row));
    }
    let known = codes.iter().map(String::as_str).chain(things.iter().map(|(thing, _)| *thing));
    let mend = did_you_mean(name, known);
    reader.mistake(&SurveyMistake::AdjoinsNothing { name: name.to_owned(), mend }, place);
    None
}

/// Width and height; both or the size is not known.
fn size(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Size> {
    let node = answered(pairs, "size")?;
    let whole = format!("the size of {whole}");
    let pairs = reader.record(node, &whole);
    reader.known_keys(pairs, &whole, &["width", "height"]);
    let (width, height) = (side(reader, pairs, "width", &whole), side(reader, pairs, "height", &whole));
    Some(Size { width: width?, height: height? })
}

fn side(reader: &mut Reader<'_>, pairs: Pairs<'_>, key: &str, whole: &str) -> Option<Quantity> {
    let node = answered(pairs, key)?;
    let what = format!("`{key}` of {whole}");
    let side = reader.quantity(node, &what, Dimension::Length)?;
    reader.positive(&side, &what, &node.place).then_some(side)
}

/// The openings; if a part of one is not known, the list as a whole is not.
fn openings(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Vec<Opening>> {
    let nodes = reader.list(pairs, "openings", whole)?;
    let whole = format!("an opening of {whole}");
    let read: Vec<Option<Opening>> = nodes.iter().map(|node| opening(reader, node, &whole)).collect();
    read.into_iter().collect()
}

fn opening(reader: &mut Reader<'_>, node: &Node, whole: &str) -> Option<Opening> {
    let pairs = reader.record(node, whole);
    reader.known_keys(pairs, whole, &["width", "height", "count"]);
    let (width, height) = (side(reader, pairs, "width", whole), side(reader, pairs, "height", whole));
    let counted = value_of(pairs, "count").is_some();
    let count = answered(pairs, "count").and_then(|node| reader.count(node, &format!("`count` of {whole}")));
    let count = if counted { count } else { Some(1) };
    Some(Opening { width: width?, height: height?, count: count? })
}

fn not_coated(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: &str) -> Option<Quantity> {
    let node = answered(pairs, "not-coated")?;
    let what = format!("`not-coated` of {whole}");
    let area = reader.quantity(node, &what, Dimension::Area)?;
    if area.value().is_negative() {
        let (written, range) = (area.written().to_owned(), "0 or more".to_owned());
        reader.mistake(&SurveyMistake::OutOfRange { written, what, range }, &node.place);
        return None;
    }
    Some(area)
}

/// What is taken off the zone must fit into it.
fn check_area(reader: &mut Reader<'_>, zone: &Zone) {
    let Some(size) = &zone.size else { return };
    let mut left = size.width.value() * size.height.value();
    for opening in zone.openings.iter().flatten() {
        left -=
            opening.width.value() * opening.height.value() * BigRational::from_integer(opening.count.into());
    }
    left -= zone.not_coated.as_ref().map_or_else(BigRational::zero, |area| area.value().clone());
    if left.is_negative() {
        let mistake = SurveyMistake::LargerThanZone { code: zone.code.clone() };
        reader.found.push(Diagnostic::error(&mistake, zone.place.clone()));
    }
}
