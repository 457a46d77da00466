//! Reads a file into what the checks look at: elements of the tree, stretches of its pages, fields to press, the outline.

use std::collections::BTreeMap;

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

/// An element of the tree.
pub(super) struct Element {
    pub(super) id: ObjectId,
    pub(super) tag: String,
    pub(super) says: Dictionary,
    /// How deep it lies.
    pub(super) depth: usize,
    /// The element around it, by its place in the list.
    pub(super) around: Option<usize>,
    /// The stretches that it holds itself: page and number.
    pub(super) stretches: Vec<(usize, i64)>,
    /// The fields that it holds itself.
    pub(super) fields: Vec<ObjectId>,
}

/// A stretch of marked content on a page.
pub(super) struct Marked {
    /// `None`: an artifact.
    pub(super) number: Option<i64>,
    /// How many stretches it lies in that are numbered or artifacts.
    pub(super) within: usize,
}

/// A line of the outline.
pub(super) struct Line {
    pub(super) depth: usize,
    pub(super) title: String,
    pub(super) page: Option<usize>,
    pub(super) height: f32,
}

pub(super) struct Read {
    pub(super) file: Document,
    pub(super) pages: Vec<ObjectId>,
    /// In the order in which they are read aloud.
    pub(super) elements: Vec<Element>,
    /// By page.
    pub(super) marked: Vec<Vec<Marked>>,
    /// How often something is painted outside every stretch.
    pub(super) bare: usize,
    /// By page: the colour of each stretch of glyphs as its share of red, green and blue.
    pub(super) inks: Vec<[f32; 3]>,
    /// Fields to press, with their page.
    pub(super) fields: BTreeMap<ObjectId, usize>,
    pub(super) outline: Vec<Line>,
}

impl Read {
    pub(super) fn of(file: Document) -> Self {
        let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
        let mut read = Self {
            file,
            pages,
            elements: Vec::new(),
            marked: Vec::new(),
            bare: 0,
            inks: Vec::new(),
            fields: BTreeMap::new(),
            outline: Vec::new(),
        };
        read.contents();
        read.annotations();
        let root = read.catalog_entry("StructTreeRoot");
        if let Some(root) = root {
            read.kids(&root, None, None, 0);
        }
        let outline = read.catalog_entry("Outlines");
        if let Some(outline) = outline {
            read.lines(&outline, 1);
        }
        read
    }

    /// A dictionary that the catalogue names.
    pub(super) fn catalog_entry(&self, name: &str) -> Option<Dictionary> {
        self.dictionary(self.file.catalog().ok()?.get(name.as_bytes()).ok()?)
    }

    /// A dictionary, or the one that is referred to.
    pub(super) fn dictionary(&self, object: &Object) -> Option<Dictionary> {
        self.file.dereference(object).ok()?.1.as_dict().ok().cloned()
    }

    /// A list, or the one that is referred to; a single thing as a list of one.
    pub(super) fn list(&self, object: &Object) -> Vec<Object> {
        match self.file.dereference(object) {
            Ok((_, Object::Array(list))) => list.clone(),
            _ => vec![object.clone()],
        }
    }

    pub(super) fn page_of(&self, object: &Object) -> Option<usize> {
        let id = object.as_reference().ok()?;
        self.pages.iter().position(|page| *page == id)
    }

