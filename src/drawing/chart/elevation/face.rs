//! An elevation laid out in millimetres: its shapes, and codes of zones where they touch no opening.

use super::{Elevation, Rectangle, ZonePlace, ZoneState};
use crate::drawing::chart::count;
use crate::drawing::mark::{Anchor, Pen, Thickness};
use crate::drawing::measure::{Frame, height_of, width_of};
use crate::drawing::sheet::{Place, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;

/// The hatch over what is never coated, and the edges of that and of openings.
const LIGHT: Pen = Pen::solid(Thickness::Fine, Tone::Graphite);
/// Between the lines of the hatch; mm.
const HATCH_APART: f64 = 1.6;
/// The edges of zones, and of the elevation as a whole.
const ZONE: Pen = Pen::solid(Thickness::Plain, Tone::Ink);
const WHOLE: Pen = Pen::solid(Thickness::Fine, Tone::Hairline);

/// Air around words; mm.
const AIR: f64 = 0.7;
/// Places tried for words, across and up, on either side of the middle.
const ACROSS: i32 = 8;
const UP: i32 = 6;

/// Lines of words with their middle.
struct Lettering {
    middle: Place,
    lines: Vec<String>,
}

/// The face.
pub(super) struct Face<'e> {
    elevation: &'e Elevation,
    pub(super) left: f64,
    pub(super) top: f64,
    /// Millimetres on paper for each metre.
    pub(super) scale: f64,
    letterings: Vec<Lettering>,
    /// Places of zones without room for a code.
    unlettered: Vec<(&'e ZonePlace, Frame)>,
}

/// What is written in a zone.
pub(super) fn words(zone: &ZonePlace) -> Vec<String> {
    let state = match &zone.state {
        ZoneState::Coated => return vec![zone.code.clone()],
        ZoneState::Bare => "no coat".to_owned(),
        ZoneState::Open => "not settled".to_owned(),
        ZoneState::Stopped(numbers) => {
            let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
            format!("after stop {}", numbers.join(", "))
        }
    };
    vec![zone.code.clone(), state]
}

impl<'e> Face<'e> {
    /// Lays out an elevation from its upper left corner.
    pub(super) fn laid(elevation: &'e Elevation, (left, top): Place, scale: f64) -> Self {
        let mut face = Self { elevation, left, top, scale, letterings: Vec::new(), unlettered: Vec::new() };
        face.letter();
        face
    }

    pub(super) fn right(&self) -> f64 {
        self.left + self.elevation.width.0 * self.scale
    }

    pub(super) fn foot(&self) -> f64 {
        self.top + self.elevation.height.0 * self.scale
    }

    /// Where a rectangle of the elevation lies on paper, cut to the elevation.
    fn frame(&self, place: &Rectangle) -> Frame {
        let left = self.left + place.left * self.scale;
        let bottom = self.foot() - place.base * self.scale;
        Frame {
            left,
            top: (bottom - place.height * self.scale).max(self.top),
            right: (left + place.width * self.scale).min(self.right()),
            bottom,
        }
    }

    /// Whether something is hatched.
    pub(super) fn has_hatch(&self) -> bool {
        let mut zones = self.elevation.zones.iter();
        zones.any(|zone| zone.state == ZoneState::Bare) || self.elevation.bare.iter().flatten().count() > 0
    }

    pub(super) fn has_unlettered(&self) -> bool {
        !self.unlettered.is_empty()
    }

    /// The places of zones without room for a code, each with a spot in it to point at.
    pub(super) fn unlettered(&self) -> impl Iterator<Item = (&'e ZonePlace, Place)> {
        self.unlettered.iter().map(|(zone, frame)| {
            let inside = ((frame.right - frame.left) / 2.0).min(2.0);
            (*zone, (frame.right - inside, f64::midpoint(frame.top, frame.bottom)))
        })
    }

    /// Finds room for the code of each zone in each of its places.
    fn letter(&mut self) {
        let elevation = self.elevation;
        let openings: Vec<Frame> =
            elevation.openings.iter().flatten().map(|place| grown(self.frame(place), AIR)).collect();
        let bare: Vec<Frame> =
            elevation.bare.iter().flatten().map(|place| grown(self.frame(place), AIR)).collect();
        for zone in &elevation.zones {
            let [code, state] = [words(zone), vec![words(zone).join(" ")]];
            let ways = [code, state, vec![zone.code.clone()]];
            for place in &zone.places {
                let frame = self.frame(place);
                let lettered = self.letterings.iter().map(|known| room(&known.lines, known.middle));
                let taken = openings.iter().chain(&bare).copied().chain(lettered);
                let taken: Vec<Frame> = taken.filter(|taken| frame.overlaps(taken)).collect();
                let found = ways.iter().find_map(|lines| {
                    let middle = middle_for(lines, frame, &taken)?;
                    Some(Lettering { middle, lines: lines.clone() })
                });
                match found {
                    Some(lettering) => self.letterings.push(lettering),
                    None => self.unlettered.push((zone, frame)),
                }
            }
        }
    }

    /// Draws everything but the words beside it.
    pub(super) fn put(&self, sheet: &mut Sheet) {
        let shape = |frame: Frame| ((frame.left, frame.top), (frame.right, frame.bottom));
        let (from, to) = ((self.left, self.top), (self.right(), self.foot()));
        sheet.line(&outline(from, to), WHOLE);
        let zones = &self.elevation.zones;
        let bare_zones = zones.iter().filter(|zone| zone.state == ZoneState::Bare);
        let hatched = bare_zones.flat_map(|zone| &zone.places).chain(self.elevation.bare.iter().flatten());
        for place in hatched {
            let (from, to) = shape(self.frame(place));
            bare(sheet, from, to);
        }
        for place in self.elevation.openings.iter().flatten() {
            let (from, to) = shape(self.frame(place));
            opening(sheet, from, to);
        }
        let edges = zones.iter().flat_map(|zone| &zone.places).map(|place| {
            let (from, to) = shape(self.frame(place));
            outline(from, to)
        });
        sheet.lines(&edges.collect::<Vec<_>>(), ZONE);
        for lettering in &self.letterings {
            lettering.put(sheet);
        }
    }
}

/// A place that is never coated.
pub(super) fn bare(sheet: &mut Sheet, from: Place, to: Place) {
    sheet.hatch(&corners(from, to), HATCH_APART, LIGHT);
    sheet.line(&outline(from, to), LIGHT);
}

/// An opening.
pub(super) fn opening(sheet: &mut Sheet, from: Place, to: Place) {
    sheet.area(&corners(from, to), Tone::Tint);
    sheet.line(&outline(from, to), LIGHT);
}

impl Lettering {
    fn put(&self, sheet: &mut Sheet) {
        let room = room(&self.lines, self.middle);
        sheet.area(&corners((room.left, room.top), (room.right, room.bottom)), Tone::Paper);
        let step = height_of(Type::STRONG.size);
        let first = self.middle.1 - step * (count(self.lines.len()) - 1.0) / 2.0;
        for (number, words) in self.lines.iter().enumerate() {
            let kind = if number == 0 { Type::STRONG } else { Type::SMALL };
            sheet.label((self.middle.0, first + step * count(number)), words, kind, Anchor::Middle);
        }
    }
}

/// The room that lines take around a middle, with air.
fn room(lines: &[String], (x, y): Place) -> Frame {
    let widths = lines.iter().map(|words| width_of(words, Type::STRONG.size, Type::STRONG.bold));
    let (wide, high) =
        (widths.fold(0.0, f64::max) / 2.0, height_of(Type::STRONG.size) * count(lines.len()) / 2.0);
    Frame {
        left: x - wide - AIR,
        top: y - high - AIR / 2.0,
        right: x + wide + AIR,
        bottom: y + high + AIR / 2.0,
    }
}

/// The middle nearest to that of a frame around which lines have room.
fn middle_for(lines: &[String], frame: Frame, taken: &[Frame]) -> Option<Place> {
    let own = room(lines, (0.0, 0.0));
    let (slack_x, slack_y) = (
        (frame.right - frame.left) / 2.0 - own.right - AIR,
        (frame.bottom - frame.top) / 2.0 - own.bottom - 0.2,
    );
    if slack_x < 0.0 || slack_y < 0.0 {
        return None;
    }
    let middle = (f64::midpoint(frame.left, frame.right), f64::midpoint(frame.top, frame.bottom));
    let share = |step: i32, steps: i32| f64::from(step) / f64::from(steps);
    let mut steps: Vec<(f64, f64)> = (-UP..=UP)
        .flat_map(|up| {
            (-ACROSS..=ACROSS).map(move |across| (share(across, ACROSS) * slack_x, share(up, UP) * slack_y))
        })
        .collect();
    steps.sort_by(|one, other| far(*one).total_cmp(&far(*other)));
    let mut places = steps.into_iter().map(|(x, y)| (middle.0 + x, middle.1 + y));
    places.find(|place| {
        let room = room(lines, *place);
        taken.iter().all(|taken| !room.overlaps(taken))
    })
}

fn far((x, y): (f64, f64)) -> f64 {
    x * x + y * y
}

fn grown(frame: Frame, by: f64) -> Frame {
    Frame { left: frame.left - by, top: frame.top - by, right: frame.right + by, bottom: frame.bottom + by }
}
