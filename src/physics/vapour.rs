//! How layers hold back vapour: permeance, permeability, µ and equivalent air layer, one into the other and in
//! series. Steady state, one temperature; a figure tested dry is not one tested wet.
//!
//! Bases: permeance W in ng/(Pa·s·m²), permeability δ in ng/(Pa·s·m), equivalent air layer sd and thickness d in m,
//! vapour flow V in g/(m²·d), pressures in Pa. A formula has no answer (`None`) outside its range.

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::air::StillAir;

/// `sd = δ_air / W`, in m. For W above zero. Source, published: the relation in ISO 13788 and EN ISO 7783.
///
/// ```
/// # use perpend::physics::{StillAir, sd_from_permeance};
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check U21: 1 perm is 3.4957 m at 2.0e-10 kg/(m·s·Pa), within 0.1 %.
/// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
/// let sd = sd_from_permeance(perm.value(), &StillAir::DESIGN).unwrap().to_f64().unwrap();
/// assert!((sd / 3.4957 - 1.0).abs() < 0.001);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn sd_from_permeance(permeance: &BigRational, air: &StillAir) -> Option<BigRational> {
    quotient(&air.permeability(), permeance)
}

/// `W = δ_air / sd`, in ng/(Pa·s·m²). For sd above zero. Source: as [`sd_from_permeance`].
///
/// ```
/// # use perpend::physics::{StillAir, permeance_from_sd};
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check U54: an equivalent air layer of 0.14 m is 24.969 perm at 2.0e-10, within 0.1 %.
/// let sd = Quantity::parse("0.14 m", Dimension::Length)?;
/// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
/// let permeance = permeance_from_sd(sd.value(), &StillAir::DESIGN).unwrap() / perm.value();
/// assert!((permeance.to_f64().unwrap() / 24.969 - 1.0).abs() < 0.001);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn permeance_from_sd(sd: &BigRational, air: &StillAir) -> Option<BigRational> {
    quotient(&air.permeability(), sd)
}

/// `sd = µ d`, in m. For µ and d not below zero. Source, published: the relation in ISO 13788.
///
/// ```
/// # use perpend::physics::sd_from_mu;
/// # use num_rational::BigRational;
/// // Reference, section 4: a wall of 12 in. with µ 10 has sd 3.05 m (derived there; 0.3048 m times 10).
/// let sd = sd_from_mu(&BigRational::from_integer(10.into()), &BigRational::new(3048.into(), 10_000.into()));
/// assert_eq!(sd, Some(BigRational::new(3048.into(), 1000.into())));
/// ```
pub fn sd_from_mu(mu: &BigRational, thickness: &BigRational) -> Option<BigRational> {
    (!mu.is_negative() && !thickness.is_negative()).then(|| mu * thickness)
}

/// `µ = δ_air / δ`. For δ above zero. Source, published: the relation in ISO 13788.
///
/// ```
/// # use perpend::physics::{StillAir, mu_from_permeability};
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check B03: 22 perm-in. is µ 6.256 at 2.0e-10, within 0.2 %.
/// let brick = Quantity::parse("22 perm-in", Dimension::Permeability)?;
/// let mu = mu_from_permeability(brick.value(), &StillAir::DESIGN).unwrap().to_f64().unwrap();
/// assert!((mu / 6.256 - 1.0).abs() < 0.002);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn mu_from_permeability(permeability: &BigRational, air: &StillAir) -> Option<BigRational> {
    quotient(&air.permeability(), permeability)
}

/// `δ = δ_air / µ`, in ng/(Pa·s·m). For µ above zero. Source: as [`mu_from_permeability`].
///
/// ```
/// # use perpend::physics::{StillAir, permeability_from_mu};
/// # use perpend::units::{Dimension, Quantity};
/// # use num_rational::BigRational;
/// # use num_traits::ToPrimitive;
/// // Published check B05: µ 10 is 13.76 perm-in. at 2.0e-10, within 0.3 %.
/// let one = Quantity::parse("1 perm-in", Dimension::Permeability)?;
/// let brick = permeability_from_mu(&BigRational::from_integer(10.into()), &StillAir::DESIGN).unwrap();
/// assert!(((brick / one.value()).to_f64().unwrap() / 13.76 - 1.0).abs() < 0.003);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn permeability_from_mu(mu: &BigRational, air: &StillAir) -> Option<BigRational> {
    quotient(&air.permeability(), mu)
}

/// `W = δ / d`, in ng/(Pa·s·m²). For d above zero. Source: definition of permeability.
///
/// ```
/// # use perpend::physics::layer_permeance;
/// # use perpend::units::{Dimension, Quantity};
/// // Published check B01, turned round: 3.2 perm-in. through 4 in. is 0.8 perm, exactly.
/// let masonry = Quantity::parse("3.2 perm-in", Dimension::Permeability)?;
/// let thickness = Quantity::parse("4 in", Dimension::Length)?;
/// let expected = Quantity::parse("0.8 perm", Dimension::Permeance)?;
/// assert_eq!(layer_permeance(masonry.value(), thickness.value()).as_ref(), Some(expected.value()));
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn layer_permeance(permeability: &BigRational, thickness: &BigRational) -> Option<BigRational> {
    quotient(permeability, thickness).filter(|permeance| !permeance.is_negative())
}

