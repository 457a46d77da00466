//! The checks. Each fault opens with the number of its check.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Object, ObjectId};

use perpend::document::Document;

use super::read::{Element, Read, words};

/// Everything wrong with a file of a paper.
pub(super) fn faults_in(read: &Read, paper: &Document) -> Vec<String> {
    let mut found = faults_of(read);
    found.extend(named(read, paper));
    found.extend(dated(read, paper));
    found
}

/// Everything wrong with a file, whatever its paper.
pub(super) fn faults_of(read: &Read) -> Vec<String> {
    let checks = [
        about,
        fonts,
        outline,
        links,
        alternatives,
        running_heads,
        catalogue,
        marked,
        headings,
        tables,
        pressed,
        form,
        notes,
        ink,
    ];
    checks.into_iter().flat_map(|check| check(read)).collect()
}

fn says<'d>(dictionary: &'d Dictionary, name: &str) -> Option<&'d Object> {
    dictionary.get(name.as_bytes()).ok()
}

fn name(dictionary: &Dictionary, entry: &str) -> String {
    let name = says(dictionary, entry).and_then(|name| name.as_name().ok()).unwrap_or_default();
    String::from_utf8_lossy(name).into_owned()
}

/// F01: title, language, producer and date are said; no person is named.
fn about(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    let info = read.file.trailer.get(b"Info").ok().and_then(|info| read.dictionary(info)).unwrap_or_default();
    for entry in ["Title", "Producer", "CreationDate"] {
        if !says(&info, entry).is_some_and(|said| said.as_str().is_ok_and(|said| !said.is_empty())) {
            found.push(format!("F01: no {entry}"));
        }
    }
    let packet = packet(read);
    for part in ["<dc:title>", "<dc:language>", "<pdf:Producer>", "<xmp:CreateDate>"] {
        if !packet.contains(part) {
            found.push(format!("F01: the packet says no {part}"));
        }
    }
    if says(&info, "Author").is_some() || packet.contains("dc:creator") {
        found.push("F01: a person is named".to_owned());
    }
    found
}

/// What the file says of itself for programs.
fn packet(read: &Read) -> String {
    let packet = says(read.file.catalog().unwrap(), "Metadata");
    let packet = packet.and_then(|packet| read.file.dereference(packet).ok());
    let packet = packet.and_then(|(_, packet)| packet.as_stream().ok()).map(|packet| packet.content.clone());
    String::from_utf8(packet.unwrap_or_default()).unwrap()
}

/// F02: every font is embedded, cut down, and says what its glyphs mean.
fn fonts(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    for font in read.file.objects.values().filter_map(|object| object.as_dict().ok()) {
        if name(font, "Type") == "Font"
            && name(font, "Subtype") == "Type0"
            && says(font, "ToUnicode").is_none()
        {
            found.push(format!("F02: {} does not say what its glyphs mean", name(font, "BaseFont")));
        }
        if name(font, "Type") == "FontDescriptor" {
            let own = name(font, "FontName");
            let is_cut = own.split_once('+').is_some_and(|(tag, _)| tag.len() == 6);
            let is_embedded = ["FontFile2", "FontFile3"].iter().any(|file| says(font, file).is_some());
            if !is_cut || !is_embedded {
                found.push(format!("F02: {own} is not embedded or not cut down"));
            }
        }
    }
    found
}

/// F03: the outline has a line for each heading under the title, nested alike, that leads to its page and a height on it.
fn outline(read: &Read) -> Vec<String> {
    let headings: Vec<(usize, Option<usize>)> = read
        .elements
        .iter()
        .filter_map(|element| Some((level(element)?, element.stretches.first().map(|(page, _)| *page))))
        .filter(|(level, _)| *level > 1)
        .collect();
    let lines: Vec<(usize, Option<usize>)> =
        read.outline.iter().map(|line| (line.depth + 1, line.page)).collect();
    let mut found = Vec::new();
    if headings != lines {
        found.push(format!(
            "F03: {} headings, {} lines of the outline, or other pages",
            headings.len(),
            lines.len()
        ));
    }
    let off =
        read.outline.iter().filter(|line| !(1.0..=1200.0).contains(&line.height) || line.title.is_empty());
    found.extend(off.map(|line| format!("F03: `{}` leads nowhere on its page", line.title)));
    found
}

