//! What must hold of every file for word processors, each check with its name in front of what it finds.

use std::collections::BTreeMap;

use perpend::document::block::{BlockKind, Document, plain};
use perpend::drawing::Mark;
use perpend::render::{Laid, Pages};

use super::read::{Element, Lists, Parts, elements};
use crate::document::sets::contents;

/// Everything that is wrong with a file that was written from a document.
pub(crate) fn faults(parts: &Parts, document: &Document) -> Vec<String> {
    let mut found = Vec::new();
    let mut read = BTreeMap::new();
    for (name, bytes) in parts.iter().filter(|(name, _)| !name.starts_with("word/media/")) {
        match elements(bytes) {
            Ok(element) => drop(read.insert(name.as_str(), element)),
            Err(reason) => found.push(format!("package: {name} {reason}")),
        }
    }
    let wanted = ["word/document.xml", "word/styles.xml", "word/numbering.xml", "word/header1.xml"];
    let wanted = wanted.into_iter().chain(["word/footer1.xml", "docProps/core.xml", "[Content_Types].xml"]);
    let missing: Vec<&str> = wanted.filter(|name| !read.contains_key(name)).collect();
    if !missing.is_empty() {
        found.extend(missing.iter().map(|name| format!("package: {name} is missing or broken")));
        return found;
    }
    let pages = Pages::of(document);
    let Ok(laid) = pages.laid() else { return vec!["words: no PDF to compare with".to_owned()] };
    let file = File { parts, read: &read, document, laid };
    found.extend(file.package());
    found.extend(file.numbers());
    found.extend(file.direct_format());
    found.extend(file.tables());
    found.extend(file.headings());
    found.extend(file.keeping());
    found.extend(file.fields());
    found.extend(file.language());
    found.extend(file.words());
    found
}

struct File<'a> {
    parts: &'a Parts,
    read: &'a BTreeMap<&'a str, Element>,
    document: &'a Document,
    laid: &'a Laid,
}

