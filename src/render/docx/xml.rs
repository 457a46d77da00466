//! XML as it is written: elements, attributes and words, escaped. What is written to memory cannot fail, so what the
//! writer returns is let go.

use std::borrow::Cow;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

/// Attributes: names with their values.
pub(crate) type Attributes<'a> = &'a [(&'a str, &'a str)];

/// A part of the package while it is written.
pub(crate) struct Xml {
    out: Writer<Vec<u8>>,
}

impl Xml {
    /// A part that begins as a file.
    pub(crate) fn file() -> Self {
        let mut xml = Self::piece();
        let _ = xml.out.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), Some("yes"))));
        xml
    }

    /// A piece of a part.
    pub(crate) fn piece() -> Self {
        Self { out: Writer::new(Vec::new()) }
    }

    /// An element with what is inside.
    pub(crate) fn within(&mut self, name: &str, attributes: Attributes<'_>, inside: impl FnOnce(&mut Self)) {
        self.open(name, attributes);
        inside(self);
        self.close(name);
    }

    /// The start of an element.
    pub(crate) fn open(&mut self, name: &str, attributes: Attributes<'_>) {
        let _ = self.out.write_event(Event::Start(start(name, attributes)));
    }

    /// The end of an element.
    pub(crate) fn close(&mut self, name: &str) {
        let _ = self.out.write_event(Event::End(BytesEnd::new(name)));
    }

    /// An element with nothing inside.
    pub(crate) fn leaf(&mut self, name: &str, attributes: Attributes<'_>) {
        let _ = self.out.write_event(Event::Empty(start(name, attributes)));
    }

    /// An element whose one attribute `w:val` says all.
    pub(crate) fn value(&mut self, name: &str, value: &str) {
        self.leaf(name, &[("w:val", value)]);
    }

    /// Words.
    pub(crate) fn words(&mut self, words: &str) {
        let _ = self.out.write_event(Event::Text(BytesText::new(&fit(words))));
    }

    /// An element that holds words alone.
    pub(crate) fn said(&mut self, name: &str, words: &str) {
        self.within(name, &[], |xml| xml.words(words));
    }

    /// A piece that was written before.
    pub(crate) fn add(&mut self, piece: &[u8]) {
        self.out.get_mut().extend_from_slice(piece);
    }

    /// What was written.
    pub(crate) fn bytes(self) -> Vec<u8> {
        self.out.into_inner()
    }
}

fn start<'a>(name: &'a str, attributes: Attributes<'a>) -> BytesStart<'a> {
    let mut start = BytesStart::new(name);
    for (name, value) in attributes {
        start.push_attribute((*name, fit(value).as_ref()));
    }
    start
}

/// Words as they count when they are compared: as the file holds them, with any white space as a space.
pub(crate) fn spoken(words: &str) -> String {
    fit(words).chars().map(|sign| if sign.is_whitespace() { ' ' } else { sign }).collect()
}

/// Words without the signs that no XML may hold.
fn fit(words: &str) -> Cow<'_, str> {
    if words.chars().any(is_barred) {
        Cow::Owned(words.chars().filter(|sign| !is_barred(*sign)).collect())
    } else {
        Cow::Borrowed(words)
    }
}

fn is_barred(sign: char) -> bool {
    (sign.is_control() && !matches!(sign, '\t' | '\n' | '\r')) || matches!(sign, '\u{fffe}' | '\u{ffff}')
}
