//! Tables: real ones, with a style, a head that repeats, rows that stay whole, and the column widths of the PDF.

use super::body::Body;
use super::role::{Grid, Role};
use super::runs::Dress;
use super::styles::SLACK;
use super::twips;
use super::xml::Xml;
use crate::document::block::{Align, Inline, Strong, Table, TextSize};
use crate::render::laid::Ruling;
use crate::render::tokens::{COLUMN_GAP, GUTTER, Pt};

/// Edges and columns of a table before it is written.
struct Frame {
    grid: Grid,
    /// Left edge, from the text.
    left: Pt,
    /// From column to column, the last one to the right edge.
    widths: Vec<Pt>,
    /// Room at both sides of a cell, where it is not the style's own.
    pad: Option<Pt>,
}

impl Body<'_> {
    /// A table with its caption.
    pub(crate) fn table(&mut self, number: u32, id: Option<&str>, table: &Table) {
        let Some(ruling) = self.laid.rulings.get(&number) else { return };
        let wide = ruling.left < 0.0;
        if table.caption.is_empty() {
            self.room(Role::Ahead);
        } else {
            let role = if wide { Role::CaptionWide } else { Role::Caption };
            self.bound(role, false, id, |body| body.runs(&table.caption, Dress::PLAIN));
        }
        let frame = frame(table, ruling);
        self.xml.open("w:tbl", &[]);
        begin(&mut self.xml, &frame, Head::Yes);
        let first = id.filter(|_| table.caption.is_empty());
        self.head(table, &frame, first);
        let count = table.rows.len();
        for (at, cells) in (1..).zip(&table.rows) {
            let bind = at < count && (at < ruling.whole || at + 1 == count);
            self.row(table, &frame, cells, bind);
        }
        self.xml.close("w:tbl");
        self.room(Role::Behind);
    }

    fn head(&mut self, table: &Table, frame: &Frame, id: Option<&str>) {
        self.xml.open("w:tr", &[]);
        self.xml.within("w:trPr", &[], |xml| {
            xml.leaf("w:cantSplit", &[]);
            xml.leaf("w:tblHeader", &[]);
        });
        for (at, (words, width)) in table.head.iter().zip(&frame.widths).enumerate() {
            let role = if right(table, at) { Role::CellHeadNumber } else { Role::CellHead };
            let id = id.filter(|_| at == 0);
            self.cell(&twips(*width), |body| {
                body.bound(role, false, id, |body| body.runs(words, Dress::PLAIN));
            });
        }
        self.xml.close("w:tr");
    }

    fn row(&mut self, table: &Table, frame: &Frame, cells: &[Vec<Inline>], bind: bool) {
        self.xml.open("w:tr", &[]);
        self.xml.within("w:trPr", &[], |xml| {
            xml.leaf("w:cantSplit", &[]);
            if table.is_form() {
                xml.leaf("w:trHeight", &[("w:val", &*twips(table.row.points())), ("w:hRule", "atLeast")]);
            }
        });
        for (at, (words, width)) in cells.iter().zip(&frame.widths).enumerate() {
            let role = role(table, words, right(table, at));
            let dress = Dress::of(table.strong);
            self.cell(&twips(*width), |body| body.bound(role, bind, None, |body| body.runs(words, dress)));
        }
        self.xml.close("w:tr");
    }

    /// A cell, its width in the standard's units.
    pub(crate) fn cell(&mut self, width: &str, inside: impl FnOnce(&mut Self)) {
        self.xml.open("w:tc", &[]);
        self.xml.within("w:tcPr", &[], |xml| xml.leaf("w:tcW", &[("w:w", width), ("w:type", "dxa")]));
        inside(self);
        self.xml.close("w:tc");
    }

    /// The title block: two fields a row, label over value.
    pub(crate) fn fields(&mut self) {
        let tokens = &self.laid.tokens;
        let half = (tokens.full() - GUTTER) / 2.0;
        let left = -super::styles::rail(self.document, tokens);
        let frame = Frame { grid: Grid::Fields, left, widths: vec![half + GUTTER, half], pad: None };
        self.xml.open("w:tbl", &[]);
        begin(&mut self.xml, &frame, Head::No);
        for pair in self.document.furniture.title_block.chunks(2) {
            self.xml.open("w:tr", &[]);
            self.xml.within("w:trPr", &[], |xml| xml.leaf("w:cantSplit", &[]));
            for (at, width) in frame.widths.iter().enumerate() {
                let field = pair.get(at);
                self.cell(&twips(*width), |body| {
                    let (label, value) = field.map_or(("", ""), |(label, value)| {
                        (label.as_str(), value.as_deref().unwrap_or_default())
                    });
                    body.bound(Role::FieldLabel, false, None, |body| body.run(label, Dress::PLAIN));
                    body.bound(Role::FieldValue, false, None, |body| body.run(value, Dress::PLAIN));
                });
            }
            self.xml.close("w:tr");
        }
        self.xml.close("w:tbl");
        self.room(Role::Behind);
    }
}

