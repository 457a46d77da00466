//! The page: paper, margins, columns, and which head and foot it bears.

use super::body::Spread;
use super::styles::rail;
use super::twips;
use super::xml::Xml;
use crate::document::block::Document;
use crate::render::laid::Laid;
use crate::render::tokens::{
    FOOT_LINE, FOOT_STEP, GUTTER, HEAD_LINE, HEAD_RISE, MARGIN_BOTTOM, MARGIN_SIDE, MARGIN_TOP, STRIP_ROOM,
};

/// The properties of a section.
pub(crate) fn properties(xml: &mut Xml, document: &Document, laid: &Laid, spread: Spread) {
    let tokens = &laid.tokens;
    let strip = document.furniture.status_strip.as_ref().map_or(0.0, |_| STRIP_ROOM);
    xml.within("w:sectPr", &[], |xml| {
        xml.leaf("w:headerReference", &[("w:type", "default"), ("r:id", "rIdHead")]);
        xml.leaf("w:footerReference", &[("w:type", "default"), ("r:id", "rIdFoot")]);
        xml.value("w:type", "continuous");
        xml.leaf("w:pgSz", &[("w:w", &*twips(tokens.width)), ("w:h", &twips(tokens.height))]);
        let margins = [
            ("w:top", MARGIN_TOP + strip),
            ("w:right", MARGIN_SIDE),
            ("w:bottom", MARGIN_BOTTOM),
            ("w:left", MARGIN_SIDE + rail(document, tokens)),
            ("w:header", HEAD_LINE - HEAD_RISE - FOOT_STEP),
            ("w:footer", FOOT_LINE - 3.0 * FOOT_STEP),
            ("w:gutter", 0.0),
        ]
        .map(|(side, width)| (side, twips(width)));
        xml.leaf("w:pgMar", &margins.each_ref().map(|(side, width)| (*side, width.as_str())));
        if spread == Spread::Columns {
            let gap = twips(GUTTER);
            xml.leaf("w:cols", &[("w:num", "2"), ("w:space", &gap)]);
        }
    });
}
