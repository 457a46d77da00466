//! Heads, feet and the status strip of every page. All of it is said elsewhere too, so all of it is an artifact.

use super::compose::{Setter, baseline, marks};
use super::laid::{Mark, Owner, Page};
use super::line::{Line, one_line};
use super::tokens::{
    Colour, FOOT, FOOT_LINE, FOOT_STEP, FOOT_STRONG, HEAD, HEAD_GAP, HEAD_LINE, HEAD_RISE, MARGIN_SIDE, Pt,
    STATUS, STRIP, STRIP_GAP, Type, WEIGHT_HAIR,
};
use super::words::Words;

/// Adds heads and feet to every page.
pub(crate) fn furnish(setter: &mut Setter<'_>, pages: &mut [Page]) {
    let head = setter.page_head();
    let foot = setter.page_foot();
    let total = pages.len();
    for (number, page) in (1..).zip(pages) {
        let count = setter.fitted(&format!("Page {number} of {total}"), FOOT_STRONG, setter.tokens.full());
        let x = MARGIN_SIDE + setter.tokens.full() - count.width;
        page.marks.splice(0..0, head.iter().cloned());
        page.marks.extend(foot.iter().cloned());
        page.marks.extend(marks(count, x, FOOT_LINE - FOOT_STEP));
    }
    setter.report("the head or foot of the pages");
}

impl Setter<'_> {
    fn page_head(&mut self) -> Vec<Mark> {
        let furniture = &self.document.furniture;
        let line = self.tokens.height - HEAD_LINE;
        let width = self.tokens.full();
        let right = self.fitted(&furniture.head_right, HEAD, width * 0.6);
        let room = width - right.width - HEAD_GAP;
        let left = self.fitted(&furniture.head_left, HEAD, room);
        let right_at = MARGIN_SIDE + width - right.width;
        let mut painted: Vec<Mark> = marks(left, MARGIN_SIDE, line + HEAD_RISE).collect();
        painted.extend(marks(right, right_at, line + HEAD_RISE));
        painted.push(Mark::Course { x: MARGIN_SIDE, y: line, width });
        if let Some(strip) = &furniture.status_strip {
            let top = line - STRIP_GAP;
            painted.push(Mark::Fill { x: MARGIN_SIDE, y: top, width, height: STRIP, colour: Colour::Tint });
            let words = self.fitted(strip, STATUS, width);
            let x = MARGIN_SIDE + (width - words.width) / 2.0;
            painted.extend(marks(words, x, top - baseline(STATUS)));
        }
        painted
    }

    fn page_foot(&mut self) -> Vec<Mark> {
        let width = self.tokens.full();
        let rule =
            Mark::Rule { x: MARGIN_SIDE, y: FOOT_LINE, width, weight: WEIGHT_HAIR, colour: Colour::Rule };
        let mut painted = vec![rule];
        let standing = self.fitted(self.document.standing.words(), FOOT_STRONG, width / 2.0);
        painted.extend(marks(standing, MARGIN_SIDE, FOOT_LINE - FOOT_STEP));
        let words = Words::plain(&self.document.furniture.foot_left, FOOT, Owner::Artifact);
        let mut y = FOOT_LINE - 2.0 * FOOT_STEP;
        for line in self.lines(&words, width).into_iter().take(2) {
            painted.extend(marks(line, MARGIN_SIDE, y));
            y -= FOOT_STEP;
        }
        painted
    }

    /// Words on one line, cut short with an ellipsis where they do not fit.
    fn fitted(&mut self, text: &str, kind: Type, width: Pt) -> Line {
        let words = Words::plain(text, kind, Owner::Artifact);
        let whole = one_line(&words, &mut self.shaper);
        if whole.width <= width {
            return whole;
        }
        let mut kept: String = text.to_owned();
        while kept.pop().is_some() {
            let cut = format!("{}…", kept.trim_end());
            let line = one_line(&Words::plain(&cut, kind, Owner::Artifact), &mut self.shaper);
            if line.width <= width {
                return line;
            }
        }
        Line::default()
    }
}