    fn kids(&mut self, of: &Dictionary, around: Option<usize>, page: Option<usize>, depth: usize) {
        let Ok(kids) = of.get(b"K") else { return };
        let page = of.get(b"Pg").ok().and_then(|page| self.page_of(page)).or(page);
        for kid in self.list(&kids.clone()) {
            if let Ok(number) = kid.as_i64() {
                self.hold(around, |element| element.stretches.push((page.unwrap_or(usize::MAX), number)));
                continue;
            }
            let Some(says) = self.dictionary(&kid) else { continue };
            let own_page = says.get(b"Pg").ok().and_then(|page| self.page_of(page)).or(page);
            match says.get(b"Type").and_then(Object::as_name) {
                Ok(b"MCR") => {
                    let number = says.get(b"MCID").unwrap().as_i64().unwrap();
                    self.hold(around, |element| element.stretches.push((own_page.unwrap(), number)));
                }
                Ok(b"OBJR") => {
                    let field = says.get(b"Obj").unwrap().as_reference().unwrap();
                    self.hold(around, |element| element.fields.push(field));
                }
                _ => {
                    let tag = says.get(b"S").and_then(Object::as_name).unwrap_or_default();
                    self.elements.push(Element {
                        id: kid.as_reference().unwrap(),
                        tag: String::from_utf8(tag.to_vec()).unwrap(),
                        says: says.clone(),
                        depth,
                        around,
                        stretches: Vec::new(),
                        fields: Vec::new(),
                    });
                    let own = self.elements.len() - 1;
                    self.kids(&says, Some(own), own_page, depth + 1);
                }
            }
        }
    }

    fn hold(&mut self, element: Option<usize>, hold: impl FnOnce(&mut Element)) {
        hold(&mut self.elements[element.unwrap()]);
    }

    fn contents(&mut self) {
        for page in self.pages.clone() {
            let content = Content::decode(&self.file.get_page_content(page)).unwrap();
            let mut open: Vec<bool> = Vec::new();
            let mut marked = Vec::new();
            let mut ink = [0.0; 3];
            for operation in &content.operations {
                match operation.operator.as_str() {
                    "BMC" | "BDC" => {
                        let tag = operation.operands[0].as_name().unwrap();
                        let says = operation.operands.get(1).and_then(|says| says.as_dict().ok());
                        let number = says.and_then(|says| says.get(b"MCID").ok()?.as_i64().ok());
                        let counts = number.is_some() || tag == b"Artifact";
                        if counts {
                            let within = open.iter().filter(|counts| **counts).count();
                            marked.push(Marked { number, within });
                        }
                        open.push(counts);
                    }
                    "EMC" => drop(open.pop()),
                    "rg" => {
                        for (part, operand) in ink.iter_mut().zip(&operation.operands) {
                            *part = operand.as_float().unwrap();
                        }
                    }
                    "TJ" | "Tj" | "S" | "f" | "b" | "B" => {
                        self.bare += usize::from(!open.contains(&true));
                        if operation.operator.starts_with('T') {
                            self.inks.push(ink);
                        }
                    }
                    _ => {}
                }
            }
            self.marked.push(marked);
        }
    }

    fn annotations(&mut self) {
        for (at, page) in self.pages.clone().into_iter().enumerate() {
            let says = self.file.get_dictionary(page).unwrap();
            let Ok(found) = says.get(b"Annots").cloned() else { continue };
            for field in self.list(&found) {
                self.fields.insert(field.as_reference().unwrap(), at);
            }
        }
    }

    fn lines(&mut self, of: &Dictionary, depth: usize) {
        let mut next = of.get(b"First").ok().cloned();
        while let Some(line) = next.take().and_then(|line| self.dictionary(&line)) {
            let to = line.get(b"Dest").ok().map(|to| self.list(to)).unwrap_or_default();
            let title = line.get(b"Title").and_then(Object::as_str).unwrap_or_default();
            self.outline.push(Line {
                depth,
                title: words(title),
                page: to.first().and_then(|page| self.page_of(page)),
                height: to.get(3).and_then(|height| height.as_float().ok()).unwrap_or(-1.0),
            });
            self.lines(&line, depth + 1);
            next = line.get(b"Next").ok().cloned();
        }
    }

    /// What is read aloud on a page and beside it, as a program that copies text gives it.
    pub(super) fn text(&self, page: usize) -> String {
        self.file.extract_text(&[u32::try_from(page + 1).unwrap()]).unwrap_or_default()
    }
}

/// A string of a file as words.
pub(super) fn words(bytes: &[u8]) -> String {
    match bytes {
        [0xFE, 0xFF, units @ ..] => {
            let units: Vec<u16> =
                units.chunks_exact(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
            String::from_utf16(&units).unwrap()
        }
        _ => String::from_utf8_lossy(bytes).into_owned(),
    }
}
