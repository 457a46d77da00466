//! How far a coat goes. The arithmetic of solids and films holds for coats that form a film; lime and silicate soak in
//! and convert, so that only a trial area tells their consumption, and films that hold air are thicker than solids say.
//!
//! Bases: film thickness in m, spread in m²/m³, area in m², volume in m³; shares of one, not per cent.

use num_rational::BigRational;
use num_traits::{One, Signed};

/// `spread = VS / DFT`, in m²/m³: the area that a volume covers without loss. For solids by volume VS as a share above
/// 0 and up to 1, dry film above zero. Source, published: the geometry of ISO 23811; 1604.17 sq ft·mil/gal.
///
/// ```
/// # use perpend::physics::theoretical_spread;
/// # use perpend::units::{Dimension, Quantity};
/// # use num_rational::BigRational;
/// # use num_traits::ToPrimitive;
/// // Published check F03: 35 % solids at 2 mil cover 280.73 sq ft/gal, within 0.05.
/// let film = Quantity::parse("2 mil", Dimension::Length)?;
/// let spread = theoretical_spread(&BigRational::new(35.into(), 100.into()), film.value()).unwrap();
/// let one = Quantity::parse("1 sq ft/gal", Dimension::Spread)?;
/// assert!(((spread / one.value()).to_f64().unwrap() - 280.73).abs() < 0.05);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn theoretical_spread(solids: &BigRational, dry_film: &BigRational) -> Option<BigRational> {
    (is_share(solids) && dry_film.is_positive()).then(|| solids / dry_film)
}

/// `DFT = VS / spread`, in m. As [`theoretical_spread`], turned round; the spread above zero.
///
/// ```
/// # use perpend::physics::dry_film;
/// # use num_rational::BigRational;
/// // Published check F12, turned round: 45 % solids at 4.5 m²/L leave 100 µm.
/// let film = dry_film(&BigRational::new(45.into(), 100.into()), &BigRational::from_integer(4500.into()));
/// assert_eq!(film, Some(BigRational::new(1.into(), 10_000.into())));
/// ```
pub fn dry_film(solids: &BigRational, spread: &BigRational) -> Option<BigRational> {
    (is_share(solids) && spread.is_positive()).then(|| solids / spread)
}

/// `WFT = DFT (1 + thinner) / VS`, in m: the wet film that leaves a dry one. For VS as a share above 0 and up to 1, the
/// thinner as a share of the volume of paint and the film not below zero. Source, published.
///
/// ```
/// # use perpend::physics::wet_film;
/// # use num_rational::BigRational;
/// // Published check F14: 2.8 with 35 % solids and 10 % thinner is a wet film of 8.8, in any unit.
/// let share = |hundredths: i32| BigRational::new(hundredths.into(), 100.into());
/// assert_eq!(wet_film(&share(280), &share(35), &share(10)), Some(share(880)));
/// ```
pub fn wet_film(dry_film: &BigRational, solids: &BigRational, thinner: &BigRational) -> Option<BigRational> {
    let sound = is_share(solids) && !thinner.is_negative() && !dry_film.is_negative();
    sound.then(|| dry_film * (BigRational::one() + thinner) / solids)
}

/// `WFT = 1 / spread`, in m: the wet film of a spread, evenly laid on a flat face. For a spread above zero. Source: a
/// volume is its area times its thickness.
///
/// ```
/// # use perpend::physics::wet_film_at;
/// # use num_rational::BigRational;
/// // 8 m²/L is a wet film of 125 µm.
/// let spread = BigRational::from_integer(8000.into());
/// assert_eq!(wet_film_at(&spread), Some(BigRational::new(125.into(), 1_000_000.into())));
/// ```
pub fn wet_film_at(spread: &BigRational) -> Option<BigRational> {
    spread.is_positive().then(|| spread.recip())
}

/// `V = A k / (spread (1 - loss))`, in m³. For an area not below zero, its real to its projected area k not below 1,
/// a spread above zero, a loss as a share from 0 to below 1. Dividing by what is left is right; multiplying by one
/// and the loss is not. Source: common practice.
///
/// ```
/// # use perpend::physics::practical_volume;
/// # use num_rational::BigRational;
/// // Published check F19: 120 m² of factor 1.2 at 8 m²/L with a loss of 10 % take 20.00 L.
/// let number = |tenths: i32| BigRational::new(tenths.into(), 10.into());
/// let volume = practical_volume(&number(1200), &number(12), &number(80_000), &number(1));
/// assert_eq!(volume, Some(BigRational::new(20.into(), 1000.into())));
/// ```
pub fn practical_volume(
    area: &BigRational,
    texture: &BigRational,
    spread: &BigRational,
    loss: &BigRational,
) -> Option<BigRational> {
    let one = BigRational::one();
    let kept = &one - loss;
    let sound = !area.is_negative() && *texture >= one && spread.is_positive();
    let loss_is_a_share = !loss.is_negative() && kept.is_positive();
    (sound && loss_is_a_share).then(|| area * texture / (spread * kept))
}

/// The sizes of a wall of equal units, all in m: what its coursing adds to its area.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coursing {
    /// Length of a unit, above zero.
    pub length: BigRational,
    /// Height of a unit, above zero.
    pub height: BigRational,
    /// Width of the joints, not below zero.
    pub joint: BigRational,
    /// How far the joints lie behind the face, not below zero; zero where they are flush.
    pub recess: BigRational,
}

impl Coursing {
    /// The real to the projected area of square-edged units: `k = 1 + 2 e (l + h) / ((l + j)(h + j))`, for each unit
    /// stands out of its joints by its four narrow sides. `None` outside the ranges of the sizes. Source, derived;
    /// common practice gives 1.1 to 1.3 for brick with joints.
    ///
    /// ```
    /// # use perpend::physics::Coursing;
    /// # use num_rational::BigRational;
    /// // Worked by hand: 240 by 71 mm with joints of 10 mm raked 6 mm: 1 + 2·6·311 / (250·81) = 1.18430.
    /// let millimetres = |figure: i32| BigRational::new(figure.into(), 1000.into());
    /// let brick = Coursing {
    ///     length: millimetres(240),
    ///     height: millimetres(71),
    ///     joint: millimetres(10),
    ///     recess: millimetres(6),
    /// };
    /// let expected = BigRational::new((250 * 81 + 12 * 311).into(), (250 * 81).into());
    /// assert_eq!(brick.texture(), Some(expected));
    /// ```
    pub fn texture(&self) -> Option<BigRational> {
        let units = self.length.is_positive() && self.height.is_positive();
        let joints = !self.joint.is_negative() && !self.recess.is_negative();
        let sides = BigRational::from_integer(2.into()) * &self.recess * (&self.length + &self.height);
        let cell = (&self.length + &self.joint) * (&self.height + &self.joint);
        (units && joints).then(|| BigRational::one() + sides / cell)
    }
}

fn is_share(share: &BigRational) -> bool {
    share.is_positive() && *share <= BigRational::one()
}
