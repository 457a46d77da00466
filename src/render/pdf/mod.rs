//! Laid pages to the bytes of a file: painted with `printpdf`, finished with `lopdf`.

mod content;
mod drawing;
mod finish;
mod outline;
mod paint;
mod says;

use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use printpdf::{PdfDocument, PdfSaveOptions};
use sha2::{Digest, Sha256};

use super::laid::Laid;
use super::mistake::Mistake;

/// The program's name in the file.
pub(crate) const PRODUCER: &str = concat!("perpend ", env!("CARGO_PKG_VERSION"));

/// Level of deflation, of 1 to 9.
const LEVEL: u32 = 4;

/// Writes a laid document as PDF 1.7.
pub(crate) fn write(laid: &Laid) -> Result<Vec<u8>, Mistake> {
    let mut document = PdfDocument::new(&laid.about.title);
    let fonts = paint::paint(laid, &mut document)?;
    let options = PdfSaveOptions { image_optimization: None, ..PdfSaveOptions::default() };
    let mut file = document.to_lopdf_document(&options, &mut Vec::new());
    finish::finish(laid, &fonts, &mut file);
    compress(&mut file);
    let digest = digest(laid, &file);
    let name = || lopdf::Object::String(digest.clone(), lopdf::StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![name(), name()]);
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|error| Mistake::Unwritten {
        document: laid.about.name.clone(),
        reason: error.to_string(),
    })?;
    Ok(bytes)
}

/// Deflates every stream that may be, at a level that takes a third of the time of the best and a few per cent more
/// room.
fn compress(file: &mut lopdf::Document) {
    for object in file.objects.values_mut() {
        let lopdf::Object::Stream(stream) = object else { continue };
        if !stream.allows_compression || stream.dict.has(b"Filter") {
            continue;
        }
        let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(LEVEL));
        let Ok(()) = encoder.write_all(&stream.content) else { continue };
        let Ok(smaller) = encoder.finish() else { continue };
        if smaller.len() < stream.content.len() {
            stream.dict.set("Filter", "FlateDecode");
            stream.set_content(smaller);
        }
    }
}

/// A name for the file that depends on what is in it: the first 16 bytes of a digest of its streams and title.
fn digest(laid: &Laid, file: &lopdf::Document) -> Vec<u8> {
    let mut hash = Sha256::new();
    hash.update(laid.about.title.as_bytes());
    for object in file.objects.values() {
        if let lopdf::Object::Stream(stream) = object {
            hash.update(&stream.content);
        }
    }
    hash.finalize().iter().take(16).copied().collect()
}
