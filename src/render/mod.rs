//! Documents in, PDF bytes out: words become lines, lines pages, pages a file.
//!
//! Comes in: a [`Document`] of blocks. Goes out: a [`Laid`] document that can be dumped as text, or the bytes of
//! a PDF. Nothing here chooses words, numbers clauses or reads files; the same document gives the same bytes.

mod blank;
mod breaking;
mod columns;
mod compose;
mod dump;
mod figure;
mod flow;
mod font;
mod front;
mod furniture;
mod heading;
mod hyphen;
mod laid;
mod line;
mod listing;
mod mistake;
mod paginate;
mod pdf;
mod rail;
mod table;
mod tokens;
mod words;

pub use laid::{Laid, Marked};
pub use mistake::Mistake;

use crate::diagnostic::Diagnostic;
use crate::document::block::Document;

/// Reads the built-in faces and the list of hyphens, which would otherwise be read when the first document is set.
pub fn prepare() {
    for face in font::Face::ALL {
        face.font();
    }
    hyphen::points("preparation");
}

/// Sets a document on pages.
///
/// # Errors
/// Every sign that no face holds, every link without a target, every block that cannot be set.
pub fn layout(document: &Document) -> Result<Laid, Vec<Diagnostic>> {
    compose::compose(document)
}

/// Sets a document and writes it as PDF 1.7.
///
/// # Errors
/// As [`layout`].
pub fn pdf(document: &Document) -> Result<Vec<u8>, Vec<Diagnostic>> {
    written(&layout(document)?)
}

/// Writes a document that is set as PDF 1.7.
///
/// # Errors
/// What the file cannot hold.
pub fn written(laid: &Laid) -> Result<Vec<u8>, Vec<Diagnostic>> {
    pdf::write(laid).map_err(|mistake| vec![Diagnostic::error(&mistake, None)])
}
