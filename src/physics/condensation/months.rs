//! ISO 13788: a year month by month, the condensate carried from each to the next.

use super::held::Held;
use super::profile::Surface;
use super::section::Section;
use super::wall::{Air, Layer};

/// One month of steady state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// The air outside.
    pub outside: Air,
    /// The air inside.
    pub inside: Air,
    /// How long it lasts, in s.
    pub seconds: f64,
}

/// How a year ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing condenses in any month.
    None,
    /// What condenses dries off again within the year.
    DriesOff,
    /// Some of it is still there when vapour starts to condense again.
    Accumulates,
}

/// What is in the wall at the end of one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthEnd {
    /// The month, counted from 0 in the order of the year that was given.
    pub month: usize,
    /// The condensate, in kg/m².
    pub condensate: f64,
}

/// The year, from the first month in which vapour condenses after one in which it does not; if it condenses in all,
/// from the first month given. Empty if it condenses in none.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// The months in the order in which they were reckoned.
    pub ends: Vec<MonthEnd>,
}

impl Balance {
    /// The most condensate at the end of a month, and that month.
    pub fn peak(&self) -> Option<MonthEnd> {
        self.ends
            .iter()
            .copied()
            .reduce(|most, end| if end.condensate > most.condensate { end } else { most })
    }

    /// What is left at the end of the year, in kg/m².
    pub fn left(&self) -> f64 {
        self.ends.last().map_or(0.0, |end| end.condensate)
    }

    /// How the year ends.
    pub fn outcome(&self) -> Outcome {
        match self.peak() {
            None => Outcome::None,
            Some(_) if self.left() > 0.0 => Outcome::Accumulates,
            Some(_) => Outcome::DriesOff,
        }
    }
}

/// Carries condensate through a year. Where water lies at the start of a month, the pressure there is saturation; what
/// a month could dry beyond what is there counts as nothing. Source, from memory: ISO 13788.
///
/// ```
/// # use perpend::physics::condensation::{
/// #     Air, Capillarity, Layer, Month, Outcome, Section, Slicing, Surfaces, Wall, balance,
/// # };
/// // Derived: a year of one month of the five-layer wall (published check G06) and eleven dry ones. The condensate
/// // after the first is the 31.39753 g/m² of the check, and it dries off.
/// let layers = [(0.164_917_54, 1.1), (0.024_390_24, 0.1), (0.8, 0.6), (0.067_415_73, 0.3), (0.017_543_86, 0.06)];
/// let layers = layers.map(|(resistance, sd)| Layer::new(resistance, sd, Capillarity::Absorbs).unwrap());
/// let section = Section::cut(&Wall::new(layers.to_vec()).unwrap(), Surfaces::ORDINARY, Slicing::Interfaces);
/// let inside = Air::new(20.0, 55.0).unwrap();
/// let month = |celsius, percent| Month { outside: Air::new(celsius, percent).unwrap(), inside, seconds: 2_592_000.0 };
/// let mut year = vec![month(5.0, 96.0)];
/// year.extend(vec![month(20.0, 50.0); 11]);
/// let balance = balance(&section, &year);
/// assert!((balance.ends[0].condensate * 1000.0 - 31.39753).abs() < 1e-5);
/// assert_eq!(balance.outcome(), Outcome::DriesOff);
/// ```
pub fn balance(section: &Section, year: &[Month]) -> Balance {
    Yearly::of(section, year).balance()
}

/// A wall through the months of a year, ready to be reckoned with films of any air layer on its outer face.
#[derive(Debug, Clone)]
pub struct Yearly {
    months: Vec<Spell>,
}

/// A month: the pressures that the string may not pass, and how long it lasts.
#[derive(Debug, Clone)]
struct Spell {
    held: Held,
    seconds: f64,
}

impl Yearly {
    /// A wall without a film.
    pub fn of(section: &Section, year: &[Month]) -> Self {
        let months = year.iter().map(|month| Spell {
            held: Held::of(section, &month.outside, &month.inside),
            seconds: month.seconds,
        });
        Self { months: months.collect() }
    }

    /// Whether the air of the room condenses on the inner face itself in some month.
    pub fn inner_face(&self) -> Surface {
        let mut faces = self.months.iter().map(|month| month.held.inside);
        faces.find(|face| *face == Surface::Wet).unwrap_or(Surface::Dry)
    }

