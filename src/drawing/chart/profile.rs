//! The condensation profile (R2): vapour pressure against saturation through the wall, for the bare wall and up to five
//! coats. Pressures are drawn as shares of saturation, so that one level line is saturation for every coat, and as
//! they would be if nothing condensed, so that a coat under which water gathers is seen to cross it.

use super::ends::{CoatStanding, Ended, MOST_COATS, Margin, put};
use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, width_of};
use crate::drawing::number::{air_layer, capital, fixed, listed};
use crate::drawing::place::apart;
use crate::drawing::scale::{Scale, multiples, round_step};
use crate::drawing::sheet::{FINE, Said, Sheet, Type, corners};
use crate::drawing::tone::Tone;
use crate::physics::condensation::{Air, Capillarity, Layer, Section, Slicing, Surfaces, Wall};

/// A layer of the wall.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileLayer {
    /// Its name with its thickness as printed.
    pub title: String,
    /// Thickness, in m.
    pub thickness: f64,
    /// Thermal conductivity, in W/(m·K).
    pub conductivity: f64,
    /// Vapour resistance factor.
    pub mu: f64,
}

/// Water that gathers in the winter, at the adverse ends of all ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct Gathered {
    /// How much, in kg/m².
    pub kilograms: f64,
    /// The same as printed.
    pub words: String,
}

/// Less than this is nothing, in kg/m²: such a sum is no finer than a gram.
const NOTHING: f64 = 0.0005;

impl Gathered {
    fn is_some(&self) -> bool {
        self.kilograms >= NOTHING
    }
}

/// A coat to compare.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileCoat {
    /// Its name.
    pub title: String,
    /// Equivalent air layer of everything outside the masonry with it on, in m.
    pub sd: f64,
    /// What gathers with it on.
    pub gathered: Gathered,
    /// How much more that is than without it.
    pub more: Gathered,
    /// What was decided of it.
    pub standing: CoatStanding,
}

/// What the profile is made for.
#[derive(Debug, Clone, PartialEq)]
pub struct CondensationProfile {
    /// Name of the figure.
    pub id: String,
    /// The zones it holds for, such as `zones Q1 and Q2`; `None` for the whole work.
    pub zones: Option<String>,
    /// Layers of the wall from outside to inside.
    pub layers: Vec<ProfileLayer>,
    /// Equivalent air layer of the old coats that stay, in m.
    pub kept: f64,
    /// What gathers in the wall as it stands.
    pub gathered: Gathered,
    /// The coats; five are drawn.
    pub coats: Vec<ProfileCoat>,
    /// Resistances of the air at both faces.
    pub surfaces: Surfaces,
    /// Air outside.
    pub outside: Air,
    /// Air inside.
    pub inside: Air,
    /// Both airs and where they come from, as printed.
    pub climate: String,
}

/// The plot, in mm.
const LEFT: f64 = 12.0;
const RIGHT: f64 = 98.0;
const TOP: f64 = 5.0;
const HEIGHT: f64 = 37.0;
const FOOT: f64 = 4.6;
/// Room of `inside` and `outside` at both ends of the row under the plot.
const SIDE: f64 = 15.0;
/// Baseline to baseline of two lines of words.
const LINE: f64 = 3.2;
/// The highest share that is drawn, in per cent; a line past it runs along the top.
const MOST: f64 = 400.0;
/// Parts of each layer.
const PARTS: u16 = 24;

/// The share of saturation at a depth.
struct Course {
    /// Depth from inside in m, and share in per cent, from inside to outside.
    points: Vec<(f64, f64)>,
}

impl Course {
    fn highest(&self) -> f64 {
        self.points.iter().map(|(_, share)| *share).fold(0.0, f64::max)
    }

    fn lowest(&self) -> f64 {
        self.points.iter().map(|(_, share)| *share).fold(f64::INFINITY, f64::min)
    }
}

