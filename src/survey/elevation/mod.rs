//! The elevations of a survey: how wide and high each is, and where on it the openings, the zones and the places without
//! a coat lie. They are drawn from, and nothing is decided by them: areas follow from the sizes of the zones, and what
//! is drawn of a zone is held against those.

mod agree;
mod read;

use num_rational::BigRational;

use crate::diagnostic::Place;
use crate::units::Quantity;

pub use agree::Drawn;
pub(super) use agree::check;
pub(super) use read::read;

/// A millionth of a metre. Whole numbers, so that places compare exactly.
type Micrometres = i64;

/// Micrometres in a metre.
const METRE: i32 = 1_000_000;

/// One face of the building, seen from outside.
#[derive(Clone, Debug)]
pub struct Elevation {
    /// Code, such as `W`.
    pub code: String,
    /// Name.
    pub name: String,
    /// Width.
    pub width: Quantity,
    /// Height.
    pub height: Quantity,
    /// Its openings; `None` when nobody measured where they are.
    pub openings: Option<Vec<Patch>>,
    /// Places inside zones that are never coated; `None` when nobody measured where they are.
    pub not_coated: Option<Vec<Patch>>,
    /// Places of zones, each with the index of its zone.
    pub zones: Vec<(usize, Patch)>,
    /// Where it stands.
    pub place: Place,
}

/// A level rectangle on an elevation.
#[derive(Clone, Debug)]
pub struct Patch {
    left: Micrometres,
    base: Micrometres,
    width: Micrometres,
    height: Micrometres,
    /// Where it stands.
    pub place: Place,
}

impl Patch {
    /// From the left edge of the elevation to its own, in m.
    pub fn left(&self) -> f64 {
        metres(self.left)
    }

    /// From the foot of the elevation up to its own, in m.
    pub fn base(&self) -> f64 {
        metres(self.base)
    }

    /// Width, in m.
    pub fn width(&self) -> f64 {
        metres(self.width)
    }

    /// Height, in m.
    pub fn height(&self) -> f64 {
        metres(self.height)
    }

    fn right(&self) -> Micrometres {
        self.left + self.width
    }

    fn top(&self) -> Micrometres {
        self.base + self.height
    }

    /// What two share; `None` where they lie apart.
    fn shared(&self, other: &Self) -> Option<Self> {
        let (left, base) = (self.left.max(other.left), self.base.max(other.base));
        let width = self.right().min(other.right()) - left;
        let height = self.top().min(other.top()) - base;
        let place = self.place.clone();
        (width > 0 && height > 0).then_some(Self { left, base, width, height, place })
    }

    /// Its area, in m².
    fn area(&self) -> BigRational {
        let square = i128::from(METRE) * i128::from(METRE);
        BigRational::new((i128::from(self.width) * i128::from(self.height)).into(), square.into())
    }
}

#[expect(clippy::cast_precision_loss, reason = "no side is longer than a kilometre")]
fn metres(length: Micrometres) -> f64 {
    length as f64 / f64::from(METRE)
}
