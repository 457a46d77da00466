//! Lists: one of many levels that numbers parts, articles and paragraphs, bound to their styles, and one of points.
//! Every level starts again below each one above it, so that a new paragraph renumbers what follows.

use super::role::Role;
use super::xml::Xml;
use super::{MAIN, twips};
use crate::document::block::{BlockKind, Document};
use crate::render::tokens::{ARTICLE_HANG, INDENT, Pt, Tokens};

/// The list of parts, articles and paragraphs.
pub(crate) const CLAUSES: &str = "1";
/// The list of points.
pub(crate) const POINTS: &str = "2";

/// Room for the number of a part before its title.
pub(crate) const PART_HANG: Pt = 62.0;

/// How a level counts.
struct Level {
    role: Role,
    /// The standard's word for the signs.
    count: &'static str,
    /// What is printed, with `%` and the level's number for the count.
    text: String,
    /// Where the words stand.
    left: Pt,
    /// How far before them the number stands.
    hang: Pt,
}

/// The part `word/numbering.xml`.
pub(crate) fn numbering(document: &Document, tokens: &Tokens) -> Vec<u8> {
    let mut xml = Xml::file();
    xml.within("w:numbering", &[("xmlns:w", MAIN)], |xml| {
        list(xml, CLAUSES, &clauses(document, tokens));
        list(xml, POINTS, &points());
        for id in [CLAUSES, POINTS] {
            xml.within("w:num", &[("w:numId", id)], |xml| xml.value("w:abstractNumId", id));
        }
    });
    xml.bytes()
}

fn list(xml: &mut Xml, id: &str, levels: &[Level]) {
    xml.within("w:abstractNum", &[("w:abstractNumId", id)], |xml| {
        xml.value("w:multiLevelType", "multilevel");
        for (number, level) in levels.iter().enumerate() {
            xml.within("w:lvl", &[("w:ilvl", &*number.to_string())], |xml| {
                xml.value("w:start", "1");
                xml.value("w:numFmt", level.count);
                xml.value("w:pStyle", &level.role.id());
                xml.value("w:suff", if level.text.is_empty() { "nothing" } else { "tab" });
                xml.value("w:lvlText", &level.text);
                xml.value("w:lvlJc", "left");
                xml.within("w:pPr", &[], |xml| {
                    xml.leaf("w:ind", &[("w:left", &*twips(level.left)), ("w:hanging", &twips(level.hang))]);
                });
            });
        }
    });
}

fn clauses(document: &Document, tokens: &Tokens) -> Vec<Level> {
    let rail = super::styles::rail(document, tokens);
    let first =
        |wanted: fn(&BlockKind) -> Option<&str>| document.blocks.iter().find_map(|block| wanted(&block.kind));
    let part = first(|kind| match kind {
        BlockKind::Heading { level: 1, number, .. } => number.as_deref(),
        _ => None,
    });
    let article = first(|kind| match kind {
        BlockKind::Heading { level: 2, number, .. } => number.as_deref(),
        _ => None,
    });
    let label = first(|kind| match kind {
        BlockKind::Item { depth: 1, label, .. } => Some(label),
        _ => None,
    });
    let word = part.map(|part| part.trim_end_matches(|sign: char| sign.is_ascii_digit()));
    let head = |role, text: String, left: Pt, hang: Pt| Level {
        role,
        count: if text.is_empty() { "none" } else { "decimal" },
        left: if text.is_empty() { left } else { left + hang },
        hang: if text.is_empty() { 0.0 } else { hang },
        text,
    };
    let part = head(Role::Part, word.map_or_else(String::new, |word| format!("{word}%1")), -rail, PART_HANG);
    let number = if article.is_some() { "%1.%2".to_owned() } else { String::new() };
    let article = head(Role::Article, number, 0.0, ARTICLE_HANG);
    let run = head(Role::Run, String::new(), 0.0, 0.0);
    let (count, text) = match label {
        Some(label) if label.starts_with(|sign: char| sign.is_ascii_digit()) => {
            ("decimal", format!("%4{}", label.trim_start_matches(|sign: char| sign.is_ascii_digit())))
        }
        _ => ("upperLetter", "%4.".to_owned()),
    };
    let items = [
        (Role::Clause1, count, text),
        (Role::Clause2, "decimal", "%5.".to_owned()),
        (Role::Clause3, "lowerLetter", "%6.".to_owned()),
        (Role::Clause4, "decimal", "%7)".to_owned()),
    ];
    let items = (1_u8..).zip(items).map(|(depth, (role, count, text))| Level {
        role,
        count,
        text,
        left: f64::from(depth) * INDENT,
        hang: INDENT,
    });
    [part, article, run].into_iter().chain(items).collect()
}

fn points() -> Vec<Level> {
    let signs = [(Role::Point, "•"), (Role::Point2, "–")];
    (1_u8..)
        .zip(signs)
        .map(|(depth, (role, sign))| Level {
            role,
            count: "bullet",
            text: sign.to_owned(),
            left: f64::from(depth) * INDENT,
            hang: INDENT,
        })
        .collect()
}