/// The profile; `None` if there is no coat or a figure makes no sense.
pub fn condensation_profile(profile: &CondensationProfile) -> Option<Drawing> {
    if profile.coats.is_empty() || profile.layers.is_empty() {
        return None;
    }
    let bare = course(profile, profile.kept)?;
    let coats: Vec<(&ProfileCoat, Course)> = profile
        .coats
        .iter()
        .take(MOST_COATS)
        .map(|coat| Some((coat, course(profile, coat.sd)?)))
        .collect::<Option<_>>()?;
    let thickness: f64 = profile.layers.iter().map(|layer| layer.thickness).sum();
    let highest = coats.iter().map(|(_, course)| course.highest()).fold(bare.highest(), f64::max);
    let highest = highest.clamp(120.0, MOST);
    let step = round_step(highest, 5.0);
    let most = libm::ceil(highest / step) * step;
    let bottom = TOP + HEIGHT;
    let across = Scale::steps((0.0, thickness), (LEFT, RIGHT))?;
    let lowest = coats.iter().map(|(_, course)| course.lowest()).fold(bare.lowest(), f64::min);
    let least = libm::floor(lowest.clamp(0.0, 100.0 - step) / step) * step;
    let up = Scale::steps((least, most), (bottom, TOP))?;
    let mut sheet = Sheet::default();
    let over = corners((LEFT, TOP), (RIGHT, up.at(100.0)));
    sheet.hatch(&over, 2.0, Pen::solid(Thickness::Fine, Tone::Hairline));
    axes(&mut sheet, &up, step, (least, most));
    walls(&mut sheet, profile, &across, bottom);
    let line = |course: &Course| {
        course.points.iter().map(|(depth, share)| (across.at(*depth), up.at(*share))).collect()
    };
    let mut lines = vec![Ended {
        standing: None,
        title: if profile.kept > 0.0 { "as it stands".to_owned() } else { "no coat".to_owned() },
        detail: detail(None, &profile.gathered, &profile.gathered),
        places: line(&bare),
    }];
    lines.extend(coats.iter().map(|(coat, course)| Ended {
        standing: Some(coat.standing),
        title: coat.title.clone(),
        detail: detail(Some(coat.sd), &coat.gathered, &coat.more),
        places: line(course),
    }));
    put(&mut sheet, &lines, Margin { left: RIGHT, right: FROM_MARGIN, top: TOP - 2.0, bottom: bottom + 2.0 });
    let height = key(&mut sheet, profile, bottom + 5.4 + LINE / 2.0);
    Some(sheet.finished(FROM_MARGIN, height, said(profile)))
}

/// Shares of saturation through the wall under an sd.
fn course(profile: &CondensationProfile, sd: f64) -> Option<Course> {
    let is_some = sd.is_nan() || sd.abs() > 0.0;
    let film = if is_some { Some(Layer::film(sd)?) } else { None };
    let own = profile
        .layers
        .iter()
        .map(|layer| Layer::of_material(layer.thickness, layer.conductivity, layer.mu, Capillarity::Absorbs));
    let layers = own.collect::<Option<Vec<Layer>>>()?;
    let wall = Wall::new(layers)?;
    let wall = match film {
        Some(film) => wall.with_coat(film)?,
        None => wall,
    };
    let parts = std::num::NonZeroU16::new(PARTS)?;
    let section = Section::cut(&wall, profile.surfaces, Slicing::EveryInto(parts));
    let found = section.between(&profile.outside, &profile.inside);
    // The coat has no depth: the place behind it is the face of the wall.
    let behind = found.points.iter().skip(usize::from(film.is_some()));
    let thickness: f64 = profile.layers.iter().map(|layer| layer.thickness).sum();
    let mut points: Vec<(f64, f64)> = depths(profile)
        .zip(behind)
        .map(|(depth, point)| (thickness - depth, 100.0 * point.straight / point.saturation))
        .collect();
    points.reverse();
    points.iter().all(|(_, share)| share.is_finite()).then_some(Course { points })
}

