//! Laid documents to files for a word processor: Office Open XML as ISO/IEC 29500 has it, written part by part.
//!
//! Comes in: a document of blocks, and the same on pages, from which page numbers and the widths of columns are taken.
//! Goes out: the bytes of a file in which every number counts by itself, every look is a style and every reference a
//! field. The same document gives the same bytes.

mod body;
mod emf;
mod furniture;
mod kept;
mod left;
mod numbering;
mod office;
mod package;
mod parts;
mod passage;
mod picture;
mod role;
mod runs;
mod section;
mod styles;
mod table;
mod targets;
mod tree;
mod xml;

pub use kept::OfficeText;
pub use left::Left;
pub use office::OfficeStyles;

use body::Body;
use package::{Part, packed};
use xml::Xml;

use super::laid::Laid;
use super::mistake::Mistake;
use super::tokens::Pt;
use crate::document::block::Document;

const MAIN: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
const RELATIONS: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PLACING: &str = "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing";
const COMPATIBLE: &str = "http://schemas.openxmlformats.org/markup-compatibility/2006";
const LATER: &str = "http://schemas.microsoft.com/office/word/2010/wordml";

/// A file, and the words of an office that it keeps.
#[derive(Debug)]
pub struct Word {
    /// The file.
    pub bytes: Vec<u8>,
    /// What an office changed in the file before, clause by clause.
    pub office: Vec<OfficeText>,
}

/// Writes a document over what was left of the file before, if there was one, in the styles of an office, if it has any.
pub(crate) fn write(
    document: &Document,
    laid: &Laid,
    left: Option<&Left>,
    office: Option<&OfficeStyles>,
) -> Result<Word, Mistake> {
    let mut body = Body::of(document, laid, left);
    let kept = std::mem::take(&mut body.office);
    let pages = laid.pages();
    let mut parts = vec![
        Part::new("[Content_Types].xml", parts::content_types(false)),
        Part::new("_rels/.rels", parts::package_relations()),
        Part::new("docProps/core.xml", parts::core(document)),
        Part::new("docProps/app.xml", parts::app(pages)),
        Part::new("word/_rels/document.xml.rels", parts::document_relations(body.pictures.len(), false)),
        Part::new("word/styles.xml", styles::styles(document, &laid.tokens, office)),
        Part::new("word/numbering.xml", numbering::numbering(document, &laid.tokens)),
        Part::new("word/settings.xml", parts::settings(document)),
        Part::new("word/fontTable.xml", parts::fonts()),
        Part::new("word/header1.xml", furniture::head(document)),
        Part::new("word/footer1.xml", furniture::foot(document, pages)),
    ];
    for (number, drawing) in (1..).zip(&body.pictures) {
        parts.push(Part::new(&format!("word/media/figure{number}.emf"), emf::emf(drawing)));
    }
    parts.push(Part::new("word/document.xml", whole(body.xml)));
    let unwritten = |reason| Mistake::Unwritten { document: document.name.clone(), reason };
    Ok(Word { bytes: packed(&parts).map_err(unwritten)?, office: kept })
}

/// The part `word/document.xml`.
fn whole(body: Xml) -> Vec<u8> {
    let mut xml = Xml::file();
    let spaces = [
        ("xmlns:w", MAIN),
        ("xmlns:r", RELATIONS),
        ("xmlns:wp", PLACING),
        ("xmlns:mc", COMPATIBLE),
        ("xmlns:w14", LATER),
        ("mc:Ignorable", "w14"),
    ];
    xml.within("w:document", &spaces, |xml| {
        xml.within("w:body", &[], |xml| xml.add(&body.bytes()));
    });
    xml.bytes()
}

/// A length in twentieths of a point.
fn twips(length: Pt) -> String {
    // adding nought turns a negative nought into a plain one
    format!("{:.0}", (length * 20.0).round() + 0.0)
}