/// F04: every link leads to a page of the file.
fn links(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    for field in read.fields.keys() {
        let field = read.file.get_dictionary(*field).unwrap();
        let to = says(field, "Dest").map(|to| read.list(to)).unwrap_or_default();
        let leads = to.first().and_then(|page| read.page_of(page)).is_some();
        if !leads || says(field, "A").is_some() {
            found.push("F04: a link leads out of the file or nowhere".to_owned());
        }
    }
    found
}

/// F05 and F14: every figure says what it shows, in 15 to 250 characters, and no two the same.
fn alternatives(read: &Read) -> Vec<String> {
    let (mut found, mut seen) = (Vec::new(), BTreeSet::new());
    for figure in read.elements.iter().filter(|element| element.tag == "Figure") {
        let Some(said) = says(&figure.says, "Alt").and_then(|said| said.as_str().ok()).map(words) else {
            found.push("F14: a figure without words".to_owned());
            continue;
        };
        let length = said.chars().count();
        if !(15..=250).contains(&length) || said.to_lowercase().contains("image of") {
            found.push(format!("F05: {length} characters: {said}"));
        }
        if !seen.insert(said.clone()) {
            found.push(format!("F05: said twice: {said}"));
        }
    }
    found
}

/// F06: every page says which it is and of how many.
fn running_heads(read: &Read) -> Vec<String> {
    let count = read.pages.len();
    let pages = (0..count).filter(|page| {
        let said: String = read.text(*page).split_whitespace().collect();
        !said.to_lowercase().contains(&format!("page{}of{count}", page + 1))
    });
    pages.map(|page| format!("F06: page {} does not say so", page + 1)).collect()
}

/// F06: every page bears the words of the head and the number of the paper, which name it, its job and its revision. The
/// digests behind the number are those of the program that wrote it.
fn named(read: &Read, paper: &Document) -> Vec<String> {
    let bare = |text: &str| text.chars().filter(|sign| sign.is_alphanumeric()).collect::<String>();
    let number = paper.furniture.foot_left.split(',').next().unwrap();
    let furniture = [&paper.furniture.head_left, &paper.furniture.head_right, number];
    let mut found = Vec::new();
    for page in 0..read.pages.len() {
        let said = bare(&read.text(page));
        let missing = furniture.iter().filter(|words| !said.contains(&bare(words)));
        found.extend(missing.map(|words| format!("F06: page {} does not say `{words}`", page + 1)));
    }
    found
}

/// F19: a file knows no clock; its dates are that of the paper.
fn dated(read: &Read, paper: &Document) -> Vec<String> {
    let info = read.file.trailer.get(b"Info").ok().and_then(|info| read.dictionary(info)).unwrap_or_default();
    let wanted = format!("D:{}", paper.date.replace('-', ""));
    let off = ["CreationDate", "ModDate"].into_iter().filter(|entry| {
        let date = says(&info, entry).and_then(|date| date.as_str().ok()).unwrap_or_default();
        !String::from_utf8_lossy(date).starts_with(&wanted)
    });
    off.map(|entry| format!("F19: {entry} is not {}", paper.date)).collect()
}

/// F18: a file that can be sent: the most bytes of one paper.
pub(super) const MOST: usize = 2_000_000;

pub(super) fn weight(file: &[u8]) -> Option<String> {
    (file.len() >= MOST).then(|| format!("F18: {} bytes", file.len()))
}

/// F08, F09, F10.
fn catalogue(read: &Read) -> Vec<String> {
    let is_true = |entry: &str, name: &str| {
        read.catalog_entry(entry)
            .is_some_and(|says| matches!(says.get(name.as_bytes()), Ok(Object::Boolean(true))))
    };
    let mut found = Vec::new();
    if !is_true("MarkInfo", "Marked") || is_true("MarkInfo", "Suspects") {
        found.push("F08: not marked".to_owned());
    }
    if !read
        .file
        .catalog()
        .unwrap()
        .get(b"Lang")
        .is_ok_and(|said| said.as_str().is_ok_and(|said| !said.is_empty()))
    {
        found.push("F09: no language".to_owned());
    }
    if !is_true("ViewerPreferences", "DisplayDocTitle") {
        found.push("F10: the title is not shown".to_owned());
    }
    found
}

