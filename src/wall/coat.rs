//! What the old coats say: the outermost family, what any of them is, how they fail, what stays on the wall.

use num_rational::BigRational;
use num_traits::Zero;

use super::film;
use super::found::{Bounds, Found, Worked};
use super::layer::at_end;
use super::site::{Site, Table};
use super::words;
use crate::rulebook::book::{CellValue, ColumnId, End};
use crate::survey::{Failing, OldCoat, Tested, YesNoAnswer};

/// The word for no coat at all.
pub(super) const NONE: &str = "none";

/// Which of the old coats count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Which {
    /// Every coat that lies on the wall.
    Any,
    /// Those that stay.
    Kept,
    /// Those that come off.
    Stripped,
}

impl Which {
    /// Whether a coat counts; `None` until the survey says whether it stays.
    fn counts(self, coat: &OldCoat) -> Option<bool> {
        match (self, coat.kept) {
            (Self::Any, _) | (Self::Kept, YesNoAnswer::Yes) | (Self::Stripped, YesNoAnswer::No) => Some(true),
            (Self::Kept, YesNoAnswer::No) | (Self::Stripped, YesNoAnswer::Yes) => Some(false),
            (_, YesNoAnswer::Unanswered) => None,
        }
    }
}

/// What a name begins with that asks a property of the old coats.
pub(super) const PREFIXES: [(&str, Which); 3] =
    [("any-old-coat-", Which::Any), ("any-kept-coat-", Which::Kept), ("any-stripped-coat-", Which::Stripped)];

/// How much fails, least first.
const FAILING: [(Failing, &str); 4] =
    [(Failing::None, "none"), (Failing::Spots, "spots"), (Failing::Half, "half"), (Failing::Most, "most")];

/// The words of `old-coating-failing`.
pub(super) fn failing_words() -> Vec<String> {
    FAILING.iter().map(|(_, word)| (*word).to_owned()).collect()
}

fn open() -> Worked {
    Worked::open(vec!["`coats`".to_owned()])
}

/// The family of the outermost coat; `none` where there is no coat.
pub(super) fn outermost(site: &Site<'_>) -> Worked {
    let Some(coats) = &site.zone.coats else { return open() };
    let Some(coat) = coats.first() else {
        return Worked::settled(Found::Words(vec![NONE.to_owned()]), NONE, "there is no old coat");
    };
    let name = Table::OldCoats.row(site.book, coat.family).map(|row| row.name.clone());
    let shown = in_words(site, coat);
    let working = coats.iter().map(|coat| in_words(site, coat)).collect::<Vec<_>>().join(" over ");
    Worked::settled(Found::Words(name.into_iter().collect()), shown, format!("from outside: {working}"))
}

/// The family as printed, with a word where it is a guess by eye.
fn in_words(site: &Site<'_>, coat: &OldCoat) -> String {
    let title = title(site, coat);
    match coat.looks_like {
        YesNoAnswer::Yes => format!("{title} (by its look)"),
        YesNoAnswer::No | YesNoAnswer::Unanswered => title,
    }
}

fn title(site: &Site<'_>, coat: &OldCoat) -> String {
    Table::OldCoats.row(site.book, coat.family).map(|row| row.title.clone()).unwrap_or_default()
}

/// Whether any old coat that counts has a property. While nobody said whether a coat that has it stays, it is open.
pub(super) fn any(site: &Site<'_>, which: Which, column: ColumnId) -> Worked {
    let Some(coats) = &site.zone.coats else { return open() };
    let property = Table::OldCoats.column_at(site.book, column).map(|column| column.title.clone());
    let property = property.unwrap_or_default();
    let has = |coat: &&OldCoat| {
        Table::OldCoats.cell(site.book, coat.family, column) == Some(&CellValue::YesNo(true))
    };
    let (mut those, mut not_said) = (Vec::new(), Vec::new());
    for coat in coats.iter().filter(has) {
        match which.counts(coat) {
            Some(true) => those.push(in_words(site, coat)),
            Some(false) => {}
            None => not_said.push(format!("`kept` of {}", title(site, coat))),
        }
    }
    if those.is_empty() && !not_said.is_empty() {
        return Worked::open(not_said);
    }
    if those.is_empty() {
        return Worked::settled(Found::YesNo(YesNoAnswer::No), "no", format!("{property}: no old coat"));
    }
    let working = format!("{property}: {}", those.join(", "));
    Worked::settled(Found::YesNo(YesNoAnswer::Yes), "yes", working)
}

/// How much of the worst coat fails. A coat nobody looked at may be worse than those that were.
pub(super) fn failing(site: &Site<'_>) -> Worked {
    let Some(coats) = &site.zone.coats else { return open() };
    let worst = coats.iter().filter_map(|coat| coat.failing).max().unwrap_or(Failing::None);
    let not_said: Vec<String> = coats
        .iter()
        .filter(|coat| coat.failing.is_none())
        .map(|coat| format!("`failing` of {}", title(site, coat)))
        .collect();
    let possible =
        FAILING.iter().filter(|(failing, _)| *failing == worst || (*failing > worst && !not_said.is_empty()));
    let possible: Vec<String> = possible.map(|(_, word)| (*word).to_owned()).collect();
    let shown = possible.join(" or ");
    let working = match coats.len() {
        0 => "there is no old coat".to_owned(),
        _ => "the worst of the old coats".to_owned(),
    };
    Worked { missing: not_said, ..Worked::settled(Found::Words(possible), shown, working) }
}

