//! XML as it is read: a tree of elements, with bounds against files that nobody wrote by hand.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

use super::xml::Xml;

/// How deep elements may lie.
const DEEPEST: usize = 120;

/// An element.
#[derive(Debug, Clone, Default)]
pub(crate) struct Node {
    /// Its name with its prefix.
    pub(crate) name: String,
    attributes: Vec<(String, String)>,
    /// What is inside, in order.
    pub(crate) children: Vec<Node>,
    /// Words right inside.
    pub(crate) words: String,
}

impl Node {
    /// Reads a part, or says what is wrong with it.
    pub(crate) fn read(bytes: &[u8]) -> Result<Self, String> {
        let text = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
        let mut reader = Reader::from_str(text.trim_start_matches('\u{feff}'));
        let mut open = vec![Self::default()];
        loop {
            match reader.read_event().map_err(|error| error.to_string())? {
                Event::Start(start) if open.len() < DEEPEST => open.push(Self::of(&start)?),
                Event::Start(_) => return Err("its elements lie too deep".to_owned()),
                Event::Empty(start) => {
                    let node = Self::of(&start)?;
                    if let Some(outer) = open.last_mut() {
                        outer.children.push(node);
                    }
                }
                Event::End(_) => {
                    let done = open.pop();
                    if let (Some(done), Some(outer)) = (done, open.last_mut()) {
                        outer.children.push(done);
                    }
                }
                Event::Text(words) => {
                    open.iter_mut().rev().take(1).for_each(|node| node.words.push_str(&words));
                }
                Event::GeneralRef(name) => {
                    let sign = quick_xml::escape::unescape(&format!("&{};", &*name))
                        .map_err(|error| error.to_string())?
                        .into_owned();
                    open.iter_mut().rev().take(1).for_each(|node| node.words.push_str(&sign));
                }
                Event::Eof => break,
                _ => {}
            }
        }
        let whole = open.pop().filter(|_| open.is_empty());
        whole.and_then(|mut whole| whole.children.pop()).ok_or_else(|| "it holds no element".to_owned())
    }

    fn of(start: &BytesStart<'_>) -> Result<Self, String> {
        let mut attributes = Vec::new();
        for attribute in start.attributes() {
            let attribute = attribute.map_err(|error| error.to_string())?;
            let value = quick_xml::escape::unescape(&attribute.value).map_err(|error| error.to_string())?;
            attributes.push((attribute.key.as_ref().to_owned(), value.into_owned()));
        }
        Ok(Self { name: start.name().as_ref().to_owned(), attributes, ..Self::default() })
    }

    /// An attribute; empty where there is none.
    pub(crate) fn attribute(&self, name: &str) -> &str {
        self.attributes.iter().find(|(own, _)| own == name).map_or("", |(_, value)| value)
    }

    /// The first child of a name.
    pub(crate) fn child(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    /// What a child says in `w:val`; empty where it says nothing.
    pub(crate) fn value(&self, name: &str) -> &str {
        self.child(name).map_or("", |child| child.attribute("w:val"))
    }

    /// The element as it is told without a theme: faces by their names, colours by their digits.
    pub(crate) fn without_theme(&self, face: impl Fn(&str) -> Option<String> + Copy) -> Self {
        let mut attributes: Vec<(String, String)> = Vec::new();
        for (name, value) in &self.attributes {
            match name.strip_suffix("Theme") {
                Some(own) if self.name == "w:rFonts" => {
                    attributes.extend(face(value).map(|face| (own.to_owned(), face)));
                }
                _ if name.to_ascii_lowercase().contains("theme") => {}
                _ => attributes.push((name.clone(), value.clone())),
            }
        }
        let children = self.children.iter().map(|child| child.without_theme(face)).collect();
        Self { name: self.name.clone(), attributes, children, words: self.words.clone() }
    }

    /// Writes the element as it was read.
    pub(crate) fn write(&self, xml: &mut Xml) {
        let attributes: Vec<(&str, &str)> =
            self.attributes.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        if self.children.is_empty() {
            xml.leaf(&self.name, &attributes);
        } else {
            xml.within(&self.name, &attributes, |xml| {
                self.children.iter().for_each(|child| child.write(xml));
            });
        }
    }

    /// Every element inside with this name.
    pub(crate) fn all<'n>(&'n self, name: &str, found: &mut Vec<&'n Self>) {
        for child in &self.children {
            if child.name == name {
                found.push(child);
            }
            child.all(name, found);
        }
    }
}