/// F11: everything painted lies in a stretch; each numbered stretch belongs to one element, which the way back names.
fn marked(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    if read.bare > 0 {
        found.push(format!("F11: painted {} times outside every stretch", read.bare));
    }
    let mut owners: BTreeMap<(usize, i64), Vec<ObjectId>> = BTreeMap::new();
    for element in &read.elements {
        for stretch in &element.stretches {
            owners.entry(*stretch).or_default().push(element.id);
        }
    }
    let back = way_back(read);
    for (page, marked) in read.marked.iter().enumerate() {
        let key = read.file.get_dictionary(read.pages[page]).unwrap().get(b"StructParents");
        let key = key.and_then(Object::as_i64).unwrap_or(-1);
        let parents = back.get(&key).map(|parents| read.list(parents)).unwrap_or_default();
        for one in marked {
            if one.within > 0 {
                found.push(format!("F11: a stretch within another on page {}", page + 1));
            }
            let Some(number) = one.number else { continue };
            let owner = owners.remove(&(page, number)).unwrap_or_default();
            let named = usize::try_from(number).ok().and_then(|at| parents.get(at)?.as_reference().ok());
            if owner.len() != 1 || named != owner.first().copied() {
                found.push(format!(
                    "F11: stretch {number} of page {}: {owner:?}, back to {named:?}",
                    page + 1
                ));
            }
        }
    }
    if !owners.is_empty() {
        found.push(format!("F11: elements of {} stretches that are not there", owners.len()));
    }
    found
}

fn way_back(read: &Read) -> BTreeMap<i64, Object> {
    let root = read.catalog_entry("StructTreeRoot").unwrap_or_default();
    let tree = says(&root, "ParentTree").and_then(|tree| read.dictionary(tree)).unwrap_or_default();
    let entries = says(&tree, "Nums").map(|list| read.list(list)).unwrap_or_default();
    entries.chunks_exact(2).map(|pair| (pair[0].as_i64().unwrap(), pair[1].clone())).collect()
}

fn level(element: &Element) -> Option<usize> {
    element.tag.strip_prefix('H').and_then(|level| level.parse().ok())
}

/// F12: the title comes first and no level is left out.
fn headings(read: &Read) -> Vec<String> {
    let mut over = 0;
    let mut found = Vec::new();
    for level in read.elements.iter().filter_map(level) {
        if level > over + 1 || (over == 0) != (level == 1) {
            found.push(format!("F12: a heading of level {level} after one of level {over}"));
        }
        over = level;
    }
    if over == 0 || read.elements.iter().any(|element| element.tag == "H") {
        found.push("F12: no numbered headings".to_owned());
    }
    found
}

/// F13: a table is a caption, one head and rows; each row has as many cells; heads say for what.
fn tables(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    let under =
        |of: usize| read.elements.iter().enumerate().filter(move |(_, element)| element.around == Some(of));
    for (table, _) in read.elements.iter().enumerate().filter(|(_, element)| element.tag == "Table") {
        let parts: Vec<&str> = under(table).map(|(_, part)| part.tag.as_str()).collect();
        let in_order = ["Caption", "THead", "TBody"];
        let places: Option<Vec<usize>> =
            parts.iter().map(|part| in_order.iter().position(|known| known == part)).collect();
        if !places.is_some_and(|places| places.windows(2).all(|two| two[0] < two[1]))
            || !parts.contains(&"THead")
        {
            found.push(format!("F13: a table of {parts:?}"));
        }
        let mut widths = BTreeSet::new();
        for (part, within) in under(table).filter(|(_, part)| part.tag != "Caption") {
            let cell = if within.tag == "THead" { "TH" } else { "TD" };
            for (row, _) in under(part) {
                let cells: Vec<&Element> = under(row).map(|(_, cell)| cell).collect();
                widths.insert(cells.len());
                for one in cells {
                    let scope = says(&one.says, "A").and_then(|says| read.dictionary(says));
                    let scope = scope.map(|says| name(&says, "Scope")).unwrap_or_default();
                    if one.tag != cell || (cell == "TH" && scope != "Column") {
                        found.push(format!("F13: {} in {}, scope `{scope}`", one.tag, within.tag));
                    }
                }
            }
        }
        if widths.len() != 1 {
            found.push(format!("F13: rows of {widths:?} cells"));
        }
    }
    found
}

