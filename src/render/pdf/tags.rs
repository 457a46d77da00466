//! The tree of a file as its objects, and the way back from each stretch of marked content and each link to its element.

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat, dictionary};

use super::finish::Links;
use super::paint::{points, utf16};
use super::tree::{Element, Kid, Stretch, Tag};

/// Writes a tree into a file, and gives back its root.
pub(super) fn add(tree: &Element, links: &Links, file: &mut Document, pages: &[ObjectId]) -> ObjectId {
    let root = file.new_object_id();
    let mut writer = Writer {
        file,
        pages,
        links,
        owners: vec![Vec::new(); pages.len()],
        pressed: Vec::new(),
        notes: Vec::new(),
    };
    let document = writer.element(tree, root);
    let Writer { owners, pressed, notes, .. } = writer;
    let next = owners.len() + pressed.len();
    let mut entries = Vec::new();
    for (key, owners) in owners.into_iter().enumerate() {
        let owners = owners.into_iter().map(|owner| owner.map_or(Object::Null, Object::Reference));
        entries.extend([number(key), Object::Array(owners.collect())]);
    }
    for (at, link) in pressed.into_iter().enumerate() {
        entries.extend([number(pages.len() + at), Object::Reference(link)]);
    }
    let parents = file.add_object(dictionary! { "Nums" => entries });
    let mut root_says = dictionary! {
        "Type" => "StructTreeRoot",
        "K" => Object::Reference(document),
        "ParentTree" => parents,
        "ParentTreeNextKey" => number(next),
    };
    if !notes.is_empty() {
        let names = notes.into_iter().flat_map(|(name, note)| [text(&name), Object::Reference(note)]);
        let names = file.add_object(dictionary! { "Names" => names.collect::<Vec<_>>() });
        root_says.set("IDTree", names);
    }
    file.objects.insert(root, Object::Dictionary(root_says));
    for (key, page) in pages.iter().enumerate() {
        if let Ok(sheet) = file.get_dictionary_mut(*page) {
            sheet.set("StructParents", number(key));
            sheet.set("Tabs", "S");
        }
    }
    root
}

struct Writer<'a> {
    file: &'a mut Document,
    pages: &'a [ObjectId],
    links: &'a Links,
    /// By page and number: the element of each stretch.
    owners: Vec<Vec<Option<ObjectId>>>,
    /// The element of each link, in the order of the links' own numbers.
    pressed: Vec<ObjectId>,
    /// Names of notes, ascending.
    notes: Vec<(String, ObjectId)>,
}

impl Writer<'_> {
    fn element(&mut self, element: &Element, parent: ObjectId) -> ObjectId {
        let id = self.file.new_object_id();
        let mut says = dictionary! { "Type" => "StructElem", "S" => name(&element.tag), "P" => parent };
        self.describe(&element.tag, id, &mut says);
        let mut own_page = None;
        let mut kids = Vec::new();
        for kid in &element.kids {
            match kid {
                Kid::Element(inner) => kids.push(Object::Reference(self.element(inner, id))),
                Kid::Stretch(stretch) if stretch.is_link => kids.push(self.link(*stretch, id)),
                Kid::Stretch(stretch) => {
                    own_page = own_page.or(Some(stretch.page));
                    kids.push(self.stretch(*stretch, id, own_page));
                }
            }
        }
        if let Some(page) = own_page.and_then(|page| self.pages.get(page)) {
            says.set("Pg", *page);
        }
        says.set("K", kids);
        self.file.objects.insert(id, Object::Dictionary(says));
        id
    }

    /// What some kinds say besides.
    fn describe(&mut self, tag: &Tag, id: ObjectId, says: &mut Dictionary) {
        match tag {
            Tag::List(numbering) => {
                says.set("A", dictionary! { "O" => "List", "ListNumbering" => *numbering });
            }
            Tag::ColumnHead => says.set("A", dictionary! { "O" => "Table", "Scope" => "Column" }),
            Tag::Note => {
                let name = format!("note-{:06}", self.notes.len() + 1);
                says.set("ID", text(&name));
                self.notes.push((name, id));
            }
            Tag::Figure(alternative, edges) => {
                says.set("Alt", Object::String(utf16(alternative), StringFormat::Hexadecimal));
                if let Some(edges) = edges {
                    let edges = edges.map(|edge| Object::Real(points(edge).0));
                    says.set("A", dictionary! { "O" => "Layout", "BBox" => edges.to_vec() });
                }
            }
            _ => {}
        }
    }

    /// A stretch that leads somewhere, as an element with the fields to press.
    fn link(&mut self, stretch: Stretch, parent: ObjectId) -> Object {
        let Some(fields) = self.links.get(&(stretch.page, stretch.mcid)) else {
            return self.stretch(stretch, parent, None);
        };
        let id = self.file.new_object_id();
        let mut kids = vec![self.stretch(stretch, id, Some(stretch.page))];
        let page = self.pages.get(stretch.page).copied().unwrap_or_default();
        for field in fields {
            kids.push(dictionary! { "Type" => "OBJR", "Pg" => page, "Obj" => *field }.into());
            let key = self.pages.len() + self.pressed.len();
            self.pressed.push(id);
            if let Ok(field) = self.file.get_dictionary_mut(*field) {
                field.set("StructParent", number(key));
            }
        }
        let says =
            dictionary! { "Type" => "StructElem", "S" => "Link", "P" => parent, "Pg" => page, "K" => kids };
        self.file.objects.insert(id, Object::Dictionary(says));
        Object::Reference(id)
    }

    /// A stretch as something in an element: its bare number where it lies on the element's own page.
    fn stretch(&mut self, stretch: Stretch, element: ObjectId, own_page: Option<usize>) -> Object {
        let at = usize::try_from(stretch.mcid).unwrap_or(usize::MAX);
        if let Some(owners) = self.owners.get_mut(stretch.page) {
            owners.resize(owners.len().max(at.saturating_add(1)), None);
            if let Some(owner) = owners.get_mut(at) {
                *owner = Some(element);
            }
        }
        if own_page == Some(stretch.page) {
            return i64::from(stretch.mcid).into();
        }
        let page = self.pages.get(stretch.page).copied().unwrap_or_default();
        dictionary! { "Type" => "MCR", "Pg" => page, "MCID" => i64::from(stretch.mcid) }.into()
    }
}

/// The name of a kind in the standard (ISO 32000-1, 14.8.4).
fn name(tag: &Tag) -> &'static str {
    match tag {
        Tag::Document => "Document",
        Tag::Section => "Sect",
        Tag::Group => "Div",
        Tag::Heading(1) => "H1",
        Tag::Heading(2) => "H2",
        Tag::Heading(3) => "H3",
        Tag::Heading(_) => "H4",
        Tag::Paragraph => "P",
        Tag::Contents => "TOC",
        Tag::Entry => "TOCI",
        Tag::List(_) => "L",
        Tag::Item => "LI",
        Tag::Label => "Lbl",
        Tag::Body => "LBody",
        Tag::Note => "Note",
        Tag::Table => "Table",
        Tag::Caption => "Caption",
        Tag::Head => "THead",
        Tag::Rows => "TBody",
        Tag::Row => "TR",
        Tag::ColumnHead => "TH",
        Tag::Cell => "TD",
        Tag::Figure(..) => "Figure",
    }
}

fn number(number: usize) -> Object {
    Object::Integer(i64::try_from(number).unwrap_or(i64::MAX))
}

fn text(words: &str) -> Object {
    Object::String(words.as_bytes().to_vec(), StringFormat::Literal)
}