/// The equivalent air layer of the old coats that stay.
pub(super) fn kept_sd(site: &Site<'_>, end: End) -> Worked {
    let Some(kept) = kept(site, end) else { return open() };
    let shown = words::air_layer_bounds(&kept.sd);
    Worked { missing: kept.missing, ..Worked::settled(Found::Bounds(kept.sd), shown, kept.working) }
}

/// The old coats that stay, or may stay.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    /// Their equivalent air layer, m.
    pub(super) sd: Bounds,
    /// How it was worked out.
    pub(super) working: String,
    /// What leaves it open.
    pub(super) missing: Vec<String>,
}

/// The old coats that stay; `None` if nobody said what coats there are.
pub(super) fn kept(site: &Site<'_>, end: End) -> Option<Kept> {
    let coats = site.zone.coats.as_ref()?;
    let nothing = Bounds::exactly(BigRational::zero());
    let mut kept = Kept { sd: nothing.clone(), working: String::new(), missing: Vec::new() };
    let mut parts = Vec::new();
    for coat in coats.iter().filter(|coat| coat.kept != YesNoAnswer::No) {
        let (sd, words, missing) = coat_sd(site, coat, end);
        kept.missing.extend(missing);
        let stays = coat.kept == YesNoAnswer::Yes;
        if !stays {
            kept.missing.push(format!("`kept` of {}", title(site, coat)));
        }
        kept.sd = kept.sd.plus(if stays { sd } else { sd.or(nothing.clone()) });
        parts.push(if stays { words } else { format!("{words}, if it stays") });
    }
    kept.working = if parts.is_empty() { "no old coat stays".to_owned() } else { parts.join(" + ") };
    Some(kept)
}

/// The equivalent air layer of one old coat: as tested, or else that of a layer, times the layers. Its words, and what is missing.
fn coat_sd(site: &Site<'_>, coat: &OldCoat, end: End) -> (Bounds, String, Vec<String>) {
    let title = title(site, coat);
    if let Some(tested) = &coat.tested {
        return tested_sd(site, tested, &title);
    }
    let column = Table::OldCoats.column(site.book, "sd-per-layer");
    let cell = column.and_then(|column| Table::OldCoats.cell(site.book, coat.family, column));
    let Some(CellValue::Measure(low, high)) = cell else {
        let unbounded = Bounds::at_least(BigRational::zero());
        return (unbounded, format!("{title} of unknown sd"), vec![format!("sd of {title}")]);
    };
    let of_layer = at_end(end, low.value(), high.value());
    let spread = if low.value() == high.value() { "" } else { ", worst case" };
    let each = format!("sd {} a layer{spread}", words::air_layer(of_layer));
    let Some(count) = coat.layers else {
        let words = format!("layers not counted of {title} at {each}");
        return (Bounds::at_least(of_layer.clone()), words, vec![format!("`layers` of {title}")]);
    };
    let sd = of_layer * BigRational::from_integer(count.into());
    let layers = if count == 1 { "layer" } else { "layers" };
    (Bounds::exactly(sd), format!("{count} {layers} of {title} at {each}"), Vec::new())
}

/// The equivalent air layer of a film that was tested, all its layers together.
fn tested_sd(site: &Site<'_>, tested: &Tested, title: &str) -> (Bounds, String, Vec<String>) {
    let Some(sd) = site.air().and_then(|air| film::air_layer(air, tested)) else {
        let unbounded = Bounds::at_least(BigRational::zero());
        let missing = "`air-permeability` in the rulebook".to_owned();
        return (unbounded, format!("{title} of unknown sd"), vec![missing]);
    };
    let sd = Bounds::between(sd.low().clone(), sd.high().clone());
    let words = format!("{title} of sd {}, as tested on this wall", words::air_layer_bounds(&sd));
    (sd, words, Vec::new())
}

/// Whether any zone of the job has an old coat.
pub(super) fn any_zone(site: &Site<'_>) -> Worked {
    let zones = &site.survey.zones;
    let painted = zones.iter().filter(|zone| zone.coats.as_ref().is_some_and(|coats| !coats.is_empty()));
    let painted: Vec<String> = painted.map(|zone| format!("`{}`", zone.code)).collect();
    if !painted.is_empty() {
        let working = format!("old coats in {}", painted.join(", "));
        return Worked::settled(Found::YesNo(YesNoAnswer::Yes), "yes", working);
    }
    let open = zones.iter().filter(|zone| zone.coats.is_none());
    let open: Vec<String> = open.map(|zone| format!("`coats` of zone `{}`", zone.code)).collect();
    if !open.is_empty() {
        return Worked::open(open);
    }
    Worked::settled(Found::YesNo(YesNoAnswer::No), "no", "no zone has an old coat")
}
