//! What the cracks say: the widest of each sort, and whether a pattern occurs.

use num_rational::BigRational;
use num_traits::Zero;

use super::found::{Bounds, Found, Worked};
use super::layer::ends;
use super::site::Site;
use super::words;
use crate::rulebook::words::spoken;
use crate::survey::{Crack, Pattern, Watched, YesNoAnswer};
use crate::units::{Dimension, Quantity, print};

/// The pattern of a word.
pub(super) fn pattern(word: &str) -> Option<Pattern> {
    Pattern::WORDS.iter().find(|(name, _)| *name == word).map(|(_, pattern)| *pattern)
}

/// The widest crack, of one sort or of all; nothing wide where there is none of the sort.
pub(super) fn widest(site: &Site<'_>, sort: Option<Watched>) -> Worked {
    let Some(cracks) = &site.zone.cracks else { return Worked::open(vec!["`cracks`".to_owned()]) };
    let of_sort = cracks.iter().filter(|crack| sort.is_none_or(|sort| crack.watched == sort));
    let of_sort: Vec<&Crack> = of_sort.collect();
    let name = sort.map(sort_in_words).unwrap_or_default();
    let nothing = BigRational::zero();
    let width = |crack: &&Crack| crack.width.as_ref().map_or_else(|| Bounds::at_least(nothing.clone()), ends);
    let widest = of_sort.iter().map(width).reduce(wider);
    let Some(widest) = widest else {
        let shown = Quantity::parse("0 mm", Dimension::Length).map(|none| print(&none, site.system()));
        let working = format!("there is no {name}crack");
        let none = Found::Bounds(Bounds::exactly(nothing));
        return Worked::settled(none, shown.unwrap_or_default(), working);
    };
    let missing = of_sort.iter().filter(|crack| crack.width.is_none());
    let missing: Vec<String> = missing.map(|_| format!("`width` of a {name}crack")).take(1).collect();
    let shown = words::bounds(&widest, Dimension::Length, site.system());
    let working = match of_sort.len() {
        1 => format!("the only {name}crack"),
        count => format!("the widest of {count} {name}cracks"),
    };
    Worked { missing, ..Worked::settled(Found::Bounds(widest), shown, working) }
}

/// The greater of two, end by end; no end above is the greatest.
fn wider(one: Bounds, two: Bounds) -> Bounds {
    let low = one.low.max(two.low);
    Bounds { low, high: one.high.zip(two.high).map(|(one, two)| one.max(two)) }
}

fn sort_in_words(sort: Watched) -> &'static str {
    match sort {
        Watched::NotWatched => "unwatched ",
        Watched::Suspected => "suspected ",
        Watched::Still => "still ",
        Watched::Moving => "moving ",
    }
}

/// Whether any crack has a pattern; a crack of which nobody said the pattern may have it.
pub(super) fn any(site: &Site<'_>, pattern: Pattern) -> Worked {
    let Some(cracks) = &site.zone.cracks else { return Worked::open(vec!["`cracks`".to_owned()]) };
    let name = Pattern::WORDS.iter().find(|(_, known)| *known == pattern).map_or("", |(name, _)| name);
    let count = cracks.iter().filter(|crack| crack.pattern == Some(pattern)).count();
    if count > 0 {
        let working = format!("{}: {count} of {} cracks", spoken(name), cracks.len());
        return Worked::settled(Found::YesNo(YesNoAnswer::Yes), "yes", working);
    }
    if cracks.iter().any(|crack| crack.pattern.is_none()) {
        return Worked::open(vec!["`pattern` of a crack".to_owned()]);
    }
    let working = match cracks.len() {
        0 => "there is no crack".to_owned(),
        _ => format!("{}: no crack", spoken(name)),
    };
    Worked::settled(Found::YesNo(YesNoAnswer::No), "no", working)
}
