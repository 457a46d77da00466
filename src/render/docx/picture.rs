//! Figures: a picture made of lines and words, in the line of the text, with the words for readers who cannot see it.

use super::body::Body;
use super::role::Role;
use super::runs::Dress;
use super::xml::Xml;
use crate::document::block::Inline;
use crate::drawing::{Drawing, Mm};

/// The standard's unit of drawings, in a point.
const UNITS: f64 = 12_700.0;
/// Rounding that does not make a figure wider than the text.
const EASE: f64 = 0.5;

const PICTURE: &str = "http://schemas.openxmlformats.org/drawingml/2006/picture";
const DRAWING: &str = "http://schemas.openxmlformats.org/drawingml/2006/main";

impl<'a> Body<'a> {
    /// A figure with its words.
    pub(crate) fn figure(&mut self, id: Option<&str>, drawing: &'a Drawing) {
        let wide =
            drawing.width.points() > self.laid.tokens.measure + EASE && self.laid.tokens.is_one_column();
        let [caption, figure, note] = if wide {
            [Role::CaptionWide, Role::FigureWide, Role::NoteWide]
        } else {
            [Role::Caption, Role::Figure, Role::Note]
        };
        let words = |words: &str| [Inline::Text(words.to_owned())];
        let mut id = id;
        if !drawing.caption.is_empty() {
            self.bound(caption, false, id.take(), |body| body.run(&drawing.caption, Dress::PLAIN));
        }
        self.picture(figure, id, drawing);
        if drawing.note.is_empty() {
            self.room(Role::Behind);
        } else {
            self.paragraph(note, None, &words(&drawing.note));
        }
    }

    /// The picture alone, in a paragraph that stays with its note.
    pub(crate) fn picture(&mut self, role: Role, id: Option<&str>, drawing: &'a Drawing) {
        self.pictures.push(drawing);
        let relation = format!("rIdPicture{}", self.pictures.len());
        let number = self.next().to_string();
        self.bound(role, !drawing.note.is_empty(), id, |body| {
            body.xml.within("w:r", &[], |xml| inline(xml, drawing, &relation, &number));
        });
    }
}

/// A length in the standard's units.
fn units(length: Mm) -> String {
    format!("{:.0}", length.points() * UNITS)
}

fn inline(xml: &mut Xml, drawing: &Drawing, relation: &str, number: &str) {
    let (width, height) = (units(drawing.width), units(drawing.height));
    let extent = [("cx", width.as_str()), ("cy", height.as_str())];
    let file = format!("{}.emf", drawing.id);
    xml.within("w:drawing", &[], |xml| {
        let none = [("distT", "0"), ("distB", "0"), ("distL", "0"), ("distR", "0")];
        xml.within("wp:inline", &none, |xml| {
            xml.leaf("wp:extent", &extent);
            let about = [
                ("id", number),
                ("name", &*drawing.id),
                ("descr", &*drawing.alt),
                ("title", &*drawing.title),
            ];
            xml.leaf("wp:docPr", &about);
            xml.within("a:graphic", &[("xmlns:a", DRAWING)], |xml| {
                xml.within("a:graphicData", &[("uri", PICTURE)], |xml| {
                    xml.within("pic:pic", &[("xmlns:pic", PICTURE)], |xml| {
                        xml.within("pic:nvPicPr", &[], |xml| {
                            xml.leaf("pic:cNvPr", &[("id", number), ("name", &file)]);
                            xml.leaf("pic:cNvPicPr", &[]);
                        });
                        xml.within("pic:blipFill", &[], |xml| {
                            xml.leaf("a:blip", &[("r:embed", relation)]);
                            xml.within("a:stretch", &[], |xml| xml.leaf("a:fillRect", &[]));
                        });
                        xml.within("pic:spPr", &[], |xml| {
                            xml.within("a:xfrm", &[], |xml| {
                                xml.leaf("a:off", &[("x", "0"), ("y", "0")]);
                                xml.leaf("a:ext", &extent);
                            });
                            xml.within("a:prstGeom", &[("prst", "rect")], |xml| xml.leaf("a:avLst", &[]));
                        });
                    });
                });
            });
        });
    });
}
