//! What an office left of a file that we wrote: each passage with the words it holds now, so that words that somebody
//! changed are kept when the file is written again.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::passage::{SAID, Tag, digest_of, said_as_one};
use super::role::{Role, Stress};
use super::tree::Node;

/// The largest part that is read, in bytes.
const LARGEST: u64 = 64 * 1024 * 1024;

/// A file as it was found.
#[derive(Debug, Clone, Default)]
pub struct Left {
    passages: Vec<Passage>,
}

/// A passage as it was found.
#[derive(Debug, Clone, Default)]
pub(crate) struct Passage {
    /// Its name.
    pub(crate) name: String,
    /// Digest of the words that were written into it; `None` for what was added behind it.
    digest: Option<String>,
    /// What it holds.
    pub(crate) pieces: Vec<Piece>,
}

/// A part of a passage.
#[derive(Debug, Clone)]
pub(crate) enum Piece {
    /// A paragraph.
    Paragraph(Paragraph),
    /// A table.
    Table(FoundTable),
}

/// A paragraph.
#[derive(Debug, Clone)]
pub(crate) struct Paragraph {
    /// Its role, as far as its style is one of ours.
    pub(crate) role: Role,
    /// Its runs.
    pub(crate) runs: Vec<Run>,
}

/// A run.
#[derive(Debug, Clone)]
pub(crate) enum Run {
    /// Words.
    Words(String, Option<Stress>),
    /// What a field says and prints.
    Field(String, String),
    /// A new line.
    Break,
}

/// A table: cells by rows, each with its paragraphs.
#[derive(Debug, Clone)]
pub(crate) struct FoundTable {
    /// The name of its style.
    pub(crate) style: String,
    /// Widths of its columns, as written.
    pub(crate) widths: Vec<String>,
    /// How far it stands from the text, as written.
    pub(crate) left: String,
    /// Its rows.
    pub(crate) rows: Vec<Vec<Vec<Paragraph>>>,
}

impl Left {
    /// Reads a file, or says why it is none.
    ///
    /// # Errors
    /// Bytes that are no zip file, one without a document, a document that is no XML.
    pub fn read(bytes: &[u8]) -> Result<Self, String> {
        let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(|error| error.to_string())?;
        let styles = part(&mut zip, "word/styles.xml").and_then(|part| Node::read(&part)).unwrap_or_default();
        let names = styles.children.iter().filter(|style| style.name == "w:style");
        let names = names.map(|style| (style.attribute("w:styleId"), style.value("w:name"))).collect();
        let document = Node::read(&part(&mut zip, "word/document.xml")?)?;
        let body = document.child("w:body").ok_or("it holds no text")?;
        let mut reader = Finder { names, left: Self::default() };
        reader.blocks(&body.children, None);
        Ok(reader.left)
    }

    /// The passage of a name, if it is there.
    pub(crate) fn passage(&self, name: &str) -> Option<&Passage> {
        self.passages.iter().find(|passage| passage.name == name && passage.digest.is_some())
    }

    /// What somebody added behind a passage.
    pub(crate) fn added(&self, name: &str) -> Option<&Passage> {
        self.passages.iter().find(|passage| passage.name == name && passage.digest.is_none())
    }

    /// Every passage, in order.
    pub(crate) fn passages(&self) -> &[Passage] {
        &self.passages
    }
}

impl Passage {
    /// Its words as they count.
    pub(crate) fn words(&self) -> String {
        let mut said = String::new();
        self.each(|paragraph| paragraph.say(&mut said, Fields::Left));
        said_as_one(&said)
    }

    /// Its words as somebody reads them.
    pub(crate) fn shown(&self) -> String {
        let mut said = String::new();
        self.each(|paragraph| paragraph.say(&mut said, Fields::Printed));
        said_as_one(&said)
    }

    /// Whether somebody changed its words since they were written.
    pub(crate) fn is_changed(&self) -> bool {
        self.digest.as_ref().is_none_or(|digest| *digest != digest_of(&self.name, &self.words()))
    }

    fn each(&self, mut see: impl FnMut(&Paragraph)) {
        for piece in &self.pieces {
            match piece {
                Piece::Paragraph(paragraph) => see(paragraph),
                Piece::Table(table) => table.rows.iter().flatten().flatten().for_each(&mut see),
            }
        }
    }
}

