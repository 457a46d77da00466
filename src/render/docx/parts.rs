//! The small parts of the package: what is in it, how its parts belong together, what the file says about itself.

use super::xml::Xml;
use super::{MAIN, RELATIONS};
use crate::document::block::Document;

const TYPES: &str = "http://schemas.openxmlformats.org/package/2006/content-types";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006/relationships";
const KINDS: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const WORD: &str = "application/vnd.openxmlformats-officedocument.wordprocessingml";

/// Parts of the word processor: name, kind, and the relation by which the document knows them.
const PARTS: [(&str, &str, &str); 6] = [
    ("styles", "styles", "rIdStyles"),
    ("numbering", "numbering", "rIdNumbering"),
    ("settings", "settings", "rIdSettings"),
    ("fontTable", "fontTable", "rIdFonts"),
    ("header1", "header", "rIdHead"),
    ("footer1", "footer", "rIdFoot"),
];

/// The part `[Content_Types].xml`.
pub(crate) fn content_types(theme: bool) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("Types", &[("xmlns", TYPES)], |xml| {
        let package = "application/vnd.openxmlformats-package";
        let usual = [
            ("rels", format!("{package}.relationships+xml")),
            ("xml", "application/xml".to_owned()),
            ("emf", "image/x-emf".to_owned()),
        ];
        for (ending, kind) in usual {
            xml.leaf("Default", &[("Extension", ending), ("ContentType", &kind)]);
        }
        let mut part = |name: &str, kind: &str| {
            xml.leaf("Override", &[("PartName", name), ("ContentType", kind)]);
        };
        part("/word/document.xml", &format!("{WORD}.document.main+xml"));
        for (name, kind, _) in PARTS {
            part(&format!("/word/{name}.xml"), &format!("{WORD}.{kind}+xml"));
        }
        if theme {
            part("/word/theme/theme1.xml", "application/vnd.openxmlformats-officedocument.theme+xml");
        }
        part("/docProps/core.xml", &format!("{package}.core-properties+xml"));
        part("/docProps/app.xml", "application/vnd.openxmlformats-officedocument.extended-properties+xml");
    });
    xml.bytes()
}

/// The part `_rels/.rels`.
pub(crate) fn package_relations() -> Vec<u8> {
    let core = "http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties";
    relations(&[
        ("rIdDocument".to_owned(), format!("{KINDS}/officeDocument"), "word/document.xml".to_owned()),
        ("rIdCore".to_owned(), core.to_owned(), "docProps/core.xml".to_owned()),
        ("rIdApp".to_owned(), format!("{KINDS}/extended-properties"), "docProps/app.xml".to_owned()),
    ])
}

/// The part `word/_rels/document.xml.rels`.
pub(crate) fn document_relations(pictures: usize, theme: bool) -> Vec<u8> {
    let own = PARTS.map(|(name, kind, id)| (id.to_owned(), format!("{KINDS}/{kind}"), format!("{name}.xml")));
    let theme =
        theme.then(|| ("rIdTheme".to_owned(), format!("{KINDS}/theme"), "theme/theme1.xml".to_owned()));
    let pictures = (1..=pictures).map(|number| {
        (format!("rIdPicture{number}"), format!("{KINDS}/image"), format!("media/figure{number}.emf"))
    });
    relations(&own.into_iter().chain(theme).chain(pictures).collect::<Vec<_>>())
}

fn relations(all: &[(String, String, String)]) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("Relationships", &[("xmlns", PACKAGE)], |xml| {
        for (id, kind, target) in all {
            xml.leaf("Relationship", &[("Id", &**id), ("Type", kind), ("Target", target)]);
        }
    });
    xml.bytes()
}

/// The part `docProps/core.xml`. It names no person: who wrote and who signs is filled in on paper.
pub(crate) fn core(document: &Document) -> Vec<u8> {
    let mut xml = Xml::file();
    let spaces = [
        ("xmlns:cp", "http://schemas.openxmlformats.org/package/2006/metadata/core-properties"),
        ("xmlns:dc", "http://purl.org/dc/elements/1.1/"),
        ("xmlns:dcterms", "http://purl.org/dc/terms/"),
        ("xmlns:xsi", "http://www.w3.org/2001/XMLSchema-instance"),
    ];
    xml.within("cp:coreProperties", &spaces, |xml| {
        xml.said("dc:title", &document.title);
        xml.said("dc:subject", &document.subtitle);
        xml.said("dc:language", &document.language);
        for name in ["dcterms:created", "dcterms:modified"] {
            xml.within(name, &[("xsi:type", "dcterms:W3CDTF")], |xml| {
                xml.words(&format!("{}T00:00:00Z", document.date));
            });
        }
    });
    xml.bytes()
}

/// The part `docProps/app.xml`.
pub(crate) fn app(pages: usize) -> Vec<u8> {
    let mut xml = Xml::file();
    let space = "http://schemas.openxmlformats.org/officeDocument/2006/extended-properties";
    xml.within("Properties", &[("xmlns", space)], |xml| {
        xml.said("Pages", &pages.to_string());
        xml.said("Application", "perpend");
        xml.said("AppVersion", "00.0001");
    });
    xml.bytes()
}

/// The part `word/settings.xml`.
pub(crate) fn settings(document: &Document) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("w:settings", &[("xmlns:w", MAIN), ("xmlns:r", RELATIONS)], |xml| {
        xml.value("w:defaultTabStop", "360");
        xml.value("w:characterSpacingControl", "doNotCompress");
        xml.within("w:compat", &[], |xml| {
            let name = [
                ("w:name", "compatibilityMode"),
                ("w:uri", "http://schemas.microsoft.com/office/word"),
                ("w:val", "15"),
            ];
            xml.leaf("w:compatSetting", &name);
        });
        xml.leaf("w:themeFontLang", &[("w:val", &document.language)]);
        xml.value("w:decimalSymbol", ".");
        xml.value("w:listSeparator", ",");
    });
    xml.bytes()
}

/// The part `word/fontTable.xml`: the faces of the PDF, and what stands in for them where they are not installed.
pub(crate) fn fonts() -> Vec<u8> {
    let mut xml = Xml::file();
    let all = [
        ("Source Serif 4", "Georgia", "roman", "variable"),
        ("Source Sans 3", "Arial", "swiss", "variable"),
        ("Source Code Pro", "Courier New", "modern", "fixed"),
    ];
    xml.within("w:fonts", &[("xmlns:w", MAIN)], |xml| {
        for (name, other, family, pitch) in all {
            xml.within("w:font", &[("w:name", name)], |xml| {
                xml.value("w:altName", other);
                xml.value("w:charset", "00");
                xml.value("w:family", family);
                xml.value("w:pitch", pitch);
            });
        }
    });
    xml.bytes()
}
