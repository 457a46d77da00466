//! What stands beside or below a zone, and what it cannot bear. To adjoin goes both ways: a zone that names this one
//! is a neighbour of it too.

use std::collections::BTreeSet;

use super::found::{Found, Worked};
use super::layer::{substrate, title};
use super::site::{Site, Table};
use crate::rulebook::book::{CellValue, ColumnId, Kind, OptionId};
use crate::rulebook::words::spoken;
use crate::survey::{AdjoiningKind, YesNoAnswer, Zone};

/// The column that tells how hard a thing is, softest word first.
pub(super) const HARDNESS: &str = "hardness";

/// What adjoins a zone, as far as it is known.
#[derive(Debug)]
struct Neighbours<'a> {
    zones: Vec<&'a Zone>,
    things: Vec<OptionId>,
    /// What leaves it open.
    missing: Vec<String>,
}

fn neighbours<'a>(site: &Site<'a>) -> Neighbours<'a> {
    let own = site.zone.adjoins.iter().flatten().map(|adjoining| adjoining.kind);
    let named_by = site.survey.zones.iter().enumerate().filter(|(_, zone)| names(zone, site.index));
    let mut indices: BTreeSet<usize> = named_by.map(|(index, _)| index).collect();
    let mut things = Vec::new();
    for kind in own {
        match kind {
            AdjoiningKind::Zone(zone) => _ = indices.insert(zone),
            AdjoiningKind::Thing(thing) => things.push(thing),
        }
    }
    let zones = indices.into_iter().filter_map(|index| site.survey.zones.get(index)).collect();
    let missing = site.zone.adjoins.is_none().then(|| "`adjoins`".to_owned()).into_iter().collect();
    Neighbours { zones, things, missing }
}

fn names(zone: &Zone, index: usize) -> bool {
    let adjoins = zone.adjoins.iter().flatten();
    adjoins.into_iter().any(|adjoining| adjoining.kind == AdjoiningKind::Zone(index))
}

/// Whether a thing adjoins the zone.
pub(super) fn adjoins(site: &Site<'_>, thing: OptionId) -> Worked {
    let around = neighbours(site);
    let title = Table::Neighbours.row(site.book, thing).map(|row| row.title.clone()).unwrap_or_default();
    if around.things.contains(&thing) {
        return Worked::settled(Found::YesNo(YesNoAnswer::Yes), "yes", format!("{title} adjoins"));
    }
    if !around.missing.is_empty() {
        return Worked::open(around.missing);
    }
    let working = format!("{title} is not among what adjoins");
    Worked::settled(Found::YesNo(YesNoAnswer::No), "no", working)
}

/// Whether any neighbour has a property: a thing by its row, a zone by its outermost material.
pub(super) fn any(site: &Site<'_>, things: Option<ColumnId>, materials: Option<ColumnId>) -> Worked {
    let around = neighbours(site);
    let yes = |table: Table, row: OptionId, column: ColumnId| {
        table.cell(site.book, row, column) == Some(&CellValue::YesNo(true))
    };
    let property = things.and_then(|column| Table::Neighbours.column_at(site.book, column));
    let property = property.or_else(|| Table::Materials.column_at(site.book, materials?));
    let property = property.map(|column| column.title.as_str()).unwrap_or_default();
    let mut with: Vec<String> = Vec::new();
    let mut missing = around.missing;
    for thing in around.things {
        if things.is_some_and(|column| yes(Table::Neighbours, thing, column)) {
            with.extend(Table::Neighbours.row(site.book, thing).map(|row| row.title.clone()));
        }
    }
    for zone in around.zones {
        match (substrate(zone), materials) {
            (Some(material), Some(column)) if yes(Table::Materials, material, column) => {
                with.push(format!("{} of zone {}", title(site, material), zone.code));
            }
            (None, Some(_)) => missing.push(format!("`wall` of zone `{}`", zone.code)),
            _ => {}
        }
    }
    if !with.is_empty() {
        let working = format!("{property}: {}", with.join(", "));
        return Worked::settled(Found::YesNo(YesNoAnswer::Yes), "yes", working);
    }
    if !missing.is_empty() {
        return Worked::open(missing);
    }
    Worked::settled(Found::YesNo(YesNoAnswer::No), "no", format!("{property}: no neighbour"))
}

/// The hardness words, softest first.
pub(super) fn hardness_words(book: &crate::rulebook::book::Book) -> Option<&[String]> {
    let column = Table::Materials.column(book, HARDNESS)?;
    match &Table::Materials.column_at(book, column)?.kind {
        Kind::OneOf(words) => Some(words),
        _ => None,
    }
}

/// The hardness of the softest neighbour. What is not known may be softer than what is.
pub(super) fn softest(site: &Site<'_>) -> Worked {
    let Some(scale) = hardness_words(site.book) else { return Worked::open(Vec::new()) };
    let around = neighbours(site);
    let mut missing = around.missing;
    let mut known: Vec<(usize, String)> = Vec::new();
    for thing in around.things {
        let hardness = hardness(site, Table::Neighbours, thing, scale);
        let title = Table::Neighbours.row(site.book, thing).map(|row| row.title.clone()).unwrap_or_default();
        known.extend(hardness.map(|hardness| (hardness, title)));
    }
    for zone in around.zones {
        let Some(material) = substrate(zone) else {
            missing.push(format!("`wall` of zone `{}`", zone.code));
            continue;
        };
        let hardness = hardness(site, Table::Materials, material, scale);
        let title = format!("{} of zone {}", title(site, material), zone.code);
        known.extend(hardness.map(|hardness| (hardness, title)));
    }
    let softest = known.into_iter().min();
    softest_found(scale, softest, missing)
}

fn softest_found(scale: &[String], softest: Option<(usize, String)>, missing: Vec<String>) -> Worked {
    let Some((at, title)) = softest else {
        if missing.is_empty() {
            return Worked::settled(Found::Absent, "none", "no neighbour has a hardness");
        }
        return Worked::open(missing);
    };
    let from = if missing.is_empty() { at } else { 0 };
    let possible: Vec<String> = scale.iter().skip(from).take(at + 1 - from).cloned().collect();
    let shown = possible.iter().map(|word| spoken(word)).collect::<Vec<_>>().join(" or ");
    let working = format!("the softest that adjoins is {title}");
    Worked { missing, ..Worked::settled(Found::Words(possible), shown, working) }
}

fn hardness(site: &Site<'_>, table: Table, row: OptionId, scale: &[String]) -> Option<usize> {
    let column = table.column(site.book, HARDNESS)?;
    match table.cell(site.book, row, column)? {
        CellValue::Words(word) => scale.iter().position(|known| known == word),
        _ => None,
    }
}
