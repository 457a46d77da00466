//! Documents in, the bytes of files out: words become lines, lines pages, pages a PDF; and the same words a file for a
//! word processor, whose page numbers and columns are those of the pages.
//!
//! Comes in: a [`Document`] of blocks. Goes out: a [`Laid`] document that can be dumped as text, or the bytes of
//! a file. Nothing here chooses words, numbers clauses or reads files; the same document gives the same bytes.

mod blank;
mod breaking;
mod columns;
mod compose;
mod contents;
mod docx;
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
mod placed;
mod rail;
mod table;
mod tokens;
mod words;

pub use docx::{Left, OfficeStyles, OfficeText, Word};
pub use laid::{Laid, Marked};
pub use mistake::Mistake;
pub use placed::{Placed, What};

use crate::diagnostic::Diagnostic;
use crate::document::block::Document;

/// Reads the built-in faces and the list of hyphens, which would otherwise be read when the first document is set.
pub fn prepare() {
    for face in font::Face::ALL {
        face.font();
    }
    hyphen::points("preparation");
}

/// A document that is set once for every form it is written in.
#[derive(Debug)]
pub struct Pages<'a> {
    document: &'a Document,
    laid: Laid,
    mistakes: Vec<Mistake>,
}

impl<'a> Pages<'a> {
    /// Sets a document on pages.
    pub fn of(document: &'a Document) -> Self {
        let compose::Set { laid, mistakes } = compose::compose(document);
        Self { document, laid, mistakes }
    }

    /// The pages.
    ///
    /// # Errors
    /// Every sign that no face holds, every link without a target, every block that cannot be set.
    pub fn laid(&self) -> Result<&Laid, Vec<Diagnostic>> {
        self.sound(|_| true)
    }

    /// The document as PDF 1.7.
    ///
    /// # Errors
    /// As [`Pages::laid`].
    pub fn pdf(&self) -> Result<Vec<u8>, Vec<Diagnostic>> {
        pdf::write(self.laid()?).map_err(|mistake| vec![Diagnostic::error(&mistake, None)])
    }

    /// The document for a word processor, in the styles of an office if there are any, over what was left of the file
    /// before, if there was one: passages whose words somebody changed are kept, with those of the document beside them.
    ///
    /// # Errors
    /// As [`Pages::laid`], but for signs that no face of ours holds: a word processor has other faces.
    pub fn docx(&self, office: Option<&OfficeStyles>, left: Option<&Left>) -> Result<Word, Vec<Diagnostic>> {
        let laid = self.sound(|mistake| !matches!(mistake, Mistake::MissingSign { .. }))?;
        docx::write(self.document, laid, left, office)
            .map_err(|mistake| vec![Diagnostic::error(&mistake, None)])
    }

    fn sound(&self, counts: impl Fn(&Mistake) -> bool) -> Result<&Laid, Vec<Diagnostic>> {
        let found = self.mistakes.iter().filter(|mistake| counts(mistake));
        let mistakes: Vec<Diagnostic> = found.map(|mistake| Diagnostic::error(mistake, None)).collect();
        if mistakes.is_empty() { Ok(&self.laid) } else { Err(mistakes) }
    }
}

/// Sets a document on pages.
///
/// # Errors
/// As [`Pages::laid`].
pub fn layout(document: &Document) -> Result<Laid, Vec<Diagnostic>> {
    let pages = Pages::of(document);
    pages.laid()?;
    Ok(pages.laid)
}

/// Sets a document and writes it as PDF 1.7.
///
/// # Errors
/// As [`Pages::laid`].
pub fn pdf(document: &Document) -> Result<Vec<u8>, Vec<Diagnostic>> {
    Pages::of(document).pdf()
}
