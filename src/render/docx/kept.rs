//! Words that an office changed: kept as they are found, with what would be written now beside them.

use super::body::Body;
use super::left::{FoundTable, Left, Paragraph, Passage, Piece, Run};
use super::passage::short;
use super::role::{Grid, Role};
use super::runs::{Dress, styled};
use crate::document::block::Inline;

/// Words that an office wrote into a paper and that are kept in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfficeText {
    /// The clause, or what else of the paper: the id of its first block.
    pub clause: String,
    /// The words that are kept, a line for each paragraph.
    pub kept: String,
    /// The words that would be written now; empty where the office added a passage or the clause is no longer written.
    pub proposed: String,
}

impl Body<'_> {
    /// The passage of this name as an office changed it, if it did and its words are not those written now.
    pub(crate) fn changed(&self, id: &str, now: &str) -> Option<Passage> {
        let passage = self.left?.passage(&short(id))?;
        (passage.is_changed() && passage.words() != now).then(|| passage.clone())
    }

    /// Writes what an office made of a passage.
    pub(crate) fn kept(&mut self, id: &str, passage: &Passage, proposed: &str) {
        self.kept_pieces(&passage.pieces, Some(id));
        self.note(id, passage.shown(), proposed);
    }

    /// What is proposed beside words that are kept: marked, and not numbered.
    pub(crate) fn proposal(&mut self, name: &str, proposed: &str) {
        let mark = format!("Text now proposed for “{name}”; the text above is the office’s and is kept:");
        self.paragraph(Role::ProposedMark, None, &[Inline::Text(mark)]);
        for line in proposed.lines() {
            self.paragraph(Role::Proposed, None, &[Inline::Text(line.to_owned())]);
        }
    }

    /// What somebody added behind a passage stays there.
    pub(crate) fn added(&mut self, id: &str) {
        let Some(added) = self.left.and_then(|left| left.added(&short(id))) else { return };
        let added = added.clone();
        self.kept_pieces(&added.pieces, None);
        self.note(&format!("behind {id}"), added.shown(), "");
    }

    /// What somebody changed or added whose place is no longer written stands before the last line.
    pub(crate) fn homeless(&mut self) {
        let Some(left) = self.left else { return };
        let is_homeless = |passage: &&Passage| passage.is_changed() && !self.written.contains(&passage.name);
        let homeless: Vec<Passage> = Left::passages(left).iter().filter(is_homeless).cloned().collect();
        for passage in homeless {
            let mark = format!(
                "Kept from the file before: the office’s text of “{}”, which is no longer written:",
                passage.name
            );
            self.paragraph(Role::ProposedMark, None, &[Inline::Text(mark)]);
            let name = passage.name.clone();
            self.within_control(&name, "", |body| body.kept(&name, &passage, ""));
        }
    }

    fn note(&mut self, clause: &str, kept: String, proposed: &str) {
        self.office.push(OfficeText { clause: clause.to_owned(), kept, proposed: proposed.to_owned() });
    }

    /// Pieces as they are found; the first paragraph bears the bookmark.
    fn kept_pieces(&mut self, pieces: &[Piece], mut bookmark: Option<&str>) {
        for piece in pieces {
            match piece {
                Piece::Paragraph(paragraph) => self.kept_paragraph(paragraph, bookmark.take()),
                Piece::Table(table) => self.kept_table(table),
            }
        }
    }

    fn kept_paragraph(&mut self, paragraph: &Paragraph, id: Option<&str>) {
        self.bound(paragraph.role, false, id, |body| {
            for run in &paragraph.runs {
                match run {
                    Run::Words(words, stress) => styled(&mut body.xml, *stress, words),
                    Run::Field(says, printed) => body.kept_field(says, printed),
                    Run::Break => body.xml.within("w:r", &[], |xml| xml.leaf("w:br", &[])),
                }
            }
        });
    }

    /// A reference stays one while its target is there.
    fn kept_field(&mut self, says: &str, printed: &str) {
        let mut words = says.split_whitespace();
        let (kind, mark) = (words.next(), words.next().unwrap_or_default());
        let target = self.targets.values().find(|target| target.bookmark == mark);
        let Some(target) = target.filter(|_| kind == Some("REF")) else {
            return styled(&mut self.xml, None, printed);
        };
        let now = if says.contains("\\n") { Some(&target.number) } else { target.title.as_ref() };
        let now = now.map_or(printed, String::as_str).to_owned();
        self.field(&format!(" {says} "), &now, Dress::PLAIN);
    }

    fn kept_table(&mut self, table: &FoundTable) {
        let grid = Grid::ALL.into_iter().find(|grid| grid.name().eq_ignore_ascii_case(&table.style));
        let grid = grid.unwrap_or(Grid::Form);
        self.xml.open("w:tbl", &[]);
        self.xml.within("w:tblPr", &[], |xml| {
            xml.value("w:tblStyle", &grid.id());
            xml.leaf("w:tblW", &[("w:w", "0"), ("w:type", "auto")]);
            xml.leaf("w:tblInd", &[("w:w", &*table.left), ("w:type", "dxa")]);
            xml.leaf("w:tblLayout", &[("w:type", "fixed")]);
            let first = if grid == Grid::Fields { "0" } else { "1" };
            xml.leaf(
                "w:tblLook",
                &[("w:val", "0620"), ("w:firstRow", first), ("w:noHBand", "1"), ("w:noVBand", "1")],
            );
        });
        self.xml.within("w:tblGrid", &[], |xml| {
            for width in &table.widths {
                xml.leaf("w:gridCol", &[("w:w", &**width)]);
            }
        });
        for (at, row) in table.rows.iter().enumerate() {
            self.xml.open("w:tr", &[]);
            self.xml.within("w:trPr", &[], |xml| {
                xml.leaf("w:cantSplit", &[]);
                if at == 0 && grid != Grid::Fields {
                    xml.leaf("w:tblHeader", &[]);
                }
            });
            for (column, cell) in row.iter().enumerate() {
                let width = table.widths.get(column).map_or("0", String::as_str);
                self.cell(width, |body| {
                    for paragraph in cell {
                        body.kept_paragraph(paragraph, None);
                    }
                    if cell.is_empty() {
                        body.room(Role::Cell);
                    }
                });
            }
            self.xml.close("w:tr");
        }
        self.xml.close("w:tbl");
        self.room(Role::Behind);
    }
}