    /// The same wall behind a film of an equivalent air layer in m, from 1e-6 to 100 000, that holds no heat.
    ///
    /// ```
    /// # use perpend::physics::condensation::{
    /// #     Air, Capillarity, Layer, Month, Section, Slicing, Surfaces, Wall, Yearly, balance,
    /// # };
    /// // Derived: a film set before the reckoned wall is the film of a wall that has it from the first.
    /// let brick = Layer::of_material(0.36, 0.81, 10.0, Capillarity::Absorbs).unwrap();
    /// let (bare, film) = (Wall::new(vec![brick]).unwrap(), Layer::film(3.0).unwrap());
    /// let airs = [(-5.0, 80.0), (5.0, 80.0), (15.0, 70.0)].map(|(t, percent)| Air::new(t, percent).unwrap());
    /// let inside = Air::new(20.0, 50.0).unwrap();
    /// let year = airs.map(|outside| Month { outside, inside, seconds: 1e7 });
    /// let cut = |wall: &Wall| Section::cut(wall, Surfaces::SHELTERED, Slicing::Thick);
    /// let behind = Yearly::of(&cut(&bare), &year).behind_film(3.0).unwrap().balance();
    /// assert_eq!(behind, balance(&cut(&bare.with_coat(film).unwrap()), &year));
    /// ```
    #[must_use]
    pub fn behind_film(&self, sd: f64) -> Option<Self> {
        Layer::film(sd)?;
        let months = self
            .months
            .iter()
            .map(|month| Spell { held: month.held.behind_film(sd), seconds: month.seconds });
        Some(Self { months: months.collect() })
    }

    /// The balance of the year.
    pub fn balance(&self) -> Balance {
        let stations = self.months.first().map_or(0, |month| month.held.stations());
        let dry = vec![0.0; stations];
        let condenses: Vec<bool> = self.months.iter().map(|month| month.wets(&dry)).collect();
        let before = condenses.iter().cycle().skip(condenses.len().saturating_sub(1));
        let starts = condenses.iter().zip(before).position(|(now, before)| *now && !*before);
        let start = starts.or_else(|| condenses.first().filter(|now| **now).map(|_| 0));
        let Some(start) = start else { return Balance { ends: Vec::new() } };
        let mut masses = dry;
        let months = self.months.iter().zip(&condenses).enumerate();
        let months = months.cycle().skip(start).take(self.months.len());
        let ends = months.map(|(place, (month, wets))| {
            if *wets || masses.iter().any(|mass| *mass > 0.0) {
                masses = month.carry(&masses);
            }
            MonthEnd { month: place, condensate: masses.iter().sum() }
        });
        Balance { ends: ends.collect() }
    }
}

impl Spell {
    /// Whether vapour condenses in a wall that was dry.
    fn wets(&self, dry: &[f64]) -> bool {
        !self.held.is_straight() && self.carry(dry).iter().any(|mass| *mass > 0.0)
    }

    /// The condensate at each station after the month.
    fn carry(&self, masses: &[f64]) -> Vec<f64> {
        let rates = self.held.condensing(|place| masses.get(place).is_some_and(|mass| *mass > 0.0));
        masses.iter().zip(rates).map(|(mass, rate)| (mass + rate * self.seconds).max(0.0)).collect()
    }
}

/// The air inside by the moisture that its use brings: a load in Pa when it is 0 °C or colder outside, falling in a
/// straight line to none at 20 °C. For an inside temperature from -60 to 60 °C; what is above saturation is left out.
/// Source, from memory: ISO 13788, classes of indoor humidity, the third at 810 Pa.
///
/// ```
/// # use perpend::physics::condensation::{Air, indoor_air};
/// // Worked by hand: 10 °C outside leaves half of a load of 810 Pa.
/// let outside = Air::new(10.0, 80.0).unwrap();
/// let inside = indoor_air(&outside, 20.0, 810.0).unwrap();
/// assert!((inside.pressure() - outside.pressure() - 405.0).abs() < 1e-9);
/// ```
pub fn indoor_air(outside: &Air, celsius: f64, load: f64) -> Option<Air> {
    let share = (1.0 - outside.celsius() / 20.0).clamp(0.0, 1.0);
    (load >= 0.0).then(|| Air::at_most_saturated(celsius, outside.pressure() + load * share)).flatten()
}
