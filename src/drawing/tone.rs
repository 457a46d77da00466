//! The colours of everything that is set or drawn.

/// The colours. One accent; everything survives a grey copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// Text.
    Ink,
    /// Labels and feet.
    Graphite,
    /// Lines that carry meaning.
    Rule,
    /// Lines that only adorn.
    Hairline,
    /// Fill of strips.
    Tint,
    /// Part titles, course line, links; in a figure, what was chosen.
    Accent,
    /// The paper, behind words that stand on a hatch.
    Paper,
}

impl Tone {
    /// Red, green and blue, 0 to 255.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Ink => [0x1F, 0x1E, 0x1C],
            Self::Graphite => [0x55, 0x52, 0x4D],
            Self::Rule => [0x8C, 0x88, 0x80],
            Self::Hairline => [0xC9, 0xC5, 0xBC],
            Self::Tint => [0xF4, 0xF1, 0xEA],
            Self::Accent => [0x0B, 0x55, 0x63],
            Self::Paper => [0xFF, 0xFF, 0xFF],
        }
    }
}
