//! Drawings that are held against a wall or drawn on: they are true to scale, and each says how to see that it is.

use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Drawing, Pen, Thickness};
use crate::drawing::number::{listed, trimmed, with_unit};
use crate::drawing::sheet::{FINE, Said, Sheet, Type, corners};
use crate::drawing::tone::Tone;

/// Widest line of a gauge, in mm; a wider crack is measured with a rule.
const WIDEST: f64 = 10.0;
/// Length of the lines of a gauge, in mm.
const LONG: f64 = 12.0;
/// Their length on a card, and where they begin beside the bar, in mm.
const SHORT: f64 = 8.0;
const CARD: f64 = 116.0;
/// Length of the check bar, in mm.
const BAR: f64 = 100.0;
/// Side of a square of the grid, in mm: what a pencil fills with one word's first letter.
const SQUARE: f64 = 5.0;

/// Lines as wide as cracks, for widths in mm, over a bar that shows whether they are; `None` if there is no width between
/// 0 and 10 mm, or too many to stand apart.
pub fn crack_gauge(id: &str, widths: &[f64]) -> Option<Drawing> {
    let widths: Vec<f64> = widths.iter().copied().filter(|width| *width > 0.0 && *width <= WIDEST).collect();
    let apart = FROM_MARGIN / count(widths.len().max(1));
    if widths.is_empty() || apart < WIDEST {
        return None;
    }
    let mut sheet = Sheet::default();
    for (place, width) in widths.iter().enumerate() {
        let middle = (count(place) + 0.5) * apart;
        let (left, right) = (middle - width / 2.0, middle + width / 2.0);
        sheet.area(&corners((left, 0.0), (right, LONG)), Tone::Ink);
        sheet.label((middle, LONG + 2.8), &trimmed(*width, 2), Type::STRONG, Anchor::Middle);
    }
    let top = LONG + 7.0;
    put_bar(&mut sheet, top);
    let said: Vec<String> = widths.iter().map(|width| trimmed(*width, 2)).collect();
    let said = with_unit(&listed(&said), "mm");
    Some(sheet.finished(
        FROM_MARGIN,
        top + 7.0,
        Said {
            id: id.to_owned(),
            title: "Crack gauge".to_owned(),
            caption: "Fold the sheet here and hold it beside the crack: the line that is as wide tells its width in mm".to_owned(),
            note: NOTE.to_owned(),
            alt: alt(&[format!("Lines {said} wide, true to scale."), "Under them a bar of 100 mm.".to_owned()]),
        },
    ))
}

const NOTE: &str =
    "To scale only if the bar measures 100 mm with a rule; print at full size, without fitting to the page.";

/// A bar of 100 mm alone.
pub fn check_bar(id: &str) -> Drawing {
    let mut sheet = Sheet::default();
    put_bar(&mut sheet, 0.0);
    let said = Said {
        id: id.to_owned(),
        title: "Check bar".to_owned(),
        caption: "This bar is 100 mm long on a print at full size".to_owned(),
        note: NOTE.to_owned(),
        alt: "A bar of 100 mm with a tick every 10 mm, true to scale.".to_owned(),
    };
    sheet.finished(BAR + 20.0, 7.0, said)
}

/// The bar and a few lines beside each other, for a sheet with little room; `None` as for the gauge.
pub fn crack_card(id: &str, widths: &[f64]) -> Option<Drawing> {
    let widths: Vec<f64> = widths.iter().copied().filter(|width| *width > 0.0 && *width <= WIDEST).collect();
    let apart = (FROM_MARGIN - CARD) / count(widths.len().max(1));
    if widths.is_empty() || apart < WIDEST {
        return None;
    }
    let mut sheet = Sheet::default();
    put_bar(&mut sheet, 3.0);
    for (place, width) in widths.iter().enumerate() {
        let middle = CARD + (count(place) + 0.5) * apart;
        sheet.area(&corners((middle - width / 2.0, 0.0), (middle + width / 2.0, SHORT)), Tone::Ink);
        sheet.label((middle, SHORT + 2.2), &trimmed(*width, 2), Type::STRONG, Anchor::Middle);
    }
    let said: Vec<String> = widths.iter().map(|width| trimmed(*width, 2)).collect();
    let said = with_unit(&listed(&said), "mm");
    Some(sheet.finished(
        FROM_MARGIN,
        SHORT + 4.0,
        Said {
            id: id.to_owned(),
            title: "Crack card".to_owned(),
            caption:
                "Hold the lines beside a crack: the one that is as wide tells its width in mm.".to_owned(),
            note: NOTE.to_owned(),
            alt: alt(&[
                format!("Lines {said} wide, true to scale."),
                "Beside them a bar of 100 mm.".to_owned(),
            ]),
        },
    ))
}

/// A level bar whose ends are 100 mm apart, with a tick every 10 mm.
fn put_bar(sheet: &mut Sheet, top: f64) {
    let pen = Pen::solid(Thickness::Plain, Tone::Ink);
    sheet.line(&[(0.0, top + 2.0), (BAR, top + 2.0)], pen);
    for step in 0..=10_u32 {
        let x = f64::from(step) * 10.0;
        let up = if step % 5 == 0 { 0.0 } else { 1.0 };
        sheet.line(&[(x, top + up), (x, top + 2.0)], pen);
    }
    for (x, words) in [(0.0, "0"), (BAR / 2.0, "50"), (BAR, "100")] {
        let anchor = if x > 0.0 { Anchor::Middle } else { Anchor::Start };
        sheet.label((x, top + 4.4), words, Type::QUIET, anchor);
    }
    sheet.label((BAR + 6.0, top + 4.4), "mm", Type::QUIET, Anchor::Start);
}

/// Squares of 5 mm to sketch on, as wide as the paper and so many mm high, every tenth line stronger.
pub fn sketch_grid(id: &str, height: f64) -> Drawing {
    let (across, down) = ((FROM_MARGIN / SQUARE).floor(), (height / SQUARE).floor().max(1.0));
    let (right, bottom) = (across * SQUARE, down * SQUARE);
    let mut sheet = Sheet::default();
    let mut fine = Vec::new();
    let mut strong = Vec::new();
    let steps = |most: f64| (0..=400_u32).map(f64::from).take_while(move |step| *step <= most);
    for (step, line) in steps(across)
        .map(|step| (step, vec![(step * SQUARE, 0.0), (step * SQUARE, bottom)]))
        .chain(steps(down).map(|step| (step, vec![(0.0, step * SQUARE), (right, step * SQUARE)])))
    {
        if step % 10.0 < 0.5 { strong.push(line) } else { fine.push(line) }
    }
    sheet.lines(&fine, Pen::solid(Thickness::Fine, Tone::Hairline));
    sheet.lines(&strong, FINE);
    let said = Said {
        id: id.to_owned(),
        title: "Grid to sketch on".to_owned(),
        caption: "Sketch: cracks, damp, test places, photo numbers".to_owned(),
        note: "Squares of 5 mm; write down how much of the wall the side of one stands for.".to_owned(),
        alt: "An empty grid of squares of 5 mm to sketch the wall on.".to_owned(),
    };
    sheet.finished(right, bottom, said)
}
