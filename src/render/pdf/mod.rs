//! Laid pages to the bytes of a file: painted with `printpdf`, finished with `lopdf`.

mod content;
mod drawing;
mod finish;
mod outline;
mod paint;
mod says;
mod tags;
mod tree;

use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::SaveOptions;
use printpdf::{PdfDocument, PdfSaveOptions};
use sha2::{Digest, Sha256};

use super::laid::Laid;
use super::mistake::Mistake;

/// The program's name in the file.
pub(crate) const PRODUCER: &str = concat!("perpend ", env!("CARGO_PKG_VERSION"));

/// Level of deflation, of 1 to 9.
const LEVEL: u32 = 4;

/// The same for packs of small objects, which lopdf deflates at one of three levels: this is the quick one.
const PACK_LEVEL: u32 = 3;

/// How many objects are packed together: a reader unpacks all to see one.
const PACKED: usize = 500;

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
    save(&mut file)
        .map_err(|error| Mistake::Unwritten { document: laid.about.name.clone(), reason: error.to_string() })
}

/// The bytes of a file. Where a pack happens to end in a carriage return, which reads as part of the line end that
/// follows it, the packs are made one object smaller, which no reader sees.
fn save(file: &mut lopdf::Document) -> std::io::Result<Vec<u8>> {
    let ends_amiss = memchr::memmem::Finder::new(b"\r\nendstream");
    let objects = file.max_id;
    let mut packed = PACKED;
    loop {
        let mut bytes = Vec::new();
        // The tree is thousands of small objects: packed and deflated they take a sixth of the room.
        let options = SaveOptions::builder()
            .use_object_streams(true)
            .use_xref_streams(true)
            .max_objects_per_stream(packed)
            .compression_level(PACK_LEVEL)
            .build();
        file.max_id = objects;
        file.save_with_options(&mut bytes, options)?;
        if packed == 1 || ends_amiss.find(&bytes).is_none() {
            return Ok(bytes);
        }
        packed -= 1;
    }
}

/// Deflates every stream that may be and is not.
fn compress(file: &mut lopdf::Document) {
    let mut deflater = Deflater::new();
    for object in file.objects.values_mut() {
        if let lopdf::Object::Stream(stream) = object {
            deflater.deflate(stream);
        }
    }
}

/// Deflates streams, at a level that takes a third of the time of the best and a few per cent more room. One serves
/// many: its tables are larger than most streams.
struct Deflater(Compress);

impl Deflater {
    fn new() -> Self {
        Self(Compress::new(Compression::new(LEVEL), true))
    }

    fn deflate(&mut self, stream: &mut lopdf::Stream) {
        if !stream.allows_compression || stream.dict.has(b"Filter") {
            return;
        }
        self.0.reset();
        // What does not fit in the room of the original is no smaller and stays as it is.
        let mut smaller = Vec::with_capacity(stream.content.len());
        let done = self.0.compress_vec(&stream.content, &mut smaller, FlushCompress::Finish);
        // A carriage return at the end would be taken for part of the line end that follows it.
        if matches!(done, Ok(Status::StreamEnd)) && smaller.last() != Some(&b'\r') {
            stream.dict.set("Filter", "FlateDecode");
            smaller.shrink_to_fit();
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
