//! Heads and feet. Page numbers are fields; what they print first is what the pages of the PDF say.

use super::role::Role;
use super::runs::{field, styled};
use super::xml::Xml;
use super::{MAIN, RELATIONS};
use crate::document::block::Document;

/// The part `word/header1.xml`.
pub(crate) fn head(document: &Document) -> Vec<u8> {
    let furniture = &document.furniture;
    let mut xml = Xml::file();
    xml.within("w:hdr", &[("xmlns:w", MAIN), ("xmlns:r", RELATIONS)], |xml| {
        line(xml, Role::Head, |xml| {
            styled(xml, None, &furniture.head_left);
            xml.within("w:r", &[], |xml| xml.leaf("w:tab", &[]));
            styled(xml, None, &furniture.head_right);
        });
        if let Some(strip) = &furniture.status_strip {
            line(xml, Role::Status, |xml| styled(xml, None, strip));
        }
    });
    xml.bytes()
}

/// The part `word/footer1.xml`.
pub(crate) fn foot(document: &Document, pages: usize) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("w:ftr", &[("xmlns:w", MAIN), ("xmlns:r", RELATIONS)], |xml| {
        line(xml, Role::FootStrong, |xml| {
            styled(xml, None, document.standing.words());
            xml.within("w:r", &[], |xml| xml.leaf("w:tab", &[]));
            styled(xml, None, "Page ");
            field(xml, " PAGE ", "1", None);
            styled(xml, None, " of ");
            field(xml, " NUMPAGES ", &pages.to_string(), None);
        });
        line(xml, Role::Foot, |xml| styled(xml, None, &document.furniture.foot_left));
    });
    xml.bytes()
}

fn line(xml: &mut Xml, role: Role, inside: impl FnOnce(&mut Xml)) {
    xml.within("w:p", &[], |xml| {
        xml.within("w:pPr", &[], |xml| xml.value("w:pStyle", &role.id()));
        inside(xml);
    });
}
