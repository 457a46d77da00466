//! The figures: one function each, data in, a drawing out. Data that leave nothing to show give no drawing.

mod cut_away;
mod drying;
mod elevation;
mod ends;
mod grid;
mod joint;
mod ladder;
mod profile;
mod rule_path;
mod sequence;
mod signs;
mod true_scale;

pub use cut_away::{CutAway, CutLayer, Finish, Foot, cut_away};
pub use drying::{DryingCoat, DryingCurve, drying_curve};
pub use elevation::{Elevation, Rectangle, ZonePlace, ZoneState, elevation_key, keep_off_key};
pub use ends::CoatStanding;
pub use grid::{Coats, DewPointGrid, dew_point_grid};
pub use joint::{Joint, joint};
pub use ladder::{Face, Ladder, Rung, RungKind, ladder};
pub use profile::{CondensationProfile, Gathered, ProfileCoat, ProfileLayer, condensation_profile};
pub use rule_path::{PathBox, RulePath, Sure, rule_path};
pub use sequence::{Sequence, SequenceHold, SequenceStage, sequence};
pub use signs::{Sign, SignShape, signs};
pub use true_scale::{check_bar, crack_card, crack_gauge, sketch_grid};

/// Width of a figure that stands in the text, in mm: the narrower of the two papers' columns, 343 pt.
const IN_TEXT: f64 = 121.0;

/// Width of a figure from margin to margin, in mm: the narrower of the two papers', 487 pt.
const FROM_MARGIN: f64 = 171.0;

/// Width of a figure in one of two columns, in mm: the narrower of the two papers', 234 pt.
const IN_COLUMN: f64 = 82.0;

/// Words cut so that no reader of alternative text is worn out: whole sentences, 250 characters at most.
fn alt(sentences: &[String]) -> String {
    const MOST: usize = 250;
    let mut out = String::new();
    for sentence in sentences {
        let length = out.chars().count() + sentence.chars().count() + 1;
        if length > MOST {
            break;
        }
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(sentence);
    }
    out
}

/// How many there are.
fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(0.0, f64::from)
}
