//! The outline: headings nested as they are numbered, each with its height on the page.

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat, dictionary};

use super::finish::destination;
use super::paint::utf16;
use crate::render::laid::{Entry, Laid};

/// A heading with what lies under it.
struct Node<'a> {
    entry: &'a Entry,
    under: Vec<Node<'a>>,
}

/// Adds the outline; `None` if the document has no headings.
pub(super) fn add(laid: &Laid, file: &mut Document, pages: &[ObjectId]) -> Option<ObjectId> {
    let nodes = nest(&laid.outline);
    if nodes.is_empty() {
        return None;
    }
    let root = file.new_object_id();
    let (first, last, count) = siblings(&nodes, root, file, pages)?;
    let outline = dictionary! { "Type" => "Outlines", "First" => first, "Last" => last, "Count" => count };
    file.set_object(root, outline);
    Some(root)
}

/// Nests headings: one lies under the nearest before it of a higher level.
fn nest(entries: &[Entry]) -> Vec<Node<'_>> {
    let mut nodes = Vec::new();
    let mut rest = entries;
    while let Some((entry, after)) = rest.split_first() {
        let deeper = after.iter().take_while(|next| next.level > entry.level).count();
        let (under, behind) = after.split_at(deeper);
        nodes.push(Node { entry, under: nest(under) });
        rest = behind;
    }
    nodes
}

/// Writes nodes side by side; gives the first, the last and how many lines they take.
fn siblings(
    nodes: &[Node<'_>],
    parent: ObjectId,
    file: &mut Document,
    pages: &[ObjectId],
) -> Option<(ObjectId, ObjectId, i64)> {
    let ids: Vec<ObjectId> = nodes.iter().map(|_| file.new_object_id()).collect();
    let mut count = 0;
    for (at, (node, id)) in nodes.iter().zip(&ids).enumerate() {
        let mut item = item(node.entry, parent, pages);
        if let Some(before) = at.checked_sub(1).and_then(|before| ids.get(before)) {
            item.set("Prev", *before);
        }
        if let Some(after) = ids.get(at + 1) {
            item.set("Next", *after);
        }
        if let Some((first, last, inner)) = siblings(&node.under, *id, file, pages) {
            item.set("First", first);
            item.set("Last", last);
            item.set("Count", inner);
            count += inner;
        }
        count += 1;
        file.set_object(*id, item);
    }
    Some((*ids.first()?, *ids.last()?, count))
}

fn item(entry: &Entry, parent: ObjectId, pages: &[ObjectId]) -> Dictionary {
    let mut item = dictionary! {
        "Title" => Object::String(utf16(&entry.title), StringFormat::Hexadecimal),
        "Parent" => parent,
    };
    if let Some(place) = destination(entry.spot, pages) {
        item.set("Dest", place);
    }
    item
}
