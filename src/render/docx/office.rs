//! Styles of an office: names and looks out of a file of its own, each in the place of one of ours. What a style does for
//! the document stays ours: numbers, levels of the outline, what keeps with what.

use std::collections::BTreeMap;
use std::io::Cursor;

use zip::ZipArchive;

use super::left::part;
use super::role::Role;
use super::tree::Node;
use super::xml::Xml;
use crate::diagnostic::nearest;

/// How many styles may lie below one another.
const DEEPEST: usize = 32;

/// What a style does, whatever it looks like.
const DOES: [&str; 6] =
    ["w:keepNext", "w:keepLines", "w:pageBreakBefore", "w:numPr", "w:outlineLvl", "w:widowControl"];

/// What a paragraph may say of its look and its place, in the order that ISO/IEC 29500-1, 17.3.1.26 wants.
const PARAGRAPH: [&str; 19] = [
    "w:keepNext",
    "w:keepLines",
    "w:pageBreakBefore",
    "w:widowControl",
    "w:numPr",
    "w:pBdr",
    "w:shd",
    "w:tabs",
    "w:suppressAutoHyphens",
    "w:bidi",
    "w:snapToGrid",
    "w:spacing",
    "w:ind",
    "w:contextualSpacing",
    "w:mirrorIndents",
    "w:jc",
    "w:textDirection",
    "w:textAlignment",
    "w:outlineLvl",
];

/// The same of words, in the order of 17.3.2.28.
const WORDS: [&str; 21] = [
    "w:rFonts",
    "w:b",
    "w:bCs",
    "w:i",
    "w:iCs",
    "w:caps",
    "w:smallCaps",
    "w:strike",
    "w:outline",
    "w:shadow",
    "w:emboss",
    "w:imprint",
    "w:color",
    "w:spacing",
    "w:w",
    "w:kern",
    "w:position",
    "w:sz",
    "w:szCs",
    "w:highlight",
    "w:u",
];

/// Styles of an office's own file, by the role that each plays in ours.
#[derive(Debug, Clone, Default)]
pub struct OfficeStyles {
    looks: BTreeMap<Role, Look>,
}

/// One of them.
#[derive(Debug, Clone)]
pub(crate) struct Look {
    /// As the office calls it.
    pub(crate) name: String,
    paragraph: Vec<Node>,
    words: Vec<Node>,
}

impl OfficeStyles {
    /// Takes from a file every style that bears the name of one of ours, and those of other names that pairs name: ours
    /// first, then the office's.
    ///
    /// # Errors
    /// Bytes that are no file for word processors; each pair of which a name is not known or stands twice; a file of
    /// which nothing is taken.
    pub fn read(bytes: &[u8], pairs: &[(String, String)]) -> Result<Self, Vec<String>> {
        let file = OfficeFile::read(bytes).map_err(|reason| vec![reason])?;
        let mut wanted: BTreeMap<Role, &str> = BTreeMap::new();
        let mut mistakes = Vec::new();
        for (ours, theirs) in pairs {
            let Some(role) = Role::named(ours).filter(|role| role.has_look()) else {
                mistakes.push(unknown("no style of ours", ours, Role::ALL.into_iter().map(Role::name)));
                continue;
            };
            if file.style(theirs).is_none() {
                mistakes.push(unknown("no style of the file", theirs, file.names()));
            } else if wanted.insert(role, theirs).is_some() {
                mistakes.push(format!("`{ours}` is given two styles"));
            }
        }
        for role in Role::ALL.into_iter().filter(|role| role.has_look()) {
            wanted.entry(role).or_insert(role.name());
        }
        let looks = wanted.into_iter().filter_map(|(role, name)| Some((role, file.look(name)?)));
        let looks: BTreeMap<Role, Look> = looks.collect();
        let mut names: Vec<&str> = looks.values().map(|look| look.name.as_str()).collect();
        names.sort_unstable();
        for pair in names.windows(2) {
            if let [one, other] = pair
                && one.eq_ignore_ascii_case(other)
            {
                mistakes.push(format!("`{one}` would stand for two styles of ours"));
            }
        }
        if mistakes.is_empty() && looks.is_empty() {
            mistakes.push("none of its styles bears the name of one of ours".to_owned());
        }
        if mistakes.is_empty() { Ok(Self { looks }) } else { Err(mistakes) }
    }

    /// The look of a role, if the office has one.
    pub(crate) fn look(&self, role: Role) -> Option<&Look> {
        self.looks.get(&role)
    }

