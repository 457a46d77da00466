//! What the elevations draw of a zone, held against what its own size, openings and area not coated say.

use num_rational::BigRational;
use num_traits::Zero;

use super::{Elevation, Patch};
use crate::diagnostic::Place;
use crate::survey::mistake::SurveyMistake;
use crate::survey::model::Zone;
use crate::survey::reader::Reader;
use crate::units::{Dimension, Quantity, System, print};

/// By what part of itself a drawn area may differ from the one that the zone gives: one in twenty. Own choice: sizes on a
/// scaffold are read to a few centimetres.
const EASE: i32 = 20;

/// The areas that all elevations together draw of one zone, in m².
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawn {
    /// With the openings.
    pub wall: BigRational,
    /// Openings; `None` where an elevation that shows the zone does not have them.
    openings: Option<BigRational>,
    /// Not coated, without the openings in it; `None` likewise.
    not_coated: Option<BigRational>,
}

impl Drawn {
    /// Adds up what the elevations draw of a zone; `None` if it is on none.
    pub fn of(elevations: &[Elevation], zone: usize) -> Option<Self> {
        let mut drawn = None;
        for elevation in elevations {
            for (_, patch) in elevation.zones.iter().filter(|(known, _)| *known == zone) {
                let sum = drawn.get_or_insert_with(Self::nothing);
                sum.wall += patch.area();
                let openings = elevation.openings.as_deref();
                sum.openings = added(sum.openings.take(), openings.map(|all| within(all, patch)));
                let bare = elevation.not_coated.as_deref().map(|all| {
                    let pieces = all.iter().filter_map(|place| place.shared(patch));
                    pieces.map(|piece| piece.area() - within(openings.unwrap_or_default(), &piece)).sum()
                });
                sum.not_coated = added(sum.not_coated.take(), bare);
            }
        }
        drawn
    }

    fn nothing() -> Self {
        let none = BigRational::zero();
        Self { wall: none.clone(), openings: Some(none.clone()), not_coated: Some(none) }
    }

    /// Whether all of a zone of this area is drawn.
    pub fn is_whole(&self, told: &BigRational) -> bool {
        !is_less(&self.wall, told)
    }
}

/// The area of places that lies in another.
fn within(places: &[Patch], frame: &Patch) -> BigRational {
    places.iter().filter_map(|place| place.shared(frame)).map(|piece| piece.area()).sum()
}

fn added(sum: Option<BigRational>, more: Option<BigRational>) -> Option<BigRational> {
    Some(sum? + more?)
}

fn is_less(drawn: &BigRational, told: &BigRational) -> bool {
    drawn * BigRational::from_integer(EASE.into()) < told * BigRational::from_integer((EASE - 1).into())
}

fn is_more(drawn: &BigRational, told: &BigRational) -> bool {
    drawn * BigRational::from_integer(EASE.into()) > told * BigRational::from_integer((EASE + 1).into())
}

/// Tells where more is drawn of a zone than it has, or, of a zone that is drawn as a whole, less.
pub(in crate::survey) fn check(
    reader: &mut Reader<'_>,
    zones: &[Zone],
    elevations: &[Elevation],
    system: System,
) {
    for (at, zone) in zones.iter().enumerate() {
        let Some(drawn) = Drawn::of(elevations, at) else { continue };
        let Some(place) = elevations.iter().flat_map(|one| &one.zones).find(|(known, _)| *known == at) else {
            continue;
        };
        let Some(size) = &zone.size else { continue };
        let wall = size.width.value() * size.height.value();
        let is_whole = drawn.is_whole(&wall);
        let openings = zone.openings.as_ref().map(|all| {
            let each = all.iter().map(|one| {
                one.width.value() * one.height.value() * BigRational::from_integer(one.count.into())
            });
            each.sum::<BigRational>()
        });
        let not_coated = zone.not_coated.as_ref().map(|area| area.value().clone());
        let pairs = [
            ("size", Some(drawn.wall), Some(wall)),
            ("openings", drawn.openings, openings),
            ("not-coated", drawn.not_coated, not_coated),
        ];
        for (key, drawn, told) in pairs {
            let Some((drawn, told)) = drawn.zip(told) else { continue };
            if is_more(&drawn, &told) || (is_whole && is_less(&drawn, &told)) {
                tell(reader, (key, &zone.code), (&drawn, &told), (system, &place.1.place));
            }
        }
    }
}

fn tell(
    reader: &mut Reader<'_>,
    (key, code): (&'static str, &str),
    (drawn, told): (&BigRational, &BigRational),
    (system, place): (System, &Place),
) {
    let area = |value: &BigRational| print(&Quantity::from_base(value.clone(), Dimension::Area), system);
    let (drawn, told) = (area(drawn), area(told));
    reader.mistake(&SurveyMistake::DrawnOtherwise { key, code: code.to_owned(), drawn, told }, place);
}
