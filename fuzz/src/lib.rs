//! What the targets share: papers made of any bytes, and the places where nothing may stand.

pub mod paper;
#[path = "../../tests/it/layout/places.rs"]
mod places;
#[path = "../../tests/it/layout/sheets.rs"]
#[expect(dead_code, reason = "the checks of the papers use the rest")]
mod sheets;

use perpend::render::Laid;

/// What leaves the margins or touches other words, in words.
pub fn misplaced(laid: &Laid) -> Vec<String> {
    let out = places::sticking_out(laid).into_iter();
    let mut found: Vec<String> =
        out.map(|(page, what)| format!("page {page}, over a margin: {what}")).collect();
    let touched = places::overlapping(laid).into_iter();
    found.extend(touched.map(|(page, one, other)| format!("page {page}: {one} touches {other}")));
    found
}
