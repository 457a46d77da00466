//! The display list: what is painted, in order, in millimetres from the upper left corner.

use super::tone::Tone;

/// A length of the drawing in hundredths of a millimetre: whole numbers, so that equal data give equal bytes and no
/// figure that is not a number can get in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Mm(i32);

/// Points in a hundredth of a millimetre.
const POINTS: f64 = 72.0 / 2540.0;

impl Mm {
    /// The nearest hundredth of a millimetre; nothing for what is not a number.
    #[expect(clippy::cast_possible_truncation, reason = "the cast ends at the largest drawing there is")]
    pub fn of(millimetres: f64) -> Self {
        Self((millimetres * 100.0).round() as i32)
    }

    /// In millimetres.
    pub fn millimetres(self) -> f64 {
        f64::from(self.0) / 100.0
    }

    /// In points of 1/72 inch.
    pub fn points(self) -> f64 {
        f64::from(self.0) * POINTS
    }
}

/// A place in the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// From the left edge.
    pub x: Mm,
    /// From the upper edge, down.
    pub y: Mm,
}

impl Spot {
    /// A place given in millimetres.
    pub fn of((x, y): (f64, f64)) -> Self {
        Self { x: Mm::of(x), y: Mm::of(y) }
    }
}

/// How thick a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thickness {
    /// 0.4 pt.
    Fine,
    /// 0.8 pt.
    Plain,
    /// 1.6 pt.
    Heavy,
}

impl Thickness {
    /// In points.
    pub fn points(self) -> f64 {
        match self {
            Self::Fine => 0.4,
            Self::Plain => 0.8,
            Self::Heavy => 1.6,
        }
    }
}

/// How a line is broken up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    Solid,
    /// Long strokes.
    Long,
    /// Short strokes.
    Short,
    /// A stroke and a dot by turns.
    StrokeDot,
    /// Dots.
    Dots,
}

impl Dash {
    /// Strokes and gaps by turns, in points.
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Self::Solid => &[],
            Self::Long => &[7.0, 2.0],
            Self::Short => &[3.5, 2.0],
            Self::StrokeDot => &[6.0, 1.8, 1.2, 1.8],
            Self::Dots => &[1.2, 1.8],
        }
    }
}

/// What a line is drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pen {
    /// Thickness.
    pub thickness: Thickness,
    /// Dash.
    pub dash: Dash,
    /// Colour.
    pub tone: Tone,
}

impl Pen {
    /// A solid line.
    pub const fn solid(thickness: Thickness, tone: Tone) -> Self {
        Self { thickness, dash: Dash::Solid, tone }
    }

    /// The same, broken up.
    #[must_use]
    pub const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}

/// Which end of the words stands at their place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The first letter.
    Start,
    /// Their middle.
    Middle,
    /// The last letter.
    End,
}

/// The size of type: never under 8 pt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// 8 pt.
    Small,
    /// 10 pt, for sheets that are read from arm's length.
    Large,
}

impl Size {
    /// In points.
    pub fn points(self) -> f64 {
        match self {
            Self::Small => 8.0,
            Self::Large => 10.0,
        }
    }
}

/// Whether words stand out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bold {
    /// They do not.
    No,
    /// They do.
    Yes,
}

/// Words on one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// Where the anchor stands, on the baseline.
    pub at: Spot,
    /// The words.
    pub words: String,
    /// Size.
    pub size: Size,
    /// Weight.
    pub bold: Bold,
    /// Which end stands at the place.
    pub anchor: Anchor,
    /// Colour.
    pub tone: Tone,
}

/// Something painted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mark {
    /// Lines drawn with one pen, each through two places or more.
    Lines {
        /// The lines.
        lines: Vec<Vec<Spot>>,
        /// The pen.
        pen: Pen,
    },
    /// A closed shape, filled.
    Area {
        /// Its corners.
        corners: Vec<Spot>,
        /// Its colour.
        tone: Tone,
    },
    /// Words.
    Text(Text),
}

impl Mark {
    /// The same somewhere else.
    pub(super) fn moved(&self, to: impl Fn(Spot) -> Spot) -> Self {
        let all = |spots: &[Spot]| spots.iter().copied().map(&to).collect::<Vec<_>>();
        match self {
            Self::Lines { lines, pen } => {
                Self::Lines { lines: lines.iter().map(|line| all(line)).collect(), pen: *pen }
            }
            Self::Area { corners, tone } => Self::Area { corners: all(corners), tone: *tone },
            Self::Text(text) => Self::Text(Text { at: to(text.at), ..text.clone() }),
        }
    }
}

/// A figure, ready for any writer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// Unique in the set; files and blocks are called after it.
    pub id: String,
    /// What is shown, in a few words.
    pub title: String,
    /// The point, as a sentence computed from the data.
    pub caption: String,
    /// What the figure rests on and what it does not say; may be empty.
    pub note: String,
    /// The figure in words, 15 to 250 characters, from the same data.
    pub alt: String,
    /// Width.
    pub width: Mm,
    /// Height.
    pub height: Mm,
    /// What is painted, in order.
    pub marks: Vec<Mark>,
}