/// `δ = W d`, in ng/(Pa·s·m): the permeability that a layer of known thickness implies. For W and d above zero.
/// Source: definition of permeability.
///
/// ```
/// # use perpend::physics::layer_permeability;
/// # use perpend::units::{Dimension, Quantity};
/// // Published check B01: 0.8 perm over 4 in. is 3.2 perm-in., exactly.
/// let masonry = Quantity::parse("0.8 perm", Dimension::Permeance)?;
/// let thickness = Quantity::parse("4 in", Dimension::Length)?;
/// let expected = Quantity::parse("3.2 perm-in", Dimension::Permeability)?;
/// assert_eq!(layer_permeability(masonry.value(), thickness.value()).as_ref(), Some(expected.value()));
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn layer_permeability(permeance: &BigRational, thickness: &BigRational) -> Option<BigRational> {
    (permeance.is_positive() && thickness.is_positive()).then(|| permeance * thickness)
}

/// `sd = Σ sd_i`, in m, of layers one behind the other. For no sd below zero. Source, published: ISO 13788.
///
/// ```
/// # use perpend::physics::sd_in_series;
/// # use num_rational::BigRational;
/// // Reference, section 4: three repaints of 0.35 m are 1.05 m (derived there).
/// let repaint = BigRational::new(35.into(), 100.into());
/// let stack = [repaint.clone(), repaint.clone(), repaint];
/// assert_eq!(sd_in_series(&stack), Some(BigRational::new(105.into(), 100.into())));
/// ```
pub fn sd_in_series(layers: &[BigRational]) -> Option<BigRational> {
    let sound = layers.iter().all(|sd| !sd.is_negative());
    sound.then(|| layers.iter().fold(BigRational::zero(), |sum, sd| sum + sd))
}

/// `1 / W = Σ 1 / W_i`, in ng/(Pa·s·m²), of layers one behind the other. For at least one layer and every W above
/// zero. The answer is never above the tightest layer. Source, published: definition of resistance.
///
/// ```
/// # use perpend::physics::permeance_in_series;
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check B09: 0.8 and 5.5 perm in series are 0.6984 perm, within 0.0002.
/// let perm = |text| Quantity::parse(text, Dimension::Permeance).map(|quantity| quantity.value().clone());
/// let both = permeance_in_series(&[perm("0.8 perm")?, perm("5.5 perm")?]).unwrap() / perm("1 perm")?;
/// assert!((both.to_f64().unwrap() - 0.6984).abs() < 0.0002);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn permeance_in_series(layers: &[BigRational]) -> Option<BigRational> {
    let sum =
        layers.iter().try_fold(BigRational::zero(), |sum, permeance| Some(sum + resistance_of(permeance)?));
    sum.filter(BigRational::is_positive).map(|sum| sum.recip())
}

/// The share that one layer has in the resistance of all: `W / W_i`, from 0 to 1. For both above zero and the
/// layer at least as open as the whole. Source: derived from [`permeance_in_series`].
///
/// ```
/// # use perpend::physics::{permeance_in_series, permeance_share};
/// # use num_rational::BigRational;
/// // Published check B11: of two layers of 5.5 perm each, one holds 50.0 % of the resistance.
/// let layer = BigRational::new(55.into(), 10.into());
/// let whole = permeance_in_series(&[layer.clone(), layer.clone()]).unwrap();
/// assert_eq!(permeance_share(&layer, &whole), Some(BigRational::new(1.into(), 2.into())));
/// ```
pub fn permeance_share(layer: &BigRational, whole: &BigRational) -> Option<BigRational> {
    quotient(whole, layer)
        .filter(|share| share.is_positive() && *share <= BigRational::from_integer(1.into()))
}

/// `1 / W` in GPa·s·m²/kg, which is also MN·s/g. For W above zero. Source: definition of resistance.
///
/// ```
/// # use perpend::physics::resistance;
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check U64: a layer of 1 perm has 17.478 MN·s/g, within 0.002.
/// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
/// assert!((resistance(perm.value()).unwrap().to_f64().unwrap() - 17.478).abs() < 0.002);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn resistance(permeance: &BigRational) -> Option<BigRational> {
    resistance_of(permeance).map(|resistance| resistance * BigRational::from_integer(1000.into()))
}

