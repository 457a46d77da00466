//! A face cut down to the glyphs that one document uses.

use std::collections::BTreeMap;

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile, subset as cut};
use printpdf::ParsedFont;
use sha2::{Digest, Sha256};

use super::Face;

/// A cut-down face, ready to be put into a file.
pub(crate) struct Subset {
    /// The font as the PDF writer takes it, named with the six capitals of a subset.
    pub(crate) font: ParsedFont,
    /// The new number of each glyph.
    pub(crate) numbers: BTreeMap<u16, u16>,
}

/// Cuts a face down to `.notdef` and the glyphs named; `None` only if the built-in file is broken.
pub(crate) fn subset(face: Face, glyphs: impl IntoIterator<Item = u16>) -> Option<Subset> {
    let mut numbers: BTreeMap<u16, u16> = glyphs.into_iter().map(|id| (id, 0)).collect();
    numbers.insert(0, 0);
    let ids: Vec<u16> = numbers.keys().copied().collect();
    for (new, number) in (0..).zip(numbers.values_mut()) {
        *number = new;
    }
    let data = ReadScope::new(face.bytes()).read::<FontData<'_>>().ok()?;
    let provider = data.table_provider(0).ok()?;
    let bytes = cut(&provider, &ids, &SubsetProfile::Pdf, CmapTarget::Unicode).ok()?;
    let mut font = ParsedFont::from_bytes(&bytes, 0, &mut Vec::new())?;
    font.font_name = Some(format!("{}+{}", tag(&bytes), face.name()));
    Some(Subset { font, numbers })
}

/// Six capitals that depend on the bytes alone.
fn tag(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}
