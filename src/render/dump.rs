//! A laid document as text, for tests and for reading a difference.

use std::fmt::Write;

use super::laid::{Laid, Mark, Owner, Run};

impl Laid {
    /// One line of text for each mark: place, owner, look, words. Heights count up from the foot of the paper.
    pub fn dump(&self) -> String {
        let (width, height) = self.paper;
        let mut out = format!("{} pages of {width} x {height} pt\n", self.pages.len());
        for (number, page) in (1..).zip(&self.pages) {
            let _ = writeln!(out, "\npage {number}");
            for mark in &page.marks {
                let _ = writeln!(out, "{}", self.describe(mark).trim_end());
            }
        }
        if !self.outline.is_empty() {
            out.push_str("\noutline\n");
        }
        for entry in &self.outline {
            let indent = "  ".repeat(usize::from(entry.level));
            let _ =
                writeln!(out, "{indent}{} (page {}, {:.2})", entry.title, entry.spot.page + 1, entry.spot.y);
        }
        out
    }

    fn describe(&self, mark: &Mark) -> String {
        match mark {
            Mark::Text { x, y, run } => self.text(*x, *y, run),
            Mark::Rule { x, y, width, weight, colour } => {
                format!("{x:7.2} {y:7.2}  rule {width:.2} x {weight} {colour:?}")
            }
            Mark::Fill { x, y, width, height, colour } => {
                format!("{x:7.2} {y:7.2}  fill {width:.2} x {height:.2} {colour:?}")
            }
            Mark::Course { x, y, width } => format!("{x:7.2} {y:7.2}  course {width:.2}"),
        }
    }

    fn text(&self, x: f64, y: f64, run: &Run) -> String {
        let owner = match run.owner {
            Owner::Artifact => "-".to_owned(),
            Owner::Content(block, part) => format!("{} {part}", self.name(block)),
        };
        let link = run.link.and_then(|at| self.links.get(usize::try_from(at).ok()?));
        let link = link.map(|target| format!(" -> {target}")).unwrap_or_default();
        let look = format!("{}/{:.4}", run.look.face.short(), run.look.size);
        let look = look.trim_end_matches('0').trim_end_matches('.');
        format!("{x:7.2} {y:7.2}  {owner:<24} {look:<18} {}{link}", run.text)
    }
}
