//! Reads elevations.

use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive};

use super::{Elevation, METRE, Micrometres, Patch};
use crate::diagnostic::{Diagnostic, Place};
use crate::survey::mistake::SurveyMistake;
use crate::survey::reader::{Pairs, Reader, answered, did_you_mean};
use crate::units::{Dimension, Quantity, print_once};
use crate::yaml::Node;

/// The longest side, in m: a longer one is a slip in the unit.
const LONGEST: i32 = 1000;

/// What nobody measured to a millimetre may reach that far over.
const HAIR: Micrometres = 1000;

const WHY_SIDE: &str = "the elevation is drawn from it; leave the elevation out until it is measured";
const WHY_PATCH: &str =
    "it says where to draw it, from the left edge and up from the foot, seen from outside";

/// The elevations; `codes` are those of all zones as written.
pub(in crate::survey) fn read(reader: &mut Reader<'_>, pairs: Pairs<'_>, codes: &[String]) -> Vec<Elevation> {
    let nodes = reader.list(pairs, "elevations", "the survey").unwrap_or_default();
    let mut known: Vec<String> = Vec::new();
    let elevations = nodes.iter().filter_map(|node| elevation(reader, node, codes, &mut known));
    elevations.collect()
}

fn elevation(
    reader: &mut Reader<'_>,
    node: &Node,
    codes: &[String],
    known: &mut Vec<String>,
) -> Option<Elevation> {
    const WHOLE: &str = "an elevation";
    let pairs = reader.record(node, WHOLE);
    reader.known_keys(pairs, WHOLE, &["code", "name", "width", "height", "openings", "not-coated", "zones"]);
    let at = (WHOLE, &node.place);
    let code = reader.required(pairs, "code", at, "the documents name the elevation by it");
    let code = code.and_then(|node| own_code(reader, node, known));
    let whole = code.as_ref().map_or_else(|| WHOLE.to_owned(), |code| format!("elevation `{code}`"));
    let at = (whole.as_str(), &node.place);
    let name = reader.required_text(pairs, "name", at, "it says in words which side is meant");
    let width = side(reader, pairs, "width", at, WHY_SIDE);
    let height = side(reader, pairs, "height", at, WHY_SIDE);
    let openings = patches(reader, pairs, "openings", &whole);
    let not_coated = patches(reader, pairs, "not-coated", &whole);
    let zones = zones(reader, pairs, at, codes);
    let elevation = Elevation {
        code: code?,
        name: name?,
        width: width?,
        height: height?,
        openings,
        not_coated,
        zones: zones?,
        place: node.place.clone(),
    };
    check(reader, &elevation);
    Some(elevation)
}

fn own_code(reader: &mut Reader<'_>, node: &Node, known: &mut Vec<String>) -> Option<String> {
    let code = reader.code(node, "the code of the elevation")?;
    if known.contains(&code) {
        reader.mistake(&SurveyMistake::ElevationTwice { code: code.clone() }, &node.place);
    }
    known.push(code.clone());
    Some(code)
}

/// A side that must be there: more than nothing, and no longer than a building.
fn side(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    key: &'static str,
    whole: (&str, &Place),
    why: &'static str,
) -> Option<Quantity> {
    let side = length(reader, pairs, key, whole, why)?;
    let node = answered(pairs, key)?;
    reader.positive(&side, &format!("`{key}` of {}", whole.0), &node.place).then_some(side)
}

/// A length from nothing up to the longest.
fn length(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    key: &'static str,
    whole: (&str, &Place),
    why: &'static str,
) -> Option<Quantity> {
    let node = reader.required(pairs, key, whole, why)?;
    let what = format!("`{key}` of {}", whole.0);
    let length = reader.quantity(node, &what, Dimension::Length)?;
    if !length.value().is_negative() && *length.value() <= BigRational::from_integer(LONGEST.into()) {
        return Some(length);
    }
    let (written, range) = (length.written().to_owned(), "from 0 to 1000 m".to_owned());
    reader.mistake(&SurveyMistake::OutOfRange { written, what, range }, &node.place);
    None
}

/// Places; if one cannot be read, a mistake has been told.
fn patches(reader: &mut Reader<'_>, pairs: Pairs<'_>, key: &str, whole: &str) -> Option<Vec<Patch>> {
    const KEYS: [&str; 4] = ["from-left", "from-base", "width", "height"];
    let nodes = reader.list(pairs, key, whole)?;
    let whole = format!("a place under `{key}` of {whole}");
    let read = nodes.iter().filter_map(|node| {
        let pairs = reader.record(node, &whole);
        reader.known_keys(pairs, &whole, &KEYS);
        patch(reader, pairs, (&whole, &node.place))
    });
    Some(read.collect())
}