impl File<'_> {
    fn part(&self, name: &str) -> &Element {
        &self.read[name]
    }

    fn body(&self) -> &Element {
        self.part("word/document.xml")
    }

    fn style(&self, name: &str) -> Option<&Element> {
        let styles = self.part("word/styles.xml");
        styles.children.iter().find(|style| style.name == "w:style" && style.value("w:name") == name)
    }

    /// Every part has a kind, every relation leads to a part, every relation used is there.
    fn package(&self) -> Vec<String> {
        let mut found = Vec::new();
        let types = self.part("[Content_Types].xml");
        let kinds = |name: &str, key: &str| {
            types.all(name).iter().map(|one| one.attribute(key).to_owned()).collect::<Vec<_>>()
        };
        let (endings, own) = (kinds("Default", "Extension"), kinds("Override", "PartName"));
        for name in self.parts.keys().filter(|name| *name != "[Content_Types].xml") {
            let ending = name.rsplit('.').next().unwrap();
            let is_own = own.contains(&format!("/{name}"));
            let plain_xml = ending == "xml" && !is_own;
            if plain_xml || !(is_own || endings.iter().any(|known| known == ending)) {
                found.push(format!("package: {name} has no content type"));
            }
        }
        found.extend(
            own.iter()
                .filter(|name| !self.parts.contains_key(name.trim_start_matches('/')))
                .map(|name| format!("package: {name} is not there")),
        );
        let mut ids = Vec::new();
        for (rels, folder) in [("_rels/.rels", ""), ("word/_rels/document.xml.rels", "word/")] {
            for one in self.part(rels).all("Relationship") {
                let target = format!("{folder}{}", one.attribute("Target"));
                if !self.parts.contains_key(&target) {
                    found.push(format!("package: {target} is not there"));
                }
                ids.push(one.attribute("Id").to_owned());
            }
        }
        let used =
            ["w:headerReference", "w:footerReference", "a:blip"].map(|name| self.body().all(name)).concat();
        for element in used {
            let id = [element.attribute("r:id"), element.attribute("r:embed")].concat();
            if !ids.contains(&id) {
                found.push(format!("package: relation `{id}` is not there"));
            }
        }
        found
    }

    /// Lists are bound to styles, and no paragraph begins with a number that somebody typed.
    fn numbers(&self) -> Vec<String> {
        let mut found = Vec::new();
        let numbering = self.part("word/numbering.xml");
        for level in numbering.all("w:lvl") {
            let id = level.value("w:pStyle");
            let styles = self.part("word/styles.xml").all("w:style");
            let style = styles.iter().find(|style| style.attribute("w:styleId") == id);
            let bound = style.and_then(|style| style.child("w:pPr")?.child("w:numPr"));
            if bound.is_none_or(|bound| {
                bound.value("w:ilvl").parse() != level.attribute("w:ilvl").parse::<usize>()
            }) {
                found.push(format!("numbers: level {} is bound to no style", level.attribute("w:ilvl")));
            }
        }
        for paragraph in self.body().all("w:p") {
            let style = paragraph.style();
            let is_numbered =
                style.starts_with("Clause") || style.starts_with("Heading") || style.starts_with("List");
            let words = paragraph.shown();
            if is_numbered && typed_number(&words) {
                found.push(format!("numbers: typed in `{words}`"));
            }
        }
        found
    }

    /// Paragraphs and runs bear styles and nothing else.
    fn direct_format(&self) -> Vec<String> {
        let mut found = Vec::new();
        for name in ["word/document.xml", "word/header1.xml", "word/footer1.xml"] {
            let allowed: [(&str, &[&str]); 2] =
                [("w:pPr", &["w:pStyle", "w:keepNext", "w:numPr", "w:sectPr"]), ("w:rPr", &["w:rStyle"])];
            for (holder, allowed) in allowed {
                for properties in self.part(name).all(holder) {
                    let others =
                        properties.children.iter().filter(|child| !allowed.contains(&child.name.as_str()));
                    found.extend(others.map(|child| format!("direct format: {} in {name}", child.name)));
                }
            }
            let known = self.part("word/styles.xml").all("w:style");
            let used = ["w:pStyle", "w:rStyle", "w:tblStyle"].map(|kind| self.part(name).all(kind)).concat();
            let lost = used.iter().filter(|style| {
                !known.iter().any(|own| own.attribute("w:styleId") == style.attribute("w:val"))
            });
            found.extend(lost.map(|style| format!("direct format: no style `{}`", style.attribute("w:val"))));
            let bare =
                self.part(name).all("w:p").into_iter().filter(|paragraph| paragraph.style().is_empty());
            found.extend(bare.map(|paragraph| format!("direct format: no style on `{}`", paragraph.shown())));
        }
        found
    }

    /// Tables have a style, a head that repeats, and rows that stay whole.
    fn tables(&self) -> Vec<String> {
        let mut found = Vec::new();
        for table in self.body().all("w:tbl") {
            let properties = table.child("w:tblPr").unwrap();
            let style = properties.value("w:tblStyle");
            if style.is_empty() || properties.child("w:tblLook").is_none() {
                found.push("tables: one without style or look".to_owned());
            }
            for (at, row) in table.all("w:tr").iter().enumerate() {
                let has = |name: &str| row.child("w:trPr").is_some_and(|own| own.child(name).is_some());
                if !has("w:cantSplit") {
                    found.push(format!("tables: a row may split: `{}`", row.shown()));
                }
                if at == 0 && style != "TitleBlockTable" && !has("w:tblHeader") {
                    found.push(format!("tables: a head does not repeat: `{}`", row.shown()));
                }
            }
        }
        found
    }

    /// Headings are the standard's own, at their levels.
    fn headings(&self) -> Vec<String> {
        let lost = (1..=3).filter(|level: &usize| {
            let style = self.style(&format!("heading {level}")).and_then(|style| style.child("w:pPr"));
            style.is_none_or(|own| own.value("w:outlineLvl") != (level - 1).to_string())
        });
        lost.map(|level| format!("headings: `heading {level}` has no level")).collect()
    }

    /// Headings and captions stay with what follows; no page begins or ends with one line of a paragraph.
    fn keeping(&self) -> Vec<String> {
        let mut found = Vec::new();
        for name in ["heading 1", "heading 2", "heading 3", "caption", "Caption wide"] {
            let own = self.style(name).and_then(|style| style.child("w:pPr"));
            if own.is_none_or(|own| own.child("w:keepNext").is_none()) {
                found.push(format!("keeping: `{name}` may part from what follows"));
            }
        }
        let paragraphs = self.body().all("w:p");
        for pair in paragraphs.windows(2) {
            let is_kept = pair[0].child("w:pPr").is_some_and(|own| own.child("w:keepNext").is_some());
            if pair[1].style().starts_with("Proof") && !is_kept {
                found.push(format!("keeping: its proof may part from `{}`", pair[0].shown()));
            }
        }
        let defaults = self.part("word/styles.xml").all("w:pPrDefault");
        if defaults.iter().all(|own| own.all("w:widowControl").is_empty()) {
            found.push("keeping: single lines are not kept from page ends".to_owned());
        }
        found
    }

    /// Fields print what the PDF prints.
    fn fields(&self) -> Vec<String> {
        let mut found = Vec::new();
        let laid = self.laid;
        let count = laid.pages().to_string();
        let feet = printed(self.part("word/footer1.xml"));
        for (wanted, value) in [("PAGE", "1"), ("NUMPAGES", count.as_str())] {
            if !feet.iter().any(|(says, prints)| says == wanted && prints == value) {
                found.push(format!("fields: the foot lacks {wanted} of {value}"));
            }
        }
        let numbers = self.bookmarks();
        let dump = laid.dump();
        let outline = dump.split_once("\noutline\n").map_or("", |(_, outline)| outline);
        for (says, prints) in printed(self.body()) {
            let words: Vec<&str> = says.split_whitespace().collect();
            match words.as_slice() {
                ["REF", bookmark, "\\n", "\\h"] => match numbers.get(*bookmark) {
                    Some((number, _)) if *number.trim_end_matches('.') == prints => {}
                    other => found.push(format!("fields: `{says}` prints `{prints}`, not {other:?}")),
                },
                ["REF", bookmark, "\\h"] => match numbers.get(*bookmark) {
                    Some((_, title)) if *title == prints => {}
                    other => found.push(format!("fields: `{says}` prints `{prints}`, not {other:?}")),
                },
                ["PAGEREF", bookmark, "\\h"] => {
                    let title = numbers.get(*bookmark).map(|(number, title)| format!("{number} {title}"));
                    let line = format!("{} (page {prints}, ", title.unwrap_or_default().trim());
                    if !outline.lines().any(|entry| entry.trim_start().starts_with(&line)) {
                        found.push(format!("fields: the PDF does not say `{line}`"));
                    }
                }
                ["TOC", ..] => {}
                _ => found.push(format!("fields: nobody knows `{says}`")),
            }
        }
        let is_head = |kind: &BlockKind| matches!(kind, BlockKind::Heading { level: 1 | 2, .. });
        let kinds = || self.document.blocks.iter().map(|block| &block.kind);
        // As many as the PDF lists, if it lists any.
        let has_contents = !contents(laid).is_empty();
        let heads = if has_contents { kinds().filter(|kind| is_head(kind)).count() } else { 0 };
        let listed = printed(self.body()).iter().filter(|(says, _)| says.starts_with("PAGEREF")).count();
        if listed != heads {
            found.push(format!("fields: the contents list {listed} of {heads} headings"));
        }
        found
    }

    /// Number and words of the paragraph of each bookmark.
    fn bookmarks(&self) -> BTreeMap<String, (String, String)> {
        let mut lists = Lists::of(self.part("word/styles.xml"), self.part("word/numbering.xml"));
        let mut found = BTreeMap::new();
        for paragraph in self.body().all("w:p") {
            let number = lists.next(paragraph.style());
            for mark in paragraph.all("w:bookmarkStart") {
                found.insert(mark.attribute("w:name").to_owned(), (number.clone(), paragraph.shown()));
            }
        }
        found
    }

    /// The file says its language and title, and what its figures show; it names no person.
    fn language(&self) -> Vec<String> {
        let mut found = Vec::new();
        let defaults = self.part("word/styles.xml").all("w:rPrDefault");
        let tongue = defaults.iter().flat_map(|own| own.all("w:lang")).next();
        if tongue.is_none_or(|own| own.attribute("w:val") != self.document.language) {
            found.push("language: it is not said".to_owned());
        }
        let core = self.part("docProps/core.xml");
        let said = |name: &str| core.child(name).map(|own| own.words.clone()).unwrap_or_default();
        if said("dc:title") != self.document.title || said("dc:subject") != self.document.subtitle {
            found.push("language: title or subject is not that of the document".to_owned());
        }
        if core.child("dc:creator").is_some() || core.child("cp:lastModifiedBy").is_some() {
            found.push("language: a person is named".to_owned());
        }
        let told: Vec<&str> = self.body().all("wp:docPr").iter().map(|own| own.attribute("descr")).collect();
        let figures = self.document.blocks.iter().filter_map(|block| match &block.kind {
            BlockKind::Figure(drawing) => Some(drawing.alt.as_str()),
            _ => None,
        });
        let figures: Vec<&str> = figures.collect();
        if told != figures || told.iter().any(|words| !(15..=250).contains(&words.chars().count())) {
            found.push(format!("language: figures are told as {told:?}, not {figures:?}"));
        }
        found
    }

    /// The words are those of the PDF, in its order.
    fn words(&self) -> Vec<String> {
        let proved = self.document.blocks.iter().any(|block| matches!(block.kind, BlockKind::Proof(_)));
        // The lines of the contents are looked at as fields.
        let contents = contents(self.laid).into_iter().map(|(_, words)| words);
        let contents = counted(&contents.collect::<String>());
        // beside a clause the PDF sets its proof line by line with the clause; the blocks have the order of both
        let printed = || counted(&self.laid.words()).replacen(&contents, "", 1);
        let pdf = if proved { counted(&model(self.document)) } else { printed() };
        let mut lists = Lists::of(self.part("word/styles.xml"), self.part("word/numbering.xml"));
        let figures = self.document.blocks.iter().filter_map(|block| match &block.kind {
            BlockKind::Figure(drawing) => Some(drawing),
            _ => None,
        });
        let mut figures = figures;
        let mut own = String::new();
        let body = &self.body().children[0];
        let is_contents = |element: &&Element| element.all("w:docPartObj").is_empty();
        for paragraph in body.children.iter().filter(is_contents).flat_map(|child| child.all("w:p")) {
            own.push_str(&lists.next(paragraph.style()));
            own.push_str(&paragraph.shown());
            for drawing in paragraph.all("w:drawing").iter().filter_map(|_| figures.next()) {
                let words = drawing.marks.iter().filter_map(|mark| match mark {
                    Mark::Text(text) => Some(text.words.as_str()),
                    _ => None,
                });
                own.extend(words);
            }
        }
        let own = counted(&own);
        let same = pdf.chars().zip(own.chars()).take_while(|(a, b)| a == b).count();
        if pdf == own {
            return Vec::new();
        }
        let part = |text: &str| text.chars().skip(same.saturating_sub(30)).take(90).collect::<String>();
        vec![format!("words: the PDF says `{}`, the file `{}`", part(&pdf), part(&own))]
    }
}