/// F15: each field to press belongs to a link of the tree, which the way back names, and says what it is; pages are
/// tabbed through in the order of the tree.
fn pressed(read: &Read) -> Vec<String> {
    let mut found = Vec::new();
    let back = way_back(read);
    let links = read.elements.iter().filter(|element| element.tag == "Link");
    let mut owners: BTreeMap<ObjectId, ObjectId> = BTreeMap::new();
    for link in links {
        if link.fields.is_empty() || link.stretches.is_empty() {
            found.push("F15: a link without words or without a field".to_owned());
        }
        owners.extend(link.fields.iter().map(|field| (*field, link.id)));
    }
    for id in read.fields.keys() {
        let field = read.file.get_dictionary(*id).unwrap();
        let key = says(field, "StructParent").and_then(|key| key.as_i64().ok()).unwrap_or(-1);
        let named = back.get(&key).and_then(|owner| owner.as_reference().ok());
        if named.is_none() || named != owners.get(id).copied() || says(field, "Contents").is_none() {
            found.push("F15: a field that belongs to no link, or says nothing".to_owned());
        }
    }
    for page in &read.pages {
        if name(read.file.get_dictionary(*page).unwrap(), "Tabs") != "S" {
            found.push("F15: a page is not tabbed through in the order of the tree".to_owned());
        }
    }
    found
}

/// F16: version 1.7 at most, nothing locked, standard kinds of element alone, and the standard claimed.
fn form(read: &Read) -> Vec<String> {
    const KNOWN: [&str; 27] = [
        "Caption", "Div", "Document", "Figure", "H1", "H2", "H3", "H4", "L", "LBody", "LI", "Lbl", "Link",
        "Note", "P", "Sect", "TBody", "TD", "TH", "THead", "TOC", "TOCI", "TR", "Table", "Span", "Part", "H",
    ];
    let mut found = Vec::new();
    if read.file.version.as_str() > "1.7" || read.file.trailer.has(b"Encrypt") {
        found.push("F16: a newer version, or locked".to_owned());
    }
    // a file without a packet is a fault of its own
    let packet = packet(read);
    if !packet.is_empty() && !packet.contains("<pdfuaid:part>1</pdfuaid:part>") {
        found.push("F16: the standard is not claimed".to_owned());
    }
    let odd = read.elements.iter().filter(|element| !KNOWN.contains(&element.tag.as_str()));
    found.extend(odd.map(|element| format!("F16: `{}` at depth {}", element.tag, element.depth)));
    found
}

/// Notes have names, none twice (ISO 14289-1, 7.9).
fn notes(read: &Read) -> Vec<String> {
    let mut seen = BTreeSet::new();
    let notes = read.elements.iter().filter(|element| element.tag == "Note");
    let nameless = notes.filter(|note| {
        let own = says(&note.says, "ID").and_then(|name| name.as_str().ok()).map(<[u8]>::to_vec);
        own.is_none_or(|own| !seen.insert(own))
    });
    nameless.map(|_| "7.9: a note without a name of its own".to_owned()).collect()
}

/// F20: in grey, words stand out from white paper by 4.5 to 1 at least (WCAG 2.2, 1.4.3).
fn ink(read: &Read) -> Vec<String> {
    let linear = |part: f32| if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) };
    let faint = read.inks.iter().find(|[red, green, blue]| {
        let light = 0.2126 * linear(*red) + 0.7152 * linear(*green) + 0.0722 * linear(*blue);
        1.05 / (light + 0.05) < 4.5
    });
    faint.map(|ink| format!("F20: words in {ink:?}")).into_iter().collect()
}
