//! The drawings of the owner's sheet: the wall cut away (O1), and the signs to watch for (O2).

use num_traits::ToPrimitive;

use super::{grouped, zones_words};
use crate::document::papers::Desk;
use crate::document::section::required;
use crate::document::site::{Chosen, chosen};
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{CutAway, CutLayer, Finish, Foot, Sign, cut_away, signs};
use crate::rulebook::book::CellValue;
use crate::survey::{Layer, Span, YesNoAnswer};

/// Names that the program knows; a book that lacks one gets a drawing without it.
const FOOT: &str = "foot-of-wall";
const ROLE: &str = "role";
const MASONRY: &str = "masonry";

/// What the sheet's wall has in common for its zones.
#[derive(PartialEq)]
struct Wall {
    layers: Vec<CutLayer>,
    finish: Finish,
    foot: Foot,
}

/// The wall of which there is most on the job.
pub(super) fn wall(desk: Desk<'_>) -> Option<Drawing> {
    let groups = grouped(desk.view, |zone| wall_of(desk, zone));
    let area = |zones: &[usize]| -> f64 {
        let known = zones.iter().filter_map(|zone| desk.view.net_area(*zone)?.1.to_f64());
        known.sum()
    };
    let largest = groups.iter().rev().max_by(|one, other| area(&one.0).total_cmp(&area(&other.0)));
    let (zones, wall) = largest?;
    cut_away(&CutAway {
        id: "cut-away-1".to_owned(),
        zones: zones_words(desk.view, zones),
        layers: wall.layers.clone(),
        finish: wall.finish.clone(),
        foot: wall.foot,
    })
}

fn wall_of(desk: Desk<'_>, zone: usize) -> Option<Wall> {
    let view = desk.view;
    let surveyed = view.survey.zones.get(zone)?;
    let layers: Option<Vec<CutLayer>> =
        surveyed.wall.as_ref()?.iter().map(|layer| cut_layer(desk, layer)).collect();
    let mut layers = layers?;
    let kept = surveyed.coats.iter().flatten().filter(|coat| coat.kept == YesNoAnswer::Yes);
    let families = view.book.catalogue_named("old-coats");
    let kept = kept.filter_map(|coat| Some(format!("old {}", families?.options.get(coat.family.0)?.title)));
    let kept = kept.map(|title| CutLayer { title, pattern: crate::drawing::Pattern::Plain, share: None });
    layers.splice(0..0, kept.collect::<Vec<_>>());
    let finish = match chosen(view, &desk.templates.site, zone) {
        Some(Chosen::Coat(slot, option)) if view.is_open(zone, slot) => {
            Finish::Coat(format!("{}, not yet settled", view.option_title(slot, option)))
        }
        Some(Chosen::Coat(slot, option)) => Finish::Coat(view.option_title(slot, option)),
        Some(Chosen::Bare(..)) => Finish::Bare,
        None => Finish::Open,
    };
    let is_foot = view.fact_named(FOOT).is_some_and(|fact| view.shown(zone, fact) == view.words.of("yes"));
    Some(Wall { layers, finish, foot: if is_foot { Foot::Ground } else { Foot::Above } })
}

fn cut_layer(desk: Desk<'_>, layer: &Layer) -> Option<CutLayer> {
    let materials = desk.view.book.catalogue_named("materials")?;
    let row = materials.options.get(layer.material.0)?;
    let is_masonry = materials.column(ROLE).is_some_and(|column| {
        row.cells
            .get(column.0)
            .is_some_and(|cell| matches!(&cell.value, CellValue::Words(role) if role == MASONRY))
    });
    let thickness = layer.thickness.as_ref().and_then(|span: &Span| span.high.value().to_f64());
    Some(CutLayer {
        title: row.title.clone(),
        pattern: desk.templates.likeness.pattern(&row.name),
        share: is_masonry.then(|| thickness.unwrap_or(1.0)),
    })
}

/// The signs whose clauses the job has.
pub(super) fn shown_signs(desk: Desk<'_>) -> Option<Drawing> {
    let required = required(desk.view);
    let view: View<'_> = desk.view;
    let shown = desk.templates.likeness.signs.iter().filter_map(|(name, shape)| {
        let clauses = required.iter().filter_map(|id| view.book.clauses.get(id.0));
        let clause = clauses.into_iter().find(|clause| clause.name == *name)?;
        Some(Sign { shape: *shape, title: clause.subject.clone() })
    });
    signs("signs-1", &shown.collect::<Vec<_>>())
}
