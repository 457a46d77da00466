//! For each check a sound file spoiled in one way.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId, dictionary};

pub(crate) type Spoil = fn(&mut Document);

/// The check, what is done, and how.
pub(crate) const FAULTS: [(&str, &str, Spoil); 37] = [
    ("F01", "no title", |file| drop(info(file).remove(b"Title"))),
    ("F01", "a person named", |file| info(file).set("Author", Object::string_literal("A person"))),
    ("F01", "no packet", |file| drop(file.catalog_mut().unwrap().remove(b"Metadata"))),
    ("F02", "a font left out", |file| drop(of_type(file, "FontDescriptor").remove(b"FontFile2"))),
    ("F02", "a font that says nothing", |file| drop(of_type(file, "Font").remove(b"ToUnicode"))),
    ("F03", "no outline", |file| drop(file.catalog_mut().unwrap().remove(b"Outlines"))),
    ("F03", "a line to another page", |file| {
        let last = *file.get_pages().values().last().unwrap();
        let line = line_of_outline(file);
        line.set("Dest", vec![last.into(), "XYZ".into(), Object::Null, 100.into(), Object::Null]);
    }),
    ("F03", "a line over the page", |file| {
        let line = line_of_outline(file);
        let Ok(Object::Array(to)) = line.get_mut(b"Dest") else { panic!() };
        to[3] = 5000.into();
    }),
    ("F04", "a link out of the file", |file| {
        let action = dictionary! { "S" => "URI", "URI" => Object::string_literal("file:///somewhere") };
        of_subtype(file, "Link").set("A", action);
    }),
    ("F04", "a link to nowhere", |file| drop(of_subtype(file, "Link").remove(b"Dest"))),
    ("F05", "words that say nothing", |file| {
        element(file, "Figure", 0).set("Alt", Object::string_literal("A chart"));
    }),
    ("F05", "two alike", |file| {
        let said = element(file, "Figure", 0).get(b"Alt").unwrap().clone();
        element(file, "Figure", 1).set("Alt", said);
    }),
    ("F06", "a page that does not say which it is", |file| {
        let page = *file.get_pages().get(&2).unwrap();
        edit(file, page, |operations| operations.retain(|one| one.operator != "TJ"));
    }),
    ("F06", "a page that does not name its paper", |file| {
        let page = *file.get_pages().get(&2).unwrap();
        edit(file, page, |operations| {
            // the foot is painted last: what stands left in it, what stands right
            let words: Vec<usize> =
                (0..operations.len()).filter(|at| operations[*at].operator == "TJ").collect();
            operations.remove(words[words.len() - 2]);
        });
    }),
    ("F08", "not marked", |file| drop(file.catalog_mut().unwrap().remove(b"MarkInfo"))),
    ("F08", "suspect", |file| {
        file.catalog_mut().unwrap().set("MarkInfo", dictionary! { "Marked" => true, "Suspects" => true });
    }),
    ("F09", "no language", |file| drop(file.catalog_mut().unwrap().remove(b"Lang"))),
    ("F10", "the title not shown", |file| drop(file.catalog_mut().unwrap().remove(b"ViewerPreferences"))),
    ("F11", "painted outside", |file| {
        let page = *file.get_pages().get(&1).unwrap();
        edit(file, page, |operations| {
            operations.push(Operation::new("m", vec![0.into(), 0.into()]));
            operations.push(Operation::new("l", vec![9.into(), 9.into()]));
            operations.push(Operation::new("S", Vec::new()));
        });
    }),
    ("F11", "a stretch within a stretch", |file| {
        let page = *file.get_pages().get(&1).unwrap();
        edit(file, page, |operations| {
            let first = operations.iter().position(|one| one.operator == "BDC").unwrap();
            operations.insert(first + 1, Operation::new("BMC", vec!["Artifact".into()]));
            operations.insert(first + 2, Operation::new("EMC", Vec::new()));
        });
    }),
    ("F11", "a stretch of no element", |file| {
        let page = *file.get_pages().get(&1).unwrap();
        edit(file, page, |operations| {
            let says = dictionary! { "MCID" => 9999 };
            operations.push(Operation::new("BDC", vec!["P".into(), says.into()]));
            operations.push(Operation::new("EMC", Vec::new()));
        });
    }),
    ("F11", "an element of no stretch", |file| element(file, "P", 0).set("K", vec![Object::Integer(9998)])),
    ("F12", "no title over the headings", |file| element(file, "H1", 0).set("S", "P")),
    ("F12", "headings without levels", |file| element(file, "P", 0).set("S", "H")),
    ("F13", "a row with a cell too many", |file| {
        let cell =
            file.add_object(dictionary! { "Type" => "StructElem", "S" => "TD", "K" => Vec::<Object>::new() });
        let Ok(Object::Array(cells)) = element(file, "TR", 1).get_mut(b"K") else { panic!() };
        cells.push(cell.into());
    }),
    ("F13", "a head without scope", |file| drop(element(file, "TH", 0).remove(b"A"))),
    ("F13", "two heads", |file| element(file, "TBody", 0).set("S", "THead")),
    ("F14", "a figure without words", |file| drop(element(file, "Figure", 0).remove(b"Alt"))),
    ("F15", "a field of no link", |file| drop(of_subtype(file, "Link").remove(b"StructParent"))),
    ("F15", "a field that says nothing", |file| drop(of_subtype(file, "Link").remove(b"Contents"))),
    ("F15", "a page in another order", |file| {
        let page = *file.get_pages().get(&1).unwrap();
        file.get_dictionary_mut(page).unwrap().set("Tabs", "R");
    }),
    ("F16", "a newer version", |file| "2.0".clone_into(&mut file.version)),
    ("F16", "a locked file", |file| file.trailer.set("Encrypt", dictionary! { "Filter" => "Standard" })),
    ("F16", "no standard claimed", |file| {
        let packet = file.catalog().unwrap().get(b"Metadata").unwrap().as_reference().unwrap();
        let packet = file.get_object_mut(packet).unwrap().as_stream_mut().unwrap();
        let said = String::from_utf8(packet.content.clone()).unwrap();
        packet.set_plain_content(said.replace("<pdfuaid:part>1</pdfuaid:part>", "").into_bytes());
    }),
    ("F19", "a clock", |file| info(file).set("ModDate", Object::string_literal("D:20260101093000Z"))),
    ("7.9", "a note without a name", |file| drop(element(file, "Note", 0).remove(b"ID"))),
    ("F20", "faint words", |file| {
        let page = *file.get_pages().get(&1).unwrap();
        edit(file, page, |operations| {
            let at = operations.iter().position(|one| one.operator == "BT").unwrap();
            operations.insert(at, Operation::new("rg", vec![0.7.into(), 0.7.into(), 0.7.into()]));
        });
    }),
];

