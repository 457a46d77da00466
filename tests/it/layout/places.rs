//! Words and lines where they must not be.

use perpend::render::{Laid, Placed, What};

use super::sheets::words;

/// Left and right margin, paper edge to the text above and below: the design's.
const SIDE: f64 = 54.0;
const TOP: f64 = 64.0;
const BOTTOM: f64 = 60.0;

/// Rounding that is no fault.
const EASE: f64 = 0.5;

/// Share of the type size that letters reach under the baseline, and over it.
const DESCENT: f64 = 0.2;
const CAPITAL: f64 = 0.66;

/// Words and lines of figures that leave the room between the margins: page from 1, and the words.
pub(crate) fn sticking_out(laid: &Laid) -> Vec<(usize, String)> {
    out_of_margins(laid.paper(), &laid.placed())
}

/// Words outside figures that touch others on a page: page from 1, and both.
pub(crate) fn overlapping(laid: &Laid) -> Vec<(usize, String, String)> {
    touching(&laid.placed())
}

pub(super) fn out_of_margins((width, height): (f64, f64), marks: &[Placed]) -> Vec<(usize, String)> {
    let sides = SIDE - EASE..=width - SIDE + EASE;
    let body = BOTTOM - EASE..=height - TOP + EASE;
    let out = marks.iter().filter_map(|mark| {
        let is_between = sides.contains(&mark.left) && sides.contains(&(mark.left + mark.width));
        match &mark.what {
            What::Figure => {
                let is_in = is_between && body.contains(&mark.y) && body.contains(&(mark.y + mark.height));
                (!is_in).then(|| (mark.page + 1, "a line of a figure".to_owned()))
            }
            What::Words { text, .. } => {
                let is_on_paper = (0.0..=height).contains(&mark.y);
                let is_in = is_between && is_on_paper && (mark.block.is_none() || body.contains(&mark.y));
                (!is_in).then(|| (mark.page + 1, text.clone()))
            }
            What::Rule | What::Fill => None,
        }
    });
    out.collect()
}

/// What the letters of some words cover.
struct Reach<'m> {
    text: &'m str,
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
}

/// The letters of words outside figures, from under the baseline to the top of the capitals, less what is no fault.
fn reach(mark: &Placed) -> Option<Reach<'_>> {
    let text = words(mark).filter(|_| mark.part != "figure")?;
    let (left, right) = (mark.left + EASE, mark.left + mark.width - EASE);
    let (bottom, top) = (mark.y - DESCENT * mark.height, mark.y + CAPITAL * mark.height - EASE);
    (right > left).then_some(Reach { text, left, right, bottom, top })
}

pub(super) fn touching(marks: &[Placed]) -> Vec<(usize, String, String)> {
    let mut found = Vec::new();
    for page in marks.chunk_by(|a, b| a.page == b.page) {
        let number = page[0].page + 1;
        let mut boxes: Vec<Reach<'_>> = page.iter().filter_map(reach).collect();
        boxes.sort_by(|a, b| a.bottom.total_cmp(&b.bottom));
        for (at, own) in boxes.iter().enumerate() {
            let near = boxes.iter().skip(at + 1).take_while(|next| next.bottom < own.top);
            let touched = near.filter(|next| next.left < own.right && own.left < next.right);
            found.extend(touched.map(|next| (number, own.text.to_owned(), next.text.to_owned())));
        }
    }
    found
}
