//! Figures of the wall: the vapour ladder (S3), the condensation profile (R2) and the drying curve, each drawn once for
//! zones whose figures are equal. They compare and never decide.

mod adverse;
mod coats;

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::{drawn, limits};
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{
    CondensationProfile, DryingCoat, DryingCurve, Face, Gathered, Ladder, ProfileCoat, Rung, RungKind,
    condensation_profile, drying_curve, ladder,
};
use crate::physics::Bounds;
use crate::physics::Saturation;
use crate::physics::classes::Edition;
use crate::physics::condensation::{Air, Block};
use crate::rulebook::book::{Bound, EffectKind, LimitValue};
use crate::survey::YesNoAnswer;
use crate::units::{Dimension, Quantity, System, print};
use crate::wall::study::{Conditions, Figure, LayerStudy, Method, SumFound, SumStudy, ZoneStudy};
use coats::{Shown, chosen, compared};

/// The quantity that bounds what may lie outside the face; a book that lacks it gets a ladder without the line.
const COAT_SD: &str = "coat-sd";

/// A wall in numbers, zone by zone.
pub(super) struct Walls<'a> {
    pub(super) view: View<'a>,
    pub(super) zones: Vec<ZoneStudy>,
    pub(super) conditions: Conditions,
}

impl Walls<'_> {
    /// Vapour ladders, for zones with a coat.
    pub(super) fn ladders(&self) -> Vec<Drawing> {
        let make = |data: &Ladder, id, zones| ladder(&Ladder { id, zones, ..data.clone() });
        drawn(self.view, "vapour-ladder", |zone| self.ladder(zone), make)
    }

    /// Condensation profiles, for the same zones.
    pub(super) fn profiles(&self) -> Vec<Drawing> {
        let make = |data: &CondensationProfile, id, zones| {
            condensation_profile(&CondensationProfile { id, zones, ..data.clone() })
        };
        drawn(self.view, "condensation", |zone| self.profile(zone), make)
    }

    /// Drying curves, for the same zones.
    pub(super) fn dryings(&self) -> Vec<Drawing> {
        let make = |data: &DryingCurve, id, zones| drying_curve(&DryingCurve { id, zones, ..data.clone() });
        drawn(self.view, "drying", |zone| self.drying(zone), make)
    }

    fn ladder(&self, zone: usize) -> Option<Ladder> {
        let (view, study) = (self.view, self.zones.get(zone)?);
        let coat = chosen(view, zone, study)?;
        let face = study.face.as_ref().ok()?;
        let mut rungs = Vec::new();
        for layer in study.layers.as_ref().ok()?.iter().rev() {
            let thickness = layer.thickness.as_ref().ok()?.print(view.system());
            let title = format!("{}, {thickness}", layer.title);
            rungs.push(Rung { title, sd: bounds(layer.sd.as_ref().ok()?)?, kind: RungKind::Wall });
        }
        for old in study.coats.as_ref().ok()?.iter().rev().filter(|old| old.kept != YesNoAnswer::No) {
            let sd = bounds(old.sd.as_ref().ok()?)?;
            let (title, sd) = match old.kept {
                YesNoAnswer::Yes => (format!("old {}", old.title), sd),
                _ => (format!("old {}, if it stays", old.title), Bounds::between(0.0, sd.high())?),
            };
            rungs.push(Rung { title, sd, kind: RungKind::OldCoat });
        }
        let own = bounds(&coat.coat.sd)?;
        rungs.push(Rung { title: coat.title.to_owned(), sd: own, kind: RungKind::NewCoat });
        Some(Ladder {
            id: String::new(),
            zones: None,
            rungs,
            face: Face { depth: face.depth.print(view.system()), sd: bounds(&face.sd)? },
            limit: self.most_outside(zone),
            air: self.conditions.air.as_ref().ok()?.low.to_f64()?,
            system: view.system(),
        })
    }

    /// The strictest figure of the book for what may lie outside the face; that of the face itself is drawn anyway.
    fn most_outside(&self, zone: usize) -> Option<f64> {
        let entries = limits(self.view, zone, COAT_SD, Bound::AtMost)?;
        let mut of_book = entries.iter().filter(|entry| {
            let effect = self.view.effect(entry.cause.rule, entry.cause.effect);
            matches!(effect, Some(EffectKind::Limit { value: LimitValue::Literal(_), .. }))
        });
        of_book.next()?.value.value().to_f64()
    }

    fn profile(&self, zone: usize) -> Option<CondensationProfile> {
        let (view, study) = (self.view, self.zones.get(zone)?);
        let block = Block::of(EDITION)?;
        let gathered = |figure: &Figure| {
            let most = Figure::exactly(figure.dimension, figure.high.clone());
            Some(Gathered { kilograms: figure.high.to_f64()?, words: most.print(view.system()) })
        };
        let coats = self.compared(zone, |shown, sd| {
            let found = of_edition(&shown.coat.sums)?;
            Some(ProfileCoat {
                title: shown.title.to_owned(),
                sd,
                gathered: gathered(&found.condensed)?,
                more: gathered(&found.increment)?,
                standing: shown.standing,
            })
        })?;
        let kept = study.kept_sd.as_ref().ok()?.high.to_f64()?;
        let layers = study.layers.as_ref().ok()?;
        let title = |layer: &LayerStudy| {
            Some(format!("{}, {}", layer.title, layer.thickness.as_ref().ok()?.print(view.system())))
        };
        let titles = layers.iter().map(title).collect::<Option<Vec<_>>>()?;
        let outside: Vec<f64> = std::iter::once(kept).chain(coats.iter().map(|coat| coat.sd)).collect();
        Some(CondensationProfile {
            id: String::new(),
            zones: None,
            layers: adverse::layers(layers, &titles, &outside, &block)?,
            kept,
            gathered: gathered(&of_edition(&study.as_it_stands)?.condensed)?,
            coats,
            surfaces: block.surfaces,
            outside: block.outside,
            inside: block.inside,
            climate: climate(&block, view.system())?,
        })
    }

    fn drying(&self, zone: usize) -> Option<DryingCurve> {
        let (view, study) = (self.view, self.zones.get(zone)?);
        let face = study.face.as_ref().ok()?;
        let depth = face.depth.low.to_f64()?;
        Some(DryingCurve {
            id: String::new(),
            zones: None,
            depth,
            depth_words: face.depth.print(view.system()),
            mu: (face.sd.low.to_f64()? / depth).max(1.0),
            boundary: self.conditions.boundary.as_ref().ok()?.low.to_f64()?,
            coats: self.compared(zone, |shown, sd| {
                Some(DryingCoat { title: shown.title.to_owned(), sd, standing: shown.standing })
            })?,
        })
    }

    /// The coats to compare where one was chosen, each with the tight end of everything outside the masonry.
    fn compared<T>(&self, zone: usize, made: impl Fn(&Shown<'_>, f64) -> Option<T>) -> Option<Vec<T>> {
        let study = self.zones.get(zone)?;
        chosen(self.view, zone, study)?;
        let coats = compared(self.view, zone, study);
        let made = coats.iter().map(|shown| made(shown, shown.coat.total_sd.as_ref().ok()?.high.to_f64()?));
        made.collect::<Option<Vec<T>>>().filter(|coats| !coats.is_empty())
    }
}

/// The sum that the profile shows.
const EDITION: Edition = Edition::Of2018;

fn bounds(figure: &Figure) -> Option<Bounds> {
    figure.ends().and_then(|(low, high)| Bounds::between(low, high))
}

/// What the sum that is shown finds.
fn of_edition(sums: &[SumStudy]) -> Option<&SumFound> {
    sums.iter().find(|sum| sum.method == Method::Din4108(EDITION))?.found.as_ref().ok()
}

/// The airs of the winter, in words.
fn climate(block: &Block, system: System) -> Option<String> {
    let side = |air: &Air| {
        let most = Saturation::Iso13788.pressure(air.celsius())?;
        let whole = |value: f64| BigRational::from_float(value.round());
        let temperature = Quantity::from_base(whole(air.celsius())?, Dimension::Temperature);
        let humidity = Quantity::from_base(whole(100.0 * air.pressure() / most)?, Dimension::Percent);
        Some(format!("{} and {}", print(&temperature, system), print(&humidity, system)))
    };
    let (outside, inside) = (side(&block.outside)?, side(&block.inside)?);
    Some(format!("Winter of {}: {outside} outside, {inside} inside", EDITION.name()))
}
