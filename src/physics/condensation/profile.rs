//! Temperature, saturation and vapour pressure through a wall between two airs.

use super::AIR;
use super::found::{Condensate, condensates};
use super::line::{Knot, Line, draw};
use super::section::Section;
use super::wall::Air;
use crate::physics::saturation::Saturation;

/// What is the case at one station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// The equivalent air layer outside of it, in m.
    pub sd: f64,
    /// The temperature, in °C.
    pub celsius: f64,
    /// The saturation pressure, in Pa.
    pub saturation: f64,
    /// The vapour pressure, in Pa; never above saturation, but on a face that is wet itself.
    pub pressure: f64,
    /// The pressure that the straight line from outside to inside would have, in Pa. Above saturation, vapour condenses
    /// somewhere.
    pub straight: f64,
    /// What condenses here, in kg/(m²·s).
    pub rate: f64,
}

/// Whether a face of the wall is colder than the dew point of the air before it. The string is drawn from the pressure of
/// the air all the same, as the standards do: what then condenses on the face is reckoned as condensing within, which is
/// on the safe side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// It is not.
    Dry,
    /// It is: vapour condenses on the face itself.
    Wet,
}

/// A wall between two airs.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// The stations, from outside to inside.
    pub points: Vec<Point>,
    /// The outer face.
    pub outside: Surface,
    /// The inner face.
    pub inside: Surface,
    pub(super) condensates: Vec<Condensate>,
}

impl Profile {
    /// What condenses where, from outside to inside.
    pub fn condensates(&self) -> &[Condensate] {
        &self.condensates
    }

    /// All that condenses within the wall, in kg/(m²·s).
    pub fn rate(&self) -> f64 {
        self.condensates.iter().map(|condensate| condensate.rate).sum()
    }
}

impl Section {
    /// The state between two airs, with no water in the wall at first.
    ///
    /// ```
    /// # use perpend::physics::condensation::{Air, Capillarity, Layer, Section, Slicing, Surfaces, Wall};
    /// // Published check G06: the wall of five layers of an open ISO 13788 test suite collects 31.39753 g/m² in
    /// // 2 592 000 s, within 1e-5.
    /// let layers = [(0.164_917_54, 1.1), (0.024_390_24, 0.1), (0.8, 0.6), (0.067_415_73, 0.3), (0.017_543_86, 0.06)];
    /// let layers = layers.map(|(resistance, sd)| Layer::new(resistance, sd, Capillarity::Absorbs).unwrap());
    /// let wall = Wall::new(layers.to_vec()).unwrap();
    /// let section = Section::cut(&wall, Surfaces::ORDINARY, Slicing::Interfaces);
    /// let profile = section.between(&Air::new(5.0, 96.0).unwrap(), &Air::new(20.0, 55.0).unwrap());
    /// assert!((profile.rate() * 1000.0 * 2_592_000.0 - 31.39753).abs() < 1e-5);
    /// ```
    pub fn between(&self, outside: &Air, inside: &Air) -> Profile {
        let state = self.state(outside, inside);
        let line = draw(&state.knots, |_| false);
        state.profile(self, &line)
    }

    pub(super) fn state(&self, outside: &Air, inside: &Air) -> State {
        let celsius: Vec<f64> = self
            .stations()
            .iter()
            .map(|station| outside.celsius() + (inside.celsius() - outside.celsius()) * station.share)
            .collect();
        // Between two airs within the range of the formula, no station lies outside it.
        let saturation: Vec<f64> =
            celsius.iter().map(|t| Saturation::Iso13788.pressure(*t).unwrap_or(0.0)).collect();
        let mut knots: Vec<Knot> = self
            .stations()
            .iter()
            .zip(&saturation)
            .map(|(station, pressure)| Knot { sd: station.sd, pressure: *pressure })
            .collect();
        let outside_surface = knots.first_mut().map_or(Surface::Dry, |knot| hold(knot, outside));
        let inside_surface = knots.last_mut().map_or(Surface::Dry, |knot| hold(knot, inside));
        State { celsius, saturation, knots, outside: outside_surface, inside: inside_surface }
    }
}

/// Ties an end of the string to the pressure of the air.
fn hold(knot: &mut Knot, air: &Air) -> Surface {
    let surface = if air.pressure() > knot.pressure { Surface::Wet } else { Surface::Dry };
    knot.pressure = air.pressure();
    surface
}

/// What is known of the stations before the string is drawn.
pub(super) struct State {
    celsius: Vec<f64>,
    pub(super) saturation: Vec<f64>,
    pub(super) knots: Vec<Knot>,
    outside: Surface,
    pub(super) inside: Surface,
}

impl State {
    fn profile(&self, section: &Section, line: &Line) -> Profile {
        let (from, to) = (self.knots.first(), self.knots.last());
        let straight = |sd: f64| match (from, to) {
            (Some(from), Some(to)) => from.pressure + (to.pressure - from.pressure) * sd / to.sd,
            _ => 0.0,
        };
        let rows = self.celsius.iter().zip(&self.saturation).zip(line.pressures.iter().zip(&line.rates));
        let points =
            section.stations().iter().zip(rows).map(|(station, ((celsius, saturation), drawn))| Point {
                sd: station.sd,
                celsius: *celsius,
                saturation: *saturation,
                pressure: *drawn.0,
                straight: straight(station.sd),
                rate: *drawn.1,
            });
        Profile {
            points: points.collect(),
            outside: self.outside,
            inside: self.inside,
            condensates: condensates(section, &line.rates),
        }
    }
}

/// `g = δ0 (p1 - p2) / sd`, in kg/(m²·s), from the higher pressure to the lower. For pressures in Pa and sd in m above
/// zero. Source, from memory: Fick's law.
///
/// ```
/// # use perpend::physics::condensation::vapour_flow;
/// // Published check G07: 0.08977400 g/(m²·h) between 1285.32312909 and 1016.00114017 Pa over 2.16 m, within 1e-8.
/// let flow = vapour_flow(1285.323_129_09, 1016.001_140_17, 2.16).unwrap() * 1000.0 * 3600.0;
/// assert!((flow - 0.089_774_00).abs() < 1e-8);
/// ```
pub fn vapour_flow(from: f64, to: f64, sd: f64) -> Option<f64> {
    (sd > 0.0).then(|| AIR * (from - to) / sd).filter(|flow| flow.is_finite())
}
