//! Figures of the wall: the vapour ladder (S3), the condensation profile (R2) and the drying curve, each drawn once for
//! zones whose figures are equal. They compare and never decide.

mod adverse;
mod coats;
pub(super) mod numbers;

use num_traits::ToPrimitive;

use super::{drawn, limits};
use crate::document::view::View;
use crate::drawing::Drawing;
use crate::drawing::chart::{
    CondensationProfile, DryingCurve, Ladder, condensation_profile, drying_curve, ladder,
};
use crate::rulebook::book::{Bound, EffectKind, LimitValue};
use crate::wall::study::{Conditions, ZoneStudy};
use coats::{chosen, compared};
use numbers::Shown;

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
        let study = self.zones.get(zone)?;
        let coat = chosen(self.view, zone, study)?;
        let ladder = numbers::ladder(study, &[coat], &self.conditions, self.view.system())?;
        Some(Ladder { limit: self.most_outside(zone), ..ladder })
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
        let study = self.zones.get(zone)?;
        numbers::profile(study, &self.compared(zone)?, self.view.system())
    }

    fn drying(&self, zone: usize) -> Option<DryingCurve> {
        let study = self.zones.get(zone)?;
        numbers::drying(study, &self.compared(zone)?, &self.conditions, self.view.system())
    }

    /// The coats to compare, in a zone where one was chosen.
    fn compared(&self, zone: usize) -> Option<Vec<Shown<'_>>> {
        let study = self.zones.get(zone)?;
        chosen(self.view, zone, study).map(|_| compared(self.view, zone, study))
    }
}
