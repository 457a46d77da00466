//! Areas: of a zone, of the job, and of the old paint that the work disturbs.

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::found::{Bounds, Found, Worked};
use super::site::Site;
use super::words;
use crate::survey::{YesNoAnswer, Zone};
use crate::units::{Dimension, System, print};

/// An area between two ends, with its words and what leaves it open.
#[derive(Debug, Clone)]
struct Area {
    bounds: Bounds,
    working: String,
    missing: Vec<String>,
}

impl Area {
    fn into_worked(self, system: System) -> Worked {
        let Self { bounds, working, missing } = self;
        if bounds.high.is_none() && bounds.low.as_ref().is_none_or(Zero::is_zero) {
            return Worked::open(missing);
        }
        let shown = words::bounds(&bounds, Dimension::Area, system);
        Worked { missing, ..Worked::settled(Found::Bounds(bounds), shown, working) }
    }
}

/// Width times height, less openings and what is left uncoated. What nobody said is anything from nothing up.
fn net_of(zone: &Zone, system: System) -> Area {
    let entry = |name: &str| format!("`{name}` of zone `{}`", zone.code);
    let Some(size) = &zone.size else {
        let bounds = Bounds::at_least(BigRational::zero());
        return Area { bounds, working: "size not known".to_owned(), missing: vec![entry("size")] };
    };
    let mut high = size.width.value() * size.height.value();
    let mut parts = vec![format!("{} by {}", print(&size.width, system), print(&size.height, system))];
    let mut missing = Vec::new();
    if zone.openings.is_none() {
        missing.push(entry("openings"));
    }
    for opening in zone.openings.iter().flatten() {
        let each = opening.width.value() * opening.height.value();
        high -= each * BigRational::from_integer(opening.count.into());
        let (width, height) = (print(&opening.width, system), print(&opening.height, system));
        parts.push(format!("less {} of {width} by {height}", opening.count));
    }
    match &zone.not_coated {
        None => missing.push(entry("not-coated")),
        Some(area) if area.value().is_positive() => {
            high -= area.value();
            parts.push(format!("less {} not coated", print(area, system)));
        }
        Some(_) => {}
    }
    let low = if missing.is_empty() { high.clone() } else { BigRational::zero() };
    Area { bounds: Bounds::between(low, high), working: parts.join(", "), missing }
}

/// The area of a zone that may be coated, in m², from the least to the most; `None` where nobody measured it.
pub fn net_area(zone: &Zone) -> Option<(BigRational, BigRational)> {
    let Bounds { low, high, .. } = net_of(zone, System::SiFirst).bounds;
    let zero = BigRational::zero;
    high.map(|high| (low.unwrap_or_else(zero).max(zero()), high.max(zero())))
}

/// The area of the zone that may be coated.
pub(super) fn net(site: &Site<'_>) -> Worked {
    net_of(site.zone, site.system()).into_worked(site.system())
}

/// The area of all zones.
pub(super) fn net_on_job(site: &Site<'_>) -> Worked {
    sum(site, |_| Share::Whole)
}

/// The area of the zones whose old coats do not all stay.
pub(super) fn paint_disturbed(site: &Site<'_>) -> Worked {
    sum(site, disturbed)
}

/// How much of a zone counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Share {
    Nothing,
    Whole,
    /// Nothing or the whole, until this entry is answered.
    Either(&'static str),
}

fn disturbed(zone: &Zone) -> Share {
    let Some(coats) = &zone.coats else { return Share::Either("coats") };
    if coats.iter().any(|coat| coat.kept == YesNoAnswer::No) {
        return Share::Whole;
    }
    let open = coats.iter().any(|coat| coat.kept == YesNoAnswer::Unanswered);
    if open { Share::Either("kept") } else { Share::Nothing }
}

fn sum(site: &Site<'_>, share: impl Fn(&Zone) -> Share) -> Worked {
    let nothing = Bounds::exactly(BigRational::zero());
    let mut total = Area { bounds: nothing.clone(), working: String::new(), missing: Vec::new() };
    let mut parts = Vec::new();
    for zone in &site.survey.zones {
        let share = share(zone);
        if share == Share::Nothing {
            continue;
        }
        let area = net_of(zone, site.system());
        total.missing.extend(area.missing);
        let mut part =
            format!("{} {}", zone.code, words::bounds(&area.bounds, Dimension::Area, site.system()));
        let mut bounds = area.bounds;
        if let Share::Either(entry) = share {
            total.missing.push(format!("`{entry}` of zone `{}`", zone.code));
            bounds = bounds.or(nothing.clone());
            part += ", if its paint is disturbed";
        }
        total.bounds = total.bounds.plus(bounds);
        parts.push(part);
    }
    total.working = if parts.is_empty() { "no zone".to_owned() } else { parts.join(" + ") };
    total.into_worked(site.system())
}