/// What to do with fields.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fields {
    /// They change by themselves and do not count.
    Left,
    /// They are read.
    Printed,
}

impl Paragraph {
    fn say(&self, said: &mut String, fields: Fields) {
        for run in &self.runs {
            match run {
                Run::Words(words, _) => said.push_str(&super::xml::spoken(words)),
                Run::Field(_, printed) if fields == Fields::Printed => said.push_str(printed),
                Run::Field(..) => {}
                Run::Break => said.push(' '),
            }
        }
        said.push('\n');
    }

    fn is_empty(&self) -> bool {
        let mut said = String::new();
        self.say(&mut said, Fields::Printed);
        said.trim().is_empty()
    }
}

/// A part of a package.
pub(super) fn part(zip: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<Vec<u8>, String> {
    let part = zip.by_name(name).map_err(|_| format!("it holds no `{name}`"))?;
    let mut read = Vec::new();
    part.take(LARGEST + 1).read_to_end(&mut read).map_err(|error| error.to_string())?;
    if read.len() as u64 > LARGEST { Err(format!("its `{name}` is too large")) } else { Ok(read) }
}

struct Finder<'n> {
    /// Ids of styles with their names.
    names: BTreeMap<&'n str, &'n str>,
    left: Left,
}

impl Finder<'_> {
    /// Blocks, inside a passage or not.
    fn blocks(&mut self, nodes: &[Node], inside: Option<usize>) {
        for node in nodes {
            match node.name.as_str() {
                "w:p" => {
                    let found = self.paragraph(node);
                    if !found.is_empty() && !found.role.is_ours_to_say() {
                        self.put(Piece::Paragraph(found), inside);
                    }
                }
                "w:tbl" => {
                    let table = self.table(node);
                    self.put(Piece::Table(table), inside);
                }
                "w:sdt" => self.control(node, inside),
                "w:moveFrom" | "w:del" | "w:sectPr" => {}
                _ => self.blocks(&node.children, inside),
            }
        }
    }

    fn control(&mut self, node: &Node, inside: Option<usize>) {
        let is_contents = node.child("w:sdtPr").is_some_and(|own| own.child("w:docPartObj").is_some());
        let Some(content) = node.child("w:sdtContent").filter(|_| !is_contents) else { return };
        let Some(tag) = identity(node, content) else { return self.blocks(&content.children, inside) };
        let number = self.left.passages.len();
        self.left.passages.push(Passage { name: tag.name, digest: Some(tag.digest), pieces: Vec::new() });
        self.blocks(&content.children, Some(number));
    }

    /// Puts a piece where it belongs; outside of passages that is behind the last one.
    fn put(&mut self, piece: Piece, inside: Option<usize>) {
        let passages = &mut self.left.passages;
        let place = inside.unwrap_or_else(|| {
            let before = passages.last();
            if before.is_none_or(|before| before.digest.is_some()) {
                let name = before.map(|before| before.name.clone()).unwrap_or_default();
                passages.push(Passage { name, digest: None, pieces: Vec::new() });
            }
            passages.len().saturating_sub(1)
        });
        if let Some(passage) = passages.get_mut(place) {
            passage.pieces.push(piece);
        }
    }

    fn paragraph(&self, node: &Node) -> Paragraph {
        let style = node.child("w:pPr").map_or("", |own| own.value("w:pStyle"));
        // A style that bears an office's name is known by its id.
        let named = self.names.get(style).and_then(|name| Role::named(name));
        let role = named.or_else(|| Role::ALL.into_iter().find(|role| role.id() == style));
        let role = role.unwrap_or(Role::Text).settled();
        let mut line = Line { names: &self.names, runs: Vec::new(), fields: Vec::new() };
        line.runs(&node.children);
        Paragraph { role, runs: line.runs }
    }

    fn table(&self, node: &Node) -> FoundTable {
        let properties = node.child("w:tblPr");
        let style = properties.map_or("", |own| own.value("w:tblStyle"));
        let left = properties.and_then(|own| own.child("w:tblInd")).map_or("0", |own| own.attribute("w:w"));
        let grid = node.child("w:tblGrid").map_or(&[][..], |own| own.children.as_slice());
        let mut rows = Vec::new();
        node.all("w:tr", &mut rows);
        let cells = |row: &Node| {
            let mut cells = Vec::new();
            row.all("w:tc", &mut cells);
            cells.iter().map(|cell| self.cell(cell)).collect()
        };
        FoundTable {
            style: self.names.get(style).map_or(String::new(), |name| (*name).to_owned()),
            widths: grid.iter().map(|column| column.attribute("w:w").to_owned()).collect(),
            left: left.to_owned(),
            rows: rows.into_iter().map(cells).collect(),
        }
    }

    fn cell(&self, cell: &Node) -> Vec<Paragraph> {
        let mut paragraphs = Vec::new();
        cell.all("w:p", &mut paragraphs);
        paragraphs.into_iter().map(|paragraph| self.paragraph(paragraph)).collect()
    }
}