/// The words of a document, block by block.
fn model(document: &Document) -> String {
    let mut words = format!("{}{}", document.title, document.subtitle);
    for (label, value) in &document.furniture.title_block {
        words.push_str(label);
        words.push_str(value.as_deref().unwrap_or_default());
    }
    for block in &document.blocks {
        match &block.kind {
            BlockKind::Heading { number, text, .. } => {
                words.push_str(number.as_deref().unwrap_or_default());
                words.push_str(&plain(text));
            }
            BlockKind::Item { label, text, .. } => words.extend([label.clone(), plain(text)]),
            BlockKind::Bullet { depth, text } => {
                words.push_str(if *depth <= 1 { "•" } else { "–" });
                words.push_str(&plain(text));
            }
            BlockKind::Paragraph(text) => words.push_str(&plain(text)),
            BlockKind::Proof(lines) => {
                words.extend(lines.iter().flat_map(|line| [line.key.clone(), plain(&line.text)]));
            }
            BlockKind::Caution { word, text } => {
                words.push_str(word);
                words.extend(text.iter().map(|text| plain(text)));
            }
            BlockKind::Table(table) => {
                words.push_str(&plain(&table.caption));
                let cells = table.head.iter().chain(table.rows.iter().flatten());
                words.extend(cells.map(|cell| plain(cell).replace('_', "")));
            }
            BlockKind::Figure(drawing) => {
                words.push_str(&drawing.caption);
                words.extend(drawing.marks.iter().filter_map(|mark| match mark {
                    Mark::Text(text) => Some(text.words.as_str()),
                    _ => None,
                }));
                words.push_str(&drawing.note);
            }
            BlockKind::NewPage => {}
            BlockKind::End(text) => words.push_str(text),
        }
    }
    words
}