fn info(file: &mut Document) -> &mut Dictionary {
    let info = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
    file.get_dictionary_mut(info).unwrap()
}

/// The first dictionary for which something holds.
fn first(file: &mut Document, wanted: impl Fn(&Dictionary) -> bool) -> &mut Dictionary {
    nth(file, 0, wanted)
}

fn nth(file: &mut Document, at: usize, wanted: impl Fn(&Dictionary) -> bool) -> &mut Dictionary {
    let found: Vec<ObjectId> = file
        .objects
        .iter()
        .filter(|(_, object)| object.as_dict().is_ok_and(&wanted))
        .map(|(id, _)| *id)
        .collect();
    file.get_dictionary_mut(found[at]).unwrap()
}

fn is(dictionary: &Dictionary, entry: &str, name: &str) -> bool {
    dictionary.get(entry.as_bytes()).and_then(Object::as_name).is_ok_and(|own| own == name.as_bytes())
}

fn of_type<'f>(file: &'f mut Document, name: &str) -> &'f mut Dictionary {
    let is_compound = |font: &Dictionary| name != "Font" || is(font, "Subtype", "Type0");
    first(file, |dictionary| is(dictionary, "Type", name) && is_compound(dictionary))
}

fn of_subtype<'f>(file: &'f mut Document, name: &str) -> &'f mut Dictionary {
    first(file, |dictionary| is(dictionary, "Subtype", name))
}

fn element<'f>(file: &'f mut Document, tag: &str, at: usize) -> &'f mut Dictionary {
    nth(file, at, |dictionary| is(dictionary, "Type", "StructElem") && is(dictionary, "S", tag))
}

fn line_of_outline(file: &mut Document) -> &mut Dictionary {
    first(file, |dictionary| dictionary.has(b"Dest") && dictionary.has(b"Title"))
}

fn edit(file: &mut Document, page: ObjectId, edit: impl Fn(&mut Vec<Operation>)) {
    let mut content = Content::decode(&file.get_page_content(page)).unwrap();
    edit(&mut content.operations);
    file.change_page_content(page, content.encode().unwrap()).unwrap();
}