/// Depths from outside of the places that a section looks at.
fn depths(profile: &CondensationProfile) -> impl Iterator<Item = f64> {
    let mut depths = vec![0.0];
    let mut outer = 0.0;
    for layer in &profile.layers {
        let parts = 1..=PARTS;
        depths.extend(parts.map(|part| outer + layer.thickness * f64::from(part) / f64::from(PARTS)));
        outer += layer.thickness;
    }
    depths.into_iter()
}

/// The figures of a line: what gathers more than without the coat, or that nothing does.
fn detail(sd: Option<f64>, gathered: &Gathered, more: &Gathered) -> String {
    let before = sd.map(|sd| format!("sd {}: ", air_layer(sd))).unwrap_or_default();
    let plus = if sd.is_some() { "+" } else { "up to " };
    if more.is_some() {
        format!("{before}{plus}{}", more.words)
    } else if gathered.is_some() {
        format!("{before}adds nothing")
    } else {
        format!("{before}under 100 %")
    }
}

fn axes(sheet: &mut Sheet, up: &Scale, step: f64, (least, most): (f64, f64)) {
    let bottom = up.at(least);
    sheet.label((0.0, 2.0), "Vapour pressure, % of saturation", Type::QUIET, Anchor::Start);
    for share in multiples(step, least, most) {
        let y = up.at(share);
        let is_level = (share - 100.0).abs() < 1e-6;
        if !is_level {
            sheet.line(&[(LEFT, y), (RIGHT, y)], Pen::solid(Thickness::Fine, Tone::Hairline));
        }
        if (share - 100.0).abs() >= step * 0.7 || is_level {
            sheet.label((LEFT - 1.5, y), &fixed(share, 0), Type::QUIET, Anchor::End);
        }
    }
    let level = up.at(100.0);
    sheet.line(&[(LEFT, level), (RIGHT, level)], Pen::solid(Thickness::Heavy, Tone::Ink));
    let words = "over 100 %: water condenses";
    let width = width_of(words, Type::STRONG.size, Type::STRONG.bold);
    sheet.area(&corners((LEFT + 1.0, TOP + 0.8), (LEFT + 2.0 + width, TOP + 4.6)), Tone::Paper);
    sheet.label((LEFT + 1.5, TOP + 2.7), words, Type::STRONG, Anchor::Start);
    sheet.label((LEFT, bottom + 3.0), "inside", Type::QUIET, Anchor::Start);
    sheet.label((RIGHT, bottom + 3.0), "outside", Type::QUIET, Anchor::End);
}

/// The joints between layers, and their numbers under the plot.
fn walls(sheet: &mut Sheet, profile: &CondensationProfile, across: &Scale, bottom: f64) {
    let mut inner = 0.0;
    let mut wanted = Vec::new();
    let mut edges = vec![LEFT];
    for layer in profile.layers.iter().rev() {
        let from = across.at(inner);
        inner += layer.thickness;
        let to = across.at(inner);
        wanted.push((f64::midpoint(from, to), 3.4));
        edges.push(to);
    }
    for x in edges {
        sheet.line(&[(x, TOP), (x, bottom)], Pen::solid(Thickness::Fine, Tone::Rule));
    }
    let places = apart(&wanted, LEFT + SIDE, RIGHT - SIDE);
    for (number, ((middle, _), x)) in wanted.iter().zip(places).enumerate() {
        sheet.line(&[(*middle, bottom), (x, bottom + 1.4)], FINE);
        sheet.label((x, bottom + 3.0), &fixed(count(number + 1), 0), Type::QUIET, Anchor::Middle);
    }
}

