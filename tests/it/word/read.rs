//! Reads a file for word processors back: its parts, their elements, and the numbers that its lists print.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

/// The parts of a file by name.
pub(crate) type Parts = BTreeMap<String, Vec<u8>>;

/// Unzips a file.
pub(crate) fn parts(bytes: &[u8]) -> Parts {
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip file");
    let mut parts = Parts::new();
    for number in 0..zip.len() {
        let mut part = zip.by_index(number).unwrap();
        let mut bytes = Vec::new();
        part.read_to_end(&mut bytes).unwrap();
        assert!(parts.insert(part.name().unwrap().into_owned(), bytes).is_none(), "a part comes twice");
    }
    parts
}

/// An element.
#[derive(Debug, Clone, Default)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    pub(crate) children: Vec<Element>,
    /// Words right inside.
    pub(crate) words: String,
}

impl Element {
    fn of(start: &BytesStart<'_>) -> Result<Self, String> {
        let name = start.name().as_ref().to_owned();
        let mut attributes = BTreeMap::new();
        for attribute in start.attributes() {
            let attribute = attribute.map_err(|error| error.to_string())?;
            let name = attribute.key.as_ref().to_owned();
            let value = quick_xml::escape::unescape(&attribute.value).map_err(|error| error.to_string())?;
            if attributes.insert(name.clone(), value.into_owned()).is_some() {
                return Err(format!("`{name}` comes twice"));
            }
        }
        Ok(Self { name, attributes, ..Self::default() })
    }

    pub(crate) fn attribute(&self, name: &str) -> &str {
        self.attributes.get(name).map_or("", String::as_str)
    }

    pub(crate) fn child(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    /// Itself and everything inside with this name, in order.
    pub(crate) fn all<'e>(&'e self, name: &'e str) -> Vec<&'e Self> {
        let own = (self.name == name).then_some(self);
        own.into_iter().chain(self.children.iter().flat_map(|child| child.all(name))).collect()
    }

    /// The value of a child that says all in `w:val`.
    pub(crate) fn value(&self, name: &str) -> &str {
        self.child(name).map_or("", |child| child.attribute("w:val"))
    }

    /// The style of a paragraph.
    pub(crate) fn style(&self) -> &str {
        self.child("w:pPr").map_or("", |properties| properties.value("w:pStyle"))
    }

    /// What a reader sees of a paragraph.
    pub(crate) fn shown(&self) -> String {
        match self.name.as_str() {
            "w:t" => self.words.clone(),
            "w:tab" | "w:br" => " ".to_owned(),
            "w:pPr" | "w:sdtPr" | "w:rPr" => String::new(),
            _ => self.children.iter().map(Self::shown).collect(),
        }
    }
}

/// The elements of a part; says what is not well formed, or what no XML may hold.
pub(crate) fn elements(bytes: &[u8]) -> Result<Element, String> {
    let text = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
    if let Some(sign) = text.chars().find(|sign| sign.is_control() && !matches!(sign, '\t' | '\n' | '\r')) {
        return Err(format!("holds U+{:04X}", u32::from(sign)));
    }
    let mut reader = Reader::from_str(text);
    let mut open = vec![Element::default()];
    loop {
        match reader.read_event().map_err(|error| error.to_string())? {
            Event::Start(start) => open.push(Element::of(&start)?),
            Event::Empty(start) => open.last_mut().unwrap().children.push(Element::of(&start)?),
            Event::End(_) => {
                let done = open.pop().unwrap();
                open.last_mut().unwrap().children.push(done);
            }
            Event::Text(words) => {
                open.last_mut().unwrap().words.push_str(&words);
            }
            Event::GeneralRef(name) => {
                let sign = quick_xml::escape::unescape(&format!("&{};", &*name))
                    .map_err(|error| error.to_string())?
                    .into_owned();
                open.last_mut().unwrap().words.push_str(&sign);
            }
            Event::Eof => break,
            _ => {}
        }
    }
    match (open.len(), open[0].children.len()) {
        (1, 1) => Ok(open.remove(0).children.remove(0)),
        _ => Err("is not one element".to_owned()),
    }
}

/// The lists of a file, counting.
pub(crate) struct Lists {
    /// Style to list and level.
    styles: BTreeMap<String, (String, usize)>,
    /// Levels of each list: how it counts and what it prints.
    levels: BTreeMap<String, Vec<(String, String)>>,
    counts: BTreeMap<String, Vec<usize>>,
}

impl Lists {
    pub(crate) fn of(styles: &Element, numbering: &Element) -> Self {
        let mut levels = BTreeMap::new();
        for num in numbering.all("w:num") {
            let list = num.value("w:abstractNumId");
            let found = numbering.all("w:abstractNum");
            let list = found.iter().find(|own| own.attribute("w:abstractNumId") == list).unwrap();
            let level =
                |level: &&Element| (level.value("w:numFmt").to_owned(), level.value("w:lvlText").to_owned());
            levels.insert(num.attribute("w:numId").to_owned(), list.all("w:lvl").iter().map(level).collect());
        }
        let mut by_style = BTreeMap::new();
        let all = styles.all("w:style");
        let numbered = |style: &&Element| style.child("w:pPr").and_then(|own| own.child("w:numPr")).cloned();
        for style in &all {
            // a style without numbers of its own counts as the one it is based on
            let under = all.iter().find(|own| own.attribute("w:styleId") == style.value("w:basedOn"));
            let Some(number) = numbered(style).or_else(|| under.and_then(numbered)) else { continue };
            let place = (number.value("w:numId").to_owned(), number.value("w:ilvl").parse().unwrap());
            by_style.insert(style.attribute("w:styleId").to_owned(), place);
        }
        Self { styles: by_style, levels, counts: BTreeMap::new() }
    }

    /// The number that the next paragraph of a style prints.
    pub(crate) fn next(&mut self, style: &str) -> String {
        let Some((list, level)) = self.styles.get(style) else { return String::new() };
        let levels = &self.levels[list];
        let counts = self.counts.entry(list.clone()).or_insert_with(|| vec![0; levels.len()]);
        counts[*level] += 1;
        counts[level + 1..].fill(0);
        let mut printed = levels[*level].1.clone();
        for (number, (kind, _)) in levels.iter().enumerate() {
            let count = counts[number].max(1);
            let signs = match kind.as_str() {
                "upperLetter" => letters(count, b'A'),
                "lowerLetter" => letters(count, b'a'),
                _ => count.to_string(),
            };
            printed = printed.replace(&format!("%{}", number + 1), &signs);
        }
        printed
    }
}

/// As the standard counts in letters: `A` to `Z`, then `AA`, `BB`.
fn letters(count: usize, first: u8) -> String {
    let letter = char::from(first + u8::try_from((count - 1) % 26).unwrap());
    letter.to_string().repeat((count - 1) / 26 + 1)
}
