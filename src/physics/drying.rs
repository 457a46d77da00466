//! Drying by diffusion alone, to compare one coat with another. Real walls dry faster at first, while capillary flow
//! keeps the face wet, and slower where rain comes back; so every answer is a [`Comparison`], and none sets or
//! releases a wait.

/// Still air permeability of design calculation, in kg/(m·s·Pa).
const AIR: f64 = 2.0e-10;

const SECONDS_A_DAY: f64 = 86_400.0;

/// A figure that only compares one coat with another at the same conditions.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Comparison(f64);

impl Comparison {
    /// The words that go with the figure wherever it is printed.
    pub const LABEL: &'static str = "for comparing coats only: it sets no waiting time and releases none";

    /// The figure, in the unit that its formula states.
    pub fn figure(self) -> f64 {
        self.0
    }

    /// How many times another figure of the same kind this one is; `None` if that one is zero.
    pub fn times(self, other: Self) -> Option<f64> {
        (other.0 > 0.0).then_some(self.0 / other.0).filter(|times| times.is_finite())
    }

    fn of(figure: f64) -> Option<Self> {
        (figure.is_finite() && figure >= 0.0).then_some(Self(figure))
    }
}

/// `g = δ0 Δp / (sd_coat + sd_boundary)`, in g/(m²·d): first stage, the wall behind the coat still wet. For the sum of
/// both sd above zero (the boundary layer of the air is 0.005 to 0.02 m, from memory) and Δp in Pa, not below zero.
/// Source, from memory: Fick's law.
///
/// ```
/// # use perpend::physics::first_stage_flow;
/// // Published check R13: sd 0.9 m at 500 Pa dries 9.60 g/(m²·d), within 0.1 %.
/// assert!((first_stage_flow(0.9, 0.0, 500.0).unwrap().figure() / 9.60 - 1.0).abs() < 0.001);
/// ```
pub fn first_stage_flow(coat: f64, boundary: f64, difference: f64) -> Option<Comparison> {
    let sound = coat >= 0.0 && boundary >= 0.0 && difference >= 0.0 && coat + boundary > 0.0;
    let flow = AIR * difference / (coat + boundary) * SECONDS_A_DAY * 1000.0;
    sound.then(|| Comparison::of(flow)).flatten()
}

/// Days to lose 1 kg/m² in the first stage: `1000 / g`. As [`first_stage_flow`], Δp above zero.
///
/// ```
/// # use perpend::physics::days_a_kilogram;
/// // Published check R19: sd 0.9 m at 500 Pa takes 104.17 days, within 0.1 %.
/// assert!((days_a_kilogram(0.9, 0.0, 500.0).unwrap().figure() / 104.17 - 1.0).abs() < 0.001);
/// ```
pub fn days_a_kilogram(coat: f64, boundary: f64, difference: f64) -> Option<Comparison> {
    first_stage_flow(coat, boundary, difference).and_then(|flow| Comparison::of(1000.0 / flow.0))
}

/// A material that dries from its face, with the water it can give off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wet {
    /// Vapour resistance factor, not below 1.
    pub mu: f64,
    /// Free water, in kg/m³, not below zero.
    pub water: f64,
}

/// `t = w0 / (δ0 Δp) (sd X + µ X² / 2)`, in days: second stage, a dry zone growing to the depth X in m behind an sd in m
/// (coat and boundary layer), Δp in Pa above zero. Source, from memory: receding front.
///
/// ```
/// # use perpend::physics::{Wet, second_stage_days};
/// // Published check R24: 1572.9 days to 0.12 m behind 0.9 m + 0.01 m at 1000 Pa, within 0.1.
/// let brick = Wet { mu: 10.0, water: 150.0 };
/// assert!((second_stage_days(brick, 0.12, 0.91, 1000.0).unwrap().figure() - 1572.9).abs() < 0.1);
/// ```
pub fn second_stage_days(wet: Wet, depth: f64, sd: f64, difference: f64) -> Option<Comparison> {
    let sound = wet.mu >= 1.0 && wet.water >= 0.0 && depth >= 0.0 && sd >= 0.0 && difference > 0.0;
    let path = sd * depth + wet.mu * depth * depth / 2.0;
    let days = wet.water / (AIR * difference) * path / SECONDS_A_DAY;
    sound.then(|| Comparison::of(days)).flatten()
}

