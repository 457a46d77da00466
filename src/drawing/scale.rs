//! From data to millimetres, along an axis of equal steps or of equal ratios, with ticks at round figures.

/// How equal lengths of an axis compare.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Steps,
    Ratios,
}

/// An axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    kind: Kind,
    /// Least and greatest figure.
    ends: (f64, f64),
    /// Where they stand, in millimetres.
    places: (f64, f64),
}

impl Scale {
    /// Equal steps from the first figure to the second, which must differ; `None` otherwise.
    pub(super) fn steps(ends: (f64, f64), places: (f64, f64)) -> Option<Self> {
        let sound = ends.0.is_finite() && ends.1.is_finite() && ends.0 < ends.1;
        sound.then_some(Self { kind: Kind::Steps, ends, places })
    }

    /// Equal ratios between two figures above zero; `None` otherwise.
    pub(super) fn ratios(ends: (f64, f64), places: (f64, f64)) -> Option<Self> {
        let sound = ends.0 > 0.0 && ends.1.is_finite() && ends.0 < ends.1;
        sound.then_some(Self { kind: Kind::Ratios, ends, places })
    }

    /// Where a figure stands, in millimetres; one past an end stands at that end.
    pub(super) fn at(&self, figure: f64) -> f64 {
        let figure = figure.clamp(self.ends.0, self.ends.1);
        let (low, high) = self.ends;
        let share = match self.kind {
            Kind::Steps => (figure - low) / (high - low),
            Kind::Ratios => libm::log(figure / low) / libm::log(high / low),
        };
        self.places.0 + share * (self.places.1 - self.places.0)
    }
}

/// 1, 2 or 5 times a power of ten: the least such step that cuts a length into no more than so many pieces.
pub(super) fn round_step(length: f64, most: f64) -> f64 {
    let rough = (length / most).abs();
    if !(rough.is_finite() && rough > 0.0) {
        return 1.0;
    }
    let power = libm::pow(10.0, libm::floor(libm::log10(rough)));
    let times = [1.0, 2.0, 5.0, 10.0].into_iter().find(|times| times * power >= rough * (1.0 - 1e-9));
    times.unwrap_or(10.0) * power
}

/// The multiples of a step from one figure to another, both included.
pub(super) fn multiples(step: f64, low: f64, high: f64) -> Vec<f64> {
    const MOST: u32 = 60;
    let first = libm::ceil(low / step - 1e-9);
    let all = (0..MOST).map(|number| (first + f64::from(number)) * step);
    all.take_while(|figure| *figure <= high + step * 1e-9).collect()
}

/// The powers of ten from one figure to another, both above zero, and 2 and 5 times each where they are few.
pub(super) fn round_ratios(low: f64, high: f64) -> Vec<f64> {
    const MOST: u32 = 16;
    if !(low > 0.0 && high.is_finite() && low < high) {
        return Vec::new();
    }
    let few = high / low < 120.0;
    let first = libm::floor(libm::log10(low));
    let powers = (0..MOST).map(|number| libm::pow(10.0, first + f64::from(number)));
    let times: &[f64] = if few { &[1.0, 2.0, 5.0] } else { &[1.0] };
    let all = powers.flat_map(|power| times.iter().map(move |times| times * power));
    all.filter(|figure| (low * (1.0 - 1e-9)..=high * (1.0 + 1e-9)).contains(figure)).collect()
}

#[cfg(test)]
mod tests {
    use super::{Scale, multiples, round_ratios, round_step};

    #[test]
    fn steps_are_round() {
        let steps =
            [(17.0, 5.0), (100.0, 20.0), (0.3, 0.1), (4.0, 1.0), (1.0, 0.2), (0.0, 1.0), (f64::NAN, 1.0)];
        for (length, step) in steps {
            assert!((round_step(length, 5.0) - step).abs() < 1e-12, "{length}");
        }
        assert_eq!(multiples(5.0, 8.0, 25.0), [10.0, 15.0, 20.0, 25.0]);
        assert_eq!(multiples(0.1, 0.1, 0.3).len(), 3);
    }

    #[test]
    fn ratios_thin_out_over_many_decades() {
        assert_eq!(round_ratios(0.03, 2.0), [0.05, 0.1, 0.2, 0.5, 1.0, 2.0]);
        assert_eq!(round_ratios(0.01, 100.0).len(), 5);
        assert_eq!(round_ratios(0.0, 1.0), Vec::<f64>::new());
    }

    #[test]
    fn figures_stand_between_the_ends() {
        let scale = Scale::ratios((0.01, 1.0), (10.0, 30.0)).unwrap();
        assert!((scale.at(0.1) - 20.0).abs() < 1e-9);
        assert!((scale.at(0.0) - 10.0).abs() < 1e-9);
        assert!((scale.at(9.0) - 30.0).abs() < 1e-9);
        assert!(Scale::steps((1.0, 1.0), (0.0, 1.0)).is_none());
        assert!(Scale::ratios((0.0, 1.0), (0.0, 1.0)).is_none());
    }
}