/// Whether a table has a head.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Head {
    Yes,
    No,
}

/// The properties and the columns of a table.
fn begin(xml: &mut Xml, frame: &Frame, head: Head) {
    let all: Pt = frame.widths.iter().sum();
    xml.within("w:tblPr", &[], |xml| {
        xml.value("w:tblStyle", &frame.grid.id());
        xml.leaf("w:tblW", &[("w:w", &*twips(all)), ("w:type", "dxa")]);
        xml.leaf("w:tblInd", &[("w:w", &*twips(frame.left)), ("w:type", "dxa")]);
        xml.leaf("w:tblLayout", &[("w:type", "fixed")]);
        if let Some(pad) = frame.pad {
            xml.within("w:tblCellMar", &[], |xml| {
                for side in ["w:left", "w:right"] {
                    xml.leaf(side, &[("w:w", &*twips(pad)), ("w:type", "dxa")]);
                }
            });
        }
        let (value, first) = if head == Head::Yes { ("0620", "1") } else { ("0600", "0") };
        let look = [
            ("w:val", value),
            ("w:firstRow", first),
            ("w:lastRow", "0"),
            ("w:firstColumn", "0"),
            ("w:lastColumn", "0"),
            ("w:noHBand", "1"),
            ("w:noVBand", "1"),
        ];
        xml.leaf("w:tblLook", &look);
    });
    xml.within("w:tblGrid", &[], |xml| {
        for width in &frame.widths {
            xml.leaf("w:gridCol", &[("w:w", &*twips(*width))]);
        }
    });
}

/// A table of the PDF with the gaps between its columns shared out to the cells beside them. Its words stand where the
/// PDF has them, so its edges lie half a gap outside.
fn frame(table: &Table, ruling: &Ruling) -> Frame {
    let grid = if table.is_form() { Grid::Form } else { Grid::Ruled };
    let pad = (ruling.gap / 2.0 - SLACK).max(0.0);
    let widths = ruling.widths.iter().map(|width| width + ruling.gap).collect();
    let own = (ruling.gap - COLUMN_GAP).abs() > 0.01;
    let left = ruling.left - pad;
    Frame { grid, left, widths, pad: own.then_some(pad) }
}

fn right(table: &Table, column: usize) -> bool {
    table.align.get(column) == Some(&Align::Right)
}

fn role(table: &Table, words: &[Inline], right: bool) -> Role {
    let boxes = words.iter().any(|run| matches!(run, Inline::Tick(_)));
    match (table.strong, table.size) {
        (Strong::Large, _) => Role::KeyFigures,
        (_, TextSize::Small) if boxes => Role::FormBoxes,
        (_, TextSize::Small) => Role::FormSmall,
        _ if table.is_form() => Role::Form,
        _ if right => Role::CellNumber,
        _ => Role::Cell,
    }
}
