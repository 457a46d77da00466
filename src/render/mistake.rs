//! What keeps a document from being set.

use miette::Diagnostic;
use thiserror::Error;

/// A mistake in a document that is to be set. A document has no source text, so each names its block.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum Mistake {
    /// No built-in face holds a sign.
    #[error("no type has the sign `{sign}` (U+{:04X}) of `{word}` in {place}", u32::from(*.sign))]
    #[diagnostic(
        code(RE001),
        help("write it in words, or with letters and signs of Latin, Greek or Cyrillic")
    )]
    MissingSign {
        /// The sign.
        sign: char,
        /// The word it stands in.
        word: String,
        /// Where, in words.
        place: String,
    },
    /// A link leads nowhere.
    #[error("block `{block}` links to `{target}`, which is no block of `{document}`")]
    #[diagnostic(code(RE002), help("{}", .nearest.as_ref().map_or_else(
        || "link to the id of a block in the same document".to_owned(),
        |nearest| format!("did you mean `{nearest}`"),
    )))]
    LostLink {
        /// The block with the link.
        block: String,
        /// The target asked for.
        target: String,
        /// The document.
        document: String,
        /// The nearest id there is.
        nearest: Option<String>,
    },
    /// Two blocks share an id.
    #[error("two blocks of `{document}` have the id `{block}`")]
    #[diagnostic(code(RE003), help("give each block its own id: links and tags name it"))]
    SameId {
        /// The id.
        block: String,
        /// The document.
        document: String,
    },
    /// A row of a table is longer or shorter than its head.
    #[error("row {row} of table `{block}` has {cells} cells, its head has {columns}")]
    #[diagnostic(code(RE004), help("give every row as many cells as the head; a cell may be empty"))]
    UnevenRow {
        /// The table.
        block: String,
        /// The row, from 1.
        row: usize,
        /// Cells in the row.
        cells: usize,
        /// Cells in the head.
        columns: usize,
    },
    /// The date of a document is no date.
    #[error("the date `{date}` of `{document}` is not a day of the calendar")]
    #[diagnostic(code(RE005), help("write it as year, month and day: `2027-03-01`"))]
    BadDate {
        /// As given.
        date: String,
        /// The document.
        document: String,
    },
    /// A built-in font file could not be read or cut down.
    #[error("the built-in font `{font}` cannot be read")]
    #[diagnostic(code(RE006), help("the program itself is damaged: install it again"))]
    BrokenFont {
        /// PostScript name.
        font: &'static str,
    },
    /// The bytes of the file could not be put together.
    #[error("the pages of `{document}` cannot be put into a file: {reason}")]
    #[diagnostic(
        code(RE007),
        help("this is a fault of the program: report it with the survey that shows it")
    )]
    Unwritten {
        /// The document.
        document: String,
        /// What the writer says.
        reason: String,
    },
}