/// What the numbers stand for; gives the height of the whole.
fn key(sheet: &mut Sheet, profile: &CondensationProfile, mut middle: f64) -> f64 {
    let named = (1..).zip(profile.layers.iter().rev());
    let named: Vec<String> =
        named.map(|(number, layer): (u32, _)| format!("{number} {}", layer.title)).collect();
    for line in broken(&named.join(", "), Type::QUIET.size, Type::QUIET.bold, FROM_MARGIN, 4) {
        sheet.label((0.0, middle), &line, Type::QUIET, Anchor::Start);
        middle += LINE;
    }
    middle - LINE / 2.0 + (FOOT - LINE) / 2.0
}

fn said(profile: &CondensationProfile) -> Said {
    let of_zones = profile.zones.as_ref().map(|zones| format!("{}: ", capital(zones))).unwrap_or_default();
    let verdict = verdict(profile);
    Said {
        id: profile.id.clone(),
        title: format!("{of_zones}vapour pressure against saturation through the wall"),
        caption: format!(
            "{of_zones}{}",
            if of_zones.is_empty() { capital(&verdict) } else { verdict.clone() }
        ),
        note: format!(
            "Steady state, no rain, comparison only; a pass is never permission to coat. Drawn as if nothing condensed; \
             all of it at the adverse ends of the ranges. {}.",
            profile.climate
        ),
        alt: alt(&[
            capital(&format!(
                "{of_zones}curves of vapour pressure as a share of saturation through the wall."
            )),
            finding(profile),
        ]),
    }
}

/// The verdict in few words: under how many coats water gathers, and how much at most.
fn finding(profile: &CondensationProfile) -> String {
    let shown = || profile.coats.iter().take(MOST_COATS);
    let over = shown().filter(|coat| coat.gathered.is_some());
    let count_over = over.clone().count();
    match over.max_by(|a, b| a.more.kilograms.total_cmp(&b.more.kilograms)) {
        None => "In this sum no vapour condenses under the coats drawn.".to_owned(),
        Some(most) => format!(
            "In this sum water gathers in the winter under {count_over} of {} coats drawn, {}.",
            shown().count(),
            gathers(profile, most)
        ),
    }
}

fn gathers(profile: &CondensationProfile, coat: &ProfileCoat) -> String {
    let more = if profile.gathered.is_some() { " more" } else { "" };
    let words =
        if coat.more.is_some() { format!("up to {}{more}", coat.more.words) } else { "no more".to_owned() };
    format!("{words} with {}", coat.title)
}

/// Under which coats vapour condenses in this sum, and how much at most.
fn verdict(profile: &CondensationProfile) -> String {
    let shown = profile.coats.iter().take(MOST_COATS);
    let (over, under): (Vec<_>, Vec<_>) = shown.partition(|coat| coat.gathered.is_some());
    let count_under = under.len();
    let under = listed(&under.iter().map(|coat| coat.title.clone()).collect::<Vec<_>>());
    let stands = if profile.kept > 0.0 { "as the wall stands" } else { "without a coat" };
    let too = if profile.gathered.is_some() {
        format!(" {} it is up to {}.", capital(stands), profile.gathered.words)
    } else {
        String::new()
    };
    let gathers = |coat: &ProfileCoat| gathers(profile, coat);
    let mut by_mass = over.clone();
    by_mass.sort_by(|a, b| a.more.kilograms.total_cmp(&b.more.kilograms));
    let Some((most, others)) = by_mass.split_last() else {
        return format!("in this sum no vapour condenses under {under}.");
    };
    let stay = if count_under == 1 { "stays" } else { "stay" };
    match (count_under, others.first()) {
        (0, Some(least)) => {
            let (least, most) = (gathers(least), gathers(most));
            format!("in this sum water gathers in the winter with each of these coats: {least}, {most}.{too}")
        }
        (0, None) => format!("in this sum water gathers in the winter, {}.{too}", gathers(most)),
        _ => format!(
            "of these coats only {under} {stay} under saturation; water gathers in the winter, {}.{too}",
            gathers(most)
        ),
    }
}
