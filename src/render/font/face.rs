//! The faces, their bytes and what each holds. A face is read once in the life of the program.

use std::sync::OnceLock;

use harfrust::Font;

/// A built-in face. Source Serif 4, Source Sans 3 and Source Code Pro under the SIL Open Font Licence 1.1;
/// the licence texts lie beside the files. All have 1000 units to the em.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Face {
    /// Contract text.
    SerifRegular,
    /// Titles of standards.
    SerifItalic,
    /// Defined terms.
    SerifBold,
    /// Labels, tables, plain text.
    SansRegular,
    /// Emphasis in plain text.
    SansItalic,
    /// Labels that lead.
    SansSemibold,
    /// Titles.
    SansBold,
    /// Identifiers.
    Code,
}

macro_rules! font {
    ($file:literal) => {
        include_bytes!(concat!("../../../templates/fonts/", $file))
    };
}

impl Face {
    /// Every face, in the order of their numbers.
    pub(crate) const ALL: [Self; 8] = [
        Self::SerifRegular,
        Self::SerifItalic,
        Self::SerifBold,
        Self::SansRegular,
        Self::SansItalic,
        Self::SansSemibold,
        Self::SansBold,
        Self::Code,
    ];

    /// The font file.
    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            Self::SerifRegular => font!("SourceSerif4_400Regular.ttf"),
            Self::SerifItalic => font!("SourceSerif4_400Regular_Italic.ttf"),
            Self::SerifBold => font!("SourceSerif4_700Bold.ttf"),
            Self::SansRegular => font!("SourceSans3_400Regular.ttf"),
            Self::SansItalic => font!("SourceSans3_400Regular_Italic.ttf"),
            Self::SansSemibold => font!("SourceSans3_600SemiBold.ttf"),
            Self::SansBold => font!("SourceSans3_700Bold.ttf"),
            Self::Code => font!("SourceCodePro_400Regular.ttf"),
        }
    }

    /// The PostScript name.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::SerifRegular => "SourceSerif4-Regular",
            Self::SerifItalic => "SourceSerif4-Italic",
            Self::SerifBold => "SourceSerif4-Bold",
            Self::SansRegular => "SourceSans3-Regular",
            Self::SansItalic => "SourceSans3-Italic",
            Self::SansSemibold => "SourceSans3-SemiBold",
            Self::SansBold => "SourceSans3-Bold",
            Self::Code => "SourceCodePro-Regular",
        }
    }

    /// The name in the text dump.
    pub(crate) fn short(self) -> &'static str {
        match self {
            Self::SerifRegular => "serif",
            Self::SerifItalic => "serif-italic",
            Self::SerifBold => "serif-bold",
            Self::SansRegular => "sans",
            Self::SansItalic => "sans-italic",
            Self::SansSemibold => "sans-semibold",
            Self::SansBold => "sans-bold",
            Self::Code => "code",
        }
    }

    /// Where a sign is looked for, this face first.
    pub(crate) fn chain(self) -> &'static [Self] {
        use Face::{
            Code, SansBold, SansItalic, SansRegular, SansSemibold, SerifBold, SerifItalic, SerifRegular,
        };
        match self {
            SerifRegular => &[SerifRegular, SansRegular, Code],
            SerifItalic => &[SerifItalic, SansItalic, SerifRegular, SansRegular, Code],
            SerifBold => &[SerifBold, SansBold, Code],
            SansRegular => &[SansRegular, SerifRegular, Code],
            SansItalic => &[SansItalic, SerifItalic, SansRegular, SerifRegular, Code],
            SansSemibold => &[SansSemibold, SansBold, SerifBold, Code],
            SansBold => &[SansBold, SerifBold, Code],
            Code => &[Code, SansRegular, SerifRegular],
        }
    }

    /// The face as read; `None` only if the built-in file is broken.
    pub(crate) fn font(self) -> Option<&'static Font> {
        static FONTS: [OnceLock<Option<Font>>; 8] = [const { OnceLock::new() }; 8];
        FONTS.get(self as usize)?.get_or_init(|| Font::new(self.bytes(), 0)).as_ref()
    }

    /// Whether the face has a sign.
    pub(crate) fn holds(self, sign: char) -> bool {
        self.font().is_some_and(|font| font.charmap().map_unicode(sign).is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::Face;

    #[test]
    fn every_face_is_readable_and_holds_the_signs_of_the_trade() {
        for face in Face::ALL {
            assert_eq!(face.font().unwrap().units_per_em(), 1000, "{}", face.name());
            for sign in "Aa0≤≥°µ½–“”²³×\u{a0}\u{2212}".chars() {
                assert!(face.holds(sign), "{} lacks {sign}", face.name());
            }
        }
    }
}