/// The depth in m of dry material that holds vapour back as much as the coat does: `X = sd / µ`. Past several times
/// this depth the coat no longer matters. For µ not below 1 and sd in m, not below zero. Source, derived: `µ X = sd`.
///
/// ```
/// # use perpend::physics::depth_equal_to_coat;
/// // Published check R26: 0.09 m of µ 10 for a coat of 0.9 m.
/// assert!((depth_equal_to_coat(0.9, 10.0).unwrap().figure() - 0.09).abs() < 1e-12);
/// ```
pub fn depth_equal_to_coat(sd: f64, mu: f64) -> Option<Comparison> {
    (mu >= 1.0 && sd >= 0.0).then(|| Comparison::of(sd / mu)).flatten()
}

/// `t = w sd / (δ0 Δp)`, in h: what it takes to dry out the rain of one hour through the coat, from the product w·sd in
/// kg/(m·√h), not below zero, and Δp in Pa above zero. Source, derived from [`first_stage_flow`].
///
/// ```
/// # use perpend::physics::hours_to_dry_an_hour_of_rain;
/// // Reference, section 3: a product of 0.2 at 500 Pa takes 555.6 h (derived there).
/// assert!((hours_to_dry_an_hour_of_rain(0.2, 500.0).unwrap().figure() - 555.6).abs() < 0.05);
/// ```
pub fn hours_to_dry_an_hour_of_rain(product: f64, difference: f64) -> Option<Comparison> {
    let sound = product >= 0.0 && difference > 0.0;
    sound.then(|| Comparison::of(product / (AIR * difference * 3600.0))).flatten()
}

/// A face that dries from outside inward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drying {
    /// Vapour resistance factor, not below 1.
    pub mu: f64,
    /// How deep it is, in m, above zero.
    pub depth: f64,
    /// Equivalent air layer of the air that clings to it, in m, above zero.
    pub boundary: f64,
}

/// The share of a face, 0 to 1, that has dried behind an sd in m when a share of the time has passed in which the bare
/// face dries through. Solves [`second_stage_days`] for the depth, with neither the water nor the pressures left in it:
/// `µ X² / 2 + (sd + b) X = τ (µ D² / 2 + b D)`. Source: derived from there.
///
/// ```
/// # use perpend::physics::{Drying, Wet, dried_by_then, second_stage_days};
/// let face = Drying { mu: 10.0, depth: 0.12, boundary: 0.01 };
/// let share = dried_by_then(face, 0.9, 1.0).unwrap().figure();
/// // Published check R22: the bare face takes 635.4 days, and so long it takes to that depth behind the coat.
/// let wet = Wet { mu: 10.0, water: 150.0 };
/// let days = |depth, sd| second_stage_days(wet, depth, sd, 1000.0).unwrap().figure();
/// assert!((days(0.12 * share, 0.91) / days(0.12, 0.01) - 1.0).abs() < 1e-9);
/// ```
pub fn dried_by_then(face: Drying, sd: f64, time: f64) -> Option<Comparison> {
    let Drying { mu, depth, boundary } = face;
    let sound = mu >= 1.0 && depth > 0.0 && boundary > 0.0 && sd >= 0.0 && (0.0..=1.0).contains(&time);
    if !sound {
        return None;
    }
    let done = time * (mu * depth * depth / 2.0 + boundary * depth);
    let before = sd + boundary;
    // The root, written so that nothing cancels.
    let dried = 2.0 * done / (before + libm::sqrt(before * before + 2.0 * mu * done));
    Comparison::of((dried / depth).min(1.0))
}
