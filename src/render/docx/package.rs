//! The package: parts in a zip file with fixed dates, so that equal parts give equal bytes.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Level of deflation, of 1 to 9: as for the other forms.
const LEVEL: i64 = 4;

/// A part: its name in the package and its bytes.
pub(crate) struct Part {
    /// Such as `word/document.xml`.
    pub(crate) name: String,
    /// Its content.
    pub(crate) bytes: Vec<u8>,
}

impl Part {
    /// A part.
    pub(crate) fn new(name: &str, bytes: Vec<u8>) -> Self {
        Self { name: name.to_owned(), bytes }
    }
}

/// The parts as one file, or the writer's words for what is wrong.
pub(crate) fn packed(parts: &[Part]) -> Result<Vec<u8>, String> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .compression_level(Some(LEVEL))
        .last_modified_time(DateTime::default());
    for part in parts {
        zip.start_file(part.name.as_str(), options).map_err(|error| error.to_string())?;
        zip.write_all(&part.bytes).map_err(|error| error.to_string())?;
    }
    Ok(zip.finish().map_err(|error| error.to_string())?.into_inner())
}
