//! What `printpdf` does not write: version, language, metadata, meaning of colours, outline, links, page labels.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use rayon::prelude::*;

use super::Deflater;
use super::content::content;
use super::paint::{Fonts, points, utf16};
use super::{outline, says, tags, tree};
use crate::render::laid::{Laid, Mark, Spot};
use crate::render::tokens::Pt;

/// The fewest pages that one worker writes: each makes tables of its own to deflate with.
const DEFLATED_TOGETHER: usize = 8;

/// Room of a link over and under its words, as a share of the type size.
const LINK_ABOVE: f64 = 0.85;
const LINK_BELOW: f64 = 0.25;

/// Completes a file in place.
pub(super) fn finish(laid: &Laid, fonts: &Fonts, file: &mut Document) {
    "1.7".clone_into(&mut file.version);
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let links = links(laid, file, &pages);
    contents(laid, fonts, file, &pages);
    let outline = outline::add(laid, file, &pages);
    let metadata = file.add_object(says::metadata(laid));
    let info = file.add_object(says::info(laid));
    let colours = file.add_object(says::colours());
    file.trailer.set("Info", info);
    let Ok(catalog) = file.catalog_mut() else { return };
    catalog.set("Lang", Object::string_literal(laid.about.language.as_str()));
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
    catalog.set("Metadata", metadata);
    catalog.set("OutputIntents", vec![says::output_intent(colours).into()]);
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    catalog.set("PageLabels", dictionary! { "Nums" => vec![0.into(), dictionary! { "S" => "D" }.into()] });
    if let Some(outline) = outline {
        catalog.set("Outlines", outline);
        catalog.set("PageMode", "UseOutlines");
    }
    file.prune_objects();
    // Nothing of the tree is ever to be pruned, and it is most of the objects.
    let tags = tags::add(&tree::tree(laid), &links, file, &pages);
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("StructTreeRoot", tags);
    }
}

/// Writes what each page shows, deflated at once: of thousands of pages the plain text would fill the memory.
fn contents(laid: &Laid, fonts: &Fonts, file: &mut Document, pages: &[ObjectId]) {
    let shown =
        laid.pages.par_iter().with_min_len(DEFLATED_TOGETHER).map_init(Deflater::new, |deflater, page| {
            let mut stream = Stream::new(Dictionary::new(), content(page, fonts));
            deflater.deflate(&mut stream);
            stream
        });
    for (stream, id) in shown.collect::<Vec<_>>().into_iter().zip(pages) {
        let stream = file.add_object(stream);
        if let Ok(sheet) = file.get_dictionary_mut(*id) {
            sheet.set("Contents", stream);
        }
    }
}

/// A place as a PDF destination.
pub(super) fn destination(spot: Spot, pages: &[ObjectId]) -> Option<Object> {
    let page = pages.get(spot.page)?;
    Some(Object::Array(vec![
        Object::Reference(*page),
        "XYZ".into(),
        Object::Null,
        Object::Real(points(spot.y).0),
        Object::Null,
    ]))
}

/// The links of the pages: by page and stretch of marked content, the fields that can be pressed there.
pub(super) type Links = BTreeMap<(usize, u32), Vec<ObjectId>>;

/// Gives every page its links, or none at all instead of an empty list.
fn links(laid: &Laid, file: &mut Document, pages: &[ObjectId]) -> Links {
    let mut links = Links::new();
    for (at, (page, id)) in laid.pages.iter().zip(pages).enumerate() {
        let mut found: Vec<Object> = Vec::new();
        for sequence in page.sequences() {
            let (Some(mcid), Some(link)) = (sequence.mcid, sequence.link) else { continue };
            for annotation in annotations(laid, link, sequence.marks, pages) {
                let annotation = file.add_object(annotation);
                links.entry((at, mcid)).or_default().push(annotation);
                found.push(Object::Reference(annotation));
            }
        }
        let Ok(sheet) = file.get_dictionary_mut(*id) else { continue };
        if found.is_empty() {
            sheet.remove(b"Annots");
        } else {
            sheet.set("Annots", found);
        }
    }
    links
}

fn annotations(laid: &Laid, link: u32, marks: &[Mark], pages: &[ObjectId]) -> Vec<Dictionary> {
    let target = usize::try_from(link).ok().and_then(|link| laid.links.get(link));
    let spot = target.and_then(|target| laid.anchors.get(target)).copied();
    let marks = marks.iter().filter_map(|mark| {
        let (Mark::Text { x, y, run }, Some(spot)) = (mark, spot) else { return None };
        let size = run.look.size;
        let rect = [*x, y - LINK_BELOW * size, x + run.width, y + LINK_ABOVE * size];
        Some(dictionary! {
            "Type" => "Annot",
            "Subtype" => "Link",
            "Rect" => rect.iter().map(|edge: &Pt| Object::Real(points(*edge).0)).collect::<Vec<_>>(),
            "Border" => vec![0.into(), 0.into(), 0.into()],
            "F" => 4,
            "Contents" => Object::String(utf16(run.text.trim()), StringFormat::Hexadecimal),
            "Dest" => destination(spot, pages)?,
        })
    });
    marks.collect()
}

/// A stream that is left as it is, so that any program can read it.
pub(super) fn plain_stream(dictionary: Dictionary, content: Vec<u8>) -> Stream {
    Stream::new(dictionary, content).with_compression(false)
}
