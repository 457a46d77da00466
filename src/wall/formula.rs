//! Figures that the book itself works out of answers: so much for each step, or one answer over another.

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::found::{Bounds, Found, Worked};
use super::site::Site;
use super::words;
use crate::rulebook::book::{Fact, FactId, Formula, Kind};
use crate::units::{Dimension, Quantity, print};

/// The figure, as far as the answers settle it.
pub(super) fn work(site: &Site<'_>, formula: &Formula, own: &Fact) -> Worked {
    let mut ends = Vec::new();
    let mut open = Vec::new();
    for fact in formula.reads() {
        match read(site, fact) {
            Ok(read) => ends.push(read),
            Err(name) => open.push(format!("`{name}`")),
        }
    }
    let worked = match (formula, ends.as_slice()) {
        (Formula::Linear { base, rate, step, past, .. }, [(low, high, shown)]) => {
            let line = Line { base: base.as_ref(), rate, step, past: past.as_ref() };
            let (one, two) = (line.at(low), line.at(high));
            let bounds = Bounds::between(one.clone().min(two.clone()), one.max(two));
            Some((bounds, line.in_words(site, shown)))
        }
        (Formula::Ratio { .. }, [(low, high, one), (from, to, two)]) if from.is_positive() => {
            let scale = if dimension(own) == Dimension::Percent { 100 } else { 1 };
            let scale = BigRational::from_integer(scale.into());
            let bounds = Bounds::between(low / to * &scale, high / from * &scale);
            Some((bounds, format!("{one} over {two}")))
        }
        _ => None,
    };
    let Some((bounds, working)) = worked else { return Worked::open(open) };
    let shown = words::bounds(&bounds, dimension(own), site.system());
    Worked::settled(Found::Bounds(bounds), shown, working)
}

/// So much for each step.
struct Line<'a> {
    base: Option<&'a Quantity>,
    rate: &'a Quantity,
    step: &'a Quantity,
    past: Option<&'a Quantity>,
}

impl Line<'_> {
    fn at(&self, value: &BigRational) -> BigRational {
        let counted = self.past.map_or_else(|| value.clone(), |past| value - past.value());
        let counted = counted.max(BigRational::zero());
        let base = self.base.map_or_else(BigRational::zero, |base| base.value().clone());
        base + self.rate.value() * counted / self.step.value()
    }

    fn in_words(&self, site: &Site<'_>, of: &str) -> String {
        let say = |figure: &Quantity| print(figure, site.system());
        let base = self.base.map(|base| format!("{} plus ", say(base))).unwrap_or_default();
        let past = self.past.map(|past| format!(" over {}", say(past))).unwrap_or_default();
        format!("{base}{} for each {}{past}: {of}", say(self.rate), say(self.step))
    }
}

/// Both ends of an answer and its words, or the name of what is not answered.
fn read(site: &Site<'_>, id: FactId) -> Result<(BigRational, BigRational, String), String> {
    let Some(fact) = site.book.facts.get(id.0) else { return Err(String::new()) };
    let answer = super::answer(site, id, fact);
    let (low, high) = answer.range.ok_or_else(|| fact.name.clone())?;
    Ok((low, high, answer.shown))
}

fn dimension(fact: &Fact) -> Dimension {
    match &fact.kind {
        Kind::Measure { dimension, .. } => *dimension,
        _ => Dimension::Number,
    }
}
