//! At how many places a test is made: in words, and counted for a zone.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::view::View;
use crate::rulebook::book::FactId;
use crate::rulebook::clause::Places;
use crate::units::{Dimension, print};
use crate::wall::net_area;

impl View<'_> {
    /// `1 place per 20 m² (215 sq ft), not less than 5 in each zone`.
    pub(super) fn places(self, places: &Places) -> String {
        let name = match (&places.per, places.least) {
            (Some(_), 1) => "place-per",
            (Some(_), _) => "place-each",
            (None, 1) => "place-one",
            (None, _) => "place-several",
        };
        let per = places.per.as_ref().map(|per| print(per, self.system())).unwrap_or_default();
        self.words.of(name).replace("{per}", &per).replace("{least}", &places.least.to_string())
    }

    /// The number of places in a zone, from the larger end of its net area or from its width; the least number where
    /// neither is known.
    pub(super) fn count(self, zone: usize, places: &Places) -> usize {
        let counted = places.per.as_ref().and_then(|per| {
            let size = match per.dimension() {
                Dimension::Length => self.survey.zones.get(zone)?.size.as_ref()?.width.value().clone(),
                _ => self.net_area(zone)?.1,
            };
            (size / per.value()).ceil().to_integer().to_usize()
        });
        let least = usize::try_from(places.least).unwrap_or(usize::MAX);
        counted.unwrap_or(least).max(least)
    }

    /// The net area of a zone in m², both ends.
    pub(super) fn net_area(self, zone: usize) -> Option<(BigRational, BigRational)> {
        net_area(self.survey.zones.get(zone)?)
    }

    pub(super) fn fact_named(self, name: &str) -> Option<FactId> {
        self.book.facts.iter().position(|fact| fact.name == name).map(FactId)
    }
}