/// The tag of a control of ours: as written, or put together from its title and a bookmark, for programs that drop tags.
fn identity(control: &Node, content: &Node) -> Option<Tag> {
    let properties = control.child("w:sdtPr")?;
    if let Some(tag) = Tag::read(properties.value("w:tag")) {
        return Some(tag);
    }
    let name = properties.value("w:alias");
    let mut marks = Vec::new();
    content.all("w:bookmarkStart", &mut marks);
    let digest = marks.iter().find_map(|mark| mark.attribute("w:name").strip_prefix(SAID))?;
    Tag::read(&format!("{name} {digest}"))
}

/// The runs of a paragraph while they are read.
struct Line<'n> {
    names: &'n BTreeMap<&'n str, &'n str>,
    runs: Vec<Run>,
    /// Fields that are open: what each says and prints, and whether it prints already.
    fields: Vec<(String, String, bool)>,
}

impl Line<'_> {
    fn runs(&mut self, nodes: &[Node]) {
        for node in nodes {
            match node.name.as_str() {
                "w:r" => self.run(node),
                "w:pPr" | "w:sdtPr" | "w:del" | "w:moveFrom" | "mc:Fallback" => {}
                _ => self.runs(&node.children),
            }
        }
    }

    fn run(&mut self, run: &Node) {
        let stress = run.child("w:rPr").and_then(|own| self.stress(own));
        for node in &run.children {
            match node.name.as_str() {
                "w:t" => self.words(&node.words, stress),
                "w:tab" => self.words("\t", stress),
                "w:noBreakHyphen" => self.words("\u{2011}", stress),
                "w:br" | "w:cr" => self.runs.push(Run::Break),
                "w:fldChar" => self.turn(node.attribute("w:fldCharType")),
                "w:instrText" => {
                    if let Some((says, ..)) = self.fields.last_mut() {
                        says.push_str(&node.words);
                    }
                }
                _ => {}
            }
        }
    }

    fn turn(&mut self, kind: &str) {
        match kind {
            "begin" => self.fields.push((String::new(), String::new(), false)),
            "separate" => self.fields.iter_mut().rev().take(1).for_each(|field| field.2 = true),
            _ => {
                if let Some((says, printed, _)) = self.fields.pop() {
                    self.runs.push(Run::Field(says.trim().to_owned(), printed));
                }
            }
        }
    }

    fn words(&mut self, words: &str, stress: Option<Stress>) {
        match self.fields.last_mut() {
            Some((_, printed, true)) => printed.push_str(words),
            Some(_) => {}
            None => self.runs.push(Run::Words(words.to_owned(), stress)),
        }
    }

    /// How a run stands out, by its style or by hand.
    fn stress(&self, own: &Node) -> Option<Stress> {
        let by_style = self.names.get(own.value("w:rStyle")).and_then(|name| Stress::named(name));
        let is_on = |name: &str| {
            own.child(name).is_some_and(|node| !matches!(node.attribute("w:val"), "0" | "false"))
        };
        by_style.or_else(|| match (is_on("w:b"), is_on("w:i")) {
            (true, true) => Some(Stress::StrongEmphasis),
            (true, false) => Some(Stress::Strong),
            (false, true) => Some(Stress::Emphasis),
            (false, false) => None,
        })
    }
}
