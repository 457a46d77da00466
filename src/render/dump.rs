//! A laid document as text, for tests and for reading a difference.

use std::fmt::Write;

use super::laid::{Laid, Mark, Owner, Paint, Part, Run};

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
            Mark::Path { lines, paint, owner } => self.path(lines, *paint, *owner),
        }
    }

    fn owner(&self, owner: Owner) -> String {
        match owner {
            Owner::Artifact => "-".to_owned(),
            Owner::Content(block, part) => format!("{} {part}", self.name(block)),
        }
    }

    fn path(&self, lines: &[Vec<(f64, f64)>], paint: Paint, owner: Owner) -> String {
        let places: Vec<(f64, f64)> = lines.iter().flatten().copied().collect();
        let (x, y) = places.first().copied().unwrap_or_default();
        let (right, up) = places.last().copied().unwrap_or_default();
        let paint = match paint {
            Paint::Lines(pen) => format!("{} x {:?} {:?}", pen.weight, pen.dash, pen.colour),
            Paint::Area(colour) => format!("area {colour:?}"),
        };
        let (owner, lines, places) = (self.owner(owner), lines.len(), places.len());
        format!(
            "{x:7.2} {y:7.2}  {owner:<24} path of {lines} through {places} to {right:.2} {up:.2}, {paint}"
        )
    }

    fn text(&self, x: f64, y: f64, run: &Run) -> String {
        let owner = self.owner(run.owner);
        let link = run.link.and_then(|at| self.links.get(usize::try_from(at).ok()?));
        let link = link.map(|target| format!(" -> {target}")).unwrap_or_default();
        let look = format!("{}/{:.4}", run.look.face.short(), run.look.size);
        let look = look.trim_end_matches('0').trim_end_matches('.');
        format!("{x:7.2} {y:7.2}  {owner:<24} {look:<18} {}{link}", run.text)
    }
}

impl Laid {
    /// The words of the blocks in reading order, without heads, feet and repeated table heads. Runs of one block
    /// part follow each other; parts are on lines of their own.
    pub fn words(&self) -> String {
        let mut out = String::new();
        for page in &self.pages {
            let parts = page.marks.chunk_by(|a, b| a.owner() == b.owner());
            for marks in parts.filter(|marks| marks.iter().any(|mark| mark.owner() != Owner::Artifact)) {
                for mark in marks {
                    if let Mark::Text { run, .. } = mark {
                        out.push_str(&run.text);
                    }
                }
                out.push('\n');
            }
        }
        out
    }

    /// The words in figures with the width that they take, in points, in the order painted.
    pub fn figure_words(&self) -> Vec<(String, f64)> {
        let marks = self.pages.iter().flat_map(|page| &page.marks);
        let runs = marks.filter_map(|mark| if let Mark::Text { run, .. } = mark { Some(run) } else { None });
        let in_figure = runs.filter(|run| matches!(run.owner, Owner::Content(_, Part::Figure)));
        in_figure.map(|run| (run.text.clone(), run.width)).collect()
    }
}