/// The signs that count: no white space, none that only steers lines, no boxes, and no hyphens, since one may be added
/// at the end of a line.
fn counted(words: &str) -> String {
    let unseen =
        |sign: char| matches!(u32::from(sign), 0xAD | 0x200B..=0x200F | 0x2060..=0x2064 | 0xFEFF | 0xFFFC);
    let kept = |sign: &char| !sign.is_whitespace() && !unseen(*sign) && !"-☐☑".contains(*sign);
    words.chars().filter(kept).collect()
}

/// The text as a program shows it: every paragraph behind its number.
pub(crate) fn as_opened(parts: &Parts) -> String {
    let part = |name: &str| elements(&parts[name]).unwrap();
    let mut lists = Lists::of(&part("word/styles.xml"), &part("word/numbering.xml"));
    let document = part("word/document.xml");
    let shown = |paragraph: &&Element| lists.next(paragraph.style()) + &paragraph.shown();
    document.all("w:p").iter().map(shown).collect()
}

/// The style of every paragraph, with its words.
pub(crate) fn styled(parts: &Parts) -> Vec<(String, String)> {
    let document = elements(&parts["word/document.xml"]).unwrap();
    document.all("w:p").iter().map(|own| (own.style().to_owned(), own.shown())).collect()
}

/// Whether words begin like a number of a list: `1.2 `, `A. `, `1) `, `PART 1`.
fn typed_number(words: &str) -> bool {
    let first = words.split_whitespace().next().unwrap_or_default();
    let body = first.trim_end_matches(['.', ')']);
    let numeral = |part: &str| !part.is_empty() && part.chars().all(|sign| sign.is_ascii_digit());
    let closed = body.len() < first.len();
    let letter = body.len() == 1 && body.chars().all(char::is_alphabetic);
    (closed && (numeral(body) || letter))
        || (body.contains('.')
            && body.split('.').count() == 2
            && body.split('.').all(numeral)
            && !words.contains(" to "))
        || words.starts_with("PART ")
}

/// What each field says and prints.
pub(crate) fn printed(element: &Element) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut open: Vec<(String, String, bool)> = Vec::new();
    walk(element, &mut |own| match own.name.as_str() {
        "w:fldChar" => match own.attribute("w:fldCharType") {
            "begin" => open.push((String::new(), String::new(), false)),
            "separate" => open.last_mut().unwrap().2 = true,
            _ => {
                let (says, prints, _) = open.pop().unwrap();
                found.push((says.trim().to_owned(), prints));
            }
        },
        "w:instrText" => open.last_mut().unwrap().0.push_str(&own.words),
        "w:t" => {
            if let Some((_, prints, true)) = open.last_mut() {
                prints.push_str(&own.words);
            }
        }
        _ => {}
    });
    assert!(open.is_empty(), "a field does not end");
    found
}

fn walk<'e>(element: &'e Element, see: &mut impl FnMut(&'e Element)) {
    see(element);
    for child in &element.children {
        walk(child, see);
    }
}