    /// The names of the styles that are taken.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.looks.values().map(|look| look.name.as_str())
    }
}

fn unknown<'n>(what: &str, name: &str, known: impl Iterator<Item = &'n str>) -> String {
    let near = nearest(name, known).map(|near| format!("; did you mean `{near}`?"));
    format!("`{name}` is {what}{}", near.unwrap_or_default())
}

impl Look {
    /// Writes how its paragraphs stand: what ours does, and what theirs looks like.
    pub(crate) fn paragraph(&self, xml: &mut Xml, ours: &Node) {
        let is_listed = ours.child("w:numPr").is_some();
        let does = |node: &&Node| DOES.contains(&node.name.as_str());
        let own = |name: &str| ours.child(name).filter(|_| !has(&self.paragraph, name));
        let theirs = self.paragraph.iter().filter(|node| !does(node));
        // Where numbered words stand is said by their list.
        let theirs = theirs.filter(|node| !is_listed || node.name != "w:ind");
        let all = ours.children.iter().filter(does).chain(own("w:tabs")).chain(theirs);
        in_order(xml, &all.collect::<Vec<_>>(), &PARAGRAPH);
    }

    /// Writes how its words look.
    pub(crate) fn words(&self, xml: &mut Xml) {
        in_order(xml, &self.words.iter().collect::<Vec<_>>(), &WORDS);
    }
}

fn has(nodes: &[Node], name: &str) -> bool {
    nodes.iter().any(|node| node.name == name)
}

fn in_order(xml: &mut Xml, nodes: &[&Node], order: &[&str]) {
    for name in order {
        if let Some(node) = nodes.iter().find(|node| node.name == *name) {
            node.write(xml);
        }
    }
}

/// The styles of a file.
struct OfficeFile {
    styles: Node,
    theme: Node,
}

impl OfficeFile {
    fn read(bytes: &[u8]) -> Result<Self, String> {
        let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(|error| error.to_string())?;
        part(&mut zip, "word/document.xml")?;
        let styles = Node::read(&part(&mut zip, "word/styles.xml")?)?;
        let theme = part(&mut zip, "word/theme/theme1.xml").and_then(|part| Node::read(&part));
        Ok(Self { styles, theme: theme.unwrap_or_default() })
    }

    fn paragraphs(&self) -> impl Iterator<Item = &Node> {
        let styles = self.styles.children.iter().filter(|node| node.name == "w:style");
        styles.filter(|style| style.attribute("w:type") == "paragraph")
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        self.paragraphs().map(|style| style.value("w:name"))
    }

    fn style(&self, name: &str) -> Option<&Node> {
        self.paragraphs().find(|style| style.value("w:name").eq_ignore_ascii_case(name))
    }

    /// A style with all that it takes from those below it.
    fn look(&self, name: &str) -> Option<Look> {
        let style = self.style(name)?;
        let mut below = vec![style];
        while let Some(base) =
            below.last().map(|style| style.value("w:basedOn")).filter(|base| !base.is_empty())
            && let Some(next) = self.paragraphs().find(|style| style.attribute("w:styleId") == base)
            && below.len() < DEEPEST
        {
            below.push(next);
        }
        let (mut paragraph, mut words) = (Vec::new(), Vec::new());
        if let Some(defaults) = self.styles.child("w:docDefaults") {
            let of = |outer: &str, inner: &str| defaults.child(outer).and_then(|node| node.child(inner));
            self.over(&mut paragraph, of("w:pPrDefault", "w:pPr"));
            self.over(&mut words, of("w:rPrDefault", "w:rPr"));
        }
        for style in below.into_iter().rev() {
            self.over(&mut paragraph, style.child("w:pPr"));
            self.over(&mut words, style.child("w:rPr"));
        }
        Some(Look { name: style.value("w:name").to_owned(), paragraph, words })
    }

    /// What a style says stands in the place of what those below it say.
    fn over(&self, said: &mut Vec<Node>, more: Option<&Node>) {
        for node in more.into_iter().flat_map(|more| &more.children) {
            said.retain(|known| known.name != node.name);
            said.push(node.without_theme(|slot| self.face(slot)));
        }
    }

    /// The face that a theme puts in a slot such as `minorHAnsi`.
    fn face(&self, slot: &str) -> Option<String> {
        let kind = if slot.starts_with("major") { "a:majorFont" } else { "a:minorFont" };
        let mut found = Vec::new();
        self.theme.all(kind, &mut found);
        let face = found.first()?.child("a:latin")?.attribute("typeface");
        (!face.is_empty()).then(|| face.to_owned())
    }
}