/// `µ = r δ_air` of a resistivity in MN·s/(g·m). For r not below zero. Source, published: British handbooks give
/// µ = 0.2 r.
///
/// ```
/// # use perpend::physics::{StillAir, mu_from_resistivity};
/// # use num_rational::BigRational;
/// // Published check U65: 1 MN·s/(g·m) is µ 0.2 at 2.0e-10, exactly.
/// let mu = mu_from_resistivity(&BigRational::from_integer(1.into()), &StillAir::DESIGN);
/// assert_eq!(mu, Some(BigRational::new(2.into(), 10.into())));
/// ```
pub fn mu_from_resistivity(resistivity: &BigRational, air: &StillAir) -> Option<BigRational> {
    let thousandth = BigRational::new(1.into(), 1000.into());
    (!resistivity.is_negative()).then(|| resistivity * air.permeability() * thousandth)
}

/// `K = δ_air Δp`, in g/(m·d): what stands over V in `sd = K / V`. For Δp in Pa, the difference of the test itself.
/// Source, from memory: EN ISO 7783 prints it rounded to 20.
///
/// ```
/// # use perpend::physics::{StillAir, rate_constant};
/// # use num_rational::BigRational;
/// # use num_traits::ToPrimitive;
/// // Published check U74: 1.95e-10 and 1207.4 Pa give 20.34 g/(m·d), within 0.1.
/// let constant = rate_constant(&StillAir::CUP_TEST, &BigRational::new(12_074.into(), 10.into()));
/// assert!((constant.to_f64().unwrap() - 20.34).abs() < 0.1);
/// ```
pub fn rate_constant(air: &StillAir, difference: &BigRational) -> BigRational {
    air.permeability() * difference * grams_a_day()
}

/// `sd = K / V`, in m. For V above zero. Never use it with a K of another test climate. Source, from memory:
/// EN ISO 7783.
///
/// ```
/// # use perpend::physics::sd_from_rate;
/// # use num_rational::BigRational;
/// # use num_traits::ToPrimitive;
/// // Published check U76: V = 150 g/(m²·d) with K = 20.34 is 0.1356 m, within 3 %.
/// let sd = sd_from_rate(&BigRational::from_integer(150.into()), &BigRational::new(2034.into(), 100.into()));
/// assert!((sd.unwrap().to_f64().unwrap() / 0.1356 - 1.0).abs() < 0.03);
/// ```
pub fn sd_from_rate(rate: &BigRational, constant: &BigRational) -> Option<BigRational> {
    quotient(constant, rate)
}

/// `V = W Δp`, in g/(m²·d). For W above zero and Δp in Pa. Source: definition of permeance.
///
/// ```
/// # use perpend::physics::rate_from_permeance;
/// # use perpend::units::{Dimension, Quantity};
/// # use num_rational::BigRational;
/// # use num_traits::ToPrimitive;
/// // Published check U78: 1 perm passes 5.968 g/(m²·d) at 1207.4 Pa, within 0.5 %.
/// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
/// let rate = rate_from_permeance(perm.value(), &BigRational::new(12_074.into(), 10.into()));
/// assert!((rate.unwrap().to_f64().unwrap() / 5.968 - 1.0).abs() < 0.005);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn rate_from_permeance(permeance: &BigRational, difference: &BigRational) -> Option<BigRational> {
    permeance.is_positive().then(|| permeance * difference * grams_a_day())
}

/// `W = V / Δp`, in ng/(Pa·s·m²). For V and Δp above zero; Δp in Pa, of the test itself. Source: definition of
/// permeance.
///
/// ```
/// # use perpend::physics::permeance_from_rate;
/// # use perpend::units::{Dimension, Quantity};
/// # use num_traits::ToPrimitive;
/// // Published check U06: 1 g/(m²·d) at 17.918 mmHg is 0.084683 perm, within 0.00001.
/// let rate = Quantity::parse("1 g/(m2 d)", Dimension::VapourFlow)?;
/// let difference = Quantity::parse("17.918 mmHg", Dimension::Pressure)?;
/// let perm = Quantity::parse("1 perm", Dimension::Permeance)?;
/// let permeance = permeance_from_rate(rate.value(), difference.value()).unwrap() / perm.value();
/// assert!((permeance.to_f64().unwrap() - 0.084683).abs() < 0.00001);
/// # Ok::<(), perpend::units::UnitMistake>(())
/// ```
pub fn permeance_from_rate(rate: &BigRational, difference: &BigRational) -> Option<BigRational> {
    quotient(&(rate / grams_a_day()), difference).filter(BigRational::is_positive)
}

/// `over / under` for an `under` above zero.
fn quotient(over: &BigRational, under: &BigRational) -> Option<BigRational> {
    under.is_positive().then(|| over / under)
}

fn resistance_of(permeance: &BigRational) -> Option<BigRational> {
    permeance.is_positive().then(|| permeance.recip())
}

/// How many grams a day are one nanogram a second.
fn grams_a_day() -> BigRational {
    BigRational::new(86_400.into(), 1_000_000_000.into())
}
