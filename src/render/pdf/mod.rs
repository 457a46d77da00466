//! Laid pages to the bytes of a file: painted with `printpdf`, finished with `lopdf`.

mod finish;
mod outline;
mod paint;
mod says;

use printpdf::{PdfDocument, PdfSaveOptions};
use sha2::{Digest, Sha256};

use super::laid::Laid;
use super::mistake::Mistake;

/// The program's name in the file.
pub(crate) const PRODUCER: &str = concat!("perpend ", env!("CARGO_PKG_VERSION"));

/// Writes a laid document as PDF 1.7.
pub(crate) fn write(laid: &Laid) -> Result<Vec<u8>, Mistake> {
    let mut document = PdfDocument::new(&laid.about.title);
    paint::paint(laid, &mut document)?;
    let options = PdfSaveOptions { image_optimization: None, ..PdfSaveOptions::default() };
    let mut file = document.to_lopdf_document(&options, &mut Vec::new());
    finish::finish(laid, &mut file);
    file.compress();
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