fn zones(
    reader: &mut Reader<'_>,
    pairs: Pairs<'_>,
    at: (&str, &Place),
    codes: &[String],
) -> Option<Vec<(usize, Patch)>> {
    const KEYS: [&str; 5] = ["zone", "from-left", "from-base", "width", "height"];
    reader.required(pairs, "zones", at, "it says where on the elevation each zone lies")?;
    let nodes = reader.list(pairs, "zones", at.0)?;
    let whole = format!("a place under `zones` of {}", at.0);
    let read = nodes.iter().filter_map(|node| {
        let pairs = reader.record(node, &whole);
        reader.known_keys(pairs, &whole, &KEYS);
        let at = (whole.as_str(), &node.place);
        let zone = reader.required(pairs, "zone", at, "it names the zone by its code");
        let zone = zone.and_then(|node| zone_named(reader, node, codes));
        let patch = patch(reader, pairs, at);
        Some((zone?, patch?))
    });
    Some(read.collect())
}

fn zone_named(reader: &mut Reader<'_>, node: &Node, codes: &[String]) -> Option<usize> {
    let code = reader.text(node, "a zone")?;
    let zone = codes.iter().position(|known| *known == code);
    if zone.is_none() {
        let mend = did_you_mean(&code, codes.iter().map(String::as_str));
        reader.mistake(&SurveyMistake::NoSuchZone { code, mend }, &node.place);
    }
    zone
}

fn patch(reader: &mut Reader<'_>, pairs: Pairs<'_>, whole: (&str, &Place)) -> Option<Patch> {
    let left = length(reader, pairs, "from-left", whole, WHY_PATCH);
    let base = length(reader, pairs, "from-base", whole, WHY_PATCH);
    let width = side(reader, pairs, "width", whole, WHY_PATCH);
    let height = side(reader, pairs, "height", whole, WHY_PATCH);
    Some(Patch {
        left: micrometres(&left?)?,
        base: micrometres(&base?)?,
        width: micrometres(&width?)?,
        height: micrometres(&height?)?,
        place: whole.1.clone(),
    })
}

/// The nearest micrometre.
fn micrometres(length: &Quantity) -> Option<Micrometres> {
    (length.value() * BigRational::from_integer(METRE.into())).round().to_i64()
}

/// Everything lies on the elevation, and no two things of a kind in one place.
fn check(reader: &mut Reader<'_>, elevation: &Elevation) {
    let openings: Vec<&Patch> = elevation.openings.iter().flatten().collect();
    let not_coated: Vec<&Patch> = elevation.not_coated.iter().flatten().collect();
    let zones: Vec<&Patch> = elevation.zones.iter().map(|(_, patch)| patch).collect();
    let kinds = [
        ("an opening", "two openings", openings),
        ("a place not coated", "two places not coated", not_coated),
        ("the place of a zone", "the places of two zones", zones),
    ];
    for (one, two, patches) in kinds {
        for patch in &patches {
            outside(reader, elevation, patch, one);
        }
        for (at, patch) in patches.iter().enumerate() {
            let before = patches.iter().take(at);
            let Some(other) = before.into_iter().find(|other| overlaps(patch, other)) else { continue };
            let mistake = SurveyMistake::DrawnTwice { what: two, code: elevation.code.clone() };
            let diagnostic = Diagnostic::error(&mistake, patch.place.clone());
            reader.found.push(diagnostic.and(other.place.clone(), "the other is here"));
        }
    }
}

fn overlaps(one: &Patch, other: &Patch) -> bool {
    one.shared(other).is_some_and(|both| both.width > HAIR && both.height > HAIR)
}

/// Tells how far a place reaches over an edge.
fn outside(reader: &mut Reader<'_>, elevation: &Elevation, patch: &Patch, what: &'static str) {
    let (Some(width), Some(height)) = (micrometres(&elevation.width), micrometres(&elevation.height)) else {
        return;
    };
    let edges = [("right edge", patch.right() - width), ("top", patch.top() - height)];
    for (edge, over) in edges.into_iter().filter(|(_, over)| *over > HAIR) {
        let over = BigRational::new(over.into(), METRE.into());
        let over = print_once(&Quantity::from_base(over, Dimension::Length));
        let code = elevation.code.clone();
        reader.mistake(&SurveyMistake::OutsideElevation { what, code, over, edge }, &patch.place);
    }
}
