//! Whether the layers of a wall can stand in the order in which they are listed, from outside to inside, by the role
//! that the book gives each material.

use super::mistake::SurveyMistake;
use super::model::Layer;
use super::reader::Reader;
use crate::diagnostic::Diagnostic;
use crate::rulebook::book::{Book, CatalogueOption, CellValue};

/// The roles of the column `role` in `materials`.
const MASONRY: &str = "masonry";
const RENDER: &str = "render";
const PLASTER: &str = "plaster";

/// A layer with what the book says of its material.
struct Placed<'a> {
    layer: &'a Layer,
    title: &'a str,
    role: &'a str,
}

/// Notes plaster on the outside, render on the inside, and render between two leaves. Says nothing where the book gives
/// no roles.
pub(super) fn check(reader: &mut Reader<'_>, layers: &[Layer]) {
    let placed: Vec<Placed<'_>> = layers.iter().filter_map(|layer| placed(reader.book, layer)).collect();
    let mut found = Vec::new();
    for (place, here) in placed.iter().enumerate() {
        let outside = placed.get(..place).unwrap_or_default();
        let inside = placed.get(place + 1..).unwrap_or_default();
        found.extend(mistake(here, outside, inside));
    }
    reader.found.append(&mut found);
}

fn placed<'a>(book: &'a Book, layer: &'a Layer) -> Option<Placed<'a>> {
    let materials = book.catalogue_named("materials")?;
    let row: &CatalogueOption = materials.options.get(layer.material.0)?;
    match &row.cells.get(materials.column("role")?.0)?.value {
        CellValue::Words(role) => Some(Placed { layer, title: &row.title, role }),
        _ => None,
    }
}

fn mistake(here: &Placed<'_>, outside: &[Placed<'_>], inside: &[Placed<'_>]) -> Option<Diagnostic> {
    let masonry = |layers: &[Placed<'_>]| layers.iter().any(|layer| layer.role == MASONRY);
    let title = here.title.to_owned();
    match here.role {
        PLASTER => {
            let behind = inside.iter().find(|layer| layer.role != PLASTER).filter(|_| !masonry(outside))?;
            let mistake = SurveyMistake::PlasterOutside { outer: title, inner: behind.title.to_owned() };
            Some(Diagnostic::error(&mistake, here.layer.place.clone()))
        }
        RENDER if masonry(outside) && masonry(inside) => {
            let mistake = SurveyMistake::BuiltOver { render: title };
            Some(Diagnostic::remark(&mistake, here.layer.place.clone()))
        }
        RENDER => {
            let outer = outside.iter().rfind(|layer| layer.role == MASONRY)?;
            let mistake = SurveyMistake::RenderInside { render: title, outer: outer.title.to_owned() };
            Some(Diagnostic::error(&mistake, here.layer.place.clone()))
        }
        _ => None,
    }
}
